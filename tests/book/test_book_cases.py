"""The page of case studies says what the families say, and the numbers of the sweep's data file."""

import json
import re
import shlex
from pathlib import Path

import click
import pytest
from pedalwright_book import sweep
from pedalwright_book.cases import band_in_words, kind_in_words

from autograde.cases import (
    Choice,
    ChoiceSet,
    Criterion,
    DirectedChange,
    Option,
    Ordering,
    Quantity,
    Task,
    Tolerance,
    Words,
    discover_families,
)
from pedalwright_app.main import main

ROOT = Path(__file__).parents[2]
PAGE = "cases.html"
FAMILIES = discover_families()
OPTIONS = (Option("one", "One"), Option("two", "Two"), Option("three", "Three"))


def words(node) -> str:
    """Visible words, with the straight quotes that the page sets curved."""
    return plain(node.get_text(" "))


def plain(text: str) -> str:
    return " ".join(text.split()).replace("’", "'").replace("‘", "'").replace("“", '"').replace("”", '"')


@pytest.mark.parametrize("name", FAMILIES)
def test_each_family_stands_there_with_all_its_tasks(site, name):
    family, section = FAMILIES[name], site.pages[PAGE].find(id=f"case-{name}")
    assert section is not None
    assert plain(family.summary) in words(section)
    rows = [[words(cell) for cell in row.find_all("td")] for row in section.select("table tbody tr")]
    assert [(row[1], float(row[3]), row[4]) for row in rows] == [
        (plain(task.title), task.marks, task.competency) for task in family.tasks
    ]
    assert section.find("a", href=lambda link: link and link.startswith(family.module_page))


@pytest.mark.parametrize("name", FAMILIES)
def test_every_slip_is_listed_with_the_words_the_trainee_reads(site, name):
    family = FAMILIES[name]
    folds = site.pages[PAGE].select("details.slips")
    (fold,) = [fold for fold in folds if words(fold.summary).startswith(f"{family.title}: ")]
    rows = [[words(cell) for cell in row.find_all("td")] for row in fold.select("tbody tr")]
    assert len(rows) == len(family.misconceptions)
    for row, slip in zip(rows, family.misconceptions, strict=True):
        assert row[0].casefold() == plain(slip.label).casefold()
        assert row[1:3] == [plain(family.task(slip.task).title), plain(slip.feedback)]
    pages = [row.find("a")["href"].partition(".html")[0] for row in fold.select("tbody tr")]
    assert pages == [slip.page for slip in family.misconceptions]


def test_the_numbers_of_the_sweep_are_those_of_its_data_file(site):
    file = ROOT / "benchmarks" / "marking_sweep.json"
    assert file.is_file(), "python benchmarks/marking_sweep.py writes it"
    found = json.loads(file.read_text(encoding="utf8"))["families"]
    table = site.pages[PAGE].select_one("#cases-sweep table, #how-hard-the-cases-are table")
    rows = {words(row.td): [words(cell) for cell in row.find_all("td")] for row in table.select("tbody tr")}
    for name, entry in found.items():
        row = rows[FAMILIES[name].title]
        assert row[1].replace(" ", "") == str(entry["variants"])
        assert row[4] == str(entry["tries_max"])
    assert set(found) == set(FAMILIES), "every family is swept"


def test_a_task_of_the_sweep_is_one_line():
    family = FAMILIES["saddle-height"]
    numbers = {
        "unit": "deg", "p05": 15.3, "median": 30.04, "p95": 46, "most": None, "most_pct": None,
        "gap_min": 1.5, "gap_p05": 2.0, "gap_median": 4.5, "nearest": "from-standing",
    }  # fmt: skip
    assert sweep.task_row(family, family.task("flexion"), numbers) == (
        "Knee flexion at the bottom",
        "15.3 to 46 deg",
        "30",
        "1.50",
        "2.00",
        "4.50",
        "counted from the standing knee",
    )
    wording = {**dict.fromkeys(numbers), "most": "open", "most_pct": 41.2, "nearest": "face-value"}
    assert sweep.task_row(family, family.task("window"), wording) == (
        "Inside the window?", "the same in 41 %", "", "", "", "", "took the number as exact",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("kind", "answer", "band"),
    [
        (Quantity("mm", (0, 9), Tolerance(1, because="so")), "number in mm", "within 1 mm: so"),
        (Quantity("", (0, 9), Tolerance(relative=0.02)), "number", "within 2 %"),
        (DirectedChange("mm", (0, 9), Tolerance(1)), "direction and number in mm", "within 1 mm"),
        (Choice(OPTIONS), "one of 3", "the right one"),
        (ChoiceSet(OPTIONS), "any of 3", "the right one"),
        (Ordering(OPTIONS), "order of 3", "the right one"),
        (Words((Criterion("a", 1),)), "a few sentences, read by a person", "by a rubric of 1 lines"),
    ],
)
def test_kinds_and_bands_are_said_in_words(kind, answer, band):
    task = Task("x", "?", kind, 1, "c", "p", None if isinstance(kind, Words) else lambda case, _: 1)
    assert (kind_in_words(task), band_in_words(task)) == (answer, band)


def commands() -> list[str]:
    blocks = re.findall(r"^```text\n(.*?)^```", (ROOT / "book" / "cases.md").read_text(encoding="utf8"), re.M | re.S)
    return [line for block in blocks for line in re.sub(r"\\\n\s*", "", block).splitlines()]


@pytest.mark.parametrize("line", commands())
def test_the_command_is_understood_as_written(line, tmp_path, monkeypatch):
    """Parsed by the command itself, not run; files and folders it names are made first."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "my-cases").mkdir()
    (tmp_path / "roster.csv").touch()
    command, context, typed = main, click.Context(main), shlex.split(line)[1:]
    while isinstance(command, click.Group):
        command = command.get_command(context, typed.pop(0))
        assert command is not None, line
    command.make_context(command.name, typed)


def test_no_answer_stands_on_the_page(site):
    """The page says that it holds none: no rubric, and no word on which option is right, however often it is."""
    said = words(site.pages[PAGE].find("article"))
    for family in FAMILIES.values():
        for task in family.tasks:
            if isinstance(task.kind, Words):
                assert all(criterion.text not in said for criterion in task.kind.rubric)
            if isinstance(task.kind, Choice | ChoiceSet | Ordering):
                (row,) = [
                    [words(cell) for cell in row.find_all("td")]
                    for fold in site.pages[PAGE].select("details.sweep")
                    if words(fold.summary) == plain(family.title)
                    for row in fold.select("tbody tr")
                    if words(row.td) == plain(task.title)
                ]
                assert re.fullmatch(r"the same in \d+ %", row[1]), row
