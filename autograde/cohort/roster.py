"""The roster: who is in the cohort."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from autograde.cohort.errors import CohortError
from autograde.cohort.files import read_bounded
from autograde.cohort.oneroster import ROLES, is_oneroster, oneroster_rows, read_archive

__all__ = ["GONE", "Trainee", "check_id", "parse_roster", "read_roster", "roster_csv"]

MOST_BYTES = 4_000_000
ID = re.compile(r"[A-Za-z0-9]+(?:[._-][A-Za-z0-9]+)*")
GONE = "gone-"
"""Begins the id that stands for somebody whose data were deleted."""
ID_RULE = "use up to 64 letters and digits, with single dots, hyphens or underscores between them"
DEVICE_NAMES = frozenset({"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(1, 10))})


@dataclass(frozen=True)
class Trainee:
    """One person on the roster.

    Parameters
    ----------
    id : str
        Short name used for folders and files.
    name : str
        Name as shown in reports.
    email : str
        Address, or empty.
    """

    id: str
    name: str
    email: str = ""

    @property
    def gone(self) -> bool:
        """Whether this stands for somebody whose data were deleted: marks without a name, for the statistics."""
        return self.id.startswith(GONE)


def check_id(text: str) -> str:
    """Accept an id that is safe as the name of a folder on every system, or say why not.

    Parameters
    ----------
    text : str
        The id.

    Returns
    -------
    str
        The same id.

    Raises
    ------
    CohortError
        If the id could be read as a path, a device or a separator.

    Examples
    --------
    >>> check_id("wren")
    'wren'
    """
    if not ID.fullmatch(text) or len(text) > 64:
        raise CohortError(f"the id {text[:80]!r} cannot name a folder: {ID_RULE}")
    if text.split(".")[0].lower() in DEVICE_NAMES:
        raise CohortError(f"the id {text!r} is a device name on some systems: choose another")
    return text


def parse_roster(text: str, source: str = "the roster", roles: str = "") -> tuple[Trainee, ...]:
    r"""Read a roster with the columns ``id``, ``name`` and, if wanted, ``email``; or a OneRoster users file.

    Parameters
    ----------
    text : str
        CSV with a header line; comma, semicolon or tab between the columns; other columns are passed over.
    source : str
        What to call the roster in an error.
    roles : str
        Of a OneRoster users file: the roles file beside it, if there is one.

    Returns
    -------
    tuple of Trainee
        In the order of the file.

    Raises
    ------
    CohortError
        With the line number, if a column or an id is missing, unsafe or used twice.

    Examples
    --------
    >>> parse_roster("id,name\nwren,Wren\n")
    (Trainee(id='wren', name='Wren', email=''),)
    """
    header = text.partition("\n")[0]
    separator = max(",;\t", key=header.count)
    rows = csv.reader(io.StringIO(text.replace("\0", "�")), delimiter=separator)
    try:
        columns = [name.strip().lower() for name in next(rows, [])]
        if is_oneroster(columns):
            return _from_oneroster(text, source, roles)
        _check_columns(columns, source)
        trainees = [
            _trainee(dict(zip(columns, row, strict=False)), f"{source}, line {rows.line_num}")
            for row in rows
            if any(cell.strip() for cell in row)
        ]
    except csv.Error as trouble:
        raise CohortError(f"{source}, line {rows.line_num}: not readable as CSV ({trouble})") from trouble
    _check_twice(trainees, source)
    return tuple(trainees)


def _from_oneroster(text: str, source: str, roles: str) -> tuple[Trainee, ...]:
    trainees = []
    for line, row in oneroster_rows(text, source, roles):
        wishes = row["ids"].split("\n")
        chosen = next((wish for wish in wishes if _usable(wish)), wishes[-1])
        trainees.append(_trainee({**row, "id": chosen}, f"{source}, line {line}"))
    _check_twice(trainees, source)
    return tuple(trainees)


def _usable(text: str) -> bool:
    try:
        return bool(check_id(text))
    except CohortError:
        return False


def _check_columns(columns: Sequence[str], source: str) -> None:
    for needed in ("id", "name"):
        if needed not in columns:
            found = ", ".join(column for column in columns if column) or "nothing"
            raise CohortError(
                f"{source}: the first line must name the columns id and name (email if wanted); found {found[:120]}"
            )


def _trainee(row: dict[str, str], where: str) -> Trainee:
    fields = {key: row.get(key, "").strip() for key in ("id", "name", "email")}
    try:
        check_id(fields["id"])
    except CohortError as trouble:
        raise CohortError(f"{where}: {trouble}") from trouble
    for key, text in fields.items():
        if len(text) > 200 or not text.isprintable():
            raise CohortError(f"{where}: the {key} holds more than 200 characters or characters that cannot be shown")
    return Trainee(fields["id"], fields["name"] or fields["id"], fields["email"])


def _check_twice(trainees: Sequence[Trainee], source: str) -> None:
    if not trainees:
        raise CohortError(f"{source}: no trainee found below the header line; add one line per trainee")
    seen: set[str] = set()
    for trainee in trainees:
        if trainee.id.lower() in seen:
            raise CohortError(f"{source}: the id {trainee.id!r} is used twice (capital letters do not tell ids apart)")
        seen.add(trainee.id.lower())


def read_roster(path: Path) -> tuple[Trainee, ...]:
    """Read a roster file; see `parse_roster`.

    Parameters
    ----------
    path : Path
        The CSV file, in UTF-8; of the OneRoster standard also the zip archive. A roles file beside it is read.

    Returns
    -------
    tuple of Trainee
        In the order of the file.

    Raises
    ------
    CohortError
        If the file is missing, not UTF-8 or not a roster.
    """
    if not path.exists():
        raise CohortError(f"there is no roster at {path}; give a CSV file with the columns id and name")
    if path.suffix.lower() == ".zip":
        return parse_roster(*_from_archive(path))
    beside = path.with_name(ROLES)
    try:
        text = read_bounded(path.resolve(), MOST_BYTES).decode("utf-8-sig")
        roles = read_bounded(beside, MOST_BYTES).decode("utf-8-sig") if beside.is_file() else ""
    except CohortError as trouble:
        raise CohortError(f"the roster {path} {trouble}") from trouble
    except UnicodeDecodeError as trouble:
        raise CohortError(f"the roster {path} is not UTF-8 text; save it as 'CSV UTF-8' and try again") from trouble
    return parse_roster(text, path.name, roles)


def _from_archive(path: Path) -> tuple[str, str, str]:
    users, roles = read_archive(path)
    return users, f"users.csv in {path.name}", roles


def roster_csv(trainees: Sequence[Trainee]) -> str:
    """Write a roster as CSV.

    Parameters
    ----------
    trainees : sequence of Trainee
        Who.

    Returns
    -------
    str
        CSV with the columns id, name, email.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["id", "name", "email"])
    writer.writerows([trainee.id, trainee.name, trainee.email] for trainee in trainees)
    return out.getvalue()
