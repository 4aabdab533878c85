"""Knee load: range, signs, and the triangle of forces at the kneecap."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pedalwright.errors import OutOfRangeError
from pedalwright.knee import knee_load, patellar_tendon_arm_mm, patellofemoral_ratio, quadriceps_arm_mm

flexions = st.floats(0, 90)


@given(flexions, st.floats(0.1, 200))
def test_loads_grow_in_step_with_the_moment(flexion, moment):
    one, two = knee_load(moment, flexion), knee_load(2 * moment, flexion)
    for name in ("quadriceps_force_n", "patellar_tendon_force_n", "patellofemoral_force_n"):
        assert getattr(one, name) > 0
        np.testing.assert_allclose(getattr(two, name), 2 * getattr(one, name))


@given(flexions)
def test_each_tendon_makes_the_moment_with_its_own_arm(flexion):
    load = knee_load(40, flexion)
    np.testing.assert_allclose(load.quadriceps_force_n * quadriceps_arm_mm(flexion), 40_000)
    np.testing.assert_allclose(load.patellar_tendon_force_n * patellar_tendon_arm_mm(flexion), 40_000)
    np.testing.assert_allclose(load.patellofemoral_force_n, patellofemoral_ratio(flexion) * load.quadriceps_force_n)


# Equilibrium of the kneecap: three forces in balance form a triangle, so none exceeds the sum of the others. The fits
# come from different knees, hence the allowance of a tenth.
@given(st.floats(0, 90))
def test_the_three_forces_can_form_a_triangle(flexion):
    load = knee_load(40, flexion)
    forces = np.array([load.quadriceps_force_n, load.patellar_tendon_force_n, load.patellofemoral_force_n])
    assert 2 * forces.max() <= forces.sum() * 1.1


def test_a_flexor_moment_lets_the_quadriceps_rest():
    load = knee_load([-30, 0, 30], [10, 20, 30])
    assert load.quadriceps_force_n[:2].tolist() == [0, 0]
    assert load.patellofemoral_force_n[2] > 0


@pytest.mark.parametrize("function", [quadriceps_arm_mm, patellar_tendon_arm_mm, patellofemoral_ratio])
@pytest.mark.parametrize("flexion", [-0.1, 90.1, np.nan, [45, 110]])
def test_outside_the_range_of_the_fits_is_refused(function, flexion):
    with pytest.raises(OutOfRangeError, match=r"at least 0 and at most 90; leave out the crank angles"):
        function(flexion)


def test_wrong_moments_are_refused():
    with pytest.raises(OutOfRangeError, match="knee_extension_moment_nm"):
        knee_load(np.nan, 30)
    with pytest.raises(OutOfRangeError, match="knee_flexion_deg"):
        knee_load(30, 91)
