"""The command that runs trainees' own cells again."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import click

from pedalwright_app.console import next_step, progress, say, table
from pedalwright_app.options import MOST_LINES, dry_run_option, folder_argument, line, workers_option

__all__ = ["rerun"]


@click.command()
@folder_argument
@click.option("--trainee", "trainees", multiple=True, metavar="ID", help="Only this trainee; repeat it for more.")
@click.option("--case", "cases", multiple=True, metavar="NAME", help="Only this case; repeat it for more.")
@click.option("--again", is_flag=True, help="Also what was run before and has not changed.")
@click.option("--seconds", type=click.FloatRange(1, 3600), default=60, show_default=True, help="Time for one notebook.")
@click.option(
    "--memory-mb", type=click.IntRange(256, 1_000_000), default=1024, show_default=True, help="Memory for one notebook."
)
@click.option(
    "--without-sandbox-i-accept-that-their-code-can-do-all-i-can",
    "unprotected",
    is_flag=True,
    help="Where no sandbox is to be had, run it all the same: the code can read, change and send whatever you can.",
)
@workers_option
@dry_run_option
def rerun(
    folder: Path,
    trainees: Sequence[str],
    cases: Sequence[str],
    again: bool,
    seconds: float,
    memory_mb: int,
    unprotected: bool,
    workers: int | None,
    dry_run: bool,
) -> None:
    """Run trainees' own cells again, in a sandbox, to see what they compute.

    Marks do not need this: they are read from the answers. It is for looking at work with code in it. In the sandbox
    code has no network, sees no file but Python's own, and is bounded in time, memory, processes and output. It needs
    Linux and the program bubblewrap; without a sandbox nothing is run.

    What each cell puts out lies in FOLDER/reexecuted/TRAINEE/CASE as a page and as a notebook: text and pictures only.

    \b
    Example
      pedalwright cohort rerun autumn --trainee wren
    """  # noqa: D301
    from autograde.cohort.folder import open_cohort
    from autograde.cohort.rerun import rerun_all, to_rerun
    from autograde.cohort.workers import suited
    from autograde.sandbox import Limits, SandboxError, find_box

    cohort = open_cohort(folder)
    box, why_none = None, ""
    try:
        box = find_box()
    except SandboxError as trouble:
        why_none = str(trouble)
        if not (unprotected or dry_run):
            raise
    limits = Limits(seconds=seconds, memory_mb=memory_mb)
    todo = to_rerun(cohort, box, limits, trainees=trainees, cases=cases, again=again)
    if why_none:
        say(f"{why_none}. {'The code runs unprotected, as you asked.' if unprotected else 'Nothing would be run.'}")
    if dry_run:
        table("Would be run again", ("trainee", "case"), [(job.trainee, job.case) for job in todo][:MOST_LINES])
        return
    with cohort.at_work(), progress("Running again", len(todo)) as tell:
        records = list(rerun_all(cohort, todo, runner=suited(len(todo), workers), progress=tell))
    if not records:
        say("Nothing to run: all that was collected was run before; --again runs it once more.")
        next_step(line("collect", folder))
        return
    _show(records)
    next_step(f"open the pages in {folder / 'reexecuted'}/TRAINEE/CASE")


def _show(records: Sequence[dict[str, object]]) -> None:
    finished = sum(not record["trouble"] for record in records)
    table(
        f"Run again: {len(records)} notebooks, {finished} of them to the end",
        ("trainee", "case", "cells run", "errors", "why not to the end"),
        [
            (one["trainee"], one["case"], f"{one['finished']} of {one['cells']}", one["errors"], one["trouble"])
            for one in sorted(records, key=lambda one: (not one["trouble"], str(one["trainee"])))
        ][:MOST_LINES],
        numbers=(2, 3),
    )
    if len(records) > MOST_LINES:
        say(f"and {len(records) - MOST_LINES} more, all in records/reexecuted.jsonl")
