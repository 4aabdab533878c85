"""Modules keep the common skeleton, and their questions and worked numbers are right."""

import math
import re
from itertools import pairwise
from pathlib import Path
from statistics import NormalDist

import pytest
from pedalwright_book.questions import read_questions

BOOK = Path(__file__).parents[2] / "book"
SKELETON = [
    "Outcomes and time",
    "Predict first",
    "Lesson",
    "Worked example",
    "Check yourself",
    "Practice case",
    "Take-away",
    "Evidence and limits",
    "Notes for the instructor",
]

# Park, Caldwell, Umberger 2022, accompanying data: forward and up force at 0, 30, … 330 degrees, in newtons.
FORWARD_N = [32.7, 24.5, 6.6, -11.2, -25.1, -28.0, -20.1, -12.7, -5.5, 0.6, 5.4, 15.6]
UP_N = [-96.1, -168.8, -200.6, -225.8, -238.0, -208.2, -121.4, -64.7, -52.6, -45.8, -37.4, -37.8]
# The invented rider of the worked example: the same table times 1.3, rounded by hand.
ROWAN_FORWARD_N = [43, 32, 9, -15, -33, -36, -26, -17, -7, 1, 7, 20]
ROWAN_UP_N = [-125, -219, -261, -294, -309, -271, -158, -84, -68, -60, -49, -49]


def headings(page) -> list[str]:
    return [found.get_text().rstrip("#").strip() for found in page.find("article").find_all("h2")]


def test_every_module_has_the_skeleton(site, toc):
    for name in toc["Modules"]:
        assert headings(site.pages[f"{name}.html"]) == SKELETON


def test_modules_that_wait_for_their_benches_keep_the_skeleton_too():
    written = [path.read_text(encoding="utf8") for path in BOOK.glob("*.md")]
    modules = [text for text in written if re.search(r"^# Module \d: ", text, flags=re.MULTILINE)]
    assert len(modules) >= 3
    for text in modules:
        assert re.findall(r"^## (.+)$", text, flags=re.MULTILINE) == SKELETON


def test_every_module_asks_at_least_five_questions_and_covers_its_outcomes(site, toc):
    for name in toc["Modules"]:
        questions = read_questions(BOOK / "questions" / f"{name}.yml")
        assert sum(question.group == "check" for question in questions) >= 5
        assert any(question.group == "predict" for question in questions)
        outcomes = {b.get_text() for b in site.pages[f"{name}.html"].find(id="outcomes-and-time").select("li strong")}
        asked = {question.objective for question in questions if question.group == "check"}
        assert asked == outcomes


def test_question_files_belong_to_pages_and_share_no_id(site):
    ids = []
    for path in (BOOK / "questions").glob("*.yml"):
        assert (BOOK / f"{path.stem}.md").is_file()
        page = site.pages.get(f"{path.stem}.html")
        for question in read_questions(path):
            ids.append(question.id)
            assert page is None or page.find("form", id=question.id) is not None
    assert len(ids) == len(set(ids))


def test_without_a_script_answers_and_reasons_can_be_read(site):
    for form in site.pages["lever-tangency.html"].select("form.question"):
        assert form.find("button")["hidden"] == ""
        reasons = form.select("details.reasons li")
        assert len(reasons) >= 2
        assert any("right" in reason["class"] for reason in reasons)
        assert all(len(reason.get_text(" ").split()) >= 8 for reason in reasons)


# Answers reckoned by hand from the definitions (torque = F r sin; power = torque × 2π n / 60; opposite = + 180°).
ANSWERS = {
    "lt-torque-90": 240 * 0.170,
    "lt-tangential-150": 240 / 2,
    "lt-power": 21.2 * 2 * math.pi * 90 / 60,
    "lt-other-leg": 100 + 180,
    "co-included": 180 - 150,
    "co-left-crank": (90 + 180) % 360,
    "fs-index": 64 / 188,
    "fs-wedge-degrees": math.degrees(math.atan(3 / 90)),
    "ps-margin": (140 - 130) / 2,
    "ps-lever": 400 * (50 + 10) / 100,
    "ps-index": 100 * (52 - 48) / 50,
    "ct-moment": 1500 * 0.032,
    "ct-angle": math.degrees(12 / 40),
    "ct-sum": 50 * 0.4 - 25 * 0.6,
    "fx-included": 180 - 148,
    "fx-rule-109": 1.09 * 880 - 170,
    "wc-mean": 1.64 * 2.0,
    "wc-two-moves": (34 - 30) / 0.4,
}
SLIPS = {
    "lt-torque-90": {240 * 170.0, 240 * 17.0, 240 / 0.170, 0.0},
    "lt-tangential-150": {120 * math.sqrt(3), -120 * math.sqrt(3), 240.0, 240 * math.sin(150)},
    "lt-power": {21.2 * 90, 21.2 * 1.5, 2 * 200.0},
    "lt-other-leg": {100.0, 260.0, 80.0, -80.0},
    "fs-index": {64 / 256, 188 / 64, 34.0},
    "fs-wedge-degrees": {3.0, 3 / 90, math.degrees(math.atan(3 / 60)), math.degrees(math.atan(90 / 3))},
    "ps-margin": {10.0, -5.0, 140 / 130},
    "ps-lever": {160.0, 200.0, 400 * (0.5 + 10 / 50)},
    "ps-index": {4.0, 2.0, 52.0},
    "ct-moment": {1500 * 32.0, 1500 * 0.32, 1500 / 0.032},
    "ct-angle": {12 / 40, math.degrees(40 / 12), 0.3 * 360},
    "ct-sum": {20.0 + 15, 20.0, -5.0, 15.0},
    "fx-included": {148.0, -32.0, 58.0},
    "fx-rule-109": {1.09 * 880, 0.883 * 880, 1.09 * 880 + 170},
    "wc-mean": {2.0, 1.96 * math.sqrt(2) * 2.0, 0.0},
    "wc-two-moves": {(38 - 30) / 0.4, (36 - 30) / 0.4, 4.0},
}


