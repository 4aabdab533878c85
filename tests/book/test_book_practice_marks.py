"""Tables of practice riders: each piece says what the marking package says to any number in it."""

import math
import random

import pytest

from autograde.cases import discover_families, practice_variant
from autograde.marking import (
    Choice,
    ChoiceSet,
    DirectedChange,
    Misconception,
    Ordering,
    Quantity,
    Task,
    Tolerance,
    mark_sheet,
)
from autograde.marking.units import convert, read_unit
from pedalwright_app.practice_marks import MarkTables, cuts, plain_unit, typed, unit_factors

FAMILIES = {name: family for name, family in discover_families().items() if family.worked is not None}


def looked_up(table, value, bare):
    """Find the piece a value falls in, as the page does."""
    return next(piece for piece in table if piece[0] is None or value <= piece[0])[2 if bare else 1]


@pytest.mark.parametrize("name", FAMILIES)
def test_every_number_gets_the_verdict_of_the_marking_package(name):
    """Marking is the check: 40 values a task, close to every edge and far away, with and without a unit."""
    family, tables, chance = FAMILIES[name], MarkTables(FAMILIES[name]), random.Random(name)
    case = practice_variant(family, 2).case
    rider = tables.rider(case)
    for task in family.tasks:
        if not isinstance(task.kind, Quantity | DirectedChange):
            continue
        edges = [piece[0] for piece in rider[task.id] if piece[0] is not None]
        near = [edge + sign * 1e-4 * max(1.0, abs(edge)) for edge in edges for sign in (-1, 1)]
        wide = max(map(abs, edges))
        for value in [*near, *(chance.uniform(-1.5 * wide, 1.5 * wide) for _ in range(20))]:
            for bare in (False, True):
                text = typed(task.kind, value, bare=bare)
                found = mark_sheet(family.tasks, family.misconceptions, case, {task.id: text})[task.id]
                said = tables.words[looked_up(rider[task.id], value, bare)]
                assert said == (found.state, found.feedback, found.page), (task.id, text)


@pytest.mark.parametrize("name", FAMILIES)
def test_every_option_gets_the_verdict_of_the_marking_package(name):
    family, tables = FAMILIES[name], MarkTables(FAMILIES[name])
    case = practice_variant(family, 3).case
    rider = tables.rider(case)
    for task in family.tasks:
        if not isinstance(task.kind, Choice | ChoiceSet | Ordering):
            continue
        if isinstance(task.kind, ChoiceSet):
            assert len(rider[task.id]) == 2 ** len(task.kind.options)
        states = [tables.words[place][0] for place in rider[task.id].values()]
        assert states.count("correct") == 1
        for labels, place in rider[task.id].items():
            if isinstance(task.kind, Ordering) and not labels:
                continue
            text = ", ".join(labels.split()) or "none"
            found = mark_sheet(family.tasks, family.misconceptions, case, {task.id: text})[task.id]
            assert tables.words[place] == (found.state, found.feedback, found.page)


def task_of(kind):
    return Task("one", "?", kind, 1, "x", "start", lambda case, earlier: 10.0)


def test_overlapping_slips_by_hand():
    """Right 10 ± 1; slips at 13 ± 1.3 and 14 ± 1.4 overlap, and are as near at (13·1.4 + 14·1.3)/2.7 = 13.4815."""
    kind = Quantity("mm", (0, 100), Tolerance(relative=0.1))
    places = cuts(kind, [10.0, 13.0, 14.0])
    for place in (9, 11, 11.7, 14.3, 12.6, 15.4, 36.4 / 2.7):
        assert min(abs(cut - place) for cut in places) < 1e-6
    slips = [
        Misconception(name, "one", name, lambda case, earlier, to=to: to, f"{name} feedback", "start")
        for name, to in (("first", 13.0), ("second", 14.0))
    ]

    class Family:
        name, tasks, misconceptions = "f", (task_of(kind),), tuple(slips)

        @staticmethod
        def task(_):
            return Family.tasks[0]

    tables = MarkTables(Family)
    table = tables.rider(None)["one"]
    for value, words in (
        (10.9, "Right."),
        (13.47, "first feedback"),
        (13.49, "second feedback"),
        (15.3, "second feedback"),
    ):
        assert tables.words[looked_up(table, value, False)][1] == words
    assert tables.words[looked_up(table, 11.5, False)][0] == "out of tolerance"
    assert "cannot occur" in tables.words[looked_up(table, 120.0, False)][1]
    assert tables.words[looked_up(table, 10.0, True)][0] == "recognised misconception"
    assert table[-1][0] is None
    assert all(math.isfinite(piece[0]) for piece in table[:-1])


@pytest.mark.parametrize(
    ("wanted", "written", "factor"),
    # By definition of the units: newton, millimetre, inch of 25.4 mm, full turn of 360°, kilogram-force of 9.80665 N.
    [
        ("N m", "N mm", 0.001),
        ("N m", "kN·m", 1000.0),
        ("mm", "in", 25.4),
        ("deg", "turn", 360.0),
        ("N", "kgf", 9.80665),
        ("cm^2", "mm²", 0.01),
        ("%", "percent", 1.0),
        ("mm/kN", "mm/N", 1000.0),
    ],
)
def test_units_are_those_of_the_registry(wanted, written, factor):
    assert unit_factors(wanted)[plain_unit(written)] == pytest.approx(factor)


def test_a_unit_of_another_kind_is_not_among_them():
    for family in FAMILIES.values():
        for task in family.tasks:
            if isinstance(task.kind, Quantity | DirectedChange):
                factors = unit_factors(task.kind.unit)
                assert not {"n", "w"} <= set(factors)
                if task.kind.unit:
                    assert factors[plain_unit(task.kind.unit)] == 1.0
                for written, factor in factors.items():
                    assert convert(1.0, read_unit(written), read_unit(task.kind.unit)) == pytest.approx(factor)
