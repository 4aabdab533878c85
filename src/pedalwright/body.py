"""Lengths, masses and inertias of the leg: one place to import them from.

Two tables disagree (the thigh of a man is 10.0 % of body mass in one and 14.2 % in the other, because they cut the hip
at different places), so the table is always a named choice. The default is ``de_leva_1996``: its people were living,
young and active, and its segments end at the joint centres that the leg model uses.
"""

from pedalwright._segment_tables import LENGTH_TABLES, SEGMENT_TABLES
from pedalwright.body_inertia import leg_inertia
from pedalwright.body_lengths import LegLengths, check_rider, check_segment_lengths, segment_lengths_mm
from pedalwright.body_segments import LegSegments, Segment, both_tables, leg_segments

__all__ = [
    "LENGTH_TABLES",
    "SEGMENT_TABLES",
    "LegLengths",
    "LegSegments",
    "Segment",
    "both_tables",
    "check_rider",
    "check_segment_lengths",
    "leg_inertia",
    "leg_segments",
    "segment_lengths_mm",
]