def numeric_questions():
    return [
        question
        for path in sorted((BOOK / "questions").glob("*.yml"))
        for question in read_questions(path)
        if question.kind == "number"
    ]


@pytest.mark.parametrize("question", numeric_questions(), ids=lambda question: question.id)
def test_numeric_answers_are_right_and_no_slip_lies_near_them(question):
    right, *slips = question.reasons
    assert right.value == pytest.approx(ANSWERS[question.id], abs=question.tolerance)
    assert all(abs(slip.value - right.value) > 2 * question.tolerance for slip in slips)
    if question.id in SLIPS:
        assert sorted(slip.value for slip in slips) == pytest.approx(sorted(SLIPS[question.id]), rel=5e-3)


def straight_lines(values: list[float], angle_deg: float) -> float:
    """Read a table of twelve values at any angle."""
    place = angle_deg / 30
    low = int(place) % 12
    return values[low] + (values[(low + 1) % 12] - values[low]) * (place - int(place))


def work_j(torque_nm: list[float], start_deg: float, end_deg: float) -> float:
    """Midpoint rule in steps of a sixteenth of a degree; exact for straight lines between multiples of that."""
    steps = round((end_deg - start_deg) * 16)
    middles = (start_deg + (k + 0.5) / 16 for k in range(steps))
    return sum(straight_lines(torque_nm, angle) for angle in middles) * math.radians(1 / 16)


def tangential(forward: list[float], up: list[float]) -> list[float]:
    angles = [math.radians(30 * k) for k in range(12)]
    return [x * math.cos(a) - y * math.sin(a) for x, y, a in zip(forward, up, angles, strict=True)]


@pytest.fixture(scope="module")
def example(site):
    return site.text("lever-tangency.html", "worked-example").replace("−", "-")


def test_the_rider_of_the_example_is_the_published_table_scaled(example):
    assert [round(1.3 * value) for value in FORWARD_N] == ROWAN_FORWARD_N
    assert [round(1.3 * value) for value in UP_N] == ROWAN_UP_N
    useful = tangential(ROWAN_FORWARD_N, ROWAN_UP_N)
    for k in range(12):
        row = f"{30 * k} {ROWAN_FORWARD_N[k]} {ROWAN_UP_N[k]} {useful[k]:.0f} {useful[k] * 0.1725:.1f}"
        assert row in example, row


def test_worked_numbers_agree_with_a_calculation_by_hand(example):
    useful = tangential(ROWAN_FORWARD_N, ROWAN_UP_N)
    torque = [0.1725 * value for value in useful]
    sectors = [work_j(torque, 22.5 * k, 22.5 * (k + 1)) for k in range(16)]
    best = max(range(16), key=sectors.__getitem__)
    mean, turn, three = sum(torque) / 12, sum(sectors), sum(sectors[3:6])
    one_leg = mean * 2 * math.pi * 85 / 60
    # Mean over the turn of straight lines between the points is the mean of the points.
    index = sum(useful) / sum(math.hypot(x, y) for x, y in zip(ROWAN_FORWARD_N, ROWAN_UP_N, strict=True))
    assert best + 1 == 5
    for needed in (
        f"itself: {useful[3]:.0f} N",
        f"0.1725 m = {torque[3]:.1f} N·m",
        f"0.866 = {useful[4]:.0f} N",
        f"that is {torque[4]:.1f} N·m",
        f"to 120°: {straight_lines(torque, 112.5):.1f} N·m",
        f"gives {sectors[4]:.1f} J",
        f"together give {three:.1f} J of {turn:.1f} J, or {100 * three / turn:.0f} %",
        f"{mean:.2f} N·m × 6.283 = {turn:.1f} J",
        f"× 8.90 = {one_leg:.0f} W",
        f"{2 * one_leg:.0f} W if the left leg",
        f"whole push: {100 * index:.0f} %",
        f"A twin leg does {sectors[12]:.1f} J",
    ):
        assert needed in example, needed
    assert turn == pytest.approx(mean * 2 * math.pi)


