"""A small writer of line drawings that follow the page's colours, light and dark."""

from __future__ import annotations

import html
from collections.abc import Sequence

import numpy as np

Point = Sequence[float]


class Drawing:
    """Shapes in a plane with y up; ``svg`` writes them with a title and a description."""

    def __init__(self, left: float, bottom: float, width: float, height: float) -> None:
        self._box = (left, -(bottom + height), width, height)
        self._shapes: list[str] = []

    def line(self, points: Sequence[Point], style: str, *, closed: bool = False) -> None:
        """Add a polyline, or a polygon when closed."""
        path = "M" + "L".join(_at(point) for point in points) + ("Z" if closed else "")
        self._shapes.append(f'<path class="{style}" d="{path}"/>')

    def arrow(self, start: Point, end: Point, style: str, *, head: float = 14.0) -> None:
        """Add a line with a filled head at its end."""
        along = np.subtract(end, start) / np.hypot(*np.subtract(end, start))
        across, neck = np.array([-along[1], along[0]]), np.asarray(end) - head * along
        self.line([start, neck], style)
        self.line([end, neck + 0.42 * head * across, neck - 0.42 * head * across], f"{style} d-head", closed=True)

    def arc(self, centre: Point, radius: float, start_deg: float, end_deg: float, style: str) -> None:
        """Add an arc; angles like crank angles, from the top and clockwise."""
        self.line([on_circle(centre, radius, a) for a in np.linspace(start_deg, end_deg, 49)], style)

    def sector(self, centre: Point, inner: float, outer: float, start_deg: float, end_deg: float, style: str) -> None:
        """Add a piece of a ring."""
        angles = np.linspace(start_deg, end_deg, 17)
        there = [on_circle(centre, outer, a) for a in angles]
        self.line(there + [on_circle(centre, inner, a) for a in angles[::-1]], style, closed=True)

    def disc(self, centre: Point, radius: float, style: str) -> None:
        """Add a circle."""
        x, y = centre
        self._shapes.append(f'<circle class="{style}" cx="{x:.1f}" cy="{-y:.1f}" r="{radius:.1f}"/>')

    def text(self, place: Point, words: str, style: str = "d-text", *, anchor: str = "middle") -> None:
        """Add words, centred on the place unless the anchor says start or end."""
        x, y = place
        self._shapes.append(
            f'<text class="{style}" x="{x:.1f}" y="{-y:.1f}" text-anchor="{anchor}" dominant-baseline="central">'
            f"{html.escape(words)}</text>"
        )

    def svg(self, name: str, title: str, description: str) -> str:
        """Return the drawing as one ``svg`` element with a text alternative."""
        box = " ".join(f"{value:g}" for value in self._box)
        return (
            f'<svg class="drawing" viewBox="{box}" role="img" aria-labelledby="{name}-title {name}-desc">'
            f'<title id="{name}-title">{html.escape(title)}</title>'
            f'<desc id="{name}-desc">{html.escape(description)}</desc>{"".join(self._shapes)}</svg>'
        )


def on_circle(centre: Point, radius: float, crank_angle_deg: float) -> tuple[float, float]:
    """Return the point at a crank angle: 0 at the top, growing towards the front."""
    angle = np.radians(crank_angle_deg)
    return centre[0] + radius * float(np.sin(angle)), centre[1] + radius * float(np.cos(angle))


def _at(point: Point) -> str:
    return f"{point[0]:.1f} {-point[1]:.1f}"
