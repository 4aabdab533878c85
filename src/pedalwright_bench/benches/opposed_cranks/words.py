"""What the bench says: the guess asked for, the sentence of a result, and what the model rests on."""

from pedalwright_bench.bench import Choice, Prediction
from pedalwright_bench.benches.opposed_cranks.model import CADENCE_RPM, EFFORT_W, Results

TARGET = (
    "Shaded: sectors 4 to 6 of sixteen for the right leg and, half a turn later, for the left. No value of "
    "effectiveness is a goal: riders told to pull up read better at the pedal and used more oxygen for the same power."
)

NOTES = (
    (
        "What the two meters read",
        "Torque effectiveness is the net work of a turn as a share of the propelling work. A meter on one pedal sees "
        "the rising half of its leg, which holds back. A meter where both cranks meet sees only the sum: what the "
        "rising leg takes has already been paid by the other leg. The same ride, two numbers. Smoothness is mean "
        "torque as a share of peak torque, and differs for the same reason.",
    ),
    (
        "What the model keeps",
        "The mean force pattern recorded from 15 recreational riders (Park, Caldwell and Umberger 2022) at 200 W and "
        "90 rpm, both legs alike. The second slider takes away a share of the torque against the turn and makes the "
        "push smaller, so that the effort stays.",
    ),
    (
        "What it leaves out",
        "The muscles that lift and what lifting costs them, the swing of the leg at a fast cadence, and legs that "
        "differ. It is a teaching model. That the rising leg presses down a little is mostly its weight, which the "
        "falling leg’s weight balances: no fault, and no loss. Riders told to pull up became more effective at the "
        "pedal and less efficient (Korff and others 2007).",
    ),
)


def turning_in_words(torque_nm: float, which: str) -> str:
    """Say what a leg does to its crank."""
    if abs(torque_nm) < 0.05:
        return f"the {which} leg neither turns nor holds back"
    return f"the {which} leg {'turns with' if torque_nm > 0 else 'holds back with'} {abs(torque_nm):.1f} N·m"


def sentence(results: Results) -> str:
    """Say the result in one plain sentence."""
    lift = results.inputs.lift_pct
    way = "as recorded" if lift == 0 else f"with {lift:g} % of the torque against the turn lifted"
    return (
        f"At {EFFORT_W:g} W and {CADENCE_RPM:g} rpm, {way}, and the right crank at "
        f"{results.inputs.crank_angle_deg:g}°, {turning_in_words(results.right_nm, 'right')}, "
        f"{turning_in_words(results.left_nm, 'left')}, and together they give {results.both_nm:.1f} N·m; over a turn "
        f"each leg pushes {results.pushed_j:.0f} J and takes {results.held_back_j:.0f} J back while rising, so a meter "
        f"on one leg reads {results.one_leg_effectiveness_pct:.0f} % torque effectiveness and a meter on both reads "
        f"{results.both_legs_effectiveness_pct:.0f} %."
    )


def prediction(results: Results) -> Prediction:
    """Ask what the other meter reads before the picture is seen."""
    one = f"{results.one_leg_effectiveness_pct:.0f} %"
    both = f"{results.both_legs_effectiveness_pct:.0f} %"
    low = f"{results.both_curve_nm.min():.0f} N·m"
    return Prediction(
        prompt=f"Before you look: a meter in one pedal reads {one} torque effectiveness. What does a meter that sees "
        "only both legs together read for the same ride?",
        choices=(
            Choice(
                f"The same, {one}",
                f"No: it reads {both}. While one leg holds back, the other pushes harder than that, so the sum never "
                f"falls below {low}.",
            ),
            Choice(
                both,
                f"Yes. While one leg holds back, the other pushes harder, so the sum stays above zero (at least {low}) "
                "and nothing seems to be lost.",
                right=True,
            ),
            Choice(
                "Less, since both legs’ losses add up",
                f"They do not add up: each happens while the other leg pushes. The sum never falls below {low}, so "
                f"that meter reads {both}.",
            ),
        ),
    )
