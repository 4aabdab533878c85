"""A first blueprint and an empty form for the raters, written when a cohort is made."""

from __future__ import annotations

import csv
import hashlib
import io
import json
import re
import unicodedata
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from functools import cache
from shlex import quote

from autograde.award.blueprint import Blueprint, read_blueprint
from autograde.award.errors import AwardError
from autograde.cases import Family
from autograde.cohort.families import load_case
from autograde.cohort.files import write_text
from autograde.cohort.folder import Cohort
from autograde.desk.places import Places, read_words

__all__ = ["competency_id", "default_blueprint", "open_blueprint", "ratings_form", "write_first_plan"]

MOST_COMPETENCIES = 8
"""With more, tasks count under the module they belong to, so that the certificate fits on a page."""
ENOUGH_MARKS = 4
"""Marks from which half of them are proposed as the minimum of a competency."""
MINIMUM_PCT, MINIMUM_OF_FEW_PCT = 50, 25
UNTOUCHED = "# Written by the program and not changed since: "
HEAD = """\
# The blueprint: what is assessed, with how many marks, and what nobody may fail. A first proposal; make it yours
# before anybody is decided about, and change the version with every change.
# The marks of a case must be those of its tasks. A task counts under the competency that its case names for it, if it
# stands here; the other tasks of a case count under the one competency here that none of its tasks is named for.
"""


@cache
def competency_id(name: str) -> str:
    """Make the short name that a blueprint uses for a competency.

    Parameters
    ----------
    name : str
        As the case names it.

    Returns
    -------
    str
        Lower-case letters, digits and hyphens.

    Examples
    --------
    >>> competency_id("Work and power")
    'work-and-power'
    """
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-") or "c" + hashlib.sha256(name.encode()).hexdigest()[:8]


def default_blueprint(families: Sequence[Family]) -> str:
    """Propose a blueprint for some cases.

    Parameters
    ----------
    families : sequence of Family
        The cases that are handed out.

    Returns
    -------
    str
        TOML that `read_blueprint` reads and that fits the cases' tasks. Its last line tells whether it was changed.
    """
    names, marks = _competencies(families)
    title = f"Bicycle fitting: {families[0].title}" if len(families) == 1 else "Bicycle fitting: case studies"
    text = "\n".join(
        [
            HEAD + f"title = {_quoted(title)}",
            'version = "1"',
            'description = "Works cases of invented riders with measurements of their own, and decides with reasons."',
            "# How often a trainee may try, and how long after a decision an appeal is taken.",
            "attempts = 2",
            "appeal_days = 28",
            "# How long an award holds; take the line away for no end.",
            "valid_years = 3",
            "# For the certificate, in plain words.",
            f"assessed = [\n  {_quoted(_assessed(families))},\n]",
            "not_assessed = [",
            '  "Work on a real rider: touch, measuring, conversation",',
            '  "Setting up tools and parts on a real bicycle",',
            "]",
            "",
            "# The least share of its marks, in percent, that each competency needs. Proposed, without a source: half",
            f"# where a competency has {ENOUGH_MARKS} marks or more. On fewer a single slip decides, so a quarter;",
            "# but nobody passes with nothing in a competency.",
            *_minimums(names, marks),
            *(_case(family, marks[family.name]) for family in families),
            "",
            "# Safety gates: below this share of the task's marks there is no award, whatever else was earned.",
            *_gates(families),
        ]
    )
    return f"{text}\n\n{UNTOUCHED}{_seal(text)}\n"


