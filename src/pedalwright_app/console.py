"""How the command line speaks: tables, progress, the next step, and errors in one line."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any

import click
from rich.box import SIMPLE_HEAD
from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn
from rich.table import Table
from rich.text import Text

__all__ = ["TeachingGroup", "console", "next_step", "pairs", "progress", "say", "table"]

SHOW_TRACEBACK = "PEDALWRIGHT_TRACEBACK"
console = Console(highlight=False)


class TeachingGroup(click.Group):
    """A group of commands that keeps the order in which they are used and never shows a traceback."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """List the commands in the order in which they were added."""
        return list(self.commands)

    def main(self, *args: Any, **kwargs: Any) -> Any:
        """Run; trouble ends in one line on standard error and exit code 1, wrong usage in exit code 2."""
        if os.environ.get(SHOW_TRACEBACK):
            return super().main(*args, **kwargs)
        try:
            return super().main(*args, **kwargs)
        except Exception as trouble:
            _complain(trouble)
            sys.exit(1)


def _complain(trouble: Exception) -> None:
    from autograde.award.errors import AwardError
    from autograde.cases import FamilyError, VariantError
    from autograde.cohort.errors import CohortError
    from autograde.cohort.text import plain
    from autograde.sandbox.errors import SandboxError
    from pedalwright.errors import PedalwrightError

    message = plain(str(trouble), 600)
    if isinstance(trouble, OSError):
        message = f"{trouble.filename or 'a file'}: {trouble.strerror or message}; check the path and its permissions"
    elif not isinstance(
        trouble, AwardError | CohortError | FamilyError | SandboxError | VariantError | PedalwrightError
    ):
        message = (
            f"the program itself failed ({type(trouble).__name__}: {message}); what was finished is kept, "
            f"and {SHOW_TRACEBACK}=1 in the environment shows where it happened"
        )
    click.echo(f"pedalwright: {message}", err=True)


def say(text: str, style: str = "") -> None:
    """Print a sentence as it is, without reading marks in it as markup."""
    console.print(Text(text, style=style), soft_wrap=True)


def table(title: str, columns: Sequence[str], rows: Sequence[Sequence[object]], *, numbers: Sequence[int] = ()) -> None:
    """Print a short table.

    Parameters
    ----------
    title : str
        Heading.
    columns : sequence of str
        Column headings.
    rows : sequence of sequence
        Cells; anything with a text.
    numbers : sequence of int
        Positions of columns that are set to the right.
    """
    shown = Table(box=SIMPLE_HEAD, pad_edge=False, padding=(0, 2, 0, 2), show_edge=False)
    for position, column in enumerate(columns):
        shown.add_column(column, justify="right" if position in numbers else "left", overflow="fold")
    for row in rows:
        shown.add_row(*(Text(str(cell)) for cell in row))
    console.print()
    console.print(Text(title, style="bold"))
    console.print(shown)


def pairs(title: str, rows: Sequence[tuple[str, object]]) -> None:
    """Print names and values; a long path stays in one piece, so that it can be copied.

    Parameters
    ----------
    title : str
        Heading.
    rows : sequence of (str, object)
        Name and value.
    """
    width = max(len(name) for name, _ in rows)
    console.print()
    console.print(Text(title, style="bold"))
    for name, value in rows:
        console.print(Text.assemble((f"  {name:<{width}}  ", "dim"), str(value)), soft_wrap=True)


@contextmanager
def progress(words: str, all_of_them: int) -> Iterator[Callable[[int, int], None]]:
    """Show how far a step has come.

    Parameters
    ----------
    words : str
        What is being done.
    all_of_them : int
        How much there is to do; for nothing, nothing is shown.

    Yields
    ------
    callable
        To be told how many of how many are done.
    """
    if not all_of_them:
        yield lambda _done, _all: None
        return
    columns = (TextColumn("{task.description}"), BarColumn(bar_width=24), MofNCompleteColumn())
    with Progress(*columns, console=console) as bar:
        task = bar.add_task(words, total=all_of_them)
        yield lambda done, total: bar.update(task, completed=done, total=total)


def next_step(*lines: str) -> None:
    """Say what to do next."""
    console.print()
    console.print(Text("Next", style="bold"))
    for line in lines:
        console.print(Text(f"  {line}"), soft_wrap=True)
