"""Pictures for live use: packed fast rather than small."""

import io
from typing import Any

from pedalwright_bench.canvas import Canvas

QUALITY = 90


def photo(canvas: Canvas, results: Any) -> bytes:
    """Draw the picture at the given results as a JPEG file in memory, packed four times as fast as a frame."""
    file = io.BytesIO()
    canvas.image(results).save(file, "JPEG", quality=QUALITY, subsampling=0)
    return file.getvalue()
