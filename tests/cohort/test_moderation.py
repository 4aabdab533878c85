"""A second person reads a sample: the right marks move, everything else stays byte for byte."""

import csv
import io
import json
import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from desk_steps import CASE, RATINGS, by_hand, files, hand_in, mark, run, tables

from autograde.award.outcome import Outcome
from autograde.award.record_check import check_record
from autograde.cohort.errors import CohortError
from autograde.cohort.standing import standing
from autograde.desk import moderation
from autograde.desk.decisions import decide_cohort
from autograde.desk.disputes import unsettled
from autograde.desk.moderation import Agreed, Reading, agree, compare, enter_readings
from autograde.desk.places import Places
from autograde.desk.plan import write_first_plan
from autograde.desk.readers import agreement, write_agreement
from autograde.desk.reading_form import read_form, write_papers
from autograde.desk.rounds import BORDERLINE, SHARE, Piece, read_rounds, write_round
from autograde.desk.sample import draw_sample

FIRST = {"wren": 2.0, "heron": 2.0, "plover": 1.0}
"""Flint's marks. With the standard of 5.2 and an error of 0.5 marks heron's 5 lie in the band."""


@pytest.fixture
def judged(cohort):
    for who, share in (("wren", 1.0), ("heron", 3.0), ("plover", 3.0)):
        hand_in(cohort, who, share, advice=f"Ask first, then refer. ({who.upper()}'s own words)")
    mark(cohort)
    write_first_plan(cohort)
    Places.of(cohort).ratings.write_text(RATINGS)
    for who, marks in FIRST.items():
        by_hand(cohort, who, marks)
    decide_cohort(cohort, sem_marks=0.5)
    return cohort


def drawn(cohort, **how):
    sample = draw_sample(cohort, first_reader="Flint", **how)
    write_round(cohort, sample)
    write_papers(cohort, sample)
    return sample


def number_of(cohort, who):
    return next(one.piece.number for one in compare(cohort) if one.piece.trainee == who)


def test_the_sample_holds_borderline_texts_and_a_share_and_is_the_same_again(judged):
    sample = draw_sample(judged, first_reader="Flint", share_pct=50, least=0)
    assert {piece.trainee: piece.why for piece in sample.pieces}["heron"] == BORDERLINE
    assert [piece.why for piece in sample.pieces].count(SHARE) == 1  # half of the other two
    assert sample == draw_sample(judged, first_reader="Flint", share_pct=50, least=0)
    everybody = draw_sample(judged, first_reader="Flint", share_pct=0, least=5)
    assert {piece.trainee for piece in everybody.pieces} == set(FIRST)
    assert len(draw_sample(judged, first_reader="Flint", share_pct=0, least=0).pieces) == 1


def test_without_a_standard_the_sample_says_that_it_sees_no_borderline(judged):
    Places.of(judged).blueprint.unlink()
    sample = draw_sample(judged, first_reader="Flint")
    assert "not known yet" in sample.note
    assert {piece.why for piece in sample.pieces} == {SHARE}


def test_the_papers_are_blind(judged):
    sample = drawn(judged)
    folder = Places.of(judged).moderation / "1" / "papers"
    papers = {path.name: path.read_text() for path in folder.iterdir()}
    assert set(papers) == {"texts.html", "form.csv", *(f"{piece.number}.ipynb" for piece in sample.pieces)}
    everything = "".join(papers.values()).replace("'s own words", "")
    assert "HERON" in everything
    for telling in ("heron", "Heron", "plover", "Plover", "first_marks", "out of tolerance", "read as"):
        assert telling not in everything.replace("(HERON", "").replace("(PLOVER", "")
    rows = list(csv.DictReader(io.StringIO(papers["form.csv"])))
    assert [row["asks"] for row in rows][:2] == ["names the limits of the number", "says when to refer"]
    assert {row["marks"] for row in rows} == {""}


