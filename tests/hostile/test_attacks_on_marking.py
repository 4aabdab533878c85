"""Submissions that attack, all in one cohort and marked in one run beside honest ones.

Each attack is a line of the table: how it is made, which marks its honest part has earned, and what is reported.
Attackers type wrong answers unless the line says otherwise, so that every mark above `earned` was stolen.
"""

import copy
import csv
import gzip
import io
import json
import os
import re
import shutil
import stat
import unicodedata
import zipfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest
from click.testing import CliRunner

from autograde.cases import trainee_variant
from autograde.cohort.collect import collect
from autograde.cohort.families import load_case
from autograde.cohort.feedback import write_feedback
from autograde.cohort.folder import Cohort, open_cohort
from autograde.cohort.gradebook_marks import write_marks
from autograde.cohort.handout import hand_out
from autograde.cohort.make import make_cohort, plan
from autograde.cohort.marking import mark_all, marked, to_mark
from autograde.cohort.report import write_report
from autograde.cohort.roster import Trainee
from autograde.cohort.standing import standing
from autograde.marking import State
from pedalwright_app.filling import fill
from pedalwright_app.main import main

pytestmark = pytest.mark.xdist_group("attacks on marking")

CASE = "crank-drill"
SECRET = bytes(range(32))
WRONG = {"torque": "1 N m", "power": "1 W", "other-leg": "A", "advice": "Ride on."}
HONEST = ("wren", "heron")
RAN = "window.ran=1;document.title='it ran'"
"""What a script of an attacker does if a page lets it."""


@dataclass
class Kit:
    """What an attacker has at hand: their notebook, and more knowledge than any trainee has."""

    who: str
    cohort: Cohort

    @property
    def release(self) -> bytes:
        return self.cohort.notebook("release", self.who, CASE).read_bytes()

    @property
    def right(self) -> dict[str, str]:
        """Torque is force times lever, power is torque times angular velocity (2 pi by 60 for turns a minute)."""
        case = trainee_variant(load_case(CASE, self.cohort.settings.case_folders), self.cohort.secret, self.who).case
        torque = case.force_n * case.crank_mm / 1000
        power = torque * case.cadence_rpm * 0.104719755
        return {
            "torque": f"{torque:.2f} N m",
            "power": f"{power:.1f} W",
            "other-leg": "B",
            "advice": "Refer if it hurts.",
        }

    def wrong(self, **typed: str) -> bytes:
        return fill(self.release, WRONG | {key.replace("_", "-"): text for key, text in typed.items()})

    def honest(self, **typed: str) -> bytes:
        return fill(self.release, self.right | {key.replace("_", "-"): text for key, text in typed.items()})

    def put(self, content: bytes, name: str = "") -> None:
        (self.cohort.inbox / (name or f"{self.who}__{CASE}.ipynb")).write_bytes(content)


def opened(content, change):
    notebook = json.loads(content)
    change(notebook)
    return json.dumps(notebook).encode()


def cells(content, change):
    return opened(content, lambda notebook: change(notebook["cells"]))


def named(all_cells, name):
    return next(cell for cell in all_cells if cell["metadata"].get("nbgrader", {}).get("grade_id") == name)


def mark_of(all_cells, name):
    return named(all_cells, name)["metadata"]["nbgrader"]


def code(source, **more):
    return {"cell_type": "code", "id": "x", "metadata": {}, "source": source, "outputs": [], **more}


def output(**data):
    return {"output_type": "execute_result", "data": data, "metadata": {}, "execution_count": 1}


def forged_everywhere(**fields):
    def change(all_cells):
        for cell in all_cells:
            cell["metadata"].get("nbgrader", {}).update(fields)

    return lambda kit: cells(kit.wrong(), change)


def in_metadata(name, **fields):
    return lambda kit: cells(kit.wrong(), lambda all_cells: mark_of(all_cells, name).update(fields))


def with_cell(source, **more):
    return lambda kit: cells(kit.wrong(), lambda all_cells: all_cells.append(code(source, **more)))


