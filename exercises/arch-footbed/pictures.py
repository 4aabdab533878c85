"""Both feet from the inner side, standing, with the two lengths and the height."""

import numpy as np

from autograde.cases.drawing import FIRST, INK, MUTED, SECOND, SHADE, THIRD, new_figure, to_png

from .arches import Feet, Foot


def figures(case: Feet) -> dict[str, bytes]:
    """All figures of the brief by name."""
    return {"foot": foot_figure(case)}


def foot_figure(case: Feet) -> bytes:
    """The foot in question from its inner side, standing, to scale."""
    figure = new_figure(620, 340)
    axes = figure.add_subplot()
    foot: Foot = case.asked
    length, joint, height = foot.total_mm, foot.truncated_mm, foot.standing_mm
    share = np.array([0, 0.02, 0.10, 0.2, 0.28, 0.5, 0.74, 0.9, 1.0])
    high = np.array([14, 40, 75, 104, 108, height, 0.52 * height, 22, 8])
    along = np.linspace(0, length, 200)
    top = np.interp(along / length, share, high)
    top = np.convolve(np.pad(top, 6, mode="edge"), np.ones(13) / 13, mode="valid")
    top += (height - np.interp(length / 2, along, top)) * np.exp(-(((along - length / 2) / 40) ** 2))
    under = 15 * np.sin(np.pi * np.clip((along / length - 0.22) / 0.46, 0, 1)) ** 2
    axes.fill_between(along, under, top, color=SHADE, lw=0)
    axes.plot(along, top, color=INK, lw=2)
    axes.plot(along, under, color=INK, lw=2)
    axes.plot([-25, length + 25], [-1.5, -1.5], color=INK, lw=4, solid_capstyle="butt")
    axes.plot([length / 2] * 2, [0, height], color=THIRD, lw=2.5)
    axes.plot(length / 2, height, "D", color=THIRD, ms=7)
    axes.text(length / 2 + 6, height + 14, "height at half of\nthe whole length", color=THIRD, ha="left", va="bottom")
    axes.plot(joint, 26, "o", color=FIRST, ms=9)
    axes.text(joint + 4, 40, "joint of\nthe big toe", color=FIRST, ha="left", va="bottom")
    for end, level, words, colour in (
        (joint, -20, f"{joint:g} mm to the joint", FIRST),
        (length, -46, f"{length:g} mm whole length", SECOND),
    ):
        axes.annotate("", (0, level), (end, level), arrowprops={"arrowstyle": "<->", "color": colour})
        axes.text(end / 2, level - 3, words, color=colour, ha="center", va="top")
    axes.plot([joint, joint], [-20, 20], color=FIRST, lw=0.8, ls=":")
    axes.text(-20, 128, f"{case.side} foot from its inner side, standing", color=MUTED, ha="left", va="center")
    axes.set(xlim=(-35, length + 45), ylim=(-66, 138), aspect="equal")
    axes.axis("off")
    return to_png(figure)
