"""Run a trainee's own cells again, in a sandbox, so that an instructor sees what they compute; marks are never run."""

from __future__ import annotations

import base64
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import autograde
import pedalwright
from autograde.cases.discover import exercises_folder
from autograde.cohort.autograded import shown_safely
from autograde.cohort.collect import current_submissions, version_path
from autograde.cohort.errors import CohortError
from autograde.cohort.families import load_case
from autograde.cohort.files import append_records, read_bounded, read_records, write_bytes, write_text
from autograde.cohort.folder import Cohort
from autograde.cohort.notebook import Notebook, as_bytes
from autograde.cohort.pages import environment
from autograde.cohort.read import read_cells
from autograde.cohort.text import plain
from autograde.cohort.workers import Runner, in_this_process
from autograde.sandbox import Box, CellRun, Limits, Output, Run, SandboxError, run_cells

__all__ = ["RerunJob", "rerun_all", "rerun_folder", "rerun_submission", "rerunnings", "to_rerun"]

Record = dict[str, Any]
MOST_SHOWN = 20_000
"""Characters of one cell's text that are shown."""
HEADLINE = "Run again to look at"
WHAT_THIS_IS = (
    "These are the trainee's own cells, run again in order. What they put out earns no marks: marks are read from the "
    "answers, and code can print anything. Do not run this copy's code outside a sandbox."
)
NOT_RUN = CellRun()
UNPROTECTED = "It was run without a sandbox, as you asked."


@dataclass(frozen=True)
class RerunJob:
    """One submission to run again, as plain data that can travel to another process."""

    root: Path
    trainee: str
    name: str
    case: str
    title: str
    path: Path
    sha256: str
    limit_bytes: int
    box: Box | None
    limits: Limits


@dataclass(frozen=True)
class ShownCell:
    """One cell as the page shows it: what stands in it, and what became of it if it is code."""

    kind: str
    text: str
    run: CellRun = NOT_RUN

    @property
    def outputs(self) -> list[tuple[Output, str]]:
        """What it put out, with the address of the picture if there is one."""
        return [(item, _picture_address(item.png)) for item in self.run.outputs]


def rerun_folder(root: Path, trainee: str, case: str) -> Path:
    """Name the folder of what came of running a submission again.

    Parameters
    ----------
    root : Path
        The cohort folder.
    trainee, case : str
        Whose, and which case.

    Returns
    -------
    Path
        It holds a page to look at and a notebook.
    """
    return root / "reexecuted" / trainee / case


def rerunnings(cohort: Cohort) -> dict[tuple[str, str], Record]:
    """Read what was run again.

    Parameters
    ----------
    cohort : Cohort
        The cohort.

    Returns
    -------
    dict
        The latest record for each trainee and case.
    """
    return {(line["trainee"], line["case"]): line for line in read_records(cohort.record("reexecuted"))}


def to_rerun(
    cohort: Cohort,
    box: Box | None,
    limits: Limits,
    *,
    trainees: Collection[str] = (),
    cases: Collection[str] = (),
    again: bool = False,
) -> list[RerunJob]:
    """List the submissions to run again: those whose latest version was not run yet.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    box : Box or None
        The sandbox; None runs them unprotected.
    limits : Limits
        Bounds of each run.
    trainees, cases : collection of str
        Only these; none named means all.
    again : bool
        Also those that were run already.

    Returns
    -------
    list of RerunJob
        In the order of the roster.

    Raises
    ------
    CohortError
        If a trainee or a case is not of this cohort.
    """
    known = {trainee.id: trainee.name for trainee in cohort.trainees}
    _check_known("trainee", trainees, known)
    _check_known("case", cases, cohort.settings.cases)
    current, done = current_submissions(cohort), rerunnings(cohort)
    jobs = []
    for case in cohort.settings.cases:
        for trainee, name in known.items():
            submission = current.get((trainee, case))
            wanted = (not trainees or trainee in trainees) and (not cases or case in cases)
            if submission is None or not wanted:
                continue
            kept = done.get((trainee, case), {}).get("sha256") == submission["sha256"]
            if kept and not again and _page(cohort.root, trainee, case).exists():
                continue
            jobs.append(
                RerunJob(
                    root=cohort.root,
                    trainee=trainee,
                    name=name,
                    case=case,
                    title=load_case(case, cohort.settings.case_folders).title,
                    path=version_path(cohort, submission),
                    sha256=submission["sha256"],
                    limit_bytes=cohort.limit_bytes,
                    box=box,
                    limits=limits,
                )
            )
    return jobs


def _check_known(what: str, asked: Collection[str], known: Collection[str]) -> None:
    for name in asked:
        if name not in known:
            raise CohortError(f"this cohort has no {what} {plain(name, 60)!r}; it has {', '.join(known)[:300]}")


