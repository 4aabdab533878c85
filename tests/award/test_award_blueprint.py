"""The blueprint and the table of marks: what is refused, and in which words."""

from contextlib import suppress

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from autograde.award.blueprint import read_blueprint
from autograde.award.errors import AwardError
from autograde.award.marks import Item, MarkTable, read_marks, table_from_rows


def test_plan_in_numbers(blueprint, invented):
    assert blueprint.max_marks == 100
    assert blueprint.planned()["whole", "support"] == 10
    assert [gate.key for gate in blueprint.gates] == ["whole/refer"]
    assert (blueprint.attempts, blueprint.appeal_days, blueprint.valid_years) == (2, 28, 3)
    blueprint.check(invented.ITEMS)


def test_entries_left_out_have_their_usual_values():
    plan = read_blueprint(
        'title = "T"\nversion = "1"\n[competencies.a]\nname = "A"\n[cases.c]\nname = "C"\nmarks = {a = 1}\n'
    )
    assert (plan.attempts, plan.appeal_days, plan.valid_years, plan.gates) == (1, 28, None, ())
    assert plan.competencies[0].minimum_pct == 0
    gate = '[[gates]]\ncase = "c"\ntask = "refer"\nwhy = "Safety first."\n'
    base = 'title = "T"\nversion = "1"\n[competencies.a]\nname = "A"\n[cases.c]\nname = "C"\nmarks = {a = 1}\n'
    assert read_blueprint(base + gate).gates[0].minimum_pct == 100


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("attempts = 2", "atempts = 2", "did you mean 'attempts'"),
        ("attempts = 2", "attempts = 0", "at least 1"),
        ("attempts = 2", "attempts = true", "whole number"),
        ("minimum_pct = 60", "minimum_pct = 160", "from 0 to 100"),
        ("marks = {lever = 40}", "marks = {levr = 40}", "did you mean 'lever'"),
        ("marks = {lever = 40}", "marks = {lever = -40}", "greater than 0"),
        ("marks = {lever = 40}", "marks = {lever = nan}", "greater than 0"),
        ("marks = {lever = 40}", "marks = {lever = 0}", "greater than 0"),
        ("marks = {lever = 40}", "marks = {}", "gives no marks"),
        ("marks = {lever = 40}", "marks = {support = 40}", "no case gives marks to the competency lever"),
        ('case = "whole"', 'case = "hole"', "did you mean 'whole'"),
        ('why = "A rider', 'because = "A rider', "unknown entry 'because'"),
        ("[cases.record]", "[cases.Record]", "lower-case"),
        ('version = "2025.1"', 'version = "autumn term"', "letters, digits"),
        ("assessed = [", "assessed = [3,", "list of texts"),
        ('title = "Bicycle', "title = Bicycle", "no valid TOML"),
        ("[[gates]]", "[gates]", "written as [[gates]]"),
    ],
)
def test_mistakes_are_named(invented, old, new, words):
    assert old in invented.BLUEPRINT
    with pytest.raises(AwardError) as caught:
        read_blueprint(invented.BLUEPRINT.replace(old, new, 1))
    assert words.lower() in str(caught.value).lower()


@given(st.text(max_size=200) | st.binary(max_size=200).map(lambda data: data.decode("latin-1")))
@settings(max_examples=150, deadline=None)
def test_any_text_is_read_or_refused_in_words(invented, text):
    for content in (text, invented.BLUEPRINT[: len(text) * 7] + text):
        with suppress(AwardError):
            read_blueprint(content)


def test_tasks_are_held_to_the_plan(blueprint, invented):
    fewer = tuple(item for item in invented.ITEMS if item.task != "refer")
    none = tuple(item for item in invented.ITEMS if item.case != "record")
    more = (*invented.ITEMS, Item("extra", "bonus", "lever", 5))
    silent = (*invented.ITEMS[:-1], Item("whole", "letter", "referral", 5, safety=True))
    for items, words in (
        (fewer, ["the gate whole/refer has no task", "whole gives 5 marks to referral, planned are 10"]),
        (more, ["extra gives 5 marks to lever, planned are 0"]),
        (none, ["record gives 0 marks to lever, planned are 40"]),
        (silent, ["whole/letter is marked as safety-critical, and no gate names it"]),
    ):
        with pytest.raises(AwardError) as caught:
            blueprint.check(items)
        assert all(line in str(caught.value) for line in words)


ROW = {"trainee": "wren", "case": "record", "task": "torque", "competency": "lever", "max_marks": 10, "marks": 7}


def test_rows_become_a_table_with_gaps():
    rows = [
        ROW,
        ROW | {"task": "words", "marks": "", "reason": "a text that a person marks", "safety": "yes"},
        ROW | {"trainee": "heron", "marks": "3.5"},
    ]
    table = table_from_rows(rows)
    assert table.trainees == ("wren", "heron")
    assert [item.key for item in table.items] == ["record/torque", "record/words"]
    assert np.array_equal(table.marks, [[7, np.nan], [3.5, np.nan]], equal_nan=True)
    assert table.why == {("wren", "record/words"): "a text that a person marks"}
    assert table.items[1].safety
    assert table.complete.tolist() == [False, False]


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ([], "is empty"),
        ([{"trainee": "wren"}], "has no case"),
        ([ROW | {"trainee": " "}], "empty trainee"),
        ([ROW | {"marks": "seven"}], "'seven' as marks"),
        ([ROW | {"marks": "nan"}], "'nan' as marks"),
        ([ROW | {"marks": 11}], "0 to 10 is allowed"),
        ([ROW | {"marks": -1}], "0 to 10 is allowed"),
        ([ROW | {"max_marks": 0}], "greater than 0"),
        ([ROW, ROW], "second mark"),
        ([ROW, ROW | {"trainee": "heron", "max_marks": 5}], "otherwise than an earlier row"),
    ],
)
def test_rows_that_contradict_are_refused(rows, words):
    with pytest.raises(AwardError) as caught:
        table_from_rows(rows)
    assert words in str(caught.value)


def test_tables_refuse_doubles_and_wrong_shapes(table):
    with pytest.raises(AwardError, match="given more often: wren"):
        MarkTable(("wren", "wren"), table.items, table.marks[:2])
    with pytest.raises(AwardError, match="shape"):
        MarkTable(("wren",), table.items, table.marks)
    with pytest.raises(AwardError, match="not in the table"):
        table.row("dodo")


@given(st.text(max_size=300))
@settings(max_examples=100, deadline=None)
def test_any_csv_is_read_or_refused_in_words(text):
    for content in (text, "trainee,case,task,competency,max_marks,marks\n" + text):
        with suppress(AwardError):
            read_marks(content)
