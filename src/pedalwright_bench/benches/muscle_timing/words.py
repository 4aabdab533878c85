"""What the bench says: the guess asked for, the sentence of a result, and what the model rests on."""

from pedalwright.activity import ActivityComparison
from pedalwright_bench.bench import Choice, Prediction
from pedalwright_bench.benches.muscle_timing.model import Results

STUDIES = {
    "hug_dorel_2009": "Hug and Dorel 2009, from memory",
    "da_silva_2016": "da Silva and others 2016",
    "jorge_hull_1986": "Jorge and Hull 1986",
    "ericson_1985": "Ericson and others 1985",
    "dorel_2008": "Dorel and others 2008",
    "ryan_gregor_1992": "Ryan and Gregor 1992",
}
LETTERS = dict(zip(STUDIES, "abcdef", strict=True))

TARGET = (
    "Pale bars: where published recordings found the muscle active, one bar a study (weak or mixed: the studies "
    "disagree, some figures are from memory and some as another paper quotes them). Nothing here is made to fit them."
)

NOTES = (
    (
        "How to read it",
        "Each row is a muscle. The bars rise with its load; the highest is the load written beside it, in percent of "
        "the most the muscle can pull. Filled bars: above a fifth of its own peak, so it counts as active. Bars of "
        "different rows have different scales. Letters name the studies.",
    ),
    (
        "What the model keeps",
        "The joint moments of an invented rider of 70 kg (average push of 15 riders, scaled), shared at each moment "
        "among ten muscles so that the sum of their loads, each raised to a power, is least (Crowninshield and Brand "
        "1981). Power 3 is the usual choice; 2 and 4 show how much hangs on it.",
    ),
    (
        "What it leaves out",
        "Electrodes hear a muscle 50 to 100 ms before its force is there (from memory), 24° to 48° of the turn at "
        "80 rpm, so published bars should begin earlier even if the rule were right. Muscles that brake each other, "
        "fatigue and habit are not in it. That the body shares load by such a rule is a hypothesis. It is a teaching "
        "model: nothing here says that a rider’s muscle is weak, tight or late.",
    ),
)


def arc_in_words(onset_deg: float, offset_deg: float) -> str:
    """Say over which crank angles a muscle is active."""
    if onset_deg != onset_deg:
        return "nowhere"
    return "all round" if (onset_deg, offset_deg) == (0, 360) else f"from {onset_deg:.0f}° to {offset_deg:.0f}°"


def sentence(results: Results) -> str:
    """Say the result in one plain sentence."""
    inputs, hardest = results.inputs, results.hardest
    return (
        f"At {inputs.effort_w:g} W, {inputs.cadence_rpm:g} rpm and power {inputs.power:g}: the {hardest} comes nearest "
        f"to the most it can pull, {results.peak_pct(hardest):.0f} % at {results.peak_at_deg(hardest)}°; the vasti "
        f"reach {results.peak_pct('vasti'):.0f} % at {results.peak_at_deg('vasti')}°. Of {len(results.compared)} "
        f"published windows the prediction overlaps {results.agreeing} by more than two thirds and "
        f"{results.disagreeing} by less than half. {_told('Best', results.best)}; {_told('worst', results.worst)}."
    )


def prediction(results: Results) -> Prediction:
    """Ask how prediction and measurement compare before the picture is seen."""
    hamstring = results.of("semimembranosus")
    best, worst = (pick(hamstring, key=lambda one: one.overlap) for pick in (max, min))
    seen = (
        f"For the semimembranosus alone the overlap runs from {100 * worst.overlap:.0f} % "
        f"({STUDIES[worst.window.source]}) to {100 * best.overlap:.0f} % ({STUDIES[best.window.source]})."
    )
    return Prediction(
        prompt="Before you look: a calculation shares the load among ten muscles. Four studies measured when the "
        "semimembranosus, one of the hamstrings, is active. With how many of them will the calculation agree?",
        choices=(
            Choice("With all four", f"It cannot: the four do not agree among themselves. {seen}"),
            Choice("With some, against others", f"Yes, for the four do not agree among themselves. {seen}", right=True),
            Choice("With none", f"It does better than that, and still no study proves it right. {seen}"),
        ),
    )


def _told(word: str, one: ActivityComparison) -> str:
    window = one.window
    published = arc_in_words(window.onset_deg, window.offset_deg)
    predicted = arc_in_words(one.predicted_onset_deg, one.predicted_offset_deg)
    return (
        f"{word}: {window.muscle}, {published} published ({STUDIES[window.source]}), {predicted} predicted, "
        f"{100 * one.overlap:.0f} % overlap"
    )
