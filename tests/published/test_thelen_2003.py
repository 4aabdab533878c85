"""Thelen 2003, J Biomech Eng 125:70-77: Hill-type muscle with constants of young adults.

Constants read in a public data file that cites the paper; the numbers below were worked out from the paper's
equations as quoted there, outside this package.
"""

import pytest

from pedalwright.hill import (
    HILL_CONSTANTS,
    activation_rate_per_s,
    active_force_length,
    force_velocity,
    passive_force,
    tendon_force,
)


def test_constants():
    young = HILL_CONSTANTS["thelen_2003"]
    assert (young.active_width, young.passive_shape, young.passive_strain) == (0.45, 5, 0.6)
    assert (young.velocity_shape, young.lengthening_force, young.max_velocity_per_s) == (0.25, 1.4, 10)
    assert (young.tendon_strain, young.tendon_shape) == (0.04, 3)
    assert (young.activation_ms, young.deactivation_ms) == (15, 50)


def test_active_force_length():
    assert active_force_length([0.5, 0.8, 1.4]) == pytest.approx([0.5738, 0.9149, 0.7008], abs=1e-4)


def test_passive_force():
    assert passive_force([1.3, 1.5, 1.6]) == pytest.approx([0.0759, 0.4308, 1.0], abs=1e-4)


def test_shortening():
    assert force_velocity([-0.1, -0.25, -0.5]) == pytest.approx([0.6429, 0.3750, 0.1667], abs=1e-4)


def test_greatest_power_of_shortening():
    """Force and velocity both 0.30902 of their greatest, power 0.09549: the closed form for a curvature of 0.25."""
    assert force_velocity(-0.30902) == pytest.approx(0.30902, abs=1e-5)
    power = [-v * force_velocity(v) for v in (-0.30902, -0.29, -0.33)]
    assert power[0] == pytest.approx(0.09549, abs=1e-5)
    assert power[0] > max(power[1:])


def test_lengthening():
    assert force_velocity([0.1, 0.5]) == pytest.approx([1.2857, 1.3704], abs=1e-4)


def test_tendon():
    assert tendon_force([0.01, 0.02, 0.04]) == pytest.approx([0.0420, 0.1857, 0.9994], abs=1e-4)


def test_activation_time_constants():
    """15 ms · (0.5 + 1.5 a) rising, 50 ms / (0.5 + 1.5 a) falling (form of the equation from memory)."""
    assert activation_rate_per_s(1, 0.5) == pytest.approx(0.5 / (0.015 * 1.25))
    assert activation_rate_per_s(0, 0.5) == pytest.approx(-0.5 / (0.050 / 1.25))


def test_the_shared_leg_model_uses_other_constants():
    """Read in the shared file of the older leg model: γ 0.5, k 4, Af 0.3, F 1.8, strain 0.033, 10 and 40 ms."""
    shared = HILL_CONSTANTS["gait2392"]
    assert (shared.active_width, shared.passive_shape, shared.velocity_shape) == (0.5, 4, 0.3)
    assert (shared.lengthening_force, shared.tendon_strain) == (1.8, 0.033)
    assert (shared.activation_ms, shared.deactivation_ms) == (10, 40)
    assert force_velocity(-0.25, "gait2392") == pytest.approx(0.75 / (1 + 0.25 / 0.3))
    assert active_force_length(0.5, "gait2392") == pytest.approx(0.6065, abs=1e-4)  # exp(−0.5)
