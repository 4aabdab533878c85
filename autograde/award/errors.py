"""The error a certifier is meant to read."""

from __future__ import annotations

__all__ = ["AwardError"]


class AwardError(Exception):
    """Trouble that a person can put right: what was received, what is allowed, what to do."""
