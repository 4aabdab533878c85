"""Allowed ranges of the lengths that several modules take, wide enough for any rider, narrow enough to catch a unit."""

from pedalwright._typing import Floats, Numbers
from pedalwright.errors import checked

IN_MM = "give the length in millimetres"


def thigh_mm(value: Numbers) -> Floats:
    """Check a thigh length."""
    return checked("thigh_length_mm", value, at_least=100, at_most=1000, advice=IN_MM)


def shank_mm(value: Numbers) -> Floats:
    """Check a shank length."""
    return checked("shank_length_mm", value, at_least=100, at_most=1000, advice=IN_MM)


def crank_mm(value: Numbers) -> Floats:
    """Check a crank length."""
    return checked("crank_length_mm", value, at_least=50, at_most=300, advice=IN_MM)


def front_of_knee_mm(value: Numbers) -> Floats:
    """Check the offset of a knee landmark."""
    return checked("front_of_knee_mm", value, at_least=-100, at_most=150, advice=IN_MM)
