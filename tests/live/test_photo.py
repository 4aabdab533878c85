"""Words stamped from memory look as words drawn anew."""

import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.text import Text

from pedalwright_bench.bench import bench, published_names
from pedalwright_bench.canvas import Canvas
from pedalwright_bench.photo import KEPT, LiveCanvas, Stamps


def drawn(canvas, found, states):
    return [canvas.draw(found.at(*values)).astype(int) for values in states]


@pytest.mark.parametrize("name", published_names())
def test_stamped_pictures_are_the_drawn_ones_up_to_half_a_pixel(name):
    found = bench(name)
    places = list(found.states())
    states = [places[i][1] for i in np.random.default_rng(5).permutation(len(places))[:4]] * 2
    plain, live = Canvas(found, "wide", dpi=75), LiveCanvas(found, "wide", dpi=75)
    for a, b in zip((p.copy() for p in drawn(plain, found, states)), drawn(live, found, states), strict=True):
        assert np.abs(a - b).mean() < 0.6
        assert abs(a.mean() - b.mean()) < 0.15  # no word is missing or twice as heavy


def shown(figure, text, stamps=None):
    canvas = FigureCanvasAgg(figure)
    text.set_animated(True)
    canvas.draw()
    renderer = canvas.get_renderer()
    if stamps is None:
        text.draw(renderer)
    else:
        stamps.draw(text, renderer)
    return np.asarray(canvas.buffer_rgba()).astype(int)


@pytest.mark.parametrize(
    "change",
    [
        {"text": "other"},
        {"color": "red"},
        {"alpha": 0.3},
        {"rotation": 90},
        {"fontsize": 20},
        {"weight": "bold"},
        {"ha": "right"},
        {"va": "top"},
        {"position": (0.2, 0.7)},
        {"visible": False},
    ],
)
def test_a_text_that_changed_is_not_taken_from_memory(change):
    stamps, figure = Stamps(), Figure((3, 2), dpi=100)
    text = figure.text(0.5, 0.5, "saddle", clip_on=False)
    before = shown(figure, text, stamps)
    text.set(**change)
    stamped, anew = shown(figure, text, stamps), shown(figure, text)
    assert np.abs(stamped - before).max() > 20
    assert np.abs(stamped - anew).mean() < 1


def test_words_in_a_frame_are_drawn_as_ever_and_memory_is_bounded():
    stamps, figure = Stamps(), Figure((3, 2), dpi=50)
    boxed = figure.text(0.5, 0.5, "in a frame", bbox={"facecolor": "red"}, clip_on=False)
    assert np.array_equal(shown(figure, boxed, stamps), shown(figure, boxed))
    renderer = figure.canvas.get_renderer()
    text = Text(10, 10, "", figure=figure, clip_on=False)
    for number in range(KEPT + 20):
        text.set_text(str(number))
        stamps.draw(text, renderer)
    assert len(stamps._stamps) == KEPT
