"""What checking a family finds: each fault an author may make, told with the file and the mending."""

import re
from dataclasses import replace

import pytest

from autograde.cases import Quantity, Tolerance, discover_families, load_family
from autograde.cases.checking import APART, BRIEF, EMPTY, FULL, ROUNDED, SAME, SOLVABLE, check_variants
from autograde.cases.writing import as_typed
from autograde.marking import Choice, ChoiceSet, DirectedChange, Option, Ordering, Task
from pedalwright_app.case_template import write_case

PNG = b"\x89PNG\r\n\x1a\nsmall"


@pytest.fixture
def new_case(tmp_path):
    write_case("pedal-way", tmp_path)
    return tmp_path


def changed(folder, *changes, file="case.py"):
    """The new case after some changes to one of its files."""
    path = folder / "pedal-way" / file
    text = path.read_text()
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    path.write_text(text)
    return quick(load_family("pedal-way", [folder]))


def quick(family):
    """Without drawing, which takes most of the time."""
    return family if family.worked is None else replace(family, figures=lambda case: {"circle": PNG})


def test_the_new_case_has_nothing_to_mend(new_case):
    found = check_variants(load_family("pedal-way", [new_case]), 40)
    assert found.errors == ()
    assert set(found.counts.values()) == {0}
    assert found.different == 40
    assert [row.task for row in found.difficulty] == ["way", "speed", "cadence", "push"]
    assert found.advice == ("no task is marked safety=True; add one if a rider could be hurt by a wrong answer",)


def test_the_difficulty_is_that_of_the_numbers_drawn(new_case):
    """Every crank of 155 to 175 mm: 2 π × 0.155 = 0.9739 m and 2 π × 0.175 = 1.0996 m, by hand."""
    way = check_variants(quick(load_family("pedal-way", [new_case])), 200).difficulty[0]
    low, middle, high = map(float, way.spread)
    assert 0.9738 <= low <= middle <= high <= 1.1001, "four figures are shown"
    assert way.unit == "m"
    # by hand: 4 L against 2 π L, 2.283 L apart, in bands of 0.02 m together: 17.7 at the least
    assert float(way.least) == pytest.approx(2.283 * 0.155 / 0.02, rel=0.01)
    assert way.nearest == "up-and-down"


@pytest.mark.parametrize(
    ("changes", "what", "says"),
    [
        (
            [("rng.integers(70, 101)", "np.random.default_rng().integers(70, 101)")],
            SAME,
            r"`draw` gives other numbers for the same seed; draw from the generator",
        ),
        (
            [('"speed": f"', '"speed_": f"')],
            BRIEF,
            r"`worked` has a solution for 'speed_', which is no task",
        ),
        ([("way = way_m(case)\n    more", "way = case.wya\n    more")], BRIEF, r"line \d+: `worked` failed .*wya"),
        ([('"other_crank": f', '"crank_2": f')], BRIEF, r"brief\.md, line \d+: .*'other_crank' is undefined"),
        (
            [('Tolerance(1, because="the cadence', 'Tolerance(0.001, because="the cadence')],
            ROUNDED,
            r"task 'cadence': the right answer, typed as '[\d.]+ rpm', is out of tolerance",
        ),
    ],
)
def test_a_fault_is_told_with_the_file(new_case, changes, what, says):
    found = check_variants(changed(new_case, *changes), 20)
    assert found.counts[what] > 0
    error = next(each for each in found.errors if re.search(says, each))
    assert str(new_case / "pedal-way") in error
    for other in {SOLVABLE, SAME, FULL, ROUNDED, EMPTY, APART, BRIEF} - {what}:
        assert found.counts[other] == 0


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        (
            [('speed_m_s(earlier["way"], case)', 'speed_m_s(earlier["wya"], case)')],
            r"line \d+: solve in task 'speed' fai",
        ),
        (
            [('        uses=("way",),\n', "")],
            r"line \d+: solve in task 'speed' reads 'way', which the task's `uses` does not list; add it there",
        ),
        (
            [("lambda case, _: push(case)", 'lambda case, _: "up"')],
            r"solve in task 'push' gives 'up'; return one of mor",
        ),
        (
            [("lambda case, _: way_m(case),", "lambda case, _: None,")],
            r"solve in task 'way' gives None; return a finite",
        ),
        (
            [("lambda case, _: way_m(case) / 2", "lambda case, _: case.wya")],
            r"line \d+: predict of the slip 'radius-for",
        ),
        (
            [("lambda case, _: way_m(case) / 2", "lambda case, _: way_m(case)")],
            r"none of \d+ draws can be used: .*too close",
        ),
        (
            [("    return []\n", '    return ["it is never clear"]\n')],
            r"none of \d+ draws can be used: it is never clear",
        ),
        ([("(0.1, 5)", "(1.2, 5)")], r"the right value of 'way' is outside its plausible range"),
    ],
)
def test_why_no_variant_can_be_found_is_told(new_case, changes, says):
    found = check_variants(changed(new_case, *changes), 20)
    assert found.counts[SOLVABLE] == 1
    assert any(re.search(says, each) for each in found.errors), found.errors
    assert all(str(new_case / "pedal-way") in each for each in found.errors)


