"""The commands of moderation: a second person reads a sample of the texts."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from pedalwright_app.console import TeachingGroup, next_step, pairs, table
from pedalwright_app.options import MOST_LINES, dry_run_option, folder_argument, line

if TYPE_CHECKING:
    from collections.abc import Sequence

    from autograde.cohort.folder import Cohort
    from autograde.desk.moderation import Compared
    from autograde.desk.rounds import Round

__all__ = ["moderate"]

_FILE = click.Path(exists=True, dir_okay=False, path_type=Path)


@click.group(cls=TeachingGroup)
def moderate() -> None:
    """Let a second person read a sample of the texts, and settle what lies apart.

    \b
    The usual order:
      draw   a sample of the texts that are marked; papers without names and marks
      enter  what the second reader gave
      agree  on the marks where the two readings lie apart; only these change
      show   how far the readers agree

    Two readings one step on the rubric apart or less agree, and the first mark stands. Where they lie further apart,
    nothing is decided about the trainee until a mark is agreed on, with its reason. Who read what, and why a mark was
    changed, goes into FOLDER/records/decisions.jsonl.
    """  # noqa: D301


@moderate.command()
@folder_argument
@click.option("--first", required=True, metavar="NAME", help="Who gave the marks that are there.")
@click.option("--share", type=click.FloatRange(0, 100), default=20.0, show_default=True, help="Percent drawn by lot.")
@click.option("--least", type=click.IntRange(0), default=5, show_default=True, help="The fewest texts drawn by lot.")
@dry_run_option
def draw(folder: Path, first: str, share: float, least: int, dry_run: bool) -> None:
    """Draw a sample of the texts, and write the second reader's papers.

    In the sample are all texts of borderline trainees, all texts of safety-critical tasks, and of the rest a share
    drawn by lot. The lot comes from the cohort's secret: it cannot be foreseen, and can be drawn again.

    \b
    Example
      pedalwright cohort moderate draw autumn --first Flint
    """  # noqa: D301
    from autograde.cohort.folder import open_cohort
    from autograde.desk.reading_form import write_papers
    from autograde.desk.rounds import read_rounds, write_round
    from autograde.desk.sample import draw_sample

    cohort = open_cohort(folder)
    drawn = _open_round(cohort) or draw_sample(cohort, first_reader=first, share_pct=share, least=least)
    papers = folder / "moderation" / str(drawn.number) / "papers"
    if not dry_run:
        with cohort.at_work():
            write_round(cohort, drawn)
            papers = write_papers(cohort, read_rounds(cohort)[drawn.number - 1])
    kinds = dict.fromkeys(piece.why for piece in drawn.pieces)
    rows: list[tuple[str, object]] = [("texts", f"{len(drawn.pieces)} of {drawn.texts}"), ("rule", drawn.rule)]
    rows += [(f"of them: {kind}", sum(piece.why == kind for piece in drawn.pieces)) for kind in kinds]
    rows += [("note", drawn.note)] if drawn.note else []
    title = "Would be drawn" if dry_run else "Drawn before, not read to the end" if drawn.recorded else "Drawn"
    pairs(f"{title}: round {drawn.number}", rows)
    enter_line = f"{line('moderate enter', folder)} {papers / 'form.csv'} --by NAME"
    next_step(f"give another person than {drawn.first_reader} the folder {papers}, form.csv to fill in", enter_line)


def _open_round(cohort: Cohort) -> Round | None:
    from autograde.desk.moderation import compare
    from autograde.desk.rounds import read_rounds

    rounds = read_rounds(cohort)
    if rounds and any(one.reading is None and one.piece.trainee for one in compare(cohort, rounds[-1:])):
        return rounds[-1]
    return None


@moderate.command()
@folder_argument
@click.argument("form", type=_FILE)
@click.option("--by", required=True, metavar="NAME", help="Who read the texts.")
@dry_run_option
def enter(folder: Path, form: Path, by: str, dry_run: bool) -> None:
    """Take in the second reader's FORM.

    For each point of a text's rubric stands nothing, half or all of its marks. A text without any marks is read later:
    the command can be given as often as wanted, and what is in already stays.

    \b
    Example
      pedalwright cohort moderate enter autumn autumn/moderation/1/papers/form.csv --by Slate
    """  # noqa: D301
    from autograde.cohort.folder import open_cohort
    from autograde.desk.moderation import enter_readings
    from autograde.desk.places import read_words
    from autograde.desk.readers import write_agreement
    from autograde.desk.reading_form import read_form, write_differences

    cohort = open_cohort(folder)
    readings = read_form(read_words(form), form.name)
    if dry_run:
        enter_readings(cohort, readings, by=by, dry_run=True)
        pairs("Would be entered", [("texts", len(readings)), ("read by", by)])
        next_step(f"{line('moderate enter', folder)} {form} --by NAME")
        return
    with cohort.at_work():
        compared = enter_readings(cohort, readings, by=by)
        differences = write_differences(cohort)
        write_agreement(cohort)
    _show(f"Entered: {len(readings)} texts read by {by}", compared)
    next_step(*_after_reading(folder, compared, differences))


def _after_reading(folder: Path, compared: Sequence[Compared], differences: Path | None) -> Sequence[str]:
    if differences is not None:
        return (
            f"agree on the marks that lie apart ({sum(one.open for one in compared)}); write them with reasons into "
            f"{differences}",
            f"{line('moderate agree', folder)} {differences} --by NAMES",
        )
    if any(one.reading is None and one.piece.trainee for one in compared):
        return ("read the rest of the texts, and enter the form again",)
    return (line("report", folder), line("decide", folder))


@moderate.command()
@folder_argument
@click.argument("form", type=_FILE)
@click.option("--by", required=True, metavar="NAMES", help="Who agreed: both readers, or the third.")
@dry_run_option
def agree(folder: Path, form: Path, by: str, dry_run: bool) -> None:
    """Take in the marks agreed on, and change just these.

    FORM is FOLDER/moderation/differences.csv with agreed_marks and reason filled in. A line without agreed marks is
    left for later.

    \b
    Example
      pedalwright cohort moderate agree autumn autumn/moderation/differences.csv --by "Flint and Slate"
    """  # noqa: D301
    from autograde.cohort.folder import open_cohort
    from autograde.desk.moderation import agree as settle_differences
    from autograde.desk.places import read_words
    from autograde.desk.readers import write_agreement
    from autograde.desk.reading_form import read_differences, write_differences

    cohort = open_cohort(folder)
    agreed = read_differences(read_words(form), form.name)
    if dry_run:
        _, changed = settle_differences(cohort, agreed, by=by, dry_run=True)
        pairs("Would be agreed", [("texts", len(agreed)), ("marks that change", changed)])
        next_step(f"{line('moderate agree', folder)} {form} --by NAMES")
        return
    with cohort.at_work():
        compared, changed = settle_differences(cohort, agreed, by=by)
        differences = write_differences(cohort)
        write_agreement(cohort)
    _show(f"Agreed: {len(agreed)} texts, {changed} marks changed now", compared)
    next_step(*_after_reading(folder, compared, differences))


@moderate.command()
@folder_argument
def show(folder: Path) -> None:
    """Say how far the readers agree. Nothing is written.

    \b
    Example
      pedalwright cohort moderate show autumn
    """  # noqa: D301
    from autograde.cohort.folder import open_cohort
    from autograde.desk.moderation import compare

    cohort = open_cohort(folder)
    compared = compare(cohort)
    if not compared:
        pairs("Moderation", [("texts drawn", 0)])
        next_step(f"{line('moderate draw', folder)} --first NAME")
        return
    _show("Moderation", compared)
    differences = cohort.root / "moderation" / "differences.csv"
    waiting = differences if any(one.open for one in compared) else None
    next_step(*_after_reading(folder, compared, waiting))


def _show(title: str, compared: Sequence[Compared]) -> None:
    from autograde.desk.readers import agreement

    rows: list[tuple[str, object]] = [
        ("texts drawn", len(compared)),
        ("read twice", sum(one.reading is not None for one in compared)),
        ("lie apart", f"{sum(one.apart for one in compared)}, {sum(one.open for one in compared)} of them open"),
        ("marks changed", sum(one.agreed not in (None, one.piece.first_marks) for one in compared)),
    ]
    pairs(title, rows)
    figures = agreement(compared)
    if figures:
        table(
            "How far the readers agree (95 % interval)",
            ("task", "texts", "same marks, %", "within a step, %", "second minus first", "weighted kappa"),
            [
                (one.task or "all", one.texts, one.same_pct, one.near_pct, one.difference_marks, one.kappa)
                for one in figures[:MOST_LINES]
            ],
            numbers=(1,),
        )
        notes = dict.fromkeys(one.note for one in figures if one.note)
        if notes:
            pairs("Notes", [("", note) for note in notes])
