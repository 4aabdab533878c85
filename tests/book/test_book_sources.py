"""Sources and evidence labels: what is cited exists, what is claimed is labelled."""

import re
from pathlib import Path

import pytest
from pedalwright_book.bibstyle import author_year
from pybtex.database import parse_file

from pedalwright.nomenclature import quantities

BOOK = Path(__file__).parents[2] / "book"
CITED = re.compile(r"\{cite(?::[a-z]+)?\}`([^`]+)`")
LISTED = re.compile(r"sources:\s*\[([^\]]*)\]")
ALLOWED = {"strong", "moderate", "weak or mixed", "common practice"}


@pytest.fixture(scope="module")
def bibliography():
    return parse_file(BOOK / "references.bib").entries


def cited_in_pages() -> dict[str, set[str]]:
    found = {}
    for path in BOOK.glob("*.md"):
        text = path.read_text(encoding="utf8")
        groups = CITED.findall(text) + LISTED.findall(text)
        found[path.name] = {key.strip() for group in groups for key in group.split(",") if key.strip()}
    return found


def test_every_key_used_in_a_page_exists(bibliography):
    unknown = {page: keys - set(bibliography) for page, keys in cited_in_pages().items() if keys - set(bibliography)}
    assert unknown == {}


def test_every_key_of_the_nomenclature_exists(bibliography):
    unknown = {key for quantity in quantities().values() for key in quantity.sources} - set(bibliography)
    assert unknown == set()


def test_cited_works_stand_on_the_page_of_sources(site, bibliography):
    listed = site.text("sources.html")
    for keys in cited_in_pages().values():
        for key in keys:
            assert author_year(bibliography[key]) in listed, key


def test_citations_link_to_their_entry(site):
    links = site.pages["lever-tangency.html"].select('a[href^="sources.html#"]')
    assert len(links) >= 20
    assert all(site.pages["sources.html"].find(id=link["href"].split("#")[1]) for link in links)


def test_two_works_of_the_same_author_and_year_are_told_apart(site):
    labels = [found.get_text() for found in site.pages["sources.html"].select("div.citation > .label")]
    assert len(labels) == len(set(labels))


def test_keys_are_author_and_year(bibliography):
    assert [key for key in bibliography if not re.fullmatch(r"[a-z0-9]+(_[a-z0-9]+)*", key)] == []


def test_labels_are_those_of_the_book(site):
    found = {
        label.find_all("span")[-1].get_text()
        for page in site.pages.values()
        for label in page.select(".evidence-label")
    }
    assert found <= ALLOWED
    assert found == ALLOWED, "start.html explains all four"


def test_every_row_of_evidence_has_a_label_and_an_origin(site, toc):
    for name in [*toc["Modules"], "conventions"]:
        rows = site.pages[f"{name}.html"].select("table.evidence-table tbody tr")
        assert len(rows) >= 5
        for row in rows:
            claim, label, origin, limits = (cell.get_text(" ").strip() for cell in row.find_all("td"))
            assert claim
            assert limits
            assert origin == "the trade; no study" if "common practice" in label else "et al" in origin or "[" in origin


def test_weak_claims_are_not_sold_as_strong(site):
    """The conflicts that must stay visible (wording ours; the studies are named beside each in the page)."""
    words = site.text("lever-tangency.html")
    for needed in (
        "48.0 ± 9.7 % in cyclists, 32.0 ± 5.9 % in novices",  # Yamaguchi et al. 2022, abstract
        "index 62.4 % instead of 48.2 %",  # Korff et al. 2007, abstract
        "19.0 % instead of 20.2 %",  # Korff et al. 2007, abstract
        "efficiency fell by 9 % in cyclists and 3.3 % in others",  # Mornieux et al. 2008, abstract
        "compression changed by 1 to 3 %",  # Bini et al. 2013, Phys Ther Sport, abstract
        "14 to 15 %",  # Menard et al. 2020, abstract
        "no evidence that we could find",
    ):
        assert needed in words, needed
