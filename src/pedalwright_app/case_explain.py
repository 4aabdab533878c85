"""How the marks of one trainee's sheet came about, for the instructor; the reasons are the marker's own."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from autograde.cases import trainee_variant
from autograde.cohort.errors import CohortError
from autograde.cohort.families import load_case, stamp
from autograde.cohort.files import read_bounded
from autograde.cohort.folder import Cohort
from autograde.cohort.marking import MarkingJob, mark_content, marked, to_mark
from autograde.cohort.standing import Outcome, standing
from autograde.cohort.text import plain
from autograde.marking import Choice, ChoiceSet, DirectedChange, Ordering, Quantity, Trace, mark_sheet, policy
from autograde.marking.answers import Written
from autograde.marking.reading import show_number
from autograde.marking.tasks import Kind, Value
from autograde.marking.trace import Against, Comparison, TaskTrace

__all__ = ["SEALED", "Explained", "explain_sheet", "rows_of", "shown", "steps_of"]

SEALED = "Shows right answers: for the instructor, not for trainees."


@dataclass(frozen=True)
class Explained:
    """A sheet with the reasons for its marks, as plain data.

    Parameters
    ----------
    head : dict
        Trainee, case, attempt, what was handed in, marks, and whether the record says the same.
    tasks : list of dict
        One a task, in order.
    """

    head: dict[str, Any]
    tasks: list[dict[str, Any]]

    def as_json(self) -> dict[str, Any]:
        """All of it, with the warning first."""
        return {"note": SEALED, **self.head, "tasks": self.tasks}


def explain_sheet(cohort: Cohort, trainee: str, case: str) -> Explained:
    """Mark one sheet again, as `cohort mark` does, and keep the reasons.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    trainee, case : str
        Whose sheet of which case.

    Returns
    -------
    Explained
        Nothing is written anywhere.

    Raises
    ------
    CohortError
        If the trainee or the case is not the cohort's, or nothing was collected.
    """
    job = _job(cohort, trainee, case)
    family = load_case(case, job.folders)
    sheet, result = mark_content(family, job, read_bounded(job.path, job.limit_bytes))
    trace = Trace()
    if not sheet.trouble:
        drawn = trainee_variant(family, job.secret, job.trainee, job.attempt).case
        typed = {task.id: sheet.answers.get(task.id) for task in family.tasks}
        mark_sheet(family.tasks, family.misconceptions, drawn, typed, trace)
    told = {each.task.id: each for each in trace.tasks}
    stand = {one.task.id: one for one in standing(cohort).sheets[trainee, case].outcomes}
    tasks = []
    for number, (task, item) in enumerate(zip(family.tasks, result.results, strict=True), start=1):
        entry: dict[str, Any] = {"number": number, "task": task.id, "title": task.title, "by_hand": task.by_hand}
        traced = told.get(task.id)
        # An answer cell that is damaged is never marked: its reason stands in the sheet, not in the marker's trace.
        entry |= _why(traced) if traced is not None and traced.result == item else {"typed": None}
        entry |= {
            "state": str(item.state),
            "marks": item.marks,
            "max_marks": item.max_marks,
            "reason": item.reason,
            "misconception": item.misconception,
            "feedback": item.feedback,
            "page": item.page,
            "stands": _stands(stand.get(task.id)),
        }
        tasks.append(entry)
    head = {
        "trainee": trainee,
        "name": cohort.trainee(trainee).name,
        "case": case,
        "title": family.title,
        "attempt": job.attempt,
        "arrived": job.arrived,
        "sha256": job.sha256,
        "trouble": sheet.trouble,
        "notices": list(sheet.notices),
        "marks": result.marks,
        "max_marks": result.max_marks,
        "record": _against_the_record(cohort, job, tasks),
    }
    return Explained(head, tasks)


def _job(cohort: Cohort, trainee: str, case: str) -> MarkingJob:
    if trainee not in {one.id for one in cohort.trainees}:
        raise CohortError(f"there is no trainee {plain(trainee, 60)!r} in this cohort; give an id of its roster.csv")
    if case not in cohort.settings.cases:
        raise CohortError(
            f"{plain(case, 60)!r} is no case of this cohort; its cases: {', '.join(cohort.settings.cases)}"
        )
    for job in to_mark(cohort, again=True):
        if (job.trainee, job.case) == (trainee, case):
            return job
    raise CohortError(f"nothing was collected from {trainee} for {case}; collect first, or choose another sheet")


def _why(traced: TaskTrace) -> dict[str, Any]:
    task, kind = traced.task, traced.task.kind
    written = traced.reading.written
    earning = traced.earning
    return {
        "typed": None if traced.typed is None else plain(traced.typed, 2_000),
        "read_as": plain(traced.reading.read_as, 200),
        "value": _data(traced.reading.value) if not task.by_hand else None,
        "unit": kind.unit if isinstance(kind, Quantity | DirectedChange) else None,
        "written": None if written is None else _written(written),
        "builds_on": [
            {"task": used.task, "value": _data(used.value), "origin": str(used.origin), "right": used.right}
            for used in traced.used
        ],
        "follows": _data(traced.follows) if traced.used else None,
        "right": _data(traced.right),
        "tolerance": _tolerance(kind, traced.right),
        "compared": [_compared(each) for each in traced.compared],
        "rule": None
        if earning is None
        else policy.in_words(earning.state, credit=earning.credit, unit_missing=earning.unit_missing),
        "shown": {
            "value": shown(kind, traced.reading.value),
            "follows": shown(kind, traced.follows) if traced.used else "",
            "right": shown(kind, traced.right),
            "compared": [shown(kind, each.value) for each in traced.compared],
        },
    }


def _written(written: Written) -> dict[str, Any]:
    return {"number": plain(written.number, 200), "comes_to": written.result, "unit": plain(written.unit, 60)}


def _tolerance(kind: Kind, right: Value | None) -> dict[str, Any] | None:
    if not isinstance(kind, Quantity | DirectedChange) or not isinstance(right, float):
        return None
    band = kind.tolerance
    return {
        "half_width": band.half_width(right),
        "absolute": band.absolute,
        "relative": band.relative,
        "because": band.because,
    }


def _compared(each: Comparison) -> dict[str, Any]:
    return {
        "against": str(each.against),
        "slip": each.slip.id if each.slip else None,
        "label": each.slip.label if each.slip else None,
        "value": _data(each.value),
        "bands": each.bands if each.bands is not None and math.isfinite(each.bands) else None,
        "fits": each.fits,
        "problem": each.problem,
    }


def _stands(outcome: Outcome | None) -> dict[str, Any] | None:
    if outcome is None:
        return None
    return {"state": outcome.state, "marks": outcome.marks, "comment": plain(outcome.comment)}


def _against_the_record(cohort: Cohort, job: MarkingJob, tasks: list[dict[str, Any]]) -> str:
    record = marked(cohort).get((job.trainee, job.case))
    if record is None:
        return "not marked yet: run cohort mark"
    now = (job.sha256, job.arrived, stamp(job.case, job.folders))
    if now != (record["sha256"], record["arrived"], record["edition"]):
        return "marked from an older version of the sheet or of the case: run cohort mark"
    then = [(item["task"], item["state"], item["marks"]) for item in record["results"]]
    same = then == [(entry["task"], entry["state"], entry["marks"]) for entry in tasks]
    return "the same as on record" if same else "differs from the record: run cohort mark --again"


def _data(value: Value | None) -> Any:
    """Give a value as JSON can hold it."""
    if isinstance(value, frozenset):
        return sorted(value)
    return list(value) if isinstance(value, tuple) else value


def shown(kind: Kind, value: Value | None) -> str:
    """Write a value as a trainee would.

    Parameters
    ----------
    kind : Quantity, Choice, ChoiceSet, Ordering, DirectedChange or Words
        What was asked.
    value : float, str, frozenset, tuple or None
        A value of that kind.

    Returns
    -------
    str
        Number with unit, or letter and words; empty for None.

    Examples
    --------
    >>> from autograde.marking import DirectedChange, Tolerance
    >>> shown(DirectedChange("mm", (-50, 50), Tolerance(1)), -4.25)
    'lower 4.25 mm'
    """
    match kind, value:
        case Quantity(unit=unit), float():
            return f"{show_number(value)} {unit}".strip()
        case DirectedChange(), float():
            word = (kind.positive if value >= 0 else kind.negative)[0]
            return f"{word} {show_number(abs(value))} {kind.unit}"
        case Choice() | ChoiceSet() | Ordering(), str() | frozenset() | tuple():
            keys = [value] if isinstance(value, str) else list(value)
            labels = {option.key: label for label, option in kind.labelled()}
            if isinstance(kind, ChoiceSet):
                keys.sort(key=lambda key: [option.key for option in kind.options].index(key))
            return ", ".join(f"{labels[key]} ({key})" for key in keys) or "none"
    return ""


def rows_of(entry: dict[str, Any]) -> Iterator[tuple[str, str]]:
    """Name and words of what led to a mark, line by line, without the comparisons."""
    typed = entry["typed"]
    yield "typed", "nothing that could be taken" if typed is None else " / ".join(typed.splitlines()) or "nothing"
    if entry.get("read_as"):
        wording = isinstance(entry["value"], str | list)
        yield "read as", entry["shown"]["value"] if wording else entry["read_as"] + _as_written(entry)
    for used in entry.get("builds_on", ()):
        fits = "the right value" if used["right"] else "not the right value"
        number = show_number(used["value"]) if isinstance(used["value"], float) else used["value"]
        yield "builds on", f"{used['task']}: {number}; {used['origin']}; {fits}"
    if entry.get("builds_on"):
        yield "follows", entry["shown"]["follows"] or "nothing can be worked out from these"
    if entry.get("right") is not None:
        yield "right value", entry["shown"]["right"]
    if entry.get("tolerance"):
        yield "band", _band(entry["tolerance"], entry["unit"])


def _as_written(entry: dict[str, Any]) -> str:
    written = entry["written"]
    if written is None:
        return ""
    comes_to, unit = show_number(written["comes_to"]), written["unit"] or "no unit"
    try:
        plain_number = float(written["number"]) == written["comes_to"]
    except ValueError:
        plain_number = False
    return f" (from {comes_to}, {unit})" if plain_number else f" (from {written['number']} = {comes_to}, {unit})"


def _band(band: dict[str, Any], unit: str) -> str:
    rules = [f"{band['relative'] * 100:g} %"] if band["relative"] else []
    rules += [f"{band['absolute']:g} {unit}".strip()] if band["absolute"] else []
    rule = rules[0] if len(rules) == 1 else f"the wider of {rules[0]} and {rules[1]}"
    half_width = f"± {show_number(band['half_width'])} {unit}".strip()
    return f"{half_width} ({rule})" + (f", because {band['because']}" if band["because"] else "")


def steps_of(entry: dict[str, Any]) -> list[tuple[str, str, str, str]]:
    """List what the answer was compared with, in order: with what, value, distance in bands, whether it fits."""
    rows = []
    for each, value in zip(entry.get("compared", ()), entry.get("shown", {}).get("compared", ()), strict=True):
        if each["against"] == Against.OWN and not entry["builds_on"]:
            continue  # it builds on nothing, so this is the right value once more
        what = each["against"] + (f" {each['slip']}: {each['label']}" if each["slip"] else "")
        if each["problem"]:
            rows.append((what, "failed", "", each["problem"]))
        elif each["value"] is None:
            rows.append((what, "does not apply", "", "no"))
        else:
            away = "" if each["bands"] is None else f"{each['bands']:.2f}"
            rows.append((what, value, away, "fits" if each["fits"] else "no"))
    return rows