def replaced(name, source, **more):
    return lambda kit: cells(kit.wrong(), lambda all_cells: named(all_cells, name).update(source=source, **more))


def typed(**answers):
    return lambda kit: kit.wrong(**answers)


def doubled(name, times, **more):
    def change(all_cells):
        all_cells.extend({**copy.deepcopy(named(all_cells, name)), **more} for _ in range(times))

    return change


def zipped(*entries, **how):
    def place(kit):
        with zipfile.ZipFile(kit.cohort.inbox / f"{kit.who}.zip", "w", zipfile.ZIP_DEFLATED, **how) as archive:
            for name, content in entries:
                entry = zipfile.ZipInfo(name.format(who=kit.who, case=CASE))
                entry.compress_type = zipfile.ZIP_DEFLATED
                if content is None:
                    entry.external_attr = (stat.S_IFLNK | 0o777) << 16
                    content = b"/etc/passwd"
                archive.writestr(entry, content)

    return place


def file_called(name):
    def place(kit):
        os.close(
            os.open(
                os.fsencode(str(kit.cohort.inbox)) + b"/" + name.format(who=kit.who).encode("utf-8", "surrogateescape"),
                os.O_CREAT,
            )
        )

    return place


def link_to(target):
    return lambda kit: (kit.cohort.inbox / f"{kit.who}__{CASE}.ipynb").symlink_to(target(kit.cohort))


def sparse(kit):
    with (kit.cohort.inbox / f"{kit.who}__{CASE}.ipynb").open("wb") as stream:
        stream.truncate(3_000_000_000)


def mixed_zip(kit):
    zipped(("{who}__{case}.ipynb", b"0" * 60_000_000), (f"{HONEST[0]}/../../{CASE}/x.ipynb", b"{}"))(kit)


def lookalike(text):
    """The same word with a Cyrillic letter that looks like one of its own."""
    return text.replace("a", "а", 1).replace("e", "е", 1)


@dataclass(frozen=True)
class Attack:
    """One line of the table.

    `make` returns the notebook handed in; `place` puts something else into the inbox. `earned` are the marks for what
    was honestly answered, or None when the file must be refused; `says` is found in what is reported.
    """

    make: Callable[[Kit], bytes] | None = None
    place: Callable[[Kit], object] | None = None
    earned: float | None = 0
    says: str = ""


