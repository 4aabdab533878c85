"""Make a cohort from a roster, or bring new trainees and cases into one."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from autograde.cohort.database import check_unused, checked_address
from autograde.cohort.errors import CohortError
from autograde.cohort.families import known_families, load_case
from autograde.cohort.files import write_bytes
from autograde.cohort.folder import Cohort, Settings, check_usable, lay_out, open_cohort
from autograde.cohort.gradebook import prepare, validate
from autograde.cohort.handout import specimen_notebook
from autograde.cohort.notebook import Notebook, as_bytes
from autograde.cohort.roster import Trainee

__all__ = ["Plan", "bring_gradebook_in_step", "make_cohort", "plan"]


@dataclass(frozen=True)
class Plan:
    """What making a cohort would write.

    Parameters
    ----------
    root : Path
        The folder.
    settings : Settings
        Of the cohort.
    trainees : tuple of Trainee
        All of them, those already in the cohort included.
    added : tuple of Trainee
        Those who are new.
    exists : bool
        Whether the folder holds a cohort already.
    """

    root: Path
    settings: Settings
    trainees: tuple[Trainee, ...]
    added: tuple[Trainee, ...]
    exists: bool


def plan(
    root: Path,
    roster: Sequence[Trainee],
    *,
    title: str = "",
    cases: Sequence[str] = (),
    case_folders: Sequence[Path] = (),
    book: str = "",
    note: str = "",
    gradebook: str = "",
) -> Plan:
    """Work out what a new cohort would hold, or what an existing one would gain.

    Parameters
    ----------
    root : Path
        The folder.
    roster : sequence of Trainee
        Who. On an existing cohort they are added, names and addresses are updated, and nobody is taken out.
    title : str
        Title on reports; made from the folder's name if empty.
    cases : sequence of str
        Case families; all that are known if empty.
    case_folders : sequence of Path
        Folders with case families of the instructor's own.
    book, note, gradebook : str
        See `Settings`.

    Returns
    -------
    Plan
        Nothing is written yet.

    Raises
    ------
    CohortError
        If the folder is not usable, a case is not known, or the gradebook's address will not do.
    """
    folders = tuple(str(folder.resolve()) for folder in case_folders)
    gradebook = checked_address(gradebook)
    if not check_usable(root):
        known = known_families(folders)
        chosen = tuple(dict.fromkeys(cases)) or tuple(known)
        _check_cases(chosen, known)
        title = title or root.resolve().name.replace("-", " ").replace("_", " ").capitalize()
        settings = Settings(
            title, _slug(title), chosen, case_folders=folders, book=book, note=note, gradebook=gradebook
        )
        return Plan(root, settings, tuple(roster), tuple(roster), exists=False)
    cohort = open_cohort(root)
    old = cohort.settings
    if gradebook not in ("", old.gradebook):
        raise CohortError("this cohort has a gradebook already; to move it, change its address in cohort.toml")
    folders = tuple(dict.fromkeys((*old.case_folders, *folders)))
    _check_cases(cases, known_families(folders))
    settings = replace(
        old,
        title=title or old.title,
        cases=tuple(dict.fromkeys((*old.cases, *cases))),
        case_folders=folders,
        book=book or old.book,
        note=note or old.note,
    )
    by_id = {trainee.id: trainee for trainee in (*cohort.trainees, *roster)}
    present = {trainee.id for trainee in cohort.trainees}
    added = tuple(trainee for trainee in roster if trainee.id not in present)
    return Plan(root, settings, tuple(by_id.values()), added, exists=True)


def _check_cases(cases: Sequence[str], known: Mapping[str, object]) -> None:
    if not known:
        raise CohortError("no case family was found; install the program with its exercises or name a --case-folder")
    for case in cases:
        if case not in known:
            raise CohortError(f"there is no case {case!r}; known cases: {', '.join(known)}")


def _slug(title: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", title.lower()).strip("-")[:60] or "cohort"


def make_cohort(wanted: Plan, secret: bytes | None = None) -> Cohort:
    """Write what a plan says.

    Parameters
    ----------
    wanted : Plan
        From `plan`.
    secret : bytes, optional
        A given secret for a demonstration or a test; a real cohort draws its own.

    Returns
    -------
    Cohort
        Ready to hand out.
    """
    for case in wanted.settings.cases:
        load_case(case, wanted.settings.case_folders)
    if not wanted.exists:
        check_unused(wanted.settings.gradebook)
    cohort = lay_out(wanted.root, wanted.settings, wanted.trainees, secret)
    with cohort.at_work():
        bring_gradebook_in_step(cohort)
    return cohort


def bring_gradebook_in_step(cohort: Cohort) -> None:
    """Write the source notebook of each case if it is missing, and enter roster and cases into the gradebook.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    """
    sources: dict[str, Notebook] = {}
    for case in cohort.settings.cases:
        path = cohort.source(case)
        if not path.exists():
            notebook = specimen_notebook(load_case(case, cohort.settings.case_folders), cohort.secret)
            validate(notebook)
            write_bytes(path, as_bytes(notebook))
        sources[case] = json.loads(path.read_bytes())
    prepare(cohort, sources)