def test_a_picture_that_is_none_is_told(new_case):
    family = replace(load_family("pedal-way", [new_case]), figures=lambda case: {"circle": b"GIF89a"})
    (error,) = check_variants(family, 3).errors
    assert "the figure 'circle' is no PNG picture" in error


def test_a_slip_that_is_read_as_another_is_told(new_case):
    """Two slips that lead to one value are fine with one feedback; told apart they can never be."""
    family = quick(load_family("pedal-way", [new_case]))
    twin = replace(family.misconceptions[0], id="twin")
    found = check_variants(replace(family, misconceptions=(*family.misconceptions, twin)), 5)
    assert found.counts[APART] == 5
    assert any(
        "the slip 'twin', typed as " in each and "is taken for radius-for-diameter" in each for each in found.errors
    )


def test_an_author_is_advised(new_case):
    family = quick(load_family("pedal-way", [new_case]))
    bare = replace(
        family,
        tasks=(replace(family.tasks[0], kind=Quantity("m", (0.1, 5), Tolerance(0.01)), page="no-such-page"),),
        misconceptions=(),
        worked=None,
    )
    (bare.folder / "brief.md").write_text('# x\n\n+++ {"task": "way"}\n')
    advice = "; ".join(check_variants(bare, 2).advice)
    for word in ("1 tasks; 4 to 10", "0 slips", "no slip is known for way", "judgement", "certification only"):
        assert word in advice
    assert "because=…) for way" in advice
    assert "'no-such-page' is no page of the book" in advice


def test_the_families_that_come_with_the_program_have_nothing_to_mend():
    for name, family in discover_families().items():
        found = check_variants(replace(family, figures=PlainFigures(family)), 4)
        assert found.errors == (), name
        assert family.worked is not None, "every case serves for practice and for certification"


class PlainFigures:
    """The names of a family's figures with one small picture, as drawing takes most of the time."""

    def __init__(self, family):
        self.family, self.names = family, None

    def __call__(self, case):
        if self.names is None:
            self.names = list(self.family.figures(case))
        return dict.fromkeys(self.names, PNG)


OPTIONS = (Option("one", "One"), Option("two", "Two"), Option("three", "Three"))


@pytest.mark.parametrize(
    ("kind", "value", "text"),
    [
        (Quantity("N m", (-9, 9), Tolerance(1)), -4.5678, "-4.5678 N m"),
        (Quantity("", (-9, 9), Tolerance(1)), 0.25, "0.25"),
        (DirectedChange("mm", (-9, 9), Tolerance(1)), -4.0, "lower 4 mm"),
        (DirectedChange("mm", (-9, 9), Tolerance(1)), 4.0, "raise 4 mm"),
        (Choice(OPTIONS), "two", "B"),
        (ChoiceSet(OPTIONS), frozenset({"three", "one"}), "A, C"),
        (ChoiceSet(OPTIONS), frozenset(), "none"),
        (Ordering(OPTIONS), ("three", "one", "two"), "C, A, B"),
    ],
)
def test_values_are_typed_as_a_careful_trainee_would(kind, value, text):
    assert as_typed(Task("x", "?", kind, 1, "c", "p", lambda case, _: value), value) == text


def test_a_value_of_another_kind_is_refused():
    task = Task("x", "?", Choice(OPTIONS), 1, "c", "p", lambda case, _: "one")
    with pytest.raises(ValueError, match="no value of the task 'x'"):
        as_typed(task, 3.0)
