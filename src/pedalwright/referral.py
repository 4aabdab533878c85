"""Refer or fit: from what the rider reported to who has to look first, and what the fitter leaves alone."""

from collections.abc import Iterable
from dataclasses import dataclass

from pedalwright._choices import chosen
from pedalwright.red_flags import MUST_NOT, RED_FLAGS, URGENCIES, RedFlag

_BY_NAME = {flag.name: flag for flag in RED_FLAGS}
DECIDES = "A physician or physiotherapist decides what it is and when riding is safe; a fitter does neither."


@dataclass(frozen=True)
class Referral:
    """What follows from the findings reported.

    Parameters
    ----------
    flags : tuple of RedFlag
        Findings that are not a fitter's to solve, the most urgent first.
    stops_fit : bool
        True if nothing may be adjusted today.
    urgency : str or None
        Most urgent of the findings, one of ``red_flags.URGENCIES``; None without a finding.

    Examples
    --------
    >>> refer([]).needed
    False
    """

    flags: tuple[RedFlag, ...]
    stops_fit: bool
    urgency: str | None

    @property
    def needed(self) -> bool:
        """Whether anybody has to look at the rider besides the fitter."""
        return bool(self.flags)

    @property
    def refer_to(self) -> tuple[str, ...]:
        """Who has to look, each named once, the most urgent first."""
        return tuple(dict.fromkeys(flag.refer_to for flag in self.flags))

    def text(self) -> str:
        """Say in plain words what to do; never a diagnosis."""
        if not self.flags:
            return (
                "Nothing reported today stops the fit. Ask again at the end, and stop at any pain that grows. "
                "That nothing was reported does not show that nothing is wrong."
            )
        first = "Stop: adjust nothing today." if self.stops_fit else "The fit may go on with precautions."
        lines = [f"{first} Urgency: {self.urgency}."]
        lines += [f"- {flag.name}: {flag.urgency}, {flag.refer_to}. {flag.precaution}" for flag in self.flags]
        return "\n".join([*lines, DECIDES])


def refer(reported: Iterable[str]) -> Referral:
    """Decide whether a fit stops, how urgent it is and who looks first.

    Parameters
    ----------
    reported : iterable of str
        Names of ``red_flags.RED_FLAGS`` that the rider reported or the fitter noticed; none is allowed.

    Returns
    -------
    Referral
        Findings by urgency and what follows.

    Raises
    ------
    OutOfRangeError
        If a name is not on the list; the message shows the list.

    Notes
    -----
    *Convention* after a lower-limb referral list of a health service; riding-specific findings from papers or from
    memory, as each entry says. The list is not complete: whatever worries you is referred too.

    References
    ----------
    nhs_borders_lower_limb
    schrader_2008
    patterson_2003

    Examples
    --------
    >>> found = refer(["numb feet or diabetes", "sudden foot drop"])
    >>> found.stops_fit, found.urgency, found.flags[0].name
    (True, 'same day', 'sudden foot drop')
    """
    names = (reported,) if isinstance(reported, str) else tuple(dict.fromkeys(reported))
    flags = [chosen("reported", name, _BY_NAME) for name in names]
    flags.sort(key=lambda flag: (-URGENCIES.index(flag.urgency), not flag.stops_fit))
    return Referral(tuple(flags), any(flag.stops_fit for flag in flags), flags[0].urgency if flags else None)


def must_not() -> tuple[str, ...]:
    """List what a fitter does not do, whatever is asked.

    Returns
    -------
    tuple of str
        Sentences.

    Notes
    -----
    *Convention*: scope-of-practice reasoning, no source found.

    References
    ----------
    nhs_borders_lower_limb

    Examples
    --------
    >>> must_not()[0]
    'Name a disease or explain a symptom.'
    """
    return MUST_NOT
