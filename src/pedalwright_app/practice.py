"""Draw the practice cases that the book shows: ``python -m pedalwright_app.practice .build/practice``.

Every family that has a worked solution is drawn a few times with public seeds. A variant is
``<family>/<number>.json``: its ``title`` and ``parts``, a list of ``{"text": ...}``,
``{"figure": file name, "alt": ...}`` and ``{"task": ..., "worked": ...}`` (Markdown), with the pictures beside it;
``marks.json`` says what the marking package answers to whatever is typed (see ``practice_marks``).
A file is written only when its content changed, so that an unchanged book is not built anew.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from pathlib import Path

import click

from autograde.cases import (
    Family,
    FigurePart,
    Part,
    TaskPart,
    TextPart,
    discover_families,
    practice_variant,
    render_brief,
)
from pedalwright_app.practice_marks import MarkTables

VARIANTS = 6
MARKS = "marks.json"
_HEADING = re.compile(r"^#{1,6}[ \t]+(.+?)[ \t]*$", re.MULTILINE)


@click.command()
@click.argument("folder", type=click.Path(file_okay=False, path_type=Path))
@click.option("--variants", default=VARIANTS, show_default=True, type=click.IntRange(1, 99))
def draw(folder: Path, variants: int) -> None:
    """Draw VARIANTS practice variants of every case family into FOLDER."""
    for family in discover_families().values():
        if family.worked is None:
            continue
        written = sum(draw_one(family, number, folder / family.name) for number in range(1, variants + 1))
        draw_marks(family, variants, folder / family.name)
        click.echo(f"Practice case {family.name}: {variants} variants, {written} new or changed")


def draw_one(family: Family, number: int, folder: Path) -> bool:
    """Draw one practice variant.

    Parameters
    ----------
    family : Family
        A family with a worked solution.
    number : int
        Which variant, from 1.
    folder : Path
        Where to; made when it is not there.

    Returns
    -------
    bool
        Whether anything was new or changed.
    """
    if family.worked is None:
        raise ValueError(f"family {family.name!r} has no worked solution to practise with")
    case = practice_variant(family, number).case
    worked = family.worked(case)
    folder.mkdir(parents=True, exist_ok=True)
    parts: list[dict[str, str]] = []
    changed = False
    for part in render_brief(family, case):
        if isinstance(part, FigurePart):
            name = f"{number:02d}-{part.name}.png"
            changed |= _write(folder / name, part.png)
            parts.append({"figure": name, "alt": part.alt})
        else:
            parts += _text(part, worked)
    variant = {"title": f"Practice rider {number}", "parts": parts}
    return _write(folder / f"{number:02d}.json", json.dumps(variant, ensure_ascii=False, indent=1).encode()) or changed


def draw_marks(family: Family, variants: int, folder: Path) -> bool:
    """Write what the marking package says to answers on the practice variants.

    Parameters
    ----------
    family : Family
        The family.
    variants : int
        How many variants there are.
    folder : Path
        Where to; it must be there.

    Returns
    -------
    bool
        Whether anything was new or changed.
    """
    tables = MarkTables(family)
    riders = [tables.rider(practice_variant(family, number).case) for number in range(1, variants + 1)]
    content = json.dumps(tables.as_data(riders), ensure_ascii=False, separators=(",", ":"))
    return _write(folder / MARKS, content.encode())


def _text(part: Part, worked: Mapping[str, str]) -> Iterator[dict[str, str]]:
    match part:
        case TaskPart(task_id, markdown):
            solution = worked.get(task_id, "*A person reads this answer. Discuss yours with a colleague.*")
            yield {"id": task_id, "task": _without_headings(markdown), "worked": solution}
        case TextPart(markdown):
            yield {"text": _without_headings(markdown)}


def _without_headings(markdown: str) -> str:
    """Set headings in bold: inside a fold they would break the order of the page's own."""
    return _HEADING.sub(r"**\1**", markdown)


def _write(file: Path, content: bytes) -> bool:
    if file.is_file() and file.read_bytes() == content:
        return False
    file.write_bytes(content)
    return True


if __name__ == "__main__":
    draw()
