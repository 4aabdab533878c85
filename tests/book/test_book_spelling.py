"""Spelling of all that a reader meets: pages, briefs, feedback, the command's help; by hunspell (British English)."""

import re
import shutil
import subprocess
import unicodedata
from collections import defaultdict
from functools import cache
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from autograde.cases import discover_families
from pedalwright_app.main import main

ROOT = Path(__file__).parents[2]
OWN_WORDS = ROOT / "tests" / "book" / "words.txt"
NOT_PROSE = ["code", "pre", "math", "script", "style", "cite", "svg"]
WORD = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)?")
NAME = re.compile(r"\S*/\S*|\w*\.(?=\w)\w+|\b[A-Z]+(_[A-Z]+)+\b|\b[A-Z]{3,}['’]s|\w*\d\w*")
MARKDOWN_NOT_PROSE = re.compile(
    r"```.*?```|~~~.*?~~~|`[^`]*`|\{\{.*?\}\}|\{%.*?%\}|\$[^$]*\$|\]\([^)]*\)|^\+\+\+.*?$|^---\n.*?\n---\n|<[^>]*>|^:\S+:.*?$",
    re.DOTALL | re.MULTILINE,
)


@cache
def known_words():
    own = {line.strip() for line in OWN_WORDS.read_text(encoding="utf8").splitlines() if not line.startswith("#")}
    return own - {""}


@cache
def names_in_citations():
    """Words of the bibliography, accents left off: people who are cited, and titles in other languages."""
    entries = (ROOT / "book" / "references.bib").read_text(encoding="utf8")
    plain = re.sub(r"[{}]|\\\W|\\[cuvH] ?(?=[{\w])|\\(?=[ij]\b)", "", entries)
    return {without_accents(word) for word in WORD.findall(plain)}


def without_accents(word):
    plain = unicodedata.normalize("NFKD", word.removesuffix("'s")).replace("ı", "i")
    return "".join(letter for letter in plain if not unicodedata.combining(letter))


def words_of(text):
    """Words of a text; names of files, variables, placeholders and keys are none."""
    return {word.replace("’", "'") for word in WORD.findall(NAME.sub(" ", text))}


def misspelt(words):
    """Words that neither the dictionary nor the project's own list knows."""
    if shutil.which("hunspell") is None:
        pytest.fail("hunspell was not found; install the Debian packages hunspell and hunspell-en-gb")
    told = subprocess.run(
        ["hunspell", "-l", "-i", "utf-8", "-d", "en_GB"], input="\n".join(sorted(words)), capture_output=True, text=True
    )
    assert told.returncode == 0, f"hunspell failed ({told.stderr.strip()}); is the package hunspell-en-gb installed?"
    known, names = known_words() | {word.capitalize() for word in known_words()}, names_in_citations()
    return {word for word in told.stdout.split() if word not in known and without_accents(word) not in names}


def prose(page):
    article = BeautifulSoup(str(page.find("article")), "html.parser")
    for tag in article.find_all(NOT_PROSE):
        tag.decompose()
    return article.get_text(" ")


def help_texts(command, path="pedalwright"):
    yield path, " ".join([command.help or "", *(getattr(each, "help", "") or "" for each in command.params)])
    for name, each in getattr(command, "commands", {}).items():
        yield from help_texts(each, f"{path} {name}")


def feedback_texts():
    for family in discover_families().values():
        for slip in family.misconceptions:
            yield f"{family.name}: {slip.id}", f"{slip.label} {slip.feedback}"
        for task in family.tasks:
            yield f"{family.name}: {task.id}", MARKDOWN_NOT_PROSE.sub(" ", task.prompt)


def markdown_files():
    yield from (ROOT / name for name in ("README.md", "DEVELOPERS.md"))
    yield from sorted((ROOT / "exercises").glob("*/brief.md"))


@pytest.fixture(scope="module")
def used(site):
    texts = {name: prose(page) for name, page in site.pages.items() if page.find("article") and name != "search.html"}
    texts |= {
        f"{path.parent.name}/{path.name}": MARKDOWN_NOT_PROSE.sub(" ", path.read_text()) for path in markdown_files()
    }
    texts |= dict(feedback_texts()) | {f"{path} --help": text for path, text in help_texts(main)}
    places = defaultdict(list)
    for name, text in texts.items():
        for word in words_of(text):
            places[word].append(name)
    return places


def test_words_are_spelt_as_in_the_dictionary_or_in_the_list_of_the_trade(used):
    wrong = [f"{word}: {', '.join(used[word][:3])}" for word in sorted(misspelt(used), key=str.lower)]
    assert not wrong, "mend, or add to tests/book/words.txt if the trade uses it:\n" + "\n".join(wrong)


def test_a_slip_of_the_pen_is_found():
    assert misspelt({"saddle", "sadlle", "pelvis", "pevlis", "colour", "color"}) == {"sadlle", "pevlis", "color"}


def test_every_word_of_the_list_is_used(used):
    lower = {word.lower() for word in used}
    assert {word for word in known_words() if word.lower() not in lower} == set()
