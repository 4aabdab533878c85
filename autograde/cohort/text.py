"""Text typed by somebody else, made harmless for the place it goes to."""

from __future__ import annotations

import unicodedata

__all__ = ["csv_cell", "plain"]

FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")


def plain(text: str, most: int = 2000) -> str:
    r"""Take out what a terminal or a page could obey rather than show.

    Parameters
    ----------
    text : str
        Any text.
    most : int
        Characters kept; a longer text ends in an ellipsis.

    Returns
    -------
    str
        The text without control characters, marks that turn the writing direction and unpaired surrogates;
        line ends and tabs stay.

    Examples
    --------
    >>> plain("12\x1b[31m N m")
    '12�[31m N m'
    """
    shown = "".join(
        char if char in "\n\t" or unicodedata.category(char) not in ("Cc", "Cf", "Cs", "Co", "Cn") else "�"
        for char in text[: most + 1].replace("\r\n", "\n")
    )
    return shown if len(shown) <= most else shown[:most] + "…"


def csv_cell(value: object) -> str:
    """Write a value so that a spreadsheet shows it and never runs it.

    Parameters
    ----------
    value : object
        Text or a number; None is an empty cell.

    Returns
    -------
    str
        The text, with an apostrophe in front if a spreadsheet would read it as a formula.

    Examples
    --------
    >>> csv_cell("=1+1"), csv_cell(2.5)
    ("'=1+1", '2.5')
    """
    if value is None:
        return ""
    if isinstance(value, int | float):
        return f"{value:g}"
    text = plain(str(value)).replace("\n", " ")
    return f"'{text}" if text.startswith(FORMULA_STARTS) else text
