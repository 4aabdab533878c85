"""How sure we are: a label in running text, and the table of evidence and limits that closes a module."""

from __future__ import annotations

import yaml
from docutils import nodes
from sphinx.application import Sphinx
from sphinx.util.docutils import SphinxDirective, SphinxRole

LABELS = {
    "strong": "●●●",
    "moderate": "●●○",
    "weak or mixed": "●○○",
    "common practice": "◇",
}
COLUMNS = (("What is said", 38), ("How sure", 16), ("Where from", 20), ("Limits", 26))


class EvidenceError(ValueError):
    """An evidence entry that is not what the book allows."""


def check_label(label: str) -> str:
    """Return the label, or raise EvidenceError saying what is allowed."""
    if label not in LABELS:
        raise EvidenceError(f"evidence label {label!r}; allowed: {', '.join(LABELS)}. Use one of these.")
    return label


def label_node(label: str) -> nodes.inline:
    """Return the label as a badge: words for everybody, dots for the eye."""
    slug = check_label(label).replace(" ", "-")
    badge = nodes.inline(classes=["evidence-label", f"evidence-{slug}"])
    marks = f'<span class="evidence-dots" aria-hidden="true">{LABELS[label]}</span> '
    badge += nodes.raw("", marks, format="html")
    badge += nodes.inline(text=label)
    return badge


class EvidenceRole(SphinxRole):
    """``{evidence}`weak or mixed```: the label in running text."""

    def run(self) -> tuple[list[nodes.Node], list[nodes.system_message]]:
        """Return the badge, or a build error for a label that does not exist."""
        try:
            return [label_node(self.text)], []
        except EvidenceError as problem:
            return [], [self.inliner.reporter.error(str(problem), line=self.lineno)]


class EvidenceTable(SphinxDirective):
    """A YAML list of ``claim``, ``label``, ``sources`` (bibliography keys) and ``limits`` becomes a table."""

    has_content = True

    def run(self) -> list[nodes.Node]:
        """Build one row an entry."""
        rows = yaml.safe_load("\n".join(self.content))
        try:
            body = [self._row(entry) for entry in rows]
        except (EvidenceError, KeyError, TypeError) as problem:
            raise self.error(f"evidence table: {problem}") from problem
        table = nodes.table(classes=["evidence-table"])
        group = nodes.tgroup(cols=len(COLUMNS))
        group += [nodes.colspec(colwidth=width) for _, width in COLUMNS]
        head = nodes.row()
        head += [nodes.entry("", nodes.paragraph(text=title)) for title, _ in COLUMNS]
        group += nodes.thead("", head)
        group += nodes.tbody("", *body)
        table += group
        return [table]

    def _row(self, entry: dict[str, object]) -> nodes.row:
        label = check_label(str(entry["label"]))
        sources = entry.get("sources", [])
        if not sources and label != "common practice":
            raise EvidenceError(
                f"{entry['claim']!r}: called {label!r} without a source. Name one, or say common practice."
            )
        where = " · ".join(f"{{cite:p}}`{key}`" for key in sources) or "the trade; no study"
        row = nodes.row()
        row += nodes.entry("", *self.parse_text_to_nodes(str(entry["claim"])))
        row += nodes.entry("", nodes.paragraph("", "", label_node(label)))
        row += nodes.entry("", *self.parse_text_to_nodes(where))
        row += nodes.entry("", *self.parse_text_to_nodes(str(entry["limits"])))
        return row


def setup(app: Sphinx) -> None:
    """Register role and directive."""
    app.add_role("evidence", EvidenceRole())
    app.add_directive("evidence", EvidenceTable)
