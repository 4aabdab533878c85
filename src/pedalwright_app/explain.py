"""Explain a quantity from the glossary the book uses."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import fill

import click
from click.shell_completion import CompletionItem

from pedalwright import nomenclature
from pedalwright_app.console import console, say

__all__ = ["explain"]


def _complete(_context: click.Context, _parameter: click.Parameter, incomplete: str) -> list[CompletionItem]:
    return [
        CompletionItem(name, help=entry.label)
        for name, entry in nomenclature.quantities().items()
        if name.startswith(incomplete)
    ]


@click.command()
@click.argument("quantity", nargs=-1, shell_complete=_complete)
def explain(quantity: Sequence[str]) -> None:
    """Say what a QUANTITY means: unit, sign, range, how sure, and where it comes from.

    Ask with a name from the calculations (knee_flexion_deg) or in plain words (knee flexion). Without a name, all
    quantities are listed. Sources are keys of the book's list of sources.
    """
    if not quantity:
        for name, entry in nomenclature.quantities().items():
            say(f"{name:<40} {entry.label}")
        return
    for line in nomenclature.explain(" ".join(quantity)).splitlines():
        say(fill(line, width=min(console.width, 100), subsequent_indent=" " * 12, break_long_words=False))
