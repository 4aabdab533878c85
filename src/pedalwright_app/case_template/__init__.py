"""The small working case that `pedalwright case new` writes."""

from __future__ import annotations

from pathlib import Path

from autograde.cases import FamilyError
from autograde.cases.contract import NAME
from autograde.cases.discover import exercises_folder

__all__ = ["FILES", "write_case"]

HERE = Path(__file__).parent
FILES = {"brief.md": "brief.md", "case.py": "case.py.txt", "pictures.py": "pictures.py.txt"}
"""File of a case, and what it is made from. The Python files end in .txt here, as they run only inside a case."""
PLACEHOLDER_NAME, PLACEHOLDER_TITLE = "name-of-the-case", "Title of the case"


def write_case(name: str, folder: Path) -> list[Path]:
    """Write a new case.

    Parameters
    ----------
    name : str
        Lower case letters, digits and single hyphens.
    folder : Path
        Where its folder is made; made itself when it is not there.

    Returns
    -------
    list of Path
        The files.

    Raises
    ------
    FamilyError
        When the name cannot be one, or is taken.
    """
    if not NAME.match(name):
        raise FamilyError(f"{name!r} cannot name a case; use lower case letters, digits and single hyphens: knee-angle")
    if (exercises_folder() / name).exists() and folder.resolve() != exercises_folder().resolve():
        raise FamilyError(f"a case that comes with the program is called {name!r} already; choose another name")
    target = folder / name
    folder.mkdir(parents=True, exist_ok=True)
    try:
        target.mkdir()
    except FileExistsError:
        raise FamilyError(f"{target} is there already, and nothing is overwritten; choose another name") from None
    written = []
    for file, source in FILES.items():
        text = (HERE / source).read_text(encoding="utf-8")
        text = text.replace(PLACEHOLDER_NAME, name).replace(PLACEHOLDER_TITLE, name.replace("-", " ").capitalize())
        (target / file).write_text(text, encoding="utf-8")
        written.append(target / file)
    return written
