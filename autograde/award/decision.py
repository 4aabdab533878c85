"""From marks, blueprint and standard to a decision with its reasons."""

from __future__ import annotations

import math
from collections.abc import Mapping
from datetime import date, timedelta

from autograde.award.blueprint import Blueprint
from autograde.award.errors import AwardError
from autograde.award.marks import MarkTable
from autograde.award.outcome import CompetencyResult, Decision, GateResult, Outcome, Outstanding, next_step
from autograde.award.standard import Standard

__all__ = ["decide"]

SLACK = 1e-9
"""Marks this close to a limit reach it: sums of hundredths are not exact in binary."""


def decide(
    table: MarkTable, trainee: str, blueprint: Blueprint, standard: Standard, *, attempt: int = 1, on: date
) -> Decision:
    """Decide about one trainee by the written rules.

    Parameters
    ----------
    table : MarkTable
        Marks of this attempt.
    trainee : str
        Who.
    blueprint, standard
        The plan and the cut; they must belong to the same full marks.
    attempt : int
        Which attempt this is, from 1 to the number the blueprint allows.
    on : date
        Day of the decision.

    Returns
    -------
    Decision
        A failed gate blocks whatever else was earned. Otherwise outstanding work waits for a person. Otherwise a
        competency below its minimum means not yet. Otherwise the total decides: at or above the band award, below it
        not yet, within it a person.

    Raises
    ------
    AwardError
        If tasks and blueprint differ, the standard was set for other marks, or the attempt is not allowed.
    """
    blueprint.check(table.items)
    if not math.isclose(standard.max_marks, blueprint.max_marks, abs_tol=1e-6):
        raise AwardError(
            f"the standard was set for {standard.max_marks:g} marks, the blueprint has {blueprint.max_marks:g}; "
            "set the standard again for this blueprint"
        )
    if not 1 <= attempt <= blueprint.attempts:
        raise AwardError(f"attempt {attempt} is not allowed: the blueprint gives {blueprint.attempts}")
    row = table.row(trainee)
    gates = _gates(table, row, blueprint)
    outstanding = tuple(
        Outstanding(item.case, item.task, table.why.get((trainee, item.key), "no mark recorded"))
        for item in table.items
        if math.isnan(row[item.key])
    )
    competencies = _competencies(table, row, blueprint)
    total = round(math.fsum(value for value in row.values() if not math.isnan(value)), 6)
    outcome, reasons = _rule(total, gates, outstanding, competencies, standard, table, row)
    return Decision(
        trainee=trainee,
        attempt=attempt,
        attempts_allowed=blueprint.attempts,
        outcome=outcome,
        total_marks=total,
        max_marks=blueprint.max_marks,
        cut_marks=standard.cut_marks,
        band_marks=standard.band_marks,
        competencies=competencies,
        gates=gates,
        outstanding=outstanding,
        reasons=tuple(reasons),
        next_step=next_step(outcome, attempt, blueprint.attempts),
        appeal_until=(on + timedelta(days=blueprint.appeal_days)).isoformat(),
    )


def _gates(table: MarkTable, row: Mapping[str, float], blueprint: Blueprint) -> tuple[GateResult, ...]:
    full = {item.key: item.max_marks for item in table.items}
    results = []
    for gate in blueprint.gates:
        marks, needed = row[gate.key], full[gate.key] * gate.minimum_pct / 100
        known = not math.isnan(marks)
        passed = marks >= needed - SLACK if known else None
        results.append(GateResult(gate.case, gate.task, gate.why, marks if known else None, needed, passed))
    return tuple(results)


def _competencies(table: MarkTable, row: Mapping[str, float], blueprint: Blueprint) -> tuple[CompetencyResult, ...]:
    results = []
    for competency in blueprint.competencies:
        items = [item for item in table.items if item.competency == competency.id]
        full = math.fsum(item.max_marks for item in items)
        known = [row[item.key] for item in items if not math.isnan(row[item.key])]
        marks, needed = round(math.fsum(known), 6), full * competency.minimum_pct / 100
        met: bool | None = marks >= needed - SLACK
        if not met and len(known) < len(items):
            met = None
        results.append(CompetencyResult(competency.id, competency.name, marks, full, competency.minimum_pct, met))
    return tuple(results)


def _rule(
    total: float,
    gates: tuple[GateResult, ...],
    outstanding: tuple[Outstanding, ...],
    competencies: tuple[CompetencyResult, ...],
    standard: Standard,
    table: MarkTable,
    row: Mapping[str, float],
) -> tuple[Outcome, list[str]]:
    low, high = standard.band_marks
    score = f"{total:g} of {standard.max_marks:g} marks"
    failed = [gate for gate in gates if gate.passed is False]
    if failed:
        return Outcome.BLOCKED, [
            f"Safety gate {gate.case}/{gate.task}: {gate.marks:g} marks, needed {gate.needed_marks:g}. {gate.why}"
            for gate in failed
        ]
    if outstanding:
        open_marks = math.fsum(item.max_marks for item in table.items if math.isnan(row[item.key]))
        first = f"{len(outstanding)} task(s) wait for a person; {score} so far, {open_marks:g} open."
        return Outcome.OUTSTANDING, [first, *(f"{task.case}/{task.task}: {task.why}" for task in outstanding)]
    missed = [result for result in competencies if result.met is False]
    if missed:
        return Outcome.NOT_YET, [
            f"{result.name}: {result.marks:g} of {result.max_marks:g} marks ({result.pct:.0f} %), "
            f"at least {result.minimum_pct:g} % are needed."
            for result in missed
        ] + [f"The total is {score}; the cut is {standard.cut_marks:g}."]
    if total >= high - SLACK:
        return Outcome.AWARD, [f"{score}, at or above {high:g}, the upper end of the borderline band."]
    if total < low - SLACK:
        return Outcome.NOT_YET, [f"{score}, below {low:g}, the lower end of the borderline band."]
    return Outcome.BORDERLINE, [
        f"{score} lie between {low:g} and {high:g}: nearer to the cut of {standard.cut_marks:g} than marks are sure."
    ]
