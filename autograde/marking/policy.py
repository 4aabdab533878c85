"""What an answer earns: the whole policy in one place.

============================  ==========================================================================
state                         marks
============================  ==========================================================================
correct                       all
correct in consequence        all: the slip was paid for where it happened
recognised misconception      the fraction the misconception states (`Misconception.credit`), often none
out of tolerance              none
not gradable                  undecided (None), never none: a person looks at it
============================  ==========================================================================

A number without its unit is read in the task's unit and earns `WITHOUT_UNIT` of what it would have
earned; a right number becomes the recognised misconception `UNIT_MISSING`. A plain ratio needs no unit.

An earlier answer is carried into later tasks when it is a value that can occur (inside the plausible
range) or is a recognised misconception. An earlier answer that is missing, unreadable or impossible is
replaced by the value that follows from the answers before it.

Texts are marked by people and have no marks here.
"""

from __future__ import annotations

from autograde.marking.result import State

WITHOUT_UNIT = 0.5
UNIT_MISSING = "unit-missing"
UNIT_MISSING_LABEL = "wrote a number without its unit"


def earned(state: State, max_marks: float, *, credit: float = 0.0, unit_missing: bool = False) -> float | None:
    """Give the marks for a state.

    Parameters
    ----------
    state : State
        State before a missing unit is counted.
    max_marks : float
        Full marks of the task.
    credit : float
        Fraction a recognised misconception earns, 0 to 1.
    unit_missing : bool
        Whether the answer was a number without its unit.

    Returns
    -------
    float or None
        Rounded to hundredths; None for a person to decide.

    Examples
    --------
    >>> earned(State.CORRECT, 3), earned(State.MISCONCEPTION, 3, credit=0.5), earned(State.NOT_GRADABLE, 3)
    (3.0, 1.5, None)
    """
    if state is State.NOT_GRADABLE:
        return None
    full = {State.CORRECT: 1.0, State.IN_CONSEQUENCE: 1.0, State.MISCONCEPTION: credit, State.OUT_OF_TOLERANCE: 0.0}
    share = full[state] * (WITHOUT_UNIT if unit_missing else 1.0)
    return round(max_marks * share, 2)


def in_words(state: State, *, credit: float = 0.0, unit_missing: bool = False) -> str:
    """Say which rule gives the marks.

    Parameters
    ----------
    state, credit, unit_missing
        As for `earned`.

    Returns
    -------
    str
        One clause.

    Examples
    --------
    >>> in_words(State.MISCONCEPTION, credit=0.25)
    'a recognised misconception earns the share it states, here 25 %'
    """
    rule = {
        State.CORRECT: "a right answer earns all marks",
        State.IN_CONSEQUENCE: "right in consequence earns all marks: the slip was paid for where it happened",
        State.MISCONCEPTION: f"a recognised misconception earns the share it states, here {credit:.0%}",
        State.OUT_OF_TOLERANCE: "out of tolerance earns none",
        State.NOT_GRADABLE: "not gradable leaves the marks open: a person decides",
    }[state].replace("%", " %")
    missing = f"; a number without its unit earns {WITHOUT_UNIT:.0%} of that".replace("%", " %")
    return rule + (missing if unit_missing else "")
