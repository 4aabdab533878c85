"""What every quantity means: definition, unit, sign, range, source and how well it is known.

The entries stand in ``nomenclature.toml`` beside this module. The book's glossary, the tests of the
docstrings and the explanations on the command line read the same entries.
"""

import difflib
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

from pedalwright.errors import OutOfRangeError, PedalwrightError

KINDS = ("measured law", "published regression", "teaching model", "measured quantity", "convention")
EVIDENCE = ("definition", "strong", "moderate", "weak", "conflicting", "none found", "common practice, no source")
UNITS = {
    "cm": "cm",
    "deg": "°",
    "deg_s": "°/s",
    "deg_s2": "°/s²",
    "hz": "Hz",
    "j": "J",
    "kg": "kg",
    "kg_m2": "kg·m²",
    "kpa": "kPa",
    "m": "m",
    "m2": "m²",
    "mm": "mm",
    "mm2": "mm²",
    "mm_s": "mm/s",
    "mm_s2": "mm/s²",
    "m_s": "m/s",
    "m_s2": "m/s²",
    "ms": "ms",
    "n": "N",
    "n_mm": "N/mm",
    "kpa_mm": "kPa/mm",
    "nm": "N·m",
    "pct": "%",
    "rpm": "1/min",
    "s": "s",
    "w": "W",
}
_REQUIRED = ("name", "symbol", "unit", "label", "definition", "sign", "range", "kind", "evidence", "sources")
_OPTIONAL = ("also",)


@dataclass(frozen=True)
class Quantity:
    """One entry of the nomenclature.

    Parameters
    ----------
    name : str
        Parameter name, unit included.
    symbol : str
        Symbol used in formulas.
    unit : str
        Unit as written in print; ``1`` if there is none.
    label : str
        Name in plain words, as on an axis or a slider.
    definition : str
        What is meant and between which points it is measured.
    sign : str
        What a positive value means.
    range : str
        Where values of riders usually lie, or which values are allowed.
    kind : str
        One of ``KINDS``.
    evidence : str
        One of ``EVIDENCE``.
    sources : tuple of str
        Bibliography keys; empty for a definition of our own or common practice.
    also : tuple of str
        Other parameter names for the same quantity, such as its right and left value.

    Examples
    --------
    >>> quantity("crank_length_mm").unit
    'mm'
    """

    name: str
    symbol: str
    unit: str
    label: str
    definition: str
    sign: str
    range: str
    kind: str
    evidence: str
    sources: tuple[str, ...]
    also: tuple[str, ...] = ()


def quantity_from_entry(entry: Mapping[str, Any]) -> Quantity:
    """Check one entry of the nomenclature file and return it as a quantity.

    Parameters
    ----------
    entry : mapping
        Fields of the entry; all of them text, except lists of text for ``sources`` and ``also``.

    Returns
    -------
    Quantity
        The checked entry.

    Raises
    ------
    PedalwrightError
        If a field is missing, unknown, empty or outside its list of allowed words.

    Examples
    --------
    >>> quantity_from_entry({"name": "crank_length_mm"})  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    pedalwright.errors.PedalwrightError: nomenclature entry crank_length_mm: missing symbol, unit, label, ...
    """
    where = f"nomenclature entry {entry.get('name', '(without name)')}"
    missing = [field for field in _REQUIRED if field not in entry]
    if missing:
        raise PedalwrightError(f"{where}: missing {', '.join(missing)}; add them")
    unknown = sorted(set(entry) - {*_REQUIRED, *_OPTIONAL})
    if unknown:
        raise PedalwrightError(f"{where}: received {', '.join(unknown)}; allowed: {', '.join(_REQUIRED + _OPTIONAL)}")
    empty = [field for field in _REQUIRED if field != "sources" and not str(entry[field]).strip()]
    if empty:
        raise PedalwrightError(f"{where}: {', '.join(empty)} empty; fill in")
    for field, words in (("kind", KINDS), ("evidence", EVIDENCE)):
        if entry[field] not in words:
            raise PedalwrightError(f"{where}: {field} {entry[field]!r}; allowed: {', '.join(words)}")
    suffix = unit_suffix(entry["name"])
    if suffix and UNITS[suffix] != entry["unit"]:
        raise PedalwrightError(f"{where}: unit {entry['unit']!r}; the name says {UNITS[suffix]!r}; change one of them")
    return Quantity(**{**entry, "sources": tuple(entry["sources"]), "also": tuple(entry.get("also", ()))})


