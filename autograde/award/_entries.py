"""Checks of what a person wrote into a TOML file; each says what it found and what is allowed."""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Mapping
from typing import Any

from autograde.award.errors import AwardError

SHORT_NAME = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*\Z")


def meant(name: str, known: set[str]) -> str:
    close = difflib.get_close_matches(name, sorted(known), n=1)
    hint = f"; did you mean {close[0]!r}?" if close else ""
    return f", which the blueprint does not have{hint} It has {', '.join(sorted(known)) or 'none'}"


def known(entry: Mapping[str, Any], allowed: set[str], where: str) -> None:
    for name in entry:
        if name not in allowed:
            close = difflib.get_close_matches(name, sorted(allowed), n=1)
            hint = f" Did you mean {close[0]!r}?" if close else ""
            raise AwardError(f"{where} has an unknown entry {name!r}.{hint} Allowed are {', '.join(sorted(allowed))}")


def tables(data: Mapping[str, Any], name: str) -> dict[str, Any]:
    entries = table(data.get(name), f"[{name}] of the blueprint")
    if not entries:
        raise AwardError(f"the blueprint has no {name}; add at least one block [{name}.some-name]")
    return entries


def table(entry: Any, where: str) -> dict[str, Any]:
    if not isinstance(entry, dict):
        raise AwardError(f"{where} is missing or no table; write it as a block with name = value lines")
    return entry


def short_name(name: str, where: str) -> str:
    if not SHORT_NAME.match(name):
        raise AwardError(f"{where}: use lower-case letters, digits and single hyphens in its short name")
    return name


def words(entry: Mapping[str, Any], name: str, where: str, default: str | None = None) -> str:
    value = entry.get(name, default)
    if not isinstance(value, str) or (default is None and not value.strip()):
        raise AwardError(f"{where} has {value!r} as {name}; write some words in quotes")
    return value.strip()


def word_list(data: Mapping[str, Any], name: str) -> tuple[str, ...]:
    value = data.get(name, [])
    if not isinstance(value, list) or not all(isinstance(line, str) and line.strip() for line in value):
        raise AwardError(f"the blueprint's {name} is a list of texts in square brackets; received {value!r}")
    return tuple(line.strip() for line in value)


def whole(data: Mapping[str, Any], name: str, least: int, most: int, default: int | None = None) -> int:
    value = data.get(name, default)
    if not isinstance(value, int) or isinstance(value, bool) or not least <= value <= most:
        raise AwardError(
            f"the blueprint has {str(value)[:40]!r} as {name}; give a whole number of at least {least}, at most {most}"
        )
    return value


def percent(entry: Mapping[str, Any], where: str, default: float) -> float:
    value = entry.get("minimum_pct", default)
    if not is_number(value) or not 0 <= value <= 100:
        raise AwardError(f"{where} has {value!r} as minimum_pct; give a number from 0 to 100")
    return float(value)


def is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


def version(data: Mapping[str, Any]) -> str:
    """Take the version: it becomes part of addresses."""
    value = words(data, "version", "the blueprint")
    if not re.match(r"[A-Za-z0-9][A-Za-z0-9._-]*\Z", value):
        raise AwardError(f"the blueprint has {value!r} as version; use letters, digits, dots and hyphens only")
    return value
