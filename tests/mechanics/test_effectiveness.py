"""Effectiveness figures: closed forms, and one ride read by two meters."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from pedalwright.effectiveness import (
    DEFAULT_METER,
    METERS,
    index_of_effectiveness,
    pedal_smoothness_pct,
    torque_effectiveness_pct,
    torques_seen_by_meter_nm,
)
from pedalwright.errors import OutOfRangeError
from pedalwright.force import both_legs_torque_nm, resolve_on_crank

TURN = np.radians(np.arange(360))


# Closed forms: a sine drives and brakes alike; a half sine never brakes and has the mean 1/π of its peak.
def test_sine_and_half_sine():
    sine = 30 * np.sin(TURN)
    np.testing.assert_allclose(torque_effectiveness_pct(sine), 0, atol=1e-9)
    np.testing.assert_allclose(pedal_smoothness_pct(sine), 0, atol=1e-9)
    half = np.maximum(sine, 0)
    np.testing.assert_allclose(torque_effectiveness_pct(half), 100)
    np.testing.assert_allclose(pedal_smoothness_pct(half), 31.83, atol=0.005)


def test_even_torque_is_perfectly_smooth():
    assert pedal_smoothness_pct([7.0, 7.0, 7.0]) == 100
    assert torque_effectiveness_pct([7.0, 7.0, 7.0]) == 100


def test_each_rider_has_a_figure():
    torque = [[30, 20, -10, 0], [20, 20, 20, 20]]
    assert torque_effectiveness_pct(torque).tolist() == [80.0, 100.0]
    assert pedal_smoothness_pct(torque).tolist() == [100 / 3, 100.0]


def test_small_loads_and_narrow_sectors_count_too():
    assert torque_effectiveness_pct([0.02, 0.0, 0.0]) == 100
    np.testing.assert_allclose(pedal_smoothness_pct([0.02, 0.0, 0.01]), 50)
    narrow = index_of_effectiveness([0.01, 0.01, 0.01], [0.02, 0.02, 0.02], sector_deg=(90, 90.5))
    np.testing.assert_allclose(narrow, 0.5)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (
            lambda: torque_effectiveness_pct([0, 0, 0]),
            "driving torque: received 0; allowed: above 0; check the sign: torque",
        ),
        (
            lambda: pedal_smoothness_pct([0, 0, 0]),
            "highest torque: received 0; allowed: above 0; give a turn that drives",
        ),
        (
            lambda: index_of_effectiveness([1, 1, 1], [0, 0, 0]),
            "resultant force over the sector: received 0; allowed: above 0; choose a sector with load",
        ),
        (lambda: index_of_effectiveness([1, 1, 1], [1, 1, 1], sector_deg=(np.nan, 90)), "sector_deg: received nan; "),
        (lambda: index_of_effectiveness([1, 1, 1], [1, 1, 1], sector_deg=(90, 90)), "sector_deg: received (90, 90); "),
        (lambda: index_of_effectiveness([1, 1, 1], [1, 1]), "resultant_force_n: received 2 samples; "),
        (lambda: torques_seen_by_meter_nm([1, 2, 3], [1, 2, 3], "hub"), "meter: received 'hub'; allowed: each pedal, "),
    ],
)
def test_messages(call, message):
    with pytest.raises(OutOfRangeError) as caught:
        call()
    assert str(caught.value).startswith(message)


def test_the_sector_message_ends_with_what_to_do():
    with pytest.raises(OutOfRangeError, match=r"; add 360 to an end that lies past the top$"):
        index_of_effectiveness([1, 1, 1], [1, 1, 1], sector_deg=(270, 90))


# A constant push straight down: tangential F·sin θ. Over the falling half ∫sin/π = 2/π; over the turn 0 (closed form).
def test_index_of_a_push_straight_down():
    force = resolve_on_crank(0, -300, np.arange(0, 360, 0.5))
    parts = force.tangential_force_n, force.resultant_force_n
    np.testing.assert_allclose(index_of_effectiveness(*parts), 0, atol=1e-9)
    np.testing.assert_allclose(index_of_effectiveness(*parts, sector_deg=(0, 180)), 2 / np.pi, rtol=1e-4)
    np.testing.assert_allclose(index_of_effectiveness(*parts, sector_deg=(180, 360)), -2 / np.pi, rtol=1e-4)
    np.testing.assert_allclose(
        index_of_effectiveness(*parts, sector_deg=(67.5, 135)),
        (np.cos(np.radians(67.5)) - np.cos(np.radians(135))) / np.radians(67.5),
        rtol=1e-4,
    )


def test_a_sector_may_pass_the_top():
    useful = np.array([[1.0, 2.0, 3.0, 4.0]])
    whole = np.full((1, 4), 4.0)
    # From 270° over the top to 90°: (4+1)/2 and (1+2)/2 over two quarter turns of load 4 (by hand).
    np.testing.assert_allclose(index_of_effectiveness(useful, whole, sector_deg=(270, 450)), [(2.5 + 1.5) / 8])


@given(arrays(float, (2, 24), elements=st.floats(-300, 300)))
def test_index_lies_between_minus_one_and_one(force):
    result = resolve_on_crank(force[0], force[1] - 400, np.arange(24) * 15.0)
    assert -1 - 1e-9 <= index_of_effectiveness(result.tangential_force_n, result.resultant_force_n) <= 1 + 1e-9


@given(arrays(float, 24, elements=st.floats(-50, 50)), arrays(float, 24, elements=st.floats(-50, 50)))
def test_meters_see_the_same_work(right, left):
    each = torques_seen_by_meter_nm(right, left, "each pedal")
    axle = torques_seen_by_meter_nm(right, left, "crank axle")
    np.testing.assert_allclose(each, (right, left))
    np.testing.assert_allclose(axle[0], both_legs_torque_nm(right, left), atol=1e-9)
    np.testing.assert_allclose(axle[1], np.roll(axle[0], 12), atol=1e-9)
    np.testing.assert_allclose(axle[0].sum(), right.sum() + left.sum(), atol=1e-8)


def test_a_meter_in_the_axle_hides_the_drag_of_one_leg():
    leg = 20 + 40 * np.sin(TURN)
    right, _ = torques_seen_by_meter_nm(leg, leg, "crank axle")
    assert torque_effectiveness_pct(leg) < 90
    np.testing.assert_allclose(torque_effectiveness_pct(right), 100)


def test_the_default_meter_is_each_pedal_and_every_meter_says_why():
    assert DEFAULT_METER == "each pedal"
    assert all(METERS.values())
    np.testing.assert_allclose(torques_seen_by_meter_nm([1, 2, 3], [4, 5, 6]), ([1, 2, 3], [4, 5, 6]))


@pytest.mark.parametrize(
    "call",
    [
        lambda: torque_effectiveness_pct([-1, -2, -3]),
        lambda: torque_effectiveness_pct([0, 0, 0]),
        lambda: pedal_smoothness_pct([-1, 0, -3]),
        lambda: pedal_smoothness_pct([1, 2]),
        lambda: torque_effectiveness_pct([1, 2]),
        lambda: index_of_effectiveness([1, 1, 1], [0, 0, 0]),
        lambda: index_of_effectiveness([1, 1, 1], [1, -1, 1]),
        lambda: index_of_effectiveness([1, 1], [1, 1]),
        lambda: index_of_effectiveness([1, 1, 1], [1, 1]),
        lambda: index_of_effectiveness([1, 1, 1], [1, 1, 1], sector_deg=(90, 90)),
        lambda: index_of_effectiveness([1, 1, 1], [1, 1, 1], sector_deg=(90, 0)),
        lambda: index_of_effectiveness([1, 1, 1], [1, 1, 1], sector_deg=(0, 361)),
        lambda: index_of_effectiveness([1, 1, 1], [1, 1, 1], sector_deg=(0, 90, 180)),
        lambda: torques_seen_by_meter_nm([1, 2, 3], [1, 2, 3], "hub"),
        lambda: torques_seen_by_meter_nm([1, 2], [1, 2, 3]),
        lambda: torques_seen_by_meter_nm([1, 2, 3], [1, 2]),
    ],
)
def test_wrong_values_are_refused(call):
    with pytest.raises(OutOfRangeError, match=r"received .*; allowed: .*; "):
        call()
