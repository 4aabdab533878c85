"""Bousie and others 2013, abstract read: a contoured insert gains midfoot contact on both sides.

Twelve riders, against a flat insert. The abstract also reports more pressure under the big toe, which the elastic bed
does not show: it has no muscles and no toes that grip.
"""

from pedalwright.footbed import Sole, stand_on_footbed
from pedalwright.pressure_summary import contact_area_mm2, foot_regions


def test_contour_gains_inner_and_outer_midfoot_contact():
    flat, shaped = (stand_on_footbed(Sole(), 400.0, filled_share=share) for share in (0.0, 0.9))
    for half in ("inner", "outer"):
        region = foot_regions(flat.contact.pressure, "right")[f"{half} midfoot"]
        gain = contact_area_mm2(shaped.contact.pressure, 0.0, region) - contact_area_mm2(
            flat.contact.pressure, 0.0, region
        )
        assert gain > 0
