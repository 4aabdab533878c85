"""Submissions that are broken or mean harm: each ends in a reason, earns nothing it should not, and harms no other."""

import copy
import json
import math
import stat
import zipfile

import pytest

from autograde.cases import trainee_variant
from autograde.cohort.collect import collect
from autograde.cohort.families import load_case
from autograde.cohort.feedback import write_feedback
from autograde.cohort.gradebook_marks import write_marks
from autograde.cohort.marking import mark_all, marked, to_mark
from autograde.cohort.report import write_report
from autograde.cohort.standing import standing
from autograde.marking import State
from pedalwright_app.filling import cut_off, fill, without_answer_cell

CASE = "crank-drill"
TASKS = ("torque", "power", "other-leg", "advice")


def right(cohort, who):
    case = trainee_variant(load_case(CASE, cohort.settings.case_folders), cohort.secret, who).case
    torque = case.force_n * case.crank_mm / 1000
    power = torque * case.cadence_rpm * 2 * math.pi / 60
    return {"torque": f"{torque:.2f} N m", "power": f"{power:.1f} W", "other-leg": "B", "advice": "Refer if it hurts."}


def notebook(cohort, who, **typed):
    answers = right(cohort, who) | {key.replace("_", "-"): text for key, text in typed.items()}
    return fill(cohort.notebook("release", who, CASE).read_bytes(), answers)


def cells(content, change):
    opened = json.loads(content)
    change(opened["cells"])
    return json.dumps(opened).encode()


def cell_named(all_cells, name):
    return next(c for c in all_cells if c["metadata"].get("nbgrader", {}).get("grade_id") == name)


def mark_with(cohort, content, who="heron"):
    """Mark one sheet beside an honest one, and see that the honest one is unharmed."""
    (cohort.inbox / f"{who}__{CASE}.ipynb").write_bytes(content)
    (cohort.inbox / f"wren__{CASE}.ipynb").write_bytes(notebook(cohort, "wren"))
    collect(cohort)
    records = {record["trainee"]: record for record in mark_all(cohort, to_mark(cohort))}
    write_marks(cohort, list(marked(cohort).values()))
    stand = standing(cohort)
    write_feedback(stand)
    write_report(cohort, stand)
    assert records["wren"]["marks"] == 6
    assert set(records) == {"wren", who}
    for item in records[who]["results"]:
        assert (item["marks"] is None) == (item["state"] == State.NOT_GRADABLE)
        assert item["reason"]
    return records[who], {item["task"]: item for item in records[who]["results"]}


def assert_all_not_gradable(results):
    assert {item["state"] for item in results.values()} == {State.NOT_GRADABLE}


WHOLE_FILES = {
    "nothing at all": b"",
    "cut off": None,
    "not JSON": b"PK\x03\x04 this was a spreadsheet",
    "not text": bytes(range(128, 256)),
    "a list": b"[]",
    "a number": b"1",
    "no cells": b'{"cells": 3, "metadata": {}, "nbformat": 4, "nbformat_minor": 5}',
    "deep list": b"[" * 100_000,
    "deep and closed": b"[" * 50_000 + b"]" * 50_000,
    "deep objects": b'{"cells":' * 50_000,
    "a number with ten thousand digits": b'{"cells": ' + b"9" * 10_000 + b"}",
    "ten thousand cells": json.dumps({"cells": [{}] * 10_000}).encode(),
}


@pytest.mark.parametrize("name", WHOLE_FILES)
def test_a_file_that_is_no_notebook_is_not_gradable_with_a_reason(cohort, name):
    content = WHOLE_FILES[name]
    record, results = mark_with(cohort, cut_off(notebook(cohort, "heron")) if content is None else content)
    assert record["trouble"]
    assert_all_not_gradable(results)
    assert record["marks"] == 0


def test_an_empty_sheet_is_not_gradable_and_never_silently_zero(cohort):
    record, results = mark_with(cohort, cohort.notebook("release", "heron", CASE).read_bytes())
    assert_all_not_gradable(results)
    assert all(item["left_empty"] for item in results.values())
    assert record["trouble"] == ""


def test_a_half_filled_sheet_keeps_what_was_filled(cohort):
    typed = {"torque": right(cohort, "heron")["torque"]}
    _, results = mark_with(cohort, fill(cohort.notebook("release", "heron", CASE).read_bytes(), typed))
    assert results["torque"]["state"] == State.CORRECT
    assert results["power"]["state"] == State.NOT_GRADABLE


