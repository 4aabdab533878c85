"""The built book, its sources and its own extension, for tests that need no browser."""

import subprocess
import sys
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

import pytest
import yaml
from bs4 import BeautifulSoup

ROOT = Path(__file__).parents[2]
BOOK = ROOT / "book"
SITE = ROOT / ".build" / "_build" / "html"
BUILD = ["-W", "-n", "--config", "_config.yml"]
sys.path.insert(0, str(BOOK / "_ext"))


@dataclass(frozen=True)
class Site:
    """A built book on disk."""

    folder: Path

    @cached_property
    def pages(self) -> dict[str, BeautifulSoup]:
        """Every page, parsed, by file name."""
        return {
            path.name: BeautifulSoup(path.read_text(encoding="utf8"), "html.parser")
            for path in sorted(self.folder.glob("*.html"))
        }

    def text(self, name: str, section: str = "") -> str:
        """Visible words of a page or of one section, white space run together."""
        page = self.pages[name]
        part = page.find(id=section) if section else page.find("article")
        if section and part.name == "span":
            part = part.find_parent("section")
        return " ".join(part.get_text(" ").split())


@pytest.fixture(scope="session")
def site() -> Site:
    """Return the book that ``make book`` built; build it if there is none."""
    if not (SITE / "index.html").is_file():
        subprocess.run(["make", "book"], cwd=ROOT, check=True)
    return Site(SITE)


@pytest.fixture(scope="session")
def toc() -> dict[str, list[str]]:
    """Pages of the table of contents by the caption of their part."""
    contents = yaml.safe_load((BOOK / "_toc.yml").read_text(encoding="utf8"))
    return {part["caption"]: [chapter["file"] for chapter in part["chapters"]] for part in contents["parts"]}
