"""What the pack takes from a built page: the pages and the pack cannot say different things."""

from __future__ import annotations

import copy
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from bs4 import BeautifulSoup, Tag

from pedalwright.errors import PedalwrightError

__all__ = ["Module", "PackError", "Question", "modules_of", "slips_of"]

OUTCOMES = "-outcomes"
NOT_ON_PAPER = ".headerlink, script, style, button, .eqno"


class PackError(PedalwrightError):
    """The pack cannot be printed; the message says why and what to do."""


@dataclass(frozen=True)
class Question:
    """One question: what is asked, the options as HTML, which are right, and the reason given for each."""

    ask: str
    options: tuple[str, ...]
    right: tuple[bool, ...]
    why: tuple[str, ...]

    @property
    def answers(self) -> list[tuple[str, bool, str]]:
        """Option, whether it is right, and why."""
        return list(zip(self.options, self.right, self.why, strict=True))


@dataclass(frozen=True)
class Module:
    """The parts of one module, each a piece of HTML."""

    name: str
    title: str
    lead: str
    outcomes: str
    time: str
    predict: tuple[Question, ...]
    check: tuple[Question, ...]
    picture: str
    picture_says: str
    formulas: tuple[str, ...]
    cautions: tuple[str, ...]
    take_away: str
    notes: str


def modules_of(site: Path) -> list[Module]:
    """Read the modules of a built book.

    Parameters
    ----------
    site : Path
        Folder with the built pages.

    Returns
    -------
    list of Module
        Every page that has outcomes and notes for the instructor, in the order of the contents.

    Raises
    ------
    PackError
        If there is no built book, or a module lacks a part.
    """
    start = site / "index.html"
    if not start.is_file():
        raise PackError(f"{site} holds no built book; build it with make book and try again")
    contents = _parsed(start).select(".bd-sidebar-primary a[href], nav.bd-links a[href]")
    names = dict.fromkeys(str(link["href"]).partition("#")[0].removesuffix(".html") for link in contents)
    found = [_module(name, _parsed(site / f"{name}.html")) for name in names if (site / f"{name}.html").is_file()]
    modules = [each for each in found if each is not None]
    if not modules:
        raise PackError(f"no page in {site} has outcomes and notes for the instructor; build the book anew: make book")
    return modules


def _module(name: str, page: BeautifulSoup) -> Module | None:
    article = page.find("article")
    if not isinstance(article, Tag):
        return None
    prefix = next((str(tag["id"]).removesuffix(OUTCOMES) for tag in article.select(f"[id$={OUTCOMES}]")), None)
    if prefix is None:
        return None
    article = copy.copy(article)
    for tag in article.select(NOT_ON_PAPER):
        tag.decompose()

    def part(which: str) -> Tag:
        mark = article.find(id=f"{prefix}-{which}")
        section = mark if isinstance(mark, Tag) and mark.name == "section" else mark and mark.find_parent("section")
        if not isinstance(section, Tag):
            raise PackError(
                f"{name}.html has no part {prefix}-{which}; give the page the skeleton of the other modules"
            )
        return section

    outcomes, lesson = part("outcomes"), part("lesson")
    picture = lesson.select_one("figure.bench img")
    return Module(
        name=name,
        title=_inside(_one(article, "h1", name)),
        lead=_inside(_one(article, ".lead-in", name)),
        outcomes=_inside(_one(outcomes, "ul", name)),
        time=_inside(outcomes.find_all("p", recursive=False)[-1]),
        predict=tuple(_questions(part("predict"))),
        check=tuple(_questions(part("check"))),
        picture=str(picture["src"]) if picture else "",
        picture_says=str(picture["alt"]) if picture else "",
        formulas=tuple(str(each) for each in lesson.select("div.math math")),
        cautions=tuple(_cautions(article)),
        take_away=_inside(_one(part("take-away"), "ol", name)),
        notes=_inside(_one(part("instructor"), ".fold-body", name)),
    )


def _questions(section: Tag) -> Iterator[Question]:
    for form in section.select("form.question"):
        reasons = form.select(".reasons li")
        quoted = [each.select_one(".quoted") for each in reasons]
        options = [_after_verdict(each) for each in quoted if each]
        why = [
            " ".join(_inside(p) for p in each.find_all("p") if "quoted" not in (p.get("class") or []))
            for each in reasons
        ]
        right = tuple("right" in (each.get("class") or []) for each in reasons)
        yield Question(_inside(_one(form, "legend", "a question")), tuple(options), right, tuple(why))


def _after_verdict(quoted: Tag) -> str:
    verdict = quoted.find("b")
    if isinstance(verdict, Tag):
        verdict.extract()
    return _inside(quoted).strip()


def _cautions(article: Tag) -> Iterator[str]:
    for box in article.select("div.admonition.warning, div.admonition.caution, div.admonition.danger"):
        title = box.select_one(".admonition-title")
        if title:
            title.decompose()
        yield _inside(box)


def _one(parent: Tag, selector: str, where: str) -> Tag:
    found = parent.select_one(selector)
    if found is None:
        raise PackError(
            f"{where}: nothing like {selector!r} was found on the built page; build the book anew: make book"
        )
    return found


def _inside(tag: Tag) -> str:
    return tag.decode_contents()


def _parsed(path: Path) -> BeautifulSoup:
    return BeautifulSoup(path.read_text(encoding="utf8"), "html.parser")


def slips_of(names: Sequence[str]) -> dict[str, list[tuple[str, list[str]]]]:
    """List what the marking of each module's case studies recognises.

    Parameters
    ----------
    names : sequence of str
        Modules by the name of their page.

    Returns
    -------
    dict
        By module: title of each case family that belongs to it, with the labels of its misconceptions.
    """
    from autograde.cases import discover_families

    out: dict[str, list[tuple[str, list[str]]]] = {name: [] for name in names}
    for family in discover_families().values():
        page = family.module_page.partition("#")[0]
        if page in out:
            out[page].append((family.title, [slip.label for slip in family.misconceptions]))
    return out
