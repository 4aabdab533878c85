"""The book's line drawings, placed by the same conventions and the same package as its numbers."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from docutils import nodes
from sphinx.application import Sphinx
from sphinx.util.docutils import SphinxDirective

from pedalwright.force import resolve_on_crank
from pedalwright.position import Leg, Position
from pedalwright.recorded import recorded_pedal_force
from pedalwright.stroke import solve_stroke
from pedalwright_book.svg import Drawing, on_circle

AXLE = (0.0, 0.0)
CRANK = 170.0


def stroke_frame() -> str:
    """Crank angles, the sixteen sectors and the two directions at the pedal."""
    d = Drawing(-290, -262, 580, 524)
    for number in range(1, 17):
        start, end = (number - 1) * 22.5, number * 22.5
        d.sector(AXLE, 178, 212, start, end, "d-sector d-strong" if number in (4, 5, 6) else "d-sector")
        d.text(on_circle(AXLE, 195, (start + end) / 2), str(number), "d-text d-small")
    d.disc(AXLE, CRANK, "d-thin")
    for angle, words, anchor in ((0, "0° top", "middle"), (180, "180° bottom", "middle")):
        d.text(on_circle(AXLE, 236, angle), words, anchor=anchor)
    d.text((222, 0), "90°", anchor="start")
    d.text((222, -22), "forward", anchor="start")
    d.text((-222, 0), "270°", anchor="end")
    d.text((-222, -22), "back", anchor="end")
    pedal = on_circle(AXLE, CRANK, 40)
    d.line([AXLE, pedal], "d-part")
    d.arrow(pedal, on_circle(pedal, 92, 130), "d-useful")
    d.arrow(pedal, on_circle(pedal, 84, 40), "d-radial")
    d.text((pedal[0] + 20, pedal[1] - 84), "tangent", "d-text d-useful-text", anchor="end")
    d.text((pedal[0] + 68, pedal[1] + 66), "outward", "d-text d-radial-text", anchor="start")
    d.arc(AXLE, 62, 0, 36, "d-thin")
    d.line([AXLE, (0, 80)], "d-thin d-dashed")
    d.text((30, 80), "θ", "d-text d-italic")
    d.arc(AXLE, 112, 205, 255, "d-line")
    tip = on_circle(AXLE, 112, 258)
    d.arrow(on_circle(AXLE, 112, 250), on_circle(tip, 8, 348), "d-line", head=13)
    d.text((-58, -62), "turns", anchor="start")
    d.disc(AXLE, 9, "d-joint")
    d.disc(pedal, 8, "d-joint")
    return d.svg(
        "stroke-frame",
        "The frame of the pedal stroke",
        "The crank circle from the rider's right, the rider facing right. The crank angle is 0 degrees at the top, "
        "90 degrees forward, 180 degrees at the bottom and 270 degrees back. Sixteen sectors are numbered from the "
        "top in the direction of turning; four, five and six, around forward horizontal, are marked. At the pedal one "
        "arrow points along the tangent, in the direction of travel of the pedal, and one outward along the crank.",
    )


def push_split() -> str:
    """One downward push, split along the crank and across it, with its moment arm."""
    angle, push = 50.0, 190.0
    d = Drawing(-90, -150, 420, 350)
    pedal = on_circle(AXLE, CRANK, angle)
    parts = resolve_on_crank(0.0, -push, angle)
    along, across = float(parts.radial_force_n), float(parts.tangential_force_n)
    foot_of_push = (pedal[0], pedal[1] - push)
    tangent_end = on_circle(pedal, across, angle + 90)
    radial_end = on_circle(pedal, along, angle)
    d.arc(AXLE, CRANK, -18, 128, "d-thin")
    d.line([AXLE, pedal], "d-part d-pale")
    d.line([AXLE, (pedal[0], 0)], "d-arm")
    d.line([(pedal[0], pedal[1] + 60), (pedal[0], -140)], "d-thin d-dashed")
    d.line([tangent_end, foot_of_push, radial_end], "d-thin d-dashed")
    d.arrow(pedal, foot_of_push, "d-push")
    d.arrow(pedal, tangent_end, "d-useful")
    d.arrow(pedal, radial_end, "d-radial")
    d.text((pedal[0] + 14, -116), "push F", "d-text d-strong-text", anchor="start")
    d.text((tangent_end[0] + 10, tangent_end[1] + 12), "tangential", "d-text d-useful-text", anchor="start")
    d.text((tangent_end[0] + 10, tangent_end[1] - 10), "part", "d-text d-useful-text", anchor="start")
    d.text((54, 108), "radial part", "d-text d-radial-text", anchor="end")
    d.text((0, -26), "moment arm", "d-text d-arm-text", anchor="start")
    d.disc(AXLE, 9, "d-joint")
    d.disc(pedal, 8, "d-joint")
    return d.svg(
        "push-split",
        "A push split into its two parts",
        f"The crank stands at {angle:.0f} degrees and the foot pushes straight down. The push is split into a "
        "tangential part, which turns the crank, and a radial part, which points along the crank towards the axle. The "
        "moment arm is the level distance from the axle to the line of the push.",
    )


def two_cranks() -> str:
    """Both cranks at the moment of the greatest useful push, with the tangential parts of an average record."""
    d = Drawing(-300, -215, 600, 430)
    for start, words in ((90, "5"), (270, "13")):
        d.sector(AXLE, 178, 212, start, start + 22.5, "d-sector d-strong")
        d.text(on_circle(AXLE, 195, start + 11.25), words, "d-text")
    d.disc(AXLE, CRANK, "d-thin")
    for angle, style, name in ((101.0, "d-useful", "right"), (281.0, "d-radial", "left")):
        pedal = on_circle(AXLE, CRANK, angle)
        parts = resolve_on_crank(*recorded_pedal_force("park_caldwell_2022", angle), angle)
        useful = float(parts.tangential_force_n)
        d.line([AXLE, pedal], "d-part")
        d.arrow(pedal, on_circle(pedal, 0.8 * useful, angle + 90), style)
        d.disc(pedal, 8, "d-joint")
        side = 1 if name == "right" else -1
        anchor = "start" if side > 0 else "end"
        d.text((side * 176, 60 if side > 0 else 104), f"{name}: {angle:.0f}°", "d-text d-large", anchor=anchor)
        words = f"{useful:+.0f} N".replace("-", "−")
        d.text((side * 192, -122 if side > 0 else -40), words, f"d-text d-large {style}-text", anchor=anchor)
    d.disc(AXLE, 9, "d-joint")
    return d.svg(
        "two-cranks",
        "Two opposite cranks at the same moment",
        "The right crank stands at 101 degrees, in sector five, and its leg drives with a tangential part of 232 "
        "newtons in the average record. The left crank stands opposite at 281 degrees, in sector thirteen, on its way "
        "up; its leg takes back about 42 newtons.",
    )


def leg_landmarks() -> str:
    """Draw the leg at forward horizontal with its landmarks and the knee angle."""
    leg = Leg(thigh_length_mm=428.75, shank_length_mm=430.5, ankle_to_pedal_mm=150.0)
    position = Position(saddle_height_mm=738.0, saddle_setback_mm=200.0, crank_length_mm=CRANK)
    stroke = solve_stroke(leg, position, 90.0)
    hip, knee, ankle, pedal = (p[0] for p in (stroke.hip_mm, stroke.knee_mm, stroke.ankle_mm, stroke.pedal_mm))
    d = Drawing(-330, -215, 830, 1010)
    d.disc(AXLE, CRANK, "d-thin")
    d.line([AXLE, pedal], "d-part")
    d.line([hip, knee, ankle, pedal], "d-leg")
    beyond = knee + 190 * (knee - hip) / np.hypot(*(knee - hip))
    d.line([knee, beyond], "d-line d-dashed")
    towards = [90 - float(np.degrees(np.arctan2(*(point - knee)[::-1]))) for point in (beyond, ankle)]
    d.arc(knee, 120, towards[0], towards[1], "d-useful")
    d.text(on_circle(knee, 212, (towards[0] + towards[1]) / 2), "knee flexion", "d-text d-big d-useful-text")
    d.line([knee, (knee[0], -70)], "d-thin d-dashed")
    for point in (hip, knee, ankle):
        d.disc(point, 13, "d-joint")
    d.disc(pedal, 10, "d-joint")
    d.disc(AXLE, 12, "d-joint")
    labels = (
        (hip, (34, 34), "hip: greater trochanter", "start"),
        (knee, (32, 24), "knee: outer bump", "start"),
        (knee, (32, -16), "of the thigh bone", "start"),
        (ankle, (-28, 10), "ankle: outer", "end"),
        (ankle, (-28, -30), "malleolus", "end"),
        (pedal, (30, -6), "pedal axle", "start"),
    )
    for point, offset, words, anchor in labels:
        d.text((point[0] + offset[0], point[1] + offset[1]), words, "d-text d-big", anchor=anchor)
    d.text((knee[0] - 14, -108), "plumb line", "d-text d-big")
    return d.svg(
        "leg-landmarks",
        "Landmarks of the leg and the knee angle",
        "The right leg with the crank forward horizontal. Marked are the hip at the greater trochanter, the knee at "
        "the outer bump of the thigh bone, the ankle at the outer malleolus, and the pedal axle. Knee flexion is the "
        "angle between the thigh, drawn on beyond the knee, and the shank. A plumb line falls from the knee beside the "
        "pedal axle.",
    )


DRAWINGS: dict[str, Callable[[], str]] = {
    "leg-landmarks": leg_landmarks,
    "push-split": push_split,
    "stroke-frame": stroke_frame,
    "two-cranks": two_cranks,
}


class DrawingDirective(SphinxDirective):
    """``{drawing} stroke-frame``: the drawing, with the content as its caption."""

    required_arguments = 1
    has_content = True

    def run(self) -> list[nodes.Node]:
        """Write the figure."""
        name = self.arguments[0]
        if name not in DRAWINGS:
            raise self.error(f"drawing {name!r}; allowed: {', '.join(DRAWINGS)}. Use one of these.")
        opening = f'<figure class="drawing-figure drawing-{name}">{DRAWINGS[name]()}<figcaption>'
        return [
            nodes.raw("", opening, format="html"),
            *self.parse_content_to_nodes(),
            nodes.raw("", "</figcaption></figure>\n", format="html"),
        ]


def setup(app: Sphinx) -> None:
    """Register the directive."""
    app.add_directive("drawing", DrawingDirective)
