"""Pictures for live use: words are drawn once and stamped again, and the picture is packed fast rather than small.

Frames are drawn by `Canvas` itself; a live picture may differ from them by half a pixel in the place of a word.
"""

import io
from collections import OrderedDict
from typing import Any, cast

import numpy as np
from matplotlib.backends.backend_agg import RendererAgg
from matplotlib.text import Text
from matplotlib.transforms import Affine2D
from numpy.typing import NDArray

from pedalwright_bench.bench import Bench, Layout
from pedalwright_bench.canvas import Canvas
from pedalwright_bench.style import DPI, style

QUALITY = 90
MARGIN_PX = 6
KEPT = 600

Stamp = tuple[NDArray[np.uint8], int, int]


class LiveCanvas(Canvas):
    """Draws one bench in one layout as fast as it can."""

    def __init__(self, bench: Bench, layout: Layout, dpi: float = DPI) -> None:
        super().__init__(bench, layout, dpi)
        self._stamps = Stamps()

    def draw(self, results: Any) -> NDArray[np.uint8]:
        """Pixels of the picture at the given results: height × width × RGBA, valid until the next call."""
        with style(self._layout):
            self._canvas.restore_region(self._background)
            self._picture.update(results)
            renderer = self._canvas.get_renderer()
            for artist in self._picture.moving:
                if type(artist) is Text:
                    self._stamps.draw(artist, renderer)
                else:
                    artist.draw(renderer)
        return np.asarray(self._canvas.buffer_rgba())

    def photo(self, results: Any) -> bytes:
        """Draw the picture at the given results as a JPEG file in memory."""
        file = io.BytesIO()
        self.image(results).save(file, "JPEG", quality=QUALITY, subsampling=0)
        return file.getvalue()


class Stamps:
    """Remembers how the texts of one picture look; most of the time of a drawing goes into its words."""

    def __init__(self) -> None:
        self._stamps: OrderedDict[tuple[Any, ...], Stamp | None] = OrderedDict()

    def draw(self, text: Text, renderer: Any) -> None:
        """Draw a text as its own method does, put down to the nearest pixel."""
        words = text.get_text()
        if not words.strip() or not text.get_visible():
            return
        x, y = text.get_transform().transform(text.get_unitless_position())
        look = (
            id(text),
            words,
            text.get_color(),
            text.get_alpha(),
            text.get_rotation(),
            text.get_horizontalalignment(),
            text.get_verticalalignment(),
            hash(text.get_fontproperties()),
        )
        if look not in self._stamps:
            self._stamps[look] = _stamp(text, renderer, x, y)
        self._stamps.move_to_end(look)
        while len(self._stamps) > KEPT:
            self._stamps.popitem(last=False)
        stamp = self._stamps[look]
        if stamp is None:
            text.draw(renderer)
            return
        image, left, below = stamp
        context = renderer.new_gc()
        renderer.draw_image(context, round(x) + left, round(y) + below, image)
        context.restore()


def _stamp(text: Text, renderer: Any, x: float, y: float) -> Stamp | None:
    """Draw the text alone on a clear ground, its anchor on a whole pixel; None for what is more than words."""
    if text.get_bbox_patch() is not None or text.get_clip_on():
        return None
    box = text.get_window_extent(renderer)
    left, below = int(np.floor(box.x0 - x)) - MARGIN_PX, int(np.floor(box.y0 - y)) - MARGIN_PX
    width, height = (int(np.ceil(side)) + 2 * MARGIN_PX + 1 for side in (box.width, box.height))
    ground = cast(Any, RendererAgg)(width, height, renderer.dpi)
    place = text.get_transform()
    text.set_transform(place + Affine2D().translate(-left - x, -below - y))
    try:
        text.draw(ground)
    finally:
        text.set_transform(place)
    return np.array(ground.buffer_rgba())[::-1], left, below
