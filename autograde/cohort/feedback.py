"""One page of feedback for each trainee and case."""

from __future__ import annotations

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


def write_feedback(standing: Standing) -> int:
    """Write the feedback pages of everybody whose work is marked.

    Parameters
    ----------
    standing : Standing
        The cohort as it stands.

    Returns
    -------
    int
        Pages that are new or have changed.
    """
    cohort = standing.cohort
    return sum(
        write_if_changed(
            cohort.feedback(sheet.trainee.id, sheet.family.name),
            feedback_page(sheet, cohort.settings),
        )
        for sheet in standing.marked
    )
