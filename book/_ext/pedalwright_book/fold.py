"""A folded part of a page: native ``details``, open in print unless it is a practice case."""

from __future__ import annotations

from docutils import nodes
from sphinx.application import Sphinx
from sphinx.util.docutils import SphinxDirective
from sphinx.writers.html5 import HTML5Translator


class Fold(nodes.General, nodes.Element):
    """What can be opened and closed; its ``summary`` is the line that stays visible."""


class FoldDirective(SphinxDirective):
    """``{fold} Summary``: the content is folded away under its summary."""

    required_arguments = 1
    final_argument_whitespace = True
    has_content = True

    def run(self) -> list[nodes.Node]:
        """Parse the content into the fold."""
        fold = Fold(summary=self.arguments[0])
        fold += self.parse_content_to_nodes()
        return [fold]


def visit_fold(self: HTML5Translator, node: Fold) -> None:
    """Open the details."""
    summary = self.encode(node["summary"])
    classes = " ".join(["fold", *node["classes"]])
    self.body.append(f'<details class="{classes}"><summary>{summary}</summary><div class="fold-body">\n')


def depart_fold(self: HTML5Translator, node: Fold) -> None:
    """Close the details."""
    self.body.append("</div></details>\n")


def setup(app: Sphinx) -> None:
    """Register node and directive."""
    app.add_node(Fold, html=(visit_fold, depart_fold))
    app.add_directive("fold", FoldDirective)
