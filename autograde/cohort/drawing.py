"""The report's pictures as SVG: shapes double every colour, and each picture says its result in words.

Whatever comes from elsewhere is numbers by the time it gets here, so no text of a trainee can reach a picture.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
from markupsafe import Markup

from autograde.cohort.figures import Span, Standard

__all__ = ["band_picture", "interval_bar", "number", "scatter_picture", "span_number", "span_share"]

WIDTH, LEFT, RIGHT = 760, 20, 740
BINS = 36
TALLEST = 132.0


def number(value: float, digits: int = 2) -> str:
    """Write a number with a proper minus sign.

    Parameters
    ----------
    value : float
        The number.
    digits : int
        After the point.

    Returns
    -------
    str
        Never a minus zero.

    Examples
    --------
    >>> number(-0.123), number(-0.001)
    ('−0.12', '0.00')
    """
    text = f"{value:.{digits}f}"
    text = text.removeprefix("-") if float(text) == 0 else text
    return text.replace("-", "−")


def span_number(span: Span | None, digits: int = 2) -> str:
    """Write an estimate with its interval, or a dash.

    Examples
    --------
    >>> span_number(Span(0.4, 0.1, 0.6))
    '0.40 (0.10 to 0.60)'
    """
    if span is None:
        return "–"
    return f"{number(span.value, digits)} ({number(span.low, digits)} to {number(span.high, digits)})"


def span_share(span: Span | None) -> str:
    """Write a share with its interval in percent, or a dash.

    Examples
    --------
    >>> span_share(Span(0.4, 0.1, 0.6))
    '40 % (10 to 60 %)'
    """
    if span is None:
        return "–"
    return f"{100 * span.value:.0f} % ({100 * span.low:.0f} to {100 * span.high:.0f} %)"


def interval_bar(span: Span | None, low: float = 0.0, high: float = 1.0) -> Markup:
    """Draw an interval as a line with a dot; the numbers stand beside it.

    Parameters
    ----------
    span : Span or None
        What to draw; nothing but the axis if None.
    low, high : float
        Ends of the axis; what lies beyond is cut off.

    Returns
    -------
    Markup
        An SVG that screen readers pass over.
    """

    def x(value: float) -> str:
        return f"{4 + 112 * (min(max(value, low), high) - low) / (high - low):.1f}"

    parts = [f'<path d="M{x(low)} 9H{x(high)}" class="axis"/>']
    if low < 0 < high:
        parts.append(f'<path d="M{x(0)} 2V16" class="axis"/>')
    if span is not None:
        parts.append(
            f'<path d="M{x(span.low)} 9H{x(span.high)}M{x(span.low)} 5V13M{x(span.high)} 5V13" class="reach"/>'
        )
        parts.append(f'<circle cx="{x(span.value)}" cy="9" r="4" class="dot"/>')
    shapes = "".join(parts)
    return Markup(f'<svg class="interval" viewBox="0 0 120 18" aria-hidden="true" focusable="false">{shapes}</svg>')


def band_picture(standard: Standard, totals: Sequence[tuple[float, float]]) -> Markup:
    """Draw totals, cut and borderline band on the scale of marks.

    Parameters
    ----------
    standard : Standard
        Cut and band.
    totals : sequence of (float, float)
        Marks earned and marks still open, one pair for each trainee with marks.

    Returns
    -------
    Markup
        One square a trainee, hollow where marks are open; the band is hatched, the cut a line.
    """
    marks, still = np.array([pair[0] for pair in totals]), np.array([pair[1] for pair in totals])
    lowest = min(float(marks.min()), standard.low_marks)
    floor = 0.0 if lowest < 0.2 * standard.max_marks else float(np.floor(lowest / 10) * 10)
    scale = (RIGHT - LEFT) / (standard.max_marks - floor)

    def x(value: float) -> float:
        return LEFT + scale * (value - floor)

    base = 176.0
    parts = [
        '<defs><pattern id="hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
        '<path d="M0 0V6" class="hatching"/></pattern></defs>',
        f'<rect x="{x(standard.low_marks):.1f}" y="34" '
        f'width="{scale * (standard.high_marks - standard.low_marks):.1f}" '
        f'height="{base - 34:.0f}" fill="url(#hatch)" class="band"/>',
        *_squares(marks, still, x, base),
        f'<path d="M{x(standard.cut_marks):.1f} 22V{base:.0f}" class="cut"/>',
        f'<path d="M{LEFT} {base:.0f}H{RIGHT}" class="axis"/>',
        *_ticks(floor, standard.max_marks, x, base),
        _text(x(standard.cut_marks), 15, f"cut {standard.cut_marks:.1f}", "middle", "strong"),
        _text(x(standard.low_marks) - 4, 45, f"{standard.low_marks:.1f}", "end"),
        _text(x(standard.high_marks) + 4, 45, f"{standard.high_marks:.1f}", "start"),
        _text((LEFT + RIGHT) / 2, base + 38, f"marks of {standard.max_marks:g}", "middle"),
    ]
    return _svg(220, _band_words(standard, marks, still), parts)


def _band_words(standard: Standard, marks: np.ndarray, still: np.ndarray) -> str:
    done = still <= 1e-9
    above = int((done & (marks >= standard.high_marks)).sum())
    below = int((done & (marks < standard.low_marks)).sum())
    within = int(done.sum()) - above - below
    return (
        f"Totals on a scale to {standard.max_marks:g} marks with the cut at {standard.cut_marks:.1f}: {above} trainees "
        f"above the band, {within} within it, {below} below it, {int((~done).sum())} with marks still open"
    )


def _squares(marks: np.ndarray, still: np.ndarray, x: Callable[[float], float], base: float) -> Sequence[str]:
    step = (RIGHT - LEFT) / BINS
    bins = np.clip(((np.array([x(value) for value in marks]) - LEFT) / step).astype(int), 0, BINS - 1)
    done = still <= 1e-9
    solid, hollow = (np.bincount(bins[which], minlength=BINS) for which in (done, ~done))
    side = min(step - 4, TALLEST / max(1, int((solid + hollow).max())))
    apart = side > 5
    parts = []
    for place in range(BINS):
        left, width = LEFT + place * step + 2, step - 4
        for first, count, kind in ((0, solid[place], "done"), (solid[place], hollow[place], "hollow")):
            if count and not apart:
                top = base - side * (first + count)
                parts.append(_rect(left, top, width, side * count, kind))
            parts.extend(
                _rect(left, base - side * (first + n + 1) + 1, width, side - 2, kind) for n in range(count) if apart
            )
    return parts


def _rect(left: float, top: float, width: float, height: float, kind: str) -> str:
    return f'<rect x="{left:.1f}" y="{top:.1f}" width="{width:.1f}" height="{height:.1f}" class="{kind}"/>'


def _ticks(low: float, high: float, x: Callable[[float], float], base: float) -> Sequence[str]:
    step = next(size for size in (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, high) if (high - low) / size <= 12)
    values = np.arange(np.ceil(low / step) * step, high + 1e-9, step)
    return [
        f'<path d="M{x(value):.1f} {base:.0f}v5" class="axis"/>' + _text(x(value), base + 19, f"{value:g}", "middle")
        for value in values
    ]


def scatter_picture(points: Sequence[tuple[float, float, int]]) -> Markup:
    """Draw how hard tasks were against how well they tell apart.

    Parameters
    ----------
    points : sequence of (float, float, int)
        Difficulty (share of marks, 0 to 1), discrimination (-1 to 1), and the number of the task in the list of
        tasks worth a look, 0 if it is not in it.

    Returns
    -------
    Markup
        Dots; numbered triangles for those in the list.
    """
    low = min(-0.25, *(float(np.floor(4 * point[1]) / 4) for point in points))
    top, base, left, right = 16.0, 268.0, 60, 730

    def x(share: float) -> float:
        return left + (right - left) * share

    def y(value: float) -> float:
        return base - (base - top) * (value - low) / (1 - low)

    parts = [f'<path d="M{left} {top:.0f}V{base:.0f}H{right}" class="axis frame"/>']
    for value in np.arange(low, 1.01, 0.25):
        kind = "axis" if abs(value) < 1e-9 else "faint"
        parts.append(f'<path d="M{left} {y(value):.1f}H{right}" class="{kind}"/>')
        parts.append(_text(left - 8, y(value) + 4, number(value), "end"))
    parts += [_text(x(share / 4), base + 18, f"{25 * share} %", "middle") for share in range(5)]
    parts.append(
        _text((left + right) / 2, base + 38, "share of the marks earned: hard on the left, easy on the right", "middle")
    )
    parts.append(_text(left + 6, top + 2, "tells apart well", "start"))
    parts.append(_text(left + 6, base - 6, "tells apart badly, or the wrong way", "start"))
    parts += [
        f'<circle cx="{x(share):.1f}" cy="{y(value):.1f}" r="4.5" class="plain"/>'
        for share, value, flag in points
        if not flag
    ]
    named = sorted((x(share), y(value), flag) for share, value, flag in points if flag)
    side = 1.0
    for place, (across, up, flag) in enumerate(named):
        crowded = place > 0 and across - named[place - 1][0] < 24 and abs(up - named[place - 1][1]) < 14
        side = -side if crowded or across + 24 > right else 1.0
        parts.append(f'<path d="M{across:.1f} {up - 7:.1f}l7 12h-14z" class="odd"/>')
        parts.append(_text(across + 10 * side, up + 5, f"{flag}", "start" if side > 0 else "end", "strong"))
    odd = sum(point[2] > 0 for point in points)
    words = (
        f"{len(points)} tasks by share of marks earned and by how well they tell apart; {odd} of them are worth a look"
    )
    return _svg(312, words, parts)


def _svg(height: int, words: str, parts: Sequence[str]) -> Markup:
    shapes = "".join(parts)
    return Markup(f'<svg class="drawn" viewBox="0 0 {WIDTH} {height}" role="img" aria-label="{words}">{shapes}</svg>')


def _text(x: float, y: float, words: str, anchor: str, kind: str = "") -> str:
    return f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" class="{kind}">{words}</text>'
