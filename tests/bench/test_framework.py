"""Sliders, states, the registry and the choice of mode."""

import importlib
import re
from dataclasses import dataclass
from pathlib import Path

import pytest

from pedalwright.errors import OutOfRangeError, PedalwrightError
from pedalwright_bench import show
from pedalwright_bench.bench import Choice, Prediction, Slider, bench, bench_names, published_names, slider, sliders_of
from pedalwright_bench.modes import is_live
from pedalwright_bench.static import StaticBench
from pedalwright_bench.words import plain, unbroken

BOOK = Path(__file__).parents[2] / "book"


def test_a_slider_lists_its_values_and_finds_their_place():
    tilt = Slider("tilt_deg", "Tilt", "°", -1.0, 1.0, 0.1, 0.0)
    assert len(tilt.values) == 21
    assert tilt.values[3] == -0.7  # no rounding noise
    assert tilt.index(0.3) == 13
    assert tilt.middle == 10
    assert tilt.say(-0.7) == "−0.7°"


@pytest.mark.parametrize("value", [0.05, 1.1, -2.0, float("nan")])
def test_a_value_the_slider_cannot_take_is_told(value):
    with pytest.raises(OutOfRangeError, match=r"tilt_deg: received .*; allowed: -1 to 1 ° in steps of 0.1; choose"):
        Slider("tilt_deg", "Tilt", "°", -1.0, 1.0, 0.1, 0.0).index(value)


@pytest.mark.parametrize(("start", "stop", "step"), [(0, 1, 0.3), (0, 1, 0), (1, 0, 0.1), (0, 1, -0.1)])
def test_a_range_that_the_step_does_not_divide_is_told(start, stop, step):
    with pytest.raises(PedalwrightError, match="change the step or the ends"):
        Slider("x_mm", "x", "mm", start, stop, step, start)


def test_a_default_off_the_scale_is_told():
    with pytest.raises(OutOfRangeError, match=r"x_mm: received 2\.5"):
        Slider("x_mm", "x", "mm", 0, 5, 1, 2.5)


def test_fields_without_a_slider_are_no_inputs_to_move():
    @dataclass(frozen=True)
    class Inputs:
        side_mm: float = slider("Side", "mm", 1, 3, 1, 2)
        colour: str = "blue"

    assert [s.name for s in sliders_of(Inputs)] == ["side_mm"]
    assert Inputs().side_mm == 2


def test_values_are_said_with_their_unit():
    assert [plain(v, u) for v, u in ((200, "W"), (0.5, "mm"), (-3, "°"))] == ["200 W", "0.5 mm", "−3°"]


def test_numbers_keep_their_units():
    gap = "\N{NO-BREAK SPACE}"
    assert unbroken("39 N·m, 84 %, 200 W at 90 rpm") == f"39{gap}N·m, 84{gap}%, 200{gap}W at 90{gap}rpm"
    assert unbroken("sectors 4 to 6 Wren 3 mm²") == f"sectors 4 to 6 Wren 3{gap}mm²"


@pytest.mark.parametrize("right", [0, 2])
def test_a_prediction_has_exactly_one_right_choice(right):
    with pytest.raises(PedalwrightError, match="exactly one"):
        Prediction("?", tuple(Choice(str(i), "", right=i < right) for i in range(3)))


def test_states_run_through_every_combination(tiny):
    states = list(bench("tiny-square").states())
    assert [key for key, _ in states] == ["0-0", "0-1", "1-0", "1-1", "2-0", "2-1"]
    assert dict(states)["1-1"] == (2.0, 0.5)


def test_benches_are_found_by_their_module_name(tiny):
    assert bench_names() == ("tiny-square",)
    with pytest.raises(PedalwrightError, match="received 'tiny-sqare'; allowed: tiny-square; check the spelling"):
        bench("tiny-sqare")


def test_a_bench_takes_one_value_a_slider(tiny):
    with pytest.raises(PedalwrightError, match="received 1 values; allowed: 2"):
        bench("tiny-square").at(1.0)
    with pytest.raises(OutOfRangeError, match="side_mm: received 9"):
        bench("tiny-square").at(9.0, 0.0)


@pytest.mark.parametrize("name", bench_names())
def test_every_bench_of_ours_is_named_after_its_module_and_small_enough(name):
    found = bench(name)
    assert found.name == name
    assert 2 <= len(list(found.states())) <= 150
    assert found.question.endswith("?")
    choices = found.prediction(found.at(*found.defaults)).choices
    assert 2 <= len(choices) <= 5


@pytest.mark.parametrize(
    ("book", "live", "kernel", "expected"),
    [
        (None, None, False, False),
        (None, "1", False, True),
        (None, None, True, True),
        ("1", None, True, False),
        ("1", "1", True, False),
        (None, "0", False, False),
    ],
)
def test_the_mode_follows_book_request_and_kernel(monkeypatch, book, live, kernel, expected):
    for name, value in (("PEDALWRIGHT_BOOK", book), ("PEDALWRIGHT_LIVE", live)):
        monkeypatch.delenv(name, raising=False)
        if value is not None:
            monkeypatch.setenv(name, value)
    shell = type("Shell", (), {"kernel": object()})() if kernel else None
    monkeypatch.setattr("IPython.get_ipython", lambda: shell)
    assert is_live() is expected


def test_show_gives_a_fragment_in_a_book_and_a_widget_live(tiny, monkeypatch):
    monkeypatch.setenv("PEDALWRIGHT_BOOK", "1")
    shown = show("tiny-square")
    assert isinstance(shown, StaticBench)
    assert "<figure" in shown._repr_html_()
    monkeypatch.delenv("PEDALWRIGHT_BOOK")
    monkeypatch.setenv("PEDALWRIGHT_LIVE", "1")
    assert [s.value for s in show("tiny-square").sliders] == [2.0, 0.0]


def test_a_draft_is_a_bench_that_no_page_shows(tiny):
    assert published_names() == ("tiny-square",)
    tiny.write_text(tiny.read_text().replace('target="None."', 'target="None.", draft=True'))
    importlib.reload(importlib.import_module("pedalwright_bench.benches.tiny_square"))
    assert bench_names() == ("tiny-square",)
    assert published_names() == ()


def test_no_page_shows_a_draft():
    listed = re.findall(r"file: ([\w-]+)", (BOOK / "_toc.yml").read_text(encoding="utf8"))
    pages = [(BOOK / f"{name}.md").read_text(encoding="utf8") for name in listed]
    shown = {name for page in pages for name in re.findall(r"^show\(\"([\w-]+)\"\)", page, re.MULTILINE)}
    assert "lever-tangency" in shown
    assert shown <= set(published_names()), "take draft=True away from a bench that a page shows"