@pytest.mark.parametrize(
    "words", ["plenty", "nan", "NaN N m", "inf W", "1e999 N m", "__import__('os')", "9**9**9**9 N m"]
)
def test_what_is_no_number_is_not_gradable_with_what_was_typed(cohort, words):
    _, results = mark_with(cohort, notebook(cohort, "heron", torque=words))
    assert results["torque"]["state"] == State.NOT_GRADABLE
    assert results["torque"]["typed"].strip() == words
    assert results["power"]["state"] == State.CORRECT


def test_other_units_and_a_decimal_comma_are_read(cohort):
    torque = float(right(cohort, "heron")["torque"].split()[0])
    power = float(right(cohort, "heron")["power"].split()[0])
    typed = {"torque": f"{torque * 100:.0f} N cm", "power": f"{power / 1000:.4f} kW".replace(".", ",")}
    _, results = mark_with(cohort, notebook(cohort, "heron", **typed))
    assert results["torque"]["state"] == results["power"]["state"] == State.CORRECT


def test_a_deleted_answer_cell_costs_that_task_only(cohort):
    _, results = mark_with(cohort, without_answer_cell(notebook(cohort, "heron"), "torque"))
    assert results["torque"]["state"] == State.NOT_GRADABLE
    assert "deleted" in results["torque"]["reason"]
    assert results["power"]["state"] == results["other-leg"]["state"] == State.CORRECT


def test_deleted_check_cells_change_nothing(cohort):
    def change(all_cells):
        all_cells[:] = [c for c in all_cells if not c.get("id", "").startswith("check-")]

    record, _ = mark_with(cohort, cells(notebook(cohort, "heron"), change))
    assert record["marks"] == 6


def test_a_duplicated_answer_cell_with_the_same_answer_is_taken(cohort):
    def change(all_cells):
        all_cells.append(copy.deepcopy(cell_named(all_cells, "answer-torque")))

    record, results = mark_with(cohort, cells(notebook(cohort, "heron"), change))
    assert results["torque"]["state"] == State.CORRECT
    assert "more than once" in " ".join(record["notices"])


def test_two_different_answers_to_one_task_are_left_to_a_person(cohort):
    def change(all_cells):
        second = copy.deepcopy(cell_named(all_cells, "answer-torque"))
        second["source"] = "%%answer torque\n1 N m\n"
        all_cells.append(second)

    _, results = mark_with(cohort, cells(notebook(cohort, "heron"), change))
    assert results["torque"]["state"] == State.NOT_GRADABLE
    assert "2 answer cells" in results["torque"]["reason"]


def test_an_answer_cell_that_lost_its_label_is_found_by_its_first_line(cohort):
    def change(all_cells):
        cell_named(all_cells, "answer-torque")["metadata"] = {}

    record, results = mark_with(cohort, cells(notebook(cohort, "heron"), change))
    assert results["torque"]["state"] == State.CORRECT
    assert "lost its label" in " ".join(record["notices"])


def test_points_and_flags_in_forged_metadata_are_not_believed(cohort):
    def change(all_cells):
        for name in ("check-torque", "answer-torque", "check-power", "words-advice"):
            mark = cell_named(all_cells, name)["metadata"]["nbgrader"]
            mark.update(points=1000, grade=True, solution=False, locked=False, score=1000, schema_version=99)
        cell_named(all_cells, "answer-torque")["source"] = "%%answer torque\n1 N m\n"
        cell_named(all_cells, "check-torque")["outputs"] = [
            {"output_type": "execute_result", "data": {"text/plain": "2.0"}, "metadata": {}, "execution_count": 1}
        ]

    record, results = mark_with(cohort, cells(notebook(cohort, "heron"), change))
    assert results["torque"]["marks"] == 0
    assert results["torque"]["max_marks"] == 2
    assert results["advice"]["marks"] is None
    assert record["max_marks"] == 8


def test_another_trainees_notebook_is_not_marked_as_ones_own(cohort):
    record, results = mark_with(cohort, notebook(cohort, "plover"))
    assert "handed out to somebody else" in record["trouble"]
    assert_all_not_gradable(results)


def test_another_trainees_notebook_with_a_forged_name_is_marked_by_ones_own_numbers(cohort):
    content = json.loads(notebook(cohort, "plover"))
    content["metadata"]["pedalwright"]["trainee"] = "heron"
    assert right(cohort, "heron")["torque"] != right(cohort, "plover")["torque"]
    _, results = mark_with(cohort, json.dumps(content).encode())
    assert results["torque"]["state"] != State.CORRECT


