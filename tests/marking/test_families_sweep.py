"""Every case family over many seeds: full marks for the right sheet, none for an empty one, each slip told apart."""

import io
import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from autograde.cases import (
    DirectedChange,
    FigurePart,
    Quantity,
    TaskPart,
    TextPart,
    discover_families,
    render_brief,
    trainee_variant,
)
from autograde.cases.variants import seed_of
from autograde.marking import State, mark_sheet
from autograde.marking.answers import how_to_write
from autograde.marking.solving import SolveError, key_values, predict, solve_task

FAMILIES = discover_families()
SECRET = bytes(range(32))
BOOK = Path(__file__).parents[2] / "book"


@pytest.fixture(params=FAMILIES.values(), ids=FAMILIES.keys())
def family(request):
    return request.param


@pytest.fixture
def variants(family, sweep):
    return drawn(family.name, sweep)


@cache
def drawn(name, sweep):
    return [trainee_variant(FAMILIES[name], SECRET, f"trainee-{number}") for number in range(sweep)]


def mark(variant, sheet, tasks=None):
    tasks = variant.family.tasks if tasks is None else tasks
    return mark_sheet(tasks, variant.family.misconceptions, variant.case, sheet)


def with_ancestors(family, task_id):
    """A task and the tasks it builds on, in order."""
    wanted = {task_id}
    for task in reversed(family.tasks):
        if task.id in wanted:
            wanted |= set(task.uses)
    return [task for task in family.tasks if task.id in wanted]


def slips_of(variant):
    key = key_values(variant.family.tasks, variant.case)
    for slip in variant.family.misconceptions:
        task = variant.family.task(slip.task)
        value = predict(slip, task, variant.case, key)
        if value is not None:
            yield slip, task, value


def test_right_sheets_earn_full_marks(variants, right):
    for variant in variants:
        result = mark(variant, right(variant))
        for each in result.results:
            assert each.by_hand or (each.state, each.marks) == (State.CORRECT, each.max_marks), each


def test_values_rounded_to_three_figures_earn_full_marks(variants, right):
    for variant in variants:
        key = key_values(variant.family.tasks, variant.case)
        sheet = right(variant)
        for task in variant.family.tasks:
            if isinstance(task.kind, Quantity):
                sheet[task.id] = f"{float(f'{key[task.id]:.3g}'):g} {task.kind.unit}"
        assert {each.state for each in mark(variant, sheet).results if not each.by_hand} == {State.CORRECT}


def test_empty_sheets_earn_nothing_and_wait_for_a_person(variants):
    for variant in variants:
        result = mark(variant, {})
        assert result.marks == 0.0
        assert all(each.state is State.NOT_GRADABLE and each.marks is None and each.reason for each in result.results)


def test_each_slip_is_recognised_as_itself_and_nothing_else(variants, right, write):
    for variant in variants:
        sheet = right(variant)
        for slip, task, value in slips_of(variant):
            tasks = with_ancestors(variant.family, task.id)
            result = mark(variant, {**sheet, task.id: write(task, value)}, tasks)[task.id]
            assert (result.state, result.misconception) == (State.MISCONCEPTION, slip.id), (variant.fingerprint, result)
            assert result.marks == round(slip.credit * task.marks, 2)
            assert (result.feedback, result.page) == (slip.feedback, slip.page)


def test_later_tasks_follow_from_each_slip(variants, right, write):
    """An early slip and right reckoning from there: nothing is lost after the slip."""
    for variant in variants:
        for slip, task, value in slips_of(variant):
            sheet, own = right(variant), {**key_values(variant.family.tasks, variant.case), task.id: value}
            sheet[task.id] = write(task, value)
            for later in variant.family.tasks:
                if later.by_hand or later.id == task.id or task.id not in chain(variant.family, later):
                    continue
                try:
                    own[later.id] = solve_task(later, variant.case, own)
                except SolveError:
                    continue
                sheet[later.id] = write(later, own[later.id])
            result = mark(variant, sheet)
            for each in result.results:
                if not each.by_hand and each.task != task.id:
                    assert each.state in {State.CORRECT, State.IN_CONSEQUENCE}, (slip.id, each)
                    assert each.marks == each.max_marks


def chain(family, task):
    return {each.id for each in with_ancestors(family, task.id)}