def ratings_form(families: Sequence[Family]) -> str:
    """Write an empty form for one rater and round.

    Parameters
    ----------
    families : sequence of Family
        The cases.

    Returns
    -------
    str
        CSV with the columns that `read_ratings` reads.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["round", "rater", "case", "task", "share_pct"])
    writer.writerows([1, "", family.name, task.id, ""] for family in families for task in family.tasks)
    return out.getvalue()


def write_first_plan(cohort: Cohort) -> bool:
    """Write blueprint and form if they are missing, or bring them up to the cohort's cases if nobody changed them.

    Parameters
    ----------
    cohort : Cohort
        The cohort.

    Returns
    -------
    bool
        False if there is a blueprint that somebody made their own: it is left alone.
    """
    places = Places.of(cohort)
    families = [load_case(case, cohort.settings.case_folders) for case in cohort.settings.cases]
    for path, text in (
        (places.ratings_form, ratings_form(families)),
        (places.blueprint, default_blueprint(families)),
    ):
        if path.exists() and path == places.blueprint and not _untouched(read_words(path)):
            return False
        if not path.exists() or read_words(path) != text:
            write_text(path, text)
    return True


def open_blueprint(cohort: Cohort) -> tuple[Blueprint, str]:
    """Read the cohort's blueprint.

    Parameters
    ----------
    cohort : Cohort
        The cohort.

    Returns
    -------
    Blueprint, str
        The plan and its text.

    Raises
    ------
    AwardError
        If it is missing or cannot be read as one.
    """
    path = Places.of(cohort).blueprint
    if not path.exists():
        raise AwardError(
            f"there is no {path}; a first one is written by: pedalwright cohort make {quote(str(cohort.root))} "
            f"--roster {quote(str(cohort.root / 'roster.csv'))}"
        )
    text = read_words(path)
    return read_blueprint(text), text


def _competencies(families: Sequence[Family]) -> tuple[dict[str, str], Mapping[str, Mapping[str, float]]]:
    """Give the competencies by their short names, and the marks of each case in them."""
    named = {competency_id(task.competency): task.competency for family in families for task in family.tasks}
    shared = _shared(families)
    if len(named) > MOST_COMPETENCIES:
        pages = {competency_id(family.module_page): family.module_page for family in families}
        modules = {key: page.replace("-", " ").capitalize() for key, page in pages.items()}
        named = modules | {key: name for key, name in named.items() if key in shared}
    marks: dict[str, dict[str, float]] = defaultdict(lambda: defaultdict(float))
    for family in families:
        for task in family.tasks:
            own = competency_id(task.competency)
            marks[family.name][own if own in named else competency_id(family.module_page)] += task.marks
    used = {key for case in marks.values() for key in case}
    return {key: name for key, name in named.items() if key in used}, marks


def _shared(families: Sequence[Family]) -> set[str]:
    """Competencies that several cases name, and at least half of them, such as judgement and safety."""
    counts = Counter(key for family in families for key in {competency_id(task.competency) for task in family.tasks})
    return {key for key, count in counts.items() if count > 1 and 2 * count >= len(families)}


def _minimums(names: Mapping[str, str], marks: Mapping[str, Mapping[str, float]]) -> list[str]:
    weight = {key: sum(case.get(key, 0.0) for case in marks.values()) for key in names}
    return [
        f"\n[competencies.{key}]\nname = {_quoted(name)}\nminimum_pct = {_minimum_pct(weight[key])}"
        for key, name in names.items()
    ]


def _minimum_pct(marks: float) -> int:
    return MINIMUM_PCT if marks >= ENOUGH_MARKS else MINIMUM_OF_FEW_PCT


def _assessed(families: Sequence[Family]) -> str:
    count = "One case study" if len(families) == 1 else f"{len(families)} case studies"
    named = f": {', '.join(family.title for family in families)}" if len(families) <= 6 else ""
    return f"{count} with measurements of an invented rider, worked alone{named}"


def _case(family: Family, marks: Mapping[str, float]) -> str:
    shares = ", ".join(f"{key} = {value:g}" for key, value in marks.items())
    return f"\n[cases.{family.name}]\nname = {_quoted(family.title)}\nmarks = {{{shares}}}"


def _gates(families: Sequence[Family]) -> list[str]:
    found = [
        f"[[gates]]\ncase = {_quoted(family.name)}\ntask = {_quoted(task.id)}\nminimum_pct = 100\n"
        f"why = {_quoted(f'{task.title}: a wrong answer could hurt a rider.')}\n"
        for family in families
        for task in family.tasks
        if task.safety
    ]
    return found or ["# No task of these cases is marked as safety-critical."]


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "")


def _seal(text: str) -> str:
    return hashlib.sha256(text.strip().encode()).hexdigest()[:16]


def _untouched(text: str) -> bool:
    body, _, seal = text.rpartition(UNTOUCHED)
    return bool(body) and seal.strip() == _seal(body)
