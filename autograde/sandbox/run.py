"""Run the code cells of a notebook that nobody trusts, and hand back what they put out."""

from __future__ import annotations

import json
import os
import platform
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from autograde.sandbox import inside
from autograde.sandbox.box import Box, check_hidden, environment, resources
from autograde.sandbox.errors import SandboxError
from autograde.sandbox.limits import Limits
from autograde.sandbox.outputs import ESCAPES, CellRun, read_lines
from autograde.sandbox.syscalls import filter_program
from autograde.sandbox.watch import Watched, watch

__all__ = ["Run", "run_cells"]

MOST_CELLS = 2_000
MOST_SOURCE_CHARS = 2_000_000
ENVELOPE = 3
"""How much longer results may be in JSON than what was put out."""


@dataclass(frozen=True)
class Run:
    """What became of a run. Code under test can forge all of it, so it is for looking at and never earns marks.

    Parameters
    ----------
    cells : tuple of CellRun
        One for each cell given.
    trouble : str
        Why it did not come to its end, or empty.
    sandboxed : bool
        Whether it ran in a sandbox.
    """

    cells: tuple[CellRun, ...]
    trouble: str
    sandboxed: bool


def run_cells(
    sources: Sequence[str],
    box: Box | None,
    *,
    limits: Limits | None = None,
    show: Sequence[Path] = (),
    hide: Sequence[Path] = (),
) -> Run:
    """Run code cells one after the other in one kernel.

    Parameters
    ----------
    sources : sequence of str
        The cells, up to 2000 of them and 2,000,000 characters in all.
    box : Box or None
        The sandbox, from `find_box`. With None the code runs unprotected, as the caller: it can then read, change and
        send whatever the caller can.
    limits : Limits, optional
        Bounds of the run.
    show : sequence of Path
        What the code can read beside the Python installation.
    hide : sequence of Path
        Folders that must not be seen; the run is refused if one lies inside what is shown.

    Returns
    -------
    Run
        What each cell put out: text and small PNG pictures only.

    Raises
    ------
    SandboxError
        If the cells are too many or too long, something to hide would be seen, or the sandbox itself fails.
    """
    limits = limits or Limits()
    if len(sources) > MOST_CELLS or sum(map(len, sources)) > MOST_SOURCE_CHARS:
        raise SandboxError(
            f"there are {len(sources)} cells; run are up to {MOST_CELLS}, of 2,000,000 characters in all"
        )
    order = {
        "cells": list(sources),
        "cell_seconds": limits.cell_seconds,
        "output_bytes": limits.output_kb * 1000,
        "resources": resources(limits, alone=box is not None),
        "user": box.user if box else None,
    }
    if box is None:
        watched = _unprotected(order, limits)
    else:
        check_hidden(show, hide)
        watched = _in_box(box, order, limits, show)
    cells, ended = read_lines(watched.said, len(sources))
    if not any(cell.started for cell in cells) and sources and not watched.stopped:
        raise SandboxError(f"the code could not be started ({_last_line(watched.complained)}); nothing of it ran")
    return Run(tuple(cells), _trouble(watched, cells, ended), box is not None)


def _trouble(watched: Watched, cells: Sequence[CellRun], ended: bool) -> str:
    if ended and not watched.stopped and all(cell.finished for cell in cells):
        return ""
    at = next((number for number, cell in enumerate(cells, start=1) if not cell.finished), len(cells))
    reason = watched.stopped or "its Python ended"
    return f"stopped in code cell {at} of {len(cells)}: {reason}"


def _in_box(box: Box, order: dict[str, Any], limits: Limits, show: Sequence[Path]) -> Watched:
    with tempfile.TemporaryFile() as rules:
        if program := filter_program(platform.machine()):
            rules.write(program)
            rules.seek(0)
        fds = (rules.fileno(),) if program else ()
        script = Path(inside.__file__)
        words = box.command(
            [sys.executable, "-I", str(script)], limits, show=[script, *show], filter_fd=fds[0] if fds else None
        )
        return _watched(words, order, limits, fds=fds)


def _unprotected(order: dict[str, Any], limits: Limits) -> Watched:
    with tempfile.TemporaryDirectory() as home:
        words = [sys.executable, "-I", str(Path(inside.__file__))]
        return _watched(words, order, limits, folder=home, variables=environment(home))


def _watched(
    words: Sequence[str],
    order: dict[str, Any],
    limits: Limits,
    *,
    folder: str = os.sep,
    variables: dict[str, str] | None = None,
    fds: Sequence[int] = (),
) -> Watched:
    return watch(
        words,
        json.dumps(order).encode(),
        seconds=limits.seconds,
        memory_bytes=limits.memory_mb * 1_000_000,
        said_bytes=limits.output_kb * 1000 * ENVELOPE + 200_000,
        folder=folder,
        variables=variables,
        pass_fds=fds,
    )


def _last_line(complained: bytes) -> str:
    lines = ESCAPES.sub("", complained.decode("utf-8", "replace")).strip().splitlines()
    return "".join(char for char in lines[-1][:200] if char.isprintable()) if lines else "it said nothing"
