"""The commands that mark, tell the trainees, and report."""

from __future__ import annotations

import shlex
from collections import Counter
from pathlib import Path

import click

from pedalwright_app import steps
from pedalwright_app.console import next_step, pairs, table
from pedalwright_app.options import dry_run_option, folder_argument, line, scheduler_option, workers_option

__all__ = ["by_hand_line", "feedback", "mark", "report"]


def by_hand_line(folder: Path) -> str:
    """Say how to mark by hand."""
    return f"mark by hand what waits for you: cd {shlex.quote(str(folder))} && jupyter lab, then Nbgrader > Formgrader"


@click.command()
@folder_argument
@click.option("--again", is_flag=True, help="Mark everything again, also what has not changed.")
@workers_option
@scheduler_option
@dry_run_option
def mark(folder: Path, again: bool, workers: int | None, scheduler: str, dry_run: bool) -> None:
    """Mark what was collected.

    The filled notebooks are read, never run. Every answer ends in one of five states; what cannot be read is
    never counted as wrong but shown to you with the reason. Marks go into the gradebook, where nbgrader's form
    for hand marking finds them. Only new or changed submissions are marked; marks given by a person stay.

    With --scheduler the work is done by the workers of a Dask scheduler that is running. Each needs this program (with
    the extra named dask) and your own cases, in the same edition and place. A worker gets one
    notebook at a time and the seed of that trainee's numbers, and sends back the marks.
    The cohort's secret and all other files stay in the folder. Names and work travel over the network: use only
    a scheduler that you run yourself and trust, in a network of your own or with an address that begins with tls://.

    \b
    Examples
      pedalwright cohort mark autumn
      pedalwright cohort mark autumn --again --workers 2
      pedalwright cohort mark autumn --scheduler tcp://192.0.2.7:8786
    """  # noqa: D301
    from autograde.cohort.folder import open_cohort
    from autograde.cohort.marking import to_mark
    from autograde.marking import State

    opened = open_cohort(folder)
    cases = opened.settings.cases
    if dry_run:
        todo = Counter(job.case for job in to_mark(opened, again=again))
        table("Would be marked", ("case", "sheets"), [(case, todo[case]) for case in cases], numbers=(1,))
        next_step(line("mark", folder))
        return
    done = steps.mark(opened, again=again, workers=workers, scheduler=scheduler)
    states = [*(str(state) for state in State), steps.TEXT_FOR_A_PERSON]
    table(
        f"Marked: {done.fresh} sheets now, {sum(done.sheets.values())} in all",
        ("answers", *cases),
        [(state, *(done.states.get(case, Counter())[state] for case in cases)) for state in states],
        numbers=range(1, len(cases) + 1),
    )
    next_step(line("report", folder), by_hand_line(folder))


@click.command()
@folder_argument
@dry_run_option
def feedback(folder: Path, dry_run: bool) -> None:
    """Write every trainee's page of feedback, and nothing else.

    A page says for each answer what was read, how it stands, why, and which page of the book to revisit; never the
    right value. Marks and comments given by people are taken in. Pages of attempts that do not count lie beside the one
    that does. `report` writes these pages as well.

    \b
    Example
      pedalwright cohort feedback autumn
    """  # noqa: D301
    from autograde.cohort.folder import open_cohort

    opened = open_cohort(folder)
    stand, pages = steps.feedback(opened, dry_run=dry_run)
    waiting = sum(len(sheet.waiting) for sheet in stand.marked)
    pairs(
        "Would be written" if dry_run else "Feedback",
        [
            ("sheets marked", len(stand.marked)),
            ("pages new or changed", pages),
            ("waiting for a person", f"{waiting} answers"),
            ("where", opened.root / "feedback"),
        ],
    )
    next_step(
        *([by_hand_line(folder)] if waiting else []),
        f"send every trainee their page from {folder / 'feedback'}/TRAINEE",
        line("report", folder),
    )


@click.command()
@folder_argument
@dry_run_option
def report(folder: Path, dry_run: bool) -> None:
    """Write the cohort report and every trainee's feedback page.

    The report is one page you can project: what to reteach tomorrow, who stands where, misconceptions by frequency,
    how hard each task was and whether it tells trainees apart, how sure a total is, and what waits for a person. A page
    for each trainee, tables for a spreadsheet and one JSON file lie beside it. Run it again after marking by hand and
    after deciding: marks and comments given by people are taken in.

    \b
    Example
      pedalwright cohort report autumn
    """  # noqa: D301
    from autograde.cohort.folder import open_cohort
    from autograde.cohort.statistics import misconception_counts

    opened = open_cohort(folder)
    stand, pages = steps.report(opened, dry_run=dry_run)
    rows: list[tuple[str, object]] = [
        ("report", opened.report / "index.html"),
        ("a page for each trainee", f"{opened.report / 'trainees'}, for instructors"),
        ("tables", "marks, answers, misconceptions, items, competencies (CSV), and report.json with everything"),
        ("feedback", f"{pages} pages new or changed, in {opened.root / 'feedback'}"),
        ("waiting for a person", f"{sum(len(sheet.waiting) for sheet in stand.marked)} answers"),
    ]
    for top in misconception_counts(stand)[:1]:
        rows.append(("most frequent misconception", f"{top.label}: {len(top.trainees)} of {top.handed_in} trainees"))
        rows.append(("page to reteach", top.page))
    pairs("Would be reported" if dry_run else "Report", rows)
    next_step(f"open {opened.report / 'index.html'}", f"send every trainee their page from {folder / 'feedback'}")
