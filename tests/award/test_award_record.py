"""The chained record: what is changed, removed, exchanged or cut off shows, and people can be forgotten."""

import hashlib
import json
import os
import random
import signal
import subprocess
import sys
import time
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from autograde.award.chain import START, canonical, entry_hash
from autograde.award.errors import AwardError
from autograde.award.record import DELETED, Record, personal_path
from autograde.award.record_check import check_record

BIRDS = ("wren", "heron", "plover", "curlew", "dunnock")


@pytest.fixture
def record(tmp_path):
    record = Record(tmp_path / "decisions.jsonl", clock=lambda: datetime(2025, 11, 21, 9, 30, tzinfo=UTC))
    for number, bird in enumerate(BIRDS):
        record.append("decision", {"total_marks": 50 + number}, {"trainee": bird})
    return record


def lines_of(record):
    return record.path.read_bytes().splitlines(keepends=True)


def problems(record, **arguments):
    return [(problem.line, problem.text) for problem in check_record(record.path, **arguments).problems]


def test_each_line_holds_the_hash_of_the_one_before(record):
    previous = START
    for line in lines_of(record):
        data = json.loads(line)
        assert data["previous"] == previous
        content = {key: value for key, value in data.items() if key != "hash"}
        assert data["hash"] == hashlib.sha256(canonical(content)).hexdigest()
        previous = data["hash"]
    report = check_record(record.path)
    assert report.whole
    assert report.entries == 5
    assert report.head == (5, previous) == record.head()


def test_lines_name_nobody(record):
    assert not any(bird.encode() in record.path.read_bytes() for bird in BIRDS)
    assert personal_path(record.path, 1).stat().st_mode & 0o077 == 0


@pytest.mark.parametrize("line", range(5))
def test_an_edited_line_is_named(record, line):
    lines = lines_of(record)
    lines[line] = lines[line].replace(b'"total_marks":5', b'"total_marks":9')
    record.path.write_bytes(b"".join(lines))
    assert problems(record)[0] == (line + 1, f"line {line + 1} (entry {line + 1}) was changed after it was written")


def test_an_edited_line_with_a_fitting_hash_breaks_the_next(record):
    lines = lines_of(record)
    data = json.loads(lines[1])
    data["body"]["total_marks"] = 99
    data["hash"] = entry_hash({key: value for key, value in data.items() if key != "hash"})
    lines[1] = canonical(data) + b"\n"
    record.path.write_bytes(b"".join(lines))
    assert problems(record) == [(3, "line 3 does not follow line 2: one of the two was put in its place")]


def test_blanks_between_the_values_show(record):
    lines = lines_of(record)
    lines[2] = json.dumps(json.loads(lines[2])).encode() + b"\n"
    record.path.write_bytes(b"".join(lines))
    assert problems(record) == [(3, "line 3 (entry 3) was changed after it was written")]


def test_a_removed_line_is_named(record):
    lines = lines_of(record)
    del lines[2]
    record.path.write_bytes(b"".join(lines))
    assert problems(record)[0] == (3, "entry 3 is missing before line 3")


def test_exchanged_lines_are_named(record):
    lines = lines_of(record)
    lines[1], lines[2] = lines[2], lines[1]
    record.path.write_bytes(b"".join(lines))
    assert problems(record)[:2] == [
        (2, "entry 2 is missing before line 2"),
        (3, "line 3 holds entry 2: repeated or out of order"),
    ]


def test_a_removed_end_is_named(record):
    record.path.write_bytes(b"".join(lines_of(record)[:3]))
    assert problems(record) == [(4, "entries 4 to 5 are missing at the end, from line 4 on")]
    with pytest.raises(AwardError, match="changed from outside"):
        Record(record.path).append("decision", {})


def test_a_removed_end_with_a_fitting_head_shows_by_an_anchor(record):
    anchor = {5: record.entries()[4].hash}
    lines = lines_of(record)[:4]
    record.path.write_bytes(b"".join(lines))
    record.head_path.write_bytes(canonical({"n": 4, "hash": json.loads(lines[-1])["hash"]}))
    personal_path(record.path, 5).unlink()
    assert problems(record) == []
    assert problems(record, anchors=anchor) == [
        (0, "entry 5 is not the one that was anchored elsewhere (its hash differs or it is gone)")
    ]