def rerun_all(
    cohort: Cohort,
    todo: list[RerunJob],
    *,
    runner: Runner = in_this_process,
    progress: Callable[[int, int], None] = lambda _done, _all: None,
) -> Iterator[Record]:
    """Run submissions again and record each.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    todo : list of RerunJob
        From `to_rerun`.
    runner : callable
        Does the jobs, here or side by side.
    progress : callable
        Told how many of how many are done.

    Yields
    ------
    dict
        The record of each submission, once it is on disk.
    """
    for count, record in enumerate(runner(rerun_submission, todo), start=1):
        append_records(cohort.record("reexecuted"), [record])
        progress(count, len(todo))
        yield record


def rerun_submission(job: RerunJob) -> Record:
    """Run one submission again and write what is to be looked at.

    Parameters
    ----------
    job : RerunJob
        Which.

    Returns
    -------
    dict
        The record; whatever goes wrong is in it, and no submission stops the others.
    """
    cells: list[tuple[str, str]] = []
    run = Run((), "", job.box is not None)
    try:
        cells, trouble = read_cells(read_bounded(job.path, job.limit_bytes), job.trainee, job.case)
        if not trouble:
            run = _run([text for kind, text in cells if kind == "code"], job)
            trouble = run.trouble
    except (SandboxError, CohortError, OSError) as failure:
        trouble = plain(str(failure), 300)
    shown = list(_shown(cells, run))
    folder = rerun_folder(job.root, job.trainee, job.case)
    write_bytes(folder / f"{job.case}.ipynb", as_bytes(_notebook(shown, trouble, job)), derived=True)
    write_text(_page(job.root, job.trainee, job.case), _html(shown, trouble, job), derived=True)
    return {
        "trainee": job.trainee,
        "case": job.case,
        "sha256": job.sha256,
        "sandboxed": job.box is not None,
        "trouble": plain(trouble, 300),
        "cells": sum(cell.kind == "code" for cell in shown),
        "finished": sum(cell.run.finished for cell in shown),
        "errors": sum(any(item.kind == "error" for item in cell.run.outputs) for cell in shown),
    }


def _run(sources: list[str], job: RerunJob) -> Run:
    ours = [Path(autograde.__file__).parent, Path(pedalwright.__file__).parent, exercises_folder()]
    return run_cells(sources, job.box, limits=job.limits, show=ours, hide=[job.root])


def _page(root: Path, trainee: str, case: str) -> Path:
    return rerun_folder(root, trainee, case) / f"{case}.html"


def _shown(cells: list[tuple[str, str]], run: Run) -> Iterator[ShownCell]:
    runs = iter(run.cells)
    for kind, text in cells:
        yield ShownCell(kind, plain(text, MOST_SHOWN), next(runs, NOT_RUN) if kind == "code" else NOT_RUN)


def _html(shown: list[ShownCell], trouble: str, job: RerunJob) -> str:
    return (
        environment()
        .get_template("rerun.html")
        .render(
            job=job, cells=shown, trouble=trouble, what=WHAT_THIS_IS, unprotected=UNPROTECTED if job.box is None else ""
        )
    )


def _notebook(shown: list[ShownCell], trouble: str, job: RerunJob) -> Notebook:
    notes = [f"**{HEADLINE}.** {WHAT_THIS_IS}", UNPROTECTED if job.box is None else ""]
    head = "\n\n".join([*filter(None, notes), *([shown_safely(plain(trouble, 300))] if trouble else [])])
    cells: list[dict[str, Any]] = [{"cell_type": "markdown", "id": "about", "metadata": {}, "source": head}]
    for number, cell in enumerate(shown, start=1):
        made: dict[str, Any] = {"id": f"cell-{number}", "metadata": {"editable": False}, "source": cell.text}
        if cell.kind == "code":
            made |= {"cell_type": "code", "execution_count": None, "outputs": [*map(_as_output, cell.run.outputs)]}
        else:
            made |= {"cell_type": "markdown", "source": shown_safely(cell.text)}
        cells.append(made)
    kernel = {"display_name": "Python 3 (ipykernel)", "language": "python", "name": "python3"}
    return {"cells": cells, "metadata": {"kernelspec": kernel}, "nbformat": 4, "nbformat_minor": 5}


def _as_output(output: Output) -> dict[str, Any]:
    text = plain(output.text, MOST_SHOWN)
    if output.kind in ("printed", "error"):
        name = "stdout" if output.kind == "printed" else "stderr"
        return {"output_type": "stream", "name": name, "text": text}
    data = {"text/plain": text}
    if output.png:
        data["image/png"] = base64.b64encode(output.png).decode("ascii")
    return {"output_type": "display_data", "data": data, "metadata": {}}


def _picture_address(png: bytes) -> str:
    return f"data:image/png;base64,{base64.b64encode(png).decode('ascii')}" if png else ""
