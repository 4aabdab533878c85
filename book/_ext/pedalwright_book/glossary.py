"""The glossary of quantities, models and open questions, written from the data of the calculation package."""

from __future__ import annotations

from collections.abc import Iterator
from importlib.resources import files

from docutils import nodes
from docutils.statemachine import StringList
from sphinx.application import Sphinx
from sphinx.util.docutils import SphinxDirective

from pedalwright.disagreements import DISAGREEMENTS, Disagreement
from pedalwright.model_labels import MODEL_KINDS, LabelledFunction, labelled_functions
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


def model_line(model: LabelledFunction) -> str:
    """Return what a model computes, where it stands and where it comes from, as one line of Markdown."""
    sources = " · ".join(f"{{cite:p}}`{key}`" for key in model.sources)
    also = f" *In part: {', '.join(model.kinds[1:])}.*" if model.kinds[1:] else ""
    module, function = model.name.split(".")
    return f"- {model.summary}{also} `{function}` of `{module}`" + (f" {sources}" if sources else "")


class ModelsDirective(SphinxDirective):
    """``{models} teaching model``: every function of the package with that label."""

    required_arguments = 1
    final_argument_whitespace = True

    def run(self) -> list[nodes.Node]:
        """List the functions; a label that is none of a model is an error."""
        kind = self.arguments[0]
        if kind not in MODEL_KINDS:
            raise self.error(f"models: {kind!r}; allowed: {', '.join(MODEL_KINDS)}. Use one of these.")
        for module in sorted(files("pedalwright").iterdir(), key=str):
            if module.name.endswith(".py"):
                self.env.note_dependency(str(module))
        lines = [model_line(model) for model in labelled_functions().values() if model.kinds[:1] == (kind,)]
        return list(self.parse_text_to_nodes("\n".join(lines)))


def disagreement_lines(name: str, one: Disagreement) -> Iterator[str]:
    """Yield the lines of one open question."""
    answers = ", ".join(f"`{answer}`" for answer in one.answers)
    yield f"- **{name[0].upper() + name[1:]}.** {one.question} Named choices: {answers}."
    yield f"  Taken unless you say otherwise: `{one.default}`. {one.reason}"


class DisagreementsDirective(SphinxDirective):
    """``{disagreements}``: where sources differ, what is taken by default, and why."""

    def run(self) -> list[nodes.Node]:
        """List the questions."""
        self.env.note_dependency(str(files("pedalwright") / "disagreements.py"))
        lines = [line for name, one in DISAGREEMENTS.items() for line in disagreement_lines(name, one)]
        return list(self.parse_text_to_nodes("\n".join(lines)))


def setup(app: Sphinx) -> None:
    """Register the directives."""
    app.add_directive("nomenclature", NomenclatureDirective)
    app.add_directive("models", ModelsDirective)
    app.add_directive("disagreements", DisagreementsDirective)
