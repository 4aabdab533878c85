"""The commands of the cohort desk, in the order of a cohort's life."""

from __future__ import annotations

import shlex
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

import click

from pedalwright_app import award_status, steps
from pedalwright_app.award_commands import award, decide, revoke, settle
from pedalwright_app.console import TeachingGroup, next_step, pairs, say, table
from pedalwright_app.moderation_commands import moderate
from pedalwright_app.options import MOST_LINES, dry_run_option, folder_argument, line, workers_option

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
      report    one page for the cohort, one page of feedback for each trainee
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


@cohort.command("hand-out")
@folder_argument
@workers_option
@dry_run_option
def hand_out(folder: Path, workers: int | None, dry_run: bool) -> None:
    """Write one notebook of their own for each trainee and case.

    Each trainee gets other numbers. They lie in FOLDER/release/TRAINEE/CASE/CASE.ipynb; send each trainee their own.
    A notebook that is there already is never written again.
    """
    from autograde.cohort.folder import open_cohort

    opened = open_cohort(folder)
    counts = Counter((item.case, item.what) for item in steps.hand_out(opened, workers=workers, dry_run=dry_run))
    words = ("written", "there already", "changed since")
    table(
        "Would be handed out" if dry_run else "Handed out",
        ("case", "written", "there already", "not the notebook drawn"),
        [(case, *(counts[case, what] for what in words)) for case in opened.settings.cases],
        numbers=(1, 2, 3),
    )
    next_step(
        f"send every trainee their notebooks from {folder / 'release'}/TRAINEE",
        f"put what comes back into {folder / 'inbox'}: as TRAINEE__CASE.ipynb, in TRAINEE/CASE/, or as a zip of these",
        line("collect", folder),
    )


@cohort.command()
@folder_argument
@dry_run_option
def collect(folder: Path, dry_run: bool) -> None:
    """Take in what lies in FOLDER/inbox.

    Taken are notebooks named TRAINEE__CASE.ipynb or lying in TRAINEE/CASE/, also inside zip archives. The inbox is left
    as it is. Every version is kept; the one that arrived last counts. Links, names that lead out of the inbox
    and files that are too large are refused with the reason.
    """
    from autograde.cohort.folder import open_cohort

    opened = open_cohort(folder)
    outcome = steps.collect(opened, dry_run=dry_run)
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


@cohort.command()
@folder_argument
@click.option("--again", is_flag=True, help="Mark everything again, also what has not changed.")
@workers_option
@dry_run_option
def mark(folder: Path, again: bool, workers: int | None, dry_run: bool) -> None:
    """Mark what was collected.

    The filled notebooks are read, never run. Every answer ends in one of five states; what cannot be read is
    never counted as wrong but shown to you with the reason. Marks go into the gradebook, where nbgrader's form
    for hand marking finds them. Only new or changed submissions are marked; marks given by a person stay.
    """
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
    done = steps.mark(opened, again=again, workers=workers)
    states = [*(str(state) for state in State), steps.TEXT_FOR_A_PERSON]
    table(
        f"Marked: {done.fresh} sheets now, {sum(done.sheets.values())} in all",
        ("answers", *cases),
        [(state, *(done.states.get(case, Counter())[state] for case in cases)) for state in states],
        numbers=range(1, len(cases) + 1),
    )
    next_step(line("report", folder), _by_hand(folder))


cohort.add_command(moderate)


@cohort.command()
@folder_argument
@dry_run_option
def report(folder: Path, dry_run: bool) -> None:
    """Write the cohort report and every trainee's feedback page.

    The report is one page you can project: who stands where, misconceptions by frequency with the page to reteach,
    how hard each task was, and what waits for a person. Tables for a spreadsheet lie beside it. Run it again
    after marking by hand: marks and comments given by people are taken in.
    """
    from autograde.cohort.folder import open_cohort
    from autograde.cohort.statistics import misconception_counts

    opened = open_cohort(folder)
    stand, pages = steps.report(opened, dry_run=dry_run)
    rows: list[tuple[str, object]] = [
        ("report", opened.report / "index.html"),
        ("tables", ", ".join(f"{name}.csv" for name in ("marks", "answers", "misconceptions"))),
        ("feedback", f"{pages} pages new or changed, in {opened.root / 'feedback'}"),
        ("waiting for a person", f"{sum(len(sheet.waiting) for sheet in stand.marked)} answers"),
    ]
    for top in misconception_counts(stand)[:1]:
        rows.append(("most frequent misconception", f"{top.label}: {len(top.trainees)} of {top.handed_in} trainees"))
        rows.append(("page to reteach", top.page))
    pairs("Would be reported" if dry_run else "Report", rows)
    next_step(f"open {opened.report / 'index.html'}", f"send every trainee their page from {folder / 'feedback'}")


for later_step in (decide, settle, award, revoke):
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
        next_step(_by_hand(folder), *later.next)
    else:
        next_step(*(later.next or ("nothing: every sheet is marked, reported and decided about",)))


def _newer(path: Path, page: Path) -> bool:
    return path.exists() and page.exists() and path.stat().st_mtime > page.stat().st_mtime


def _by_hand(folder: Path) -> str:
    return f"mark by hand what waits for you: cd {shlex.quote(str(folder))} && jupyter lab, then Nbgrader > Formgrader"
