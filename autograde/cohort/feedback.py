"""One page of feedback for each trainee and case."""

from __future__ import annotations

from collections.abc import Callable

from autograde.cohort.folder import Settings
from autograde.cohort.pages import environment, write_if_changed
from autograde.cohort.standing import Sheet, Standing
from autograde.cohort.statistics import misconception_name

__all__ = ["feedback_page", "write_feedback"]


def feedback_page(sheet: Sheet, settings: Settings) -> str:
    """Write a trainee's feedback as a page that stands alone.

    Parameters
    ----------
    sheet : Sheet
        The marked sheet.
    settings : Settings
        Of the cohort.

    Returns
    -------
    str
        HTML without scripts and without anything from elsewhere; it holds no right value.
    """
    slips = {
        outcome.task.id: misconception_name(sheet.family, outcome.task, outcome.misconception)
        for outcome in sheet.outcomes
        if outcome.misconception
    }
    template = environment().get_template("feedback.html")
    return template.render(sheet=sheet, title=settings.title, book=settings.book, note=settings.note, slips=slips)


def write_feedback(standing: Standing, *, progress: Callable[[int, int], None] = lambda _done, _all: None) -> int:
    """Write the feedback pages of everybody whose work is marked, those of attempts that do not count beside them.

    Parameters
    ----------
    standing : Standing
        The cohort as it stands.
    progress : callable
        Told how many of how many sheets are done.

    Returns
    -------
    int
        Pages that are new or have changed.
    """
    cohort, changed = standing.cohort, 0
    for count, sheet in enumerate(standing.marked, start=1):
        path = cohort.feedback(sheet.trainee.id, sheet.family.name)
        changed += write_if_changed(path, feedback_page(sheet, cohort.settings))
        progress(count, len(standing.marked))
    for sheets in standing.earlier.values():
        for sheet in sheets:
            path = cohort.feedback(sheet.trainee.id, sheet.family.name, sheet.attempt)
            changed += write_if_changed(path, feedback_page(sheet, cohort.settings))
    return changed
