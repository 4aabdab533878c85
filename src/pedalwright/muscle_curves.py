"""Moment-arm curves of the pedalling muscles by model: the tables of ``muscle_paths.toml`` and published regressions.

Every model ends in the same form: a muscle has a length at one posture, and for each joint it crosses a smooth curve
of its moment arm. Length anywhere else is that length less the integral of the arms, so that moment arm and length
belong together exactly (virtual work). Two-joint muscles are the sum of their joints: in the leg models themselves
that sum is off by at most 4 mm over the postures of pedalling.
"""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

import numpy as np
from scipy.interpolate import PchipInterpolator, PPoly

from pedalwright._typing import Floats
from pedalwright.errors import OutOfRangeError

JOINTS = ("hip", "knee", "ankle")

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

PATH_MODELS: Mapping[str, str] = {
    "lai_2017": "lai_2017",
    "rajagopal_2016": "rajagopal_2016",
    "gait2392": "delp_1990",
    "hawkins_hull_1990": "hawkins_hull_1990",
    "grieve_1978": "grieve_1978",
}
"""The models by name, with their bibliography keys. The first is the default: its paths were made for deep flexion."""

_STEP_DEG = {"hip": 10.0, "knee": 10.0, "ankle": 5.0}

# Hawkins and Hull 1990: length / segment length = c0 + c1·hip + c2·knee + c3·knee² + c4·(90 + dorsiflexion), degrees.
# The paper was not at hand. Gastrocnemius and soleus: read in a public script that cites it. The others: read in a
# second public script that does not; biceps femoris long head, semimembranosus and rectus femoris there are the values
# also known from memory.
_HAWKINS_HULL: dict[str, tuple[str, tuple[float, float, float, float, float]]] = {
    "iliacus": ("thigh", (0.215, -7.26e-4, 0, 0, 0)),
    "psoas": ("thigh", (0.215, -7.26e-4, 0, 0, 0)),
    "biceps femoris, long head": ("thigh", (1.048, 2.09e-3, -1.60e-3, 0, 0)),
    "semimembranosus": ("thigh", (1.027, 1.99e-3, -2.22e-3, 0, 0)),
    "rectus femoris": ("thigh", (1.107, -1.50e-3, 1.99e-3, 0, 0)),
    "biceps femoris, short head": ("thigh", (0.600, 0, 1.03e-4, -1.21e-5, 0)),
    "vastus intermedius": ("thigh", (0.496, 0, 3.88e-3, -1.63e-5, 0)),
    "vastus lateralis": ("thigh", (0.569, 0, 4.06e-3, -2.07e-5, 0)),
    "vastus medialis": ("thigh", (0.489, 0, 3.07e-3, -1.53e-5, 0)),
    "gastrocnemius, medial": ("shank", (0.900, 0, -6.2e-4, 0, 2.14e-3)),
    "gastrocnemius, lateral": ("shank", (0.894, 0, -5.0e-4, 0, 2.14e-3)),
    "tibialis anterior": ("shank", (0.715, 0, 0, 0, -1.30e-3)),
    "soleus": ("shank", (0.563, 0, 0, 0, 1.93e-3)),
}

# Grieve, Pheasant and Cavanagh 1978: change of length in percent of the shank, over the ankle angle (90 + dorsiflexion)
# and over knee flexion. Read in two public scripts that cite it.
_GRIEVE_ANKLE = (-22.18468, 0.30141, -0.00061)
_GRIEVE_KNEE = (6.46251, -0.07987, 0.00011)


@dataclass(frozen=True)
class Strength:
    """How strong a muscle is and how long its parts are."""

    max_isometric_force_n: float
    optimal_fibre_length_mm: float
    tendon_slack_length_mm: float
    pennation_deg: float


@dataclass(frozen=True)
class MuscleCurve:
    """One muscle by one model: arms over angle in degrees, length at a posture, both for a segment of that length."""

    scales_with: str
    segment_length_mm: float | None
    length_mm: float | None
    at_deg: Mapping[str, float]
    arms: Mapping[str, PPoly]
    strength: Strength | None

    def arm_mm(self, joint: str, angle_deg: Floats) -> Floats:
        """Moment arm at a joint; 0 where the muscle does not cross it."""
        if joint not in self.arms:
            return np.zeros_like(angle_deg)
        return np.asarray(self.arms[joint](angle_deg))

    def shortening_mm(self, joint: str, angle_deg: Floats) -> Floats:
        """How much shorter the muscle is than at ``at_deg``, by this joint alone."""
        if joint not in self.arms:
            return np.zeros_like(angle_deg)
        integral = _integrals(self.arms[joint])
        return np.asarray(np.radians(integral(angle_deg) - integral(self.at_deg[joint])))


