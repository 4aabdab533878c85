"""Angle of the pubic arch: Gündoğdu and Kebapçı 2019 (scans) beside Kayastha and others 2020 (radiographs).

Both abstracts read: 82.92 ± 15.06 and 67.91 ± 9.15°, 137.15 ± 11.92 and 104.72 ± 10.47° (women and men).
"""

import inspect

import pytest

from pedalwright.pelvis import bearing_width_mm
from pedalwright.pelvis_reports import PUBIC_ARCH_ANGLES_DEG


def test_default_lies_between_the_means_of_women_and_men_on_scans():
    """82.92 ± 15.06° and 67.91 ± 9.15°."""
    default = inspect.signature(bearing_width_mm).parameters["ramus_angle_deg"].default
    assert 67.91 < default < 82.92
    assert default == pytest.approx((67.91 + 82.92) / 2, abs=1)


def test_wider_arch_narrows_the_bearing_faster():
    """Radiographs give 104.72° and 137.15°: the same roll then narrows the bearing more than twice as much."""
    roll = 10.0
    scan, radiograph = (120.0 - bearing_width_mm(120.0, roll, ramus_angle_deg=angle) for angle in (67.91, 104.72))
    assert radiograph / scan == pytest.approx(1.93, abs=0.01)  # tan(52.36°)/tan(33.955°), worked by hand


@pytest.mark.parametrize(
    ("source", "means", "deviations"),
    [
        ("gundogdu_kebapci_2019", [82.92, 67.91], [15.06, 9.15]),
        ("kayastha_2020", [137.15, 104.72], [11.92, 10.47]),
    ],
)
def test_means_and_deviations_of_women_and_men(source, means, deviations):
    reports = [one for one in PUBIC_ARCH_ANGLES_DEG if one.source == source]
    assert [(one.lower + one.upper) / 2 for one in reports] == pytest.approx(means)
    assert [(one.upper - one.lower) / 2 for one in reports] == pytest.approx(deviations)
