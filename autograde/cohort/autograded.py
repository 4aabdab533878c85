"""The notebook a person opens to mark by hand: the hand-out as it was, filled with what the trainee typed."""

from __future__ import annotations

import json
import re
import textwrap
from pathlib import Path
from typing import Any

from autograde.cases import Family, render_brief, trainee_variant
from autograde.cohort.files import write_bytes, write_text
from autograde.cohort.notebook import ANSWER, CHECK, WORDS, Notebook, answer_template, as_bytes, build_notebook

__all__ = ["shown_safely", "unnamed_notebook", "write_autograded"]


def write_autograded(root: Path, family: Family, record: dict[str, Any], secret: bytes) -> None:
    """Write ``autograded/<trainee>/<case>/<case>.ipynb`` for one marked submission.

    Parameters
    ----------
    root : Path
        The cohort folder.
    family : Family
        The case family.
    record : dict
        What marking found.
    secret : bytes
        The cohort's secret, to draw the brief again if the hand-out is gone.

    Notes
    -----
    Nothing of the submitted file reaches this notebook but the text of the answer cells: neither outputs nor
    metadata nor cells that the trainee added.
    """
    trainee, case = record["trainee"], record["case"]
    notebook = _filled(_handed_out(root, family, record, secret), family, record, verdicts=True)
    folder = root / "autograded" / trainee / case
    write_bytes(folder / f"{case}.ipynb", as_bytes(notebook), derived=True)
    write_text(folder / "timestamp.txt", record["arrived"].replace("T", " ").replace("+00:00", " UTC"), derived=True)


def unnamed_notebook(root: Path, family: Family, record: dict[str, Any], secret: bytes, greeting: str) -> Notebook:
    """Give a submission as a second reader sees it: without the trainee's name and without any mark.

    Parameters
    ----------
    root : Path
        The cohort folder.
    family : Family
        The case family.
    record : dict
        What marking found.
    secret : bytes
        The cohort's secret, to draw the brief again if the hand-out is gone.
    greeting : str
        What stands in place of the trainee's name, Markdown.

    Returns
    -------
    dict
        The hand-out, filled with what was typed.
    """
    notebook = _filled(_handed_out(root, family, record, secret), family, record, verdicts=False)
    notebook["cells"][0]["source"] = greeting
    notebook["metadata"]["pedalwright"] = {"case": family.name}
    return notebook


def _filled(notebook: Notebook, family: Family, record: dict[str, Any], *, verdicts: bool) -> Notebook:
    by_task = {result["task"]: result for result in record["results"]}
    for cell in notebook["cells"]:
        grade_id = cell["metadata"].get("nbgrader", {}).get("grade_id", "")
        if grade_id.startswith(ANSWER):
            typed = by_task[grade_id.removeprefix(ANSWER)]["typed"]
            cell["source"] = answer_template(family.task(grade_id.removeprefix(ANSWER))) + typed
        elif grade_id.startswith(WORDS):
            cell["source"] = shown_safely(by_task[grade_id.removeprefix(WORDS)]["typed"])
        elif grade_id.startswith(CHECK) and verdicts:
            cell["outputs"] = [_verdict(by_task[grade_id.removeprefix(CHECK)])]
    return notebook


def _handed_out(root: Path, family: Family, record: dict[str, Any], secret: bytes) -> Notebook:
    folder = root / "release" / record["trainee"] / record["case"]
    path = (folder if record["attempt"] == 1 else folder / f"attempt-{record['attempt']}") / f"{record['case']}.ipynb"
    if path.exists():
        notebook: Notebook = json.loads(path.read_bytes())
        return notebook
    variant = trainee_variant(family, secret, record["trainee"], record["attempt"])
    return build_notebook(family, render_brief(family, variant.case))


def shown_safely(text: str) -> str:
    """Put a text into a Markdown cell so that it is shown letter by letter.

    Parameters
    ----------
    text : str
        Anything.

    Returns
    -------
    str
        A fenced block that the text cannot close, its long lines wrapped; formulas, links and HTML in it stay text.
    """
    lines = [part for line in text.splitlines() for part in textwrap.wrap(line, 92) or [""]]
    fence = "`" * max(3, 1 + max((len(run) for run in re.findall("`+", text)), default=0))
    return "\n".join([f"{fence}text", *lines, fence])


def _verdict(result: dict[str, Any]) -> dict[str, Any]:
    marks = "for a person to mark" if result["marks"] is None else f"{result['marks']:g} of {result['max_marks']:g}"
    lines = [f"{result['state']} · {marks}"]
    if result["read_as"]:
        lines.append(f"read as {result['read_as']}")
    return {"output_type": "stream", "name": "stdout", "text": "\n".join([*lines, result["reason"], ""])}
