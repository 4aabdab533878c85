"""The book's own Sphinx extension: MathML, glossary, evidence tables, questions, drawings, folded notes."""

from __future__ import annotations

import os
from typing import Any

# The kernels that run the pages inherit this: in a built page a bench is static.
os.environ.setdefault("PEDALWRIGHT_BOOK", "1")

from sphinx.application import Sphinx

from pedalwright_book import (
    bibstyle,
    cases,
    demo,
    drawings,
    evidence,
    fold,
    freshness,
    glossary,
    mathml,
    practice,
    questions,
    roles,
    stop_signs,
    sweep,
)


def setup(app: Sphinx) -> dict[str, Any]:
    """Register the parts; none of them needs JavaScript or a kernel to be read."""
    app.add_config_value("comments_config", {}, "html")  # jupyter-book always sets it; its reader is left out
    for part in (
        freshness,
        mathml,
        bibstyle,
        glossary,
        evidence,
        questions,
        practice,
        fold,
        demo,
        drawings,
        roles,
        stop_signs,
        cases,
        sweep,
    ):
        part.setup(app)
    return {"version": "1", "parallel_read_safe": True, "parallel_write_safe": True}
