import itertools
import warnings

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from pedalwright.angle_conventions import (
    ANKLE_CONVENTIONS,
    HIP_CONVENTIONS,
    KNEE_CONVENTIONS,
    convert_ankle_angle_deg,
    convert_hip_angle_deg,
    convert_knee_angle_deg,
    relative_to_standing_deg,
)
from pedalwright.errors import OutOfRangeError
from pedalwright.joints import (
    ankle_plantar_flexion_deg,
    hip_flexion_deg,
    included_angle_deg,
    knee_flexion_deg,
    segment_angle_deg,
    trunk_thigh_angle_deg,
)
from pedalwright.position import Leg, Position
from pedalwright.projection import OutOfPlaneWarning, project_sagittal_mm
from pedalwright.stroke import solve_stroke

COORDINATE = st.floats(-2000, 2000).map(lambda value: round(value, 3))
POINT = st.tuples(COORDINATE, COORDINATE)
ANGLE = st.floats(-179, 179)
FLEXION = st.floats(0, 150)


def apart(*points):
    for first, second in itertools.pairwise(points):
        assume(np.hypot(*np.subtract(first, second)) > 1)


def leg(thigh_deg, knee_deg, lengths=(400.0, 400.0)):
    """Hip, knee and ankle built by hand: thigh direction, then the shank turned clockwise by the flexion."""
    thigh, shank = np.radians(thigh_deg), np.radians(thigh_deg - knee_deg)
    knee = lengths[0] * np.array([np.cos(thigh), np.sin(thigh)])
    return np.zeros(2), knee, knee + lengths[1] * np.array([np.cos(shank), np.sin(shank)])


def mirrored(point):
    return np.asarray(point) * [-1, 1]


@given(ANGLE, FLEXION)
def test_knee_flexion_is_what_the_leg_was_built_with(thigh, flexion):
    assert knee_flexion_deg(*leg(thigh, flexion)) == pytest.approx(flexion, abs=1e-9)


def test_overextended_knee_is_negative_while_the_included_angle_cannot_tell():
    assert knee_flexion_deg(*leg(-90, -8)) == pytest.approx(-8)
    assert included_angle_deg(*leg(-90, -8)) == pytest.approx(172)
    assert included_angle_deg(*leg(-90, 8)) == pytest.approx(172)


def test_fully_turned_back_leg_is_180_and_not_minus_180():
    assert knee_flexion_deg([0, 0], [0, -400], [0, 0]) == 180
    assert included_angle_deg([0, 0], [0, -400], [0, 0]) == 0


@given(POINT, POINT, POINT)
def test_seen_from_the_other_side_a_joint_has_the_same_angle(hip, knee, ankle):
    apart(hip, knee, ankle)
    points = (hip, knee, ankle)
    right, left = knee_flexion_deg(*points), knee_flexion_deg(*map(mirrored, points), facing="left")
    assert np.cos(np.radians(right - left)) == pytest.approx(1)
    assert included_angle_deg(*map(mirrored, points)) == pytest.approx(included_angle_deg(*points), abs=1e-4)
    turned = segment_angle_deg(mirrored(hip), mirrored(knee), facing="left")
    assert np.cos(np.radians(turned - segment_angle_deg(hip, knee))) == pytest.approx(1)


@given(POINT, POINT, POINT, ANGLE, st.floats(0.1, 10), POINT)
def test_angles_do_not_depend_on_where_how_large_or_how_tilted_the_picture_is(a, b, c, turn, scale, shift):
    apart(a, b, c)
    rotation = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    moved = [rotation @ np.multiply(scale, p) + shift for p in (a, b, c)]
    assert included_angle_deg(*moved) == pytest.approx(included_angle_deg(a, b, c), abs=1e-4)
    difference = knee_flexion_deg(*moved) - knee_flexion_deg(a, b, c)
    assert np.cos(np.radians(difference)) == pytest.approx(1)


@given(POINT, POINT, POINT)
def test_included_angle_agrees_with_the_law_of_cosines(a, b, c):
    apart(a, b, c)
    ab, bc, ca = (np.hypot(*np.subtract(p, q)) for p, q in ((a, b), (b, c), (c, a)))
    cosine = (ab**2 + bc**2 - ca**2) / (2 * ab * bc)
    assert np.cos(np.radians(included_angle_deg(a, b, c))) == pytest.approx(cosine, abs=1e-6)


