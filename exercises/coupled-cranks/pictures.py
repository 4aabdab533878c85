"""Both legs' torques, each over its own crank's angle."""

import numpy as np

from autograde.cases.drawing import FIRST, GRID, INK, MUTED, SECOND, SHADE, new_figure, to_png

from .legs import ANGLES_DEG, Torques


def figures(case: Torques) -> dict[str, bytes]:
    """All figures of the brief by name."""
    return {"torques": torque_figure(case)}


def torque_figure(case: Torques) -> bytes:
    """Torque of each leg over the angle of its own crank."""
    figure = new_figure(620, 400)
    axes = figure.add_subplot()
    axes.axvspan(180, 360, color=SHADE, lw=0)
    for values, name, colour, marker, line in (
        (case.right_nm, "right leg", FIRST, "o", "-"),
        (case.left_nm, "left leg", SECOND, "s", "--"),
    ):
        axes.plot(
            [*ANGLES_DEG, 360], [*values, values[0]], color=colour, marker=marker, ls=line, lw=2, ms=6, label=name
        )
    axes.axhline(0, color=INK, lw=1)
    axes.set(xlim=(0, 360), xticks=np.arange(0, 361, 30), xlabel="angle of the leg's own crank (°): 0 top, 180 bottom")
    axes.set_ylabel("torque of the leg (N m)")
    axes.grid(color=GRID)
    axes.spines[["top", "right"]].set_visible(False)
    for place, words in ((90, "way down"), (270, "way up")):
        axes.text(place, 1.02, words, transform=axes.get_xaxis_transform(), ha="center", va="bottom", color=MUTED)
    axes.legend(loc="upper right", frameon=False)
    return to_png(figure)
