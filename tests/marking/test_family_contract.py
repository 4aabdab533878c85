"""An author's folder: found, checked, and told in words what is missing."""

from pathlib import Path

import pytest

import autograde
from autograde.cases import FamilyError, FigurePart, TaskPart, TextPart, discover_families, load_family, render_brief
from autograde.cases.calling import worked_of
from autograde.cases.discover import exercises_folder, family_folders, load_folder

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
        ('uses=("side",)', 'uses=("side")', "uses is a str: put it in brackets with a comma"),
        ('competencies=("sizes",)', 'competencies=("sizes")', "competencies is a str: put it in brackets"),
        ("tasks=TASKS", "tasks=TASKS[0]", "tasks is a Task: put it in brackets with a comma"),
        ("tasks=TASKS", 'tasks=("side",)', "entry 1 of tasks is a str: give a Task"),
        ("misconceptions=SLIPS", "misconceptions=SLIPS[0]", "misconceptions is a Misconception: put it in brackets"),
        (
            'draw=lambda rng: {"side": round(float(rng.uniform(1, 9)), 1)}',
            'draw={"side": 1.0}',
            "draw is a dict: give a function",
        ),
        ('title="Box"', 'title=""', "title is '': give a text"),
        ('figures=lambda case: {"box": b"png"}', "figures=None", "figures is a NoneType: give a function"),
        ("Tolerance(0.1)", "0.1", "its tolerance is 0.1; give Tolerance"),
        ('Quantity("m", (0, 20), Tolerance(0.1), "length", "3 m")', '"m"', "its kind is a str; give a Quantity"),
        ('solve=lambda case, _: case["side"]', "solve=3.0", "solve is a float; give a function"),
        ('lambda case, _: 2 * case["side"]', "6.0", "predict is a float; give a function"),
        ('"How long is {{ name }}?"', "None", "prompt is None; give a text"),
        ('"How long is {{ name }}?"', '"How long is {{ name?"', "the question of task 'side'"),
        ("SLIPS = (Misc", "SLIPS = 2 * (Misc", "is listed twice: remove one"),
    ],
)
def test_a_wrong_contract_names_the_file_and_the_fix(tmp_path, old, new, says):
    assert old in CASE
    folder(tmp_path, CASE.replace(old, new, 1))
    with pytest.raises(FamilyError, match=says) as caught:
        load_family("box", [tmp_path])
    assert str(tmp_path / "box" / "case.py") in str(caught.value)


@pytest.mark.parametrize(
    ("case", "line", "says"),
    [
        ("x = 1\n\n1 / 0\n", 3, "ZeroDivisionError: division by zero"),
        ("x = (\n1,\n", 1, "SyntaxError"),
        ("\nraise SystemExit(0)\n", 2, "must not end the program"),
        ("\nfrom no_such_library import thing\n", 2, "install what it imports"),
        ("\nfrom .mroe import FAMILY\n", 2, "put mroe.py beside case.py"),
        ("\nimport helper\n", 2, "write `from .helper import …`, with the dot"),
        ("\nfrom .helper import missing\n", 2, "ImportError"),
        ("from autograde.cases import Family\n\nFAMILY = Family(name='box')\n", 3, "missing 8 required"),
    ],
)
def test_a_case_that_cannot_run_names_the_line(tmp_path, case, line, says):
    folder(tmp_path, case)
    (tmp_path / "box" / "helper.py").write_text("x = 1\n")
    with pytest.raises(FamilyError) as caught:
        load_family("box", [tmp_path])
    assert f"{tmp_path / 'box' / 'case.py'}, line {line}: running it failed" in str(caught.value)
    assert says in str(caught.value)


def test_trouble_in_a_module_beside_the_case_names_that_module(tmp_path):
    folder(tmp_path, "from .more import FAMILY\n")
    (tmp_path / "box" / "more.py").write_text("x = 1\ny = x.missing\n")
    with pytest.raises(FamilyError) as caught:
        load_family("box", [tmp_path])
    assert f"{tmp_path / 'box' / 'more.py'}, line 2: running it failed (AttributeError" in str(caught.value)


@pytest.mark.parametrize("name", ["case.py", "brief.md"])
def test_a_file_in_another_encoding_is_told(tmp_path, name):
    folder(tmp_path)
    file = tmp_path / "box" / name
    file.write_bytes(b'x = "Sattelh\xf6he"\n' + file.read_bytes())
    with pytest.raises(FamilyError, match=r"box/(case\.py|brief\.md).*UTF-8|running it failed \(SyntaxError.*utf-8"):
        load_family("box", [tmp_path])


def test_a_module_beside_the_case_that_changed_is_read_again(tmp_path):
    import os

    folder(tmp_path, "from .more import FAMILY\n")
    more = tmp_path / "box" / "more.py"
    more.write_text(CASE)
    assert load_family("box", [tmp_path]).title == "Box"
    more.write_text(CASE.replace('title="Box"', 'title="Chest"'))
    os.utime(more, ns=(1, 1))
    assert load_family("box", [tmp_path]).title == "Chest"


def test_a_folder_without_cases_is_told_and_what_it_may_be_instead(tmp_path):
    with pytest.raises(FamilyError, match=r"there is no case in this folder.*pedalwright case new"):
        load_family("box", [tmp_path])
    folder(tmp_path)
    with pytest.raises(FamilyError, match=f"this is a case itself; name the folder above it, {tmp_path}"):
        load_family("box", [tmp_path / "box"])
    (tmp_path / "box" / "case.py").unlink()
    with pytest.raises(FamilyError, match=r"box has a brief\.md and no case\.py"):
        load_family("box", [tmp_path])


