"""Numbers of the page on a whole case, reckoned apart from the package."""

import math
import re
from statistics import NormalDist

import pytest

PAGE = "whole-case.html"
# Hancock et al. 2018 (abstract): 6° is the smallest change of a digital inclinometer; error = change / (1.96 √2),
# with 1.96 to all its places, since the page rounds 1.64 errors at the edge.
ERROR_DEG = 6 / (NormalDist().inv_cdf(0.975) * math.sqrt(2))


@pytest.fixture(scope="module")
def words(site):
    return re.sub(r"\s+", "", site.text(PAGE).replace("−", "-"))


def said(words, needed):
    return re.sub(r"\s+", "", needed) in words


def chance_pct(reading_deg):
    spread = NormalDist(reading_deg, ERROR_DEG)
    return 100 * (spread.cdf(35) - spread.cdf(25))


def flexion_deg(thigh_mm, shank_mm, crank_mm, saddle_mm, setback_mm, *, ahead_mm=0.0, hip_lifted_mm=0.0, pedal_deg=0.0):
    """Law of cosines with the crank at the bottom: hip 30 mm above the saddle's point, ankle 150 mm from the pedal, 35°
    up and back from it with a level foot."""
    hip = (-setback_mm + ahead_mm, math.sqrt(saddle_mm**2 - setback_mm**2) + 30 + hip_lifted_mm)
    slope = math.radians(35 + pedal_deg)
    ankle = (-150 * math.cos(slope), -crank_mm + 150 * math.sin(slope))
    cosine = (thigh_mm**2 + shank_mm**2 - math.dist(hip, ankle) ** 2) / (2 * thigh_mm * shank_mm)
    return 180 - math.degrees(math.acos(cosine))


def hazel_deg(saddle_mm, side=0, slope_deg=0.0):
    """Setback grows with the height along the tube; hip joints 170 mm apart; pedal 10° toe down."""
    lifted = side * 85 * math.sin(math.radians(slope_deg))
    return flexion_deg(432, 430, 172.5, saddle_mm, 200 * saddle_mm / 738, hip_lifted_mm=lifted, pedal_deg=10)


def test_two_knees_of_the_lesson(words):
    assert chance_pct(42) < 1
    assert 5 < chance_pct(37) < 95
    for needed in (
        f"an error of {ERROR_DEG:.1f}° for one reading",
        f"1.64 errors, {1.64 * ERROR_DEG:.1f}°",
        f"the chance that it is inside is {chance_pct(37):.0f} %, verdict not sure",
        "A left knee at 42°: under 1 %, outside",
        f"At 37° the chance of inside is {chance_pct(37):.0f} %, verdict not sure",
    ):
        assert said(words, needed), needed


def test_readings_needed_to_show_a_step(words):
    """1.96 √2 times the error over √n is less than what the step does."""
    middle = flexion_deg(428.75, 430.5, 170, 735, 198, ahead_mm=40)
    opens = {
        step: middle - flexion_deg(428.75, 430.5, 170, 735 + step, 198 * (735 + step) / 735, ahead_mm=40)
        for step in (5, 10)
    }
    count = {step: math.ceil((6 / opens[step]) ** 2) for step in opens}
    for needed in (
        f"opens a knee by about {opens[5]:.1f}° in our model",
        f"the mean of {count[5]} independent readings before and after; for 10 mm and "
        f"{opens[10]:.1f}°, of {count[10]}.",
    ):
        assert said(words, needed), needed


def test_the_knees_of_the_worked_example(words):
    right, left = hazel_deg(738, 1, 4), hazel_deg(738, -1, 4)
    level, higher = hazel_deg(738), hazel_deg(748)
    shift = 80 * math.sin(math.radians(4))  # the hip joints lie 80 mm above the sit bones, an assumption of the page

    for needed in (
        f"Read the knees: {right:.1f}° right is not sure, {left:.1f}° left is outside",
        f"The hips come back by {shift:.1f} mm, and both knees now bend {level:.1f}°",
        f"as found {right:.1f}° {left:.1f}° {shift:.1f} mm",
        f"saddle levelled {level:.1f}° {level:.1f}° 0.0 mm",
        f"saddle up by 10 mm {higher:.1f}° {higher:.1f}° 0.0 mm",
        f"Both knees end at {higher:.1f}°",
    ):
        assert said(words, needed), needed
    assert right < 35 + 1.64 * ERROR_DEG < left
    assert right < 35 + 1.64 * ERROR_DEG < level


def test_a_sign_leaves_no_change_in_the_plan(words):
    assert said(words, "the plan holds no change at all")
    assert said(words, "Stop: adjust nothing today")


def test_both_benches_and_the_practice_riders_are_there(site):
    page = site.pages[PAGE]
    assert {figure["data-bench"] for figure in page.select("figure.bench")} == {
        "support-then-align",
        "measurement-error",
    }
    assert len([fold for fold in page.select("details") if "Practice rider" in fold.find("summary").get_text()]) == 6
