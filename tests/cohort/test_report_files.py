"""What the report writes: tables, JSON with its schema, a page about each trainee; nothing that acts or leaks."""

import csv
import json
import re
import unicodedata

import numpy as np
import pytest
from bs4 import BeautifulSoup
from desk_steps import CASE, RATINGS, by_hand, hand_in, mark, typed
from jsonschema import Draft202012Validator
from report_steps import ability_marks, made_from_marks, record_line

from autograde.cases import trainee_variant
from autograde.cohort import report_json
from autograde.cohort.collect import collect
from autograde.cohort.families import load_case
from autograde.cohort.feedback import write_feedback
from autograde.cohort.files import append_records
from autograde.cohort.folder import open_cohort
from autograde.cohort.report import MOST_ROWS, write_report
from autograde.cohort.standing import standing
from autograde.desk.decisions import decide_cohort, settle_one
from autograde.desk.moderation import Agreed, Reading, agree, compare, enter_readings
from autograde.desk.places import Places
from autograde.desk.plan import write_first_plan
from autograde.desk.reporting import write_cohort_report
from autograde.desk.rounds import write_round
from autograde.desk.sample import draw_sample
from pedalwright_app.filling import fill

CASES = ("angle-conventions", "saddle-height")
FULL = [task.marks for case in CASES for task in load_case(case).tasks]
EVIL = [
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "</style><script>alert(1)</script>",
    "{{ 7*7 }}{% for x in y %}",
    "=cmd|' /C calc'!A0",
    "@SUM(1+1)*cmd",
    "javascript:alert(1)",
    "Wren \u202e\u0007 Sparrow",
]


def write_all(cohort):
    stand = standing(cohort)
    write_feedback(stand)
    return write_cohort_report(cohort, stand)


def rows_of(cohort, name):
    with (cohort.report / f"{name}.csv").open(newline="", encoding="utf-8") as stream:
        return list(csv.DictReader(stream))


def text_of(path):
    return re.sub(r"\s+", " ", BeautifulSoup(path.read_text(encoding="utf-8"), "html.parser").get_text(" "))


@pytest.fixture
def judged(cohort):
    """Wren has all right, heron and plover miss the power, curlew hands in nothing; heron is settled by Flint."""
    for who, share in (("wren", 1.0), ("heron", 3.0), ("plover", 3.0)):
        hand_in(cohort, who, share, advice=f"Ask first, then refer. ({who.upper()}'s own words)")
    mark(cohort)
    write_first_plan(cohort)
    Places.of(cohort).ratings.write_text(RATINGS)
    for who, marks in (("wren", 2.0), ("heron", 2.0), ("plover", 1.0)):
        by_hand(cohort, who, marks)
    decide_cohort(cohort, sem_marks=0.5)
    return cohort


def test_marks_are_the_same_in_page_tables_and_json(judged):
    write_all(judged)
    marks = {row["trainee"]: row["marks"] for row in rows_of(judged, "marks")}
    assert marks == {"wren": "8", "heron": "5", "plover": "4", "curlew": ""}
    data = json.loads((judged.report / "report.json").read_text())
    sheets = {one["trainee"]: one["sheets"][0] for one in data["trainees"]}
    assert {who: sheet["marks"] for who, sheet in sheets.items()} == {
        "wren": 8,
        "heron": 5,
        "plover": 4,
        "curlew": None,
    }
    for who, sheet in sheets.items():
        assert sum(answer["marks"] for answer in sheet["answers"]) == (sheet["marks"] or 0)
        together = [row for row in rows_of(judged, "competencies") if row["trainee"] == who]
        assert sum(float(row["marks"]) for row in together) == (sheet["marks"] or 0)
        assert sum(float(row["max_marks"]) for row in together) == 8
        said = text_of(judged.report / "trainees" / f"{who}.html")
        assert f"{sheet['marks'] or 0:g} of 8 marks so far" in said


