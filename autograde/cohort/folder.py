"""The cohort folder: settings, secret, and where everything lies."""

from __future__ import annotations

import json
import secrets
import tomllib
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from autograde.cases import VariantError, read_secret
from autograde.cohort.database import EXAMPLE, checked_address
from autograde.cohort.errors import CohortError
from autograde.cohort.files import one_at_a_time, write_text
from autograde.cohort.roster import Trainee, read_roster, roster_csv

__all__ = ["BEST", "LAST", "Cohort", "Settings", "check_usable", "lay_out", "open_cohort"]

SETTINGS = "cohort.toml"
FOLDERS = ("source", "release", "inbox", "collected", "submitted", "autograded", "feedback", "records", "report")
FILES = (
    *(SETTINGS, "roster.csv", "pseudonyms.csv", "secret.key", "nbgrader_config.py", "gradebook.db", "README.txt"),
    *(".gitignore", "blueprint.toml", "ratings-form.csv"),
)


LAST, BEST = "last", "best"
"""Which of a trainee's attempts counts; see `autograde.cohort.attempts`."""


@dataclass(frozen=True)
class Settings:
    """What an instructor may set for a cohort.

    Parameters
    ----------
    title : str
        Shown on top of reports.
    course_id : str
        Name of the course in nbgrader.
    cases : tuple of str
        Case families handed out, in this order.
    submission_limit_mb : float
        Largest notebook taken in, MB, above 0.
    gradebook : str
        Database address without a password; empty for ``gradebook.db`` in the folder.
    case_folders : tuple of str
        Folders with case families of the instructor's own, beside those that come with the program.
    book : str
        Address of the book, so that reports link to its pages; empty for no links.
    note : str
        A sentence shown on reports and feedback pages.
    attempt_that_counts : str
        `LAST` or `BEST`.
    """

    title: str
    course_id: str
    cases: tuple[str, ...]
    submission_limit_mb: float = 8.0
    gradebook: str = ""
    case_folders: tuple[str, ...] = ()
    book: str = ""
    note: str = ""
    attempt_that_counts: str = LAST


@dataclass(frozen=True)
class Cohort:
    """One cohort on disk.

    Parameters
    ----------
    root : Path
        The folder.
    settings : Settings
        From ``cohort.toml``.
    trainees : tuple of Trainee
        From ``roster.csv``.
    secret : bytes
        From ``secret.key``; every variant is drawn from it.
    """

    root: Path
    settings: Settings
    trainees: tuple[Trainee, ...]
    secret: bytes

    def __repr__(self) -> str:
        """Say where the cohort is, and never its secret."""
        return f"Cohort({str(self.root)!r}, {len(self.trainees)} trainees, {len(self.settings.cases)} cases)"

    @property
    def limit_bytes(self) -> int:
        """Largest notebook taken in, bytes."""
        return int(self.settings.submission_limit_mb * 1e6)

    @property
    def db_url(self) -> str:
        """Address of the gradebook."""
        return self.settings.gradebook or f"sqlite:///{(self.root / 'gradebook.db').resolve()}"

    @property
    def inbox(self) -> Path:
        """Where submissions are dropped."""
        return self.root / "inbox"

    @property
    def report(self) -> Path:
        """Where the cohort report is written."""
        return self.root / "report"

    def record(self, name: str) -> Path:
        """Path of an append-only record."""
        return self.root / "records" / f"{name}.jsonl"

    def source(self, case: str) -> Path:
        """Path of the specimen notebook of a case."""
        return self.root / "source" / case / f"{case}.ipynb"

    def notebook(self, step: str, trainee: str, case: str, attempt: int = 1) -> Path:
        """Path of a trainee's notebook in one of nbgrader's steps; of a further attempt only what is handed out."""
        folder = self.root / step / trainee / case
        return (folder if attempt == 1 else folder / f"attempt-{attempt}") / f"{case}.ipynb"

    def feedback(self, trainee: str, case: str, attempt: int = 0) -> Path:
        """Path of the feedback page on the attempt that counts, or on an attempt that does not."""
        name = f"attempt-{attempt}" if attempt else case
        return self.root / "feedback" / trainee / case / f"{name}.html"

    def trainee(self, trainee_id: str) -> Trainee:
        """Find a trainee by id."""
        return next(trainee for trainee in self.trainees if trainee.id == trainee_id)

    @contextmanager
    def at_work(self) -> Iterator[None]:
        """Hold the cohort for one writing command."""
        with one_at_a_time(self.root / ".lock"):
            yield


def check_usable(root: Path) -> bool:
    """Say whether a folder already holds a cohort, and refuse a folder that holds something else.

    Parameters
    ----------
    root : Path
        Where a cohort is to be made.

    Returns
    -------
    bool
        True if there is a cohort already.

    Raises
    ------
    CohortError
        If the folder holds files that are no part of a cohort.
    """
    if (root / SETTINGS).is_file():
        return True
    if root.exists() and not root.is_dir():
        raise CohortError(f"{root} is a file; give the folder that is to hold the cohort")
    foreign = [p.name for p in root.iterdir() if p.name not in (*FOLDERS, *FILES, ".lock")] if root.exists() else []
    if foreign:
        raise CohortError(f"{root} is not empty and holds no cohort (found {sorted(foreign)[0]!r}); give a new folder")
    return False


