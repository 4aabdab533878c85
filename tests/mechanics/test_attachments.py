import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pedalwright.attachments import Attachment, MusclePath, Wrap, path_length_mm, path_moment_arms_mm
from pedalwright.errors import OutOfRangeError
from pedalwright.joint_actions import joint_actions, length_change_by_joint_mm, sketch_of
from pedalwright.muscles import MUSCLES, moment_arms_mm
from pedalwright.position import Leg, Position
from pedalwright.posture import Posture
from pedalwright.stroke import solve_stroke

JOINTS = ("hip", "knee", "ankle")
HIP, KNEE, ANKLE = st.floats(-20, 120), st.floats(0, 130), st.floats(-30, 50)
POSTURES = st.builds(Posture, HIP, KNEE, ANKLE)
HAMSTRING = MusclePath(Attachment("pelvis", -48, -41), Attachment("shank", -34, -35))
SIZE = {"thigh_length_mm": 400.0, "shank_length_mm": 390.0}


def moved(posture, joint, step):
    angles = [posture.hip_flexion_deg, posture.knee_flexion_deg, posture.ankle_plantar_flexion_deg]
    angles[JOINTS.index(joint)] += step
    return Posture(*angles)


@pytest.mark.parametrize("muscle", MUSCLES)
@settings(max_examples=40, deadline=None)
@given(POSTURES, st.sampled_from(JOINTS))
def test_virtual_work_holds_for_every_sketch(muscle, posture, joint):
    """Arms come from distances, lengths from the line: two computations that physics ties together."""
    path = sketch_of(muscle, **SIZE)
    step = 1e-3
    ahead, behind = (path_length_mm(path, moved(posture, joint, s), **SIZE) for s in (step, -step))
    arm = getattr(path_moment_arms_mm(path, posture, **SIZE), f"{joint}_mm")
    assert arm == pytest.approx(-(ahead - behind) / np.radians(2 * step), abs=0.02)


POINT = st.tuples(st.floats(-80, 80), st.floats(-80, 80))


@settings(max_examples=100, deadline=None)
@given(POINT, POINT, POSTURES, st.sampled_from([("pelvis", "thigh"), ("thigh", "shank"), ("pelvis", "foot")]))
def test_virtual_work_holds_for_any_pair_of_attachments(first, last, posture, segments):
    path = MusclePath(Attachment(segments[0], *first), Attachment(segments[1], *last))
    if path_length_mm(path, posture, **SIZE) < 5:
        return
    for joint in JOINTS:
        ahead, behind = (path_length_mm(path, moved(posture, joint, s), **SIZE) for s in (1e-3, -1e-3))
        arm = getattr(path_moment_arms_mm(path, posture, **SIZE), f"{joint}_mm")
        assert arm == pytest.approx(-(ahead - behind) / np.radians(2e-3), abs=0.05)


@given(POSTURES, st.floats(0.5, 2))
def test_everything_grows_with_the_body(posture, factor):
    larger = MusclePath(
        *(
            Attachment(p.segment, p.forward_mm * factor, p.up_mm * factor)
            for p in (HAMSTRING.origin, HAMSTRING.insertion)
        )
    )
    big = {name: factor * value for name, value in SIZE.items()}
    assert path_length_mm(larger, posture, **big) == pytest.approx(factor * path_length_mm(HAMSTRING, posture, **SIZE))
    small_arms, big_arms = (
        path_moment_arms_mm(path, posture, **size) for path, size in ((HAMSTRING, SIZE), (larger, big))
    )
    assert big_arms.knee_mm == pytest.approx(factor * small_arms.knee_mm, abs=1e-9)


@given(KNEE)
def test_a_triangle_by_the_law_of_cosines(knee):
    """Origin on the thigh's axis 150 mm above the knee, insertion 60 mm below: length and arm by the cosine rule."""
    path = MusclePath(Attachment("thigh", 0, -250), Attachment("shank", 0, -60))
    inside = np.radians(180 - knee)
    length = np.sqrt(150**2 + 60**2 - 2 * 150 * 60 * np.cos(inside))
    arm = 150 * 60 * np.sin(inside) / length
    posture = Posture(30, knee, 0)
    assert path_length_mm(path, posture, **SIZE) == pytest.approx(length)
    assert path_moment_arms_mm(path, posture, **SIZE).knee_mm == pytest.approx(arm, abs=1e-9)


def test_upright_line_is_a_distance_on_paper():
    """Origin (−48, −41), insertion (−34, −400−35) with a thigh of 400 mm: √(14² + 394²)."""
    assert path_length_mm(HAMSTRING, Posture(), **SIZE) == pytest.approx(np.hypot(14, 394))


