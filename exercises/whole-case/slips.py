"""Wrong ways to the answers: what each leads to, and what to say about it."""

from typing import Any

from autograde.cases.writing import slips_on

from .rider import (
    OTHER,
    Case,
    at_face_value,
    difference_deg,
    flexion_deg,
    moves_mm,
    smaller_move_mm,
    told_apart,
    verdict,
)

PAGE = "whole-case"
START = "start"
RIGHT_ORDER = ("ask", "baseline", "support", "height", "fore-aft", "again")
slip = slips_on(PAGE)


def mean_deg(case: Case) -> float:
    """Mean of both knees."""
    return (flexion_deg(case, "right") + flexion_deg(case, "left")) / 2


def move_of(case: Case, earlier: Any) -> float:
    """The smaller move from the named knee and difference."""
    return smaller_move_mm(case, earlier["knee"], earlier["difference"])


def face_value(case: Case, earlier: Any) -> str | None:
    """The window at face value, where that is more than can be said."""
    said = at_face_value(earlier["knee"])
    return None if said == verdict(case, earlier["knee"]) else said


REFER = (
    slip(
        "today",
        "passed-over-warning",
        "went on in spite of a warning sign",
        lambda case, _: "go-on" if case.stops_fit else None,
        "You went on although one of the remarks names a sign that stops the fit. A fitter notices, says so calmly and "
        "refers.",
        page=START,
    ),
    slip(
        "today",
        "fit-as-treatment",
        "used the fit to treat a complaint",
        lambda _case, _earlier: "treat",
        "You used the fit as a treatment. A fitter sets contact points and promises no cure; a complaint that worries "
        "you is seen by others before anything is moved.",
        page=START,
    ),
    slip(
        "today",
        "soreness-for-sign",
        "took ordinary soreness for a warning sign",
        lambda case, _: None if case.stops_fit else "stop",
        "You stopped although none of the signs was named. Read what makes a remark ordinary: both sides alike, after "
        "unusual effort, and gone within hours or a night or two.",
        0.25,
        page=START,
    ),
    slip(
        "today",
        "emergency-put-off",
        "put an emergency off",
        lambda case, _: "stop" if case.emergency else None,
        "You stopped, and that is right, but this sign does not wait for an appointment. Read the first box of the "
        "list again.",
        0.25,
        page=START,
    ),
    slip(
        "today",
        "alarm-too-high",
        "called an emergency where its list names none",
        lambda case, _: None if case.emergency else "emergency",
        "You called for help at once. None of the remarks stands in the first box of the list. When you are in real "
        "doubt on the day, calling is still the safer mistake.",
        0.25,
        page=START,
    ),
)

ORDER = (
    slip(
        "order",
        "align-before-support",
        "aligned before supporting",
        lambda _case, _earlier: ("ask", "baseline", "height", "fore-aft", "support", "again"),
        "You aligned first and supported last. A foot or a pelvis that is held differently afterwards makes every "
        "earlier reading void, and the saddle has to be set again.",
        0.25,
    ),
    slip(
        "order",
        "ask-after-measuring",
        "measured before asking",
        lambda _case, _earlier: ("baseline", "ask", "support", "height", "fore-aft", "again"),
        "You measured first and asked then. A sign that stops the fit has to be heard before the rider sits on the "
        "bicycle and pedals.",
        page=START,
    ),
    slip(
        "order",
        "no-baseline",
        "changed things before measuring how they were",
        lambda _case, _earlier: ("ask", "support", "baseline", "height", "fore-aft", "again"),
        "You supported before you had measured. Without the first reading nobody can say later what the support did, "
        "or go back.",
        0.5,
    ),
    slip(
        "order",
        "fore-aft-before-height",
        "set fore and aft before the height",
        lambda _case, _earlier: ("ask", "baseline", "support", "fore-aft", "height", "again"),
        "You slid the saddle before its height was set. The height moves the knee as well, so fore and aft is looked "
        "at afterwards.",
        0.5,
    ),
)