def test_difficulty_in_the_table_is_the_mean_share(judged):
    write_all(judged)
    advice = next(row for row in rows_of(judged, "items") if row["task"] == "advice")
    assert float(advice["difficulty"]) == pytest.approx((2 + 2 + 1) / 6, abs=1e-4)
    assert (advice["known"], advice["discrimination"]) == ("3", "")  # with three trainees there is no correlation


def test_the_json_follows_its_schema_with_everything_in_it(judged):
    settle_one(judged, "heron", award=True, by="Flint", statement="Read with Slate: asks first, refers in time.")
    write_round(judged, draw_sample(judged, first_reader="Flint", share_pct=100))
    number = {one.piece.trainee: one.piece.number for one in compare(judged)}
    enter_readings(judged, {number["plover"]: Reading((1.0, 1.0))}, by="Slate")
    agree(judged, {number["plover"]: Agreed(1.5, "Names one limit, refers well.")}, by="Flint and Slate")
    write_all(judged)
    schema = report_json.report_schema()
    Draft202012Validator.check_schema(schema)
    data = json.loads((judged.report / "report.json").read_text())
    assert not list(Draft202012Validator(schema).iter_errors(data))
    assert data["version"] == schema["properties"]["version"]["const"] == report_json.VERSION
    assert data["second_readings"]["apart"][0]["agreed_marks"] == 1.5
    assert data["standard"]["cut_marks"] == 5.2
    decision = next(one["decision"] for one in data["trainees"] if one["trainee"] == "heron")
    assert (decision["outcome"], decision["recorded"], decision["decided_by"]) == ("award", True, "Flint")


@pytest.mark.parametrize("trainees", [0, 1, 15])
def test_the_json_follows_its_schema_for_any_size(tmp_path, trainees):
    marks = ability_marks(max(trainees, 1), FULL)
    marks[trainees:] = np.nan
    cohort = made_from_marks(tmp_path / "cohort", CASES, marks)
    write_all(cohort)
    data = json.loads((cohort.report / "report.json").read_text())
    assert not list(Draft202012Validator(report_json.report_schema()).iter_errors(data))


def test_the_schema_refuses_another_shape(judged):
    write_all(judged)
    data = json.loads((judged.report / "report.json").read_text())
    check = Draft202012Validator(report_json.report_schema())
    spoilt = [
        data | {"version": 2},
        {key: value for key, value in data.items() if key != "tasks"},
        data | {"tasks": [data["tasks"][0] | {"difficulty": 0.5}]},
        data | {"trainees": [data["trainees"][0] | {"competencies": [{"competency": "torque"}]}]},
    ]
    assert all(list(check.iter_errors(one)) for one in spoilt)


def test_the_same_cohort_gives_the_same_files_and_writes_no_page_twice(judged):
    def look():
        return {path: (path.read_bytes(), path.stat().st_mtime_ns) for path in judged.report.rglob("*.html")}

    write_all(judged)
    before = look()
    tables = {path: path.read_bytes() for path in judged.report.glob("*.*")}
    write_all(judged)
    assert {path: path.read_bytes() for path in judged.report.glob("*.*")} == tables
    after = look()
    assert {path for path in before if before[path] != after[path]} <= {judged.report / "index.html"}


def test_a_page_about_a_trainee_holds_what_an_instructor_needs(judged):
    settle_one(judged, "heron", award=False, by="Flint", statement="Read with Slate: does not refer in time.")
    write_all(judged)
    said = text_of(judged.report / "trainees" / "heron.html")
    for words in (
        "Not yet", "Flint decided", "Read with Slate: does not refer in time.", "5 marks, attempt 1 of 2",
        "the cut is 5.20 of 8", "Attempt 1 counts", "HERON's own words", "minimum met",
    ):  # fmt: skip
        assert words in said, words
    assert "PLOVER" not in said
    page = BeautifulSoup((judged.report / "index.html").read_text(), "html.parser")
    assert page.find("a", href="trainees/heron.html")
    links = BeautifulSoup((judged.report / "trainees" / "heron.html").read_text(), "html.parser").select("a[href]")
    for link in links:
        path = (judged.report / "trainees" / link["href"].split("#")[0]).resolve()
        assert path.is_file(), link


