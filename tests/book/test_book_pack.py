"""The workshop pack on paper: one page a hand-out, no answers on it; everything an instructor needs in the plan."""

import html
import re

import pypdfium2
import pytest
from click.testing import CliRunner

from autograde.cases import discover_families
from pedalwright_app.main import main
from pedalwright_app.pack.modules import modules_of

pytestmark = pytest.mark.browser
MODULES = ["contraction", "flexion-extension", "lever-tangency", "foot-support", "pelvic-support", "whole-case"]
A4_PT = (595, 842)
MARGIN_PT = 12 / 25.4 * 72


@pytest.fixture(scope="module")
def printed(site, tmp_path_factory):
    folder = tmp_path_factory.mktemp("pack")
    done = CliRunner().invoke(main, ["pack", str(folder), "--book", str(site.folder)], catch_exceptions=False)
    assert done.exit_code == 0
    return {path.stem: pypdfium2.PdfDocument(path) for path in sorted(folder.glob("*.pdf"))}


@pytest.fixture(scope="module")
def modules(site):
    return {module.name: module for module in modules_of(site.folder)}


def words(text):
    """Letters and digits of HTML or of a PDF, run together: line breaks and hyphens differ between the two."""
    return re.sub(r"[\W_]+", "", html.unescape(re.sub(r"<[^>]+>", "", text)))


def on_paper(document):
    return words("".join(page.get_textpage().get_text_range() for page in document))


def foot_pt(page):
    """Height of the last line of a hand-out above the lower edge of the paper, in points."""
    text = page.get_textpage()
    first, _ = text.search("local rules come first").get_next()
    return text.get_charbox(first)[1]


def items(fragment):
    return [words(each) for each in re.findall(r"<li>(.*?)</li>", fragment, re.DOTALL)]


def test_every_module_has_a_hand_out_and_a_plan(printed):
    assert sorted(printed) == sorted(f"{name}-{kind}" for name in MODULES for kind in ("hand-out", "plan"))


@pytest.mark.parametrize("name", MODULES)
def test_a_hand_out_is_one_page_with_all_its_parts(printed, modules, name):
    document, module = printed[f"{name}-hand-out"], modules[name]
    assert len(document) == 1
    assert document[0].get_size() == pytest.approx(A4_PT, abs=1)
    text = on_paper(document)
    parts = [*items(module.outcomes), *items(module.take_away), *map(words, module.cautions)]
    parts += [words(each) for question in module.predict for each in (question.ask, *question.options)]
    assert len(parts) > 20
    assert [part for part in parts if part not in text] == []
    assert MARGIN_PT < foot_pt(document[0]) < 3 * MARGIN_PT, "the sheet is too full: its foot has left the page"


@pytest.mark.parametrize("name", MODULES)
def test_a_hand_out_holds_no_reasons(printed, modules, name):
    text = on_paper(printed[f"{name}-hand-out"])
    take_away = words(modules[name].take_away)
    reasons = [words(why) for question in modules[name].predict + modules[name].check for why in question.why]
    assert len(reasons) > 15
    assert [why for why in reasons if why in text and why not in take_away] == []


@pytest.mark.parametrize("name", MODULES)
def test_a_plan_holds_timing_prompts_kit_answers_and_slips(printed, modules, name):
    text, module = on_paper(printed[f"{name}-plan"]), modules[name]
    for heading in ("Timing", "Predict – discuss – test", "What trainees get wrong", "Kit", "Safety"):
        assert words(heading) in text, heading
    reasons = [words(why) for question in module.predict + module.check for why in question.why]
    assert [why for why in reasons if why not in text] == []
    slips = [
        slip.label
        for family in discover_families().values()
        if family.module_page.partition("#")[0] == name
        for slip in family.misconceptions
    ]
    assert slips
    assert [label for label in slips if words(label) not in text] == []


def test_only_the_module_asked_for_is_printed(site, tmp_path):
    done = CliRunner().invoke(main, ["pack", str(tmp_path), "--book", str(site.folder), "--module", "foot-support"])
    assert done.exit_code == 0
    assert sorted(path.name for path in tmp_path.iterdir()) == ["foot-support-hand-out.pdf", "foot-support-plan.pdf"]


@pytest.mark.parametrize(
    ("arguments", "chromium", "told"),
    [
        (["--module", "foot"], None, "no module is called 'foot'; there are contraction"),
        (["--book", "nowhere"], None, "nowhere holds no built book; build it with make book"),
        ([], "no-such-browser", "looked for no-such-browser"),
    ],
)
def test_what_cannot_be_printed_is_said_in_one_line(site, tmp_path, monkeypatch, arguments, chromium, told):
    if chromium:
        monkeypatch.setenv("PEDALWRIGHT_CHROMIUM", chromium)
    done = CliRunner().invoke(main, ["pack", str(tmp_path), "--book", str(site.folder), *arguments])
    assert done.exit_code == 1
    assert told in done.stderr
    assert "Traceback" not in done.output
    assert list(tmp_path.iterdir()) == []