@cache
def _integrals(curve: PPoly) -> PPoly:
    return curve.antiderivative()


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
    heads = _heads_of(model)
    names = MUSCLES.get(muscle, (muscle,))
    missing = [name for name in names if name not in heads]
    if missing:
        with_it = [other for other in PATH_MODELS if all(name in _heads_of(other) for name in names)]
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
    return tuple(model for model in PATH_MODELS if all(name in _heads_of(model) for name in names))


@cache
def _heads_of(model: str) -> Mapping[str, MuscleCurve]:
    if model == "hawkins_hull_1990":
        return {name: _from_hawkins_hull(*row) for name, row in _HAWKINS_HULL.items()}
    if model == "grieve_1978":
        return _from_grieve()
    tables = {entry["name"]: entry for entry in _file()["model"]}
    if model not in tables:
        raise OutOfRangeError(f"model: received {model!r}; allowed: {', '.join(PATH_MODELS)}; choose one of these")
    return {head["name"]: _from_table(head, tables[model]) for head in tables[model]["head"]}


@cache
def _file() -> dict[str, Any]:
    return tomllib.loads((files("pedalwright") / "muscle_paths.toml").read_text(encoding="utf-8"))


def _from_table(head: Mapping[str, Any], model: Mapping[str, Any]) -> MuscleCurve:
    arms = {}
    for joint in JOINTS:
        values = head.get(f"{joint}_arm_mm")
        if values:
            arms[joint] = PchipInterpolator(
                model[f"{joint}_from_deg"] + _STEP_DEG[joint] * np.arange(len(values)), values
            )
    return MuscleCurve(
        head["scales_with"],
        model[f"{head['scales_with']}_length_mm"],
        head["length_mm"],
        {"hip": 60, "knee": 60, "ankle": 0},
        arms,
        Strength(
            head["max_isometric_force_n"],
            head["optimal_fibre_length_mm"],
            head["tendon_slack_length_mm"],
            head["pennation_deg"],
        ),
    )


def _from_hawkins_hull(segment: str, coefficients: tuple[float, float, float, float, float]) -> MuscleCurve:
    start, hip, knee, knee_squared, ankle = coefficients
    arms = {}
    if hip:
        arms["hip"] = _arm_curve((-hip,), 0, 120)
    if knee:
        arms["knee"] = _arm_curve((-knee, -2 * knee_squared), 0, 120)
    if ankle:
        arms["ankle"] = _arm_curve((ankle,), -30, 30)
    return MuscleCurve(segment, None, start + 90 * ankle, dict.fromkeys(JOINTS, 0.0), arms, None)


def _from_grieve() -> dict[str, MuscleCurve]:
    _, slope, bend = _GRIEVE_ANKLE
    ankle = _arm_curve(((slope + 2 * bend * 90) / 100, -2 * bend / 100), -30, 30)
    knee = _arm_curve((-_GRIEVE_KNEE[1] / 100, -2 * _GRIEVE_KNEE[2] / 100), 0, 120)
    neutral = {"hip": 0.0, "knee": 90.0, "ankle": 0.0}
    both = MuscleCurve("shank", None, None, neutral, {"knee": knee, "ankle": ankle}, None)
    return {
        "gastrocnemius, medial": both,
        "gastrocnemius, lateral": both,
        "soleus": MuscleCurve("shank", None, None, neutral, {"ankle": ankle}, None),
    }


def _arm_curve(per_degree: tuple[float, ...], low: float, high: float) -> PPoly:
    """Arm in segment lengths: a polynomial a + b·q of shortening per degree, over one range of q."""
    rising = np.polynomial.Polynomial(np.degrees(per_degree))
    shifted = np.asarray(rising(np.polynomial.Polynomial([low, 1.0])).coef, dtype=np.float64)
    return PPoly(shifted[::-1, None], np.array([low, high]))


@cache
def _weights(names: tuple[str, ...]) -> tuple[float, ...]:
    heads = {head["name"]: head for head in _file()["model"][0]["head"]}
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
