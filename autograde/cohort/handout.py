"""Hand out: one notebook of their own for each trainee and case."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from autograde.cases import Family, FamilyError, VariantError, render_brief, seeded_variant, trainee_variant
from autograde.cohort.errors import CohortError
from autograde.cohort.families import load_case
from autograde.cohort.files import append_records, read_records, write_bytes
from autograde.cohort.folder import Cohort
from autograde.cohort.notebook import Notebook, as_bytes, build_notebook, markdown_text
from autograde.cohort.workers import Runner, in_this_process

__all__ = [
    "HandOut",
    "HandOutJob",
    "attempts_handed_out",
    "drawn_notebook",
    "hand_out",
    "handed_out",
    "place",
    "release_notebook",
    "specimen_notebook",
]

SPECIMEN = "*specimen*"
"""Draws the notebook in source/; no trainee can have this id."""


@dataclass(frozen=True)
class HandOut:
    """What happened to one notebook: ``written``, ``there already`` or ``changed since``."""

    trainee: str
    case: str
    what: str
    attempt: int = 1


@dataclass(frozen=True)
class HandOutJob:
    """One notebook to write, as plain data that can travel to another process."""

    trainee: str
    name: str
    case: str
    attempt: int
    path: Path
    secret: bytes
    folders: tuple[str, ...]
    fingerprint: str = ""
    seed: bytes = field(default=b"", repr=False)
    """Of this one variant, where the job travels to another machine and the secret does not."""

    def __repr__(self) -> str:
        """Name the job without its secret."""
        return f"HandOutJob({self.trainee!r}, {self.case!r}, {self.attempt})"


def specimen_notebook(family: Family, secret: bytes) -> Notebook:
    """Build the notebook nbgrader keeps as the source of a case.

    Parameters
    ----------
    family : Family
        The case family.
    secret : bytes
        The cohort's secret.

    Returns
    -------
    dict
        A notebook with a variant that no trainee has, and the same answer and check cells.
    """
    variant = trainee_variant(family, secret, SPECIMEN)
    return build_notebook(family, render_brief(family, variant.case), greeting="**Specimen**, handed out to nobody.")


def release_notebook(job: HandOutJob) -> tuple[bytes, str]:
    """Draw a trainee's variant and write its notebook.

    Parameters
    ----------
    job : HandOutJob
        Whose.

    Returns
    -------
    content : bytes
        The notebook; it holds neither the secret nor the seed nor a solution.
    fingerprint : str
        Of the variant, by which marking knows that it drew the same one again.
    """
    family = load_case(job.case, job.folders)
    if job.seed:
        variant = seeded_variant(family, job.seed)
    else:
        variant = trainee_variant(family, job.secret, job.trainee, job.attempt)
    notebook = build_notebook(
        family,
        render_brief(family, variant.case),
        greeting=f"*{markdown_text(family.title)}*, for **{markdown_text(job.name)}**{_which(job.attempt)}",
        metadata={"trainee": job.trainee, "attempt": job.attempt},
    )
    return as_bytes(notebook), variant.fingerprint


def _which(attempt: int) -> str:
    return f" (attempt {attempt}, with numbers of its own)" if attempt > 1 else ""


def _write(job: HandOutJob) -> dict[str, Any]:
    return place(job, *drawn_notebook(job))


def drawn_notebook(job: HandOutJob) -> tuple[bytes, str]:
    """Do what `release_notebook` does, and name the trainee and the case if no variant can be drawn."""
    try:
        return release_notebook(job)
    except (VariantError, FamilyError) as trouble:
        raise CohortError(f"{job.case} for {job.trainee}: {trouble}") from trouble


def place(job: HandOutJob, content: bytes, fingerprint: str) -> dict[str, Any]:
    """Put a notebook where it belongs, unless one is there.

    Parameters
    ----------
    job : HandOutJob
        Whose.
    content : bytes
        The notebook.
    fingerprint : str
        Of its variant.

    Returns
    -------
    dict
        The hand-out record, and under ``what`` what happened.

    Raises
    ------
    CohortError
        If an earlier edition of the case was handed out.
    """
    if job.fingerprint not in ("", fingerprint):
        raise CohortError(
            f"{job.case} for {job.trainee} was handed out with an earlier edition of the case, and its notebook is "
            "gone; put the notebook or the earlier edition back"
        )
    digest = hashlib.sha256(content).hexdigest()
    if job.path.exists():
        same = hashlib.sha256(job.path.read_bytes()).hexdigest() == digest
        what = "there already" if same else "changed since"
    else:
        write_bytes(job.path, content)
        what = "written"
    return {
        "trainee": job.trainee,
        "case": job.case,
        "attempt": job.attempt,
        "fingerprint": fingerprint,
        "sha256": digest,
        "what": what,
    }


def handed_out(cohort: Cohort) -> dict[tuple[str, str], dict[str, Any]]:
    """Read what was handed out to whom.

    Parameters
    ----------
    cohort : Cohort
        The cohort.

    Returns
    -------
    dict
        The hand-out record of the last attempt for each trainee and case.
    """
    done = attempts_handed_out(cohort)
    return {
        (trainee, case): done[trainee, case, attempt] for trainee, case, attempt in sorted(done, key=lambda k: k[2])
    }


def attempts_handed_out(cohort: Cohort) -> dict[tuple[str, str, int], dict[str, Any]]:
    """Read what was handed out to whom, attempt by attempt.

    Parameters
    ----------
    cohort : Cohort
        The cohort.

    Returns
    -------
    dict
        The latest hand-out record by trainee, case and attempt.
    """
    return {
        (line["trainee"], line["case"], line["attempt"]): line for line in read_records(cohort.record("handed_out"))
    }


def jobs(cohort: Cohort, further: Mapping[tuple[str, str], int] | None = None) -> Iterator[HandOutJob]:
    """List the notebooks that have yet to be handed out.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    further : mapping, optional
        Further attempts to hand out, by trainee and case.

    Yields
    ------
    HandOutJob
        One for each notebook that is missing or not on record.
    """
    done = attempts_handed_out(cohort)
    attempts: dict[tuple[str, str], set[int]] = {}
    for trainee_id, case, attempt in done:
        attempts.setdefault((trainee_id, case), set()).add(attempt)
    for who, attempt in (further or {}).items():
        attempts.setdefault(who, set()).add(attempt)
    for case in cohort.settings.cases:
        for trainee in (one for one in cohort.trainees if not one.gone):
            for attempt in sorted({1} | attempts.get((trainee.id, case), set())):
                path = cohort.notebook("release", trainee.id, case, attempt)
                record = done.get((trainee.id, case, attempt))
                if record is None or not path.exists():
                    yield HandOutJob(
                        trainee=trainee.id,
                        name=trainee.name,
                        case=case,
                        attempt=attempt,
                        path=path,
                        secret=cohort.secret,
                        folders=cohort.settings.case_folders,
                        fingerprint=record["fingerprint"] if record else "",
                    )


def hand_out(
    cohort: Cohort,
    *,
    further: Mapping[tuple[str, str], int] | None = None,
    dry_run: bool = False,
    runner: Runner = in_this_process,
    progress: Callable[[int, int], None] = lambda _done, _all: None,
) -> list[HandOut]:
    """Write every notebook that is still missing; one that exists is never written again.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    further : mapping, optional
        Further attempts to hand out, by trainee and case; see `autograde.cohort.further`.
    dry_run : bool
        Only say what would be written.
    runner : callable
        Does the jobs, here or side by side.
    progress : callable
        Told how many of how many are done.

    Returns
    -------
    list of HandOut
        One for each trainee, case and attempt.
    """
    todo = list(jobs(cohort, further))
    known = {*attempts_handed_out(cohort), *((job.trainee, job.case, job.attempt) for job in todo)}
    fresh = {
        (job.trainee, job.case, job.attempt): HandOut(job.trainee, job.case, "written", job.attempt) for job in todo
    }
    if not dry_run:
        for count, record in enumerate(runner(_write, todo), start=1):
            what = record.pop("what")
            key = record["trainee"], record["case"], record["attempt"]
            fresh[key] = HandOut(record["trainee"], record["case"], what, record["attempt"])
            append_records(cohort.record("handed_out"), [record])
            progress(count, len(todo))
    return [
        fresh.get((trainee.id, case, attempt), HandOut(trainee.id, case, "there already", attempt))
        for case in cohort.settings.cases
        for trainee in cohort.trainees
        if not trainee.gone
        for attempt in (1, *range(2, 100))
        if attempt == 1 or (trainee.id, case, attempt) in known
    ]
