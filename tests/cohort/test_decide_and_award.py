"""From a person's marks to a decision, an award, its verification and its revocation, by commands."""

import csv
import json
import math
import os
import re
import shutil
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner
from nbgrader.api import Gradebook

from autograde.award import files as award_writing
from autograde.award import issue, keys, record, status
from autograde.award.blueprint import read_blueprint
from autograde.award.errors import AwardError
from autograde.award.outcome import Outcome
from autograde.award.record_check import check_record
from autograde.award.ring import Issuer
from autograde.cases import trainee_variant
from autograde.cohort.by_hand import enter_marks
from autograde.cohort.collect import collect
from autograde.cohort.errors import CohortError
from autograde.cohort.families import load_case
from autograde.cohort.feedback import write_feedback
from autograde.cohort.folder import open_cohort
from autograde.cohort.gradebook_marks import note_what_people_gave, write_marks
from autograde.cohort.marking import mark_all, marked, to_mark
from autograde.cohort.report import write_report
from autograde.cohort.standing import standing
from autograde.desk.decisions import AS_BEFORE, CHANGED, NEW, decide_cohort, settle_one
from autograde.desk.places import Places
from autograde.desk.plan import write_first_plan
from pedalwright_app import steps
from pedalwright_app.award_commands import PASSPHRASE
from pedalwright_app.filling import fill
from pedalwright_app.main import main

CASE = "crank-drill"
WORDS = "six invented words for a quay"
ISSUER = ("--issuer", "Fenwick Quay Cycle School", "--address", "https://fenwick-quay.example/school")
TASKS = ("torque", "power", "other-leg", "advice")
# Two raters: 60 and 70 % of 8 marks are 4.8 and 5.6, so the cut is 5.2 marks (mean of the raters' sums).
RATINGS = "round,rater,case,task,share_pct\n" + "".join(
    f"1,{rater},{CASE},{task},{share}\n" for rater, share in (("slate", 60), ("marl", 70)) for task in TASKS
)
CUT = 5.2


def hand_in(cohort, who, share=1.0, advice="Say what it cannot tell, and refer when it hurts."):
    """Right answers by closed form: torque is force times lever, power torque times angular velocity (and a share)."""
    case = trainee_variant(load_case(CASE, cohort.settings.case_folders), cohort.secret, who).case
    torque = case.force_n * case.crank_mm / 1000
    power = torque * case.cadence_rpm * 2 * math.pi / 60
    typed = {"torque": f"{torque:.2f} N m", "power": f"{power * share:.1f} W", "other-leg": "B", "advice": advice}
    content = fill(cohort.notebook("release", who, CASE).read_bytes(), typed)
    (cohort.inbox / f"{who}__{CASE}.ipynb").write_bytes(content)


def mark(cohort):
    collect(cohort)
    for _ in mark_all(cohort, to_mark(cohort)):
        pass
    write_marks(cohort, list(marked(cohort).values()))


def by_hand(cohort, who, marks, comment="", task="words-advice"):
    """What the form for hand marking does when a score is typed."""
    with Gradebook(cohort.db_url, cohort.settings.course_id) as gradebook:
        grade = gradebook.find_grade(task, CASE, CASE, who)
        grade.manual_score, grade.needs_manual_grade = marks, False
        if comment:
            gradebook.find_comment(task, CASE, CASE, who).manual_comment = comment
        gradebook.db.commit()


@pytest.fixture
def ready(cohort, monkeypatch):
    """Wren has all right, heron and plover miss the power, curlew hands in nothing; advice waits for a person."""
    for who, share in (("wren", 1.0), ("heron", 3.0), ("plover", 3.0)):
        hand_in(cohort, who, share)
    mark(cohort)
    write_first_plan(cohort)
    Places.of(cohort).ratings.write_text(RATINGS)
    monkeypatch.setenv(PASSPHRASE, WORDS)
    return cohort


@pytest.fixture
def judged(ready):
    """Totals: wren 6 + 2 = 8, heron 3 + 2 = 5, plover 3 + 1 = 4."""
    for who, marks in (("wren", 2.0), ("heron", 2.0), ("plover", 1.0)):
        by_hand(ready, who, marks)
    return ready


