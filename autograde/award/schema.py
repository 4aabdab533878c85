"""The fields that the badge standard requires, as a JSON Schema transcribed from its tables.

No package carries the published schema file, so the required fields, types and cardinalities were transcribed.

References: open_badges_3, w3c_vc_data_model_2.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from functools import cache
from importlib import resources
from typing import Any

from jsonschema import Draft202012Validator  # type: ignore[import-untyped]

__all__ = ["schema_problems"]


def schema_problems(credential: Mapping[str, Any]) -> list[str]:
    """Hold a credential to the fields that the badge standard requires.

    Parameters
    ----------
    credential : mapping
        Any JSON object.

    Returns
    -------
    list of str
        What is missing or wrong, at most ten lines; empty if nothing is.
    """
    errors: Iterable[Any] = _validator().iter_errors(dict(credential))
    lines = []
    for error in errors:
        place = "/".join(str(step) for step in error.absolute_path) or "the credential"
        lines.append(f"{place[:80]}: {error.message[:120]}")
        if len(lines) == 10:
            break
    return lines


@cache
def _validator() -> Any:
    text = resources.files("autograde.award").joinpath("achievement_credential.schema.json").read_text("utf-8")
    return Draft202012Validator(json.loads(text))
