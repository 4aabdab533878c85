"""What a sweep over thousands of variants found, as tables; the numbers come from a data file, never from the page."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from docutils import nodes
from sphinx.application import Sphinx
from sphinx.util.docutils import SphinxDirective

from autograde.cases import Family, discover_families
from autograde.marking import Task
from pedalwright_book.fold import Fold
from pedalwright_book.tables import table

FILE = Path("..") / "benchmarks" / "marking_sweep.json"
MISSING = (
    "No sweep has been run yet. `python benchmarks/marking_sweep.py` runs one and writes the numbers of this table."
)
FAMILY_HEADS = (
    "Case",
    "Variants",
    "Different",
    "Draws for one",
    "Most",
    "Thrown away",
    "Draw, ms",
    "Mark, ms",
    "Right is: refer",
)
TASK_HEADS = ("Task", "Right answers, 5 to 95 %", "Median", "Least gap", "Gap, 5 %", "Gap, median", "Nearest slip")
EXPLAINED = (
    "Task by task. A gap is the distance from the right answer to the nearest slip, in units of both their bands "
    "together: above 1, no answer fits both. Wordings are either alike or not, so they have none; for them stands in "
    "how many variants the most frequent one is right."
)


class MarkingSweep(SphinxDirective):
    """``{marking-sweep}``: a table of all families and a folded one of each family's tasks, from the data file."""

    def run(self) -> list[nodes.Node]:
        """Write the tables, or say plainly that there are no numbers."""
        file = (Path(self.env.srcdir) / FILE).resolve()
        self.env.note_dependency(str(file))
        if not file.is_file():
            return [nodes.note("", *self.parse_text_to_nodes(MISSING), classes=["sweep-missing"])]
        try:
            found = json.loads(file.read_text(encoding="utf8"))
            families = {name: family for name, family in discover_families().items() if name in found["families"]}
            by_family = [family_row(family, found["families"][name]) for name, family in families.items()]
            by_task = [task_fold(family, found["families"][name]["tasks"]) for name, family in families.items()]
        except (ValueError, KeyError, TypeError) as problem:
            words = f"marking-sweep: {file.name} is not as its schema says ({problem!r}); run the sweep again"
            raise self.error(words) from problem
        failed = sum(sum(found["families"][name].get("failures", {}).values()) for name in families)
        words = f"{found['seeds']:,} seeds for each case; checks that failed: {failed}.".replace(",", " ")
        return [
            nodes.paragraph(text=words),
            table(FAMILY_HEADS, by_family, name="sweep-table", numbers=range(1, len(FAMILY_HEADS))),
            nodes.paragraph(text=EXPLAINED),
            *by_task,
        ]


def task_fold(family: Family, entries: dict[str, Any]) -> Fold:
    """Return the tasks of one family, folded away under its title."""
    rows = [task_row(family, task, entries[task.id]) for task in family.tasks if task.id in entries]
    fold = Fold(summary=family.title, classes=["sweep"])
    fold += table(TASK_HEADS, rows, name="sweep-table", numbers=range(2, 6))
    return fold


def family_row(family: Family, entry: dict[str, Any]) -> tuple[str, ...]:
    """Return the numbers of one family."""
    safety = entry["safety_critical"]
    return (
        family.title,
        f"{entry['variants']:,}".replace(",", " "),
        f"{entry['different']:,}".replace(",", " "),
        f"{entry['tries_mean']:.1f}",
        f"{entry['tries_max']}",
        f"{entry['rejected_pct']:.0f} %",
        f"{entry['draw_ms']:.1f}",
        f"{entry['mark_ms']:.2f}",
        "not asked" if safety is None else f"{safety['refer_pct']:.0f} %",
    )


def task_row(family: Family, task: Task, entry: dict[str, Any]) -> tuple[str, ...]:
    """Return the numbers of one task."""
    if entry["most"] is None:
        unit = f" {entry['unit']}" if entry["unit"] else ""
        spread, median = f"{figure(entry['p05'])} to {figure(entry['p95'])}{unit}", figure(entry["median"])
    else:
        # Which wording it is stays unsaid: where it is nearly always the same, that would give the answer away.
        spread, median = f"the same in {entry['most_pct']:.0f} %", ""
    slips = {slip.id: slip.label for slip in family.misconceptions if slip.task == task.id}
    gaps = ("" if entry[name] is None else f"{entry[name]:.2f}" for name in ("gap_min", "gap_p05", "gap_median"))
    return (task.title, spread, median, *gaps, slips.get(entry["nearest"], ""))


def figure(value: float) -> str:
    """Return a number in print."""
    return f"{value:.3g}".replace("-", "−")


def setup(app: Sphinx) -> None:
    """Register the directive."""
    app.add_directive("marking-sweep", MarkingSweep)