def wave(values: list[float], angle_deg: float) -> float:
    """Trigonometric interpolation of twelve even samples, term by term."""
    total = sum(values) / 12
    for order in range(1, 7):
        weight = 1 / 12 if order == 6 else 1 / 6
        for k, value in enumerate(values):
            total += weight * value * math.cos(math.radians(order * (angle_deg - 30 * k)))
    return total


def test_lesson_numbers_agree_with_the_published_record(site):
    words = site.text("lever-tangency.html").replace("−", "-")
    forward, up = ([wave(values, a) for a in range(360)] for values in (FORWARD_N, UP_N))
    turn = [math.radians(a) for a in range(360)]
    useful = [x * math.cos(a) - y * math.sin(a) for x, y, a in zip(forward, up, turn, strict=True)]
    whole = [math.hypot(x, y) for x, y in zip(forward, up, strict=True)]
    both = [useful[a] + useful[(a + 180) % 360] for a in range(360)]
    against = [a for a in range(360) if useful[a] < 0]
    peak = max(range(360), key=useful.__getitem__)
    assert against == list(range(against[0], against[-1] + 1))
    for needed in (
        f"peaks at {peak} °",
        f"from {against[0]} ° to {against[-1]} °, down to {min(useful):.0f} N",
        f"it is {100 * sum(useful) / sum(whole):.0f} % over the whole turn",
        f"and {100 * sum(useful[:181]) / sum(whole[:181]):.0f} % over the",
        f"Torque effectiveness {100 * sum(useful) / sum(v for v in useful if v > 0):.0f} % 100 %",
        f"peak torque {100 * sum(useful) / 360 / max(useful):.0f} % {100 * sum(both) / 360 / max(both):.0f} %",
    ):
        assert re.sub(r"\s+", "", needed) in re.sub(r"\s+", "", words), needed
    assert min(both) > 0


def test_decision_numbers_agree_with_the_normal_distribution(site):
    """Hancock et al. 2018 and Pantouveris et al. 2024 give the smallest differences; SE = change / (1.96 √2)."""
    words = re.sub(r"\s+", "", site.text("conventions.html"))
    two, one = (change / (1.96 * math.sqrt(2)) for change in (10.4, 3.5))

    def inside(value: float, error: float) -> float:
        spread = NormalDist(value, error)
        return 100 * (spread.cdf(35) - spread.cdf(25))

    for needed in (
        f"standard error of {two:.1f} °, one of 3.5° to {one:.1f} °",
        f"inside 25° to 35° is {inside(34, two):.0f} %. With the second it is {inside(34, one):.0f} %",
        f"first instrument the chance is {inside(30, two):.0f} %",
        f"must be {10 / (2 * 1.96):.2f} ° or less",
    ):
        assert re.sub(r"\s+", "", needed) in words, needed
    assert inside(30, two) < 95


def test_five_millimetres_at_the_saddle_agree_with_the_law_of_cosines(site):
    """Leg and pedal of the page, hip height by hand: knee flexion at the bottom from three sides."""
    words = re.sub(r"\s+", "", site.text("conventions.html"))

    def flexion_deg(hip_y_mm: float) -> float:
        ankle = (-150 * math.cos(math.radians(35)), -170 + 150 * math.sin(math.radians(35)))
        reach = math.dist(ankle, (-200.0, hip_y_mm))
        cosine = (428.75**2 + 430.5**2 - reach**2) / (2 * 428.75 * 430.5)
        return 180 - math.degrees(math.acos(cosine))

    from pedalwright.position import HIP_ABOVE_SADDLE_MM

    low, high = (math.sqrt(height**2 - 200**2) + HIP_ABOVE_SADDLE_MM.value for height in (738, 743))
    assert f"atthebottombyabout{flexion_deg(low) - flexion_deg(high):.1f}°" in words


def test_outcome_ids_are_in_order(site, toc):
    for name in toc["Modules"]:
        outcomes = [b.get_text() for b in site.pages[f"{name}.html"].find(id="outcomes-and-time").select("li strong")]
        numbers = [int(re.fullmatch(r"[A-Z]{2}(\d+)", outcome)[1]) for outcome in outcomes]
        assert all(after - before == 1 for before, after in pairwise(numbers))
