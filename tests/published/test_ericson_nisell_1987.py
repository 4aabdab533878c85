"""Ericson and Nisell 1987, abstract read: forces at the knee at 120 W and 60 turns a minute.

Kneecap 905 N, patellar tendon 661 N, quadriceps tendon 938 N. Their ratios need no knee moment: kneecap over quadriceps
0.965, patellar tendon over quadriceps 0.705. They are compared where the knee is bent by 55° to 90°, as it is in the
middle of the push.
"""

import numpy as np
import pytest

from pedalwright.knee import knee_load

RATIO_KNEECAP, RATIO_TENDON = 905 / 938, 661 / 938


def test_kneecap_over_quadriceps_is_met_inside_that_range():
    load = knee_load(30, np.arange(60, 91))
    ratio = load.patellofemoral_force_n / load.quadriceps_force_n
    assert ratio.min() < RATIO_KNEECAP < ratio.max()


def test_tendon_over_quadriceps():
    load = knee_load(30, [55, 60, 70])
    assert np.mean(load.patellar_tendon_force_n / load.quadriceps_force_n) == pytest.approx(RATIO_TENDON, rel=0.1)


def test_knee_moment_behind_their_forces():
    """About 29 N·m at 120 W and 60 turns a minute (from memory) go with 938 N in the quadriceps tendon near 65°."""
    load = knee_load(29, 65)
    assert load.quadriceps_force_n == pytest.approx(938, rel=0.1)
