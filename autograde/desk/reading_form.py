"""The second reader's papers: texts without names or marks, a form to fill in, and a form for what lies apart."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from pathlib import Path

from autograde.cohort.autograded import unnamed_notebook
from autograde.cohort.errors import CohortError
from autograde.cohort.families import load_case
from autograde.cohort.files import write_bytes, write_text
from autograde.cohort.folder import Cohort
from autograde.cohort.marking import marked
from autograde.cohort.notebook import as_bytes
from autograde.cohort.pages import environment, write_if_changed
from autograde.cohort.text import csv_cell
from autograde.desk.moderation import Agreed, Compared, Reading, compare
from autograde.desk.places import Places
from autograde.desk.rounds import Round, rubric_of

__all__ = ["read_differences", "read_form", "write_differences", "write_papers"]

FORM = ("text", "case", "task", "point", "asks", "full_marks", "marks", "comment")
DIFFERENCES = ("text", "case", "task", "full_marks", "first_marks", "second_marks", "agreed_marks", "reason")


def write_papers(cohort: Cohort, drawn: Round) -> Path:
    """Write what the second reader needs; a form that is there already is left alone.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    drawn : Round
        The sample.

    Returns
    -------
    Path
        The folder with ``texts.html``, ``form.csv`` and one notebook a text, none with a name or a mark.
    """
    folder = Places.of(cohort).moderation / str(drawn.number) / "papers"
    records = marked(cohort)
    ones = [one for one in compare(cohort, [drawn]) if one.piece.trainee]
    shown = []
    for one in ones:
        piece = one.piece
        record = records[piece.trainee, piece.case]
        if record["sha256"] != piece.sha256:
            continue
        typed = next(result["typed"] for result in record["results"] if result["task"] == piece.task)
        shown.append((piece.number, one.task, rubric_of(one.task).rubric, typed))
        path = folder / f"{piece.number}.ipynb"
        if not path.exists():
            greeting = f"**Text {piece.number}**, for a second reading. Mark the task *{one.task.title}* by its rubric."
            family = load_case(piece.case, cohort.settings.case_folders)
            notebook = unnamed_notebook(cohort.root, family, record, cohort.secret, greeting)
            write_bytes(path, as_bytes(notebook), mode=0o600, derived=True)
    page = environment().get_template("texts.html")
    write_if_changed(folder / "texts.html", page.render(title=cohort.settings.title, number=drawn.number, texts=shown))
    if not (folder / "form.csv").exists():
        write_text(folder / "form.csv", _csv(FORM, _form_rows(ones)), mode=0o600)
    return folder


def _form_rows(ones: Sequence[Compared]) -> Iterator[Sequence[object]]:
    for one in ones:
        for point, criterion in enumerate(rubric_of(one.task).rubric, start=1):
            piece = one.piece
            yield piece.number, piece.case, piece.task, point, criterion.text, criterion.marks, None, None


def write_differences(cohort: Cohort) -> Path | None:
    """Write the form for texts whose readings lie apart; one that is partly filled in is kept beside it.

    Parameters
    ----------
    cohort : Cohort
        The cohort.

    Returns
    -------
    Path or None
        The form; None if nothing is open.
    """
    path = Places.of(cohort).moderation / "differences.csv"
    rows = [
        (p.number, p.case, p.task, one.task.marks, p.first_marks, one.reading.marks, None, None)
        for one in compare(cohort)
        for p in (one.piece,)
        if one.open and one.reading is not None
    ]
    if not rows:
        return None
    text = _csv(DIFFERENCES, rows)
    if path.exists() and path.read_text(encoding="utf-8-sig", errors="replace") != text:
        path.replace(path.with_name("differences-before.csv"))
    write_text(path, text, mode=0o600)
    return path


def _csv(columns: Sequence[str], rows: Iterator[Sequence[object]] | Sequence[Sequence[object]]) -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows([csv_cell(value) for value in row] for row in rows)
    return out.getvalue()


def read_form(text: str, source: str = "the form") -> dict[str, Reading]:
    r"""Read the second reader's form.

    Parameters
    ----------
    text : str
        CSV with at least the columns ``text``, ``point`` and ``marks``; ``comment`` if wanted.
    source : str
        What to call it in an error.

    Returns
    -------
    dict
        By the number of the text. A text without any marks is left out: it is read later.

    Raises
    ------
    CohortError
        With the line number, if a number cannot be read, a point stands there twice, or a text is only partly marked.

    Examples
    --------
    >>> read_form("text,point,marks\nt1-01,1,0.5\nt1-01,2,1\nt1-02,1,\n")["t1-01"].marks
    1.5
    """
    given: dict[str, dict[int, float | None]] = {}
    comments: dict[str, list[str]] = {}
    for line, row in _rows(text, ("text", "point", "marks"), source):
        number, where = row["text"], f"{source}, line {line}"
        point = _number(row["point"], where, "point")
        points = given.setdefault(number, {})
        if point != int(point) or point < 1 or int(point) in points:
            raise CohortError(f"{where}: received point {row['point']!r} of text {number!r}; each point stands once")
        points[int(point)] = _number(row["marks"], where, "marks") if row["marks"] else None
        comments.setdefault(number, []).append(row.get("comment", ""))
    readings = {}
    for number, points in given.items():
        marks = [points[point] for point in sorted(points)]
        if all(mark is None for mark in marks):
            continue
        if sorted(points) != list(range(1, len(points) + 1)) or any(mark is None for mark in marks):
            raise CohortError(f"{source}: text {number} is only partly marked; fill in every point, or none for later")
        words = "; ".join(comment for comment in comments[number] if comment)
        readings[number] = Reading(tuple(mark for mark in marks if mark is not None), words)
    return readings


def read_differences(text: str, source: str = "the form") -> dict[str, Agreed]:
    """Read the form with agreed marks; see `read_form`.

    Parameters
    ----------
    text : str
        CSV with at least the columns ``text``, ``agreed_marks`` and ``reason``.
    source : str
        What to call it in an error.

    Returns
    -------
    dict
        By the number of the text; a line without agreed marks is left out.

    Raises
    ------
    CohortError
        With the line number.
    """
    agreed: dict[str, Agreed] = {}
    for line, row in _rows(text, ("text", "agreed_marks", "reason"), source):
        where = f"{source}, line {line}"
        if row["text"] in agreed:
            raise CohortError(f"{where}: text {row['text']!r} stands there twice; keep one line")
        if row["agreed_marks"]:
            agreed[row["text"]] = Agreed(_number(row["agreed_marks"], where, "agreed_marks"), row["reason"])
    return agreed


def _rows(text: str, needed: Sequence[str], source: str) -> Iterator[tuple[int, dict[str, str]]]:
    body = text.removeprefix("\ufeff").replace("\0", "�")
    separator = max(",;\t", key=body.partition("\n")[0].count)
    rows = csv.reader(io.StringIO(body), delimiter=separator)
    try:
        columns = [name.strip().lower() for name in next(rows, [])]
        missing = [name for name in needed if name not in columns]
        if missing:
            raise CohortError(f"{source}: the first line has no column {', '.join(missing)}; take the form as written")
        for row in rows:
            if any(cell.strip() for cell in row):
                filled = [*row, *[""] * (len(columns) - len(row))]
                yield rows.line_num, {name: cell.strip() for name, cell in zip(columns, filled, strict=False)}
    except csv.Error as trouble:
        raise CohortError(f"{source}, line {rows.line_num}: not readable as CSV ({trouble})") from trouble


def _number(text: str, where: str, column: str) -> float:
    try:
        return float(text.replace(",", "."))
    except ValueError as trouble:
        raise CohortError(f"{where}: received {text[:40]!r} as {column}; write a number such as 0.5") from trouble
