"""What a kernel answers to a page: the same numbers as the frames, and clear words for what cannot be had."""

import io

import numpy as np
import pytest
from PIL import Image

from pedalwright_bench.answers import COARSE_DPI, KEPT, Answers, fine_step, live_results, live_value
from pedalwright_bench.bench import bench, published_names
from pedalwright_bench.canvas import Canvas
from pedalwright_bench.style import DPI, SIZE_PX

POINTS = 50


@pytest.fixture(scope="module")
def answers():
    return Answers()


def ask(answers, name, values, **more):
    return answers.answer({"ask": 1, "bench": name, "values": list(values), "layout": "wide", "pixels": 600, **more})


def opened(picture):
    return Image.open(io.BytesIO(picture)).convert("RGB")


@pytest.mark.parametrize("name", published_names())
def test_frames_and_live_say_the_same_at_fifty_points(answers, page_data, name):
    """The page's own data, written with the frames, against the kernel's answers; all places where there are fewer."""
    found, data = bench(name), page_data(name)
    states = list(found.states())
    for i in np.random.default_rng(7).permutation(len(states))[:POINTS]:
        key, values = states[i]
        about, picture = ask(answers, name, values)
        assert about["sentence"] == data["sentences"][i]
        words = [slider["said"][int(place)] for slider, place in zip(data["sliders"], key.split("-"), strict=True)]
        assert about["said"] == words
        assert picture


@pytest.mark.parametrize("name", published_names())
@pytest.mark.parametrize("layout", ["wide", "narrow"])
def test_the_live_picture_is_the_frame(answers, frames_folder, name, layout):
    found = bench(name)
    states = list(found.states())
    for i in np.random.default_rng(8).permutation(len(states))[:2]:
        key, values = states[i]
        _, picture = ask(answers, name, values, layout=layout, pixels=9999)
        with Image.open(frames_folder / name / layout / f"{key}.webp") as frame:
            drawn = np.asarray(frame.convert("RGB"), int)
        live = np.asarray(opened(picture), int)
        assert live.shape == drawn.shape
        assert np.abs(live - drawn).mean() < 3  # the frame has 128 colours, the live picture is packed with loss


@pytest.mark.parametrize("name", published_names())
def test_between_the_frames_every_place_can_be_calculated_said_and_drawn(answers, name):
    found, random = bench(name), np.random.default_rng(9)
    for _ in range(25):
        values = [live_value(s, random.uniform(s.start, s.stop)) for s in found.sliders]
        about, picture = ask(answers, name, values)
        inputs = found.inputs(**{s.name: v for s, v in zip(found.sliders, values, strict=True)})
        assert about["sentence"] == found.say(found.model(inputs))
        assert picture, about


def test_a_slider_that_counts_stays_on_its_places_and_one_that_measures_gets_finer():
    instrument = next(s for s in bench("measurement-error").sliders if s.name == "instrument")
    effort = next(s for s in bench("lever-tangency").sliders if s.name == "effort_w")
    assert (fine_step(instrument), fine_step(effort)) == (1, 5)
    assert live_value(instrument, 2.4) == 2
    assert live_value(effort, 211.9) == 210


@pytest.mark.parametrize(
    ("question", "told"),
    [
        ({"bench": "no-such-bench", "values": [1]}, "allowed:"),
        ({"bench": "lever-tangency", "values": [200]}, "give one a slider"),
        ({"bench": "lever-tangency", "values": [5000, 0]}, "allowed: 100 to 300 W"),
        ({"bench": "lever-tangency", "values": [float("nan"), 0]}, "between the two ends"),
        ({"bench": "lever-tangency", "values": ["__import__('os')", 0]}, "could not be calculated"),
        ({"bench": "os", "values": []}, "allowed:"),
        ({"values": [1]}, "could not be calculated"),
    ],
)
def test_a_question_that_makes_no_sense_gets_words_and_no_picture(answers, question, told):
    about, picture = answers.answer({"ask": 3, **question})
    assert about["ask"] == 3
    assert told in about["trouble"]
    assert picture == b""


def test_the_picture_is_as_sharp_as_the_page_has_room_for(answers):
    small, large = (opened(ask(answers, "wedge", bench("wedge").defaults, pixels=p)[1]) for p in (700, 1400))
    assert small.size == tuple(side * COARSE_DPI // DPI for side in SIZE_PX["wide"])
    assert large.size == SIZE_PX["wide"]


def test_only_a_few_backgrounds_are_kept():
    answers = Answers()
    for name in published_names():
        ask(answers, name, bench(name).defaults)
    assert len(answers._canvases) == min(KEPT, len(published_names()))


def test_a_place_is_calculated_once_and_memory_is_bounded(monkeypatch):
    answers, calculated = Answers(), []
    monkeypatch.setattr(
        "pedalwright_bench.answers.live_results", lambda b, v: calculated.append(v) or live_results(b, v)
    )
    for value in (3, 0, 3, 0):
        ask(answers, "wedge", (value, 0, 95))
    assert len(calculated) == 2
    monkeypatch.setattr("pedalwright_bench.answers.RESULTS_KEPT", 5)
    for step in range(12):
        ask(answers, "wedge", (-3 + step / 2, 0, 95))
    assert len(answers._results) == 5


def test_answers_do_not_hang_on_what_was_asked_before():
    """Two tabs that ask in turn get what each would get alone."""
    alone = [np.asarray(Canvas(bench("wedge"), "wide", dpi=COARSE_DPI).image(bench("wedge").at(*v))) for v in TWO]
    answers = Answers()
    for _ in range(3):
        for values, expected in zip(TWO, alone, strict=True):
            got = np.asarray(opened(ask(answers, "wedge", values)[1]), int)
            assert np.abs(got - expected.astype(int)).mean() < 3


TWO = ((-3, 3, 85), (3, -3, 105))


def test_a_small_tilt_between_the_frames_names_an_edge(answers):
    said = ask(answers, "wedge", (-0.6, 0.9, 95))[0]["sentence"]
    assert "under the outer edge" in said
    assert "none" not in said
