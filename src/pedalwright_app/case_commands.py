"""The commands about case families: look at them, write one, check it, practise it, and explain a mark."""

from __future__ import annotations

import json
import shlex
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from pedalwright_app.console import TeachingGroup, console, next_step, pairs, say, table
from pedalwright_app.options import folder_argument

if TYPE_CHECKING:
    from autograde.cases import Family
    from autograde.cases.checking import Checked
    from pedalwright_app.case_explain import Explained

__all__ = ["case"]

OWN = "A folder that holds cases of your own. Their case.py is run, so name only a folder you trust."


def case_folder_option(command: Any) -> Any:
    """Add --case-folder."""
    kind = click.Path(exists=True, file_okay=False, path_type=Path)
    return click.option("--case-folder", "case_folders", multiple=True, type=kind, help=OWN)(command)


@click.group(cls=TeachingGroup)
def case() -> None:
    """Look at case studies, write your own, and see why an answer got its marks.

    \b
      list      the cases there are, with their tasks and marks
      new       writes a small working case, for you to change
      check     tells whether a case can be handed out, and what to mend
      practice  writes a practice notebook, with full feedback and worked solutions
      explain   how each mark of one trainee's sheet came about (for instructors)
    """  # noqa: D301


@case.command("list")
@case_folder_option
def list_cases(case_folders: Sequence[Path]) -> None:
    """List the cases there are: tasks, marks, competencies, and how they may be used.

    A case with worked solutions serves for practice and for certification; one without serves for certification only.
    """
    from autograde.cases import discover_families
    from autograde.cases.discover import exercises_folder

    families = discover_families(case_folders)
    own = exercises_folder()
    rows = [
        (
            name,
            len(family.tasks),
            f"{family.max_marks:g}",
            len(family.misconceptions),
            "yes" if family.worked else "no",
            "the program" if family.folder and family.folder.parent == own else family.folder,
        )
        for name, family in families.items()
    ]
    columns = ("case", "tasks", "marks", "slips", "practice", "found in")
    table(f"Cases: {len(rows)}", columns, rows, numbers=(1, 2, 3))
    pairs("What they show", [(name, "; ".join(family.competencies)) for name, family in families.items()])
    next_step("pedalwright case practice NAME", "pedalwright case new NAME")


@case.command()
@click.argument("name")
@click.option(
    "--folder",
    default=Path("cases"),
    show_default=True,
    type=click.Path(file_okay=False, path_type=Path),
    help="Folder of your own cases; made when it is not there.",
)
def new(name: str, folder: Path) -> None:
    """Write a small working case called NAME, for you to change.

    It asks for the way and the speed of a pedal, is drawn anew for each trainee, knows usual slips, and passes
    `pedalwright case check` as it is. Comments in its three files tell what to change. Nothing is overwritten.

    A case in a folder of your own stays sealed: it is never part of the program, and trainees see only the notebook.
    """
    from pedalwright_app.case_template import write_case

    files = write_case(name, folder)
    pairs(f"New case: {name}", [(file.name, file) for file in files])
    quoted = shlex.quote(str(folder))
    next_step(
        f"change the files, then: pedalwright case check {shlex.quote(str(folder / name))}",
        f"look at it as a trainee: pedalwright case practice {name} --case-folder {quoted}",
        f"hand it out: pedalwright cohort make COHORT --roster roster.csv --case-folder {quoted} --case {name}",
    )


@case.command()
@click.argument("what", metavar="NAME|FOLDER")
@case_folder_option
@click.option("--seeds", default=60, show_default=True, type=click.IntRange(1, 5000), help="Variants to draw.")
def check(what: str, case_folders: Sequence[Path], seeds: int) -> None:
    """Check a case: its files, and a number of variants drawn from it.

    NAME is that of a case, FOLDER that of one of your own. Told are errors with the file and the mending, and how
    hard the variants are: how far answers spread, and how far the nearest slip lies from the right answer. Ends with
    exit code 1 when the case cannot be handed out as it is.
    """
    from autograde.cases import FamilyError, VariantError
    from autograde.cases.checking import check_variants

    family = _family(what, case_folders)
    try:
        found = check_variants(family, seeds)
    except VariantError as trouble:
        raise FamilyError(str(trouble)) from trouble
    _show_checks(family, found)
    for advice in found.advice:
        say(f"Advice: {advice}.")
    if found.errors:
        say("")
        for error in found.errors:
            click.echo(f"pedalwright: {error}", err=True)
        raise SystemExit(1)
    next_step(f"pedalwright case practice {family.name}" + (_again(case_folders, family) if family.worked else ""))


def _family(what: str, case_folders: Sequence[Path]) -> Family:
    from autograde.cases import FamilyError, load_family
    from autograde.cases.discover import load_folder

    given = Path(what)
    if given.is_dir() or "/" in what or "\\" in what:
        if case_folders:
            raise FamilyError(f"{what} is a folder already; leave --case-folder out, or give the name of a case")
        return load_folder(given)
    return load_family(what, case_folders)


def _again(case_folders: Sequence[Path], family: Family) -> str:
    from autograde.cases.discover import exercises_folder

    if family.folder is None or family.folder.parent == exercises_folder():
        return ""
    folders = case_folders or [family.folder.parent]
    return "".join(f" --case-folder {shlex.quote(str(folder))}" for folder in folders)


