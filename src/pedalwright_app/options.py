"""What the commands of the cohort desk have in common."""

from __future__ import annotations

import shlex
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

__all__ = ["MOST_LINES", "dry_run_option", "folder_argument", "line", "scheduler_option", "workers_option"]

MOST_LINES = 20
"""Lines of a table that may grow with the cohort."""

Command = Callable[..., Any]


def folder_argument(command: Command) -> Command:
    """Add the cohort's folder."""
    return click.argument("folder", type=click.Path(file_okay=False, path_type=Path))(command)


def dry_run_option(command: Command) -> Command:
    """Add --dry-run."""
    return click.option("--dry-run", is_flag=True, help="Say what would be written, and write nothing.")(command)


def workers_option(command: Command) -> Command:
    """Add --workers."""
    words = "Processes side by side. By default one for few notebooks, one for each core for many."
    return click.option("--workers", type=click.IntRange(1, 64), metavar="N", help=words)(command)


def scheduler_option(command: Command) -> Command:
    """Add --scheduler."""
    words = "Work on the workers of this Dask scheduler instead, for example tcp://192.0.2.7:8786."
    return click.option("--scheduler", default="", metavar="ADDRESS", help=words)(command)


def line(command: str, folder: Path) -> str:
    """Write a command as it can be copied."""
    return f"pedalwright cohort {command} {shlex.quote(str(folder))}"
