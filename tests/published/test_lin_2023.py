"""Lin, Wang and Chen 2023, abstract: ten women, sit bones 155 ± 14 mm; best on a saddle 10 mm wider than the bones."""

from pedalwright.fit import SADDLE_WIDER_THAN_BONES_MM
from pedalwright.pelvis import bone_margin_mm
from pedalwright.pelvis_reports import SIT_BONE_WIDTHS_MM
from pedalwright.seat import Saddle, SitBones, sit


def test_widths_stand_beside_those_of_the_trade():
    (paper,) = (one for one in SIT_BONE_WIDTHS_MM if one.source == "lin_2023")
    assert (paper.lower, paper.upper) == (155 - 14, 155 + 14)


def test_ten_millimetres_wider_is_five_on_each_side():
    assert SADDLE_WIDER_THAN_BONES_MM == 10
    assert bone_margin_mm(165.0, 155.0) == 5.0


def test_wide_saddle_lowers_pressure_on_soft_tissue_and_peak():
    """Direction of the abstract: less pressure and less pubic contact on the wide saddle."""
    narrow, wide = (sit(SitBones(155.0), Saddle(width), 350.0) for width in (135.0, 165.0))
    assert wide.soft_peak_kpa < narrow.soft_peak_kpa
    assert wide.bone_share > narrow.bone_share