NOT_WHOLE = "not a complete notebook"
RELABELLED = "flags noted in its cells were changed"
ATTACKS = {
    # files that only look like notebooks
    "nothing at all": Attack(lambda kit: b"", says=NOT_WHOLE),
    "a program": Attack(lambda kit: b"\x7fELF" + bytes(200), says=NOT_WHOLE),
    "packed": Attack(lambda kit: gzip.compress(kit.honest()), says=NOT_WHOLE),
    "cut off": Attack(lambda kit: kit.honest()[:-2], says=NOT_WHOLE),
    "more behind the end": Attack(lambda kit: kit.honest() + b'{"cells": []}', says=NOT_WHOLE),
    "a notebook inside a text": Attack(
        lambda kit: json.dumps(kit.honest().decode()).encode(), says="no notebook cells"
    ),
    "deep brackets": Attack(lambda kit: b"[" * 200_000, says="nested too deeply|" + NOT_WHOLE),
    "deep in a notebook's metadata": Attack(
        lambda kit: kit.wrong().replace(b'"cells"', b'"deep": ' + b"[" * 90_000 + b"]" * 90_000 + b', "cells"', 1),
        says="nested too deeply",
    ),
    "ten thousand cells": Attack(
        lambda kit: cells(kit.honest(), lambda c: c.extend([code("x")] * 10_000)), says="no more than 5000 are read"
    ),
    "a number with ten thousand digits": Attack(
        lambda kit: opened(kit.wrong(), lambda n: None).replace(b'"nbformat": 4', b'"nbformat": ' + b"9" * 10_000, 1),
        says=NOT_WHOLE,
    ),
    "a number beyond all numbers": Attack(
        lambda kit: opened(kit.wrong(), lambda n: None).replace(b'"points": 2.0', b'"points": 1e999', 1),
        says=RELABELLED + r" \(torque\)",
    ),
    "not a number as points": Attack(
        in_metadata("check-torque", points=float("nan"), score=float("inf")), says=RELABELLED + r" \(torque\)"
    ),
    "format 3 with worksheets": Attack(
        lambda kit: opened(kit.honest(), lambda n: n.update(nbformat=3, worksheets=[{"cells": n.pop("cells")}])),
        says="no notebook cells",
    ),
    "format 99": Attack(
        lambda kit: opened(kit.honest(), lambda n: n.update(nbformat=99)), earned=6, says="another notebook format"
    ),
    "cells given twice, the right ones hidden": Attack(
        lambda kit: b'{"cells": ' + json.dumps(json.loads(kit.honest())["cells"]).encode() + b", " + kit.wrong()[1:],
        says="given twice",
    ),
    "a mark of byte order in front": Attack(lambda kit: b"\xef\xbb\xbf" + kit.honest(), earned=6),
    "sixteen bits a letter": Attack(lambda kit: kit.honest().decode().encode("utf-16"), earned=6),
    "bytes that are no text": Attack(lambda kit: kit.wrong().replace(b"Ride on", b"\xff\xfe\xc0", 1), says=NOT_WHOLE),
    "a zero byte in it": Attack(lambda kit: kit.wrong().replace(b"Ride on", b"a\0b", 1), says=NOT_WHOLE),
    # metadata
    "more points": Attack(forged_everywhere(points=1000, score=1000, max_score=1000), says=RELABELLED),
    "fewer points for the rest": Attack(forged_everywhere(points=-5), says=RELABELLED),
    "points as text": Attack(forged_everywhere(points="<b>9</b>"), says=RELABELLED),
    "grade cells declared ungraded": Attack(
        forged_everywhere(grade=False, solution=False, locked=False), says=RELABELLED
    ),
    "everything a task": Attack(forged_everywhere(task=True, grade=True, solution=True), says=RELABELLED),
    "another edition of the metadata": Attack(forged_everywhere(schema_version=99), says=RELABELLED),
    "an edition that is no number": Attack(forged_everywhere(schema_version={"$ref": "#"}), says=RELABELLED),
    "a forged fingerprint": Attack(forged_everywhere(checksum="0" * 32)),
    "the answer cell declared another task's": Attack(
        lambda kit: cells(kit.wrong(), lambda c: mark_of(c, "answer-torque").update(grade_id="answer-power")),
        says="another task|different answers",
    ),
    "ids that lead elsewhere": Attack(forged_everywhere(grade_id="answer-../../../secret"), says="lost its label"),
    "ids with a zero byte and escapes": Attack(forged_everywhere(grade_id="answer-\0\x1b[2J"), says="lost its label"),
    "ids that are lists": Attack(forged_everywhere(grade_id=["answer-torque"]), says="lost its label"),
    "ids in look-alike letters": Attack(
        in_metadata("answer-torque", grade_id=lookalike("answer-torque")),
        says="torque: its answer cell had lost its label",
    ),
    "a kernel that is a command": Attack(
        lambda kit: opened(kit.wrong(), lambda n: n["metadata"].update(kernelspec={"name": "../../sh", "argv": ["rm"]}))
    ),
    "another language": Attack(
        lambda kit: opened(kit.wrong(), lambda n: n["metadata"].update(language_info={"name": "bash", "version": "9"}))
    ),
    "another attempt": Attack(
        lambda kit: opened(kit.wrong(), lambda n: n["metadata"]["pedalwright"].update(attempt=10**9)),
        says="not gradable|out of tolerance|attempt",
    ),
    "somebody else's notebook": Attack(
        lambda kit: Kit(HONEST[0], kit.cohort).honest(), says="handed out to somebody else"
    ),
    "somebody else's notebook with one's own name": Attack(
        lambda kit: opened(
            Kit(HONEST[0], kit.cohort).honest(other_leg="A"),
            lambda n: n["metadata"]["pedalwright"].update(trainee=kit.who),
        ),
        says="out of tolerance",
    ),
    "a name that is a list": Attack(
        lambda kit: opened(kit.wrong(), lambda n: n["metadata"]["pedalwright"].update(trainee=[kit.who])),
        says="somebody else",
    ),
    # cells
    "a hundred copies of the answer": Attack(
        lambda kit: cells(kit.wrong(), doubled("answer-torque", 100)), says="more than once"
    ),
    "a second answer": Attack(
        lambda kit: cells(kit.wrong(), doubled("answer-torque", 1, source="%%answer torque\n2 N m")),
        says="2 answer cells",
    ),
    "every answer there is": Attack(
        lambda kit: cells(
            kit.wrong(), lambda c: c.extend(code(f"%%answer torque\n{value} N m") for value in range(2, 100))
        ),
        says="99 answer cells",
    ),
    "answer cells deleted": Attack(
        lambda kit: cells(
            kit.honest(), lambda c: c.__setitem__(slice(None), [x for x in c if "answer" not in x["id"]])
        ),
        says="answer cell was deleted",
    ),
    "check cells deleted": Attack(
        lambda kit: cells(kit.wrong(), lambda c: c.__setitem__(slice(None), [x for x in c if "check" not in x["id"]])),
        says="check cell is missing",
    ),
    "a check cell that says full marks": Attack(
        replaced("check-torque", "2.0", outputs=[output(**{"text/plain": "2.0"})], execution_count=1),
        says=r"check cell was rewritten \(torque\)",
    ),
    "a check cell twice": Attack(
        lambda kit: cells(kit.wrong(), doubled("check-torque", 1)),
        says=r"check cell is there more than once \(torque\)",
    ),
    "an answer as a raw cell": Attack(replaced("answer-torque", "1 N m", cell_type="raw")),
    "answers kept in attachments": Attack(
        lambda kit: cells(
            kit.wrong(), lambda c: named(c, "words-advice").update(attachments={"../../x": {"text/html": "<script>"}})
        )
    ),
    "the answer line in look-alike letters": Attack(
        replaced("answer-torque", lookalike("%%answer torque") + "\n1 N m"), says="torque.*(not gradable|deleted|read)"
    ),
    "a cell of another kind": Attack(replaced("answer-torque", {"a": ["b"]}), says="torque.*answer cell was deleted"),
    "a source with unpaired surrogates": Attack(typed(advice="\ud800\udfff\ud83d"), says="not gradable"),
    # answers
    "every number at once": Attack(typed(torque=" ".join(f"{n} N m" for n in range(150))), says="torque: not gradable"),
    "one or the other": Attack(typed(torque="30 N m or 40 N m or 50 N m"), says="not gradable"),
    "from nothing to all": Attack(typed(torque="0-150 N m"), says="not gradable"),
    "all options": Attack(typed(other_leg="A B"), says="not gradable"),
    "not a number": Attack(typed(torque="nan N m", power="NaN"), says="not gradable"),
    "infinity": Attack(typed(torque="inf N m", power="1e999 W"), says="not gradable"),
    "a tower of powers": Attack(typed(torque="9**9**9**9**9 N m", power="10**10**10 W"), says="not gradable"),
    "a long product": Attack(typed(torque="*".join(["9" * 300] * 50) + " N m"), says="not gradable"),
    "ten thousand brackets": Attack(typed(torque="(" * 9_000 + "1" + ")" * 9_000 + " N m"), says="not gradable"),
    "ten thousand signs": Attack(
        typed(torque="-" * 19_000 + "1 N m", power="1" + " " * 19_000 + "x"), says="not gradable"
    ),
    "division by nothing": Attack(typed(torque="1/0 N m", power="0**-1 W"), says="not gradable"),
    "an unknown tower of units": Attack(typed(torque="1 N m" + "*m/m" * 3_000), says="not gradable"),
    "a call in place of a number": Attack(
        typed(torque="__import__('os').system('touch /tmp/ran') N m"), says="not gradable"
    ),
    "letters like digits": Attack(typed(torque="l0 N m", power="１ W"), says="not gradable|out of tolerance"),
    "writing turned round": Attack(typed(torque="\u202e1 N m\u202c", power="1\u200b0\u2060 W"), says="not gradable"),
    "a zero byte as an answer": Attack(typed(torque="\0", advice="a\0b"), says="not gradable"),
    "escapes for a terminal": Attack(
        typed(
            torque="\x1b[2J\x1b]0;owned\x07 1 N m", advice="\x1b]8;;https://example.org\x1b\\here\x1b]8;;\x1b\\ \x9b31m"
        ),
        says="not gradable",
    ),
    "templates": Attack(
        typed(torque="{{ 7*7 }}", advice="{% include '/etc/passwd' %}{{ config }}${7*7}"), says="not gradable"
    ),
    "formats": Attack(typed(torque="%s%s%n {0.__class__}", advice="{secret!r} %(secret)s"), says="not gradable"),
    "a command for a database": Attack(
        typed(torque="1'; DROP TABLE grade; --", advice="'); DELETE FROM comment; --"), says="torque: not gradable"
    ),
    "formulas for a spreadsheet": Attack(
        typed(
            torque="=1+1",
            power='@SUM(1)|"x"',
            other_leg="+A",
            advice="=HYPERLINK(\"https://example.org\")\n-1+cmd|' /C x'!A0",
        ),
        says="power: not gradable",
    ),
    "a text without end": Attack(typed(advice="word " * 30_000), says="longer than 20000"),
    "a text without a space": Attack(typed(advice="W" * 19_999), says="not gradable"),
    "a script": Attack(
        typed(torque=f"<script>{RAN}</script>", advice=f"</span></dd><script>{RAN}</script>"),
        says="torque: not gradable",
    ),
    "a picture that fails": Attack(
        typed(torque=f'"><img src=x onerror="{RAN}">', advice=f"<img src='https://example.org/x' onerror={RAN}>"),
        says="torque: not gradable",
    ),
    "a drawing that acts": Attack(
        typed(torque=f'<svg onload="{RAN}">', advice=f'<svg><animate onbegin="{RAN}" attributeName=x dur=1s>'),
        says="torque: not gradable",
    ),
    "links that act": Attack(
        typed(
            torque=f'<a href="javascript:{RAN}" autofocus onfocus="{RAN}">x</a>',
            advice=f"[x](javascript:{RAN}) <data:text/html,<script>{RAN}</script>>",
        ),
        says="torque: not gradable",
    ),
    "frames and refreshes": Attack(
        typed(
            torque="<meta http-equiv=refresh content='0;url=https://example.org'>",
            advice=f"<iframe srcdoc='<script>top.{RAN}</script>'></iframe>",
        ),
        says="torque: not gradable",
    ),
    "the end of a style": Attack(
        typed(torque="</style><style>*{display:none}", advice=f"</title></style></textarea><script>{RAN}</script>"),
        says="torque: not gradable",
    ),
    "hidden comments": Attack(
        typed(torque="<!-- 1 N m -->", advice=f"<!--><script>{RAN}</script>--> ]]>"), says="not gradable"
    ),
    "a block that closes itself": Attack(
        typed(advice=f"````\n```\n<script>{RAN}</script>\n![x](https://example.org/x.png)")
    ),
    "half a letter of markup": Attack(
        typed(torque="＜script＞alert(1)＜/script＞", advice="&#60;script&#62; &lt;script&gt;"),
        says="torque: not gradable",
    ),
    "a shelf of hostile outputs": Attack(
        with_cell(
            "1",
            outputs=[
                output(
                    **{
                        "text/html": f"<script>{RAN}</script>",
                        "application/javascript": RAN,
                        "image/svg+xml": "<svg onload='x'/>",
                    }
                ),
                {"output_type": "stream", "name": "stdout", "text": "\x1b[2J" + "x" * 1_000_000},
                {"output_type": "error", "ename": "<b>", "evalue": "", "traceback": ["\x1b]0;x\x07"]},
            ],
        )
    ),
    # what lies in the inbox
    "a link to the key": Attack(
        place=link_to(lambda cohort: cohort.root / "secret.key"), earned=None, says="symbolic link"
    ),
    "a link to somebody's work": Attack(
        place=link_to(lambda cohort: cohort.inbox / f"{HONEST[0]}__{CASE}.ipynb"), earned=None, says="symbolic link"
    ),
    "a link to a folder": Attack(
        place=lambda kit: (kit.cohort.inbox / kit.who).symlink_to(kit.cohort.root),
        earned=None,
        says="symbolic link|not a notebook",
    ),
    "a pipe": Attack(
        place=lambda kit: os.mkfifo(kit.cohort.inbox / f"{kit.who}__{CASE}.ipynb"),
        earned=None,
        says="not a regular file",
    ),
    "three gigabytes of nothing": Attack(place=sparse, earned=None, says="larger than the limit"),
    "names that climb": Attack(
        place=zipped(
            ("../../{who}/{case}/x.ipynb", b"{}"), ("/{who}/{case}/x.ipynb", b"{}"), ("..\\{who}__{case}.ipynb", b"{}")
        ),
        earned=None,
        says="leads out of the inbox",
    ),
    "a link in an archive": Attack(place=zipped(("{who}__{case}.ipynb", None)), earned=None, says="symbolic link"),
    "a bomb in an archive": Attack(place=mixed_zip, earned=None, says="larger than the limit"),
    "an archive in an archive": Attack(
        place=zipped(("{who}__{case}.zip", b"PK\x05\x06" + bytes(18))), earned=None, says="not a notebook"
    ),
    "thirty thousand entries": Attack(
        place=zipped(*[(f"{n}/{{who}}__{{case}}.ipynb", b"") for n in range(20_001)]),
        earned=None,
        says="more than 20000 files",
    ),
    "no archive at all": Attack(
        place=lambda kit: kit.put(b"PK\x05\x06" + b"\xff" * 18, f"{kit.who}.zip"), earned=None, says="cannot be read"
    ),
    "somebody else's id in look-alike letters": Attack(
        place=lambda kit: kit.put(b"{}", f"{kit.who}-{lookalike(HONEST[1])}__{CASE}.ipynb"),
        earned=None,
        says="nobody on the roster",
    ),
    "an id that climbs": Attack(
        place=lambda kit: kit.put(b"{}", f"..{kit.who}__{CASE}.ipynb"), earned=None, says="nobody on the roster"
    ),
    "another case by a path": Attack(
        place=zipped((f"{{who}}__{CASE}/../../x.ipynb", b"{}")), earned=None, says="leads out of the inbox"
    ),
    "a name that clears the screen": Attack(
        place=file_called("{who}\x1b[2J\x1b]0;x\x07\u202e\n.ipynb"), earned=None, says="says not whose it is"
    ),
    "a name that is markup": Attack(
        place=file_called("{who}<img src=x onerror=alert(1)>.ipynb"), earned=None, says="says not whose it is"
    ),
    "a name that is no text": Attack(
        place=file_called("{who}\udcff\udcfe.ipynb"), earned=None, says="says not whose it is"
    ),
}