@given(st.floats(-80, 40), FLEXION, st.floats(-40, 30), st.floats(-20, 60), st.floats(0, 90))
def test_landmarks_of_the_leg_on_the_bicycle_give_the_angles_of_the_stroke(thigh, knee, plantar, tilt, trunk):
    hip, knee_point, ankle = leg(thigh, knee)
    shank = thigh - knee
    sole = np.radians(shank + 90 - plantar)
    heel = ankle + np.array([0, -70]) - 60 * np.array([np.cos(sole), np.sin(sole)])
    toe = heel + 250 * np.array([np.cos(sole), np.sin(sole)])
    shoulder = hip + 500 * np.array([np.cos(np.radians(trunk)), np.sin(np.radians(trunk))])
    closed = hip_flexion_deg(hip, knee_point, tilt)
    assert -180 < closed <= 180
    assert (closed - (thigh + 90 + tilt) + 180) % 360 == pytest.approx(180)
    assert ankle_plantar_flexion_deg(knee_point, ankle, heel, toe) == pytest.approx(plantar, abs=1e-6)
    assert trunk_thigh_angle_deg(shoulder, hip, knee_point) == pytest.approx(abs(trunk - thigh), abs=1e-6)
    assert segment_angle_deg(hip, knee_point) == pytest.approx(thigh)


@pytest.mark.parametrize(
    ("thigh", "tilt", "flexion"),
    [
        (30, 59, 179),
        (30, 60, 180),
        (31, 60, -179),
        (90, 90, -90),
        (-90, -90, -90),
        (-179, -90, -179),
        (-179, -91, None),
    ],
)
def test_hip_flexion_stays_above_minus_180_and_up_to_180(thigh, tilt, flexion):
    """Thigh direction + 90 + tilt, by hand: a whole turn is taken off or added; a tilt beyond its range is refused."""
    hip, knee = np.zeros(2), 400 * np.array([np.cos(np.radians(thigh)), np.sin(np.radians(thigh))])
    if flexion is None:
        with pytest.raises(OutOfRangeError):
            hip_flexion_deg(hip, knee, tilt)
    else:
        assert hip_flexion_deg(hip, knee, tilt) == pytest.approx(flexion)
        mirror = hip_flexion_deg(mirrored(hip), mirrored(knee), tilt, facing="left")
        assert mirror == pytest.approx(flexion)


def test_joint_centres_of_a_solved_stroke_give_back_its_angles():
    stroke = solve_stroke(
        Leg(430, 430, 150), Position(740, 200, 170), pedal_angle_deg=8.0, pelvis_forward_tilt_deg=25, trunk_angle_deg=50
    )
    assert knee_flexion_deg(stroke.hip_mm, stroke.knee_mm, stroke.ankle_mm) == pytest.approx(stroke.knee_flexion_deg)
    assert hip_flexion_deg(stroke.hip_mm, stroke.knee_mm, 25) == pytest.approx(stroke.hip_flexion_deg)
    sole = np.array([np.cos(np.radians(-8)), np.sin(np.radians(-8))])
    plantar = ankle_plantar_flexion_deg(stroke.knee_mm, stroke.ankle_mm, stroke.pedal_mm, stroke.pedal_mm + sole)
    assert plantar == pytest.approx(stroke.ankle_plantar_flexion_deg)


def test_closed_hip_conventions_part_when_the_back_bends():
    """Thigh 20° below horizontal, pelvis 40° forward, line to the shoulder at 30°: three numbers for one hip."""
    given = {"pelvis_forward_tilt_deg": 40, "trunk_angle_deg": 30}
    flexion = convert_hip_angle_deg(20, "thigh below horizontal", "thigh to pelvis", **given)
    included = convert_hip_angle_deg(20, "thigh below horizontal", "trunk to thigh", **given)
    assert (flexion, included) == (110, 50)
    assert flexion != 180 - included


@given(FLEXION, st.sampled_from(KNEE_CONVENTIONS), st.sampled_from(KNEE_CONVENTIONS))
def test_knee_conversions_come_back(value, given_as, wanted_as):
    there = convert_knee_angle_deg(value, given_as, wanted_as)
    assert convert_knee_angle_deg(there, wanted_as, given_as) == pytest.approx(value)


@given(st.floats(-40, 60), st.sampled_from(HIP_CONVENTIONS), st.sampled_from(HIP_CONVENTIONS), st.floats(-30, 60))
def test_hip_conversions_come_back(value, given_as, wanted_as, tilt):
    settings = {"pelvis_forward_tilt_deg": tilt, "trunk_angle_deg": 60 - tilt}
    there = convert_hip_angle_deg(value, given_as, wanted_as, **settings)
    assert convert_hip_angle_deg(there, wanted_as, given_as, **settings) == pytest.approx(value)


