"""Turn a picture into pixels: what does not move is drawn once, what moves is drawn over a copy of it."""

from typing import Any, cast

import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg
from numpy.typing import NDArray
from PIL import Image

from pedalwright_bench.bench import Bench, Layout
from pedalwright_bench.style import DPI, style


class Canvas:
    """Draws one bench in one layout, again and again; frames and live pictures come from here alike."""

    def __init__(self, bench: Bench, layout: Layout, dpi: float = DPI) -> None:
        self._layout = layout
        with style(layout):
            self._picture = bench.picture(layout)
            self._picture.figure.set_dpi(dpi)
            self._canvas = cast(Any, FigureCanvasAgg(self._picture.figure))
            self._picture.update(bench.at(*bench.defaults))
            for artist in self._picture.moving:
                artist.set_animated(True)
            self._canvas.draw()
            self._background = self._canvas.copy_from_bbox(self._picture.figure.bbox)

    def draw(self, results: Any) -> NDArray[np.uint8]:
        """Pixels of the picture at the given results: height × width × RGBA, valid until the next call."""
        with style(self._layout):
            self._canvas.restore_region(self._background)
            self._picture.update(results)
            renderer = self._canvas.get_renderer()
            for artist in self._picture.moving:
                artist.draw(renderer)
        return np.asarray(self._canvas.buffer_rgba())

    def image(self, results: Any) -> Image.Image:
        """Draw the picture at the given results as an opaque image of its own."""
        return Image.fromarray(self.draw(results)).convert("RGB")