@dataclass
class Outcome:
    """The cohort after all attacks were collected, marked and reported."""

    cohort: Cohort
    who: dict[str, str]
    records: dict[str, dict]
    refused: list
    beside: set[Path]


def run_all(cohort):
    outcome = collect(cohort)
    records = {record["trainee"]: record for record in mark_all(cohort, to_mark(cohort))}
    write_marks(cohort, list(marked(cohort).values()))
    stand = standing(cohort)
    write_feedback(stand)
    write_report(cohort, stand)
    return outcome, records


def hand_in_honestly(cohort):
    Kit("wren", cohort).put(Kit("wren", cohort).honest())
    Kit("heron", cohort).put(Kit("heron", cohort).honest(torque="1 N m", advice=""))


def new_cohort(root, cohort, people):
    wanted = plan(
        root, people, title="Attacked", cases=[CASE], case_folders=list(map(Path, cohort.settings.case_folders))
    )
    made = make_cohort(wanted, SECRET)
    hand_out(made)
    return made


@pytest.fixture(scope="module")
def attacked(made_once, tmp_path_factory):
    around = tmp_path_factory.mktemp("attacked")
    (around / "neighbour.txt").write_text("not part of the cohort")
    who = {name: f"t{number:03d}" for number, name in enumerate(ATTACKS)}
    people = [Trainee(trainee, trainee) for trainee in (*HONEST, *who.values())]
    cohort = new_cohort(around / "cohort", open_cohort(made_once), people)
    hand_in_honestly(cohort)
    for name, attack in ATTACKS.items():
        kit = Kit(who[name], cohort)
        if attack.place:
            attack.place(kit)
        else:
            kit.put(attack.make(kit))
    outcome, records = run_all(cohort)
    beside = {path for path in around.rglob("*") if cohort.root not in path.parents}
    return Outcome(cohort, who, records, [item for item in outcome if item.what == "refused"], beside)


