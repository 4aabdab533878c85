"""Fonda, Šarabon, Li 2014: two-dimensional video reads knee flexion low; add 2.2° (read)."""

from pedalwright.constants import VIDEO_UNDERREADS_KNEE_DEG


def test_correction():
    assert (VIDEO_UNDERREADS_KNEE_DEG.value, VIDEO_UNDERREADS_KNEE_DEG.unit) == (2.2, "°")
    assert VIDEO_UNDERREADS_KNEE_DEG.source == "fonda_2014"
