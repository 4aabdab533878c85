"""The commands of the cohort desk, in the order of a cohort's life."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import click

from pedalwright_app import award_status
from pedalwright_app.award_commands import award, decide, revoke, settle
from pedalwright_app.console import TeachingGroup, next_step, pairs
from pedalwright_app.handing_commands import collect, hand_out
from pedalwright_app.marking_commands import by_hand_line, feedback, mark, report
from pedalwright_app.moderation_commands import moderate
from pedalwright_app.options import dry_run_option, folder_argument, line
from pedalwright_app.rerun_command import rerun

__all__ = ["cohort"]


@click.group(cls=TeachingGroup)
def cohort() -> None:
    """Run a cohort: from the roster to the award.

    \b
    The usual order, each step safe to repeat:
      make      a private folder from a roster (CSV with the columns id, name)
      hand-out  one notebook of their own for each trainee and case
      collect   what came back, from the folder's inbox
      mark      reads the filled notebooks without running them
      moderate  a second person reads a sample of the texts; what lies apart is settled
      feedback  one page for each trainee
      report    one page for the cohort, and the feedback with it
      decide    who passes, by blueprint and standard; settle is for what the rule leaves to a person
      award     a signed award and a certificate for everybody who passed; revoke takes one back
      status    where the cohort stands, and what to do next
    """  # noqa: D301


@cohort.command()
@folder_argument
@click.option("--roster", type=click.Path(path_type=Path), required=True, help="CSV with the columns id, name, email.")
@click.option("--case", "cases", multiple=True, metavar="NAME", help="A case to hand out; repeat it for more.")
@click.option(
    "--case-folder",
    "case_folders",
    multiple=True,
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    help="A folder with cases of your own. Their case.py is run, so name only a folder you trust.",
)
@click.option("--title", default="", help="Title on the reports. By default made from the folder's name.")
@click.option("--book", default="", metavar="ADDRESS", help="Address of the book, for links to pages to reteach.")
@dry_run_option
def make(
    folder: Path, roster: Path, cases: Sequence[str], case_folders: Sequence[Path], title: str, book: str, dry_run: bool
) -> None:
    """Make a cohort in FOLDER from a roster.

    The folder is private: it holds the secret from which every trainee's numbers are drawn, so keep it out of any
    repository and make copies of it. Run the command again with a longer roster or another --case to add to a
    cohort; nobody is ever taken out and the secret stays.

    Without --case all known cases are handed out.
    """
    from autograde.cohort.make import make_cohort, plan
    from autograde.cohort.roster import read_roster
    from autograde.desk.plan import write_first_plan

    wanted = plan(folder, read_roster(roster), title=title, cases=cases, case_folders=case_folders, book=book)
    blueprint = "would be written if it is missing"
    if not dry_run:
        fits = write_first_plan(make_cohort(wanted))
        blueprint = "a proposal, in blueprint.toml: make it yours" if fits else "your own, left as it is"
    pairs(
        f"{'Would be made' if dry_run else 'Cohort'}: {wanted.settings.title}",
        [
            ("trainees", f"{len(wanted.trainees)} ({len(wanted.added)} new)"),
            ("cases", ", ".join(wanted.settings.cases)),
            ("folder", wanted.root),
            ("blueprint", blueprint),
            ("secret", "kept as it was" if wanted.exists else "new, in secret.key: never share it, keep a copy"),
        ],
    )
    next_step(line("hand-out", folder))


for later_step in (hand_out, collect, mark, rerun, moderate, feedback, report, decide, settle, award, revoke):
    cohort.add_command(later_step)


@cohort.command()
@folder_argument
def status(folder: Path) -> None:
    """Say where the cohort stands and what to do next.

    Nothing is written. Use it after a break, after an interruption, or when unsure which step comes next.
    """
    from autograde.cohort.folder import open_cohort
    from autograde.cohort.handout import handed_out
    from autograde.cohort.marking import to_mark
    from autograde.cohort.standing import standing

    opened = open_cohort(folder)
    stand = standing(opened)
    all_of_them = len(stand.sheets)
    given = sum(1 for who in stand.sheets if who in handed_out(opened))
    handed_in = sum(sheet.collected for sheet in stand.sheets.values())
    unmarked = len(to_mark(opened))
    waiting = sum(len(sheet.waiting) for sheet in stand.marked)
    page = opened.report / "index.html"
    newer = [path for path in (opened.record("marks"), opened.root / "gradebook.db") if _newer(path, page)]
    written = "out of date" if newer else "up to date"
    later = award_status.look(opened, stand)
    pairs(
        opened.settings.title,
        [
            ("trainees", len(opened.trainees)),
            ("cases", ", ".join(opened.settings.cases)),
            ("handed out", f"{given} of {all_of_them} notebooks"),
            ("handed in", f"{handed_in} of {all_of_them}"),
            ("marked", f"{len(stand.marked)}, {unmarked} to mark"),
            ("waiting for a person", f"{waiting} answers"),
            ("report", written if page.exists() else "not written yet"),
            *later.rows,
        ],
    )
    if given < all_of_them:
        next_step(line("hand-out", folder))
    elif unmarked:
        next_step(line("mark", folder))
    elif stand.marked and (newer or not page.exists()):
        next_step(line("report", folder))
    elif handed_in < all_of_them:
        next_step(f"put what comes back into {opened.inbox}", line("collect", folder), *later.next)
    elif waiting:
        next_step(by_hand_line(folder), *later.next)
    else:
        next_step(*(later.next or ("nothing: every sheet is marked, reported and decided about",)))


def _newer(path: Path, page: Path) -> bool:
    return path.exists() and page.exists() and path.stat().st_mtime > page.stat().st_mtime
