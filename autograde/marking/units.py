"""The units a trainee may write, and nothing else.

The registry is built from the short list below, on first use. Angles are a dimension of their own,
so that degrees are never taken for a plain ratio.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache, lru_cache

import pint

from autograde.marking.reading import UnreadableError, quote

DEFINITIONS = (
    "meter = [length]",
    "kilogram = [mass]",
    "second = [time]",
    "radian = [angle]",
    "percent = 0.01",
    "millimeter = 1e-3 meter",
    "centimeter = 1e-2 meter",
    "kilometer = 1e3 meter",
    "inch = 0.0254 meter",
    "gram = 1e-3 kilogram",
    "minute = 60 second",
    "hour = 3600 second",
    "millisecond = 1e-3 second",
    "degree = 0.017453292519943295 radian",
    "turn = 6.283185307179586 radian",
    "rpm = turn / minute",
    "newton = kilogram * meter / second ** 2",
    "kilonewton = 1e3 newton",
    "kilogram_force = 9.80665 newton",
    "joule = newton * meter",
    "kilojoule = 1e3 joule",
    "watt = joule / second",
    "kilowatt = 1e3 watt",
    "pascal = newton / meter ** 2",
    "kilopascal = 1e3 pascal",
    "megapascal = 1e6 pascal",
    "bar = 1e5 pascal",
)

# Left the spelling a trainee may use (any case, unless listed with both cases), right the unit above.
SPELLINGS = {
    "meter": "m meter meters metre metres",
    "millimeter": "mm millimeter millimeters millimetre millimetres",
    "centimeter": "cm centimeter centimeters centimetre centimetres",
    "kilometer": "km kilometer kilometers kilometre kilometres",
    "inch": "in inch inches",
    "kilogram": "kg kilo kilos kilogram kilograms",
    "gram": "g gram grams",
    "second": "s sec secs second seconds",
    "millisecond": "ms millisecond milliseconds",
    "minute": "min mins minute minutes",
    "hour": "h hr hour hours",
    "radian": "rad rads radian radians",
    "degree": "deg degs degree degrees °",
    "turn": "turn turns rev revs revolution revolutions",
    "rpm": "rpm",
    "percent": "% percent pct",
    "newton": "n newton newtons",
    "kilonewton": "kn kilonewton kilonewtons",
    "kilogram_force": "kgf kp",
    "newton*meter": "nm newtonmeter newtonmeters newtonmetre newtonmetres",
    "newton*millimeter": "nmm",
    "newton*centimeter": "ncm",
    "joule": "j joule joules",
    "kilojoule": "kj kilojoule kilojoules",
    "watt": "w watt watts",
    "kilowatt": "kw kilowatt kilowatts",
    "pascal": "pa pascal pascals",
    "kilopascal": "kpa kilopascal kilopascals",
    "megapascal": "mpa megapascal megapascals",
    "bar": "bar",
}
LOOKUP = {spelling: unit for unit, spellings in SPELLINGS.items() for spelling in spellings.split()}

KINDS_OF_UNIT = {
    "": "a plain ratio",
    "meter": "a length",
    "kilogram": "a mass",
    "second": "a time",
    "radian": "an angle",
    "rpm": "a cadence",
    "newton": "a force",
    "newton*meter": "a torque or energy",
    "watt": "a power",
    "pascal": "a pressure",
}

MAX_LENGTH = 40
MAX_POWER = 4
_SUPERSCRIPTS = str.maketrans("⁻⁰¹²³⁴", "-01234")
_TOKEN = re.compile(r"(?P<name>[A-Za-z°%]+)(?:(?:\s*(?:\^|\*\*)\s*)?(?P<power>-?\d))?|(?P<join>[*/])")


@dataclass(frozen=True)
class Unit:
    """A read unit: factor to the registry's base units and its dimension."""

    factor: float
    dimension: str


@cache
def registry() -> pint.UnitRegistry[float]:
    """Build the closed registry."""
    made: pint.UnitRegistry[float] = pint.UnitRegistry(None, cache_folder=None, autoconvert_offset_to_baseunit=False)
    for line in DEFINITIONS:
        made.define(line)
    return made


@lru_cache(maxsize=512)
def read_unit(text: str) -> Unit:
    """Read a unit as a trainee writes it.

    Parameters
    ----------
    text : str
        Such as ``"N m"``, ``"N·mm"``, ``"newton metres"``, ``"1/min"``, ``"°"``; empty for a plain ratio.

    Returns
    -------
    Unit
        Factor to base units and dimension.

    Raises
    ------
    UnreadableError
        When it is not on the list.

    Examples
    --------
    >>> convert(5200.0, read_unit("N mm"), read_unit("N m"))
    5.2
    """
    names = _names(text)
    quantity = registry().Quantity(1.0, registry().Unit(""))
    for name, power in names:
        for part in LOOKUP[name].split("*"):
            quantity = quantity * registry().Quantity(1.0, part) ** power
    base = quantity.to_base_units()
    return Unit(float(base.magnitude), str(sorted(dict(base.dimensionality).items())))


def convert(value: float, given: Unit, wanted: Unit) -> float | None:
    """Convert a value between units of one kind; None when the kinds differ."""
    if given.dimension != wanted.dimension:
        return None
    return value if given.factor == wanted.factor else value * (given.factor / wanted.factor)


def kind_of_unit(unit: Unit) -> str:
    """Say in words what a unit measures.

    Examples
    --------
    >>> kind_of_unit(read_unit("kN"))
    'a force'
    """
    return next((words for text, words in KINDS_OF_UNIT.items() if _base(text).dimension == unit.dimension), "")


@cache
def _base(text: str) -> Unit:
    return Unit(1.0, str([])) if not text else read_unit(text.replace("*", " "))


def _names(text: str) -> tuple[tuple[str, int], ...]:
    """Split into known spellings and small whole powers."""
    if len(text) > MAX_LENGTH:
        raise UnreadableError(f"the unit has {len(text)} characters; units have up to {MAX_LENGTH}")
    plain = text.translate(_SUPERSCRIPTS).casefold()
    plain = re.sub(r"\bper\s+cent\b", "percent", plain)
    plain = re.sub(r"\bper\b|(?<=[a-z])p(?=/)", "/", plain)
    plain = re.sub(r"[·⋅×.•∙]|(?<=[a-z])-(?=[a-z])", "*", plain).replace("º", "°")
    plain = re.sub(r"^1\s*/", "/", plain.strip())
    plain = "rpm" if plain in {"/min", "/ min"} else plain
    found: list[tuple[str, int]] = []
    sign, at = 1, 0
    if plain.rstrip().endswith(("/", "*")):
        raise UnreadableError(f"“{quote(text)}” is not a unit on the list")
    while at < len(plain):
        if plain[at].isspace():
            at += 1
            continue
        match = _TOKEN.match(plain, at)
        if match is None:
            raise UnreadableError(f"“{quote(text)}” is not a unit on the list")
        at = match.end()
        if match["join"]:
            sign = -1 if match["join"] == "/" else sign
            continue
        name, power = match["name"], int(match["power"] or 1)
        if name not in LOOKUP or abs(power) > MAX_POWER:
            raise UnreadableError(f"“{quote(text)}” is not a unit on the list")
        found.append((name, sign * power))
    return tuple(found)
