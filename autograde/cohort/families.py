"""The case families of a cohort, loaded once a process."""

from __future__ import annotations

import hashlib
from functools import lru_cache
from pathlib import Path

from autograde.cases import Family, FamilyError, discover_families, load_family
from autograde.cohort.errors import CohortError

__all__ = ["known_families", "load_case", "stamp"]


@lru_cache(maxsize=64)
def load_case(name: str, folders: tuple[str, ...] = ()) -> Family:
    """Load one case family.

    Parameters
    ----------
    name : str
        Name of the family.
    folders : tuple of str
        Folders with families of the instructor's own.

    Returns
    -------
    Family
        The family.

    Raises
    ------
    CohortError
        If there is none of this name, or it cannot be loaded.
    """
    try:
        return load_family(name, [Path(folder) for folder in folders])
    except FamilyError as trouble:
        raise CohortError(str(trouble)) from trouble


def known_families(folders: tuple[str, ...] = ()) -> dict[str, Family]:
    """Find all families that can be handed out.

    Parameters
    ----------
    folders : tuple of str
        Folders with families of the instructor's own.

    Returns
    -------
    dict
        Family by name.

    Raises
    ------
    CohortError
        If one of them cannot be loaded.
    """
    try:
        return discover_families([Path(folder) for folder in folders])
    except FamilyError as trouble:
        raise CohortError(str(trouble)) from trouble


@lru_cache(maxsize=64)
def stamp(name: str, folders: tuple[str, ...] = ()) -> str:
    """Fingerprint of a family's own files, to tell whether a sheet was marked with another edition.

    Parameters
    ----------
    name : str
        Name of the family.
    folders : tuple of str
        Folders with families of the instructor's own.

    Returns
    -------
    str
        16 hexadecimal digits.
    """
    digest = hashlib.sha256()
    family = load_case(name, folders)
    if family.folder is not None:
        for path in sorted(family.folder.iterdir()):
            if path.suffix in (".py", ".md", ".toml", ".csv"):
                digest.update(path.name.encode() + b"\0" + path.read_bytes() + b"\0")
    return digest.hexdigest()[:16]
