"""The book's own extension: formulas, labels, questions, freshness; and a clean build without warnings."""

import subprocess
import sys
from pathlib import Path
from types import SimpleNamespace
from xml.etree import ElementTree

import pytest
import yaml
from pedalwright_book import freshness
from pedalwright_book.bibstyle import AuthorYearLabels, author_year
from pedalwright_book.evidence import EvidenceError, check_label
from pedalwright_book.mathml import FormulaError, to_mathml
from pedalwright_book.questions import QuestionError, read_question
from pedalwright_book.roles import SOURCE_ROLES
from pybtex.database import Entry, Person

ROOT = Path(__file__).parents[2]
MATH = "{http://www.w3.org/1998/Math/MathML}"


def plain(formula: str) -> str:
    return "".join(ElementTree.fromstring(formula).itertext())


def test_a_formula_becomes_well_formed_mathml():
    root = ElementTree.fromstring(to_mathml(r"\frac{2 \pi \, n}{60}", display=True))
    assert root.tag == MATH + "math"
    assert root.get("display") == "block"
    assert [child.tag for child in root.iter(MATH + "mfrac")]
    assert plain(to_mathml(r"F_t = F_x \cos\theta", display=False)) == "Ft=Fxcosθ"


def tags(formula: str) -> list[str]:
    return [child.tag.removeprefix(MATH) for child in ElementTree.fromstring(formula)[0]]


def test_function_names_stand_apart_but_operators_keep_their_own_space():
    assert tags(to_mathml(r"F\sin\theta", display=False)) == ["mi", "mspace", "mi", "mspace", "mi"]
    assert "mspace" not in tags(to_mathml(r"a+\sin(b)", display=False))


@pytest.mark.parametrize("tex", [r"\frac{1}{", r"\begin{aligned}a&=b\end{aligned}", r"\notacommand{x}"])
def test_a_formula_that_cannot_be_written_is_refused_with_its_text(tex):
    with pytest.raises(FormulaError) as refused:
        to_mathml(tex, display=True)
    assert repr(tex) in str(refused.value)


def test_an_unknown_evidence_label_names_the_allowed_ones():
    with pytest.raises(EvidenceError, match="weak or mixed"):
        check_label("proven")
    assert check_label("strong") == "strong"


def question(**changes):
    entry = {
        "id": "q",
        "group": "check",
        "objective": "LT1",
        "kind": "choice",
        "ask": "Which?",
        "options": [{"text": "this", "right": True, "why": "because"}, {"text": "that", "why": "it is not"}],
    }
    return {**entry, **changes}


def test_a_good_question_is_read():
    assert [reason.right for reason in read_question(question()).reasons] == [True, False]
    number = read_question(
        question(kind="number", answer=3, unit="N", tolerance=0.1, why="sum", slips=[{"value": 4, "why": "off by one"}])
    )
    assert [reason.value for reason in number.reasons] == [3.0, 4.0]


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"kind": "essay"}, "allowed: choice, choices, number"),
        ({"options": [{"text": "this", "why": "no"}, {"text": "that", "why": "no"}]}, "0 right answers"),
        ({"options": [{"text": t, "why": "w", "right": True} for t in "ab"]}, "2 right answers"),
        ({"options": [{"text": "this", "right": True, "why": "w"}]}, "a wrong one to explain"),
        ({"options": [{"text": "a", "right": True, "why": "w"}, {"text": "b", "why": " "}]}, "needs a reason"),
        ({"kind": "number"}, "'slips' is missing"),
    ],
)
def test_a_bad_question_is_refused_with_its_id(changes, said):
    with pytest.raises(QuestionError) as refused:
        read_question(question(**changes))
    assert "question q" in str(refused.value)
    assert said in str(refused.value)


def test_two_works_alike_get_letters():
    entries = [Entry("article", {"year": "2013"}, {"author": [Person("Bini, R.")]}) for _ in range(2)]
    for entry, key in zip(entries, "xy", strict=True):
        entry.key = key
    other = Entry("article", {"year": "2001"}, {"author": [Person("Hull, M."), Person("Jorge, M.")]})
    other.key = "z"
    assert list(AuthorYearLabels().format_labels([*entries, other])) == [
        "Bini 2013a",
        "Bini 2013b",
        "Hull and Jorge 2001",
    ]


def test_a_label_has_no_tex_marks_and_needs_no_author():
    accented = Entry("article", {"year": "2019"}, {"author": [Person(r"G{\"u}ndo{\u g}du, E.")]})
    nobody = Entry("article", {"year": "2015", "title": "In vivo moment arm of the quadriceps"})
    assert author_year(accented) == "Gündoğdu 2019"
    assert author_year(nobody) == "In vivo moment arm 2015"


def test_roles_of_the_source_list_are_taken_out():
    before = (
        '<div role="list" class="citation-list"><div class="citation" id="id1" role="doc-biblioentry">x</div></div>'
    )
    assert "role" not in SOURCE_ROLES.sub(lambda match: match[1].rstrip(), before)


def test_cached_results_are_dropped_only_when_a_package_changed(tmp_path, monkeypatch):
    package, cache = tmp_path / "package", tmp_path / ".jupyter_cache"
    for folder in (package, cache):
        folder.mkdir()
    (package / "force.py").write_text("one")
    monkeypatch.setattr(freshness, "package_folders", lambda: [package])
    app = SimpleNamespace(outdir=tmp_path / "html")
    config = SimpleNamespace(nb_execution_cache_path=str(cache))

    freshness.drop_stale_results(app, config)
    assert not cache.exists(), "nobody knows what an unstamped cache was made from"
    cache.mkdir()
    freshness.drop_stale_results(app, config)
    assert cache.exists()
    (package / "force.py").write_text("two")
    freshness.drop_stale_results(app, config)
    assert not cache.exists()


def test_every_page_is_built_again_when_an_asset_changed(tmp_path):
    book = tmp_path / "book"
    (book / "assets").mkdir(parents=True)
    (book / "assets" / "look.css").write_text("a{}")
    app = SimpleNamespace(srcdir=book, config=SimpleNamespace(html_static_path=["assets"]))
    env = SimpleNamespace(found_docs={"index", "start"})

    assert set(freshness.outdated_pages(app, env, set(), set(), set())) == {"index", "start"}
    assert freshness.outdated_pages(app, env, set(), set(), set()) == []
    (book / "assets" / "look.css").write_text("b{}")
    assert set(freshness.outdated_pages(app, env, set(), set(), set())) == {"index", "start"}


@pytest.mark.xdist_group("book")
def test_a_clean_build_has_no_warning(tmp_path):
    """With every page of the folder, those too that are not in the contents yet."""
    contents = yaml.safe_load((ROOT / "book" / "_toc.yml").read_text(encoding="utf8"))
    listed = {"index", *(chapter["file"] for part in contents["parts"] for chapter in part["chapters"])}
    waiting = sorted({path.stem for path in (ROOT / "book").glob("*.md")} - listed)
    if waiting:
        contents["parts"].append({"caption": "Waiting", "chapters": [{"file": name} for name in waiting]})
    toc = tmp_path / "toc.yml"
    toc.write_text(yaml.safe_dump(contents), encoding="utf8")
    command = [str(Path(sys.executable).with_name("jupyter-book")), "build", "book", "--all", "-W", "-n", "-q"]
    built = subprocess.run(
        [*command, "--config", "_config.yml", "--toc", str(toc), "--path-output", str(tmp_path)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert built.returncode == 0, built.stdout[-2000:] + built.stderr[-2000:]
    assert all((tmp_path / "_build" / "html" / f"{name}.html").is_file() for name in {*listed, *waiting})
