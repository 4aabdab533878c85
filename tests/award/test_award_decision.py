"""From marks to decisions: the order of the rules, the edges, and what a person may change."""

from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from autograde.award.decision import decide
from autograde.award.errors import AwardError
from autograde.award.marks import MarkTable
from autograde.award.outcome import Outcome
from autograde.award.review import after_appeal, settle
from autograde.award.standard import Standard

DAY = date(2025, 11, 21)


@pytest.fixture(scope="session")
def one(invented):
    """A table with one trainee."""
    return lambda row: MarkTable(("wren",), invented.ITEMS, np.array([row], dtype=float))


@pytest.mark.parametrize(
    ("trainee", "outcome", "words"),
    [
        ("wren", Outcome.AWARD, "84 of 100 marks, at or above 64"),
        ("heron", Outcome.BORDERLINE, "61 of 100 marks lie between 56 and 64"),
        ("plover", Outcome.NOT_YET, "24 of 50 marks (48 %), at least 50 % are needed"),
        ("curlew", Outcome.BLOCKED, "Safety gate whole/refer: 0 marks, needed 5. A rider with a red flag is referred"),
        ("dunnock", Outcome.NOT_YET, "Chooses support of foot and pelvis: 11 of 50 marks"),
        ("siskin", Outcome.OUTSTANDING, "whole/plan: a text that a person marks"),
    ],
)
def test_six_trainees(table, blueprint, standard, invented, trainee, outcome, words):
    decision = decide(table, trainee, blueprint, standard, on=DAY)
    assert decision.outcome is outcome
    assert words in " ".join(decision.reasons)
    assert decision.total_marks == pytest.approx(np.nansum(invented.ROWS[trainee]))
    assert decision.appeal_until == "2025-12-19"


def test_edges_of_the_band(one, blueprint, standard):
    """Band 56 to 64: 56 is in it, 64 above it, 55.99 below."""
    for total, outcome in (
        (55.99, Outcome.NOT_YET),
        (56, Outcome.BORDERLINE),
        (63.99, Outcome.BORDERLINE),
        (64, Outcome.AWARD),
    ):
        row = [8, 8, 10, 9, 14, 5, 5, 3]
        row[1] = round(total - sum(row) + row[1], 2)
        assert 0 <= row[1] <= 10
        assert decide(one(row), "wren", blueprint, standard, on=DAY).outcome is outcome


def test_sums_of_hundredths_reach_their_limit(one, blueprint, standard):
    """Added up in binary these make 63.99999…; a mark must not be lost by it."""
    row = [5.56, 9.08, 13.19, 9.94, 13.76, 5.74, 5, 1.73]
    assert sum(row) < 64
    decision = decide(one(row), "wren", blueprint, standard, on=DAY)
    assert decision.total_marks == 64
    assert decision.outcome is Outcome.AWARD


def test_a_failed_gate_blocks_even_outstanding_work(one, invented, blueprint, standard):
    row = [*invented.FULL]
    row[5], row[6] = np.nan, 4.99
    assert decide(one(row), "wren", blueprint, standard, on=DAY).outcome is Outcome.BLOCKED
    row[6] = np.nan
    decision = decide(one(row), "wren", blueprint, standard, on=DAY)
    assert decision.outcome is Outcome.OUTSTANDING
    assert decision.gates[0].passed is None


def test_missing_work_is_never_a_silent_zero(one, blueprint, standard):
    decision = decide(one([np.nan] * 8), "wren", blueprint, standard, on=DAY)
    assert decision.outcome is Outcome.OUTSTANDING
    assert len(decision.outstanding) == 8
    assert decision.outstanding[0].why == "no mark recorded"
    assert [result.met for result in decision.competencies] == [None, None, None]


def test_attempts(table, blueprint, standard):
    first = decide(table, "plover", blueprint, standard, attempt=1, on=DAY)
    last = decide(table, "plover", blueprint, standard, attempt=2, on=DAY)
    assert "attempt 2 of 2" in first.next_step
    assert "All attempts are used" in last.next_step
    for wrong in (0, 3):
        with pytest.raises(AwardError, match="the blueprint gives 2"):
            decide(table, "plover", blueprint, standard, attempt=wrong, on=DAY)


