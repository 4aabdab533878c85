"""Pages to paper: a browser without a window prints HTML to PDF."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from pathlib import Path

from pedalwright_app.pack.modules import PackError

__all__ = ["browser", "print_pdf"]

NAMES = ("chromium", "chromium-browser", "google-chrome")
QUIET = (
    "--headless",
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--allow-file-access-from-files",
    "--no-pdf-header-footer",
)
LONGEST_S = 120


def browser() -> str:
    """Find the browser that prints.

    Returns
    -------
    str
        Path of Chromium: the one that PEDALWRIGHT_CHROMIUM names, or one on the search path.

    Raises
    ------
    PackError
        If there is none.
    """
    named = os.environ.get("PEDALWRIGHT_CHROMIUM")
    found = shutil.which(named) if named else next((path for name in NAMES if (path := shutil.which(name))), None)
    if not found:
        looked = named or ", ".join(NAMES)
        raise PackError(
            f"the pack is printed by Chromium, and none was found (looked for {looked}). Install it (Debian: "
            "apt-get install chromium) or set PEDALWRIGHT_CHROMIUM to its path"
        )
    return found


def print_pdf(page: str, target: Path) -> None:
    """Print one HTML page.

    Parameters
    ----------
    page : str
        A whole document whose links to pictures and styles are absolute.
    target : Path
        The PDF to write; replaced only when printing went well.

    Raises
    ------
    PackError
        If the browser fails or takes longer than two minutes.
    """
    as_root = ["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
    with tempfile.TemporaryDirectory(prefix="pedalwright-") as scratch:
        source, made = Path(scratch) / "page.html", Path(scratch) / "page.pdf"
        source.write_text(page, encoding="utf8")
        command = [browser(), *QUIET, *as_root, f"--user-data-dir={scratch}/profile", f"--print-to-pdf={made}"]
        try:
            done = subprocess.run([*command, source.as_uri()], capture_output=True, text=True, timeout=LONGEST_S)
        except subprocess.TimeoutExpired:
            raise PackError(f"{target.name}: the browser took longer than {LONGEST_S} s; try again") from None
        if done.returncode or not made.is_file():
            raise PackError(f"{target.name}: the browser could not print it: {done.stderr.strip()[-300:]}")
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.move(made, target)
