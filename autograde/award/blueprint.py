"""The blueprint: what is assessed, with how many marks, and what nobody may fail."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from autograde.award import _entries as check
from autograde.award.errors import AwardError
from autograde.award.marks import Item

__all__ = ["Blueprint", "Case", "Competency", "Gate", "read_blueprint"]

TOP = {
    "title", "version", "description", "attempts", "appeal_days", "valid_years", "assessed", "not_assessed",
    "competencies", "cases", "gates",
}  # fmt: skip


@dataclass(frozen=True)
class Competency:
    """Something a fitter can do, and the least share of its marks that must be earned, in percent (0 to 100)."""

    id: str
    name: str
    minimum_pct: float


@dataclass(frozen=True)
class Case:
    """A case study and how many marks it gives to which competency."""

    id: str
    name: str
    marks: Mapping[str, float]


@dataclass(frozen=True)
class Gate:
    """A safety-critical task, and the least share of its marks that must be earned, in percent (0 to 100)."""

    case: str
    task: str
    minimum_pct: float
    why: str

    @property
    def key(self) -> str:
        """Case and task as one name."""
        return f"{self.case}/{self.task}"


@dataclass(frozen=True)
class Blueprint:
    """The written plan of an assessment.

    Parameters
    ----------
    title, version, description : str
        What is awarded; the version changes with every change of content.
    attempts : int
        How often a trainee may try, 1 to 99.
    appeal_days : int
        Days after a decision within which an appeal is taken, 0 to 3650.
    valid_years : int or None
        How long an award holds, 1 to 100; None for no end.
    assessed, not_assessed : tuple of str
        Plain words for the certificate.
    competencies, cases, gates : tuple
        See `Competency`, `Case`, `Gate`.
    """

    title: str
    version: str
    description: str
    attempts: int
    appeal_days: int
    valid_years: int | None
    assessed: tuple[str, ...]
    not_assessed: tuple[str, ...]
    competencies: tuple[Competency, ...]
    cases: tuple[Case, ...]
    gates: tuple[Gate, ...]

    @property
    def max_marks(self) -> float:
        """Full marks of the whole assessment."""
        return math.fsum(sum(case.marks.values()) for case in self.cases)

    def planned(self) -> dict[tuple[str, str], float]:
        """Sum up the marks by (case, competency)."""
        return {(case.id, name): marks for case in self.cases for name, marks in case.marks.items()}

    def check(self, items: Iterable[Item]) -> None:
        """Hold the tasks that were set to the plan.

        Parameters
        ----------
        items : iterable of Item
            All tasks.

        Raises
        ------
        AwardError
            With everything that differs: marks a case gives to a competency, tasks of unplanned cases, gates without
            a task, safety-critical tasks without a gate.
        """
        items = tuple(items)
        found: dict[tuple[str, str], float] = {}
        for item in items:
            found[item.case, item.competency] = found.get((item.case, item.competency), 0.0) + item.max_marks
        plan, keys, gated = self.planned(), {item.key for item in items}, {gate.key for gate in self.gates}
        problems = [
            f"{case} gives {found.get((case, name), 0):g} marks to {name}, planned are {plan.get((case, name), 0):g}"
            for case, name in sorted(plan.keys() | found.keys())
            if not math.isclose(found.get((case, name), 0), plan.get((case, name), 0), abs_tol=1e-9)
        ]
        problems += [f"the gate {gate.key} has no task" for gate in self.gates if gate.key not in keys]
        problems += [
            f"{item.key} is marked as safety-critical, and no gate names it"
            for item in items
            if item.safety and item.key not in gated
        ]
        if problems:
            raise AwardError("the tasks differ from the blueprint: " + "; ".join(problems) + ". Change one of the two")


def read_blueprint(text: str) -> Blueprint:
    """Read a blueprint from TOML text.

    Parameters
    ----------
    text : str
        The file's content.

    Returns
    -------
    Blueprint
        Checked.

    Raises
    ------
    AwardError
        Naming the entry that is missing, unknown or out of range.

    Examples
    --------
    >>> plan = read_blueprint('''
    ... title = "Bicycle fitter"
    ... version = "1"
    ... attempts = 2
    ... not_assessed = ["work on a real rider"]
    ... [competencies.lever]
    ... name = "Reads a pedal-force record"
    ... minimum_pct = 50
    ... [cases.record]
    ... name = "Pedal-force record"
    ... marks = {lever = 12}
    ... [[gates]]
    ... case = "record"
    ... task = "refer"
    ... why = "A rider with a red flag is referred."
    ... ''')
    >>> plan.max_marks, plan.gates[0].minimum_pct
    (12.0, 100.0)
    """
    try:
        data = tomllib.loads(text.removeprefix("\ufeff"))
    except (ValueError, RecursionError) as error:  # among them tomllib.TOMLDecodeError
        raise AwardError(f"the blueprint is no valid TOML: {error}") from error
    check.known(data, TOP, "the blueprint")
    competencies = tuple(_competency(name, entry) for name, entry in check.tables(data, "competencies").items())
    ids = {competency.id for competency in competencies}
    cases = tuple(_case(name, entry, ids) for name, entry in check.tables(data, "cases").items())
    unused = sorted(ids - {name for case in cases for name in case.marks})
    if unused:
        raise AwardError(f"no case gives marks to the competency {', '.join(unused)}; give it some or remove it")
    gates = data.get("gates", [])
    if not isinstance(gates, list):
        raise AwardError("the blueprint's gates are written as [[gates]], one block a gate")
    years = data.get("valid_years")
    return Blueprint(
        title=check.words(data, "title", "the blueprint"),
        version=check.version(data),
        description=check.words(data, "description", "the blueprint", default=""),
        attempts=check.whole(data, "attempts", 1, 99, default=1),
        appeal_days=check.whole(data, "appeal_days", 0, 3650, default=28),
        valid_years=None if years is None else check.whole(data, "valid_years", 1, 100),
        assessed=check.word_list(data, "assessed"),
        not_assessed=check.word_list(data, "not_assessed"),
        competencies=competencies,
        cases=cases,
        gates=_gates(gates, {case.id for case in cases}),
    )


def _competency(name: str, entry: Any) -> Competency:
    where = f"competency {name!r}"
    check.known(check.table(entry, where), {"name", "minimum_pct"}, where)
    minimum_pct = check.percent(entry, where, default=0.0)
    return Competency(check.short_name(name, where), check.words(entry, "name", where), minimum_pct)


def _case(name: str, entry: Any, ids: set[str]) -> Case:
    where = f"case {name!r}"
    check.known(check.table(entry, where), {"name", "marks"}, where)
    marks = check.table(entry.get("marks"), f"the marks of {where}")
    for competency, value in marks.items():
        if competency not in ids:
            raise AwardError(f"{where} gives marks to {competency!r}{check.meant(competency, ids)}")
        if not check.is_number(value) or value <= 0:
            raise AwardError(f"{where} gives {value!r} marks to {competency}; give a number greater than 0")
    if not marks:
        raise AwardError(f"{where} gives no marks; write marks = {{competency = number}}")
    marks = {competency: float(value) for competency, value in marks.items()}
    return Case(check.short_name(name, where), check.words(entry, "name", where), marks)


def _gates(entries: list[Any], cases: set[str]) -> tuple[Gate, ...]:
    gates = []
    for number, entry in enumerate(entries, 1):
        where = f"gate {number}"
        check.known(check.table(entry, where), {"case", "task", "minimum_pct", "why"}, where)
        case = check.words(entry, "case", where)
        if case not in cases:
            raise AwardError(f"{where} names the case {case!r}{check.meant(case, cases)}")
        minimum_pct = check.percent(entry, where, default=100.0)
        gates.append(Gate(case, check.words(entry, "task", where), minimum_pct, check.words(entry, "why", where)))
    if len({gate.key for gate in gates}) != len(gates):
        raise AwardError("a task stands in two gates; keep one")
    return tuple(gates)
