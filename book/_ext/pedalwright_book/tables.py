"""Tables that a directive builds from data."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from docutils import nodes

Cell = str | list[nodes.Node]


def table(
    heads: Sequence[str], rows: Iterable[Sequence[Cell]], *, name: str, numbers: Sequence[int] = ()
) -> nodes.table:
    """Build a table.

    Parameters
    ----------
    heads : sequence of str
        Column headings.
    rows : iterable of sequence
        Cells: plain text, or nodes that were parsed already.
    name : str
        A class, by which the style finds it.
    numbers : sequence of int
        Positions of columns that are set to the right.

    Returns
    -------
    docutils.nodes.table
        Wrapped by the theme in a box of its own, which scrolls when it is too wide.
    """
    made = nodes.table(classes=[name])
    group = nodes.tgroup(cols=len(heads))
    group += [nodes.colspec(colwidth=1) for _ in heads]
    group += nodes.thead("", _row(heads, numbers))
    group += nodes.tbody("", *(_row(row, numbers) for row in rows))
    made += group
    return made


def _row(cells: Sequence[Cell], numbers: Sequence[int]) -> nodes.row:
    row = nodes.row()
    for position, cell in enumerate(cells):
        entry = nodes.entry(classes=["text-right"] if position in numbers else [])
        entry += [nodes.paragraph(text=cell)] if isinstance(cell, str) else cell
        row += entry
    return row