def test_an_answer_line_of_another_task_in_a_cell_is_left_to_a_person(cohort):
    def change(all_cells):
        cell_named(all_cells, "answer-torque")["source"] = "%%answer power\n100 W\n"

    _, results = mark_with(cohort, cells(notebook(cohort, "heron"), change))
    assert "another task" in results["torque"]["reason"]


def test_nothing_in_a_notebook_is_ever_run(cohort, tmp_path):
    trace = tmp_path / "it ran"
    code = f"import pathlib; pathlib.Path({str(trace)!r}).write_text('yes')"

    def change(all_cells):
        all_cells.insert(0, {"cell_type": "code", "id": "x", "metadata": {}, "source": code, "outputs": []})
        cell_named(all_cells, "check-torque")["source"] = code
        cell_named(all_cells, "answer-torque")["source"] += f"\n!touch '{trace}'\n{code}"

    _, results = mark_with(cohort, cells(notebook(cohort, "heron"), change))
    assert not trace.exists()
    assert results["torque"]["state"] == State.NOT_GRADABLE


ODD_CELLS = {
    "cells that are numbers": [1, None, "x", [], {}],
    "source of another kind": [{"cell_type": "code", "metadata": {}, "source": {"a": 1}}],
    "source lines of another kind": [{"cell_type": "code", "metadata": {}, "source": ["%%answer torque", 3]}],
    "metadata of another kind": [{"cell_type": "code", "metadata": [], "source": "%%answer"}],
    "grade_id of another kind": [{"cell_type": "code", "metadata": {"nbgrader": {"grade_id": ["a"]}}, "source": "x"}],
    "grade_id of no task": [{"metadata": {"nbgrader": {"grade_id": "answer-../../etc"}}, "source": "%%answer x"}],
    "unpaired surrogate": [{"cell_type": "code", "metadata": {}, "source": "%%answer nothing\n\ud800"}],
}


@pytest.mark.parametrize("name", ODD_CELLS)
def test_odd_cells_are_passed_over(cohort, name):
    record, _ = mark_with(cohort, cells(notebook(cohort, "heron"), lambda c: c.extend(ODD_CELLS[name])))
    assert record["marks"] == 6


@pytest.mark.parametrize(
    "typed",
    ["\ud800 N m", "\x1b]0;title\x07 12 N m", "\u202e12 N m", "\0", "1" * 19_000 + " N m", "1 N m\n" * 3_000],
)
def test_odd_text_ends_in_a_reason_without_control_signs(cohort, typed):
    _, results = mark_with(cohort, notebook(cohort, "heron", torque=typed))
    assert results["torque"]["state"] == State.NOT_GRADABLE
    for path in (cohort.feedback("heron", CASE), cohort.report / "index.html", cohort.report / "answers.csv"):
        text = path.read_text(encoding="utf-8")
        assert not any(sign in text for sign in ("\x1b", "\u202e", "\0", "\x07"))


def test_an_answer_as_long_as_a_book_is_left_to_a_person(cohort):
    _, results = mark_with(cohort, notebook(cohort, "heron", advice="word " * 20_000))
    assert "longer than" in results["advice"]["reason"]
    assert cohort.feedback("heron", CASE).stat().st_size < 200_000


def test_a_marking_program_that_fails_earns_nobody_marks(cohort, monkeypatch):
    from autograde.cohort import marking

    honest = marking.mark_sheet

    def fails_for_heron(tasks, misconceptions, case, sheet):
        if sheet.get("advice") == "fail now":
            raise ZeroDivisionError("a slip in a case")
        return honest(tasks, misconceptions, case, sheet)

    monkeypatch.setattr(marking, "mark_sheet", fails_for_heron)
    record, results = mark_with(cohort, notebook(cohort, "heron", advice="fail now"))
    assert "ZeroDivisionError" in record["trouble"]
    assert_all_not_gradable(results)


# What the inbox may hold


def refused(cohort):
    return {item.source: item.reason for item in collect(cohort) if item.what == "refused"}


def test_links_are_not_followed(cohort, tmp_path):
    secret = tmp_path / "other.ipynb"
    secret.write_text("{}")
    (cohort.inbox / f"wren__{CASE}.ipynb").symlink_to(secret)
    (cohort.inbox / f"heron__{CASE}.ipynb").symlink_to(cohort.root / "secret.key")
    (cohort.inbox / "plover").symlink_to(tmp_path)
    assert len(refused(cohort)) == 3
    assert not list((cohort.root / "submitted").rglob("*.ipynb"))


