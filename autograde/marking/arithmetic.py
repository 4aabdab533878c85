"""Numbers and small sums as people write them, evaluated without running anything.

Decimal comma or point, thousands marks, unicode minus and fractions, ``× · ÷ : ^`` are turned into
plain digits and ``+ - * / **``; Python's parser makes the tree, and only numbers and these five signs
in it are evaluated, on floats.
"""

from __future__ import annotations

import ast
import math
import operator
import re
from collections.abc import Callable

from autograde.marking.reading import UnreadableError, quote

MAX_LENGTH = 120
MAX_NODES = 60
MAX_BRACKETS = 8
MAX_POWER = 4.0

Operation = Callable[[float, float], float]
OPERATIONS: dict[type[ast.operator], Operation] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
}

_SIGNS = str.maketrans(
    {"−": "-", "–": "-", "—": "-", "‐": "-", "‑": "-", "×": "*", "·": "*", "⋅": "*", "÷": "/", "∕": "/"}
)
_NUMBER = re.compile(r"\d[\d.,'’\u00a0\u202f\u2009]*(?:e[+-]?\d{1,3}(?![\d.,]))?|[.,]\d+", re.IGNORECASE)
_EXPONENT = re.compile(r"[eE][+-]?\d+\Z")
_PROGRAMMERS = re.compile(r"(?<![\d.,])0x[\da-f]", re.IGNORECASE)
_RANGE = re.compile(r"\s*(\d[\d.,]*)(?:[-−‐‑]|\s*[–—]\s*)(\d[\d.,]*)\s*\Z")


def evaluate(text: str) -> float:
    """Evaluate a number or a small sum.

    Parameters
    ----------
    text : str
        Without unit, at most 120 characters.

    Returns
    -------
    float
        A finite number.

    Raises
    ------
    UnreadableError
        When it is not one number, is too long, or is not finite.

    Examples
    --------
    >>> evaluate("0,883 × 82"), evaluate("3 1/4"), evaluate("−1 234,5"), evaluate("(3^2 + 4^2)^0.5")
    (72.406, 3.25, -1234.5, 5.0)
    """
    if len(text) > MAX_LENGTH:
        raise UnreadableError(f"the number has {len(text)} characters; a number or a sum has up to {MAX_LENGTH}")
    _refuse_range(text)
    plain = _plain(text)
    if plain.count("(") > MAX_BRACKETS:
        raise UnreadableError(f"the sum has more than {MAX_BRACKETS} brackets; work it out in steps")
    try:
        tree = ast.parse(plain.strip(), mode="eval")
    except (SyntaxError, ValueError, RecursionError, MemoryError):
        raise UnreadableError(f"“{quote(text)}” is not a number or a sum of numbers") from None
    if sum(1 for _ in ast.walk(tree)) > MAX_NODES:
        raise UnreadableError("the sum is too long; work it out in steps")
    return _value(tree.body, quote(text))


def _value(node: ast.expr, text: str) -> float:
    match node:
        case ast.Constant(value=int() | float() as number) if not isinstance(number, bool):
            result = float(number)
        case ast.UnaryOp(op=ast.USub() | ast.UAdd() as sign, operand=inner):
            result = _value(inner, text) * (-1.0 if isinstance(sign, ast.USub) else 1.0)
        case ast.BinOp(op=ast.Pow(), left=left, right=right):
            result = _power(_value(left, text), _value(right, text), text)
        case ast.BinOp(op=sign, left=left, right=right) if type(sign) in OPERATIONS:
            first, second = _value(left, text), _value(right, text)
            if isinstance(sign, ast.Div) and second == 0.0:
                raise UnreadableError(f"“{quote(text)}” divides by zero")
            result = OPERATIONS[type(sign)](first, second)
        case _:
            raise UnreadableError(f"“{quote(text)}” is not a number or a sum of numbers")
    if not math.isfinite(result):
        raise UnreadableError(f"“{quote(text)}” is too large a number")
    return result


