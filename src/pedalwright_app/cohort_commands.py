"""The commands of the cohort desk, in the order of a cohort's life."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import click

from pedalwright_app.appeal_commands import appeal, keys
from pedalwright_app.award_commands import award, decide, revoke, settle
from pedalwright_app.console import TeachingGroup, next_step, pairs
from pedalwright_app.handing_commands import collect, hand_out
from pedalwright_app.keeping_commands import back_up, forget, restore
from pedalwright_app.marking_commands import feedback, mark, report
from pedalwright_app.moderation_commands import moderate
from pedalwright_app.options import dry_run_option, folder_argument, line
from pedalwright_app.rerun_command import rerun
from pedalwright_app.status_command import status

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
      rerun     a trainee's own cells run again in a sandbox, to look at; it earns no marks
      moderate  a second person reads a sample of the texts; what lies apart is settled
      feedback  one page for each trainee
      report    one page for the cohort, and the feedback with it
      decide    who passes, by blueprint and standard; settle is for what the rule leaves to a person
      award     a signed award and a certificate for everybody who passed; revoke takes one back
      appeal    an appeal against a decision, heard by somebody else
      keys      the keys that sign awards: show, renew, give up
      forget    delete what is personal about a trainee; marks stay without a name
      back-up   the whole cohort in one file; restore makes it again
      status    where the cohort stands, and what to do next

    \b
    Exit code
      0  done
      1  something was refused or went wrong: the last line says what to do
      2  the command was not understood: see --help
    """  # noqa: D301


@cohort.command()
@folder_argument
@click.option(
    "--roster",
    type=click.Path(path_type=Path),
    required=True,
    help="CSV with the columns id, name, email; or users.csv of the OneRoster standard, or its zip.",
)
@click.option("--pseudonyms", is_flag=True, help="Work under names of the workshop; the key lies in pseudonyms.csv.")
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
@click.option("--gradebook", default="", metavar="ADDRESS", help="A PostgreSQL database for the gradebook.")
@dry_run_option
def make(
    folder: Path,
    roster: Path,
    pseudonyms: bool,
    cases: Sequence[str],
    case_folders: Sequence[Path],
    title: str,
    book: str,
    gradebook: str,
    dry_run: bool,
) -> None:
    """Make a cohort in FOLDER from a roster.

    The folder is private: it holds the secret from which every trainee's numbers are drawn, so keep it out of any
    repository and make copies of it. Run the command again with a longer roster or another --case to add to a
    cohort; nobody is ever taken out and the secret stays.

    Without --case all known cases are handed out. With --pseudonyms, folders, reports and records know trainees only by
    names such as spoke-417; who is who stands in pseudonyms.csv, and nowhere else but on the award.

    The gradebook is a file in the folder. To keep it on a PostgreSQL server, give --gradebook the address of a new,
    empty database. A password never goes into the address: put it into the environment as PGPASSWORD, or into the file
    ~/.pgpass, which only you may read. Nbgrader's own commands find it there too.

    \b
    Examples
      pedalwright cohort make autumn --roster roster.csv
      pedalwright cohort make autumn --roster export.zip --pseudonyms --case pedal-force-record
      pedalwright cohort make autumn --roster roster.csv --gradebook postgresql+psycopg://flint@localhost/autumn
    """  # noqa: D301
    from autograde.cohort.make import make_cohort, plan
    from autograde.cohort.pseudonyms import KEY_FILE, read_key, under_pseudonyms, write_key
    from autograde.cohort.roster import read_roster
    from autograde.desk.plan import write_first_plan

    people, key = read_roster(roster), ""
    hidden = read_key(folder)
    own = people if roster.resolve() == (folder / "roster.csv").resolve() else ()
    if pseudonyms and not hidden and (folder / "cohort.toml").exists():
        raise click.UsageError("this cohort works under its trainees' own ids; pseudonyms begin with a new cohort")
    if (pseudonyms or hidden) and not own:
        people, key = under_pseudonyms(folder, people)
    wanted = plan(folder, people, title=title, cases=cases, case_folders=case_folders, book=book, gradebook=gradebook)
    blueprint = "would be written if it is missing"
    if not dry_run:
        if key:
            wanted.root.mkdir(parents=True, exist_ok=True, mode=0o700)
            write_key(wanted.root, key)
        fits = write_first_plan(make_cohort(wanted))
        blueprint = "a proposal, in blueprint.toml: make it yours" if fits else "your own, left as it is"
    pairs(
        f"{'Would be made' if dry_run else 'Cohort'}: {wanted.settings.title}",
        [
            ("trainees", f"{len(wanted.trainees)} ({len(wanted.added)} new)"),
            ("cases", ", ".join(wanted.settings.cases)),
            ("folder", wanted.root),
            ("gradebook", wanted.settings.gradebook or "gradebook.db, in the folder"),
            ("blueprint", blueprint),
            *([("pseudonyms", f"who is who: {KEY_FILE}, to be kept apart")] if key or hidden else []),
            ("secret", "kept as it was" if wanted.exists else "new, in secret.key: never share it, keep a copy"),
        ],
    )
    next_step(line("hand-out", folder))


for later_step in (
    *(hand_out, collect, mark, rerun, moderate, feedback, report, decide, settle, award, revoke, appeal, keys),
    *(forget, back_up, restore, status),
):
    cohort.add_command(later_step)