def test_a_second_instructors_moderation_changes_the_right_marks_only(judged, tmp_path):
    """Slate reads all three texts; only heron's lies more than a step (half a mark) apart, and is agreed on as 1.5."""
    root = judged.root
    run("cohort", "moderate", "draw", root, "--first", "Flint")
    second = {
        number_of(judged, "wren"): (1, 0.5),
        number_of(judged, "heron"): (1, 0),
        number_of(judged, "plover"): (1, 0),
    }
    filled = tmp_path / "form.csv"
    filled.write_text(
        "text;point;marks;comment\n"
        + "".join(
            f"{number};{point};{str(marks).replace('.', ',')};Well argued\n"
            for number, points in second.items()
            for point, marks in enumerate(points, start=1)
        )
    )
    before_files, before_tables = files(judged), tables(judged)
    output = run("cohort", "moderate", "enter", root, filled, "--by", "Slate")
    assert "1, 1 of them open" in output
    assert tables(judged) == before_tables
    assert "two readings lie apart" in decide_cohort(judged, dry_run=True).all[1].decision.reasons[1]
    assert decide_cohort(judged, dry_run=True).all[1].decision.outcome is Outcome.OUTSTANDING
    differences = root / "moderation" / "differences.csv"
    rows = list(csv.DictReader(differences.open()))
    assert [(row["text"], row["first_marks"], row["second_marks"]) for row in rows] == [
        (number_of(judged, "heron"), "2", "1")
    ]
    rows[0] |= {"agreed_marks": "1.5", "reason": "Refers, but names one limit only."}
    settled = tmp_path / "differences.csv"
    with settled.open("w") as stream:
        writer = csv.DictWriter(stream, rows[0])
        writer.writeheader()
        writer.writerows(rows)
    assert "marks that change" in run(
        "cohort", "moderate", "agree", root, settled, "--by", "Flint and Slate", "--dry-run"
    )
    assert tables(judged) == before_tables
    run("cohort", "moderate", "agree", root, settled, "--by", "Flint and Slate")
    gone, new = before_tables - tables(judged), tables(judged) - before_tables
    assert [(name, row[4]) for name, row in gone] == [("grade", 2.0)]
    assert [(name, row[4]) for name, row in new] == [("grade", 1.5)]
    assert next(iter(gone))[1][:4] == next(iter(new))[1][:4]
    stand = standing(judged)
    assert {who: stand.sheets[who, CASE].marks for who in FIRST} == {"wren": 8.0, "heron": 4.5, "plover": 4.0}
    allowed = ("moderation/", "report/moderation.", "records/decisions")
    after = files(judged)
    assert [name for name in before_files if after[name] != before_files[name] and not name.startswith(allowed)] == []
    assert [name for name in after if name not in before_files and not name.startswith(allowed)] == []
    assert {one.trainee.id: one.what for one in decide_cohort(judged).all} == {
        "wren": "as before", "heron": "changed", "plover": "as before", "curlew": "as before",
    }  # fmt: skip
    record = Places.of(judged).record
    entries = {entry.kind: (entry, record.personal(entry.n)) for entry in record.entries()}
    entry, personal = entries["mark agreed"]
    assert (entry.body["first_marks"], entry.body["second_marks"], entry.body["agreed_marks"]) == (2, 1, 1.5)
    assert personal == {"trainee": "heron", "by": "Flint and Slate", "reason": "Refers, but names one limit only."}
    assert entries["second reading"][1]["by"] == "Slate"
    assert re.match(r"\d{4}-\d\d-\d\dT", entry.time)
    assert check_record(record.path).whole
    assert "heron" not in record.path.read_text()
    again = tables(judged), record.path.read_bytes()
    run("cohort", "moderate", "enter", root, filled, "--by", "Slate")
    run("cohort", "moderate", "agree", root, settled, "--by", "Flint and Slate")
    assert (tables(judged), record.path.read_bytes()) == again
    assert "marks changed  1" in run("cohort", "moderate", "show", root)


def reading_all(cohort, given, by="Slate"):
    return enter_readings(cohort, {number_of(cohort, who): Reading(points) for who, points in given.items()}, by=by)


