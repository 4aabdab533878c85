"""Where case families are found."""

from __future__ import annotations

import importlib.util
import sys
from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from types import ModuleType
from typing import Any

import autograde
from autograde.cases.brief import check_brief
from autograde.cases.contract import Family, FamilyError, check_family

CASE_FILE = "case.py"


def exercises_folder() -> Path:
    """Find the folder of the families that come with the package.

    Returns
    -------
    Path
        ``exercises`` inside an installed package, or beside the package in a working copy.
    """
    package = Path(autograde.__file__).resolve().parent
    inside = package / "exercises"
    return inside if inside.is_dir() else package.parent / "exercises"


def family_folders(extra: Iterable[Path] = ()) -> dict[str, Path]:
    """Find the folders of all families, without reading them.

    Parameters
    ----------
    extra : iterable of Path
        More folders that hold families.

    Returns
    -------
    dict
        Folder by name, in alphabetical order.

    Raises
    ------
    FamilyError
        When a folder does not exist or two families have one name.
    """
    found: dict[str, Path] = {}
    for root in (exercises_folder(), *(Path(folder) for folder in extra)):
        if not root.is_dir():
            raise FamilyError(f"{root}: there is no such folder of cases; name a folder that holds case folders")
        for file in sorted(root.glob(f"*/{CASE_FILE}")):
            name = file.parent.name
            if name in found and found[name] != file.parent:
                raise FamilyError(f"{file}: {found[name]} has the same name; rename one of the folders")
            found[name] = file.parent
    return dict(sorted(found.items()))


def discover_families(extra: Iterable[Path] = ()) -> dict[str, Family]:
    """Read all families.

    Parameters
    ----------
    extra : iterable of Path
        More folders that hold families.

    Returns
    -------
    dict
        Family by name, in alphabetical order.

    Raises
    ------
    FamilyError
        When one does not keep the contract.
    """
    return {name: _load(folder) for name, folder in family_folders(extra).items()}


def load_family(name: str, extra: Iterable[Path] = ()) -> Family:
    """Read one family.

    Parameters
    ----------
    name : str
        Its name.
    extra : iterable of Path
        More folders that hold families.

    Returns
    -------
    Family
        With its folder filled in.

    Raises
    ------
    FamilyError
        When there is none of this name, or it does not keep the contract.
    """
    folders = family_folders(extra)
    if name not in folders:
        raise FamilyError(f"there is no case {name!r}; there are: {', '.join(folders) or 'none'}")
    return _load(folders[name])


def _load(folder: Path) -> Family:
    file = folder / CASE_FILE
    return _load_once(folder, file.stat().st_mtime_ns)


@lru_cache(maxsize=256)
def _load_once(folder: Path, _changed: int) -> Family:
    file = folder / CASE_FILE
    family: Any = getattr(_run(file), "FAMILY", None)
    if family is None:
        raise FamilyError(f"{file}: there is no FAMILY; end the file with FAMILY = Family(...)")
    checked = replace(check_family(family, file), folder=folder)
    check_brief(checked)
    return checked


def _run(file: Path) -> ModuleType:
    """Run a case file as a small package, so that it can import modules beside it (``from .record import …``)."""
    name = f"_pedalwright_case_{file.parent.name.replace('-', '_')}"
    spec = importlib.util.spec_from_file_location(name, file, submodule_search_locations=[str(file.parent)])
    if spec is None or spec.loader is None:
        raise FamilyError(f"{file}: it cannot be read as Python")
    _forget(name)
    module = importlib.util.module_from_spec(spec)
    sys.modules[name] = module
    try:
        spec.loader.exec_module(module)
    except Exception as problem:
        _forget(name)
        raise FamilyError(f"{file}: running it failed ({type(problem).__name__}: {problem}); correct it") from problem
    return module


def _forget(name: str) -> None:
    for loaded in [key for key in sys.modules if key == name or key.startswith(f"{name}.")]:
        del sys.modules[loaded]
