"""A bench in a notebook: the same model and drawing as the frames, as widgets, computed as the sliders move."""

import asyncio
import base64
from collections.abc import Callable
from html import escape
from typing import Any

import ipywidgets as widgets

from pedalwright_bench.bench import Bench, Layout
from pedalwright_bench.photo import LiveCanvas

DPI = 75
STALE = "bench-stale"
LOOK = (
    "<style>.bench-live{max-width:60rem}.bench-live img{display:block;width:100%;height:auto}"
    ".bench-live .widget-html-content{line-height:1.45;white-space:normal}"
    ".bench-stale{opacity:.45}.bench-stale::before{content:'drawing …'}</style>"
)


class Latest:
    """Does only the newest of the calls that arrive while one is at work.

    A slider sends an event for every place it passes. Each call here only notes what is wanted now; the
    work waits until the events already queued have been seen, and then is done once.
    """

    def __init__(self, work: Callable[..., None], pause_s: float = 0.004) -> None:
        self._work = work
        self._pause_s = pause_s
        self._wanted: tuple[Any, ...] | None = None
        self._task: asyncio.Task[None] | None = None

    def ask(self, *wanted: Any) -> None:
        """Ask for the work; outside a running event loop it is done at once."""
        self._wanted = wanted
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:
            self._do()
            return
        if self._task is None or self._task.done():
            self._task = loop.create_task(self._serve())

    async def _serve(self) -> None:
        while self._wanted is not None:
            await asyncio.sleep(self._pause_s)
            self._do()

    def _do(self) -> None:
        wanted, self._wanted = self._wanted, None
        if wanted is not None:
            self._work(*wanted)


class LiveBench(widgets.VBox):
    """Controls, picture and sentence of a bench as widgets."""

    def __init__(self, bench: Bench, layout: Layout = "wide") -> None:
        self._bench = bench
        self._canvas = LiveCanvas(bench, layout, dpi=DPI)
        self._latest = Latest(self._redraw)
        self.sliders = [
            widgets.SelectionSlider(
                options=[(s.say(v), v) for v in s.values],
                value=s.default,
                description=s.label,
                style={"description_width": "initial"},
                layout=widgets.Layout(flex="1 1 15rem", min_width="0", width="auto"),
            )
            for s in bench.sliders
        ]
        self.reset = widgets.Button(description="Reset", layout=widgets.Layout(width="auto"))
        self.picture = widgets.HTML()
        self.sentence = widgets.HTML()
        self.shown = widgets.VBox([self.picture, self.sentence], layout=widgets.Layout(display="none"))
        self.uncover = widgets.Button(description="Show the picture", layout=widgets.Layout(width="auto"))
        prediction = bench.prediction(bench.at(*bench.defaults))
        self._replies = [choice.reply for choice in prediction.choices]
        self.guess = widgets.RadioButtons(
            options=[choice.text for choice in prediction.choices], value=None, layout=widgets.Layout(width="auto")
        )
        self.reply = widgets.HTML()
        controls = widgets.HBox([*self.sliders, self.reset], layout=widgets.Layout(flex_flow="row wrap"))
        notes = "".join(f"<dt><b>{escape(head)}</b></dt><dd>{escape(text)}</dd>" for head, text in bench.notes)
        super().__init__(
            [
                widgets.HTML(f"{LOOK}{escape(bench.title)}<br><b>{escape(bench.question)}</b>"),
                widgets.HTML(escape(prediction.prompt)),
                self.guess,
                self.reply,
                controls,
                self.uncover,
                self.shown,
                widgets.HTML(escape(bench.target)),
                widgets.HTML(f"<details><summary>What this picture rests on</summary><dl>{notes}</dl></details>"),
            ]
        )
        self.add_class("bench-live")
        self.guess.observe(self._answer, "index")
        self.uncover.on_click(self._show)
        self.reset.on_click(self._restore)
        for slider in self.sliders:
            slider.observe(self._moved, "value")
        self._redraw(*bench.defaults)

    def _answer(self, change: dict[str, Any]) -> None:
        self.reply.value = escape(self._replies[change["new"]])
        self._show()

    def _show(self, _: object = None) -> None:
        self.shown.layout.display = None
        self.uncover.layout.display = "none"

    def _restore(self, _: object = None) -> None:
        for slider, default in zip(self.sliders, self._bench.defaults, strict=True):
            slider.value = default

    def _moved(self, _: object = None) -> None:
        self._show()
        self.picture.add_class(STALE)
        self._latest.ask(*(slider.value for slider in self.sliders))

    def _redraw(self, *values: float) -> None:
        results = self._bench.at(*values)
        sentence = escape(self._bench.say(results))
        coded = base64.b64encode(self._canvas.photo(results)).decode("ascii")
        self.picture.value = f'<img src="data:image/jpeg;base64,{coded}" alt="{sentence}">'
        self.sentence.value = sentence
        self.picture.remove_class(STALE)


def live(bench: Bench, layout: Layout = "wide") -> LiveBench:
    """Show a bench with a kernel behind it."""
    return LiveBench(bench, layout)