@given(st.floats(-30, 30), st.sampled_from(ANKLE_CONVENTIONS), st.sampled_from(ANKLE_CONVENTIONS), st.floats(0, 40))
def test_ankle_conversions_come_back(value, given_as, wanted_as, drop):
    settings = {"toe_line_below_sole_deg": drop, "standing_plantar_flexion_deg": 4}
    there = convert_ankle_angle_deg(value, given_as, wanted_as, **settings)
    assert convert_ankle_angle_deg(there, wanted_as, given_as, **settings) == pytest.approx(value)


def test_ankle_conventions_for_a_foot_at_10_deg_of_plantar_flexion():
    settings = {"toe_line_below_sole_deg": 25, "standing_plantar_flexion_deg": 3}
    worked = {
        "plantar flexion": 10,
        "dorsiflexion": -10,
        "dorsiflexion from standing": -7,
        "included angle to the sole": 100,
        "included angle to the toe": 125,
    }
    assert set(worked) == set(ANKLE_CONVENTIONS)
    for name, expected in worked.items():
        assert convert_ankle_angle_deg(10, "plantar flexion", name, **settings) == expected


def test_knee_conventions_for_35_deg_of_flexion():
    worked = {"flexion": 35, "included angle": 145, "extension positive": -35}
    assert set(worked) == set(KNEE_CONVENTIONS)
    for name, expected in worked.items():
        assert convert_knee_angle_deg(35, "flexion", name) == expected


def test_standing_value_is_subtracted():
    assert relative_to_standing_deg([35, 30], 4).tolist() == [31, 26]


def test_projection_keeps_the_sagittal_angle_and_is_silent_for_parallel_planes():
    points = np.array([[0.0, 0, 90], [300, -300, 90], [0, -600, 90]])
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        flat = project_sagittal_mm(points)
    assert knee_flexion_deg(*flat) == pytest.approx(90)


@given(st.floats(-170, 170), st.floats(0, 140), st.floats(-180, 180))
def test_projection_works_in_any_room(thigh, flexion, heading):
    """A room with z up in which the rider heads anywhere: forward (cos, sin, 0), right (sin, −cos, 0)."""
    flat = np.stack(leg(thigh, flexion))
    forward = np.array([np.cos(np.radians(heading)), np.sin(np.radians(heading)), 0])
    right = np.array([np.sin(np.radians(heading)), -np.cos(np.radians(heading)), 0])
    points = flat[:, :1] * forward + flat[:, 1:] * [0, 0, 1] + 120 * right
    assert project_sagittal_mm(points, up=(0, 0, 2), right=3 * right) == pytest.approx(flat, abs=1e-9)


@pytest.mark.parametrize(("lean", "warned"), [(9.9, False), (10.1, True)])
def test_a_segment_that_leans_out_of_the_plane_is_warned_about(lean, warned):
    out = 400 * np.sin(np.radians(lean))
    points = [[0, 0, 0], [0, -400 * np.cos(np.radians(lean)), out], [0, -800, out]]
    with warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("always")
        project_sagittal_mm(points)
    assert bool(caught) is warned
    if warned:
        assert caught[0].category is OutOfPlaneWarning
        assert "10°" in str(caught[0].message)


def test_projection_accepts_landmarks_at_the_same_place():
    assert project_sagittal_mm([[1, 2, 3], [1, 2, 3]]).tolist() == [[1, 2], [1, 2]]


