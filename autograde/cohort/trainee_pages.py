"""A page about each trainee for the instructor: where somebody stands, what waits, what was decided and why.

The trainee's own feedback is another page. Like that one, this page holds no right value and no number of a variant's
key: an answer that is wrong is shown with what was typed and the feedback given, not with what it was compared with.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from autograde.cohort.competency_map import CompetencyMap
from autograde.cohort.figures import Figures
from autograde.cohort.pages import environment, write_if_changed
from autograde.cohort.roster import Trainee
from autograde.cohort.standing import Sheet, Standing
from autograde.cohort.statistics import misconception_name
from autograde.marking import State

__all__ = ["trainee_page", "write_trainee_pages"]


def trainee_page(trainee: Trainee, standing: Standing, figures: Figures, by_competency: CompetencyMap) -> str:
    """Write the page about one trainee.

    Parameters
    ----------
    trainee : Trainee
        Who.
    standing : Standing
        The cohort as it stands.
    figures : Figures
        Decisions and second readings.
    by_competency : CompetencyMap
        The map.

    Returns
    -------
    str
        HTML without scripts and without anything from elsewhere.
    """
    settings = standing.cohort.settings
    sheets = [standing.sheets[trainee.id, family.name] for family in standing.families]
    return (
        environment()
        .get_template("trainee.html")
        .render(
            title=settings.title,
            note=settings.note,
            book=settings.book,
            trainee=trainee,
            row=by_competency.by_trainee.get(trainee.id),
            sheets=sheets,
            states=list(dict.fromkeys(outcome.state for sheet in sheets for outcome in sheet.outcomes)),
            earlier={family.name: standing.earlier.get((trainee.id, family.name), ()) for family in standing.families},
            slips=_slips(sheets),
            decision=figures.decisions.get(trainee.id),
            standard=figures.standard,
            apart=[one for one in figures.moderation.apart if one.trainee == trainee.id] if figures.moderation else [],
            titles={(sheet.family.name, task.id): task.title for sheet in sheets for task in sheet.family.tasks},
            waiting=sum(len(sheet.waiting) for sheet in sheets),
        )
    )


def _slips(sheets: Sequence[Sheet]) -> Sequence[tuple[str, Sequence[tuple[str, Sequence[str]]]]]:
    """Group what was recognised by the page to reteach, then by misconception; the page with most answers first."""
    found: dict[str, dict[str, list[str]]] = {}
    for sheet in sheets:
        for outcome in sheet.outcomes:
            if outcome.misconception is not None and outcome.state == State.MISCONCEPTION:
                label, page = misconception_name(sheet.family, outcome.task, outcome.misconception)
                where = f"{outcome.task.title}, {sheet.family.title}"
                found.setdefault(page, {}).setdefault(label, []).append(where)
    pages = [(page, sorted(slips.items(), key=lambda slip: -len(slip[1]))) for page, slips in found.items()]
    return sorted(pages, key=lambda page: -sum(len(where) for _, where in page[1]))


def write_trainee_pages(standing: Standing, figures: Figures, by_competency: CompetencyMap) -> int:
    """Write the pages that are new or have changed, and take away those of people who left the roster.

    Parameters
    ----------
    standing, figures, by_competency
        See `trainee_page`.

    Returns
    -------
    int
        Pages written.
    """
    folder, written = standing.cohort.report / "trainees", 0
    wanted: set[Path] = set()
    for trainee in standing.cohort.trainees:
        if not trainee.gone:
            path = folder / f"{trainee.id}.html"
            wanted.add(path)
            written += write_if_changed(path, trainee_page(trainee, standing, figures, by_competency))
    for path in set(folder.glob("*.html")) - wanted:
        path.unlink(missing_ok=True)
    return written