def run(*arguments, code=0, typed=None):
    done = CliRunner().invoke(main, [str(argument) for argument in arguments], input=typed)
    assert done.exit_code == code, done.output
    assert "Traceback" not in done.output
    return done.output


def decisions_in(cohort):
    record = Places.of(cohort).record
    return [
        (record.personal(entry.n)["trainee"], entry.body["outcome"])
        for entry in record.entries()
        if entry.kind == "decision"
    ]


def outcomes(decisions):
    return {one.trainee.id: one.decision.outcome for one in decisions.all}


def files_in(cohort):
    return {
        path.relative_to(cohort.root): path.read_bytes()
        for path in sorted(cohort.root.rglob("*"))
        if path.is_file() and not path.name.endswith("lock")
    }


def test_the_proposed_blueprint_fits_the_tasks_and_says_what_it_is(ready):
    places = Places.of(ready)
    text = places.blueprint.read_text()
    plan = read_blueprint(text)
    assert plan.max_marks == 8  # 2 + 3 + 1 for torque, 2 for judgement, as the case says
    assert {case.id: dict(case.marks) for case in plan.cases} == {CASE: {"torque": 6, "judgement": 2}}
    assert {one.id: one.minimum_pct for one in plan.competencies} == {"torque": 50, "judgement": 25}
    assert "A first proposal; make it yours" in text
    assert places.ratings_form.read_text().splitlines()[1] == f"1,,{CASE},torque,"


def test_a_blueprint_made_ones_own_is_left_alone_and_an_untouched_one_follows(ready):
    path = Places.of(ready).blueprint
    assert write_first_plan(ready)
    own = path.read_text().replace("minimum_pct = 50", "minimum_pct = 40")
    path.write_text(own)
    assert not write_first_plan(ready)
    assert path.read_text() == own


def test_make_writes_the_blueprint(tmp_path, cohort):
    roster = tmp_path / "roster.csv"
    roster.write_text("id,name\nwren,Wren\n")
    arguments = ("cohort", "make", tmp_path / "spring", "--roster", roster, "--case", CASE)
    run(*arguments, "--case-folder", cohort.settings.case_folders[0])
    assert read_blueprint((tmp_path / "spring" / "blueprint.toml").read_text()).title == "Bicycle fitting: Crank drill"


def test_decisions_follow_from_marks_of_program_and_person(judged):
    """SEM of 0.5 is given: band 4.7 to 5.7 about the cut of 5.2. Heron's 5 lie in it, plover's 4 below."""
    output = run("cohort", "decide", judged.root, "--sem", "0.5")
    assert "Standard: 5.2 of 8 marks; from 4.7 to 5.7 a person decides." in output
    assert decisions_in(judged) == [
        ("wren", "award"),
        ("heron", "borderline: a person decides"),
        ("plover", "not yet"),
        ("curlew", "not gradable work outstanding"),
    ]
    assert f"pedalwright cohort award {judged.root}" in output
    assert check_record(judged.root / "records" / "decisions.jsonl").whole


def test_work_that_waits_for_a_person_is_outstanding_and_its_reason_quotes_nothing(ready):
    hand_in(ready, "plover", advice="My name is Plover and this is private.")
    mark(ready)
    decisions = decide_cohort(ready, sem_marks=0.5)
    assert set(outcomes(decisions).values()) == {Outcome.OUTSTANDING}
    line = (ready.root / "records" / "decisions.jsonl").read_text()
    assert "a person has to mark it" in line
    assert "not handed in" in line
    for private in ("private", "Plover", "plover", "Wren", "wren"):
        assert private not in line


def test_deciding_again_adds_nothing_also_on_another_day(judged):
    decide_cohort(judged, sem_marks=0.5, today=date(2026, 3, 2))
    note_what_people_gave(judged)
    before = files_in(judged)
    run("cohort", "decide", judged.root)
    again = decide_cohort(judged, today=date(2026, 4, 1))
    assert {one.what for one in again.all} == {AS_BEFORE}
    assert {one.decision.appeal_until for one in again.all} == {"2026-03-30"}  # 28 days after the second of March
    assert files_in(judged) == before


