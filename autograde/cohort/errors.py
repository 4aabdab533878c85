"""The one error an instructor is meant to read."""

from __future__ import annotations

__all__ = ["CohortError"]


class CohortError(Exception):
    """Trouble with a cohort that a person can put right: one sentence saying what was found and what to do."""