@given(st.floats(20, 125))
def test_a_wrapped_joint_has_a_constant_arm_and_winds_up_arc(knee):
    path = MusclePath(Attachment("thigh", 25, -200), Attachment("shank", 35, -60), wrap=Wrap("knee", 38, "front"))
    arms = path_moment_arms_mm(path, Posture(0, knee, 0), **SIZE)
    assert arms.knee_mm == pytest.approx(-38)
    change = path_length_mm(path, Posture(0, knee, 0), **SIZE) - path_length_mm(path, Posture(0, 20, 0), **SIZE)
    assert change == pytest.approx(38 * np.radians(knee - 20))


def test_wrapped_length_by_tangents_and_arc():
    """Straight leg, points 100 mm above and below the knee in line with it: tangents √(100² − 30²), arc 2·asin(0.3)."""
    path = MusclePath(Attachment("thigh", 0, -300), Attachment("shank", 0, -100), wrap=Wrap("knee", 30, "front"))
    expected = 2 * np.sqrt(100**2 - 30**2) + 30 * 2 * np.arcsin(0.3)
    assert path_length_mm(path, Posture(), **SIZE) == pytest.approx(expected)
    behind = MusclePath(path.origin, path.insertion, wrap=Wrap("knee", 30, "back"))
    assert path_length_mm(behind, Posture(), **SIZE) == pytest.approx(expected)
    assert path_moment_arms_mm(behind, Posture(), **SIZE).knee_mm == pytest.approx(30)
    assert path_moment_arms_mm(path, Posture(), **SIZE).knee_mm == pytest.approx(-30)


def test_a_circle_that_is_not_touched_changes_nothing():
    plain = MusclePath(Attachment("thigh", -40, -300), Attachment("shank", -40, -80))
    held = MusclePath(plain.origin, plain.insertion, wrap=Wrap("knee", 10, "back"))
    posture = Posture(0, np.array([0.0, 30.0, 60.0]), 0)
    assert path_length_mm(held, posture, **SIZE) == pytest.approx(path_length_mm(plain, posture, **SIZE))
    assert path_moment_arms_mm(held, posture, **SIZE).knee_mm == pytest.approx(
        path_moment_arms_mm(plain, posture, **SIZE).knee_mm
    )


def test_a_via_point_on_the_line_changes_nothing_and_off_it_lengthens():
    plain = MusclePath(Attachment("shank", 20, -100), Attachment("foot", 60, -20))
    straight = path_length_mm(plain, Posture(), **SIZE)
    middle = Attachment("shank", 40, -245)  # half-way, the ankle lying 390 mm below the knee: (20, −100) to (60, −410)
    on_line = MusclePath(plain.origin, plain.insertion, via=Attachment("shank", 40, -255))
    assert path_length_mm(on_line, Posture(), **SIZE) == pytest.approx(straight)
    assert path_length_mm(MusclePath(plain.origin, plain.insertion, via=middle), Posture(), **SIZE) > straight


def test_a_two_joint_line_can_keep_its_length_while_both_joints_open():
    """The thigh's long muscles as pedalling legs use them: hip and knee open together, the hamstring hardly changes."""
    change = length_change_by_joint_mm(HAMSTRING, Posture(85, 100), Posture(50, 40))
    assert change.hip_mm < -20
    assert change.knee_mm > 20
    assert abs(change.total_mm) < 0.5 * min(-change.hip_mm, change.knee_mm)


@given(POSTURES, POSTURES)
@settings(deadline=None)
def test_parts_of_the_joints_add_up(before, after):
    change = length_change_by_joint_mm(HAMSTRING, before, after, **SIZE)
    assert change.hip_mm + change.knee_mm + change.ankle_mm == pytest.approx(change.total_mm, abs=0.05)
    assert change.ankle_mm == 0


EXPECTED = {  # anatomy, from memory: what any textbook says of each muscle
    "gluteus maximus": {"hip": "extends"},
    "vasti": {"knee": "extends"},
    "rectus femoris": {"hip": "flexes", "knee": "extends"},
    "biceps femoris, long head": {"hip": "extends", "knee": "flexes"},
    "semimembranosus": {"hip": "extends", "knee": "flexes"},
    "biceps femoris, short head": {"knee": "flexes"},
    "gastrocnemius": {"knee": "flexes", "ankle": "plantar-flexes"},
    "soleus": {"ankle": "plantar-flexes"},
    "tibialis anterior": {"ankle": "dorsiflexes"},
    "iliopsoas": {"hip": "flexes"},
}


@pytest.mark.parametrize("muscle", MUSCLES)
def test_sketches_act_as_anatomy_says_over_the_whole_range(muscle):
    assert {one.joint: one.action for one in joint_actions(sketch_of(muscle))} == EXPECTED[muscle]


