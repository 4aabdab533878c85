"""Da Silva et al. 2016, Eur J Appl Physiol 116:1807-1817: activity of thigh muscles in cycling, old and new findings.

Abstract and introduction read. The introduction sets earlier studies side by side: they disagree about the hamstrings.
The windows are theirs. How far the prediction overlaps them is a result of this package, not of any paper; the last
test only holds which of them it sides with.
"""

import numpy as np
import pytest

from pedalwright.activity import ACTIVITY_WINDOWS, compare_with_activity
from pedalwright.body import leg_inertia
from pedalwright.dynamics import inverse_dynamics
from pedalwright.position import Leg, Position
from pedalwright.recorded import recorded_pedal_angle, recorded_pedal_force
from pedalwright.recruit import recruit
from pedalwright.stroke import solve_stroke


@pytest.fixture(scope="module")
def shared():
    leg = Leg(425, 425, 150)
    stroke = solve_stroke(leg, Position(710, 200, 170), pedal_angle_deg=recorded_pedal_angle(), cadence_rpm=90)
    loads = inverse_dynamics(
        stroke, leg_inertia(75, leg), *recorded_pedal_force(crank_angle_deg=stroke.crank_angle_deg)
    )
    return recruit(
        loads.hip_extension_moment_nm, loads.knee_extension_moment_nm, loads.ankle_plantar_flexion_moment_nm, stroke
    )


def test_earlier_windows_of_the_semimembranosus():
    """60 to 240° (1986), 150 to 270° (1985), downstroke (2008), whole turn (1992)."""
    windows = {w.source: (w.onset_deg, w.offset_deg) for w in ACTIVITY_WINDOWS if w.muscle == "semimembranosus"}
    assert windows == {
        "jorge_hull_1986": (60, 240),
        "ericson_1985": (150, 270),
        "dorel_2008": (0, 180),
        "ryan_gregor_1992": (0, 360),
    }


def test_vasti_work_most_in_the_first_quarter(shared):
    """Abstract: greater activation of the vasti in the first quadrant than in the others; the prediction agrees."""
    vasti = shared.activation[shared.muscles.index("vasti")].reshape(4, 18).mean(axis=1)
    assert vasti.argmax() == 0


def test_rectus_femoris_comes_before_the_vasti(shared):
    """Introduction: rectus femoris is active earlier, since it also flexes the hip; the prediction agrees."""
    rectus, vasti = (shared.activation[shared.muscles.index(name)] for name in ("rectus femoris", "vasti"))
    angles = np.radians(np.arange(72) * 5.0)
    lag = np.angle(np.sum(vasti * np.exp(1j * angles)) / np.sum(rectus * np.exp(1j * angles)), deg=True)
    assert 20 < lag < 120


def test_prediction_sides_with_the_downstroke_and_not_with_1985(shared):
    """The comparison is reported as it is: it favours one of four windows that cannot all be right."""
    overlaps = {
        one.window.source: one.overlap
        for one in compare_with_activity(shared)
        if one.window.muscle == "semimembranosus"
    }
    assert max(overlaps, key=overlaps.get) == "dorel_2008"