@pytest.mark.parametrize(
    ("points", "by", "words"),
    [
        ((1.0, 1.0), " flint ", "takes another person"),
        ((1.0, 1.0), " ", "say who read"),
        ((1.0,), "Slate", "needs 2 marks"),
        ((1.0, 0.25), "Slate", "allowed are 0, 0.5 and 1"),
        ((1.0, 1.5), "Slate", "allowed are 0, 0.5 and 1"),
        ((1.0, float("nan")), "Slate", "allowed are"),
    ],
)
def test_a_reading_that_cannot_be_is_refused_and_nothing_is_recorded(judged, points, by, words):
    drawn(judged)
    before = Places.of(judged).record.path.read_bytes()
    with pytest.raises(CohortError, match=words):
        reading_all(judged, {"wren": (1.0, 1.0), "heron": points}, by=by)
    assert Places.of(judged).record.path.read_bytes() == before


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("text,point\nt1-01,1\n", "no column marks"),
        ("text,point,marks\nt1-01,1,lots\n", "line 2: received 'lots' as marks"),
        ("text,point,marks\nt1-01,1,1\nt1-01,1,1\n", "line 3: received point '1'"),
        ("text,point,marks\nt1-01,1,1\nt1-01,2,\n", "only partly marked"),
        ("text,point,marks\nt1-01,2,1\n", "only partly marked"),
        ("text,point,marks\nt1-01,=1+1,1\n", "line 2"),
        ("", "no column text"),
        ('text,point,marks\n"t1-01,1,1\n', "partly|not readable|line"),
    ],
)
def test_a_form_that_cannot_be_read_says_where(text, words):
    with pytest.raises(CohortError, match=words):
        read_form(text)


def test_an_agreed_mark_needs_a_difference_a_reason_and_the_mark_that_was_read(judged):
    drawn(judged)
    reading_all(judged, {"wren": (1.0, 0.5), "heron": (0.0, 0.0)})
    heron, wren = number_of(judged, "heron"), number_of(judged, "wren")
    for number, settled, words in (
        (wren, Agreed(1.0, "Long enough a reason."), "do not lie apart"),
        (heron, Agreed(2.5, "Long enough a reason."), "allowed are 0 to 2"),
        (heron, Agreed(1.0, "short"), "at least 10 characters"),
        ("t9-99", Agreed(1.0, "Long enough a reason."), "no text drawn"),
    ):
        with pytest.raises(CohortError, match=words):
            agree(judged, {number: settled}, by="Flint and Slate")
    by_hand(judged, "heron", 0.5)
    with pytest.raises(CohortError, match="another mark than the 2"):
        agree(judged, {heron: Agreed(1.0, "Long enough a reason.")}, by="Flint and Slate")
    assert standing(judged).sheets["heron", CASE].outcomes[3].marks == 0.5  # a person's mark is never overwritten


@pytest.mark.parametrize("by", ["Flint", " slate "])
def test_no_reader_settles_a_difference_alone(judged, by):
    drawn(judged)
    reading_all(judged, {"heron": (0.0, 0.0)})
    settled = {number_of(judged, "heron"): Agreed(1.0, "Long enough a reason.")}
    with pytest.raises(CohortError, match="name both, or a third"):
        agree(judged, settled, by=by)
    agree(judged, settled, by="Marl")


def test_killed_between_record_and_gradebook_nothing_is_decided_and_a_second_run_ends_it(judged, monkeypatch):
    drawn(judged)
    reading_all(judged, {"heron": (0.0, 0.0)})
    settled = {number_of(judged, "heron"): Agreed(1.0, "Long enough a reason.")}

    class PlugPulledError(BaseException):
        pass

    def stop(*_args, **_how):
        raise PlugPulledError

    with monkeypatch.context() as patch:
        patch.setattr(moderation, "exchange_mark", stop)
        with pytest.raises(PlugPulledError):
            agree(judged, settled, by="Flint and Slate")
    assert "not entered yet" in unsettled(judged, standing(judged))["heron", CASE, "advice"]
    agree(judged, settled, by="Flint and Slate")
    assert unsettled(judged, standing(judged)) == {}
    assert [entry.kind for entry in Places.of(judged).record.entries()].count("mark agreed") == 1


def test_newer_work_ends_the_moderation_of_the_older(judged):
    drawn(judged)
    reading_all(judged, {"heron": (0.0, 0.0)})
    hand_in(judged, "heron", 3.0, advice="Quite another text.")
    mark(judged)
    assert unsettled(judged, standing(judged)) == {}
    by_hand(judged, "heron", 1.0)
    fresh = draw_sample(judged, first_reader="Flint", least=5)
    assert [(piece.trainee, piece.first_marks) for piece in fresh.pieces] == [("heron", 1.0)]


def test_a_corrected_reading_counts_and_both_stay_in_the_record(judged):
    drawn(judged)
    reading_all(judged, {"heron": (0.0, 0.0)})
    reading_all(judged, {"heron": (1.0, 0.5)})
    reading_all(judged, {"heron": (0.0, 0.0)})
    reading_all(judged, {"heron": (1.0, 0.5)})
    assert not any(one.open for one in compare(judged))
    assert [entry.kind for entry in Places.of(judged).record.entries()].count("second reading") == 4