def test_no_feedback_holds_the_key(variants, right, write):
    for variant in variants:
        sheet, family = right(variant), variant.family
        keys = spellings_of_keys(variant)
        sheets = [{}, dict.fromkeys(sheet, "12345.6 furlongs"), dict.fromkeys(sheet, "7.77777777")]
        sheets += [{**sheet, task.id: write(task, value)} for _, task, value in slips_of(variant)]
        for each_sheet in sheets:
            for each in mark(variant, each_sheet).results:
                said = each.feedback.replace(how_to_write(family.task(each.task).kind), "")
                assert not keys & numbers_in(said), (each.task, said)


def test_brief_holds_neither_key_nor_seed(variants, family):
    no_pictures = dict.fromkeys(family.figures(variants[0].case), b"")
    plain = replace(family, figures=lambda case: no_pictures)
    texts = [brief_text(plain, variant.case) for variant in variants]
    in_every_brief = set.intersection(*map(numbers_in, texts))
    for number, (variant, text) in enumerate(zip(variants, texts, strict=True)):
        shown = str(variant.case)
        given = in_every_brief | numbers_in(shown) | numbers_in(shown.replace(".0,", ",").replace(".0)", ")"))
        assert not (spellings_of_keys(variant) - given) & numbers_in(text), variant.fingerprint
        seed = seed_of(SECRET, f"trainee-{number}", family.name)
        for secret in (SECRET.hex(), seed.hex(), str(int.from_bytes(seed, "big")), variant.fingerprint):
            assert secret not in text


def brief_text(family, case):
    parts = render_brief(family, case)
    return "\n".join(part.markdown if isinstance(part, TextPart | TaskPart) else part.alt for part in parts)


def numbers_in(text):
    return {found.rstrip(".,").replace(",", ".").replace("−", "-") for found in re.findall(r"[-−]?\d[\d.,]*", text)}


def spellings_of_keys(variant):
    """All usual ways of writing the right numbers, with at least three figures."""
    spellings = set()
    for value in key_values(variant.family.tasks, variant.case).values():
        if isinstance(value, float):
            shown = {
                format(number, form)
                for number in (value, abs(value))
                for form in ([".1f", ".2f", ".3f", ".3g", ".4g", ".5g"])
            }
            spellings |= {each for each in shown if "e" not in each and len(re.sub(r"^0\.0*|\D", "", each)) >= 3}
    return spellings


def test_figures_are_small_pictures_with_a_text_that_stands_for_them(family):
    for number in range(2):
        variant = trainee_variant(family, SECRET, f"trainee-{number}")
        figures = [part for part in render_brief(family, variant.case) if isinstance(part, FigurePart)]
        for part in figures:
            picture = Image.open(io.BytesIO(part.png))
            assert picture.format == "PNG"
            assert 300 <= picture.width <= 1000
            assert len(part.png) < 40_000
            assert len(part.alt) > 60
            assert len(np.unique(np.asarray(picture.convert("L")))) > 5, "a drawing, not an empty sheet"
        assert figures == [part for part in render_brief(family, variant.case) if isinstance(part, FigurePart)]


def test_worked_solutions_end_in_the_right_values(family, sweep):
    if family.worked is None:
        pytest.skip("no worked solution")
    for number in range(min(sweep, 50)):
        variant = trainee_variant(family, SECRET, f"trainee-{number}")
        solutions = family.worked(variant.case)
        assert set(solutions) == {task.id for task in family.tasks}
        for task in family.tasks:
            key = key_values(family.tasks, variant.case).get(task.id)
            if isinstance(key, float):
                bold = re.findall(r"\*\*(−?\d[\d.]*) ", solutions[task.id])
                key = abs(key) if isinstance(task.kind, DirectedChange) else key
                assert float(bold[-1].replace("−", "-")) == pytest.approx(key, rel=0.02, abs=0.06), task.id


def test_pages_to_revisit_exist(family):
    for page in {family.module_page, *(t.page for t in family.tasks), *(m.page for m in family.misconceptions)}:
        assert (BOOK / f"{page}.md").is_file(), page


def test_each_task_marked_by_the_program_knows_a_slip(family):
    known = {item.task for item in family.misconceptions}
    assert {task.id for task in family.tasks if not task.by_hand} <= known
    assert len({item.id for item in family.misconceptions}) >= 6
