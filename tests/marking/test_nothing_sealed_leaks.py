"""What a trainee gets, searched whole: sources, outputs, metadata, attachments and the words in the pictures.

A key counts as told when one of its usual spellings stands in the notebook, unless the same number stands in the
brief's own template or is one of the readings the trainee is given. That no reading and no placeholder *is* a key is
looked at over many variants.
"""

import base64
import dataclasses
import json
import math
import re
import struct
import sys
from collections import Counter
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from matplotlib.text import Text

from autograde.cases import discover_families, trainee_variant
from autograde.cases.variants import seed_of
from autograde.cohort.handout import HandOutJob, release_notebook
from autograde.marking.answers import how_to_write
from autograde.marking.form import check_form
from autograde.marking.solving import key_values

FAMILIES = discover_families()
SECRET = bytes(range(7, 39))
TRAINEES = ("wren", "heron", "plover")
MANY = 24
PNG_PARTS = {b"IHDR", b"PLTE", b"tRNS", b"pHYs", b"IDAT", b"IEND"}
NUMBER = re.compile(r"[-−]?\d[\d.,]*")
NBGRADER = {"schema_version", "grade", "solution", "locked", "task", "grade_id", "cell_type", "checksum", "points"}


@pytest.fixture(params=FAMILIES.values(), ids=FAMILIES.keys())
def family(request):
    return request.param


@cache
def handed_out(name, trainee):
    """The notebook as it is handed out, and what its pictures say."""
    said = []
    pictures = [m for full, m in sys.modules.items() if full.startswith(module_of(name)) and hasattr(m, "to_png")]
    drawn = {module: module.to_png for module in pictures}
    for module, to_png in drawn.items():

        def spying(figure, to_png=to_png):
            scales = {id(label) for axes in figure.axes for label in even_scales(axes)}
            said.extend(text.get_text() for text in figure.findobj(Text) if id(text) not in scales)
            return to_png(figure)

        module.to_png = spying
    try:
        content, _ = release_notebook(HandOutJob(trainee, trainee.title(), name, 1, Path(), SECRET, ()))
    finally:
        for module, to_png in drawn.items():
            module.to_png = to_png
    assert said, "the pictures were drawn through to_png"
    return content, said


def even_scales(axes):
    """Labels of scales with even steps, which say nothing about the rider."""
    for axis in (axes.xaxis, axes.yaxis):
        if len(axis.get_ticklocs()) > 2 and np.ptp(np.diff(axis.get_ticklocs())) < 1e-9:
            for tick in axis.get_major_ticks():
                yield from (tick.label1, tick.label2)


def module_of(name):
    return f"_pedalwright_case_{name.replace('-', '_')}."


def numbers_in(text):
    return {plain(found) for found in NUMBER.findall(text)}


def plain(number):
    return number.rstrip(".,").replace(",", ".").replace("−", "-")


def spellings(value, least=3):
    """Usual ways of writing a number, with at least so many figures."""
    shown = {
        format(each, form) for each in (value, abs(value)) for form in (".0f", ".1f", ".2f", ".3f", ".3g", ".4g", ".5g")
    }
    return {each for each in shown if "e" not in each and len(re.sub(r"^-?0?\.?0*|\D", "", each)) >= least}


def numeric_keys(family, variant):
    keys = key_values(family.tasks, variant.case)
    return {task: value for task, value in keys.items() if isinstance(value, float)}


def readings(case):
    """Every number of a case, by its place."""
    found = {}

    def walk(place, value):
        if dataclasses.is_dataclass(value):
            for field in dataclasses.fields(value):
                walk(f"{place}.{field.name}", getattr(value, field.name))
        elif isinstance(value, tuple | list):
            for index, item in enumerate(value):
                walk(f"{place}[{index}]", item)
        elif isinstance(value, int | float) and not isinstance(value, bool):
            found[place] = float(value)

    walk("case", case)
    return found


def template_numbers(family):
    """Numbers that every trainee reads alike."""
    text = [(family.folder / "brief.md").read_text(encoding="utf-8")]
    for task in family.tasks:
        text += [task.prompt, task.title, how_to_write(task.kind), str(task.kind), f"{task.marks:g}"]
    return numbers_in(" ".join(text).replace("°", " "))


def test_metadata_and_outputs_hold_only_what_nbgrader_needs(family):
    for trainee in TRAINEES:
        notebook = json.loads(handed_out(family.name, trainee)[0])
        assert set(notebook) == {"cells", "metadata", "nbformat", "nbformat_minor"}
        assert set(notebook["metadata"]) == {"kernelspec", "language_info", "pedalwright"}
        assert notebook["metadata"]["pedalwright"] == {"case": family.name, "trainee": trainee, "attempt": 1}
        for cell in notebook["cells"]:
            assert set(cell) <= {"cell_type", "id", "metadata", "source", "outputs", "execution_count", "attachments"}
            assert cell.get("outputs", []) == []
            assert cell.get("execution_count") is None
            assert set(cell["metadata"]) <= {"nbgrader", "deletable", "editable"}
            assert set(cell["metadata"].get("nbgrader", {})) <= NBGRADER


def test_metadata_is_the_same_for_everybody(family):
    seen = {
        json.dumps([(cell["id"], cell["metadata"]) for cell in json.loads(handed_out(family.name, who)[0])["cells"]])
        for who in TRAINEES
    }
    assert len(seen) == 1


