"""The commands that give notebooks out and take them in."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from pedalwright_app import steps
from pedalwright_app.console import next_step, say, table
from pedalwright_app.options import MOST_LINES, dry_run_option, folder_argument, line, scheduler_option, workers_option

if TYPE_CHECKING:
    from autograde.cohort.folder import Cohort

__all__ = ["collect", "hand_out"]


@click.command("hand-out")
@folder_argument
@click.option("--next-attempt", is_flag=True, help="Also hand out a further attempt; say to whom.")
@click.option("--trainee", "trainees", multiple=True, metavar="ID", help="Who tries again; repeat it for more.")
@click.option("--below-standard", is_flag=True, help="Everybody tries again who was decided to be below standard.")
@click.option("--case", "cases", multiple=True, metavar="NAME", help="Only this case; repeat it for more.")
@workers_option
@scheduler_option
@dry_run_option
def hand_out(
    folder: Path,
    next_attempt: bool,
    trainees: Sequence[str],
    below_standard: bool,
    cases: Sequence[str],
    workers: int | None,
    scheduler: str,
    dry_run: bool,
) -> None:
    """Write one notebook of their own for each trainee and case.

    Each trainee gets other numbers. They lie in FOLDER/release/TRAINEE/CASE/CASE.ipynb; send each trainee their own.
    A notebook that is there already is never written again.

    A further attempt has other numbers again and lies beside the first, in attempt-2/. It opens when the attempt
    before was handed in and marked, as often as blueprint.toml allows, and closes the one before. Which attempt counts
    is set in cohort.toml; every attempt stays on record.

    With --scheduler the work is done by the workers of a Dask scheduler that is running. Each needs this program (with
    the extra named dask) and your own cases, in the same edition and place. A worker gets a
    trainee's name and the seed of their numbers, and sends back the notebook.
    The cohort's secret and all other files stay in the folder. Names and work travel over the network: use only
    a scheduler that you run yourself and trust, in a network of your own or with an address that begins with tls://.

    \b
    Examples
      pedalwright cohort hand-out autumn
      pedalwright cohort hand-out autumn --next-attempt --trainee heron --case pedal-force-record
      pedalwright cohort hand-out autumn --next-attempt --below-standard
      pedalwright cohort hand-out autumn --scheduler tcp://192.0.2.7:8786
    """  # noqa: D301
    from autograde.cohort.folder import open_cohort

    if next_attempt and bool(trainees) == below_standard:
        raise click.UsageError("say who tries again: --trainee ID, or --below-standard for everybody concerned")
    if not next_attempt and (trainees or below_standard or cases):
        raise click.UsageError("--trainee, --below-standard and --case go with --next-attempt")
    opened = open_cohort(folder)
    further, refused = _further(opened, trainees, cases) if next_attempt else ({}, {})
    given = steps.hand_out(opened, further=further, workers=workers, scheduler=scheduler, dry_run=dry_run)
    counts = Counter((item.case, item.what) for item in given)
    words = ("written", "there already", "changed since")
    table(
        "Would be handed out" if dry_run else "Handed out",
        ("case", "written", "there already", "not the notebook drawn"),
        [(case, *(counts[case, what] for what in words)) for case in opened.settings.cases],
        numbers=(1, 2, 3),
    )
    _show_further(further, refused)
    next_step(
        f"send every trainee their notebooks from {folder / 'release'}/TRAINEE",
        f"put what comes back into {folder / 'inbox'}: as TRAINEE__CASE.ipynb, in TRAINEE/CASE/, or as a zip of these",
        line("collect", folder),
    )
    if next_attempt and not further:
        raise click.exceptions.Exit(1)


Attempts = Mapping[tuple[str, str], int]
Reasons = Mapping[tuple[str, str], str]


def _further(opened: Cohort, trainees: Sequence[str], cases: Sequence[str]) -> tuple[Attempts, Reasons]:
    from autograde.cohort.further import plan_further
    from autograde.desk.plan import open_blueprint
    from autograde.desk.retry import below_standard

    pairs = [(trainee, case) for trainee in trainees for case in (cases or opened.settings.cases)]
    if not trainees:
        pairs = [who for who in below_standard(opened) if not cases or who[1] in cases]
    planned = plan_further(opened, pairs, allowed=open_blueprint(opened)[0].attempts)
    return planned.attempts, planned.refused


def _show_further(further: Attempts, refused: Reasons) -> None:
    if further:
        rows = [(trainee, case, attempt) for (trainee, case), attempt in further.items()]
        table(f"Further attempts: {len(rows)}", ("trainee", "case", "attempt"), rows[:MOST_LINES], numbers=(2,))
    if refused:
        lines = [(trainee, case, reason) for (trainee, case), reason in refused.items()]
        table(f"No further attempt: {len(lines)}", ("trainee", "case", "reason"), lines[:MOST_LINES])


@click.command()
@folder_argument
@click.option(
    "--from",
    "source",
    type=click.Path(exists=True, path_type=Path),
    metavar="PLACE",
    help="A folder or zip archive elsewhere, or the inbound folder of nbgrader's exchange, in place of the inbox.",
)
@dry_run_option
def collect(folder: Path, source: Path | None, dry_run: bool) -> None:
    """Take in what lies in FOLDER/inbox.

    Taken are notebooks named TRAINEE__CASE.ipynb, lying in TRAINEE/CASE/, or called CASE.ipynb in a folder named after
    the trainee, also inside zip archives; and folders as nbgrader's exchange makes them. The inbox is left as it is.
    Every version is kept; of each attempt the one that arrived last counts. Links, names that lead out of the inbox and
    files that are too large are refused with the reason.

    \b
    Examples
      pedalwright cohort collect autumn
      pedalwright cohort collect autumn --from downloads/week-3.zip
      pedalwright cohort collect autumn --from /srv/nbgrader/exchange/autumn/inbound
    """  # noqa: D301
    from autograde.cohort.folder import open_cohort

    opened = open_cohort(folder)
    outcome = steps.collect(opened, source, dry_run=dry_run)
    counts = Counter((item.case, item.what) for item in outcome)
    words = ("taken", "newer version", "kept before")
    table(
        "Would be collected" if dry_run else "Collected",
        ("case", *words),
        [(case, *(counts[case, what] for what in words)) for case in opened.settings.cases],
        numbers=(1, 2, 3),
    )
    refused = [(item.source, item.reason) for item in outcome if item.what == "refused"]
    if refused:
        table(f"Refused: {len(refused)}", ("file", "reason"), refused[:MOST_LINES])
    if len(refused) > MOST_LINES:
        say(f"and {len(refused) - MOST_LINES} more, all in {opened.record('refused')}")
    next_step(line("mark", folder))
