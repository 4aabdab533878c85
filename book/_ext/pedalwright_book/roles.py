"""Mend roles that the writer gives to the list of sources and that current ARIA no longer allows."""

from __future__ import annotations

import re
from typing import Any

from docutils import nodes
from sphinx.application import Sphinx

SOURCE_ROLES = re.compile(r'(<div (?:class="citation" id="[^"]*" )?)role="(?:doc-biblioentry|list)"')


def mend_source_list(app: Sphinx, page: str, template: str, context: dict[str, Any], doctree: nodes.document) -> None:
    """Leave the entries of the sources as plain blocks."""
    if "body" in context:
        context["body"] = SOURCE_ROLES.sub(lambda match: match[1].rstrip(), context["body"])


def setup(app: Sphinx) -> None:
    """Run on every page before its template."""
    app.connect("html-page-context", mend_source_list)
