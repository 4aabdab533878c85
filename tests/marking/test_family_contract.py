"""An author's folder: found, checked, and told in words what is missing."""

from pathlib import Path

import pytest

import autograde
from autograde.cases import FamilyError, FigurePart, TaskPart, TextPart, discover_families, load_family, render_brief
from autograde.cases.discover import exercises_folder

CASE = """
from autograde.cases import Choice, Family, Misconception, Option, Quantity, Task, Tolerance

TASKS = (
    Task("side", "How long is {{ name }}?", Quantity("m", (0, 20), Tolerance(0.1), "length", "3 m"), 2, "sizes", "page",
         solve=lambda case, _: case["side"]),
    Task("large", "Large?", Choice((Option("yes", "Large"), Option("no", "Small"))), 1, "sizes", "page",
         solve=lambda case, earlier: "yes" if earlier["side"] > 5 else "no", uses=("side",)),
)
SLIPS = (Misconception("double", "side", "doubled it", lambda case, _: 2 * case["side"], "You doubled it.", "page"),)
FAMILY = Family(
    name="box", title="Box", module_page="page", competencies=("sizes",),
    draw=lambda rng: {"side": round(float(rng.uniform(1, 9)), 1)},
    tasks=TASKS, misconceptions=SLIPS,
    figures=lambda case: {"box": b"png"},
    context=lambda case: {"name": "the box", "rows": [1, 2]},
)
"""
BRIEF = """---
kernelspec: {name: python3}
---
# Measure {{ name }}

+++

![A box](figure:box)

{% for row in rows %}
- row {{ row }}
{% endfor %}

+++ {"task": "side"}

Use a tape.

+++ {"task": "large"}
"""


def folder(root: Path, case: str = CASE, brief: str | None = BRIEF, name: str = "box") -> Path:
    (root / name).mkdir(parents=True)
    (root / name / "case.py").write_text(case)
    if brief is not None:
        (root / name / "brief.md").write_text(brief)
    return root


def test_families_beside_the_package_are_found():
    assert exercises_folder() == Path(autograde.__file__).resolve().parents[1] / "exercises"
    families = discover_families()
    assert "pedal-force-record" in families
    assert all(name == family.name == family.folder.name for name, family in families.items())


def test_families_inside_an_installed_package_are_found(tmp_path, monkeypatch):
    package = tmp_path / "autograde"
    folder(package / "exercises")
    monkeypatch.setattr(autograde, "__file__", str(package / "__init__.py"))
    assert list(discover_families()) == ["box"]


def test_families_of_other_folders_are_added(tmp_path):
    family = load_family("box", [folder(tmp_path)])
    assert family.folder == tmp_path / "box"
    assert {"box", "pedal-force-record"} <= set(discover_families([tmp_path]))


def test_a_case_may_import_modules_beside_it(tmp_path):
    folder(tmp_path, "from .more import FAMILY\n")
    (tmp_path / "box" / "more.py").write_text(CASE)
    assert load_family("box", [tmp_path]).title == "Box"


def test_a_changed_case_is_read_again(tmp_path):
    import os

    folder(tmp_path)
    assert load_family("box", [tmp_path]).title == "Box"
    file = tmp_path / "box" / "case.py"
    file.write_text(CASE.replace('title="Box"', 'title="Chest"'))
    os.utime(file, ns=(1, 1))
    assert load_family("box", [tmp_path]).title == "Chest"


def test_an_unknown_name_lists_those_there_are(tmp_path):
    with pytest.raises(FamilyError, match=r"there is no case 'bxo'; there are: .*box, "):
        load_family("bxo", [folder(tmp_path)])


