"""Which way a bench is shown: frames drawn beforehand, or live in a kernel."""

import os
import sys
from typing import Any

from pedalwright_bench.bench import bench


def is_live() -> bool:
    """Whether a kernel stays with the reader: never in a book build, else on request or in a notebook."""
    if os.environ.get("PEDALWRIGHT_BOOK") == "1":
        return False
    if os.environ.get("PEDALWRIGHT_LIVE") == "1":
        return True
    shell = sys.modules.get("IPython")
    running = shell.get_ipython() if shell is not None else None
    return getattr(running, "kernel", None) is not None


def show(name: str) -> Any:
    """Show a bench in a page or notebook.

    Parameters
    ----------
    name : str
        Name of the bench, for example "lever-tangency".

    Returns
    -------
    object
        A widget where a kernel stays with the reader, otherwise a fragment of HTML.

    Raises
    ------
    PedalwrightError
        If there is no bench of that name.
    """
    found = bench(name)
    if is_live():
        from pedalwright_bench.live import live

        return live(found)
    from pedalwright_bench.static import static

    return static(found)
