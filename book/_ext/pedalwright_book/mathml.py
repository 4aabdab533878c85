"""Turn TeX into MathML at build time, so that formulas need no script and no other origin."""

from __future__ import annotations

from xml.etree import ElementTree

from docutils import nodes
from latex2mathml.converter import convert
from sphinx.application import Sphinx
from sphinx.locale import _
from sphinx.util import logging
from sphinx.util.math import get_node_equation_number
from sphinx.writers.html5 import HTML5Translator

LOGGER = logging.getLogger(__name__)
NAMESPACE = "http://www.w3.org/1998/Math/MathML"
FUNCTION_NAMES = {"arccos", "arcsin", "arctan", "cos", "exp", "log", "max", "min", "sin", "tan"}


class FormulaError(ValueError):
    """A formula the converter cannot write as well-formed MathML."""


def to_mathml(tex: str, *, display: bool) -> str:
    r"""Return one ``math`` element.

    Parameters
    ----------
    tex
        The formula without dollar signs.
    display
        True for a formula on a line of its own.

    Raises
    ------
    FormulaError
        If the converter fails, or left a TeX command or an alignment mark in its output.
    """
    try:
        root = ElementTree.fromstring(convert(tex, display="block" if display else "inline"))
    except Exception as problem:
        raise FormulaError(f"The formula {tex!r} gave no MathML ({problem}). Write it in simpler TeX.") from problem
    leftovers = [text for text in root.itertext() if "\\" in text or text == "&"]
    if leftovers:
        raise FormulaError(f"The formula {tex!r} holds {leftovers[0]!r}, which MathML cannot show. Write it without.")
    _space_function_names(root)
    ElementTree.register_namespace("", NAMESPACE)
    return ElementTree.tostring(root, encoding="unicode")


def _space_function_names(parent: ElementTree.Element) -> None:
    """Set a thin space on both sides of a function name, as in F sin θ; operators bring their own."""
    children = list(parent)
    for child in children:
        _space_function_names(child)
    for position in range(len(children) - 1, 0, -1):
        pair = children[position - 1 : position + 1]
        if any(part.text in FUNCTION_NAMES for part in pair) and not any(part.tag.endswith("}mo") for part in pair):
            parent.insert(position, ElementTree.Element(f"{{{NAMESPACE}}}mspace", width="0.17em"))


def _convert_node(node: nodes.Element, *, display: bool) -> str:
    try:
        return to_mathml(node.astext(), display=display)
    except FormulaError as problem:
        LOGGER.warning(str(problem), location=node)
        return f"<code>{node.astext()}</code>"


def visit_math(self: HTML5Translator, node: nodes.math) -> None:
    """Write a formula in running text."""
    self.body.append(f'<span class="math notranslate">{_convert_node(node, display=False)}</span>')
    raise nodes.SkipNode


def visit_math_block(self: HTML5Translator, node: nodes.math_block) -> None:
    """Write a formula on its own line, with its number when it has a label."""
    self.body.append(self.starttag(node, "div", CLASS="math notranslate"))
    self.body.append(_convert_node(node, display=True))
    if node["number"]:
        self.body.append(f'<span class="eqno">({get_node_equation_number(self, node)})')
        self.add_permalink_ref(node, _("Link to this equation"))
        self.body.append("</span>")
    self.body.append("</div>\n")
    raise nodes.SkipNode


def setup(app: Sphinx) -> None:
    """Offer the renderer under the name ``mathml``."""
    app.add_html_math_renderer("mathml", inline_renderers=(visit_math, None), block_renderers=(visit_math_block, None))
