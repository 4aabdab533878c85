"""Check a family by drawing from it: whether it can be handed out and marked, and how hard it is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from autograde.cases.authors import problems_of_functions
from autograde.cases.brief import FigurePart, render_brief
from autograde.cases.calling import case_file, worked_of
from autograde.cases.contract import Family, FamilyError
from autograde.cases.discover import exercises_folder
from autograde.cases.variants import Variant, VariantError, trainee_variant
from autograde.cases.writing import as_typed
from autograde.marking import DirectedChange, Quantity, State, Task, mark_sheet
from autograde.marking.compare import apart
from autograde.marking.reading import show_number
from autograde.marking.solving import SolveError, key_values, predict
from autograde.marking.tasks import Value

TRIAL_SECRET = b"variants drawn to check a family are handed out to nobody"
SHOWN = 5
"""Variants whose whole brief is made: its pictures take most of the time."""
PNG = b"\x89PNG\r\n\x1a\n"
FEWEST_TASKS, MOST_TASKS, FEWEST_SLIPS, MANY_TRIES = 4, 10, 4, 20

SOLVABLE = "a solvable, clear variant is found"
SAME = "the same seed draws the same variant"
FULL = "the right sheet earns full marks"
ROUNDED = "right values to three figures earn full marks"
EMPTY = "an empty sheet earns nothing and waits for a person"
APART = "each slip is recognised as itself"
BRIEF = "brief, pictures and worked solutions can be made"
Found = tuple[str, str]


@dataclass(frozen=True)
class Difficulty:
    """How the right answers of one task spread, and how near the nearest slip lies; in print.

    Parameters
    ----------
    task, unit : str
        Its id and its unit.
    spread : tuple of str
        5th percentile, median and 95th percentile; empty for wordings.
    most : str
        The most frequent wording and how often it is right; empty for numbers.
    least, middle : str
        Smallest and median distance to the nearest slip, both bands together being 1; empty for wordings.
    nearest : str
        The slip that is nearest most often.
    """

    task: str
    unit: str
    spread: tuple[str, ...]
    most: str
    least: str
    middle: str
    nearest: str


@dataclass(frozen=True)
class Checked:
    """What checking a family found.

    Parameters
    ----------
    seeds, different : int
        Variants asked for, and different ones among them.
    counts : dict
        By what was checked: in how many variants it did not hold.
    errors, advice : tuple of str
        What has to be mended, with file and mending; what an author may want to think about.
    difficulty : tuple of Difficulty
        One a task marked by the program.
    tries : float
        Draws a variant, mean.
    most_tries : int
        Draws a variant, most.
    most_rejected : str
        The most frequent reason for throwing a draw away; empty if none was.
    """

    seeds: int
    different: int
    counts: dict[str, int]
    errors: tuple[str, ...]
    advice: tuple[str, ...]
    difficulty: tuple[Difficulty, ...] = ()
    tries: float = 0.0
    most_tries: int = 0
    most_rejected: str = ""


def check_variants(family: Family, seeds: int = 60) -> Checked:
    """Draw variants of a family and check each.

    Parameters
    ----------
    family : Family
        It keeps the contract already, as it was loaded.
    seeds : int
        How many variants, at least 1.

    Returns
    -------
    Checked
        Never raises for what an author wrote.
    """
    counts: Counter[str] = Counter(dict.fromkeys((SOLVABLE, SAME, FULL, ROUNDED, EMPTY, APART, BRIEF), 0))
    first: dict[str, str] = {}
    variants: list[Variant] = []
    for number in range(seeds):
        found: list[Found] = []
        try:
            variants.append(trainee_variant(family, TRIAL_SECRET, f"trial-{number}"))
        except VariantError as problem:
            found = [(SOLVABLE, str(problem))]
        else:
            found = [*_marking_problems(variants[-1])]
            if number < SHOWN:
                found += _showing_problems(family, variants[-1], number)
        counts.update({what for what, _ in found})
        for what, words in found:
            first.setdefault(what, words)
        if found and not variants:
            break  # one search for a variant that finds none tries hundreds of draws
    errors = [*first.values(), *(problems_of_functions(family) if SOLVABLE in first else ())]
    reasons = sum((Counter(variant.rejected) for variant in variants), Counter[str]())
    done = Checked(seeds, 0, dict(counts), tuple(errors), tuple(_advice(family, variants)))
    if not variants:
        return done
    keys = [_right_values(variant) for variant in variants]
    return replace(
        done,
        different=len({variant.fingerprint for variant in variants}),
        difficulty=tuple(_difficulty(family, task, variants, keys) for task in family.tasks if not task.by_hand),
        tries=float(np.mean([variant.tries for variant in variants])),
        most_tries=max(variant.tries for variant in variants),
        most_rejected=reasons.most_common(1)[0][0] if reasons else "",
    )


def _right_values(variant: Variant) -> dict[str, Value]:
    """Right values of a variant; one that was kept has them all."""
    key = key_values(variant.family.tasks, variant.case)
    return {task: value for task, value in key.items() if not isinstance(value, SolveError)}


def _marking_problems(variant: Variant) -> Iterator[Found]:
    family, file = variant.family, case_file(variant.family)
    key = _right_values(variant)
    right = {task.id: as_typed(task, key[task.id]) for task in family.tasks if not task.by_hand}
    sheets = [(FULL, task_id, right) for task_id in right]
    sheets += [(ROUNDED, name, {**right, name: as_typed(family.task(name), key[name], 3)}) for name in right]
    for what, task_id, sheet in sheets:
        result = mark_sheet(family.tasks, family.misconceptions, variant.case, sheet)[task_id]
        if result.state is not State.CORRECT or result.marks != result.max_marks:
            yield (
                what,
                f"{file}: task {task_id!r}: the right answer, typed as {sheet[task_id]!r}, is {result.state} "
                f"({result.reason}); look at its kind, its unit and its tolerance",
            )
    empty = mark_sheet(family.tasks, family.misconceptions, variant.case, {})
    if empty.marks or any(each.marks is not None for each in empty.results):
        yield EMPTY, f"{file}: an empty sheet earns {empty.marks:g} marks; that must not be"
    for slip in family.misconceptions:
        task = family.task(slip.task)
        value = predict(slip, task, variant.case, key)
        if value is None:
            continue
        sheet = {**right, task.id: as_typed(task, value)}
        result = mark_sheet(family.tasks, family.misconceptions, variant.case, sheet)[task.id]
        if (result.state, result.misconception) != (State.MISCONCEPTION, slip.id):
            yield (
                APART,
                f"{file}: task {task.id!r}: the slip {slip.id!r}, typed as {sheet[task.id]!r}, is taken for "
                f"{result.misconception or result.state}; let `predict` give what someone with this slip would type",
            )


def _showing_problems(family: Family, variant: Variant, number: int) -> Iterator[Found]:
    again = trainee_variant(family, TRIAL_SECRET, f"trial-{number}")
    if again.fingerprint != variant.fingerprint:
        yield (
            SAME,
            f"{case_file(family)}: `draw` gives other numbers for the same seed; draw from the generator it is "
            "handed, and from nothing else",
        )
    try:
        for part in render_brief(family, variant.case):
            if isinstance(part, FigurePart) and not part.png.startswith(PNG):
                raise FamilyError(
                    f"{case_file(family)}: the figure {part.name!r} is no PNG picture; see drawing.to_png"
                )
        worked = worked_of(family, variant.case)
        missing = [task.id for task in family.tasks if family.worked is not None and task.id not in worked]
        if missing:
            raise FamilyError(f"{case_file(family)}: `worked` has no solution for {', '.join(missing)}; write it")
    except FamilyError as problem:
        yield BRIEF, str(problem)


def _advice(family: Family, variants: Sequence[Variant]) -> Iterator[str]:
    by_program = [task for task in family.tasks if not task.by_hand]
    if not FEWEST_TASKS <= len(family.tasks) <= MOST_TASKS:
        yield f"it has {len(family.tasks)} tasks; {FEWEST_TASKS} to {MOST_TASKS} fit a case"
    if len({slip.id for slip in family.misconceptions}) < FEWEST_SLIPS:
        yield f"it knows {len(family.misconceptions)} slips; think of {FEWEST_SLIPS} that trainees really make"
    known = {slip.task for slip in family.misconceptions}
    without = [task.id for task in by_program if task.id not in known]
    if without:
        yield f"no slip is known for {', '.join(without)}; every wrong answer there is just out of tolerance"
    if len(by_program) == len(family.tasks):
        yield "no task asks for a judgement in words; add one with Words(...)"
    if not any(task.safety for task in family.tasks):
        yield "no task is marked safety=True; add one if a rider could be hurt by a wrong answer"
    if family.worked is None:
        yield "there is no worked solution, so it serves for certification only; add `worked` for practice"
    bare = [
        task.id
        for task in by_program
        if isinstance(task.kind, Quantity | DirectedChange) and not task.kind.tolerance.because
    ]
    if bare:
        yield f"say where the tolerance comes from (because=…) for {', '.join(bare)}"
    if variants and np.mean([variant.tries for variant in variants]) > MANY_TRIES:
        yield "most draws are thrown away; widen what `draw` draws"
    yield from _pages(family)


def _pages(family: Family) -> Iterator[str]:
    """Pages that are not in the book, where the book's sources lie beside the cases."""
    book = exercises_folder().parent / "book"
    if book.is_dir():
        named = {
            family.module_page,
            *(task.page for task in family.tasks),
            *(slip.page for slip in family.misconceptions),
        }
        for page in sorted(page for page in named if not (book / f"{page}.md").is_file()):
            yield f"{page!r} is no page of the book"