def test_a_private_case_may_not_take_the_name_of_another(tmp_path):
    folder(tmp_path, name="saddle-height")
    with pytest.raises(FamilyError) as caught:
        discover_families([tmp_path])
    assert str(exercises_folder() / "saddle-height") in str(caught.value)
    assert str(tmp_path / "saddle-height" / "case.py") in str(caught.value)
    assert "rename one of the folders" in str(caught.value)


def test_one_folder_named_twice_is_no_clash(tmp_path, monkeypatch):
    folder(tmp_path)
    monkeypatch.chdir(tmp_path)
    assert "box" in family_folders([tmp_path, Path("."), tmp_path / "box" / ".."])


def test_one_folder_can_be_read_alone(tmp_path, monkeypatch):
    folder(tmp_path)
    monkeypatch.chdir(tmp_path)
    assert load_folder(Path("box")).folder == tmp_path / "box"
    with pytest.raises(FamilyError, match=r"there is no case\.py"):
        load_folder(tmp_path)


def test_the_summary_is_the_first_line_of_the_case(tmp_path):
    folder(tmp_path, '"""A box: how long.\n\nMore."""\n' + CASE)
    assert load_family("box", [tmp_path]).summary == "A box: how long."
    assert all(len(family.summary) > 30 for family in discover_families().values())


@pytest.mark.parametrize(
    ("brief", "says"),
    [
        (None, "brief.md is missing"),
        (BRIEF.replace('+++ {"task": "large"}', ""), "give every task one cell"),
        (BRIEF.replace('"large"', '"larger"'), "give every task one cell"),
        (BRIEF.replace('{"task": "large"}', "{task: large}"), "is not JSON"),
        (BRIEF.replace("{{ name }}", "{{ name"), "correct the placeholder"),
        (BRIEF.replace("{{ name }}", "{{ name"), r"brief\.md, line 4: "),
        (BRIEF.replace('{"task": "large"}', "{task: large}"), r"brief\.md, line 18: "),
        (BRIEF.replace('"large"', '"larger"'), r"brief\.md, line 18: the task 'larger' is not in case\.py"),
        (BRIEF.replace('"large"', '"side"'), r"brief\.md, line 14: the task 'side' is named twice"),
        (BRIEF.replace("{% endfor %}", ""), r"brief\.md, line 1\d: "),
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
        ("{{ nmae }}", r"brief\.md, line 16: .*it may use: name, rows"),
        ("{{ 1 / 0 }}", r"brief\.md, line 16: ZeroDivisionError"),
        ("![A box](figure:bxo)", r"brief\.md, line 16: .*makes \['box'\]"),
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


def test_a_placeholder_of_a_question_names_the_case_and_the_task(tmp_path):
    family = load_family("box", [folder(tmp_path, CASE.replace("{{ name }}", "{{ nmae }}"))])
    with pytest.raises(FamilyError, match=r"box/case\.py: the question of task 'side': .*'nmae' is undefined"):
        render_brief(family, {"side": 3.0})


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('{"box": b"png"}', '{"box": "png"}', "`figures` gives a str for 'box'; give the bytes of a PNG"),
        ('{"box": b"png"}', "[b'png']", "`figures` gives a list; return a dictionary"),
        ('{"box": b"png"}', 'case["missing"]', r"case\.py, line \d+: `figures` failed \(KeyError: 'missing'\)"),
        ('{"name": "the box", "rows": [1, 2]}', "None", "`context` gives a NoneType; return a dictionary"),
        ('{"name": "the box", "rows": [1, 2]}', "1 / 0", r"line \d+: `context` failed \(ZeroDivisionError"),
    ],
)
def test_functions_that_fail_or_give_something_else_are_told(tmp_path, old, new, says):
    assert old in CASE
    family = load_family("box", [folder(tmp_path, CASE.replace(old, new))])
    with pytest.raises(FamilyError, match=says) as caught:
        render_brief(family, {"side": 3.0})
    assert str(tmp_path / "box" / "case.py") in str(caught.value)


@pytest.mark.parametrize(
    ("worked", "says"),
    [
        ("lambda case: None", "`worked` gives a NoneType"),
        ('lambda case: {"sied": "x"}', "`worked` has a solution for 'sied', which is no task"),
        ('lambda case: {"side": 3}', "`worked` gives a int for 'side'; give text"),
        ("lambda case: case.side", r"line \d+: `worked` failed \(AttributeError"),
    ],
)
def test_worked_solutions_that_are_none_are_told(tmp_path, worked, says):
    case = CASE.replace('title="Box"', f'title="Box", worked={worked}')
    family = load_family("box", [folder(tmp_path, case)])
    with pytest.raises(FamilyError, match=says):
        worked_of(family, {"side": 3.0})


def test_windows_line_ends_and_a_byte_order_mark_do_no_harm(tmp_path):
    folder(tmp_path)
    plain = render_brief(load_family("box", [tmp_path]), {"side": 3.0})
    file = tmp_path / "box" / "brief.md"
    file.write_bytes(b"\xef\xbb\xbf" + BRIEF.replace("\n", "\r\n").encode())
    assert render_brief(load_family("box", [tmp_path]), {"side": 3.0}) == plain


def test_rendered_values_cannot_start_a_cell_or_a_placeholder(tmp_path):
    case = CASE.replace('"name": "the box"', '"name": "x\\n+++ {}\\n{{ 1 + 1 }}"')
    family = load_family("box", [folder(tmp_path, case)])
    assert render_brief(family, {"side": 3.0})[0] == TextPart("# Measure x\n+++ {}\n{{ 1 + 1 }}")
