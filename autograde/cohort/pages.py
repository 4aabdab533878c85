"""What the feedback pages and the report share: templates that escape everything, and the signs of the states."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from autograde.cases.course import course_page
from autograde.cohort.drawing import interval_bar, span_number, span_share
from autograde.cohort.files import write_text
from autograde.cohort.standing import BY_PERSON, NOT_HANDED_IN, WAITING
from autograde.cohort.text import plain
from autograde.marking import State

__all__ = ["SIGNS", "Sign", "environment", "marks_text", "sprite", "write_if_changed"]


@dataclass(frozen=True)
class Sign:
    """How a state looks: always a shape and a word beside the colour.

    Parameters
    ----------
    state : str
        The state.
    short : str
        Name of its style class.
    shape : str
        SVG elements in a field of 20 by 20.
    meaning : str
        One line for the legend.
    """

    state: str
    short: str
    shape: str
    meaning: str

    def __html__(self) -> Markup:
        """Draw the sign; the word for it stands beside it or in a hidden text."""
        return Markup(
            f'<svg class="sign s-{self.short}" viewBox="0 0 20 20" aria-hidden="true" focusable="false">'
            f"{self.shape}</svg>"
        )

    @property
    def use(self) -> Markup:
        """Draw the sign by reference to `sprite`, for pages that show thousands of them."""
        return Markup(f'<svg class="sign s-{self.short}" aria-hidden="true"><use href="#sign-{self.short}"/></svg>')


_SIGNS = (
    Sign(
        State.CORRECT,
        "correct",
        '<circle cx="10" cy="10" r="8.5" class="fill"/><path d="M5.8 10.4l2.9 2.9 5.6-6.2" class="mark"/>',
        "right by the rider's own numbers",
    ),
    Sign(
        State.IN_CONSEQUENCE,
        "consequence",
        '<circle cx="10" cy="10" r="7.6" class="line"/><path d="M6 10.4l2.7 2.7 5.3-5.9" class="line"/>',
        "follows correctly from an earlier slip",
    ),
    Sign(
        State.MISCONCEPTION,
        "misconception",
        '<path d="M10 1.6L19 17.8H1z" class="fill"/><path d="M10 7.2v5M10 14.6v.6" class="mark"/>',
        "a wrong way that the marking knows by name",
    ),
    Sign(
        State.OUT_OF_TOLERANCE,
        "out",
        '<rect x="2.2" y="2.2" width="15.6" height="15.6" rx="1.5" class="line"/>'
        '<path d="M6.5 6.5l7 7m0-7l-7 7" class="line"/>',
        "wrong, and no usual slip leads there",
    ),
    Sign(
        State.NOT_GRADABLE,
        "ungradable",
        '<path d="M10 1.5l8.5 8.5-8.5 8.5L1.5 10z" class="dash"/>'
        '<path d="M7.9 8.3c0-3 4.3-2.8 4.2-.2 0 1.6-2.1 1.5-2.1 3.2M10 13.6v.5" class="thin"/>',
        "could not be read; a person looks, and it is not counted as wrong",
    ),
    Sign(
        WAITING,
        "waiting",
        '<path d="M2.5 4.5h15v9.5h-8l-4 3.5v-3.5h-3z" class="line"/>',
        "a text that a person reads",
    ),
    Sign(
        BY_PERSON,
        "person",
        '<path d="M2.5 4.5h15v9.5h-8l-4 3.5v-3.5h-3z" class="fill"/><path d="M6.4 9.2l2.5 2.4 4.8-4.6" class="mark"/>',
        "marks given by a person",
    ),
    Sign(NOT_HANDED_IN, "absent", '<path d="M6 10h8" class="line"/>', "nothing collected yet"),
)
SIGNS = {sign.state: sign for sign in _SIGNS}


def sprite() -> Markup:
    """Draw all signs once, unseen, so that `Sign.use` can refer to them.

    Returns
    -------
    Markup
        One SVG, to stand once in a page.
    """
    symbols = "".join(
        f'<symbol id="sign-{sign.short}" viewBox="0 0 20 20" overflow="visible">{sign.shape}</symbol>'
        for sign in _SIGNS
    )
    return Markup(f'<svg class="sign sprite" width="0" height="0" aria-hidden="true" focusable="false">{symbols}</svg>')


@lru_cache(maxsize=1)
def environment() -> Environment:
    """Make the template environment: everything is escaped, and a missing value is an error.

    Returns
    -------
    Environment
        Templates of this package.
    """
    folder = Path(__file__).with_name("templates")
    env = Environment(
        loader=FileSystemLoader(folder),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    env.filters["plain"] = plain
    env.filters["marks"] = marks_text
    env.filters["capitalize_first"] = lambda text: text[:1].upper() + text[1:]
    env.globals["signs"] = SIGNS
    env.globals["course_page"] = course_page
    env.filters["pct"] = lambda share: "–" if share is None else f"{100 * share:.0f}"
    env.filters["span"] = span_number
    env.filters["span_pct"] = span_share
    env.globals["interval"] = interval_bar
    env.globals["sprite"] = sprite()
    env.globals["report_style"] = Markup((folder / "report.css").read_text(encoding="utf-8"))
    env.globals["stylesheet"] = Markup((folder / "desk.css").read_text(encoding="utf-8"))
    return env


def marks_text(marks: float | None) -> str:
    """Write marks without needless digits.

    Parameters
    ----------
    marks : float or None
        Marks; None where a person has yet to decide.

    Returns
    -------
    str
        The number, or a dash.

    Examples
    --------
    >>> marks_text(2.50), marks_text(None)
    ('2.5', '–')
    """
    return "–" if marks is None else f"{round(marks, 2):g}"


def write_if_changed(path: Path, text: str) -> bool:
    """Write a page unless the file holds just that already.

    Parameters
    ----------
    path : Path
        The page.
    text : str
        Its content.

    Returns
    -------
    bool
        Whether it was written.
    """
    if path.exists() and path.read_bytes() == text.encode("utf-8", "replace"):
        return False
    write_text(path, text, derived=True)
    return True