def _show_checks(family: Family, found: Checked) -> None:
    table(
        f"{family.title} ({family.name}): {found.seeds} variants",
        ("checked", "found"),
        [(what, "all" if not count else f"{count} of {found.seeds} not") for what, count in found.counts.items()],
    )
    rows = [
        (
            row.task,
            " to ".join(row.spread[::2]) + f" {row.unit}" if row.spread else row.most,
            row.spread[1] if row.spread else "",
            row.least,
            row.nearest,
        )
        for row in found.difficulty
    ]
    columns = ("task", "right answers, 5 to 95 %", "median", "gap", "nearest slip")
    table("How hard: right answers, and the least gap to a slip (above 1: told apart)", columns, rows, numbers=(2, 3))
    say(
        f"{found.different} different variants; {found.tries:.1f} draws a variant, at most {found.most_tries}"
        + ("; a draw is thrown away most often because " + found.most_rejected if found.most_rejected else "")
    )


@case.command()
@click.argument("name")
@case_folder_option
@click.option("--number", default=1, show_default=True, type=click.IntRange(1, 9999), help="Which practice rider.")
@click.option(
    "--to",
    "folder",
    default=Path("."),
    type=click.Path(file_okay=False, path_type=Path),
    help="Where to write it; by default here.",
)
def practice(name: str, case_folders: Sequence[Path], number: int, folder: Path) -> None:
    """Write a practice notebook: full feedback and worked solutions, as often as you like.

    Its numbers are drawn from an open seed that is the same for everybody and never used for certification, so the
    notebook can mark itself. A practice notebook cannot be handed in. Nothing is overwritten.
    """
    from autograde.cases import FamilyError, load_family
    from pedalwright_app.practice_notebook import practice_notebook

    family = load_family(name, case_folders)
    file = folder / f"{name}-practice-{number}.ipynb"
    content = practice_notebook(family, number)
    folder.mkdir(parents=True, exist_ok=True)
    try:
        with file.open("xb") as target:
            target.write(content)
    except FileExistsError:
        raise FamilyError(f"{file} is there already; move it away, or give another --number") from None
    pairs(f"Practice notebook: {family.title}", [("rider", number), ("file", file)])
    lines = [f"open it in Jupyter: jupyter lab {shlex.quote(str(file))}"]
    if _again(case_folders, family):
        lines.append(f"with cases of your own, first: export PEDALWRIGHT_CASES={shlex.quote(_paths(case_folders))}")
    next_step(*lines)


def _paths(case_folders: Sequence[Path]) -> str:
    import os

    return os.pathsep.join(str(folder.resolve()) for folder in case_folders)


@case.command()
@folder_argument
@click.argument("trainee")
@click.argument("name", required=False, default="")
@click.option("--task", default="", metavar="ID", help="Only this task.")
@click.option("--json", "as_json", is_flag=True, help="Everything as JSON.")
def explain(folder: Path, trainee: str, name: str, task: str, as_json: bool) -> None:
    """Show how each mark of one trainee's sheet came about.

    FOLDER is the cohort's, NAME the case (needed when the cohort has more than one). Right answers are shown, so this
    is for the instructor, not for trainees: what was typed and how it was read, which values of their own a task was
    worked out from, the band and where it comes from, what the answer was compared with and how far it lay away,
    and which rule gave the marks. Nothing is written.
    """
    from autograde.cohort.errors import CohortError
    from autograde.cohort.folder import open_cohort
    from pedalwright_app.case_explain import explain_sheet

    cohort = open_cohort(folder)
    cases = cohort.settings.cases
    if not name and len(cases) > 1:
        raise CohortError(f"this cohort has {len(cases)} cases; name one of: {', '.join(cases)}")
    told = explain_sheet(cohort, trainee, name or cases[0])
    if task:
        ids = [entry["task"] for entry in told.tasks]
        if task not in ids:
            raise CohortError(f"there is no task {task!r} in this case; its tasks are: {', '.join(ids)}")
        told.tasks[:] = [entry for entry in told.tasks if entry["task"] == task]
    if as_json:
        click.echo(json.dumps(told.as_json(), ensure_ascii=False, indent=1, allow_nan=False))
    else:
        _show_reasons(told)


def _show_reasons(told: Explained) -> None:
    from pedalwright_app.case_explain import SEALED, rows_of, steps_of

    head = told.head
    say(SEALED, style="bold")
    pairs(
        f"{head['name']} ({head['trainee']}): {head['title']} ({head['case']}), attempt {head['attempt']}",
        [
            ("handed in", f"{head['arrived']}, sha256 {head['sha256'][:12]}"),
            ("marks", f"{head['marks']:g} of {head['max_marks']:g}, before anything a person adds"),
            ("on record", head["record"]),
            *([("trouble", head["trouble"])] if head["trouble"] else []),
            *(("notice", notice) for notice in head["notices"]),
        ],
    )
    for entry in told.tasks:
        pairs(f"Task {entry['number']}: {entry['title']} ({entry['task']})", list(rows_of(entry)))
        steps = steps_of(entry)
        if steps:
            table("  Compared with", ("with", "value", "away in bands", ""), steps, numbers=(2,))
        pairs("  So", _outcome(entry))
    console.print()


def _outcome(entry: dict[str, Any]) -> list[tuple[str, object]]:
    marks = "open" if entry["marks"] is None else f"{entry['marks']:g}"
    rows: list[tuple[str, object]] = [("state", entry["state"]), ("because", entry["reason"])]
    if entry.get("rule"):
        rows.append(("rule", entry["rule"]))
    rows.append(("marks", f"{marks} of {entry['max_marks']:g}"))
    stands = entry["stands"]
    if stands and (stands["state"], stands["marks"]) != (entry["state"], entry["marks"]):
        shown = "open" if stands["marks"] is None else f"{stands['marks']:g}"
        rows.append(("as it stands", f"{stands['state']}: {shown} of {entry['max_marks']:g}"))
    if stands and stands["comment"]:
        rows.append(("comment", stands["comment"]))
    return [*rows, ("told", entry["feedback"]), ("page", entry["page"])]
