"""Mark one filled sheet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from autograde.marking.misconceptions import Misconception
from autograde.marking.result import SheetResult
from autograde.marking.tasks import Task


def mark_sheet(
    tasks: Sequence[Task],
    misconceptions: Sequence[Misconception],
    case: Any,
    sheet: Mapping[str, str | None],
) -> SheetResult:
    """Mark every task of a sheet; never raises for what the sheet contains."""
    raise NotImplementedError
