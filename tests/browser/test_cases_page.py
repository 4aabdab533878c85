"""The page on case studies with all its tables open: accessible, no wider than a phone, and reached by keyboard."""

import pytest


@pytest.mark.parametrize(("width", "theme"), [(390, "dark"), (1280, "light")])
def test_opened_tables_have_no_accessibility_fault_and_fit(book_url, visit, width, theme):
    seen = visit(f"{book_url}/cases.html", width, color_scheme=theme)
    seen.page.evaluate("document.querySelectorAll('details').forEach((fold) => { fold.open = true; })")
    assert seen.page.evaluate("document.fonts.ready.then(() => true)")
    assert seen.accessibility_faults() == []
    assert seen.page.evaluate("document.documentElement.scrollWidth") <= width
    assert seen.strangers == []


def test_wide_tables_scroll_in_their_own_box_and_slips_stack_on_a_phone(book_url, visit):
    page = visit(f"{book_url}/cases.html", 390).page
    box = page.locator("#case-saddle-height .pst-scrollable-table-container").first
    assert box.evaluate("box => box.scrollWidth > box.clientWidth && box.clientWidth <= 390")
    page.evaluate("document.querySelector('details.slips').open = true")
    cells = page.locator("details.slips[open] tbody tr").first.locator("td")
    left = {round(cells.nth(at).bounding_box()["x"]) for at in range(cells.count())}
    assert len(left) == 1, "the cells of a slip stand below one another"


def test_a_fold_opens_by_keyboard(book_url, visit):
    page = visit(f"{book_url}/cases.html").page
    fold = page.locator("details.slips").first
    fold.locator("summary").focus()
    page.keyboard.press("Enter")
    assert fold.evaluate("fold => fold.open")