def _power(base: float, power: float, text: str) -> float:
    if abs(power) > (9.0 if base == 10.0 else MAX_POWER):
        raise UnreadableError(f"“{quote(text)}” holds a power above {MAX_POWER:g}; work it out in steps")
    if (base == 0.0 and power < 0.0) or (base < 0.0 and not power.is_integer()):
        raise UnreadableError(f"“{quote(text)}” has no real value")
    try:
        return float(base**power)
    except OverflowError:
        raise UnreadableError(f"“{quote(text)}” is too large a number") from None


def _plain(text: str) -> str:
    """Turn the signs of writing into those of a sum."""
    plain = text.translate(_SIGNS)
    if _PROGRAMMERS.search(plain):
        raise UnreadableError(f"“{quote(text)}” begins like a programmer's number (0x…); write it in plain digits")
    plain = re.sub(r"(?<=[\d)])\s*x\s*(?=[\d(])", "*", plain)
    plain = plain.replace("^", "**")
    plain = re.sub(r"(?<![\d.,])(\d{1,3}(?: \d{3})+)(?![\d/])", lambda m: m[1].replace(" ", ""), plain)
    plain = _NUMBER.sub(lambda m: _digits(m[0]), plain)
    plain = re.sub(r"(?<![\d.*/])(\d+) +(\d+ ?/ ?\d+)(?![\d.])", r"(\1+\2)", plain)
    stray = re.search(r"[^\d.eE+\-*/() \t]", plain)
    if stray:
        raise UnreadableError(
            f"“{quote(text)}” holds “{quote(stray[0])}”, which belongs neither to a number nor to a unit here"
        )
    return plain


def _digits(number: str) -> str:
    """Decide what points, commas and blanks inside one number mean."""
    exponent = _EXPONENT.search(number)
    tail = exponent[0] if exponent else ""
    body = re.sub(r"['’\u00a0\u202f\u2009]", "", number[: len(number) - len(tail)])
    ending = ""
    if body[-1:] in {".", ","}:
        body, ending = body[:-1], ""
    points, commas = body.count("."), body.count(",")
    if points and commas:
        decimal = max(".,", key=body.rfind)
        grouping = "," if decimal == "." else "."
        whole, _, part = body.rpartition(decimal)
        if whole.count(decimal) or not _grouped(whole, grouping) or not part:
            raise UnreadableError(f"“{quote(number)}” mixes commas and points; write 1234.5 or 1234,5")
        body = whole.replace(grouping, "") + "." + part
    elif points + commas > 1:
        mark = "." if points else ","
        if not _grouped(body, mark):
            raise UnreadableError(f"“{quote(number)}” has more than one {mark!r}; write 1234.5 or 1234,5")
        body = body.replace(mark, "")
    elif commas:
        whole, _, part = body.partition(",")
        if len(part) == 3 and whole not in {"", "0"} and len(whole) <= 3:
            raise UnreadableError(
                f"“{quote(number)}” can mean {whole}{part} or {whole}.{part}; write it with a point ({whole}.{part}) "
                f"or without a comma ({whole}{part})"
            )
        body = f"{whole or '0'}.{part}"
    body = body.lstrip("0") or "0"
    return ("0" + body if body.startswith(".") else body) + tail + ending


def _grouped(whole: str, mark: str) -> bool:
    return re.fullmatch(rf"[1-9]\d{{0,2}}(?:{re.escape(mark)}\d{{3}})+", whole) is not None


def _refuse_range(text: str) -> None:
    """Refuse "40-42" and "40 – 42"; a subtraction has blanks around its minus sign, or ends below its start."""
    match = _RANGE.match(text)
    if match and _digits_only(match[1]) <= _digits_only(match[2]):
        raise UnreadableError(
            f"“{quote(text)}” looks like a range from one number to another; write one value (a subtraction needs "
            "blanks around its minus)"
        )


def _digits_only(number: str) -> float:
    return float(_digits(number).rstrip("."))
