"""Numbers and units in words."""

import re


def plain(value: float, unit: str) -> str:
    """Say a value with its unit.

    Parameters
    ----------
    value : float
        The value. [unit]
    unit : str
        Its unit.

    Returns
    -------
    str
        For example "200 W"; a degree sign follows without a space, and minus is a real minus sign.

    Examples
    --------
    >>> plain(200.0, "W"), plain(-2.5, "°")
    ('200 W', '−2.5°')
    """
    number = f"{value:g}".replace("-", "−")
    return f"{number}{unit}" if unit == "°" else f"{number} {unit}"


def unbroken(text: str) -> str:
    r"""Keep each number and its unit on one line.

    Parameters
    ----------
    text : str
        Any text of a bench.

    Returns
    -------
    str
        The same text with no-break spaces between numbers and units.

    Examples
    --------
    >>> unbroken("peaks at 39 N·m") == "peaks at 39\N{NO-BREAK SPACE}N·m"
    True
    """
    return re.sub(r"(?<=\d) (?=(?:%|N·m|mm²?|rpm|kPa|[JNW])(?!\w))", "\N{NO-BREAK SPACE}", text)
