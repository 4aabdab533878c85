"""The kernel's side of a live page: a bench by name and slider values in, picture and sentence out.

A page never sends code. The kernel loads this module as an extension when it starts (`load_ipython_extension`) and then
answers questions on one comm target, the messages of the open notebook protocol. Nothing is kept between two
questions but drawn backgrounds, so any number of pages may ask side by side.
"""

import gc
import math
from collections import OrderedDict
from collections.abc import Mapping, Sequence
from typing import Any

from pedalwright.errors import OutOfRangeError, PedalwrightError
from pedalwright_bench.bench import Bench, Layout, Slider, bench
from pedalwright_bench.photo import LiveCanvas
from pedalwright_bench.style import DPI, SIZE_PX

TARGET = "pedalwright.bench"
COARSE_DPI = 75
KEPT = 8
RESULTS_KEPT = 200
FINER = 5


def fine_step(slider: Slider) -> float:
    """Distance between two live places of a slider: finer than between two frames, unless it counts things."""
    return slider.step / FINER if slider.unit else slider.step


def live_value(slider: Slider, value: float) -> float:
    """Check a live slider's value and round it to the nearest place of the slider.

    Raises
    ------
    OutOfRangeError
        If the value is no number, or beyond the ends of the slider.
    """
    if not math.isfinite(value) or not slider.start - 1e-6 <= value <= slider.stop + 1e-6:
        raise OutOfRangeError(
            f"{slider.name}: received {value:g}; allowed: {slider.start:g} to {slider.stop:g} {slider.unit}; "
            "choose a place between the two ends"
        )
    step = fine_step(slider)
    return round(slider.start + round((value - slider.start) / step) * step, 9)


def live_results(found: Bench, values: Sequence[float]) -> Any:
    """Results of a bench at live values, in the order of its sliders.

    Raises
    ------
    PedalwrightError
        If a value is missing or out of range.
    """
    sliders = found.sliders
    if len(values) != len(sliders):
        raise PedalwrightError(
            f"bench {found.name}: received {len(values)} values; allowed: {len(sliders)}; give one a slider"
        )
    places = {s.name: live_value(s, v) for s, v in zip(sliders, values, strict=True)}
    return found.model(found.inputs(**places))


class Answers:
    """Answers questions about benches; keeps the last backgrounds and results, for sliders go to and fro."""

    def __init__(self) -> None:
        self._canvases: OrderedDict[tuple[str, Layout, int], LiveCanvas] = OrderedDict()
        self._results: OrderedDict[tuple[str, tuple[float, ...]], Any] = OrderedDict()

    def answer(self, question: Mapping[str, Any]) -> tuple[dict[str, Any], bytes]:
        """Answer one question.

        Parameters
        ----------
        question : mapping
            ``ask`` (any number, given back), ``bench``, ``values``, ``layout`` and ``pixels``, the width that the page
            has for the picture.

        Returns
        -------
        tuple
            What the page writes, and the picture as a file in memory. In place of a picture that cannot be had,
            ``trouble`` says why.
        """
        try:
            return self._answer(question)
        except PedalwrightError as trouble:
            return {"ask": question.get("ask"), "trouble": str(trouble)}, b""
        except Exception as trouble:
            said = f"this place could not be calculated ({type(trouble).__name__}); choose another one"
            return {"ask": question.get("ask"), "trouble": said}, b""

    def _answer(self, question: Mapping[str, Any]) -> tuple[dict[str, Any], bytes]:
        found = bench(str(question["bench"]))
        values = [float(value) for value in question["values"]]
        layout: Layout = "narrow" if question.get("layout") == "narrow" else "wide"
        results = self._calculated(found, values)
        canvas = self._canvas(found, layout, float(question.get("pixels") or 0))
        sliders = found.sliders
        about = {
            "ask": question.get("ask"),
            "sentence": found.say(results),
            "said": [s.say(live_value(s, v)) for s, v in zip(sliders, values, strict=True)],
            "steps": [fine_step(s) for s in sliders],
        }
        return about, canvas.photo(results)

    def _calculated(self, found: Bench, values: Sequence[float]) -> Any:
        key = (found.name, tuple(round(value, 9) for value in values))
        if key not in self._results:
            self._results[key] = live_results(found, values)
        self._results.move_to_end(key)
        while len(self._results) > RESULTS_KEPT:
            self._results.popitem(last=False)
        return self._results[key]

    def _canvas(self, found: Bench, layout: Layout, pixels: float) -> LiveCanvas:
        dpi = COARSE_DPI if pixels <= SIZE_PX[layout][0] * COARSE_DPI / DPI else DPI
        key = (found.name, layout, dpi)
        canvas = self._canvases.pop(key, None) or LiveCanvas(found, layout, dpi=dpi)
        self._canvases[key] = canvas
        while len(self._canvases) > KEPT:
            self._canvases.popitem(last=False)
        return canvas


def load_ipython_extension(shell: Any) -> None:
    """Make a kernel answer pages; called by the kernel itself when it starts."""
    answers = Answers()

    def opened(comm: Any, _: Any) -> None:
        def asked(message: Mapping[str, Any]) -> None:
            question = message["content"]["data"]
            about, picture = answers.answer(question)
            comm.send({**about, "number": question.get("number")}, buffers=[picture] if picture else [])

        comm.on_msg(asked)
        comm.send({"ready": True})

    shell.kernel.comm_manager.register_target(TARGET, opened)
    gc.freeze()  # what was loaded stays: looking through it again and again would hold up an answer now and then
