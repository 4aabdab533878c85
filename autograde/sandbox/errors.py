"""The one error of this package."""

from __future__ import annotations

__all__ = ["SandboxError"]


class SandboxError(Exception):
    """Code of others cannot be run safely here: one sentence saying why and what to do."""