def test_pictures_carry_pixels_and_nothing_else(family):
    for trainee in TRAINEES:
        for png in attachments(handed_out(family.name, trainee)[0]):
            assert png[:8] == b"\x89PNG\r\n\x1a\n"
            at, parts = 8, []
            while at < len(png):
                length, part = struct.unpack(">I4s", png[at : at + 8])
                parts.append(part)
                at += 12 + length
            assert set(parts) <= PNG_PARTS, parts
            assert parts[-1] == b"IEND"
            assert at == len(png), "nothing hides behind the end"


def attachments(content):
    return [
        base64.b64decode(data, validate=True)
        for cell in json.loads(content)["cells"]
        for pictures in cell.get("attachments", {}).values()
        for data in pictures.values()
    ]


def test_no_notebook_holds_secret_seed_or_fingerprint(family):
    for trainee in TRAINEES:
        content, said = handed_out(family.name, trainee)
        everything = b"\n".join([content, *attachments(content), " ".join(said).encode()])
        seed = seed_of(SECRET, trainee, family.name)
        variant = trainee_variant(family, SECRET, trainee)
        for secret in (SECRET, seed, bytes.fromhex(variant.fingerprint)):
            for spelling in spellings_of_bytes(secret):
                assert spelling not in everything, (trainee, spelling)


def spellings_of_bytes(secret):
    """Raw, in hexadecimal, in base 64 and as a number, whole or its first half."""
    for part in (secret, secret[: len(secret) // 2], secret[::-1]):
        yield part
        yield from (part.hex().encode(), part.hex().upper().encode(), part.hex(":").encode())
        yield from (base64.b64encode(part).rstrip(b"=")[:-1], base64.urlsafe_b64encode(part).rstrip(b"=")[:-1])
        yield from (str(int.from_bytes(part, order)).encode() for order in ("big", "little"))
        yield str(list(part)).encode()[1:-1]


def told_keys(family, case, key, text):
    """Keys whose spellings stand in a text though neither template nor reading accounts for them."""
    given = template_numbers(family) | numbers_in(str(case))
    for value in readings(case).values():
        given |= {format(each, form) for each in (value, abs(value)) for form in ("g", ".1f")}
    shown = numbers_in(text) - given
    return {task: spellings(value) & shown for task, value in key.items() if spellings(value) & shown}


def everything_said(content, said):
    """Sources, names of attachments and the words in the pictures."""
    cells = json.loads(content)["cells"]
    return " ".join(
        [cell["source"] for cell in cells] + [" ".join(cell.get("attachments", {})) for cell in cells] + said
    )


def test_no_notebook_and_no_picture_tells_a_key(family):
    for trainee in TRAINEES:
        variant = trainee_variant(family, SECRET, trainee)
        text = everything_said(*handed_out(family.name, trainee))
        assert not told_keys(family, variant.case, numeric_keys(family, variant), text), trainee


def test_a_planted_key_is_found(family):
    """The search is no search when it finds nothing that is there."""
    variant = trainee_variant(family, SECRET, TRAINEES[0])
    text = everything_said(*handed_out(family.name, TRAINEES[0]))
    planted = {task: value + 0.0317 for task, value in numeric_keys(family, variant).items()}
    for task, value in planted.items():
        assert task in told_keys(family, variant.case, planted, f"{text} ({value:.4g})".replace(".", ",")), task


def test_no_reading_and_no_placeholder_is_a_key(family):
    """A single reading may equal a key by chance; one that does in most variants gives it away."""
    told, counted = Counter(), Counter()
    for number in range(MANY):
        variant = trainee_variant(family, SECRET, f"trainee-{number}")
        places = {place: {f"{value:g}"} for place, value in readings(variant.case).items()}
        places |= {f"{{{{ {name} }}}}": numbers_in(str(text)) for name, text in family.context(variant.case).items()}
        for task, value in numeric_keys(family, variant).items():
            written = spellings(value, least=1)
            for place, numbers in places.items():
                counted[task, place] += 1
                told[task, place] += bool(len(numbers) <= 4 and written & numbers)
    assert not {pair: count for pair, count in told.items() if count > 0.6 * counted[pair]}


def test_wordings_stand_in_the_same_order_for_everybody(family):
    """The right option cannot be told from how the options are laid out."""
    for task in family.tasks:
        if not hasattr(task.kind, "options"):
            continue
        lists = set()
        for trainee in TRAINEES:
            sources = ["".join(cell["source"]) for cell in json.loads(handed_out(family.name, trainee)[0])["cells"]]
            asked = next(text for text in sources if f": {task.title} (" in text)
            lists.add(tuple(re.findall(r"^- \*\*.*$", asked, flags=re.MULTILINE)))
        assert len(lists) == 1, task.id


def test_outputs_of_answer_cells_know_no_key(family):
    """What running an answer cell leaves in the notebook: the same for every trainee, whatever the key is."""
    variant = trainee_variant(family, SECRET, TRAINEES[0])
    for task, value in numeric_keys(family, variant).items():
        kind = family.task(task).kind
        for typed in (f"{1.37 * value + 3:.4g} {kind.unit}", "7", "1e6", "a lot", ""):
            said = check_form(family.task(task), typed).message.replace(how_to_write(kind), "")
            echoed = numbers_in(typed) | numbers_in(" ".join(map(str, kind.plausible)))
            assert not (spellings(value) - echoed) & numbers_in(said), (task, typed)


@pytest.mark.parametrize("value", [0.387, -1.25, 41.53, 1234.5])
def test_the_search_finds_what_it_looks_for(value):
    assert spellings(value) & numbers_in(f"the answer is {value:.4g}, of course")
    assert spellings(value) & numbers_in(f"the answer is {abs(value):.4g} N m".replace(".", ","))
    assert not spellings(value) & numbers_in("the answer is 17 N m")
    assert math.isfinite(value)
