"""Where case families are found."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from autograde.cases.contract import Family


def discover_families(extra: Iterable[Path] = ()) -> dict[str, Family]:
    """All families of the repository and of extra folders, by name."""
    raise NotImplementedError


def load_family(name: str, extra: Iterable[Path] = ()) -> Family:
    """One family by name."""
    raise NotImplementedError