def test_many_riders_and_crank_angles_at_once():
    stroke = solve_stroke(Leg([400, 430], [410, 430], 150), Position(700, 200, 170))
    angles = knee_flexion_deg(stroke.hip_mm, stroke.knee_mm, stroke.ankle_mm)
    assert angles.shape == stroke.knee_flexion_deg.shape == (2, 72)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: knee_flexion_deg([0, 0], [0, 0], [0, -400]), ["hip_mm and knee_mm", "same point"]),
        (lambda: included_angle_deg([0, 0], [0, -400], [0, -400]), ["vertex_mm and last_mm", "same point"]),
        (lambda: knee_flexion_deg([0, 0, 0], [0, -400, 0], [0, -800, 0]), ["shape (3,)", "project_sagittal_mm"]),
        (lambda: segment_angle_deg(3, 4), ["shape ()"]),
        (lambda: segment_angle_deg([0, 0], [1, 0], facing="up"), ["up", "right, left"]),
        (lambda: segment_angle_deg([0, float("nan")], [1, 0]), ["proximal_mm", "nan"]),
        (lambda: hip_flexion_deg([0, 0], [1, 0], 91), ["pelvis_forward_tilt_deg", "91"]),
        (lambda: hip_flexion_deg([0, 0], [1, 0], -91), ["-91"]),
        (lambda: convert_knee_angle_deg(30, "bend", "flexion"), ["bend", "included angle"]),
        (lambda: convert_knee_angle_deg(361, "flexion", "flexion"), ["361"]),
        (lambda: convert_hip_angle_deg(30, "thigh to pelvis", "thigh below horizontal"), ["pelvis_forward_tilt_deg"]),
        (lambda: convert_hip_angle_deg(30, "thigh below horizontal", "trunk to thigh"), ["trunk_angle_deg"]),
        (lambda: convert_hip_angle_deg(30, "thigh below horizontal", "open"), ["open", "trunk to thigh"]),
        (
            lambda: convert_ankle_angle_deg(30, "included angle to the toe", "dorsiflexion"),
            ["toe_line_below_sole_deg"],
        ),
        (
            lambda: convert_ankle_angle_deg(3, "dorsiflexion", "dorsiflexion from standing"),
            ["standing_plantar_flexion_deg"],
        ),
        (lambda: convert_ankle_angle_deg(3, "up", "dorsiflexion"), ["'up'"]),
        (lambda: project_sagittal_mm([[0, 0], [1, 1]]), ["shape (2, 2)"]),
        (lambda: project_sagittal_mm([0, 0, 0]), ["shape (3,)"]),
        (lambda: project_sagittal_mm([[0, 0, 0]], up=(0, 1, 0), right=(0, 1, 1)), ["right angle"]),
        (lambda: project_sagittal_mm([[0, 0, 0]], up=(0, 0, 0)), ["up"]),
        (lambda: project_sagittal_mm([[0, 0, 0]], right=(0, 1)), ["right"]),
        (lambda: project_sagittal_mm([[0, 0, 0]], warn_above_deg=91), ["warn_above_deg"]),
    ],
)
def test_errors_say_what_was_received_and_what_is_allowed(call, words):
    with pytest.raises(OutOfRangeError) as error:
        call()
    for word in words:
        assert word in str(error.value)


@pytest.mark.parametrize(
    ("call", "limits"),
    [
        (lambda v: hip_flexion_deg([0, 0], [1, 0], v), [(-90, -90.1), (90, 90.1)]),
        (lambda v: convert_knee_angle_deg(v, "flexion", "flexion"), [(-360, -360.1), (360, 360.1)]),
        (
            lambda v: convert_hip_angle_deg(v, "thigh below horizontal", "thigh below horizontal"),
            [(-360, -360.1), (360, 360.1)],
        ),
        (
            lambda v: convert_hip_angle_deg(0, "thigh to pelvis", "thigh to pelvis", pelvis_forward_tilt_deg=v),
            [(-90, -90.1), (90, 90.1)],
        ),
        (
            lambda v: convert_hip_angle_deg(0, "trunk to thigh", "trunk to thigh", trunk_angle_deg=v),
            [(-90, -90.1), (180, 180.1)],
        ),
        (lambda v: convert_ankle_angle_deg(v, "dorsiflexion", "dorsiflexion"), [(-360, -360.1), (360, 360.1)]),
        (
            lambda v: convert_ankle_angle_deg(0, "dorsiflexion", "dorsiflexion", toe_line_below_sole_deg=v),
            [(0, -0.1), (60, 60.1)],
        ),
        (
            lambda v: convert_ankle_angle_deg(0, "dorsiflexion", "dorsiflexion", standing_plantar_flexion_deg=v),
            [(-60, -60.1), (60, 60.1)],
        ),
        (lambda v: project_sagittal_mm([[0, 0, 0]], warn_above_deg=v), [(0, -0.1), (90, 90.1)]),
    ],
)
def test_limits_are_where_they_are_said_to_be(call, limits):
    for inside, outside in limits:
        call(inside)
        with pytest.raises(OutOfRangeError):
            call(outside)


def test_the_warning_is_laid_at_the_callers_door():
    with pytest.warns(OutOfPlaneWarning, match="limit 10°") as caught:
        project_sagittal_mm([[0, 0, 0], [0, -400, 300]])
    assert caught[0].filename == __file__


def test_directions_of_the_room_may_be_off_by_rounding_only():
    project_sagittal_mm([[0, 0, 0]], up=(0, 1, 0), right=(0, 5e-7, 1))
    with pytest.raises(OutOfRangeError, match="right angle"):
        project_sagittal_mm([[0, 0, 0]], up=(0, 1, 0), right=(0, 1e-5, 1))
    with pytest.raises(OutOfRangeError, match="right angle"):
        project_sagittal_mm([[0, 0, 0]], up=(0, 1, 0), right=(0, -1e-5, 1))