def test_a_pipe_in_the_inbox_does_not_hang_the_batch(cohort):
    import os

    os.mkfifo(cohort.inbox / f"wren__{CASE}.ipynb")
    assert "not a regular file" in next(iter(refused(cohort).values()))


def test_a_huge_file_is_refused_without_being_read_whole(cohort):
    with (cohort.inbox / f"wren__{CASE}.ipynb").open("wb") as stream:
        stream.truncate(500_000_000)
    assert "larger than the limit" in next(iter(refused(cohort).values()))


def test_names_in_an_archive_that_lead_elsewhere_are_refused(cohort):
    bad = [
        f"../../wren/{CASE}/x.ipynb",
        f"/etc/wren/{CASE}/x.ipynb",
        f"..\\wren__{CASE}.ipynb",
        "../../../../etc/cron.d/x",
        f"..__{CASE}.ipynb",
    ]
    with zipfile.ZipFile(cohort.inbox / "a.zip", "w") as archive:
        for name in bad:
            archive.writestr(name, b"{}")
        link = zipfile.ZipInfo(f"heron__{CASE}.ipynb")
        link.external_attr = (stat.S_IFLNK | 0o777) << 16
        archive.writestr(link, b"/etc/passwd")
        archive.writestr(f"plover__{CASE}.ipynb", b"{}")
    before = {path for path in cohort.root.parent.rglob("*") if cohort.root not in path.parents}
    outcome = collect(cohort)
    assert [item.trainee for item in outcome if item.what == "taken"] == ["plover"]
    assert sum(item.what == "refused" for item in outcome) == len(bad) + 1
    assert {path for path in cohort.root.parent.rglob("*") if cohort.root not in path.parents} == before


def test_an_archive_that_unpacks_to_far_more_than_it_weighs_is_cut_short(cohort):
    with zipfile.ZipFile(cohort.inbox / "bomb.zip", "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(f"wren__{CASE}.ipynb", b"0" * 50_000_000)
        archive.writestr(f"heron__{CASE}.ipynb", b"{}")
    outcome = {item.trainee: item for item in collect(cohort)}
    assert outcome["heron"].what == "taken"
    assert "larger than the limit" in outcome[""].reason


@pytest.mark.parametrize("content", [b"PK\x03\x04", b"", b"not a zip", b"PK\x05\x06" + b"\xff" * 18])
def test_a_broken_archive_is_refused_and_the_rest_is_taken(cohort, content):
    (cohort.inbox / "a.zip").write_bytes(content)
    (cohort.inbox / f"wren__{CASE}.ipynb").write_bytes(b"{}")
    outcome = collect(cohort)
    assert {item.what for item in outcome} <= {"taken", "refused"}
    assert [item.trainee for item in outcome if item.what == "taken"] == ["wren"]


def test_an_archive_with_a_password_or_a_damaged_entry_loses_that_entry_only(cohort):
    path = cohort.inbox / "a.zip"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr(f"wren__{CASE}.ipynb", b'{"marker": "MARKER"}')
        archive.writestr(f"heron__{CASE}.ipynb", b"{}")
    path.write_bytes(path.read_bytes().replace(b"MARKER", b"BROKEN"))
    outcome = {item.trainee: item for item in collect(cohort)}
    assert outcome["heron"].what == "taken"
    assert "CRC" in outcome[""].reason


def test_file_names_that_are_not_text_are_shown_harmlessly(cohort):
    import os

    os.close(os.open(os.fsencode(str(cohort.inbox)) + b"/\xff\x1b[31m.ipynb", os.O_CREAT | os.O_WRONLY))
    reasons = refused(cohort)
    assert len(reasons) == 1
    assert "\x1b" not in next(iter(reasons))


def test_a_thousand_damaged_notebooks_end_in_reasons(cohort):
    """Bytes of an honest notebook are changed, cut out or doubled at places fixed by a seed."""
    import random

    from autograde.cohort.read import read_sheet

    honest = notebook(cohort, "heron")
    tasks = load_case(CASE, cohort.settings.case_folders).tasks
    chance = random.Random(20)
    for _ in range(1000):
        broken = bytearray(honest)
        for _ in range(chance.randint(1, 6)):
            start = chance.randrange(len(broken))
            stop = min(len(broken), start + chance.randint(1, 200))
            broken[start:stop] = chance.choice([b"", bytes(broken[start:stop]) * 2, chance.randbytes(stop - start)])
        sheet = read_sheet(bytes(broken), tasks, "heron", CASE)
        assert sheet.trouble or set(sheet.answers) | set(sheet.problems) == set(TASKS)
