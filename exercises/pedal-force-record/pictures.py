"""The record as a curve, and how the sectors are numbered."""

from functools import cache

import numpy as np

from autograde.cases.drawing import FIRST, GRID, INK, MUTED, SECOND, SHADE, THIRD, new_figure, to_png

from .record import ANGLES_DEG, ROWS, Record


def figures(record: Record) -> dict[str, bytes]:
    """All figures of the brief by name."""
    return {"force-record": record_figure(record), "sectors": sectors_figure()}


def record_figure(record: Record) -> bytes:
    """Down and forward force over the crank angle."""
    figure = new_figure(620, 400)
    axes = figure.add_subplot()
    curves = (
        (record.down_force_n, "down force", FIRST, "o", "-"),
        (record.forward_force_n, "forward force", SECOND, "s", "--"),
    )
    axes.axvspan(180, 360, color=SHADE, lw=0)
    for values, name, colour, marker, line in curves:
        axes.plot(
            [*ANGLES_DEG, 360], [*values, values[0]], color=colour, marker=marker, ls=line, lw=2, ms=6, label=name
        )
    axes.axhline(0, color=INK, lw=1)
    axes.set(xlim=(0, 360), xticks=np.arange(0, 361, 45), xlabel="crank angle (°): 0 top, 90 forward, 180 bottom")
    axes.set_ylabel("force of the right foot on the pedal (N)")
    axes.grid(color=GRID)
    axes.spines[["top", "right"]].set_visible(False)
    for place, words in ((90, "way down"), (270, "way up")):
        axes.text(place, 1.02, words, transform=axes.get_xaxis_transform(), ha="center", va="bottom", color=MUTED)
    axes.legend(loc="upper right", frameon=False)
    return to_png(figure)


@cache
def sectors_figure() -> bytes:
    """The sixteen sectors, and the directions of the forces at one pedal."""
    figure = new_figure(560, 500)
    axes = figure.add_subplot()
    around = np.linspace(0, 2 * np.pi, 181)
    axes.plot(np.sin(around), np.cos(around), color=MUTED, lw=1.5)
    for number, edge in enumerate(np.radians(ANGLES_DEG), start=1):
        middle = edge + np.pi / ROWS
        axes.plot([0.78 * np.sin(edge), np.sin(edge)], [0.78 * np.cos(edge), np.cos(edge)], color=MUTED, lw=1)
        axes.text(0.88 * np.sin(middle), 0.88 * np.cos(middle), str(number), ha="center", va="center", color=INK)
    for x, y, words, across, along in (
        (0, 1.05, "0° top", "center", "bottom"),
        (1.05, 0, "90°\nforward", "left", "center"),
        (0, -1.05, "180° bottom", "center", "top"),
        (-1.05, 0, "270°", "right", "center"),
    ):
        axes.text(x, y, words, color=MUTED, ha=across, va=along)
    pedal = np.array([0.3, 0.3])
    axes.plot([0, 0.3], [0, 0.3], color=INK, lw=5, solid_capstyle="round")
    axes.plot(*pedal, "o", color=INK, ms=9)
    for reach, colour, style, words, place in (
        ((0.28, 0.0), SECOND, "--", "forward", (0.42, 0.36)),
        ((0.0, -0.30), FIRST, "-", "down", (0.27, -0.06)),
        ((0.22, -0.22), THIRD, ":", "tangent", (0.56, 0.02)),
    ):
        arrow = {"arrowstyle": "-|>", "color": colour, "lw": 2.2, "ls": style, "shrinkA": 0, "shrinkB": 0}
        axes.annotate("", pedal + np.array(reach), pedal, arrowprops=arrow)
        axes.text(*place, words, color=colour, ha="center", va="center")
    axes.text(0, -0.42, "seen from the right:\npedalling turns clockwise", color=MUTED, ha="center", va="center")
    axes.set(xlim=(-1.3, 1.4), ylim=(-1.2, 1.2), aspect="equal")
    axes.axis("off")
    return to_png(figure)