def _difficulty(
    family: Family, task: Task, variants: Sequence[Variant], keys: Sequence[dict[str, Value]]
) -> Difficulty:
    values = [key[task.id] for key in keys]
    gaps, nearest = _gaps(family, task, variants, keys)
    least = middle = ""
    if gaps and np.all(np.isfinite(gaps)):
        least, middle = f"{min(gaps):.1f}", f"{float(np.median(gaps)):.1f}"
    if isinstance(task.kind, Quantity | DirectedChange):
        numbers = [value for value in values if isinstance(value, float)]
        spread = tuple(show_number(float(each)) for each in np.percentile(numbers, (5, 50, 95)))
        return Difficulty(task.id, task.kind.unit, spread, "", least, middle, nearest)
    value, count = Counter(values).most_common(1)[0]
    words = as_typed(task, value)
    return Difficulty(task.id, "", (), f"{words}: {100 * count / len(values):.0f} %", least, middle, nearest)


def _gaps(
    family: Family, task: Task, variants: Sequence[Variant], keys: Sequence[dict[str, Value]]
) -> tuple[list[float], str]:
    """Distance to the nearest slip in each variant, and the slip that is nearest most often."""
    gaps: list[float] = []
    names: Counter[str] = Counter()
    slips = [slip for slip in family.misconceptions if slip.task == task.id]
    for variant, key in zip(variants, keys, strict=True):
        led = {slip.id: predict(slip, task, variant.case, key) for slip in slips}
        away = {name: apart(task.kind, value, key[task.id]) for name, value in led.items() if value is not None}
        if away:
            name = min(away, key=lambda each: away[each])
            names[name] += 1
            gaps.append(away[name])
    return gaps, names.most_common(1)[0][0] if names else ""
