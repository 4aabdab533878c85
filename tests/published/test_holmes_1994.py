"""Holmes and others 1994: knee flexion of 25 to 35° at the bottom.

From memory; the window was read in papers that quote it.
"""

from pedalwright.decision import decide
from pedalwright.fit_findings import WINDOWS


def test_window():
    window = WINDOWS["knee_flexion_bottom_deg"]
    assert (window.lower, window.upper, window.source) == (25.0, 35.0, "holmes_1994")


def test_window_is_one_error_of_a_long_goniometer_wide():
    """A difference of 10° is what that goniometer just tells from noise, so a value in the middle is still not sure."""
    window = WINDOWS["knee_flexion_bottom_deg"]
    assert decide(30.0, 10 / 2.77, window.lower, window.upper).verdict == "not sure"