def test_a_dry_run_writes_nothing(judged):
    before = files_in(judged)
    output = run("cohort", "decide", judged.root, "--sem", "0.5", "--dry-run")
    assert "Would be decided" in output
    assert files_in(judged) == before
    decide_cohort(judged, sem_marks=0.5)
    before = files_in(judged)
    assert "Would be awarded" in run("cohort", "award", judged.root, "--dry-run")
    settle = ("cohort", "settle", judged.root, "heron", "--award", "--by", "Flint", "--because", "Sound reasoning.")
    assert "Would be settled" in run(*settle, "--dry-run")
    assert files_in(judged) == before


def report_rows(cohort, name):
    with (cohort.report / f"{name}.csv").open() as stream:
        rows = list(csv.DictReader(stream))
    return {(row["trainee"], row.get("task", "")): row for row in rows}


def pages(cohort):
    return {trainee.id: cohort.feedback(trainee.id, CASE).read_text() for trainee in cohort.trainees[:3]}


def test_moderation_changes_the_marks_of_one_trainee_and_nothing_else(judged):
    """A second person looks at heron's work and gives the power its marks; only heron's report and decision move."""
    decide_cohort(judged, sem_marks=0.5)

    def report():
        stand = standing(judged)
        write_feedback(stand)
        write_report(judged, stand)
        return report_rows(judged, "marks"), report_rows(judged, "answers"), pages(judged)

    before = report()
    by_hand(judged, "heron", 3.0, task="check-power")
    with Gradebook(judged.db_url, judged.settings.course_id) as gradebook:
        gradebook.find_comment("answer-power", CASE, CASE, "heron").manual_comment = "Right; a slip of the pen."
        gradebook.db.commit()
    after = report()
    for was, now in zip(before, after, strict=True):
        changed = {key[0] if isinstance(key, tuple) else key for key in was if was[key] != now[key]}
        assert was.keys() == now.keys()
        assert changed == {"heron"}
    assert [after[0]["heron", ""][name] for name in ("marks", "max_marks")] == ["8", "8"]
    assert "Right; a slip of the pen." in after[2]["heron"]
    decisions = decide_cohort(judged)
    assert {one.trainee.id: one.what for one in decisions.all} == {
        "wren": AS_BEFORE,
        "heron": CHANGED,
        "plover": AS_BEFORE,
        "curlew": AS_BEFORE,
    }
    assert outcomes(decisions)["heron"] is Outcome.AWARD
    assert len(decisions_in(judged)) == 5


def test_marks_given_for_older_work_do_not_count_for_newer_work_unseen(judged):
    hand_in(judged, "wren", advice="Something else entirely.")
    collect(judged)
    with pytest.raises(CohortError, match="1 collected sheets are not marked"):
        decide_cohort(judged, sem_marks=0.5)
    mark(judged)
    assert outcomes(decide_cohort(judged, sem_marks=0.5))["wren"] is Outcome.OUTSTANDING
    assert standing(judged).sheets["wren", CASE].marks == 6
    by_hand(judged, "wren", 2.0)
    assert outcomes(decide_cohort(judged))["wren"] is Outcome.AWARD


def test_the_standard_stays_until_it_is_set_again(judged):
    first = decide_cohort(judged)
    sem = first.standard.standard.sem_marks
    assert 0 < sem < 8
    by_hand(judged, "plover", 0.0)
    second = decide_cohort(judged)
    assert second.standard.standard == first.standard.standard
    Places.of(judged).ratings.write_text(RATINGS.replace(",60", ",64"))
    with pytest.raises(AwardError, match="changed since the standard was set"):
        decide_cohort(judged)
    assert decide_cohort(judged, new_standard=True).standard.standard.cut_marks == 5.36  # 67 % of 8
    with pytest.raises(AwardError, match="set already"):
        decide_cohort(judged, sem_marks=1.0)


