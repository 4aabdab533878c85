"""Muscle curves of each model: the tables of ``muscle_paths.toml`` and two published regressions."""

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

import numpy as np
from scipy.interpolate import PchipInterpolator, PPoly

from pedalwright.errors import OutOfRangeError
from pedalwright.muscle_curve import MuscleCurve, Strength

JOINTS = ("hip", "knee", "ankle")

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


@cache
def heads_of(model: str) -> Mapping[str, MuscleCurve]:
    """Curves of every muscle head that a model has."""
    if model == "hawkins_hull_1990":
        return {name: _from_hawkins_hull(*row) for name, row in _HAWKINS_HULL.items()}
    if model == "grieve_1978":
        return _from_grieve()
    tables = {entry["name"]: entry for entry in model_file()["model"]}
    if model not in tables:
        raise OutOfRangeError(f"model: received {model!r}; allowed: {', '.join(PATH_MODELS)}; choose one of these")
    return {head["name"]: _from_table(head, tables[model]) for head in tables[model]["head"]}


@cache
def model_file() -> dict[str, Any]:
    """Read the tables of the leg models."""
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
