"""What feedback sends a trainee to: a page of the book by its title, and the benches to try there."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

__all__ = ["CoursePage", "course_page", "course_pages"]


@dataclass(frozen=True)
class CoursePage:
    """A page of the book.

    Parameters
    ----------
    title : str
        As its heading says, without the number of the module.
    benches : mapping of str to str
        Title of each bench on the page, by its name; empty where there is none.
    """

    title: str
    benches: Mapping[str, str] = field(default_factory=dict)


@cache
def course_pages() -> Mapping[str, CoursePage]:
    """Return the pages that the shipped cases send to, by their name.

    Examples
    --------
    >>> course_pages()["flexion-extension"].title
    'Flexion and extension'
    """
    text = Path(__file__).with_name("course.toml").read_text(encoding="utf-8")
    return {name: CoursePage(**page) for name, page in tomllib.loads(text).items()}


def course_page(name: str) -> CoursePage:
    """Find a page; one that only a private case knows gets its name as title.

    Parameters
    ----------
    name : str
        Name of the page, without ending.

    Returns
    -------
    CoursePage
        Title and benches.

    Examples
    --------
    >>> course_page("lever-tangency").benches["opposed-cranks"]
    'Two legs on opposed cranks'
    >>> course_page("tyre-pressure").title
    'Tyre pressure'
    """
    return course_pages().get(name) or CoursePage(name.replace("-", " ").capitalize())
