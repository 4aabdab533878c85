"""A further attempt: other numbers, every attempt kept, and the one that counts shown to nbgrader."""

import json
import subprocess
import sys
from datetime import UTC, datetime

import pytest
from desk_steps import CASE, RATINGS, by_hand, files, hand_in, run, typed
from nbgrader.api import Gradebook
from nbgrader.apps.api import NbGraderAPI
from traitlets.config import Config

from autograde.award.outcome import Outcome
from autograde.cohort.attempts import marks_of_attempts
from autograde.cohort.collect import attempts_collected, collect
from autograde.cohort.errors import CohortError
from autograde.cohort.feedback import write_feedback
from autograde.cohort.folder import BEST, open_cohort
from autograde.cohort.further import plan_further
from autograde.cohort.gradebook_marks import write_marks
from autograde.cohort.handout import hand_out
from autograde.cohort.in_step import bring_in_step
from autograde.cohort.marking import mark_all, marked, to_mark
from autograde.cohort.standing import standing
from autograde.desk.decisions import decide_cohort
from autograde.desk.places import Places
from autograde.desk.plan import write_first_plan
from autograde.desk.retry import below_standard
from pedalwright_app.filling import fill


def mark(cohort):
    collect(cohort)
    for _ in mark_all(cohort, to_mark(cohort)):
        pass
    bring_in_step(cohort)


def hand_in_again(cohort, who, attempt, share=1.0, name=None, advice="A better text."):
    notebook = cohort.notebook("release", who, CASE, attempt).read_bytes()
    content = fill(notebook, typed(cohort, who, share, advice, attempt))
    (cohort.inbox / (name or f"{who}__{CASE} ({attempt}).ipynb")).write_bytes(content)


def retry(cohort, *who):
    further = plan_further(cohort, [(one, CASE) for one in who], allowed=2)
    hand_out(cohort, further=further.attempts)
    return further


@pytest.fixture
def tried(cohort):
    """Wren has all right, heron misses the power; Flint gives wren 2 and heron 1 for the text."""
    hand_in(cohort, "wren")
    hand_in(cohort, "heron", 3.0)
    mark(cohort)
    by_hand(cohort, "wren", 2.0)
    by_hand(cohort, "heron", 1.0, "Say when you would refer.")
    bring_in_step(cohort)
    return cohort


def shown(cohort, who):
    with Gradebook(cohort.db_url, cohort.settings.course_id) as gradebook:
        submission = gradebook.find_submission(CASE, who)
        grade = gradebook.find_grade("words-advice", CASE, CASE, who)
        return submission.score, grade.manual_score, grade.needs_manual_grade


def test_a_further_attempt_has_other_numbers_and_is_given_once(tried):
    first = files(tried)
    assert retry(tried, "heron").attempts == {("heron", CASE): 2}
    one, two = (tried.notebook("release", "heron", CASE, attempt) for attempt in (1, 2))
    assert two.parent.name == "attempt-2"
    label = json.loads(two.read_bytes())["metadata"]["pedalwright"]
    assert (label["attempt"], label["trainee"]) == (2, "heron")
    lines = [json.loads(line) for line in tried.record("handed_out").read_text().splitlines()]
    numbers = {line["attempt"]: line["fingerprint"] for line in lines if line["trainee"] == "heron"}
    assert numbers[1] != numbers[2]
    assert one.read_bytes() == first[one.relative_to(tried.root).as_posix()]
    again = retry(tried, "heron")
    assert again.attempts == {}
    assert again.refused["heron", CASE] == "attempt 2 is open: not handed in yet"
    two.unlink()
    hand_out(tried)
    assert json.loads(two.read_bytes())["metadata"]["pedalwright"]["attempt"] == 2


def test_the_last_attempt_counts_and_the_first_stays_with_its_hand_marks(tried):
    retry(tried, "heron")
    hand_in_again(tried, "heron", 2)
    mark(tried)
    assert shown(tried, "heron") == (6, None, True)  # all right but the new text, which waits for a person
    assert standing(tried).sheets["heron", CASE].attempt == 2
    by_hand(tried, "heron", 1.5, "Much better.")
    stand = standing(tried)
    assert stand.sheets["heron", CASE].marks == 7.5
    (earlier,) = stand.earlier["heron", CASE]
    assert (earlier.attempt, earlier.marks) == (1, 4.0)
    assert earlier.outcomes[3].comment == "Say when you would refer."
    write_feedback(stand)
    assert "Much better." in tried.feedback("heron", CASE).read_text()
    assert ", attempt 2" in tried.feedback("heron", CASE).read_text()
    assert "Say when you would refer." in tried.feedback("heron", CASE, 1).read_text()
    assert shown(tried, "wren") == (8, 2.0, False)
    assert {key[2] for key in marks_of_attempts(tried) if key[0] == "heron"} == {1, 2}
    assert len(list((tried.root / "collected" / "heron" / CASE).iterdir())) == 2
    assert (
        tried.notebook("submitted", "heron", CASE).read_bytes()
        == (tried.inbox / f"heron__{CASE} (2).ipynb").read_bytes()
    )
    assert "A better text." in tried.notebook("autograded", "heron", CASE).read_text()


