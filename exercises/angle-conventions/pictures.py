"""The landmarks on the grid of the picture."""

import numpy as np

from autograde.cases.drawing import FIRST, GRID, INK, MUTED, SHADE, new_figure, to_png

from .picture_of_rider import LANDMARKS, Picture


def figures(case: Picture) -> dict[str, bytes]:
    """All figures of the brief by name."""
    return {"landmarks": landmark_figure(case)}


def landmark_figure(case: Picture) -> bytes:
    """Landmarks joined to a stick figure; pixels count to the right and downward."""
    places = np.array(case.places_px)
    at = dict(zip(LANDMARKS, places, strict=True))
    figure = new_figure(620, 720)
    axes = figure.add_subplot()
    for chain, width in (
        (("shoulder", "hip", "knee", "ankle"), 24),
        (("ankle", "heel", "toe", "ankle"), 10),
    ):
        line = np.array([at[name] for name in chain])
        axes.plot(*line.T, color=SHADE, lw=width, solid_capstyle="round", solid_joinstyle="round", zorder=1)
    for chain in (("shoulder", "hip", "knee", "ankle"), ("heel", "toe")):
        axes.plot(*np.array([at[name] for name in chain]).T, color=MUTED, lw=1.5, zorder=2)
    axes.plot(*places.T, "o", color=FIRST, ms=7, zorder=3)
    ahead = 1 if case.facing == "right" else -1
    for name, (x, y) in at.items():
        behind = name in {"hip", "heel", "ankle"}
        beside = -ahead if behind else ahead
        axes.text(x + 16 * beside, y - 6, name, color=INK, ha="left" if beside > 0 else "right", va="center", zorder=4)
    high = places.max(axis=0) + 60
    axes.set(xlim=(-40, high[0] + 40), ylim=(high[1], 0), aspect="equal")
    axes.set_xlabel("pixels to the right")
    axes.set_ylabel("pixels downward")
    axes.grid(color=GRID, zorder=0)
    axes.set_axisbelow(True)
    axes.spines[["top", "right"]].set_visible(False)
    axes.set_title(f"the rider faces {case.facing}", color=MUTED, fontsize=11)
    return to_png(figure)
