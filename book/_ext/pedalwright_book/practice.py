"""Practice cases: drawn beforehand by ``pedalwright_app.practice``, set in the page with folded worked solutions."""

from __future__ import annotations

import json
from pathlib import Path

from docutils import nodes
from sphinx.application import Sphinx
from sphinx.util.docutils import SphinxDirective

from pedalwright_book.fold import Fold

MARKS = "marks.json"
FOLDER = Path("..") / ".build" / "practice"
MISSING = "The practice case is drawn from the case folder. This copy of the book was built without that step."


class PracticeDirective(SphinxDirective):
    """``{practice} pedal-force-record``: every drawn variant of that family, one fold each.

    A variant is ``.build/practice/<family>/<number>.json``: its ``title``, and ``parts``, a list of
    ``{"text": ...}``, ``{"figure": file name, "alt": ...}`` and ``{"id": ..., "task": ..., "worked": ...}``
    (Markdown). With ``marks.json`` beside them a script makes the tasks fillable; without a script the folds stay as
    they are.
    """

    required_arguments = 1

    def run(self) -> list[nodes.Node]:
        """Set the variants, or say plainly that there are none."""
        folder = Path(self.env.srcdir) / FOLDER / self.arguments[0]
        variants = sorted(folder.glob("[0-9]*.json"))
        if not variants:
            return [nodes.note("", nodes.paragraph(text=MISSING), classes=["practice-missing"])]
        out: list[nodes.Node] = []
        for path in variants:
            self.env.note_dependency(str(path))
            variant = json.loads(path.read_text(encoding="utf8"))
            fold = Fold(summary=variant["title"], classes=["practice"])
            for part in variant["parts"]:
                fold += self._part(part)
            out.append(fold)
        return self._fillable(folder / MARKS, out)

    def _fillable(self, marks: Path, folds: list[nodes.Node]) -> list[nodes.Node]:
        """Set the folds together with what the marking package says to answers."""
        if not marks.is_file():
            return folds
        self.env.note_dependency(str(marks))
        data = marks.read_text(encoding="utf8").replace("</", "<\\/")
        script = f'<script type="application/json" class="practice-marks">{data}</script>'
        return [nodes.container("", nodes.raw("", script, format="html"), *folds, classes=["practice-set"])]

    def _part(self, part: dict[str, str]) -> list[nodes.Node]:
        if "figure" in part:
            uri = (FOLDER / self.arguments[0] / part["figure"]).as_posix()
            return [nodes.image(uri=uri, alt=part["alt"], loading="lazy", classes=["practice-figure"])]
        if "task" in part:
            classes = ["practice-task", *([f"practice-is-{part['id']}"] if "id" in part else [])]
            answer = Fold(summary="Worked solution", classes=["practice"])
            answer += self.parse_text_to_nodes(part["worked"])
            return [nodes.container("", *self.parse_text_to_nodes(part["task"]), answer, classes=classes)]
        return list(self.parse_text_to_nodes(part["text"]))


def setup(app: Sphinx) -> None:
    """Register the directive."""
    app.add_directive("practice", PracticeDirective)
