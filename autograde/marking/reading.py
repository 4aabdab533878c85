"""Handling raw text: cleaning it, quoting it safely, and saying that it cannot be read."""

from __future__ import annotations

import re
import unicodedata

QUOTED_LENGTH = 60
FRACTIONS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_SUPERSCRIPT = "⁺⁻⁰¹²³⁴⁵⁶⁷⁸⁹"
_RAISED = re.compile(f"[{_SUPERSCRIPT}]+")
_PLAIN_DIGITS = str.maketrans(_SUPERSCRIPT, "+-0123456789")
_SAFE = " +-−*/^=.,:;()°%×·÷'’“”?!½¼¾²³≈~"


class UnreadableError(ValueError):
    """Text that cannot be read; the message is for the trainee."""


def quote(text: str) -> str:
    """Cut a trainee's text short and keep only signs that mean nothing to a page, a notebook or a table.

    Examples
    --------
    >>> quote("<img src=x>  41 N m")
    '?img src=x? 41 N m'
    """
    plain = " ".join(text.split())
    if len(plain) > QUOTED_LENGTH:
        plain = plain[: QUOTED_LENGTH - 1] + "…"
    return "".join(sign if sign.isalnum() or sign in _SAFE or sign == "…" else "?" for sign in plain)


def clean(text: str) -> str:
    """Bring raised digits, fraction signs, wide digits and odd blanks into plain form.

    Examples
    --------
    >>> clean("3½  × 10² N")
    '3 1/2 × 10^2 N'
    """
    plain = _RAISED.sub(lambda match: "^" + match[0].translate(_PLAIN_DIGITS), text)
    for sign, words in FRACTIONS.items():
        plain = plain.replace(sign, f" {words} ")
    plain = unicodedata.normalize("NFKC", plain).replace("\u2044", "/")
    return " ".join(plain.split())


def with_article(noun: str, *, capital: bool = False) -> str:
    """Put the right article before a noun.

    Examples
    --------
    >>> with_article("index"), with_article("torque", capital=True)
    ('an index', 'A torque')
    """
    article = "an" if noun[:1].casefold() in "aeiou" else "a"
    return f"{article.capitalize() if capital else article} {noun}"


def show_number(value: float) -> str:
    """Write a number with four figures, without exponent where that stays short.

    Examples
    --------
    >>> show_number(41234.5), show_number(-0.5), show_number(1.5e12)
    ('41230', '-0.5', '1.5e+12')
    """
    rounded = float(f"{value:.4g}")
    return f"{rounded:g}" if abs(rounded) >= 1e7 or 0 < abs(rounded) < 1e-4 else f"{rounded:.10g}"
