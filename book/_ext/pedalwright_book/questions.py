"""Questions to check oneself: written as YAML, answered in the page without a kernel, readable without a script."""

from __future__ import annotations

import html
from dataclasses import dataclass
from pathlib import Path
from typing import Any, ClassVar

import yaml
from docutils import nodes
from docutils.parsers.rst import directives
from sphinx.application import Sphinx
from sphinx.util.docutils import SphinxDirective

KINDS = ("choice", "choices", "number")
FORM_OPEN = '<form class="question" id="{id}" data-kind="{kind}" novalidate{extra}>\n<fieldset>\n<legend>'
FORM_CLOSE = '<div class="verdict" role="status"></div>\n'
BUTTON = '</fieldset>\n<button type="submit" hidden>Check</button>\n'


class QuestionError(ValueError):
    """A question that is not what the format allows."""


@dataclass(frozen=True)
class Reason:
    """One possible answer and why it is right or wrong; for a number, ``value`` is what was typed."""

    why: str
    right: bool = False
    text: str = ""
    value: float | None = None


@dataclass(frozen=True)
class Question:
    """One question as the YAML file states it."""

    id: str
    group: str
    objective: str
    kind: str
    ask: str
    reasons: tuple[Reason, ...]
    unit: str = ""
    tolerance: float = 0.0


def read_question(entry: dict[str, Any]) -> Question:
    """Check one YAML entry and return the question.

    Raises
    ------
    QuestionError
        If a field is missing, the kind is unknown, no answer is right, or a choice is left unexplained.
    """
    name = entry.get("id", "(no id)")
    try:
        common = {key: str(entry[key]).strip() for key in ("id", "group", "objective", "kind", "ask")}
        if common["kind"] == "number":
            slips = tuple(Reason(slip["why"], value=float(slip["value"])) for slip in entry["slips"])
            reasons = (Reason(entry["why"], right=True, value=float(entry["answer"])), *slips)
            extra = {"unit": str(entry["unit"]), "tolerance": float(entry["tolerance"])}
        elif common["kind"] in KINDS:
            reasons = tuple(Reason(o["why"], bool(o.get("right")), str(o["text"])) for o in entry["options"])
            extra = {}
        else:
            raise QuestionError(f"question {name}: kind {common['kind']!r}; allowed: {', '.join(KINDS)}.")
    except KeyError as missing:
        raise QuestionError(f"question {name}: the field {missing} is missing. Add it.") from missing
    right = sum(reason.right for reason in reasons)
    if right == 0 or (common["kind"] == "choice" and right > 1):
        raise QuestionError(f"question {name}: {right} right answers. A choice has one, choices have at least one.")
    if len(reasons) < 2 or any(not reason.why.strip() for reason in reasons):
        raise QuestionError(f"question {name}: every answer needs a reason, and there must be a wrong one to explain.")
    return Question(reasons=reasons, **common, **extra)


def read_questions(path: Path) -> list[Question]:
    """Return the questions of one file, their ids unlike each other."""
    questions = [read_question(entry) for entry in yaml.safe_load(path.read_text(encoding="utf8"))]
    ids = [question.id for question in questions]
    if doubled := {name for name in ids if ids.count(name) > 1}:
        raise QuestionError(f"{path.name}: the ids {sorted(doubled)} are used twice. Give each question its own.")
    return questions


class QuestionsDirective(SphinxDirective):
    """``{questions} lever-tangency`` with ``:group: check`` sets the questions of that group."""

    required_arguments = 1
    option_spec: ClassVar = {"group": directives.unchanged_required}

    def run(self) -> list[nodes.Node]:
        """Read the file and write one form a question."""
        path = Path(self.env.srcdir) / "questions" / f"{self.arguments[0]}.yml"
        self.env.note_dependency(str(path))
        try:
            questions = [q for q in read_questions(path) if q.group == self.options.get("group", q.group)]
        except (QuestionError, OSError) as problem:
            raise self.error(f"questions: {problem}") from problem
        if not questions:
            raise self.error(f"questions: no question of the group {self.options.get('group')!r} in {path.name}.")
        return [node for question in questions for node in self._form(question)]

    def _form(self, question: Question) -> list[nodes.Node]:
        extra = f' data-tolerance="{question.tolerance:g}"' if question.kind == "number" else ""
        answers = self._number_field(question) if question.kind == "number" else self._options(question)
        return [
            raw(FORM_OPEN.format(id=question.id, kind=question.kind, extra=extra)),
            *self._inline(question.ask),
            raw("</legend>\n"),
            *answers,
            raw(BUTTON + FORM_CLOSE),
            *self._reasons(question),
            raw("</form>\n"),
        ]

    def _number_field(self, question: Question) -> list[nodes.Node]:
        unit = html.escape(question.unit)
        return [
            raw(
                f'<label class="number">Your answer <input type="text" inputmode="decimal" autocomplete="off" '
                f'name="{question.id}"> <span class="unit">{unit}</span></label>\n'
            )
        ]

    def _options(self, question: Question) -> list[nodes.Node]:
        control = "radio" if question.kind == "choice" else "checkbox"
        out: list[nodes.Node] = []
        for number, reason in enumerate(question.reasons):
            field = f'<input type="{control}" name="{question.id}" value="{number}">'
            out += [raw(f'<label class="option">{field} <span>'), *self._inline(reason.text), raw("</span></label>\n")]
        return out

    def _reasons(self, question: Question) -> list[nodes.Node]:
        out: list[nodes.Node] = [raw('<details class="reasons"><summary>Answer and reasons</summary>\n<ul>\n')]
        for number, reason in enumerate(question.reasons):
            mark = "right" if reason.right else "wrong"
            value = "" if reason.value is None else f' data-value="{reason.value:g}"'
            word = "Right." if reason.right else "Not this."
            out.append(raw(f'<li data-answer="{number}" class="{mark}"{value}><p class="quoted"><b>{word}</b> '))
            text = reason.text or f"{reason.value:g} {question.unit}"
            out += [*self._inline(text), raw("</p>\n"), *self.parse_text_to_nodes(reason.why), raw("</li>\n")]
        out.append(raw("</ul></details>\n"))
        return out

    def _inline(self, text: str) -> list[nodes.Node]:
        parsed, messages = self.parse_inline(text, lineno=self.lineno)
        return [nodes.inline("", "", *parsed), *messages]


def raw(text: str) -> nodes.raw:
    """Return a piece of HTML as it is."""
    return nodes.raw("", text, format="html")


def setup(app: Sphinx) -> None:
    """Register the directive."""
    app.add_directive("questions", QuestionsDirective)
