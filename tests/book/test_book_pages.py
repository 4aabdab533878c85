"""The pages as files: links, pictures, origins, weight, and what a reader without a script gets."""

import re
from itertools import pairwise
from urllib.parse import unquote, urlsplit

import pytest

from pedalwright.nomenclature import quantities
from pedalwright.red_flags import MUST_NOT, RED_FLAGS

SOURCES = (
    ("script", "src"),
    ("link", "href"),
    ("img", "src"),
    ("source", "srcset"),
    ("iframe", "src"),
    ("object", "data"),
)
PAGE_LIMIT_BYTES = 2_500_000


def internal(url: str) -> bool:
    parts = urlsplit(url)
    return not parts.scheme and not parts.netloc


def test_every_page_of_the_contents_is_built(site, toc):
    for part in toc.values():
        for name in part:
            assert f"{name}.html" in site.pages


def test_links_and_anchors_lead_somewhere(site):
    lost = []
    for name, page in site.pages.items():
        for link in page.find_all("a", href=True):
            url = urlsplit(link["href"])
            if not internal(link["href"]):
                continue
            target = unquote(url.path) or name
            if not (site.folder / target).is_file():
                lost.append((name, link["href"]))
            elif url.fragment and target.endswith(".html"):
                anchor = unquote(url.fragment)
                if site.pages[target].find(id=anchor) is None:
                    lost.append((name, link["href"]))
    assert lost == []


def test_pictures_scripts_and_styles_are_there(site):
    lost = [
        (name, found[attribute])
        for name, page in site.pages.items()
        for tag, attribute in SOURCES
        for found in page.find_all(tag)
        if found.get(attribute) and internal(found[attribute])
        for path in [urlsplit(found[attribute].split()[0]).path]
        if path and not (site.folder / unquote(path)).is_file()
    ]
    assert lost == []


def test_nothing_is_loaded_from_another_origin(site):
    foreign = [
        (name, found[attribute])
        for name, page in site.pages.items()
        for tag, attribute in SOURCES
        for found in page.find_all(tag)
        if found.get(attribute) and not internal(found[attribute]) and not found[attribute].startswith("data:")
    ]
    assert foreign == []


def test_styles_and_inline_scripts_call_no_other_origin(site):
    called = re.compile(r"""(?:url\(|@import\s+|fetch\(|src\s*=\s*)["']?https?://""")
    for sheet in (site.folder / "_static").rglob("*.css"):
        assert not called.search(sheet.read_text(encoding="utf8", errors="replace")), sheet.name
    for name, page in site.pages.items():
        for script in page.find_all("script", src=False):
            assert not called.search(script.get_text()), name


def test_no_formula_engine_and_no_kernel_client(site):
    for name, page in site.pages.items():
        loaded = " ".join(script.get("src", "") for script in page.find_all("script")).lower()
        for heavy in ("mathjax", "require", "thebe", "embed-amd", "fontawesome"):
            assert heavy not in loaded, (name, heavy)


def test_formulas_are_mathml(site):
    formulas = site.pages["lever-tangency.html"].select("div.math math[display=block]")
    assert len(formulas) >= 5
    assert "\\" not in " ".join(formula.get_text() for formula in formulas)


def test_pages_are_light(site):
    for name, page in site.pages.items():
        parts = {name}
        for tag, attribute in SOURCES:
            for found in page.find_all(tag):
                if found.get(attribute) and internal(found[attribute]) and found.get("loading") != "lazy":
                    parts.add(unquote(urlsplit(found[attribute].split()[0]).path))
        fonts = sum(path.stat().st_size for path in (site.folder / "_static" / "fonts").glob("*.woff2"))
        weight = fonts + sum((site.folder / part).stat().st_size for part in parts)
        assert weight <= PAGE_LIMIT_BYTES, (name, weight)


def test_each_page_has_language_title_and_one_heading(site):
    for name, page in site.pages.items():
        assert page.html["lang"] == "en"
        assert page.title.get_text().strip()
        assert len(page.find_all("h1")) == 1, name


def test_headings_skip_no_level(site):
    for name, page in site.pages.items():
        levels = [int(found.name[1]) for found in page.find("main").find_all(re.compile(r"^h[1-6]$"))]
        assert all(after - before <= 1 for before, after in pairwise(levels)), (name, levels)


def test_every_picture_has_words(site):
    for name, page in site.pages.items():
        for picture in page.find_all("img"):
            assert picture.has_attr("alt"), (name, picture)
            if "logo__image" not in picture.get("class", []):
                assert len(picture["alt"]) > 20, (name, picture["alt"])
        for drawing in page.select("svg.drawing"):
            labels = [page.find(id=label) for label in drawing["aria-labelledby"].split()]
            assert [label.name for label in labels] == ["title", "desc"]
            assert len(labels[1].get_text()) > 80


def test_ids_are_used_once(site):
    for name, page in site.pages.items():
        ids = [found["id"] for found in page.find_all(id=True)]
        assert len(ids) == len(set(ids)), (name, {i for i in ids if ids.count(i) > 1})


@pytest.mark.parametrize("page", ["start.html", "conventions.html", "lever-tangency.html"])
def test_glossary_words_are_linked(site, page):
    words = site.pages[page].select('a[href^="glossary.html#term-"]')
    assert len(words) >= 1


def test_glossary_has_every_quantity_of_the_package(site):
    terms = {
        " ".join(term.get_text().rstrip("#").split()).removesuffix(" (quantity)")
        for term in site.pages["glossary.html"].select("dl.glossary dt")
    }
    missing = {quantity.label for quantity in quantities().values()} - terms
    assert missing == set()


def test_safety_stands_at_the_beginning(site):
    words = site.text("start.html").lower()
    for needed in (
        "a number is never a diagnosis",
        "emergency number",
        "physician",
        "physiotherapist",
        "local rules come first",
        "consent",
        "common practice",
    ):
        assert needed in words, needed


def test_every_sign_that_stops_a_fit_stands_under_its_urgency(site):
    boxes = {
        "emergency": "Emergency",
        "same day": "Same day",
        "soon": "Soon",
        "before the next hard ride": "First ask",
    }
    page = site.pages["start.html"]
    words = {
        box.find(class_="admonition-title").get_text().split(":")[0]: " ".join(box.get_text(" ").split())
        for box in page.select("div.admonition")
    }
    for flag in RED_FLAGS:
        assert flag.question in words[boxes[flag.urgency]], flag.name
        assert flag.urgency == "emergency" or flag.refer_to in words[boxes[flag.urgency]]


def test_what_a_fitter_must_not_do_is_said(site):
    """The package's list and the page's table are worded apart; each matter must be met (no source: see the page)."""
    words = site.text("start.html", "what-a-fitter-does").lower()
    assert len(MUST_NOT) == 7
    for matter in ("cause of a pain", "orthosis", "manipulate", "prevent or cure", "pain gets worse", "medicines"):
        assert matter in words, matter
    assert "never examines the skin" in site.text("start.html")