def test_while_newer_work_waits_to_be_marked_the_recorded_standard_and_decisions_are_shown(judged):
    hand_in(judged, "curlew")
    collect(judged)
    page = BeautifulSoup(write_all(judged).read_text(), "html.parser")
    assert page.select_one("#band")
    assert "Decisions are those of the record" in page.get_text()
    assert "Borderline: a person decides" in text_of(judged.report / "trainees" / "heron.html")


def test_a_page_about_a_trainee_holds_no_right_value_and_no_secret(judged):
    """Heron's power is wrong: the right one by closed form stands nowhere, nor does the cohort's secret or a seed."""
    write_all(judged)
    case = trainee_variant(load_case(CASE, judged.settings.case_folders), judged.secret, "heron").case
    power = case.force_n * case.crank_mm / 1000 * case.cadence_rpm * 2 * np.pi / 60
    sealed = [f"{power:.{digits}f}" for digits in (1, 2, 3)] + [str(round(power))]
    for path in (*judged.report.glob("trainees/heron.html"), judged.report / "report.json"):
        text = path.read_text()
        assert judged.secret.hex() not in text
        assert "seed" not in text
        assert not [value for value in sealed if re.search(rf"(?<![\d.]){re.escape(value)}(?![\d])", text)]


def test_the_attempt_that_counts_is_shown_and_earlier_ones_are_mentioned(tmp_path):
    marks = ability_marks(3, FULL)
    cohort = made_from_marks(tmp_path / "cohort", CASES, marks)
    family = load_case(CASES[0])
    second = np.array([task.marks for task in family.tasks])
    append_records(cohort.record("marks"), [record_line(family, "t001", second, attempt=2)])
    write_all(cohort)
    first = marks[1, : len(second)].sum()
    said = text_of(cohort.report / "trainees" / "t001.html")
    assert f"Attempt 2 counts. What the trainee was told . Attempt 1 does not count: {first:g} marks" in said
    assert (cohort.root / "feedback" / "t001" / CASES[0] / "attempt-1.html").is_file()
    assert "Bird 1 attempt 2" in text_of(cohort.report / "index.html")
    row = next(row for row in rows_of(cohort, "marks") if (row["trainee"], row["case"]) == ("t001", CASES[0]))
    assert (row["marks"], row["attempt"], row["earlier_attempts"]) == (f"{second.sum():g}", "2", "1")


def test_who_left_the_roster_or_was_deleted_has_no_page(tmp_path):
    cohort = made_from_marks(tmp_path / "cohort", CASES, ability_marks(4, FULL))
    write_all(cohort)
    roster = (cohort.root / "roster.csv").read_text().replace("t003", "gone-0123456789ab")
    (cohort.root / "roster.csv").write_text(roster)
    record = cohort.record("marks")
    record.write_text(record.read_text().replace('"t003"', '"gone-0123456789ab"'))
    cohort = open_cohort(cohort.root)
    write_all(cohort)
    assert {path.stem for path in cohort.report.glob("trainees/*.html")} == {"t000", "t001", "t002"}
    assert "trainees/gone-" not in (cohort.report / "index.html").read_text()
    assert len(rows_of(cohort, "marks")) == 8


def test_a_large_cohort_shows_those_in_need_and_says_where_the_rest_is(tmp_path):
    people = MOST_ROWS + 15
    cohort = made_from_marks(
        tmp_path / "cohort", CASES[:1], ability_marks(people, FULL)[:, : len(load_case(CASES[0]).tasks)]
    )
    page = BeautifulSoup(write_all(cohort).read_text(), "html.parser")
    assert len(page.select("details.case tbody tr")) == MOST_ROWS
    assert "The other 15 stand in answers.csv" in page.get_text()
    assert len(page.select("table.map tbody tr")) == people + 1
    assert len(list(cohort.report.glob("trainees/*.html"))) == people


