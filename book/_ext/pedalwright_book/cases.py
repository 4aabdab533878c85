"""The page of case studies, written from the families themselves: what each asks, and every slip it knows."""

from __future__ import annotations

from pathlib import Path

from docutils import nodes
from sphinx.application import Sphinx
from sphinx.util.docutils import SphinxDirective

from autograde.cases import Family, discover_families
from autograde.marking import Choice, ChoiceSet, DirectedChange, Ordering, Quantity, Task
from pedalwright_book.fold import Fold
from pedalwright_book.tables import Cell, table

TASK_HEADS = ("No.", "Task", "Answer", "Marks", "It shows", "Counts as right")
SLIP_HEADS = ("Slip", "Task", "What the trainee is told", "Page to revisit")
STYLE = "cases.css"


def families_of(directive: SphinxDirective) -> list[Family]:
    """Return all families that come with the program; the page depends on each of their files."""
    families = list(discover_families().values())
    for family in families:
        assert family.folder is not None
        for file in sorted(Path(family.folder).iterdir()):
            if file.suffix in {".py", ".md"}:
                directive.env.note_dependency(str(file))
    return families


def page_link(directive: SphinxDirective, page: str) -> list[nodes.Node]:
    """Return a link to a page by its title; a page that is not there stops the build."""
    return list(directive.parse_text_to_nodes(f"{{doc}}`{page}`"))


class CaseFamilies(SphinxDirective):
    """``{case-families}``: a section for each family with its tasks."""

    def run(self) -> list[nodes.Node]:
        """Write the sections."""
        return [self._section(family) for family in families_of(self)]

    def _section(self, family: Family) -> nodes.section:
        section = nodes.section(ids=[f"case-{family.name}"], names=[f"case {family.name}"])
        section += nodes.title(text=family.title)
        section += self.parse_text_to_nodes(self._words(family))
        rows = [
            (str(number), task.title, kind_in_words(task), f"{task.marks:g}", task.competency, band_in_words(task))
            for number, task in enumerate(family.tasks, 1)
        ]
        section += table(TASK_HEADS, rows, name="tasks-table", numbers=(0, 3))
        return section

    def _words(self, family: Family) -> str:
        modes = "practice and certification" if family.worked else "certification"
        gates = [task.title for task in family.tasks if task.safety]
        gate = f" *{gates[0]}* gates the pass." if gates else ""
        return (
            f"{family.summary}\n\n"
            f"{len(family.tasks)} tasks, {family.max_marks:g} marks, {len(family.misconceptions)} known slips; for "
            f"{modes}. It belongs to {{doc}}`{family.module_page}`.{gate} Its name in commands is `{family.name}`."
        )


class CaseSlips(SphinxDirective):
    """``{case-slips}``: every slip that a family knows, with the words the trainee reads; a folded table a family."""

    def run(self) -> list[nodes.Node]:
        """Write the tables."""
        families = families_of(self)
        count = sum(len(family.misconceptions) for family in families)
        out: list[nodes.Node] = [nodes.paragraph(text=f"{count} slips in {len(families)} cases.")]
        for family in families:
            rows: list[tuple[Cell, ...]] = [
                (_capital(slip.label), family.task(slip.task).title, slip.feedback, page_link(self, slip.page))
                for slip in family.misconceptions
            ]
            fold = Fold(summary=f"{family.title}: {len(rows)} slips", classes=["slips"])
            fold += table(SLIP_HEADS, rows, name="slips-table")
            out.append(fold)
        return out


def kind_in_words(task: Task) -> str:
    """Say what kind of answer a task asks for."""
    match task.kind:
        case Quantity(unit=unit):
            return f"number in {unit}" if unit else "number"
        case DirectedChange(unit=unit):
            return f"direction and number in {unit}"
        case Choice(options=options):
            return f"one of {len(options)}"
        case ChoiceSet(options=options):
            return f"any of {len(options)}"
        case Ordering(options=options):
            return f"order of {len(options)}"
    return "a few sentences, read by a person"


def band_in_words(task: Task) -> str:
    """Say how near is near enough, and why; for a text, that a rubric decides."""
    if isinstance(task.kind, Quantity | DirectedChange):
        said = task.kind.tolerance.sentence(task.kind.unit).removeprefix("Counts as right ")
        return said.removesuffix(".")
    return f"by a rubric of {len(task.kind.rubric)} lines" if task.by_hand else "the right one"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def setup(app: Sphinx) -> None:
    """Register the directives and their style."""
    app.add_directive("case-families", CaseFamilies)
    app.add_directive("case-slips", CaseSlips)
    app.add_css_file(STYLE)