@pytest.mark.parametrize(
    ("spoil", "words"),
    [
        (lambda places: places.ratings.unlink(), "ratings-form.csv"),
        (lambda places: places.blueprint.unlink(), "pedalwright cohort make"),
        (lambda places: places.blueprint.write_text("title = "), "no valid TOML"),
        (lambda places: places.blueprint.write_bytes(b"\xff\xfe"), "UTF-8"),
        (
            lambda places: places.blueprint.write_text(places.blueprint.read_text().replace("ue = 6", "ue = 7")),
            "differ from the blueprint",
        ),
        (lambda places: places.ratings.write_text(RATINGS.replace(",70", ",170")), "share_pct"),
    ],
)
def test_what_is_missing_is_said_in_one_line(judged, spoil, words):
    spoil(Places.of(judged))
    output = run("cohort", "decide", judged.root, "--sem", "0.5", code=1)
    assert words in output
    assert len(output.strip().splitlines()) == 1
    assert "decided" in run("cohort", "status", judged.root)


def test_marks_a_person_gave_out_of_range_are_looked_at_again(judged):
    by_hand(judged, "wren", 5.0)
    decisions = decide_cohort(judged, sem_marks=0.5)
    assert outcomes(decisions)["wren"] is Outcome.OUTSTANDING
    assert "a person gave 5 marks, possible are 0 to 2" in decisions.all[0].decision.reasons[1]


def test_a_borderline_result_is_settled_once_and_stays_settled(judged):
    decide_cohort(judged, sem_marks=0.5)
    settle = ("cohort", "settle", judged.root, "heron", "--award", "--by", "Flint", "--because", "Sound reasoning.")
    run(*settle)
    lines = len(decisions_in(judged))
    assert "as before" in run(*settle)
    assert outcomes(decide_cohort(judged))["heron"] is Outcome.AWARD
    assert len(decisions_in(judged)) == lines == 5
    assert "Sound reasoning" not in (judged.root / "records" / "decisions.jsonl").read_text()
    by_hand(judged, "heron", 1.5)
    assert outcomes(decide_cohort(judged))["heron"] is Outcome.NOT_YET  # 4.5 marks, below 4.7
    with pytest.raises(AwardError, match="only a borderline result"):
        settle_one(judged, "heron", award=True, by="Flint", statement="Sound reasoning.")


def award_files(cohort):
    return sorted(path for path in (cohort.root / "awards").glob("*/*") if path.is_file())


def verify(cohort, file, *more, code=0):
    places = Places.of(cohort)
    return run("verify", file, "--key", places.keys.public_path, "--status", places.status_list, *more, code=code)


def test_the_road_from_decision_to_a_verified_and_a_revoked_award(judged):
    run("cohort", "decide", judged.root, "--sem", "0.5")
    output = run("cohort", "award", judged.root, *ISSUER)
    assert [path.name for path in award_files(judged)] == ["award.jwt", "badge.png", "certificate.pdf"]
    command = re.search(r"pedalwright (verify .*)", output)[1].split()
    assert "Verified" in run(*command)
    for file in award_files(judged):
        assert "Fenwick Quay Cycle School" in verify(judged, file)
    assert "issued to this name" in verify(judged, award_files(judged)[0], "--name", "Wren")
    assert "not issued to this name" in verify(judged, award_files(judged)[0], "--name", "Heron", code=1)
    public = Places.of(judged).keys.public_path
    assert "revocation was not checked" in run("verify", award_files(judged)[0], "--key", public, code=3)
    run("verify", award_files(judged)[0], code=2)
    revoke = ("cohort", "revoke", judged.root, "wren", "--by", "Flint", "--because", "Issued to the wrong person.")
    assert "Would be revoked" in run(*revoke, "--dry-run")
    assert "has not revoked" in verify(judged, award_files(judged)[0])
    run(*revoke)
    assert "The issuer has revoked this award." in verify(judged, award_files(judged)[0], code=1)
    assert "revoked before" in run(*revoke)
    assert "the award of this decision was revoked" in run("cohort", "award", judged.root)
    record = judged.root / "records" / "decisions.jsonl"
    assert check_record(record).whole
    assert "Whole" in run("verify", record)
    record.write_bytes(record.read_bytes().replace(b'"total_marks":4', b'"total_marks":8'))
    assert "was changed after it was written" in run("verify", record, code=1)