def lay_out(root: Path, settings: Settings, trainees: Sequence[Trainee], secret: bytes | None = None) -> Cohort:
    """Write a cohort's settings, roster and secret; on an existing cohort keep its secret.

    Parameters
    ----------
    root : Path
        The folder.
    settings : Settings
        What ``cohort.toml`` is to say.
    trainees : sequence of Trainee
        Who.
    secret : bytes, optional
        A given secret, at least 32 bytes; drawn afresh if left out.

    Returns
    -------
    Cohort
        As it now lies on disk.
    """
    for folder in FOLDERS:
        (root / folder).mkdir(parents=True, exist_ok=True)
    root.chmod(0o700)
    key = root / "secret.key"
    if not key.exists():
        write_text(key, (secret or secrets.token_bytes(32)).hex() + "\n", mode=0o600)
    write_text(root / ".gitignore", "# a cohort is private: nothing in here belongs in a repository\n*\n")
    write_text(root / "roster.csv", roster_csv(trainees), mode=0o600)
    write_text(root / "nbgrader_config.py", _nbgrader_config(settings))
    write_text(root / SETTINGS, _settings_toml(settings))
    return open_cohort(root)


def open_cohort(root: Path) -> Cohort:
    """Open a cohort folder.

    Parameters
    ----------
    root : Path
        The folder.

    Returns
    -------
    Cohort
        The cohort.

    Raises
    ------
    CohortError
        If the folder holds no cohort, or a part of it is missing or damaged.
    """
    path = root / SETTINGS
    if not path.is_file():
        raise CohortError(f"there is no cohort in {root}; make one with: pedalwright cohort make {root} --roster FILE")
    try:
        settings = _read_settings(tomllib.loads(path.read_text(encoding="utf-8")))
    except (KeyError, TypeError, ValueError, RecursionError) as trouble:  # broken TOML is a ValueError
        raise CohortError(f"{path} is not readable ({trouble}); put right what it says or restore a copy") from trouble
    try:
        secret = read_secret(root)
    except VariantError as trouble:
        raise CohortError(f"{trouble}; without it no variant can be drawn again") from trouble
    return Cohort(root, settings, read_roster(root / "roster.csv"), secret)


def _read_settings(data: dict[str, object]) -> Settings:
    cases = _names(data["cases"], "cases")
    if not cases:
        raise ValueError("cases must name at least one case")
    limit = float(str(data.get("submission_limit_mb", Settings.submission_limit_mb)))
    if not 0 < limit <= 200:
        raise ValueError(f"submission_limit_mb is {limit:g}; allowed is above 0 up to 200")
    counts = str(data.get("attempt_that_counts", LAST))
    if counts not in (LAST, BEST):
        raise ValueError(f"attempt_that_counts is {counts!r}; allowed are {LAST!r} and {BEST!r}")
    return Settings(
        title=str(data["title"]),
        course_id=str(data["course_id"]),
        cases=cases,
        submission_limit_mb=limit,
        gradebook=checked_address(str(data.get("gradebook", ""))),
        case_folders=_names(data.get("case_folders", []), "case_folders"),
        book=str(data.get("book", "")),
        note=str(data.get("note", "")),
        attempt_that_counts=counts,
    )


def _names(value: object, key: str) -> tuple[str, ...]:
    if not isinstance(value, list) or not all(isinstance(item, str) for item in value):
        raise ValueError(f"{key} must be a list of texts")
    return tuple(value)


def _settings_toml(settings: Settings) -> str:
    def quoted(text: str) -> str:
        return json.dumps(text, ensure_ascii=False)

    cases = "\n".join(f"  {quoted(case)}," for case in settings.cases)
    folders = ", ".join(quoted(folder) for folder in settings.case_folders)
    return f"""# Settings of this cohort. Change them with a text editor; a case that is handed out should stay.
title = {quoted(settings.title)}
course_id = {quoted(settings.course_id)}
cases = [
{cases}
]
# Largest notebook taken from the inbox, in megabytes.
submission_limit_mb = {settings.submission_limit_mb:g}
# Address of the gradebook's database, {EXAMPLE}; empty means gradebook.db in this folder.
# A password never stands here: it belongs into the environment (PGPASSWORD) or into the private file ~/.pgpass.
gradebook = {quoted(settings.gradebook)}
# Folders with case families of your own. Their case.py is run: name only folders you trust.
case_folders = [{folders}]
# Address of the book (http://..., https://... or a path from the report to it); empty means no links to it.
book = {quoted(settings.book)}
# A sentence shown on the report and on every feedback page.
note = {quoted(settings.note)}
# Which of a trainee's attempts at a case counts: "last" (the last one handed in) or "best" (most marks).
attempt_that_counts = {quoted(settings.attempt_that_counts)}
"""


def _nbgrader_config(settings: Settings) -> str:
    return f'''"""Lets nbgrader's own commands and its form for hand marking open this folder."""

import os

c = get_config()  # noqa: F821 - given by the application that reads this file
c.CourseDirectory.root = os.path.dirname(os.path.abspath(__file__))
c.CourseDirectory.course_id = {settings.course_id!r}
if {settings.gradebook!r}:
    c.CourseDirectory.db_url = {settings.gradebook!r}
'''
