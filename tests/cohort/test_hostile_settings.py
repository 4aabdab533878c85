"""Damaged and hostile files of the instructor's: one clear line, exit code 1, and nothing lost."""

import contextlib

import pytest
from desk_steps import CASE, RATINGS, by_hand, files, hand_in, mark, run
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from autograde.award.blueprint import read_blueprint
from autograde.award.errors import AwardError
from autograde.award.marks import Item
from autograde.award.ratings import read_bounds, read_ratings
from autograde.cohort.errors import CohortError
from autograde.desk.places import Places
from autograde.desk.plan import write_first_plan
from autograde.desk.reading_form import read_differences, read_form

ITEMS = [Item(CASE, "torque", "torque", 2.0), Item(CASE, "advice", "judgement", 2.0)]


@pytest.fixture
def ready(cohort):
    hand_in(cohort, "wren")
    mark(cohort)
    by_hand(cohort, "wren", 2.0)
    write_first_plan(cohort)
    Places.of(cohort).ratings.write_text(RATINGS)
    return cohort


def changed(old, new):
    return lambda text: text.replace(old, new, 1)


SPOILT_PLANS = {
    "empty": lambda _text: "",
    "no TOML": lambda _text: "this is no TOML at all {{{",
    "cut off": lambda text: text[: len(text) // 3],
    "a list for a table": changed("[competencies.torque]", "[[competencies.torque]]"),
    "a text for a number": changed("attempts = 2", 'attempts = "two"'),
    "zero attempts": changed("attempts = 2", "attempts = 0"),
    "half an attempt": changed("attempts = 2", "attempts = 1.5"),
    "an appeal without end": changed("appeal_days = 28", "appeal_days = 999999999999"),
    "valid beyond the calendar": changed("valid_years = 3", "valid_years = 9999"),
    "true attempts": changed("attempts = 2", "attempts = true"),
    "a minimum above all": changed("minimum_pct = 50", "minimum_pct = 101"),
    "a minimum that is no number": changed("minimum_pct = 50", "minimum_pct = nan"),
    "an endless minimum": changed("minimum_pct = 50", "minimum_pct = inf"),
    "negative marks": changed("torque = 6", "torque = -6"),
    "too many marks": changed("torque = 6", "torque = 1e300"),
    "an unknown entry": changed("attempts = 2", "attempts = 2\ncolour = 'red'"),
    "a name that leads elsewhere": changed("[competencies.torque]", '[competencies."../../x"]'),
    "an unknown competency": changed("torque = 6", "tourque = 6"),
    "a version for an address": changed('version = "1"', 'version = "../1"'),
    "a gate without a task": lambda text: text + f'\n[[gates]]\ncase = "{CASE}"\ntask = "nothing"\nwhy = "no"\n',
    "a gate of no case": lambda text: text + '\n[[gates]]\ncase = "tea"\ntask = "nothing"\nwhy = "no"\n',
    "the same key twice": changed("attempts = 2", "attempts = 2\nattempts = 3"),
    "deeply nested": lambda _text: "a = " + "[" * 5000 + "]" * 5000,
    "a huge number": changed("attempts = 2", f"attempts = {'9' * 5000}"),
    "null bytes": changed("attempts = 2", "attempts = 2\0"),
    "terminal escapes": changed("attempts = 2", 'attempts = 2\n"\\u001b[31mred" = 1'),
}


@pytest.mark.parametrize("how", SPOILT_PLANS)
def test_a_spoilt_blueprint_is_told_in_one_line_and_nothing_is_lost(ready, how):
    path = Places.of(ready).blueprint
    path.write_text(SPOILT_PLANS[how](path.read_text()))
    one_line_and_nothing_lost(ready)


SPOILT_RATINGS = {
    "empty": "",
    "only a header": "round,rater,case,task,share_pct\n",
    "another header": "a,b,c\n1,2,3\n",
    "no number": RATINGS.replace(",60", ",lots", 1),
    "above all": RATINGS.replace(",60", ",160", 1),
    "below nothing": RATINGS.replace(",60", ",-1", 1),
    "no number at all": RATINGS.replace(",60", ",nan", 1),
    "endless": RATINGS.replace(",60", ",inf", 1),
    "a formula": RATINGS.replace(",60", ",=1+1", 1),
    "a formula of a command": RATINGS.replace(",60", ",\"=cmd|' /C calc'!A0\"", 1),
    "an unknown task": RATINGS.replace("torque", "tourque", 1),
    "a task missing": RATINGS.replace(f"1,slate,{CASE},power,60\n", ""),
    "a task twice": RATINGS + f"1,slate,{CASE},power,60\n",
    "half a round": RATINGS.replace("1,slate", "1.5,slate"),
    "a round of nothing": RATINGS.replace("1,slate", "0,slate"),
    "one rater": "\n".join(line for line in RATINGS.splitlines() if "marl" not in line) + "\n",
    "an open quote": RATINGS + '1,"slate',
    "null bytes": RATINGS.replace("slate", "sl\0ate", 1),
    "an endless field": RATINGS + "1," + "x" * 200_000 + f",{CASE},power,60\n",
}


@pytest.mark.parametrize("how", SPOILT_RATINGS)
def test_spoilt_ratings_are_told_in_one_line_and_nothing_is_lost(ready, how):
    Places.of(ready).ratings.write_text(SPOILT_RATINGS[how])
    one_line_and_nothing_lost(ready)


def test_files_that_are_too_large_or_no_text_are_told(ready):
    places = Places.of(ready)
    for path, content in (
        (places.blueprint, b"#" * 6_000_000),
        (places.ratings, b"\xff\xfe\x00"),
        (places.blueprint, b"\x00" * 10),
    ):
        held = path.read_bytes()
        path.write_bytes(content)
        one_line_and_nothing_lost(ready)
        path.write_bytes(held)


def test_names_of_raters_in_any_writing_and_with_formulas_stay_inert(ready):
    for name in ("翡翠", "=1+1", "<script>alert(1)</script>", "‮reversed", "O'Neill; DROP TABLE"):
        Places.of(ready).ratings.write_text(RATINGS.replace("slate", name.replace(",", " ")))
        output = run("cohort", "decide", ready.root, "--sem", "0.5", "--dry-run")
        assert "Would be decided" in output
        assert "\x1b" not in output


def one_line_and_nothing_lost(cohort):
    before = files(cohort, gradebook=True)
    output = run("cohort", "decide", cohort.root, "--sem", "0.5", code=1)
    assert len(output.strip().splitlines()) == 1, output
    assert "the program itself failed" not in output, output
    assert "\x1b" not in output
    after = files(cohort, gradebook=True)
    assert {name for name in before if after[name] != before[name]} <= {"records/by_hand.jsonl", "gradebook.db"}
    assert "decided" in run("cohort", "status", cohort.root)


ANY_TEXT = st.text(max_size=200) | st.text(alphabet='round,rater\n1"=\0;\t.5', max_size=200)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=150)
@given(ANY_TEXT)
def test_no_text_gets_past_the_readers_but_as_their_own_errors(text):
    for read, own in (
        (read_blueprint, AwardError),
        (lambda t: read_ratings(t, ITEMS), AwardError),
        (lambda t: read_ratings("round,rater,case,task,share_pct\n" + t, ITEMS), AwardError),
        (lambda t: read_bounds("rater,cut_min_marks,cut_max_marks,fail_min_pct,fail_max_pct\n" + t), AwardError),
        (lambda t: read_form("text,point,marks\n" + t), CohortError),
        (lambda t: read_differences("text,agreed_marks,reason\n" + t), CohortError),
    ):
        with contextlib.suppress(own):
            read(text)
