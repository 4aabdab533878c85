"""Facts of the trade about feet, pelvis and push: common practice, no source. Expected numbers are worked by hand."""

import numpy as np
import pytest

from pedalwright.foot import arch_class
from pedalwright.footbed_tier import SUPPORT_EVIDENCE, support_tier
from pedalwright.force import resolve_on_crank
from pedalwright.forefoot import USUAL_SHOE_WEDGE_MM, wedge_angle_deg, wedge_edge
from pedalwright.muscles import gluteal_lengthening_mm
from pedalwright.pelvis import hip_closure
from pedalwright.pelvis_reports import SIT_BONE_WIDTHS_MM
from pedalwright.position import Leg, Position, slid_back
from pedalwright.seat import Saddle, SitBones, saddle_load_n, sit
from pedalwright.stroke import solve_stroke
from pedalwright.targets import setback_for_knee_over_pedal
from pedalwright.uneven_seat import uneven_seat

LEG = Leg(428.75, 430.5, 150)
POSITION = Position(740.0, 200.0, 170.0)


def test_usual_wedge_built_into_a_shoe():
    """1.5 mm; over a forefoot of 95 mm 0.905°, over 100 mm 0.859° (worked by hand)."""
    assert USUAL_SHOE_WEDGE_MM == 1.5
    assert wedge_angle_deg(USUAL_SHOE_WEDGE_MM, [95.0, 100.0]) == pytest.approx([0.905, 0.859], abs=5e-4)


def test_varus_is_filled_under_the_inner_edge():
    assert wedge_edge([3.0, -3.0]).tolist() == ["inner", "outer"]


def test_high_medium_low_arch_take_significant_moderate_mild_support():
    assert support_tier(["high", "medium", "low"]).tolist() == ["significant", "moderate", "mild"]
    assert support_tier(arch_class(0.40)) == "significant"
    assert "no source" in SUPPORT_EVIDENCE


def test_sit_bones_of_adults_lie_80_to_160_mm_apart():
    trade = SIT_BONE_WIDTHS_MM[0]
    assert (trade.lower, trade.upper, trade.source) == (80.0, 160.0, "common practice, no source")


def test_on_a_saddle_narrower_than_the_bones_soft_tissue_bears():
    shares = [sit(SitBones(130.0), Saddle(width), 350.0).bone_share for width in (150.0, 120.0, 100.0)]
    assert shares[0] > shares[1] > shares[2]


def test_uneven_pelvis_draws_one_knee_to_the_frame_and_the_other_away():
    seat = uneven_seat(LEG, POSITION, 3.0)
    assert seat.pelvis_shift_mm < 0
    assert np.all(seat.right_knee_inward_mm > 0)
    assert np.all(seat.left_knee_inward_mm < 0)


def test_pelvis_rolled_forward_closes_the_hip_at_the_top():
    closed = [hip_closure(LEG, POSITION, pelvis_forward_tilt_deg=tilt).top_hip_flexion_deg for tilt in (10.0, 30.0)]
    assert closed[1] - closed[0] == pytest.approx(20.0)


def test_a_more_closed_hip_at_the_top_has_lengthened_the_gluteus_maximus():
    """At an arm of 30 to 50 mm, as leg models give it, 20° are 10 to 18 mm."""
    assert 10 < gluteal_lengthening_mm(70.0, 90.0) < 18


def test_saddle_hands_and_pedals_carry_the_whole_weight():
    weight = 70.0 * 9.80665
    assert saddle_load_n(70.0, 0.2, 0.3) + (0.2 + 0.3) * weight == pytest.approx(weight)


def test_knee_over_the_pedal_at_forward_horizontal_keeps_the_push_near_the_tangent():
    """A push along the line from knee to pedal is used by the cosine of that line's lean from the plumb line."""
    over = setback_for_knee_over_pedal(LEG, POSITION)
    used = []
    for position in (over, slid_back(over, 60.0), slid_back(over, -60.0)):
        stroke = solve_stroke(LEG, position, 90.0)
        ahead, down = (stroke.pedal_mm - stroke.knee_mm)[0]
        used.append(resolve_on_crank(ahead, down, 90.0).tangential_force_n / np.hypot(ahead, down))
        assert used[-1] == pytest.approx(np.cos(np.arctan2(ahead, -down)))
    assert used[0] == pytest.approx(1.0)
    assert max(used[1:]) < 0.999


def test_a_force_is_used_best_at_a_right_angle_to_the_lever():
    """The useful part of 100 N at an angle of a to the crank is 100·sin a: 50, 86.6, 100, 86.6 N."""
    crank = np.array([30.0, 60.0, 90.0, 120.0])
    assert resolve_on_crank(0.0, -100.0, crank).tangential_force_n == pytest.approx(
        [50.0, 86.603, 100.0, 86.603], abs=1e-3
    )