def test_cases_are_folded_and_the_weakest_comes_first(tmp_path):
    marks = ability_marks(12, FULL)
    marks[:, : len(load_case(CASES[0]).tasks)] *= 0.3
    page = BeautifulSoup(write_all(made_from_marks(tmp_path / "cohort", CASES, marks)).read_text(), "html.parser")
    assert [one["id"] for one in page.select("details.case")] == [f"case-{case}" for case in CASES]
    assert not page.select("details.case[open]")


def test_without_the_desk_the_report_holds_what_the_marks_say(judged):
    page = BeautifulSoup(write_report(judged, standing(judged)).read_text(), "html.parser")
    assert page.select_one("#map")
    assert not page.select_one("#band")
    assert len(list(judged.report.glob("trainees/*.html"))) == 4


@pytest.fixture
def hostile(tmp_path):
    """Names that carry markup and formulas; the same typed, and signs that turn the writing round."""
    cohort = made_from_marks(
        tmp_path / "cohort", CASES, ability_marks(len(EVIL), FULL), names=[*EVIL[:-1], "Wren"], ratings=True
    )
    lines = [json.loads(line) for line in cohort.record("marks").read_text().splitlines()]
    for line in lines:
        evil = EVIL[int(line["trainee"][1:])]
        line["notices"] = [evil]
        for result in line["results"]:
            result |= {"typed": evil, "reason": evil, "feedback": evil, "read_as": evil, "misconception": evil}
            result["state"] = "recognised misconception"
    cohort.record("marks").write_text("".join(json.dumps(line) + "\n" for line in lines))
    append_records(cohort.record("refused"), [{"source": EVIL[1], "reason": EVIL[0]}])
    write_all(cohort)
    return cohort


def test_no_page_of_the_report_holds_an_element_that_acts(hostile):
    pages = [hostile.report / "index.html", *sorted(hostile.report.glob("trainees/*.html"))]
    assert len(pages) == len(EVIL) + 1
    for path in pages:
        text = path.read_text(encoding="utf-8")
        assert "default-src 'none'" in text
        page = BeautifulSoup(text, "html.parser")
        for name in ("script", "img", "iframe", "object", "embed", "form", "base", "link"):
            assert page.find(name) is None
        assert len(page.find_all("style")) == 1
        for element in page.find_all(True):
            assert not [key for key in element.attrs if key.startswith("on")]
            assert not re.match(r"\s*(javascript|data|https?|//)", element.get("href", ""))
        assert not [sign for sign in text if unicodedata.category(sign) in ("Cc", "Cf", "Cs") and sign != "\n"]
    for number, evil in enumerate(EVIL[:-1]):
        assert (
            evil in BeautifulSoup((hostile.report / "trainees" / f"t{number:03d}.html").read_text(), "html.parser").h1
        )


def test_no_table_of_the_report_holds_a_formula(hostile):
    names = {path.name for path in hostile.report.glob("*.csv")}
    assert names == {"marks.csv", "answers.csv", "misconceptions.csv", "items.csv", "competencies.csv"}
    for name in names:
        with (hostile.report / name).open(newline="", encoding="utf-8") as stream:
            for cell in (cell for row in csv.reader(stream) for cell in row):
                assert not re.match(r"[=+@\t\r]|-(?!\d)", cell), (name, cell)


def test_words_typed_by_one_trainee_stand_in_no_other_page(cohort):
    for who in ("wren", "heron"):
        content = fill(cohort.notebook("release", who, CASE).read_bytes(), typed(cohort, who, advice=f"PRIVATE-{who}"))
        (cohort.inbox / f"{who}__{CASE}.ipynb").write_bytes(content)
    mark(cohort)
    write_all(cohort)
    for path in cohort.report.glob("trainees/*.html"):
        found = set(re.findall(r"PRIVATE-(\w+)", path.read_text()))
        assert found <= {path.stem}