@pytest.mark.parametrize("cut", [1, 2, 30, 200])
def test_a_line_cut_off_in_a_crash_is_told_and_set_aside(record, cut):
    whole = lines_of(record)
    record.path.write_bytes(b"".join(whole) + whole[4][:-cut])
    report = check_record(record.path)
    assert report.whole
    assert "line 6 is cut off" in report.notes[0]
    entry = Record(record.path).append("decision", {"total_marks": 77})
    assert entry.n == 6
    assert check_record(record.path).whole
    assert record.path.with_suffix(".torn").read_bytes() == whole[4][:-cut] + b"\n"


def test_a_confirmed_line_cut_off_is_a_problem(record):
    record.path.write_bytes(record.path.read_bytes()[:-10])
    assert problems(record) == [(5, "entry 5 is missing at the end, from line 5 on")]


def test_a_kill_between_line_and_head_is_healed(record):
    head = record.head_path.read_bytes()
    record.append("decision", {"total_marks": 61})
    record.head_path.write_bytes(head)
    assert check_record(record.path).whole
    assert Record(record.path).append("decision", {"total_marks": 62}).n == 7
    assert check_record(record.path).whole


def test_changed_and_lost_personal_parts_are_named(record):
    part = personal_path(record.path, 2)
    part.write_bytes(part.read_bytes().replace(b"heron", b"robin"))
    personal_path(record.path, 4).unlink()
    assert problems(record) == [
        (2, "the personal part of entry 2 was changed after it was written"),
        (4, "the personal part of entry 4 is missing; no deletion is recorded"),
    ]


def test_a_trainee_is_forgotten_and_the_chain_stays(record):
    record.append("decision", {"total_marks": 90}, {"trainee": "heron"})
    totals = [entry.body["total_marks"] for entry in record.entries()]
    assert record.forget("heron") == 2
    assert record.forget("heron") == 0
    report = check_record(record.path)
    assert report.whole
    assert "personal parts deleted: 2" in report.notes[0]
    assert [entry.body.get("total_marks") for entry in record.entries()][:6] == totals
    everything = b"".join(path.read_bytes() for path in record.path.parent.rglob("*") if path.is_file())
    assert b"heron" not in everything
    assert record.personal(2) is None
    assert record.personal(1) == {"trainee": "wren"}


def test_an_unfinished_deletion_is_told_and_finished(record, monkeypatch):
    unlink = Path.unlink

    def killed(path, missing_ok=False):
        if path.name == "000002.json":
            raise KeyboardInterrupt
        unlink(path, missing_ok=missing_ok)

    with monkeypatch.context() as patch:
        patch.setattr(Path, "unlink", killed)
        with pytest.raises(KeyboardInterrupt):
            record.forget("heron")
    assert problems(record) == [(2, "the personal part of entry 2 should be deleted; delete it again")]
    again = Record(record.path)
    assert again.forget("heron") == 1
    assert check_record(record.path).whole
    assert len(again.entries()) == 6  # the deletion is recorded once


def test_a_stray_personal_part_left_by_a_kill_belongs_to_nobody(record):
    stray = personal_path(record.path, 6)
    stray.write_bytes(canonical({"salt": "00" * 32, "personal": {"trainee": "siskin"}}))
    assert record.append("note", {"about": "nothing personal"}).n == 6
    assert record.personal(6) is None
    stray = personal_path(record.path, 7)
    stray.write_bytes(canonical({"salt": "00" * 32, "personal": {"trainee": "siskin"}}))
    unfinished = stray.with_name(".000008.json.partial")
    unfinished.write_bytes(b'{"trainee": "siskin"')
    assert record.forget("siskin") == 1
    assert not stray.exists()
    assert not unfinished.exists()
    assert check_record(record.path).whole