KNEES = (
    slip(
        "knee",
        "included-for-flexion",
        "took the included angle for the flexion",
        lambda case, _: 180 - flexion_deg(case, case.side),
        "You gave the angle between thigh and shank that the tool reads. Flexion counts from the straight leg, whose "
        "included angle is a half turn.",
    ),
    slip(
        "knee",
        "before-support",
        "used readings from before the support",
        lambda case, _: flexion_deg(case, case.side, "found"),
        "You used the readings from before the feet and the seat were supported. They describe a rider who does not "
        "sit like that any more.",
        0.25,
    ),
    slip(
        "knee",
        "averaged",
        "averaged right and left",
        lambda case, _: mean_deg(case),
        "You averaged right and left. Nobody rides on an average leg: each knee has its own number.",
        0.25,
    ),
    slip(
        "knee",
        "other-side",
        "gave the other knee",
        lambda case, _: flexion_deg(case, OTHER[case.side]),
        "This is the other knee. Say which side a number belongs to, always.",
        0.25,
    ),
    slip(
        "difference",
        "sign-turned",
        "turned the sign, or took included angles off each other",
        lambda case, _: -difference_deg(case),
        "The size fits, the sign does not: a larger included angle is a smaller flexion. Turn both into flexion first.",
        0.5,
    ),
    slip(
        "difference",
        "before-support",
        "used readings from before the support",
        lambda case, _: difference_deg(case, "found"),
        "You compared the knees as they were before the seat was levelled. A seat that slopes bends one knee and "
        "straightens the other.",
        0.25,
    ),
    slip(
        "told",
        "face-value",
        "took a difference for real that the tool cannot tell",
        lambda case, earlier: "shown" if told_apart(case, earlier["difference"]) == "open" else None,
        "You took the difference for real. Compare it with the smallest change that this tool can tell from its own "
        "error.",
    ),
    slip(
        "told",
        "doubt-for-everything",
        "doubted what is beyond the tool's error",
        lambda case, earlier: "open" if told_apart(case, earlier["difference"]) == "shown" else None,
        "You left it open although your difference is larger than what this tool's error makes.",
        0.25,
    ),
    slip(
        "told",
        "length-from-knees",
        "read a leg length out of two knee angles",
        lambda _case, _earlier: "length",
        "You read the length of a leg out of two knee angles. Seat, foot, hip and habit bend a knee too, and no trial "
        "shows what a shim does.",
    ),
)

SADDLE = (
    slip(
        "window",
        "face-value",
        "took the number as exact",
        lambda case, earlier: face_value(case, earlier),
        "You took the number at face value. It lies nearer to an edge than the error of the tool allows for a verdict.",
    ),
    slip(
        "window",
        "doubt-for-everything",
        "doubted what is beyond doubt",
        lambda case, earlier: None if verdict(case, earlier["knee"]) == "open" else "open",
        "You left it open although your number lies further from the edge than the tool's error reaches.",
        0.25,
    ),
    slip(
        "window",
        "comfort-zone",
        "called a knee inside that is surely outside",
        lambda case, earlier: "inside" if verdict(case, earlier["knee"]) == "outside" else None,
        "You called the knee inside. Compare your own flexion with both ends of the window.",
    ),
    slip(
        "change",
        "wrong-way",
        "changed the saddle the wrong way",
        lambda case, earlier: -move_of(case, earlier),
        "The distance fits, the direction does not: a higher saddle straightens the knee.",
        0.25,
    ),
    slip(
        "change",
        "larger-move",
        "took the larger of the two moves",
        lambda case, earlier: max(moves_mm(case, earlier["knee"], earlier["difference"]), key=abs),
        "You took the move of the knee that asks for more. It carries the other knee past the wanted angle.",
        0.25,
    ),
    slip(
        "change",
        "averaged",
        "averaged right and left",
        lambda case, earlier: sum(moves_mm(case, earlier["knee"], earlier["difference"])) / 2,
        "You took the middle of both moves. It fits neither knee, and carries one of them past the wanted angle.",
        0.25,
    ),
    slip(
        "change",
        "degrees-as-mm",
        "took a degree for a millimetre",
        lambda case, earlier: move_of(case, earlier) * case.trial_deg / 10,
        "You moved the saddle as many millimetres as the knee is degrees away. The trial says what 10 mm do.",
        0.25,
    ),
)

MISCONCEPTIONS = REFER + ORDER + KNEES + SADDLE
