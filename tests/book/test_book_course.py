"""Feedback sends to pages and benches that the book has, under the titles it gives them."""

from autograde.cases import discover_families
from autograde.cases.course import course_pages


def test_titles_and_benches_are_those_of_the_built_book(site):
    for name, page in course_pages().items():
        built = site.pages[f"{name}.html"]
        heading = built.find("h1").find(string=True).strip()
        assert page.title == heading.rpartition(": ")[2], name
        benches = {
            each["data-bench"]: each.select_one(".bench-title").get_text() for each in built.select("figure.bench")
        }
        assert list(page.benches.items()) == list(benches.items()), name


def test_every_page_that_a_case_sends_to_is_listed():
    sent_to = {each.page for family in discover_families().values() for each in (*family.tasks, *family.misconceptions)}
    assert sent_to <= set(course_pages())
    assert len(sent_to) > 5
