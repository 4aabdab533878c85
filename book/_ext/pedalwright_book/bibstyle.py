"""The sources list: labelled by author and year, the way the text cites."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from pybtex.database import Entry
from pybtex.plugin import register_plugin
from pybtex.richtext import Text
from pybtex.style.formatting.plain import Style as PlainStyle
from pybtex.style.labels import BaseLabelStyle
from sphinx.application import Sphinx


def author_year(entry: Entry) -> str:
    """Return a label such as ``Bini and Hume 2014``; without an author, the first words of the title."""
    names = [plain(" ".join(person.prelast_names + person.last_names)) for person in entry.persons.get("author", ())]
    if not names:
        names = [plain(entry.fields.get("organization") or " ".join(entry.fields["title"].split()[:4]))]
    who = names[0] if len(names) == 1 else " and ".join(names) if len(names) == 2 else f"{names[0]} et al."
    return f"{who} {entry.fields.get('year', 'no date')}"


def plain(tex: str) -> str:
    """Return a name without its TeX marks."""
    return str(Text.from_latex(tex))


class AuthorYearLabels(BaseLabelStyle):
    """Labels by author and year; two that are alike get a letter."""

    def format_labels(self, sorted_entries: Iterable[Entry]) -> Iterator[str]:
        """Yield one unique label an entry."""
        labels = [author_year(entry) for entry in sorted_entries]
        total, seen = Counter(labels), Counter()
        for label in labels:
            seen[label] += 1
            yield label if total[label] == 1 else f"{label}{chr(ord('a') + seen[label] - 1)}"


class Style(PlainStyle):
    """The plain style with our labels."""

    default_label_style = AuthorYearLabels


def setup(app: Sphinx) -> None:
    """Make the style known under the name ``pedalwright``."""
    register_plugin("pybtex.style.formatting", "pedalwright", Style)
