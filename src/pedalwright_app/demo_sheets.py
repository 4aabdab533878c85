"""The shipped sheets of the invented birds, and how they come back: the files that lie in the inbox."""

from __future__ import annotations

import io
import tomllib
import zipfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from pedalwright_app.demo_birds import BIRDS, STRANGER, Bird
from pedalwright_app.demo_texts import texts_of
from pedalwright_app.filling import cut_off, fill, without_answer_cell

if TYPE_CHECKING:
    from autograde.cohort.folder import Cohort

__all__ = ["TYPED", "Sheet", "drop_in_inbox", "forget", "sheet_of", "submission"]

TYPED = Path(__file__).with_name("demo_typed")
DELETED = "deleted answer cell: "
DAY = (2026, 10, 2, 18, 0, 0)
"""When the files in an archive were saved, as the archive says it."""


@dataclass(frozen=True)
class Sheet:
    """What a bird typed into one notebook.

    Parameters
    ----------
    typed : mapping
        Words by task id.
    texts : mapping
        Which of the shipped texts a task was answered with, from 1.
    mishap : str
        What happened to the file.
    """

    typed: Mapping[str, str]
    texts: Mapping[str, int]
    mishap: str = ""

    @property
    def deleted(self) -> str:
        """The task whose answer cell is gone, or empty."""
        return self.mishap.removeprefix(DELETED) if self.mishap.startswith(DELETED) else ""


def forget() -> None:
    """Read the shipped files anew next time, after they were rewritten."""
    _shipped.cache_clear()


@lru_cache(maxsize=64)
def _shipped(bird: str) -> dict[str, Any]:
    return tomllib.loads((TYPED / f"{bird}.toml").read_text(encoding="utf-8"))


def sheet_of(bird: str, case: str) -> Sheet:
    """Read what a bird typed into one notebook.

    Parameters
    ----------
    bird : str
        The bird's id.
    case : str
        Name of the case.

    Returns
    -------
    Sheet
        Without anything typed if the bird did not answer, or the case is new since the files were written.
    """
    typed, texts = {}, {}
    shipped = dict(_shipped(bird).get(case, {}))
    mishap = shipped.pop("mishap", "")
    for task, answer in shipped.items():
        if isinstance(answer, str):
            typed[task] = answer
        else:
            texts[task] = int(answer["text"])
            typed[task] = texts_of(case)[texts[task] - 1].said(answer["then"])
    return Sheet(typed, texts, mishap)


def submission(bird: Bird, case: str, notebook: bytes) -> bytes | None:
    """Make the file a bird hands in from its own notebook and the answers shipped with the program.

    Parameters
    ----------
    bird : Bird
        Who.
    case : str
        Name of the case.
    notebook : bytes
        As handed out to the bird.

    Returns
    -------
    bytes or None
        None if the bird hands nothing in.
    """
    sheet = sheet_of(bird.id, case)
    if sheet.mishap == "not handed in" or bird.habit == "hands in nothing":
        return None
    filled = fill(notebook, sheet.typed)
    if sheet.mishap == "cut off":
        return cut_off(filled)
    return without_answer_cell(filled, sheet.deleted) if sheet.deleted else filled


def drop_in_inbox(cohort: Cohort) -> int:
    """Let every bird fill its own notebooks and put them into the inbox, in one of the ways in which work comes back.

    Parameters
    ----------
    cohort : Cohort
        The demonstration cohort, handed out.

    Returns
    -------
    int
        Files that were not there before.

    Raises
    ------
    CohortError
        If a file is there that is not the demonstration's, or of another edition of it.
    """
    from autograde.cohort.errors import CohortError
    from autograde.cohort.files import write_bytes

    fresh = 0
    for name, content in _files(cohort):
        path = cohort.inbox / name
        if not path.exists():
            write_bytes(path, content, derived=True)
            fresh += 1
        elif path.read_bytes() != content:
            raise CohortError(
                f"{path} is not what this edition of the demonstration hands in; delete {cohort.root}, or give another "
                "folder"
            )
    return fresh


def _files(cohort: Cohort) -> Iterator[tuple[str, bytes]]:
    for bird in BIRDS:
        work = {
            case: content
            for case in cohort.settings.cases
            if (content := submission(bird, case, cohort.notebook("release", bird.id, case).read_bytes())) is not None
        }
        if bird.habit == "in one archive":
            yield f"{bird.id}.zip", _archive(bird, work)
        elif bird.habit == "in folders":
            yield from ((f"{bird.id}/{case}/{case}.ipynb", content) for case, content in work.items())
        else:
            yield from ((_name(bird, case), content) for case, content in work.items())
    yield f"{STRANGER}__{cohort.settings.cases[0]}.ipynb", b"{}"


def _name(bird: Bird, case: str) -> str:
    copy = " (1)" if sheet_of(bird.id, case).mishap == "name of a copy" else ""
    return f"{bird.id}__{case}{copy}.ipynb"


def _archive(bird: Bird, work: Mapping[str, bytes]) -> bytes:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for case, content in work.items():
            archive.writestr(zipfile.ZipInfo(f"{bird.id}/{case}/{case}.ipynb", DAY), content)
    return packed.getvalue()
