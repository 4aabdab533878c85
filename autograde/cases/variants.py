"""One variant for each trainee and attempt."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from autograde.cases.contract import Family


class VariantError(ValueError):
    """No usable variant was found, or the inputs cannot make one."""


@dataclass(frozen=True)
class Variant:
    """One drawn case and how many draws it took."""

    family: Family
    case: Any
    tries: int
    fingerprint: str


def read_secret(cohort_folder: Path) -> bytes:
    """Read the cohort's secret from ``secret.key`` (hexadecimal text)."""
    raise NotImplementedError


def variant_rng(secret: bytes, trainee: str, family: str, attempt: int = 1) -> np.random.Generator:
    """Random generator of one trainee's attempt."""
    raise NotImplementedError


def draw_variant(family: Family, rng: np.random.Generator, max_tries: int = 400) -> Variant:
    """Draw until a case is solvable, unambiguous and diagnosable."""
    raise NotImplementedError


def trainee_variant(family: Family, secret: bytes, trainee: str, attempt: int = 1) -> Variant:
    """Draw the variant of one trainee's attempt."""
    raise NotImplementedError


def practice_variant(family: Family, number: int = 1) -> Variant:
    """Draw a public variant for practice, the same for everybody."""
    raise NotImplementedError