def test_nbgraders_own_api_and_feedback_command_see_the_attempt_that_counts(tried):
    retry(tried, "heron")
    hand_in_again(tried, "heron", 2)
    mark(tried)
    config = Config()
    config.CourseDirectory.root = str(tried.root)
    config.CourseDirectory.db_url = tried.db_url
    config.CourseDirectory.course_id = tried.settings.course_id
    api = NbGraderAPI(config=config)
    assert api.get_source_assignments() == {CASE}
    assert {one["student"]: one["score"] for one in api.get_submissions(CASE)} == {"wren": 8, "heron": 6}
    done = subprocess.run(
        [sys.executable, "-m", "nbgrader", "generate_feedback", CASE, "--student=heron", "--force"],
        cwd=tried.root,
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stderr
    assert "A better text." in tried.feedback("heron", CASE).read_text()


def test_with_the_best_a_weaker_attempt_waits_for_its_marks_and_then_gives_way(tried):
    path = tried.root / "cohort.toml"
    path.write_text(path.read_text().replace('attempt_that_counts = "last"', 'attempt_that_counts = "best"'))
    best = open_cohort(tried.root)
    assert best.settings.attempt_that_counts == BEST
    retry(best, "heron")
    hand_in_again(best, "heron", 2, share=3.0)
    mark(best)
    assert shown(best, "heron") == (3, None, True)  # the form shows what has to be marked
    by_hand(best, "heron", 0.5, "Weaker.")
    bring_in_step(best)
    assert shown(best, "heron") == (4, 1.0, False)  # 3 + 1 of the first attempt beat 3 + 0.5
    assert standing(best).sheets["heron", CASE].attempt == 1
    assert "Ask" not in best.notebook("autograded", "heron", CASE).read_text()
    assert "A better text." not in best.notebook("autograded", "heron", CASE).read_text()
    assert standing(best).earlier["heron", CASE][0].outcomes[3].comment == "Weaker."
    before = files(best, gradebook=True)
    bring_in_step(best)
    assert files(best, gradebook=True) == before


def test_an_attempt_is_closed_when_the_next_is_handed_out(tried):
    retry(tried, "heron")
    hand_in(tried, "heron", 1.0, advice="Too late for this one.")
    outcome = {item.source: item for item in collect(tried)}[f"heron__{CASE}.ipynb"]
    assert outcome.what == "refused"
    assert "closed when attempt 2 was handed out" in outcome.reason
    assert set(attempts_collected(tried)) == {("heron", CASE, 1), ("wren", CASE, 1)}


@pytest.mark.parametrize("label", [7, 0, True, "2", None, [2], 10**30])
def test_a_forged_attempt_is_refused_or_taken_as_the_last(tried, label):
    retry(tried, "heron")
    notebook = json.loads(tried.notebook("release", "heron", CASE, 2).read_bytes())
    notebook["metadata"]["pedalwright"]["attempt"] = label
    (tried.inbox / f"heron__{CASE} (2).ipynb").write_text(json.dumps(notebook))
    outcome = {item.source: item for item in collect(tried)}[f"heron__{CASE} (2).ipynb"]
    assert outcome.what == ("refused" if label == 7 else "taken")
    assert outcome.attempt == (1 if label == 7 else 2)


def test_without_further_attempts_no_label_makes_one(cohort):
    notebook = json.loads(cohort.notebook("release", "heron", CASE).read_bytes())
    notebook["metadata"]["pedalwright"]["attempt"] = 2
    (cohort.inbox / f"heron__{CASE}.ipynb").write_text(json.dumps(notebook))
    assert collect(cohort)[0].attempt == 1


def test_both_attempts_found_at_once_are_told_apart(tried):
    retry(tried, "heron")
    hand_in_again(tried, "heron", 2)
    now = datetime(2026, 3, 2, 9, tzinfo=UTC)
    collect(tried, now=now)
    records = attempts_collected(tried)
    assert records["heron", CASE, 1]["arrived"] != records["heron", CASE, 2]["arrived"]
    assert len({record["arrived"] for record in records.values() if record["trainee"] == "heron"}) == 2


def test_a_lost_gradebook_is_filled_again_with_what_people_gave(tried):
    retry(tried, "heron")
    hand_in_again(tried, "heron", 2)
    mark(tried)
    by_hand(tried, "heron", 1.5, "Much better.")
    bring_in_step(tried)
    before = shown(tried, "heron"), shown(tried, "wren")
    (tried.root / "gradebook.db").unlink()
    run("cohort", "mark", tried.root)
    assert (shown(tried, "heron"), shown(tried, "wren")) == before
    assert standing(tried).sheets["heron", CASE].outcomes[3].comment == "Much better."


def test_a_mark_taken_back_in_the_form_is_noted_and_does_not_come_back(tried):
    with Gradebook(tried.db_url, tried.settings.course_id) as gradebook:
        grade = gradebook.find_grade("words-advice", CASE, CASE, "wren")
        grade.manual_score, grade.needs_manual_grade = None, True
        gradebook.db.commit()
    bring_in_step(tried)
    (tried.root / "gradebook.db").unlink()
    run("cohort", "mark", tried.root)
    assert shown(tried, "wren") == (6, None, True)


@pytest.mark.parametrize(
    ("spoil", "reason"),
    [
        (lambda cohort: None, "all 1 attempts"),
        (lambda cohort: cohort.record("marks").unlink(), "not marked yet"),
        (lambda cohort: cohort.record("collected").unlink(), "not handed in yet"),
        (lambda cohort: cohort.record("handed_out").unlink(), "not handed out yet"),
    ],
)
def test_no_attempt_opens_before_its_time(tried, spoil, reason):
    spoil(tried)
    planned = plan_further(tried, [("heron", CASE)], allowed=1)
    assert planned.attempts == {}
    assert reason in planned.refused["heron", CASE]


def test_who_and_what_must_be_of_the_cohort(tried):
    with pytest.raises(CohortError, match="nobody on the roster"):
        plan_further(tried, [("puffin", CASE)], allowed=2)
    with pytest.raises(CohortError, match="has no case"):
        plan_further(tried, [("heron", "tea")], allowed=2)


def test_everybody_below_standard_tries_again_and_the_decision_counts_the_attempt(tried):
    write_first_plan(tried)
    Places.of(tried).ratings.write_text(RATINGS)
    decisions = decide_cohort(tried, sem_marks=0.5)
    assert {one.trainee.id: one.decision.outcome for one in decisions.all}["heron"] is Outcome.NOT_YET
    assert below_standard(tried) == [("heron", CASE)]
    command = ("cohort", "hand-out", tried.root, "--next-attempt", "--below-standard")
    assert "heron" in run(*command, "--dry-run")
    assert not tried.notebook("release", "heron", CASE, 2).exists()
    output = run(*command)
    assert "Further attempts: 1" in output
    assert "attempt 2 is open" in run(*command, code=1)
    assert decide_cohort(tried).to_record == []
    hand_in_again(tried, "heron", 2)
    mark(tried)
    by_hand(tried, "heron", 2.0)
    second = {one.trainee.id: one for one in decide_cohort(tried).all}["heron"]
    assert (second.what, second.decision.outcome, second.decision.attempt) == ("changed", Outcome.AWARD, 2)
    record = Places.of(tried).record
    about = [e.body["attempt"] for e in record.entries() if (record.personal(e.n) or {}).get("trainee") == "heron"]
    assert about == [1, 2]


def test_nobody_tries_again_on_decisions_that_are_out_of_date(tried):
    write_first_plan(tried)
    Places.of(tried).ratings.write_text(RATINGS)
    decide_cohort(tried, sem_marks=0.5)
    by_hand(tried, "heron", 0.0)
    with pytest.raises(CohortError, match="decide first"):
        below_standard(tried)


def test_the_command_says_what_it_needs(tried):
    run("cohort", "hand-out", tried.root, "--next-attempt", code=2)
    run("cohort", "hand-out", tried.root, "--trainee", "heron", code=2)
    write_first_plan(tried)
    output = run("cohort", "hand-out", tried.root, "--next-attempt", "--trainee", "wren", "--case", CASE)
    assert "wren" in output


def test_stopped_between_marks_and_gradebook_no_attempt_gets_the_hand_marks_of_another(tried):
    retry(tried, "heron")
    hand_in_again(tried, "heron", 2)
    collect(tried)
    for _ in mark_all(tried, to_mark(tried)):
        pass
    sheet = standing(tried).sheets["heron", CASE]
    assert (sheet.attempt, sheet.outcomes[3].marks) == (2, None)
    write_marks(tried, list(marked(tried).values()))
    assert shown(tried, "heron") == (6, None, True)