def pages(attacked):
    return [attacked.cohort.report / "index.html", *sorted((attacked.cohort.root / "feedback").rglob("*.html"))]


def test_the_table_is_long_enough():
    assert len(ATTACKS) >= 60


@pytest.mark.parametrize("name", [name for name, attack in ATTACKS.items() if attack.earned is not None])
def test_an_attack_earns_nothing_and_is_reported(attacked, name):
    record, attack = attacked.records[attacked.who[name]], ATTACKS[name]
    assert record["marks"] == attack.earned
    assert record["max_marks"] == 8
    told = [record["trouble"], *record["notices"]]
    for item in record["results"]:
        assert (item["marks"] is None) == (item["state"] == State.NOT_GRADABLE)
        assert item["reason"]
        assert item["max_marks"] == {"torque": 2, "power": 3, "other-leg": 1, "advice": 2}[item["task"]]
        assert item["marks"] is None or 0 <= item["marks"] <= item["max_marks"]
        told.append(f"{item['task']}: {item['state']}: {item['reason']}")
    assert re.search(attack.says, "\n".join(told)), told
    assert attacked.cohort.feedback(attacked.who[name], CASE).exists()


@pytest.mark.parametrize("name", [name for name, attack in ATTACKS.items() if attack.earned is None])
def test_a_hostile_file_is_refused_with_a_reason(attacked, name):
    who = attacked.who[name]
    reasons = [item.reason for item in attacked.refused if who in item.source]
    assert reasons
    assert re.search(ATTACKS[name].says, "\n".join(reasons)), reasons
    assert who not in attacked.records
    assert not (attacked.cohort.root / "submitted" / who).exists()


