"""What the rising leg costs the falling one on opposed cranks, and what changes when it lifts itself."""

from typing import NamedTuple

import numpy as np

from pedalwright._typing import Floats, Numbers
from pedalwright.errors import checked
from pedalwright.force import mean_over_turn


class WorkParts(NamedTuple):
    """Work of one turn, taken apart by its sign; both parts are given as positive numbers.

    Parameters
    ----------
    propelling_j : numpy.ndarray
        Work that turned the crank. [J]
    holding_back_j : numpy.ndarray
        Work against the turn. [J]

    Examples
    --------
    >>> WorkParts(np.array(80.0), np.array(12.5)).net_j.item()
    67.5
    """

    propelling_j: Floats
    holding_back_j: Floats

    @property
    def net_j(self) -> Floats:
        """What remains of the propelling work, in J."""
        return np.asarray(self.propelling_j - self.holding_back_j)


def work_parts_j(torque_nm: Numbers) -> WorkParts:
    """Work that turns the crank and work that holds it back, over one turn.

    Parameters
    ----------
    torque_nm : array_like, shape (..., n)
        Torque of one leg, or of both together, over one turn, uniform from the top. [N·m]

    Returns
    -------
    WorkParts
        Both parts. [J]

    Raises
    ------
    OutOfRangeError
        If there are fewer than three samples.

    Notes
    -----
    *Measured law*: work is torque times angle. Positive and negative samples are summed apart, as torque
    effectiveness does.

    References
    ----------
    kautz_1991

    Examples
    --------
    >>> parts = work_parts_j(np.sin(np.radians(np.arange(360.0))))
    >>> parts.propelling_j.round(4).item(), parts.net_j.round(6).item()
    (1.9999, 0.0)
    """
    torque = np.asarray(torque_nm, dtype=float)
    turn = 2 * np.pi
    return WorkParts(turn * mean_over_turn(np.maximum(torque, 0)), turn * mean_over_turn(np.maximum(-torque, 0)))


def rising_leg_lifted_nm(torque_nm: Numbers, lift_pct: Numbers) -> Floats:
    """Torque of a leg that lifts part of what holds it back, at unchanged mean torque.

    Parameters
    ----------
    torque_nm : array_like, shape (..., n)
        Torque of the leg before, over one turn, uniform from the top; its mean is above 0. [N·m]
    lift_pct : array_like, shape (...)
        Share of the torque against the turn that the leg now lifts itself, 0 to 100. [%]

    Returns
    -------
    numpy.ndarray, shape (..., n)
        Torque after: less against the turn, and less push for the same effort. [N·m]

    Raises
    ------
    OutOfRangeError
        If the share is outside 0 to 100, or the mean torque is not above 0.

    Notes
    -----
    *Teaching model*: the torque against the turn shrinks by the share lifted; the torque with the turn shrinks
    evenly, so that the mean stays. Kept: shape of the push, effort, cadence. Left out: which muscles lift, what
    that costs them, and any change in the shape of the push. Riders told to pull up became more effective at
    the pedal and less efficient in their use of oxygen (`korff_2007`).

    References
    ----------
    korff_2007
    bini_hume_croft_kilding_2013

    Examples
    --------
    >>> before = np.cos(np.radians(np.arange(360.0))) + 0.2
    >>> after = rising_leg_lifted_nm(before, 100.0)
    >>> float(after.min()), float(after.mean().round(6))
    (0.0, 0.2)
    """
    torque = np.asarray(torque_nm, dtype=float)
    lift = checked("lift_pct", lift_pct, at_least=0, at_most=100, advice="give a share in per cent")[..., None] / 100
    mean = checked(
        "mean torque", mean_over_turn(torque), above=0, advice="give the record of a leg that drives the crank"
    )[..., None]
    push, hold = np.maximum(torque, 0), np.minimum(torque, 0)
    remaining = (1 - lift) * hold
    growth = (mean - mean_over_turn(remaining)[..., None]) / mean_over_turn(push)[..., None]
    return np.asarray(growth * push + remaining)
