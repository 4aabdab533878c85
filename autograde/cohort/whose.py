"""Whose work a file is, told from where it lies and what it is called."""

from __future__ import annotations

import json
import re
from collections.abc import Container
from datetime import UTC, datetime
from pathlib import PurePosixPath

from autograde.cohort.errors import CohortError
from autograde.cohort.text import plain

__all__ = ["attempt_label", "exchange_time", "whose"]

COPY_MARK = re.compile(r"(?: ?\(\d{1,3}\)|-Copy\d{1,3})+\Z")
"""What a browser or a notebook server adds to the name of a second copy."""
MOST_ATTEMPTS = 99


def whose(name: str, trainees: Container[str], cases: Container[str]) -> tuple[str, str]:
    """Tell trainee and case from a path.

    Parameters
    ----------
    name : str
        Path below the inbox or inside an archive. Read are ``TRAINEE__CASE.ipynb``, ``TRAINEE/CASE/anything.ipynb``,
        ``TRAINEE/CASE.ipynb``, and ``TRAINEE+CASE+TIME+…/CASE.ipynb`` as nbgrader's exchange lays it out.
    trainees, cases : container of str
        Ids of the roster, and cases that are handed out.

    Returns
    -------
    trainee, case : str
        Whose, and of which case.

    Raises
    ------
    CohortError
        If the name leads elsewhere, is no notebook's, or says not whose it is.

    Examples
    --------
    >>> whose("week 3/wren/crank-drill.ipynb", {"wren"}, {"crank-drill"})
    ('wren', 'crank-drill')
    """
    path = PurePosixPath(name)
    if "\\" in name or "\0" in name or path.is_absolute() or ".." in path.parts:
        raise CohortError("its name leads out of the inbox")
    if path.suffix.lower() != ".ipynb":
        raise CohortError("is not a notebook (its name does not end in .ipynb)")
    trainee, case = _said(path, cases)
    if trainee not in trainees:
        raise CohortError(f"nobody on the roster has the id {plain(trainee, 60)!r}")
    if case not in cases:
        raise CohortError(f"this cohort has no case {plain(case, 60)!r}")
    return trainee, case


def _said(path: PurePosixPath, cases: Container[str]) -> tuple[str, str]:
    stem = COPY_MARK.sub("", path.stem)
    exchange = path.parent.name.split("+")
    if len(exchange) >= 3:
        if stem != exchange[1]:
            raise CohortError(f"lies in an exchange folder of {plain(exchange[1], 60)!r} and has another name")
        return exchange[0], exchange[1]
    if "__" in path.name:
        trainee, _, case = stem.partition("__")
        return trainee, case
    if len(path.parts) >= 2 and stem in cases and path.parent.name not in cases:
        return path.parent.name, stem
    if len(path.parts) >= 3:
        return path.parts[-3], path.parts[-2]
    raise CohortError("says not whose it is: name it TRAINEE__CASE.ipynb or put it in TRAINEE/CASE/")


def exchange_time(name: str) -> str:
    """Give the time of a submission in nbgrader's exchange.

    Parameters
    ----------
    name : str
        Path of the file.

    Returns
    -------
    str
        ISO 8601; empty if the path is not of the exchange or its time is not in UTC.

    Examples
    --------
    >>> exchange_time("wren+crank-drill+2026-03-02 09:30:00.250000 UTC+x/crank-drill.ipynb")
    '2026-03-02T09:30:00.250000+00:00'
    """
    parts = PurePosixPath(name).parent.name.split("+")
    if len(parts) < 3:
        return ""
    try:
        time = datetime.strptime(parts[2].strip(), "%Y-%m-%d %H:%M:%S.%f UTC")
    except ValueError:
        return ""
    return time.replace(tzinfo=UTC).isoformat(timespec="microseconds")


def attempt_label(content: bytes) -> int | None:
    """Read which attempt a notebook says it is.

    Parameters
    ----------
    content : bytes
        The file; anything at all.

    Returns
    -------
    int or None
        None where it says nothing that can be an attempt.
    """
    try:
        attempt = json.loads(content)["metadata"]["pedalwright"]["attempt"]
    except (ValueError, TypeError, KeyError, IndexError, RecursionError, MemoryError):
        return None
    return attempt if type(attempt) is int and 1 <= attempt <= MOST_ATTEMPTS else None
