"""Figures of the invented demonstration cohort, printed as they came out of it."""

from __future__ import annotations

import tomllib
from importlib.resources import files

from docutils import nodes
from sphinx.application import Sphinx
from sphinx.util.docutils import SphinxRole


class DemoRole(SphinxRole):
    """``{demo}`all.cut```: a figure by its table (``all`` cases or ``one``) and its name."""

    def run(self) -> tuple[list[nodes.Node], list[nodes.system_message]]:
        """Print the figure; a name that is not there is an error."""
        source = files("pedalwright_app") / "demo_figures.toml"
        self.env.note_dependency(str(source))
        figures = tomllib.loads(source.read_text(encoding="utf-8"))
        table, _, name = self.text.partition(".")
        if name in figures.get(table, {}):
            return [nodes.Text(figures[table][name])], []
        known = ", ".join(f"{part}.{key}" for part, entries in figures.items() for key in entries)
        problem = self.inliner.reporter.error(
            f"demo: there is no figure {self.text!r}; use one of {known}", line=self.lineno
        )
        return [nodes.problematic(self.rawtext, self.rawtext)], [problem]


def setup(app: Sphinx) -> None:
    """Register the role."""
    app.add_role("demo", DemoRole())