def test_one_changed_byte_is_not_verified(judged):
    decide_cohort(judged, sem_marks=0.5)
    run("cohort", "award", judged.root, *ISSUER)
    token = award_files(judged)[0]
    text = token.read_text()
    place = text.index(".") + 40
    token.write_text(text[:place] + ("A" if text[place] != "A" else "B") + text[place + 1 :])
    assert "Not verified" in verify(judged, token, code=1)


def test_awarding_again_doubles_nothing_and_mends_what_is_missing(judged):
    decide_cohort(judged, sem_marks=0.5)
    run("cohort", "award", judged.root, *ISSUER)

    def kept():
        return {path: content for path, content in files_in(judged).items() if path.name != "status.jwt"}

    before = kept()
    run("cohort", "award", judged.root)
    assert kept() == before
    for path in award_files(judged):
        path.unlink()
    run("cohort", "award", judged.root)
    assert kept() == before


def test_an_award_waits_for_decisions_that_are_up_to_date(judged):
    assert "decide first" in run("cohort", "award", judged.root, *ISSUER, code=1)
    decide_cohort(judged, sem_marks=0.5)
    by_hand(judged, "plover", 2.0)
    assert "1 to record" in run("cohort", "award", judged.root, *ISSUER, code=1)
    assert award_files(judged) == []


def test_who_holds_an_award_gets_no_second_one_when_marks_rise(judged):
    by_hand(judged, "wren", 1.0)
    decide_cohort(judged, sem_marks=0.5)
    run("cohort", "award", judged.root, *ISSUER)
    files = award_files(judged)
    by_hand(judged, "wren", 2.0)
    decide_cohort(judged)
    output = run("cohort", "award", judged.root)
    assert "holds an award of an earlier decision" in output
    assert "0/0" not in output
    assert award_files(judged) == files
    run("cohort", "revoke", judged.root, files[0].parent.name, "--by", "Flint", "--because", "Marks rose later.")
    run("cohort", "award", judged.root)
    assert len(award_files(judged)) == 6
    answers = [CliRunner().invoke(main, verify_arguments(judged, path)).output for path in award_files(judged)]
    assert sum("Verified" in answer for answer in answers) == sum("has revoked" in answer for answer in answers) == 3


def verify_arguments(cohort, path):
    places = Places.of(cohort)
    return ["verify", str(path), "--key", str(places.keys.public_path), "--status", str(places.status_list)]


def test_trouble_with_one_name_stops_no_other(judged):
    roster = judged.root / "roster.csv"
    roster.write_text(roster.read_text().replace("Wren", "翡翠"))
    by_hand(judged, "heron", 3.0, task="check-power")
    decide_cohort(judged, sem_marks=0.5)
    output = run("cohort", "award", judged.root, *ISSUER, code=1)
    assert "could not be issued" in output
    assert "U+7FE1" in output
    assert len(award_files(judged)) == 3


def test_the_key_needs_an_issuer_and_a_long_passphrase(judged, monkeypatch):
    decide_cohort(judged, sem_marks=0.5)
    assert "say who issues" in run("cohort", "award", judged.root, code=1)
    monkeypatch.setenv(PASSPHRASE, "short")
    assert "at least 15" in run("cohort", "award", judged.root, *ISSUER, code=1)
    monkeypatch.delenv(PASSPHRASE)
    assert PASSPHRASE in run("cohort", "award", judged.root, *ISSUER, code=1)
    run("cohort", "award", judged.root, *ISSUER, typed=f"{WORDS}\n{WORDS}\n")
    other = ("--issuer", "Another School", "--address", "https://another.example")
    assert "belongs to Fenwick Quay" in run("cohort", "award", judged.root, *other, code=1, typed=f"{WORDS}\n")
    assert "does not open" in run("cohort", "award", judged.root, code=1, typed="another six invented words\n")
    assert WORDS.encode() not in b"".join(files_in(judged).values())


