"""Herzog and Read 1993: lever arm of the patellar tendon as a cubic of knee flexion (coefficients from memory).

Worked by hand: 47.1 + 0.420·x - 8.96e-3·x² + 4.47e-5·x³ mm at 0, 30, 60 and 90°.
"""

import numpy as np

from pedalwright.knee import patellar_tendon_arm_mm


def test_worked_values():
    np.testing.assert_allclose(patellar_tendon_arm_mm([0, 30, 60, 90]), (47.1, 52.84, 49.70, 44.91), atol=0.006)
