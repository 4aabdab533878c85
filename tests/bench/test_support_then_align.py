"""The bench of the order of work: its knees against a triangle by hand, its sentence against its numbers."""

import math
import re

import pytest
from matplotlib.figure import Figure

from pedalwright_bench.bench import bench
from pedalwright_bench.benches.support_then_align.draw import BOXES, Support, Way
from pedalwright_bench.benches.support_then_align.model import order_in_words, seat_in_words, step_in_words

BENCH = bench("support-then-align")
# The invented rider of the benches, typed here again: thigh, shank, ankle to pedal 150 at 35° under level, crank 170;
# saddle 735 along a line with 198 of setback, hip joint 40 ahead of it and 30 above, hip joints 170 apart.
THIGH, SHANK = 428.75, 430.5


def knee_by_hand_deg(raised_mm, hip_lifted_mm):
    """Law of cosines, with the saddle slid along its line and the hip lifted or let down."""
    share = (735 + raised_mm) / 735
    hip = (-198 * share + 40, share * math.sqrt(735**2 - 198**2) + 30 + hip_lifted_mm)
    ankle = (-150 * math.cos(math.radians(35)), -170 + 150 * math.sin(math.radians(35)))
    reach = math.dist(hip, ankle)
    return 180 - math.degrees(math.acos((THIGH**2 + SHANK**2 - reach**2) / (2 * THIGH * SHANK)))


@pytest.mark.parametrize("slope", [0, 2, 4])
def test_both_knees_as_found_by_hand(slope):
    lifted = 85 * math.sin(math.radians(slope))
    found = BENCH.at(1, 0, slope).now
    assert found.right_deg == pytest.approx(knee_by_hand_deg(-15, lifted), abs=1e-6)
    assert found.left_deg == pytest.approx(knee_by_hand_deg(-15, -lifted), abs=1e-6)


@pytest.mark.parametrize("slope", [0, 2, 4])
def test_saddle_first_by_hand(slope):
    """The saddle that gives the right knee 30° on the sloping seat by halving, then seat and feet."""
    lifted = 85 * math.sin(math.radians(slope))
    low, high = -15.0, 30.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if knee_by_hand_deg(middle, lifted) > 30 else (low, middle)
    set_once, levelled, with_beds = (BENCH.at(1, step, slope) for step in (1, 2, 3))
    assert set_once.now.saddle_mm == pytest.approx(low + 15, abs=1e-6)
    assert set_once.now.right_deg == pytest.approx(30)
    assert levelled.now.right_deg == pytest.approx(knee_by_hand_deg(low, 0), abs=1e-6)
    assert with_beds.now.right_deg == pytest.approx(knee_by_hand_deg(low, -4), abs=1e-6)


def test_support_undoes_a_saddle_that_was_set_before_it():
    for slope in (0, 2, 4):
        after = BENCH.at(1, 3, slope)
        assert after.now.right_deg > 30 + 1
        assert after.still_to_move_mm > 3
        assert BENCH.at(1, 4, slope).times_set == 2
    assert BENCH.at(1, 3, 4).still_to_move_mm > BENCH.at(1, 3, 2).still_to_move_mm > BENCH.at(1, 3, 0).still_to_move_mm


def test_support_first_sets_the_saddle_once():
    for slope in (0, 2, 4):
        done = BENCH.at(2, 4, slope)
        assert done.times_set == 1
        assert (done.now.right_deg, done.now.left_deg) == pytest.approx((30, 30))
        assert done.still_to_move_mm == pytest.approx(0, abs=1e-9)


def test_both_orders_end_in_the_same_place():
    for slope in (0, 2, 4):
        one, other = BENCH.at(1, 4, slope).now, BENCH.at(2, 4, slope).now
        assert (one.right_deg, one.left_deg, one.saddle_mm) == pytest.approx(
            (other.right_deg, other.left_deg, other.saddle_mm)
        )


def test_what_is_still_to_move_brings_the_knee_to_the_aim():
    for _, values in BENCH.states():
        found = BENCH.at(*values)
        lifted = 85 * math.sin(math.radians(found.now.seat_deg)) - found.now.footbed_mm
        there = found.now.saddle_mm - 15 + found.still_to_move_mm
        assert knee_by_hand_deg(there, lifted) == pytest.approx(30, abs=1e-6)


def test_the_order_cannot_be_told_by_the_tool():
    """6° is the smallest change of a digital inclinometer (Hancock et al. 2018, abstract): the bench says so."""
    assert all(abs(BENCH.at(1, 3, slope).now.right_deg - 30) < 6 for slope in (0, 2, 4))
    assert "smaller than the tool can tell" in dict(BENCH.notes)["What follows, and how well it is known"]


@pytest.mark.parametrize("values", [(1, 0, 4), (1, 3, 2), (1, 4, 4), (2, 1, 0), (2, 2, 2), (2, 4, 4)])
def test_the_sentence_says_the_numbers(values):
    found, said = BENCH.at(*values), BENCH.sentence(BENCH.at(*values))
    order, step, slope = values
    assert said.startswith("Saddle first" if order == 1 else "Support first")
    assert (f"whose right side was {slope}° higher" if slope else "a seat found level") in said
    assert (f"after step {step} ({found.now.name})" if step else "as found, the right knee") in said
    assert f"right knee bends {found.now.right_deg:.1f}° and the left {found.now.left_deg:.1f}°" in said
    times = {0: "was not set yet", 1: "was set once", 2: "was set twice"}[found.times_set]
    assert times in said
    if found.still_to_move_mm > 0.5:
        assert said.endswith(f"has still to go up by {found.still_to_move_mm:.0f} mm.")
    else:
        assert said.endswith("it is where it belongs.")
    assert said.count(".") - len(re.findall(r"\d\.\d", said)) == 1  # one sentence


def test_the_picture_shows_the_way_up_to_now():
    way, support = (
        make(Figure(), box, "wide") for make, box in ((Way, BOXES["wide"]["way"]), (Support, BOXES["wide"]))
    )
    for _, values in BENCH.states():
        found = BENCH.at(*values)
        way.update(found)
        support.update(found)
        assert list(way._knees[0].get_ydata()) == [step.right_deg for step in found.done]
        assert list(way._knees[1].get_ydata()) == [step.left_deg for step in found.done]
        assert support._foot_words.get_text() == ("footbed, 4 mm" if found.now.footbed_mm else "no footbed")
        right, left = support._seat.get_xy()[1], support._seat.get_xy()[0]
        slope = math.degrees(math.atan2(right[1] - left[1], right[0] - left[0]))
        assert slope == pytest.approx(found.now.seat_deg)


def test_the_prediction_is_right_in_the_default_state():
    prediction = BENCH.prediction(BENCH.at(*BENCH.defaults))
    (right,) = (choice for choice in prediction.choices if choice.right)
    assert right.text == "It bends more"
    assert f"to {BENCH.at(1, 3, 4).now.right_deg:.1f}°" in right.reply


def test_words_and_cautions():
    assert [order_in_words(v, "") for v in (1, 2)] == ["saddle first", "support first"]
    assert [step_in_words(v, "") for v in (0, 3)] == ["as found", "after step 3"]
    assert [seat_in_words(v, "°") for v in (0, 2)] == ["level", "right side 2° higher"]
    assert len(list(BENCH.states())) <= 45
    text = BENCH.target + " ".join(text for _, text in BENCH.notes)
    for needed in ("common practice", "teaching model", "no trial compared", "physiotherapist"):
        assert needed in text