def test_status_leads_through_the_steps(judged):
    run("cohort", "report", judged.root)
    assert "pedalwright cohort decide" in run("cohort", "status", judged.root)
    run("cohort", "decide", judged.root, "--sem", "0.5")
    (judged.inbox / f"curlew__{CASE}.ipynb").write_bytes(b"{}")
    output = run("cohort", "status", judged.root)
    assert "award: 1" in output
    assert "0 of 1 issued" in output


def test_marks_entered_for_a_person_never_take_the_place_of_older_ones(ready):
    by_hand(ready, "wren", 0.5, "Mine.")
    given = {(who, CASE, "advice"): (2.0, "Good.") for who in ("wren", "heron")}
    assert enter_marks(ready, given) == 1
    assert enter_marks(ready, given) == 0
    stand = standing(ready)
    assert stand.sheets["wren", CASE].marks == 6.5
    assert stand.sheets["heron", CASE].outcomes[3].comment == "Good."
    with pytest.raises(CohortError, match="possible are 0 to 2"):
        enter_marks(ready, {("wren", CASE, "advice"): (3.0, "")})
    with pytest.raises(CohortError, match="no marked work"):
        enter_marks(ready, {("curlew", CASE, "advice"): (1.0, "")})


def test_every_command_of_the_award_teaches(tmp_path):
    for name in ("decide", "settle", "award", "revoke"):
        assert len(run("cohort", name, "--help").splitlines()) > 6
    assert "Exit code" in run("verify", "--help")


def test_a_new_decision_is_counted_as_new(judged):
    decisions = decide_cohort(judged, sem_marks=0.5)
    assert {one.what for one in decisions.all} == {NEW}
    lines = (judged.root / "records" / "decisions.jsonl").read_text().splitlines()
    assert json.loads(lines[0])["kind"] == "standard set"


class PlugPulledError(BaseException):
    """Stands for a process that is gone from one moment to the next."""


def what_is_kept(cohort):
    """Kinds and bodies of the record, with what follows from a random seed left out, and what each award says."""
    entries = [
        (
            entry.kind,
            entry.body if entry.kind != "award issued" else None,
            (kept.personal(entry.n) or {}).get("trainee"),
        )
        for kept in [Places.of(cohort).record]
        for entry in kept.entries()
    ]
    return entries, [path.name for path in award_files(cohort)]


def test_stopped_before_every_write_in_turn_the_end_is_that_of_an_undisturbed_run(judged, monkeypatch):
    def road(cohort):
        decide_cohort(cohort, sem_marks=0.5)
        steps.award(
            cohort, WORDS, Issuer("https://fenwick-quay.example/school", "Fenwick Quay Cycle School", demo=True)
        )

    def fresh(name):
        return open_cohort(Path(shutil.copytree(judged.root, judged.root.parent / name)))

    whole = fresh("undisturbed")
    road(whole)
    wanted = what_is_kept(whole)
    assert wanted[1] == ["award.jwt", "badge.png", "certificate.pdf"]
    left, real = 0, award_writing.write_atomic

    def stops(*arguments, **how):
        nonlocal left
        left -= 1
        if left < 0:
            raise PlugPulledError
        real(*arguments, **how)

    monkeypatch.setattr(os, "fsync", lambda _handle: None)  # nothing is lost here but waiting for the disk
    for module in (record, keys, status, issue):
        monkeypatch.setattr(module, "write_atomic", stops)
    moment = 0
    while True:
        cohort, left = fresh(f"stopped {moment}"), moment
        try:
            road(cohort)
        except PlugPulledError:
            left = 1000
            road(cohort)
            assert what_is_kept(cohort) == wanted, f"stopped before write {moment}"
            assert check_record(Places.of(cohort).record.path).whole
            assert all("Verified" in verify(cohort, path) for path in award_files(cohort))
            moment += 1
        else:
            break
    assert moment >= 15