def test_honest_work_in_the_same_batch_is_marked_as_without_the_attacks(attacked, made_once, tmp_path):
    quiet = new_cohort(tmp_path / "quiet", open_cohort(made_once), [Trainee(who, who) for who in HONEST])
    hand_in_honestly(quiet)
    _, undisturbed = run_all(quiet)
    assert undisturbed["wren"]["marks"] == 6
    for who in HONEST:
        assert attacked.records[who] | {"arrived": ""} == undisturbed[who] | {"arrived": ""}
        for step in ("autograded", "submitted"):
            here, there = (cohort.notebook(step, who, CASE).read_bytes() for cohort in (attacked.cohort, quiet))
            assert here == there


def test_nothing_is_written_beside_the_cohort(attacked):
    assert {path.name for path in attacked.beside} == {"neighbour.txt", "cohort"}


def test_neither_key_nor_seed_is_in_anything_that_leaves_the_desk(attacked):
    for folder in ("feedback", "report", "autograded", "submitted", "release", "records"):
        for path in (attacked.cohort.root / folder).rglob("*"):
            if path.is_file():
                assert not path.is_symlink()
                content = path.read_bytes()
                assert SECRET.hex().encode() not in content
                assert SECRET not in content


def harmless(text):
    return not any(unicodedata.category(sign) in ("Cc", "Cf", "Cs") and sign not in "\n\t\r" for sign in text)


