"""What a decision is made of."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from enum import StrEnum
from typing import Any

__all__ = ["CompetencyResult", "Decision", "GateResult", "Outcome", "Outstanding", "next_step"]


class Outcome(StrEnum):
    """What can come out."""

    AWARD = "award"
    NOT_YET = "not yet"
    BORDERLINE = "borderline: a person decides"
    BLOCKED = "blocked by a safety gate"
    OUTSTANDING = "not gradable work outstanding"


@dataclass(frozen=True)
class CompetencyResult:
    """Marks in one competency; `met` tells whether its minimum is reached, None while marks are outstanding."""

    id: str
    name: str
    marks: float
    max_marks: float
    minimum_pct: float
    met: bool | None

    @property
    def pct(self) -> float:
        """Share of the marks earned so far, 0 to 100."""
        return 100 * self.marks / self.max_marks


@dataclass(frozen=True)
class GateResult:
    """Whether a safety-critical task was passed, None while it is outstanding."""

    case: str
    task: str
    why: str
    marks: float | None
    needed_marks: float
    passed: bool | None


@dataclass(frozen=True)
class Outstanding:
    """A task without a mark, and why."""

    case: str
    task: str
    why: str


@dataclass(frozen=True)
class Decision:
    """A decision about one attempt of one trainee.

    Parameters
    ----------
    trainee : str
        Id or pseudonym.
    attempt, attempts_allowed : int
        This attempt and how many there are.
    outcome : Outcome
        What follows.
    total_marks, max_marks, cut_marks : float
        What was earned so far, full marks, the cut.
    band_marks : tuple of float
        Lowest and highest total of the borderline band.
    competencies, gates, outstanding : tuple
        The parts the outcome rests on.
    reasons : tuple of str
        In plain words; they name no person.
    next_step : str
        What the trainee or the school does now.
    appeal_until : str
        Last day for an appeal, ISO 8601.
    decided_by : str
        Empty when the rule decided, otherwise the person.
    statement : str
        What that person wrote; may be personal.
    """

    trainee: str
    attempt: int
    attempts_allowed: int
    outcome: Outcome
    total_marks: float
    max_marks: float
    cut_marks: float
    band_marks: tuple[float, float]
    competencies: tuple[CompetencyResult, ...]
    gates: tuple[GateResult, ...]
    outstanding: tuple[Outstanding, ...]
    reasons: tuple[str, ...]
    next_step: str
    appeal_until: str
    decided_by: str = ""
    statement: str = ""

    def public(self) -> dict[str, Any]:
        """Give what may stay in a record for good: no id, no person, no words of a person."""
        data = asdict(self)
        for private in ("trainee", "decided_by", "statement"):
            del data[private]
        data["outcome"] = str(self.outcome)
        data["band_marks"] = [*self.band_marks]
        data["by_a_person"] = bool(self.decided_by)
        return {key: list(value) if isinstance(value, tuple) else value for key, value in data.items()}

    def personal(self) -> dict[str, str]:
        """Give what can be deleted on request."""
        return {"trainee": self.trainee, "decided_by": self.decided_by, "statement": self.statement}


def next_step(outcome: Outcome, attempt: int, allowed: int) -> str:
    """Say what the trainee or the school does now."""
    if outcome is Outcome.AWARD:
        return "Issue the award."
    if outcome is Outcome.BORDERLINE:
        return "A person looks at the work and settles it with reasons."
    if outcome is Outcome.OUTSTANDING:
        return "A person marks what is outstanding; then decide again."
    if attempt < allowed:
        return f"Reteach, then attempt {attempt + 1} of {allowed} with new cases."
    return "All attempts are used; an appeal is possible, otherwise enrol again."