def compared_from(counts, task):
    """Make comparisons from a table of counts in steps of half a mark."""
    found = []
    for row, line in enumerate(counts):
        for column, count in enumerate(line):
            piece = Piece("t1-01", "wren", CASE, "advice", "", row / 2, SHARE)
            reading = Reading((column / 2,))
            found += [moderation.Compared(piece, task, reading, "Slate")] * count
    return found


def test_the_figures_are_those_of_other_libraries(judged):
    """Kappa against scikit-learn, the score interval against Newcombe's published example of 81 of 263."""
    sklearn = pytest.importorskip("sklearn.metrics")
    from scipy import stats

    sample = drawn(judged)
    task = next(one.task for one in compare(judged) if one.piece.number == sample.pieces[0].number)
    counts = [[3, 1, 0, 0, 0], [1, 4, 2, 0, 0], [0, 1, 6, 1, 0], [0, 0, 2, 5, 1], [0, 0, 0, 1, 4]]
    (figures,) = agreement(compared_from(counts, task))
    pairs = [(row, column) for row in range(5) for column in range(5) for _ in range(counts[row][column])]
    first, second = zip(*pairs, strict=True)
    assert figures.kappa.value == pytest.approx(sklearn.cohen_kappa_score(first, second, weights="quadratic"), abs=5e-4)
    assert figures.same_pct.value == pytest.approx(100 * 22 / 32, abs=0.05)
    assert figures.near_pct.value == 100.0
    assert figures.difference_marks.value == pytest.approx(sum(b - a for a, b in pairs) / 2 / 32, abs=5e-4)
    # Newcombe 1998, table I, method 3 (from memory): 81 of 263 gives 0.2553 to 0.3662
    low, high = stats.binomtest(81, 263).proportion_ci(method="wilson")
    assert (round(low, 4), round(high, 4)) == (0.2553, 0.3662)


def test_a_reader_who_gives_all_the_same_gets_no_kappa(judged):
    drawn(judged)
    task = compare(judged)[0].task
    (figures,) = agreement(compared_from([[0, 0, 0, 0, 0], [0, 0, 0, 0, 0], [0, 2, 1, 0, 0]], task))
    assert figures.kappa.value is None
    assert "the same marks" in figures.note
    assert figures.same_pct.value == pytest.approx(100 / 3, abs=0.05)


def test_the_figures_are_saved_without_names(judged):
    drawn(judged)
    reading_all(judged, {"wren": (1.0, 0.5), "heron": (0.0, 0.0)})
    data = json.loads(write_agreement(judged).read_text())
    assert (data["drawn"], data["read"], data["apart"], data["open"]) == (3, 2, 1, 1)
    assert data["figures"][0]["same_pct"]["value"] == 0
    table = (judged.report / "moderation.csv").read_text()
    assert len(table.splitlines()) == 4
    assert "heron" not in table


def test_the_commands_teach_and_refuse(judged):
    assert "draw" in run("cohort", "moderate", "--help")
    for name in ("draw", "enter", "agree", "show"):
        assert "Example" in run("cohort", "moderate", name, "--help")
    before = files(judged)
    assert "Would be drawn" in run("cohort", "moderate", "draw", judged.root, "--first", "Flint", "--dry-run")
    assert files(judged) == before
    assert "moderate draw" in run("cohort", "moderate", "show", judged.root)
    run("cohort", "moderate", "draw", judged.root, "--first", "Flint")
    assert "Drawn before" in run("cohort", "moderate", "draw", judged.root, "--first", "Flint")
    assert len(read_rounds(judged)) == 1


@pytest.mark.browser
@pytest.mark.xdist_group("browser")
@pytest.mark.parametrize("width", [1280, 390])
def test_the_texts_are_accessible_and_inert_in_a_browser(browser, judged, width):
    hand_in(judged, "wren", advice="<script>document.title = 'it ran'</script> " + "long" * 80)
    mark(judged)
    by_hand(judged, "wren", 1.0)
    drawn(judged)
    page = browser.new_page(viewport={"width": width, "height": 900})
    page.goto((Places.of(judged).moderation / "1" / "papers" / "texts.html").as_uri())
    found = Axe().run(page, options={"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]})
    assert found.violations_count == 0, found.generate_report()
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    assert page.title() != "it ran"
    page.close()
