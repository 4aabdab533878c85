"""Hug and Dorel 2009, J Electromyogr Kinesiol 19:182-198, a review: when muscles are active in pedalling.

The review was not at hand; the windows are a summary from memory and say so.
"""

import pytest

from pedalwright.activity import ACTIVITY_WINDOWS

WINDOWS = {
    "gluteus maximus": (340, 130),
    "vasti": (300, 130),
    "rectus femoris": (200, 110),
    "gastrocnemius": (350, 270),
    "soleus": (340, 270),
}


@pytest.mark.parametrize("muscle", WINDOWS)
def test_windows_are_those_remembered_and_say_so(muscle):
    (window,) = (w for w in ACTIVITY_WINDOWS if w.muscle == muscle and w.source == "hug_dorel_2009")
    assert (window.onset_deg, window.offset_deg) == WINDOWS[muscle]
    assert "from memory" in window.standing


def test_no_window_is_given_for_the_muscle_that_varies_too_much():
    """Tibialis anterior: variable between riders (from memory)."""
    assert not [w for w in ACTIVITY_WINDOWS if w.muscle == "tibialis anterior"]