def test_a_missing_folder_and_a_double_name_are_told(tmp_path):
    with pytest.raises(FamilyError, match="no such folder"):
        load_family("box", [tmp_path / "nowhere"])
    folder(tmp_path / "one")
    folder(tmp_path / "two")
    with pytest.raises(FamilyError, match="same name"):
        load_family("box", [tmp_path / "one", tmp_path / "two"])


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("FAMILY = Family(", "FAMILY_ = Family(", "end the file with FAMILY"),
        (CASE, "FAMILY = 3", "make it an autograde.cases.Family"),
        (CASE, "1 / 0", "running it failed .ZeroDivisionError"),
        (CASE, "def broken(:", "running it failed .SyntaxError"),
        ('name="box"', 'name="crate"', "differs from its folder"),
        ('name="box"', 'name="Box 1"', "lower case"),
        ('Task("large"', 'Task("side"', "listed twice"),
        ('uses=("side",)', 'uses=("later",)', "only earlier tasks"),
        ('competencies=("sizes",)', 'competencies=("other",)', "not listed in `competencies`"),
        ('Quantity("m"', 'Quantity("furlong"', "not a unit on the list"),
        ('"3 m"', '"30 m"', "not a plausible answer"),
        ('"double", "side"', '"double", "sied"', "no such task"),
        ('"double", "side"', '"Double it", "side"', "lower case"),
        ('"You doubled it."', '""', "write its label and its feedback"),
        ('2, "sizes"', '0, "sizes"', "marks; give a number greater than 0"),
        ("Tolerance(0.1)", "Tolerance(0)", "accepts no rounding"),
        ("(0, 20)", "(20, 0)", "lower first"),
        ('Option("no", "Small")', 'Option("yes", "Small")', "each once"),
    ],
)
def test_a_wrong_contract_names_the_file_and_the_fix(tmp_path, old, new, says):
    assert old in CASE
    folder(tmp_path, CASE.replace(old, new, 1))
    with pytest.raises(FamilyError, match=says) as caught:
        load_family("box", [tmp_path])
    assert str(tmp_path / "box" / "case.py") in str(caught.value)


@pytest.mark.parametrize(
    ("brief", "says"),
    [
        (None, "brief.md is missing"),
        (BRIEF.replace('+++ {"task": "large"}', ""), "give every task one cell"),
        (BRIEF.replace('"large"', '"larger"'), "give every task one cell"),
        (BRIEF.replace('{"task": "large"}', "{task: large}"), "is not JSON"),
        (BRIEF.replace("{{ name }}", "{{ name"), "correct the placeholder"),
    ],
)
def test_a_wrong_brief_names_the_file_and_the_fix(tmp_path, brief, says):
    folder(tmp_path, brief=brief)
    with pytest.raises(FamilyError, match=says) as caught:
        load_family("box", [tmp_path])
    assert "box" in str(caught.value)


def test_brief_is_rendered_into_parts_in_order(tmp_path):
    family = load_family("box", [folder(tmp_path)])
    parts = render_brief(family, {"side": 3.0})
    assert parts[:3] == [
        TextPart("# Measure the box"),
        FigurePart("box", b"png", "A box"),
        TextPart("- row 1\n- row 2"),
    ]
    assert [part.task_id for part in parts if isinstance(part, TaskPart)] == ["side", "large"]
    assert parts[3] == TextPart("Use a tape.")
    assert parts[4].markdown == (
        "### Task 1: Side (2 marks)\n\nHow long is the box?\n\n*Counts as right within 0.1 m.*"
    )
    assert parts[5].markdown == "### Task 2: Large (1 mark)\n\nLarge?\n\n- **A**: Large\n- **B**: Small"


@pytest.mark.parametrize(
    ("placeholder", "says"),
    [
        ("{{ nmae }}", "'nmae' is undefined"),
        ("{{ ''.__class__.__mro__ }}", "unsafe"),
        ("{{ rows.append(3) }}", "unsafe"),
        ("![A box](figure:bxo)", "'bxo' is not made by case.py"),
    ],
)
def test_placeholders_without_a_value_and_unsafe_ones_are_refused(tmp_path, placeholder, says):
    family = load_family("box", [folder(tmp_path, brief=BRIEF.replace("Use a tape.", placeholder))])
    with pytest.raises(FamilyError, match=says) as caught:
        render_brief(family, {"side": 3.0})
    assert "brief.md" in str(caught.value)


def test_rendered_values_cannot_start_a_cell_or_a_placeholder(tmp_path):
    case = CASE.replace('"name": "the box"', '"name": "x\\n+++ {}\\n{{ 1 + 1 }}"')
    family = load_family("box", [folder(tmp_path, case)])
    assert render_brief(family, {"side": 3.0})[0] == TextPart("# Measure x\n+++ {}\n{{ 1 + 1 }}")
