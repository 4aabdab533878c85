"""Read the users file of the open OneRoster standard, as a school's register writes it.

The columns are those of the standard's CSV binding, version 1.2: ``users.csv`` with ``sourcedId``, ``status``,
``dateLastModified``, ``enabledUser``, ``username``, ``userIds``, ``givenName``, ``familyName``, ``middleName``,
``identifier``, ``email``, ``sms``, ``phone``, ``agentSourcedIds``, ``grades``, ``password``, ``userMasterIdentifier``,
``resourceSourcedIds``, the preferred names, ``primaryOrgSourcedId`` and ``pronouns``; ``roles.csv`` beside it says who
is a student (its columns ``userSourcedId`` and ``role`` from memory). The older version 1.1, with ``role`` in
``users.csv``, is read as well. Needed here are ``sourcedId``, ``givenName`` and ``familyName``.
"""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Iterator, Sequence
from pathlib import Path

from autograde.cohort.errors import CohortError
from autograde.cohort.text import plain

__all__ = ["is_oneroster", "oneroster_rows", "read_archive"]

USERS, ROLES = "users.csv", "roles.csv"
STUDENT = "student"
MOST_BYTES = 20_000_000
GONE = "tobedeleted"


def is_oneroster(columns: Sequence[str]) -> bool:
    """Tell the standard's users file from a plain roster by its columns.

    Parameters
    ----------
    columns : sequence of str
        Of the first line, in lower case.

    Returns
    -------
    bool
        Whether it is the standard's.
    """
    return "sourcedid" in columns and "givenname" in columns


def oneroster_rows(text: str, source: str, roles: str = "") -> Iterator[tuple[int, dict[str, str]]]:
    r"""Give id, name and address of every student.

    Parameters
    ----------
    text : str
        Content of ``users.csv``.
    source : str
        What to call it in an error.
    roles : str
        Content of ``roles.csv``; empty if there is none.

    Yields
    ------
    int, dict
        Line number, and the fields ``ids`` (wishes for an id, best first, a line each), ``name`` and ``email``. Left
        out are users who are not enabled, are to be deleted, or have other roles only.

    Raises
    ------
    CohortError
        With the line number, if a column or a field is missing or is not as the standard has it.

    Examples
    --------
    >>> users = "sourcedId,status,enabledUser,username,givenName,familyName,email\n7f,,true,wren,Wren,Invented,\n"
    >>> [row["name"] for _, row in oneroster_rows(users, "users.csv")]
    ['Wren Invented']
    """
    students = _students(roles) if roles else None
    for line, row in _lines(text, source, ("sourcedid", "givenname", "familyname")):
        where = f"{source}, line {line}"
        if not row["sourcedid"]:
            raise CohortError(f"{where}: the sourcedId is empty; every user of the standard has one")
        enabled = row.get("enableduser", "").lower()
        if enabled not in ("true", "false", ""):
            raise CohortError(f"{where}: received {plain(enabled, 40)!r} as enabledUser; allowed are true and false")
        status = row.get("status", "").lower()
        if status not in ("active", GONE, ""):
            raise CohortError(f"{where}: received {plain(status, 40)!r} as status; allowed are active and {GONE}")
        role = row.get("role", "").lower()
        other = row["sourcedid"] not in students if students is not None else role not in (STUDENT, "")
        if enabled == "false" or status == GONE or other:
            continue
        given = row.get("preferredgivenname") or row["givenname"]
        family = row.get("preferredfamilyname") or row["familyname"]
        if not (given or family):
            raise CohortError(f"{where}: givenName and familyName are both empty; fill one in")
        username = row.get("username", "")
        wishes = (username, username.partition("@")[0], row["sourcedid"])
        yield line, {"ids": "\n".join(wishes), "name": f"{given} {family}".strip(), "email": row.get("email", "")}


def _students(roles: str) -> set[str]:
    rows = _lines(roles, ROLES, ("usersourcedid", "role"))
    return {row["usersourcedid"] for _, row in rows if row["role"].lower() == STUDENT and row.get("status") != GONE}


def _lines(text: str, source: str, needed: Sequence[str]) -> Iterator[tuple[int, dict[str, str]]]:
    rows = csv.reader(io.StringIO(text.removeprefix("\ufeff").replace("\0", "�")))
    try:
        columns = [name.strip().lower() for name in next(rows, [])]
        missing = [name for name in needed if name not in columns]
        if missing:
            raise CohortError(f"{source}: the first line has no column {', '.join(missing)}; export it as version 1.2")
        for row in rows:
            if any(cell.strip() for cell in row):
                if len(row) != len(columns):
                    raise CohortError(
                        f"{source}, line {rows.line_num}: {len(row)} fields, the first line names {len(columns)}; a "
                        "comma inside a field needs quotes around it"
                    )
                yield rows.line_num, {name: cell.strip() for name, cell in zip(columns, row, strict=True)}
    except csv.Error as trouble:
        raise CohortError(f"{source}, line {rows.line_num}: not readable as CSV ({trouble})") from trouble


def read_archive(path: Path) -> tuple[str, str]:
    """Read users and roles from the zip archive that the standard exchanges.

    Parameters
    ----------
    path : Path
        The archive.

    Returns
    -------
    users, roles : str
        Content of the two files; roles are empty if there are none.

    Raises
    ------
    CohortError
        If it is no such archive, or a file in it is too large or not UTF-8.
    """
    try:
        with zipfile.ZipFile(path) as archive:
            names = {info.filename.rpartition("/")[2]: info for info in archive.infolist() if not info.is_dir()}
            if USERS not in names:
                raise CohortError(f"the archive {path.name} holds no {USERS}")
            found = []
            for name in (USERS, ROLES):
                with archive.open(names[name]) if name in names else io.BytesIO() as stream:
                    content = stream.read(MOST_BYTES + 1)
                if len(content) > MOST_BYTES:
                    raise CohortError(f"{name} in {path.name} is larger than {MOST_BYTES // 1_000_000} MB")
                found.append(content.decode("utf-8-sig"))
    except UnicodeDecodeError as trouble:
        raise CohortError(f"a file in {path.name} is not UTF-8 text, as the standard wants it") from trouble
    except (OSError, zipfile.BadZipFile, NotImplementedError, RuntimeError, ValueError, EOFError) as trouble:
        raise CohortError(f"the archive {path.name} cannot be read: {plain(str(trouble), 200)}") from trouble
    return found[0], found[1]