def test_standard_and_blueprint_must_belong_together(table, blueprint, standard):
    other = Standard(30, 1, 2, 50, standard.rounds)
    with pytest.raises(AwardError, match="set the standard again"):
        decide(table, "wren", blueprint, other, on=DAY)
    with pytest.raises(AwardError, match="not in the table"):
        decide(table, "dodo", blueprint, standard, on=DAY)


@given(st.lists(st.floats(0, 1), min_size=8, max_size=8), st.integers(0, 7), st.floats(0, 1))
@settings(max_examples=200, deadline=None)
def test_more_marks_never_make_it_worse(one, invented, blueprint, standard, shares, which, more):
    rank = {Outcome.BLOCKED: 0, Outcome.NOT_YET: 1, Outcome.BORDERLINE: 2, Outcome.AWARD: 3}
    row = [round(share * full, 2) for share, full in zip(shares, invented.FULL, strict=True)]
    better = [*row]
    better[which] = max(row[which], round(more * invented.FULL[which], 2))
    before, after = (decide(one(r), "wren", blueprint, standard, on=DAY).outcome for r in (row, better))
    assert rank[after] >= rank[before]


def test_a_person_settles_only_what_is_borderline(table, blueprint, standard):
    heron = decide(table, "heron", blueprint, standard, on=DAY)
    settled = settle(heron, award=True, by="Flint", statement="The plan shows sound reasoning throughout.")
    assert settled.outcome is Outcome.AWARD
    assert settled.decided_by == "Flint"
    assert settled.next_step == "Issue the award."
    assert settle(heron, award=False, by="Flint", statement="The letter is too vague.").outcome is Outcome.NOT_YET
    for trainee in ("wren", "plover", "curlew", "siskin"):
        with pytest.raises(AwardError, match="only a borderline result"):
            settle(decide(table, trainee, blueprint, standard, on=DAY), award=True, by="Flint", statement="x" * 20)
    assert settle(heron, award=True, by="Flint", statement="x" * 10).statement == "x" * 10
    for by, statement in ((" ", "x" * 20), ("Flint", "x" * 9 + "  ")):
        with pytest.raises(AwardError, match="name and reasons"):
            settle(heron, award=True, by=by, statement=statement)


def test_an_appeal_is_heard_by_somebody_else_within_its_time(table, blueprint, standard):
    heron = decide(table, "heron", blueprint, standard, on=DAY)
    first = settle(heron, award=False, by="Flint", statement="The letter is too vague.")
    marks = table.marks.copy()
    marks[table.trainees.index("heron"), 4] += 6
    second = decide(MarkTable(table.trainees, table.items, marks), "heron", blueprint, standard, on=DAY)
    heard = {"by": "Slate", "statement": "The tier was right by the brief's own table.", "on": date(2025, 12, 1)}
    changed = after_appeal(first, second, **heard)
    assert changed.outcome is Outcome.AWARD
    assert "changed from: not yet" in changed.reasons[-1]
    assert after_appeal(first, second, **heard | {"on": date(2025, 12, 19)}).outcome is Outcome.AWARD
    with pytest.raises(AwardError, match="name and reasons"):
        after_appeal(first, second, **heard | {"statement": "because"})
    with pytest.raises(AwardError, match="open until 2025-12-19"):
        after_appeal(first, second, **heard | {"on": date(2025, 12, 20)})
    with pytest.raises(AwardError, match="somebody else"):
        after_appeal(first, second, **heard | {"by": "Flint"})
    with pytest.raises(AwardError, match="another trainee or attempt"):
        after_appeal(decide(table, "wren", blueprint, standard, on=DAY), second, **heard)


def test_what_stays_for_good_names_nobody(table, blueprint, standard):
    decision = settle(
        decide(table, "heron", blueprint, standard, on=DAY),
        award=True,
        by="Flint",
        statement="Heron explained it well.",
    )
    public = str(decision.public())
    for private in ("heron", "Heron", "Flint"):
        assert private not in public
    assert decision.personal() == {"trainee": "heron", "decided_by": "Flint", "statement": "Heron explained it well."}
    assert decision.public()["by_a_person"] is True
