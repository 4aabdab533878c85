"""Modules 1 and 2: worked numbers by hand, conflicts between studies in plain sight, cautions where they belong."""

import math
import re
from statistics import NormalDist

import pytest


def squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text.replace("−", "-"))


@pytest.fixture(scope="module")
def contraction(site):
    return site.text("contraction.html").replace("−", "-")


@pytest.fixture(scope="module")
def flexion(site):
    return site.text("flexion-extension.html").replace("−", "-")


def read(pattern: str, text: str) -> list[float]:
    found = re.search(pattern, text)
    assert found, pattern
    return [float(value) for value in found.groups()]


NUMBER = r"(-?\d+(?:\.\d+)?)"


def test_the_two_joint_example_adds_up_by_hand(contraction):
    hip_rad, hip_arm = read(
        rf"which is {NUMBER} radians. Over this stretch the mean moment arm is {NUMBER} mm", contraction
    )
    (by_hip,) = read(rf"so {NUMBER} mm shorter", contraction)
    knee_rad, knee_arm, by_knee = read(
        rf"{NUMBER} radians; mean arm {NUMBER} mm. .* what closes it: {NUMBER} mm longer . Step 4", contraction
    )
    (whole,) = read(rf"= {NUMBER} mm longer , although", contraction)
    assert hip_rad == pytest.approx(math.radians(14), abs=5e-4)
    assert knee_rad == pytest.approx(math.radians(46), abs=5e-4)
    assert by_hip == pytest.approx(abs(hip_rad * hip_arm), abs=0.1)
    assert by_knee == pytest.approx(knee_rad * knee_arm, abs=0.1)
    assert whole == pytest.approx(by_knee - by_hip, abs=0.11)
    # rajagopal_2016 run in a musculoskeletal program: hip −57.8 at 60°, −40.6 mm at 90°; knee 36.7 at 60°, 22.1 at 110°
    assert -57.8 < hip_arm < -40.6
    assert 22.1 < knee_arm < 36.7
    opening, closing = read(rf"{NUMBER} N·m of opening , and the knee with {NUMBER} N·m of closing", contraction)
    assert opening == pytest.approx(0.4 * abs(hip_arm), abs=0.05)
    assert closing == pytest.approx(0.4 * knee_arm, abs=0.05)


def test_the_vasti_beside_it_by_hand(contraction):
    arm, shorter, share = read(
        rf"an arm of {NUMBER} mm at the knee: {NUMBER} mm shorter over the same stretch. .* by {NUMBER} % of that",
        contraction,
    )
    (whole,) = read(rf"= {NUMBER} mm longer , although", contraction)
    assert shorter == pytest.approx(abs(arm) * math.radians(46), abs=0.1)
    assert share == pytest.approx(100 * whole / shorter, abs=1)


def test_muscle_force_numbers_are_those_of_the_published_formulas(contraction):
    # thelen_2003: bell exp(−(l − 1)²/0.45); (1 + v)/(1 − v/0.25); delp_1990 as shipped: 0.5 and 0.3
    for width, shape in ((0.45, 0.25), (0.5, 0.3)):
        for needed in (
            f"{100 * math.exp(-0.04 / width):.0f} %",
            f"{100 * math.exp(-0.09 / width):.0f} %",
            f"{100 * 0.75 / (1 + 0.25 / shape):.0f} %",
        ):
            assert needed in contraction, needed


def test_disagreements_of_module_1_stand_side_by_side(contraction):
    words = squeezed(contraction)
    for needed in (
        "semimembranosus60°to240°[JorgeandHull1986]",
        "semimembranosus150°to270°[Ericsonetal.1985]",
        "semimembranosusthewholeturn[RyanandGregor1992]",
        "hip27and4,knee39and10,ankle20",
        "Hipextensiondominates",
    ):
        assert needed in words, needed
    assert "da_silva" not in words
    assert "A fitter does not test or treat muscles" in contraction


def test_rules_of_the_saddle_height_by_hand(flexion):
    words = squeezed(flexion)
    for inseam in (800, 850, 900):
        for height in (1.09 * inseam - 172.5, 0.883 * inseam, 221 + 0.896 * inseam - 45 - 172.5):
            assert f"{height:.0f}" in flexion, height
    assert round(1.09 * 800 - 172.5 - 0.883 * 800) == -7
    assert round(1.09 * 900 - 172.5 - 0.883 * 900) == 14
    assert squeezed("differ by -7 mm for the short leg and +14 mm for the long one") in words
    assert squeezed(f"1.09 × 845 - 172.5 = {1.09 * 845 - 172.5:.1f} mm") in words
    assert squeezed(f"0.883 × 845 = {0.883 * 845:.1f} mm") in words
    assert squeezed(f"1.09 × 800 - 170 = {1.09 * 800 - 170:.1f} mm") in words
    assert squeezed(f"{1.09 * 800 - 165:.1f} mm with the short crank") in words


def test_the_verdict_of_the_example_by_the_normal_distribution(flexion):
    # hancock_2018: a difference below 6° may be nothing; standard error = change / (1.96 √2)
    error = 6 / (1.96 * math.sqrt(2))
    spread = NormalDist(38, error)
    chance = 100 * (spread.cdf(35) - spread.cdf(25))
    words = squeezed(flexion)
    assert squeezed(f"a standard error of {error:.1f} °") in words
    assert squeezed(f"inside 25° to 35° is {chance:.0f} %") in words
    assert 5 < chance < 95
    assert squeezed("The verdict at 95 % is not sure") in words


def test_ten_millimetres_of_the_model_by_the_law_of_cosines(flexion):
    """The rider of the bench: hip 40 mm ahead of and 30 mm above a saddle 735 mm from the bottom bracket."""

    def knee_deg(stretch: float) -> float:
        hip = (-198 * stretch + 40, math.sqrt(735**2 - 198**2) * stretch + 30)
        ankle = (-150 * math.cos(math.radians(35)), -170 + 150 * math.sin(math.radians(35)))
        reach = math.dist(hip, ankle)
        return 180 - math.degrees(math.acos((428.75**2 + 430.5**2 - reach**2) / (2 * 428.75 * 430.5)))

    change = knee_deg(1) - knee_deg(745 / 735)
    assert squeezed(
        f"10 mm of height are worth {change:.1f} ° at the bottom, {change / 10:.2f} ° a millimetre"
    ) in squeezed(flexion)


def test_studies_of_height_point_both_ways_and_are_called_weak(flexion):
    words = squeezed(flexion)
    for needed in (
        "higherOxygenuptakewaslowestat100%",  # nordeen_snyder_1977, from memory
        "higherRidersweremoreeconomicalwith25°",  # peveler_green_2011, from memory
        "lowerGrossefficiency20.4±1.3%",  # ferrer_roca_2014, abstract
        "hip,kneeandankleopenedby4°,7°and8°",  # ferrer_roca_2014, abstract
        "flatvideoread2.2°toolittle",  # fonda_2014, abstract
        "33°to43°leastwhilepedallingcommonpractice",
        "donotpromisethataheightprotectsaknee",
    ):
        assert needed in words, needed
    assert "insertion mark" in flexion
    assert "physician" in flexion