def unit_suffix(name: str) -> str | None:
    """Read the unit that a parameter name carries.

    Parameters
    ----------
    name : str
        Parameter name.

    Returns
    -------
    str or None
        Longest ending of the name that is a key of ``UNITS``, or None.

    Examples
    --------
    >>> unit_suffix("thigh_velocity_deg_s")
    'deg_s'
    >>> unit_suffix("profile") is None
    True
    """
    parts = name.split("_")
    for start in range(1, len(parts)):
        ending = "_".join(parts[start:])
        if ending in UNITS:
            return ending
    return None


@cache
def quantities() -> Mapping[str, Quantity]:
    """Every entry of the nomenclature.

    Returns
    -------
    mapping
        Entries by name, in the order of the file.

    Raises
    ------
    PedalwrightError
        If an entry is not valid or a name is given twice.

    Examples
    --------
    >>> "crank_length_mm" in quantities()
    True
    """
    entries = tomllib.loads((files("pedalwright") / "nomenclature.toml").read_text(encoding="utf-8"))["quantity"]
    found: dict[str, Quantity] = {}
    names: set[str] = set()
    for entry in map(quantity_from_entry, entries):
        twice = names & {entry.name, *entry.also}
        if twice:
            raise PedalwrightError(f"nomenclature: {', '.join(sorted(twice))} given twice; keep one")
        names |= {entry.name, *entry.also}
        found[entry.name] = entry
    return MappingProxyType(found)


def quantity(name: str) -> Quantity:
    """Entry of one quantity, looked up by its name or another name it goes by.

    Parameters
    ----------
    name : str
        Parameter name, or its beginning without the unit, or the label.

    Returns
    -------
    Quantity
        The entry.

    Raises
    ------
    OutOfRangeError
        If there is no such entry; the message names similar ones.

    Examples
    --------
    >>> quantity("knee flexion").name
    'knee_flexion_deg'
    >>> quantity("knee_flexoin_deg")  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    pedalwright.errors.OutOfRangeError: quantity: received 'knee_flexoin_deg'; similar names: knee_flexion_deg...
    """
    by_word: dict[str, Quantity] = {}
    for entry in quantities().values():
        for word in (entry.label, *entry.also, entry.name):
            by_word.setdefault(_plain(word), entry)
            ending = unit_suffix(word)
            if ending:
                by_word.setdefault(_plain(word.removesuffix(f"_{ending}")), entry)
    asked = _plain(name)
    if asked in by_word:
        return by_word[asked]
    close = difflib.get_close_matches(asked, by_word, n=5, cutoff=0.5)
    names = ", ".join(dict.fromkeys(by_word[word].name for word in close)) or "none"
    raise OutOfRangeError(f"quantity: received {name!r}; similar names: {names}; choose a name of the glossary")


def explain(name: str) -> str:
    """Explain a quantity in plain text: definition, unit, sign, range, evidence and sources.

    Parameters
    ----------
    name : str
        As for ``quantity``.

    Returns
    -------
    str
        A few lines of text.

    Raises
    ------
    OutOfRangeError
        If there is no such entry.

    Examples
    --------
    >>> print(explain("crank length"))  # doctest: +ELLIPSIS
    Crank length (crank_length_mm), symbol r, in mm
      Meaning:  Distance from the crank axis to the pedal axis.
    ...
    """
    entry = quantity(name)
    unit = "without a unit" if entry.unit == "1" else f"in {entry.unit}"
    sources = ", ".join(entry.sources) or "none; see the evidence"
    lines = [f"{entry.label} ({entry.name}), symbol {entry.symbol}, {unit}"]
    for title, text in (
        ("Meaning", entry.definition),
        ("Sign", entry.sign),
        ("Range", entry.range),
        ("Kind", entry.kind),
        ("Evidence", entry.evidence),
        ("Sources", sources),
    ):
        lines.append(f"  {title + ':':<9} {text}")
    return "\n".join(lines)


def _plain(word: str) -> str:
    return " ".join(word.lower().replace("_", " ").replace("-", " ").split())