def test_a_step_run_again_adds_nothing(record):
    first = record.append_once("decision", {"total_marks": 70}, {"trainee": "siskin"})
    assert record.append_once("decision", {"total_marks": 70}, {"trainee": "siskin"}) == first
    assert Record(record.path).append_once("decision", {"total_marks": 70}, {"trainee": "siskin"}) == first
    assert record.append_once("decision", {"total_marks": 70}, {"trainee": "lapwing"}).n == 7
    assert len(record.entries()) == 7


def test_what_cannot_be_written_exactly_is_refused(record):
    before = record.path.read_bytes()
    for body in ({"x": float("nan")}, {"x": 2**60}, {"x": "\ud800"}):
        with pytest.raises(AwardError, match="exactly"):
            record.append("decision", body)
    assert record.path.read_bytes() == before
    assert check_record(record.path).whole


@given(st.data())
@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_damage_is_reported_without_a_crash(record, data):
    """Random bytes are changed, cut out or put in; the check never fails to answer, and answers with a problem."""
    whole = record.path.read_bytes()
    start = data.draw(st.integers(0, len(whole) - 1))
    stop = data.draw(st.integers(start, min(len(whole), start + 40)))
    damaged = whole[:start] + data.draw(st.binary(max_size=20)) + whole[stop:]
    record.path.write_bytes(damaged)
    try:
        report = check_record(record.path)
        if not damaged.startswith(whole):
            assert report.problems
    finally:
        record.path.write_bytes(whole)


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(),
    lambda parts: st.lists(parts) | st.dictionaries(st.text(), parts),
)
EMPTY = {"n": 6, "time": "", "kind": DELETED, "body": {}, "commitment": "", "previous": "", "hash": ""}


@given(JSON)
@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_json_as_a_line_is_reported(record, value):
    whole = record.path.read_bytes()
    for line in (value, EMPTY | {"body": {"entries": value}}, EMPTY | {"body": value}, EMPTY | {"n": value}):
        record.path.write_bytes(whole + json.dumps(line).encode() + b"\n")
        assert check_record(record.path).problems
    record.path.write_bytes(whole)


WRITER = """
import sys
from pathlib import Path
from autograde.award.record import Record
record = Record(Path(sys.argv[1]))
for number in range(int(sys.argv[2]), 100_000):
    entry = record.append("decision", {"total_marks": number}, {"trainee": f"bird-{number}"})
    print(entry.n, entry.hash, flush=True)
"""


def test_kill_nine_in_the_middle_loses_nothing_that_was_confirmed(tmp_path):
    """Ten processes, each killed at a random moment while it appends; every entry it had confirmed is there."""
    path, confirmed, rng = tmp_path / "decisions.jsonl", {}, random.Random(7)
    for turn in range(10):
        writer = subprocess.Popen(
            [sys.executable, "-c", WRITER, str(path), str(turn * 1000)], stdout=subprocess.PIPE, text=True
        )
        line = writer.stdout.readline()
        time.sleep(rng.uniform(0, 0.3))
        os.kill(writer.pid, signal.SIGKILL)
        for text in (line, *writer.stdout.read().splitlines(keepends=True)):
            if text.endswith("\n"):
                number, digest = text.split()
                confirmed[int(number)] = digest
        writer.wait()
    assert len(confirmed) > 20
    report = check_record(path, anchors=confirmed)
    assert report.whole, report.problems
    record = Record(path)
    record.append("note", {"after": "the kills"})
    assert check_record(path, anchors=confirmed).whole
    assert all(record.personal(number)["trainee"].startswith("bird-") for number in confirmed)


def test_two_writers_at_once_keep_one_chain(tmp_path):
    path = tmp_path / "decisions.jsonl"
    program = WRITER.replace("100_000", "int(sys.argv[2]) + 40")
    writers = [
        subprocess.Popen([sys.executable, "-c", program, str(path), str(start)], stdout=subprocess.PIPE)
        for start in (0, 1000)
    ]
    assert [writer.wait(timeout=60) for writer in writers] == [0, 0]
    report = check_record(path)
    assert report.whole, report.problems
    assert report.entries == 80
