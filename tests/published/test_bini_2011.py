"""Bini, Hume, Croft 2011: a review that favours a knee flexion of 25° to 30° (read in a summary)."""

from pedalwright.rule_outcomes import DEFAULT_WINDOW, KNEE_FLEXION_WINDOWS


def test_windows_stand_side_by_side():
    narrow, wide = KNEE_FLEXION_WINDOWS["static 25–30"], KNEE_FLEXION_WINDOWS[DEFAULT_WINDOW]
    assert (narrow.low_deg, narrow.high_deg, narrow.source) == (25, 30, "bini_2011")
    assert (wide.low_deg, wide.high_deg, wide.source) == (25, 35, "holmes_1994")


# The dynamic window is common practice, no source.
def test_dynamic_is_not_static():
    dynamic = KNEE_FLEXION_WINDOWS["dynamic 33–43"]
    assert (dynamic.low_deg, dynamic.high_deg, dynamic.how) == (33, 43, "dynamic")
