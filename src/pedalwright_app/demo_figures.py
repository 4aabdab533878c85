"""What comes out of the demonstration, as a few figures that the book quotes.

They are taken from the demonstration cohort itself, with all cases and with one case alone, and shipped in
`demo_figures.toml`, so that a page never says anything else than the report does.
"""

from __future__ import annotations

import json
import tempfile
from collections import Counter
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from autograde.award.outcome import Outcome
from pedalwright_app.demo_birds import PLANTED_IN

if TYPE_CHECKING:
    from autograde.cohort.folder import Cohort

__all__ = ["FIGURES_FILE", "figures_of", "write_file"]

FIGURES_FILE = Path(__file__).with_name("demo_figures.toml")
HEAD = "# Figures that come out of the invented demonstration; rewritten by: python -m pedalwright_app.demo_renew\n"
NAMES = {
    "awards": Outcome.AWARD,
    "not-yet": Outcome.NOT_YET,
    "borderline": Outcome.BORDERLINE,
    "blocked": Outcome.BLOCKED,
    "outstanding": Outcome.OUTSTANDING,
}


def figures_of(cohort: Cohort) -> dict[str, str]:
    """Take the figures from a demonstration cohort that was run to its end.

    Parameters
    ----------
    cohort : Cohort
        The cohort.

    Returns
    -------
    dict
        By name, as the book prints them; marks with one decimal.
    """
    from autograde.cohort.standing import standing
    from autograde.cohort.statistics import misconception_counts
    from autograde.desk.decisions import decide_cohort
    from autograde.desk.moderation import compare

    stand = standing(cohort)
    decisions = decide_cohort(cohort, stand, dry_run=True)
    standard, top, read = decisions.standard.standard, misconception_counts(stand)[0], compare(cohort)
    low, high = standard.band_marks
    outcomes = Counter(one.decision.outcome for one in decisions.all)
    return {
        "birds": f"{len(cohort.trainees)}",
        "cases": f"{len(cohort.settings.cases)}",
        "tasks": f"{sum(len(family.tasks) for family in stand.families)}",
        "notebooks": f"{len(stand.sheets)}",
        "handed-in": f"{len(stand.marked)}",
        "top": top.label,
        "top-birds": f"{len(top.trainees)} of {top.handed_in}",
        "marks": f"{standard.max_marks:g}",
        "cut": f"{standard.cut_marks:.1f}",
        "cut-error": f"{standard.cut_se_marks:.1f}",
        "raters": f"{standard.rounds[-1].raters}",
        "rounds": f"{len(standard.rounds)}",
        "reliability": f"{standard.reliability or 0:.2f}",
        "error": f"{standard.sem_marks:.1f}",
        "band-low": f"{low:.1f}",
        "band-high": f"{high:.1f}",
        "band-share": f"{100 * (high - low) / standard.max_marks:.0f} %",
        **{name: f"{outcomes[outcome]}" for name, outcome in NAMES.items()},
        "read-again": f"{len(read)}",
        "lay-apart": f"{sum(one.apart for one in read)}",
        "marks-changed": f"{sum(one.agreed not in (None, one.piece.first_marks) for one in read)}",
    }


def write_file() -> None:
    """Run the demonstration with all cases and with one case alone, and rewrite the shipped figures."""
    from autograde.cohort.folder import open_cohort
    from pedalwright_app.demo import demo

    parts = []
    for name, options in (("all", []), ("one", ["--case", PLANTED_IN])):
        with tempfile.TemporaryDirectory() as folder:
            demo.main([f"{folder}/demo", *options], standalone_mode=False)
            parts.append(_table(name, figures_of(open_cohort(Path(folder) / "demo"))))
    FIGURES_FILE.write_text(HEAD + "".join(parts), encoding="utf-8")


def _table(name: str, figures: Mapping[str, str]) -> str:
    lines = (f"{key} = {json.dumps(text, ensure_ascii=False)}" for key, text in figures.items())
    return f"\n[{name}]\n" + "\n".join(lines) + "\n"