def test_no_page_table_or_record_holds_a_sign_that_acts(attacked):
    for path in [*pages(attacked), *attacked.cohort.report.glob("*.csv")]:
        assert harmless(path.read_text(encoding="utf-8")), path
    for path in (attacked.cohort.root / "autograded").rglob("*.ipynb"):
        for cell in json.loads(path.read_bytes())["cells"]:
            assert harmless("".join(cell["source"])), path


def test_no_table_holds_a_formula(attacked):
    for path in attacked.cohort.report.glob("*.csv"):
        for row in csv.reader(io.StringIO(path.read_text(encoding="utf-8"))):
            assert not [cell for cell in row if cell.startswith(("=", "+", "@", "\t")) or re.match(r"-(?!\d)", cell)]


def test_what_a_person_opens_to_mark_by_hand_holds_nothing_that_acts(attacked):
    """Attackers' cells, outputs and attachments are gone; what they typed is a block of plain text."""
    for path in (attacked.cohort.root / "autograded").rglob("*.ipynb"):
        for cell in json.loads(path.read_bytes())["cells"]:
            if cell["cell_type"] == "markdown" and RAN in "".join(cell["source"]):
                assert re.match(r"(`{3,})text\n(?s:.*)\n\1\Z", "".join(cell["source"]))
            for shown in cell.get("outputs", []):
                assert shown["output_type"] == "stream"
            assert not [name for name in cell.get("attachments", {}) if "/" in name or ".." in name]


