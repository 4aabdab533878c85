"""The glossary of quantities, written from the nomenclature of the calculation package."""

from __future__ import annotations

from collections.abc import Iterator
from importlib.resources import files

from docutils import nodes
from docutils.statemachine import StringList
from sphinx.application import Sphinx
from sphinx.util.docutils import SphinxDirective

from pedalwright.nomenclature import Quantity, quantities


def entry_lines(quantity: Quantity, title: str) -> Iterator[str]:
    """Yield the lines of one glossary entry."""
    unit = "no unit" if quantity.unit == "1" else f"in {quantity.unit}"
    sources = " · ".join(f"{{cite:p}}`{key}`" for key in quantity.sources)
    facts = (
        ("Sign", quantity.sign),
        ("Range", quantity.range),
        ("Kind", quantity.kind + "; evidence: " + quantity.evidence + (f"; {sources}" if sources else "")),
        ("In the package", f"`{quantity.name}`"),
    )
    yield title
    yield f"    {quantity.definition} Symbol {quantity.symbol}, {unit}."
    yield ""
    for name, text in facts:
        yield f"    - **{name}:** {text}"
    yield ""


class NomenclatureDirective(SphinxDirective):
    """``{nomenclature}``: every quantity as an entry that the term role finds."""

    def run(self) -> list[nodes.Node]:
        """Write a glossary directive and parse it."""
        self.env.note_dependency(str(files("pedalwright") / "nomenclature.toml"))
        lines = ["```{glossary}", ":sorted:", ""]
        for quantity in quantities().values():
            lines += entry_lines(quantity, self._title(quantity.label))
        lines.append("```")
        holder = nodes.Element()
        self.state.nested_parse(StringList(lines, source=self.env.docname), self.content_offset, holder)
        return holder.children

    def _title(self, label: str) -> str:
        """Keep a quantity apart from a word of the same name that the page explains before."""
        taken = {name.lower() for kind, name in self.env.get_domain("std").objects if kind == "term"}
        return f"{label} (quantity)" if label.lower() in taken else label


def setup(app: Sphinx) -> None:
    """Register the directive."""
    app.add_directive("nomenclature", NomenclatureDirective)
