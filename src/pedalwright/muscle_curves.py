"""Moment-arm curves of the pedalling muscles by model: the tables of ``muscle_paths.toml`` and published regressions.

Every model ends in the same form: a muscle has a length at one posture, and for each joint it crosses a smooth curve
of its moment arm. Length anywhere else is that length less the integral of the arms, so that moment arm and length
belong together exactly (virtual work). Two-joint muscles are the sum of their joints: in the leg models themselves
that sum is off by at most 4 mm over the postures of pedalling.
"""

from collections.abc import Mapping
from functools import cache

import numpy as np
from scipy.interpolate import PPoly

from pedalwright._muscle_models import JOINTS, PATH_MODELS, heads_of, model_file
from pedalwright.errors import OutOfRangeError
from pedalwright.muscle_curve import MuscleCurve, Strength

__all__ = ["JOINTS", "MUSCLES", "PATH_MODELS", "MuscleCurve", "Strength", "models_with", "muscle_curve"]

MUSCLES: Mapping[str, tuple[str, ...]] = {
    "gluteus maximus": ("gluteus maximus, superior", "gluteus maximus, middle", "gluteus maximus, inferior"),
    "vasti": ("vastus medialis", "vastus lateralis", "vastus intermedius"),
    "rectus femoris": ("rectus femoris",),
    "biceps femoris, long head": ("biceps femoris, long head",),
    "semimembranosus": ("semimembranosus",),
    "biceps femoris, short head": ("biceps femoris, short head",),
    "gastrocnemius": ("gastrocnemius, medial", "gastrocnemius, lateral"),
    "soleus": ("soleus",),
    "tibialis anterior": ("tibialis anterior",),
    "iliopsoas": ("iliacus", "psoas"),
}
"""The muscles and the heads each is lumped from, sharing its force in proportion to their strength."""


@cache
def muscle_curve(muscle: str, model: str) -> MuscleCurve:
    """Curves of a muscle or of one of its heads by a model.

    Parameters
    ----------
    muscle : str
        A key of ``MUSCLES`` or the name of a head.
    model : str
        A key of ``PATH_MODELS``.

    Returns
    -------
    MuscleCurve
        Arms, length and strength; a lumped muscle is the mean of its heads weighed by their strength.

    Raises
    ------
    OutOfRangeError
        If there is no such model or it does not have the muscle.

    Notes
    -----
    *Teaching model* built on published numbers.

    References
    ----------
    lai_2017
    rajagopal_2016
    delp_1990
    hawkins_hull_1990
    grieve_1978

    Examples
    --------
    >>> muscle_curve("soleus", "lai_2017").scales_with
    'shank'
    """
    heads = heads_of(model)
    names = MUSCLES.get(muscle, (muscle,))
    missing = [name for name in names if name not in heads]
    if missing:
        with_it = [other for other in PATH_MODELS if all(name in heads_of(other) for name in names)]
        raise OutOfRangeError(
            f"muscle: received {muscle!r} with the model {model!r}, which does not have it; allowed: "
            f"{', '.join(with_it) or 'no model has it; names are ' + ', '.join(MUSCLES)}; choose another"
        )
    return _lumped([heads[name] for name in names], _weights(names))


def models_with(muscle: str) -> tuple[str, ...]:
    """Names of the models that have a muscle.

    Parameters
    ----------
    muscle : str
        A key of ``MUSCLES`` or the name of a head.

    Returns
    -------
    tuple of str
        Keys of ``PATH_MODELS``; empty if none has it.

    Notes
    -----
    *Convention*: a muscle lumped from heads needs all of them.

    References
    ----------
    lai_2017
    hawkins_hull_1990

    Examples
    --------
    >>> models_with("gluteus maximus")
    ('lai_2017', 'rajagopal_2016', 'gait2392')
    """
    names = MUSCLES.get(muscle, (muscle,))
    return tuple(model for model in PATH_MODELS if all(name in heads_of(model) for name in names))


@cache
def _weights(names: tuple[str, ...]) -> tuple[float, ...]:
    heads = {head["name"]: head for head in model_file()["model"][0]["head"]}
    forces = np.array([heads[name]["max_isometric_force_n"] if name in heads else 1.0 for name in names])
    return tuple(forces / forces.sum())


def _lumped(heads: list[MuscleCurve], shares: tuple[float, ...]) -> MuscleCurve:
    first = heads[0]
    if len(heads) == 1:
        return first
    strengths = [head.strength for head in heads if head.strength]
    if strengths:
        forces = np.array([part.max_isometric_force_n for part in strengths])
        shares = tuple(forces / forces.sum())
    arms = {
        joint: PPoly(np.tensordot(shares, np.stack([head.arms[joint].c for head in heads]), 1), first.arms[joint].x)
        for joint in first.arms
    }
    length = None
    if first.length_mm is not None:
        length = float(sum(w * (head.length_mm or 0.0) for w, head in zip(shares, heads, strict=True)))
    strength = None
    if strengths:
        parts = np.array([(s.optimal_fibre_length_mm, s.tendon_slack_length_mm, s.pennation_deg) for s in strengths])
        fibre, tendon, pennation = np.array(shares) @ parts
        strength = Strength(float(forces.sum()), float(fibre), float(tendon), float(pennation))
    return MuscleCurve(first.scales_with, first.segment_length_mm, length, first.at_deg, arms, strength)
