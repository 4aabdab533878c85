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
from autograde.cases.calling import place_of, words_of
from autograde.cases.contract import BRIEF_FILE, CASE_FILE, Family, FamilyError, check_family


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
    own = exercises_folder()
    for root in (own, *(Path(folder) for folder in extra)):
        if not root.is_dir():
            raise FamilyError(f"{root}: there is no such folder of cases; name a folder that holds case folders")
        files = sorted(root.glob(f"*/{CASE_FILE}"))
        if not files and root != own:
            raise FamilyError(_nothing_in(root))
        for file in files:
            name = file.parent.name
            if name in found and found[name].resolve() != file.parent.resolve():
                raise FamilyError(f"{file}: {found[name]} has the same name; rename one of the folders, and its `name`")
            found.setdefault(name, file.parent)
    return dict(sorted(found.items()))


def _nothing_in(root: Path) -> str:
    if (root / CASE_FILE).is_file():
        return f"{root}: this is a case itself; name the folder above it, {root.resolve().parent}"
    without = sorted(file.parent.name for file in root.glob(f"*/{BRIEF_FILE}"))
    if without:
        return f"{root}: {without[0]} has a {BRIEF_FILE} and no {CASE_FILE}; write {CASE_FILE} beside it"
    return (
        f"{root}: there is no case in this folder; a case is a folder in it with {CASE_FILE} and {BRIEF_FILE}, and "
        "`pedalwright case new` writes one"
    )


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


def load_folder(folder: Path) -> Family:
    """Read the family in one folder, wherever it lies.

    Parameters
    ----------
    folder : Path
        Holds ``case.py`` and ``brief.md``.

    Returns
    -------
    Family
        With its folder filled in.

    Raises
    ------
    FamilyError
        When there is no family, or it does not keep the contract.
    """
    folder = Path(folder).resolve()
    if not (folder / CASE_FILE).is_file():
        raise FamilyError(f"{folder}: there is no {CASE_FILE}; name the folder of a case, or write {CASE_FILE} there")
    return _load(folder)


def _load(folder: Path) -> Family:
    files = [file for file in folder.iterdir() if file.suffix in {".py", ".md"}]
    return _load_once(folder, tuple(sorted((file.name, file.stat().st_mtime_ns) for file in files)))


@lru_cache(maxsize=256)
def _load_once(folder: Path, _changed: tuple[tuple[str, int], ...]) -> Family:
    file = folder / CASE_FILE
    module = _run(file)
    family: Any = getattr(module, "FAMILY", None)
    if family is None:
        raise FamilyError(f"{file}: there is no FAMILY; end the file with FAMILY = Family(...)")
    checked = replace(check_family(family, file), folder=folder)
    check_brief(checked)
    return replace(checked, summary=checked.summary or _first_line(module))


def _first_line(module: ModuleType) -> str:
    return (module.__doc__ or "").strip().partition("\n")[0]


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
    except (Exception, SystemExit) as problem:
        _forget(name)
        place = place_of(problem, file.parent, str(file))
        raise FamilyError(f"{place}: running it failed ({words_of(problem)}); {_mending(problem, file)}") from problem
    return module


def _mending(problem: BaseException, file: Path) -> str:
    match problem:
        case ModuleNotFoundError(name=str(missing)) if missing.startswith("_pedalwright_case_"):
            return f"put {missing.rpartition('.')[2]}.py beside {file.name}, or correct the import"
        case ModuleNotFoundError(name=str(missing)) if (file.parent / f"{missing}.py").is_file():
            return f"{missing}.py lies beside it: write `from .{missing} import …`, with the dot"
        case ModuleNotFoundError():
            return "install what it imports, or correct the import"
        case SystemExit():
            return "a case must not end the program: take that line out"
        case UnicodeDecodeError():
            return "save the file as UTF-8"
    return "correct it"


def _forget(name: str) -> None:
    for loaded in [key for key in sys.modules if key == name or key.startswith(f"{name}.")]:
        del sys.modules[loaded]
