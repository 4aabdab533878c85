"""Points of a muscle's line: against the length and the moment arms that the package measures another way."""

import numpy as np
import pytest

from pedalwright.attachments import Attachment, MusclePath, Wrap, path_length_mm, path_moment_arms_mm
from pedalwright.errors import OutOfRangeError
from pedalwright.joint_actions import sketch_of
from pedalwright.muscles import MUSCLES
from pedalwright.path_drawing import drawn_path
from pedalwright.posture import Posture

POSTURES = [Posture(40, 33, -5), Posture(86, 115, -10), Posture(60, 70, 20)]


def length_of(line):
    return np.hypot(*np.diff(line, axis=0).T).sum()


@pytest.mark.parametrize("muscle", MUSCLES)
@pytest.mark.parametrize("posture", POSTURES)
def test_the_line_is_as_long_as_the_package_measures(muscle, posture):
    path = sketch_of(muscle)
    # a drawn arc is a chain of 12 chords, at most 0.2 % shorter than the arc
    assert length_of(drawn_path(path, posture).line_mm) == pytest.approx(float(path_length_mm(path, posture)), rel=2e-3)


@pytest.mark.parametrize("muscle", MUSCLES)
@pytest.mark.parametrize("posture", POSTURES)
def test_the_feet_lie_a_moment_arm_from_the_joints(muscle, posture):
    path = sketch_of(muscle)
    hip = np.zeros(2)
    thigh, shank = np.radians([posture.hip_flexion_deg, posture.hip_flexion_deg - posture.knee_flexion_deg])
    knee = hip + 425 * np.array([np.sin(thigh), -np.cos(thigh)])
    ankle = knee + 425 * np.array([np.sin(shank), -np.cos(shank)])
    arms = path_moment_arms_mm(path, posture)
    for joint, foot in drawn_path(path, posture).arm_feet_mm.items():
        centre = {"hip": hip, "knee": knee, "ankle": ankle}[joint]
        assert np.hypot(*(foot - centre)) == pytest.approx(abs(float(getattr(arms, f"{joint}_mm"))), abs=1e-6)


def test_a_wrapped_line_keeps_off_the_circle_by_hand():
    # knee bent by 90°: thigh down, shank back; the kneecap circle of 40 mm is never cut
    path = MusclePath(Attachment("thigh", 45, -200), Attachment("shank", 45, -100), wrap=Wrap("knee", 40, "front"))
    line = drawn_path(path, Posture(0, 90)).line_mm
    assert len(line) > 4
    between = np.linspace(line[:-1], line[1:], 9).reshape(-1, 2) - (0, -425)
    assert np.hypot(*between.T).min() >= 40 * np.cos(np.radians(90 / 12 / 2)) - 1e-9


def test_tilt_and_hip_move_the_drawing_by_hand():
    # a pelvis rolled forward by 90° turns "up" into "forward"
    path = MusclePath(Attachment("pelvis", 0, 50), Attachment("thigh", 30, -100))
    line = drawn_path(path, Posture(), hip_mm=(10, 20), pelvis_forward_tilt_deg=90).line_mm
    assert line == pytest.approx(np.array([[60, 20], [-90, -10]]))


def test_more_than_one_posture_is_refused():
    with pytest.raises(OutOfRangeError, match="posture: received 2 postures; allowed: one; draw them"):
        drawn_path(sketch_of("soleus"), Posture([0, 10]))