def test_comments_in_the_gradebook_are_text_without_markup(attacked):
    from nbgrader.api import Comment, Gradebook

    with Gradebook(attacked.cohort.db_url, attacked.cohort.settings.course_id) as gradebook:
        comments = [comment.auto_comment or "" for comment in gradebook.db.query(Comment)]
        assert len(gradebook.students) == len(ATTACKS) + len(HONEST)
    assert len(comments) > 100
    for comment in comments:
        assert harmless(comment)
        assert not re.search(r"<\s*/?\s*[a-zA-Z!]", comment), comment


def test_commands_speak_without_signs_of_the_attackers(attacked, tmp_path):
    root = Path(shutil.copytree(attacked.cohort.root, tmp_path / "cohort", symlinks=True, ignore=_pipes_and_giants))
    (root / "gradebook.db").unlink()
    for words in (["collect"], ["mark", "--again"], ["report"], ["status"], ["decide", "--dry-run"]):
        done = CliRunner().invoke(main, ["cohort", words[0], str(root), *words[1:]])
        assert done.exit_code in (0, 1), done.output
        assert done.exit_code == 0 or words[0] == "decide"
        assert harmless(done.output), words
        assert "Traceback" not in done.output


def _pipes_and_giants(folder, names):
    known = {name: (Path(folder) / name).lstat() for name in names}
    return [name for name, is_ in known.items() if stat.S_ISFIFO(is_.st_mode) or is_.st_size > 10**9]


@pytest.mark.browser
def test_attacked_pages_stay_inert_in_a_browser(browser, attacked):
    context = browser.new_context()
    page = context.new_page()
    asked, said, opened_pages = [], [], []
    page.on("request", lambda request: asked.append(request.url))
    page.on("dialog", lambda dialog: (said.append(dialog.message), dialog.dismiss()))
    context.on("page", lambda other: opened_pages.append(other))
    hostile = [
        path for path in pages(attacked) if re.search("ran=1|example.org|onload|http-equiv=refresh", path.read_text())
    ]
    assert len(hostile) >= 10
    for path in [attacked.cohort.report / "index.html", *hostile]:
        page.goto(path.as_uri())
        page.evaluate("for (const it of document.querySelectorAll('a, [tabindex], summary')) it.focus()")
        assert page.evaluate("window.ran") is None, path
        assert page.title() != "it ran"
        assert page.evaluate("document.querySelectorAll('script, img, iframe, object, embed, form').length") == 0
        assert page.url == path.as_uri()
    assert not said
    assert not opened_pages
    assert not [url for url in asked if not url.startswith("file:")]
    assert len(asked) == len(hostile) + 1
    context.close()