@pytest.mark.parametrize("muscle", MUSCLES)
def test_sketches_come_near_the_published_arms(muscle):
    """Hand-placed lines against the arms of a published leg model of the same size, over the postures of pedalling."""
    size = {"thigh_length_mm": 406.1, "shank_length_mm": 400.0}
    angles = np.linspace(0, 1, 8)
    posture = Posture(40 + 55 * angles, 35 + 75 * angles, 15 - 25 * angles)
    drawn = path_moment_arms_mm(sketch_of(muscle, **size), posture, **size)
    published = moment_arms_mm(muscle, posture)
    for joint in JOINTS:
        assert getattr(drawn, f"{joint}_mm") == pytest.approx(getattr(published, f"{joint}_mm"), abs=27)
        assert np.all(np.sign(getattr(drawn, f"{joint}_mm")) == np.sign(getattr(published, f"{joint}_mm")))


def test_a_line_whose_pull_turns_says_so_and_where():
    """From in front of the hip to a point on the thigh's axis: the sign turns where the three points stand in line."""
    path = MusclePath(Attachment("pelvis", 30, -30), Attachment("thigh", 0, -200))
    (action,) = joint_actions(path, {"hip": (-20, 120)})
    assert action.action == "flexes or extends"
    assert action.turns_at_deg == pytest.approx([45], abs=0.2)  # the thigh then points along (30, −30)
    assert action.least_arm_mm < 0 < action.greatest_arm_mm


def test_a_line_through_the_joint_hardly_acts():
    (action,) = joint_actions(MusclePath(Attachment("thigh", 0, -200), Attachment("shank", 0, 0.2)))
    assert action.action == "hardly acts"


def test_words_for_a_change_of_length():
    rising = length_change_by_joint_mm(sketch_of("soleus"), Posture(), Posture(0, 0, 20))
    assert rising.in_words().endswith("mm shorter")
    both = length_change_by_joint_mm(HAMSTRING, Posture(85, 100), Posture(50, 40))
    assert "the hip" in both.in_words()
    assert "the knee" in both.in_words()
    none = length_change_by_joint_mm(HAMSTRING, Posture(), Posture())
    assert none.in_words() == "about as long as before"


def test_lines_follow_a_stroke_of_many_riders():
    stroke = solve_stroke(Leg([400, 420], [400, 420], 150), Position(690, 200, 170))
    lengths = path_length_mm(HAMSTRING, stroke)
    assert lengths.shape == (2, 72)
    assert path_moment_arms_mm(HAMSTRING, stroke).hip_mm.shape == (2, 72)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: MusclePath(Attachment("shank", 0, 0), Attachment("thigh", 0, 0)), ["shank, thigh", "swap"]),
        (lambda: MusclePath(Attachment("thigh", 0, 0), Attachment("thigh", 0, -9)), ["thigh, thigh"]),
        (lambda: MusclePath(Attachment("arm", 0, 0), Attachment("thigh", 0, -9)), ["'arm'", "pelvis"]),
        (
            lambda: MusclePath(HAMSTRING.origin, HAMSTRING.insertion, via=Attachment("foot", 0, 0)),
            ["pelvis, foot, shank"],
        ),
        (lambda: MusclePath(HAMSTRING.origin, HAMSTRING.insertion, wrap=Wrap("ankle", 9, "front")), ["ankle"]),
        (lambda: MusclePath(HAMSTRING.origin, HAMSTRING.insertion, wrap=Wrap("knee", 9, "inside")), ["inside"]),
        (lambda: MusclePath(HAMSTRING.origin, HAMSTRING.insertion, wrap=Wrap("knee", 0, "front")), ["radius_mm"]),
        (
            lambda: path_length_mm(
                MusclePath(HAMSTRING.origin, HAMSTRING.insertion, wrap=Wrap("knee", 60, "back")), Posture()
            ),
            ["60", "48.8"],
        ),
        (lambda: path_length_mm(HAMSTRING, Posture(200)), ["hip_flexion_deg"]),
        (lambda: path_length_mm(HAMSTRING, Posture(), thigh_length_mm=0), ["thigh_length_mm"]),
        (lambda: joint_actions(HAMSTRING, {"hip": (0, 90)}), ["nothing for the knee"]),
        (lambda: joint_actions(HAMSTRING, {"hip": (90, 0), "knee": (0, 90)}), ["(90, 0) for the hip"]),
        (lambda: sketch_of("heart"), ["heart", "vasti"]),
    ],
)
def test_errors_say_what_was_received_and_what_is_allowed(call, words):
    with pytest.raises(OutOfRangeError) as error:
        call()
    for word in words:
        assert word in str(error.value)
