"""The signs that stop a fit, listed in the page from the same data that the referral of the package reads."""

from __future__ import annotations

from importlib.resources import files

from docutils import nodes
from sphinx.application import Sphinx
from sphinx.util.docutils import SphinxDirective

from pedalwright.red_flags import RED_FLAGS, URGENCIES, RedFlag

# Said once above each list, so not again in every line.
COMMON = (
    "Adjust nothing. Do not let the rider pedal.",
    "Adjust nothing that loads it. Easy riding only if it is free of pain.",
)


def line(flag: RedFlag) -> str:
    """Return what to notice, who looks at it and what to leave, as one line of Markdown."""
    precaution = flag.precaution
    for said in COMMON:
        precaution = precaution.removeprefix(said).strip()
    who = "" if flag.urgency == "emergency" else f" *To {flag.refer_to}.*"
    return f"- {flag.question}{who} {precaution}".rstrip()


class StopSignsDirective(SphinxDirective):
    """``{stop-signs} same day``: the signs of that urgency."""

    required_arguments = 1
    final_argument_whitespace = True

    def run(self) -> list[nodes.Node]:
        """List the signs; an urgency without any is an error."""
        flags = [flag for flag in RED_FLAGS if flag.urgency == self.arguments[0]]
        if not flags:
            raise self.error(f"stop-signs: {self.arguments[0]!r}; allowed: {', '.join(URGENCIES)}. Use one of these.")
        self.env.note_dependency(str(files("pedalwright") / "red_flags.py"))
        return list(self.parse_text_to_nodes("\n".join(map(line, flags))))


def setup(app: Sphinx) -> None:
    """Register the directive."""
    app.add_directive("stop-signs", StopSignsDirective)
