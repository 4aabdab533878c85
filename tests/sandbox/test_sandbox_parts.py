"""The parts of the sandbox that need no process: what is taken from outside, and what is refused."""

import base64
import json
import re
import struct
from pathlib import Path

import pytest

from autograde.sandbox import Limits, SandboxError, box, run_cells
from autograde.sandbox.outputs import MOST_CHARS, read_lines
from autograde.sandbox.syscalls import CLONE, CLONE3, DENIED, MACHINES, SOCKET, filter_program

PNG = b"\x89PNG\r\n\x1a\n" + struct.pack(">I4sIIBBBBB", 13, b"IHDR", 2, 3, 8, 2, 0, 0, 0) + bytes(4)


def taken(*outputs, **more):
    cells, _ = read_lines(json.dumps({"cell": 0, "outputs": outputs, **more}).encode(), 1)
    return cells[0]


HOSTILE_LINES = {
    "nothing": b"",
    "no JSON": b"\xff\xfe\x00 nonsense",
    "deep": b"[" * 100_000,
    "a list": b"[1, 2]",
    "no such cell": b'{"cell": 7, "outputs": []}',
    "a cell below zero": b'{"cell": -1, "outputs": []}',
    "a cell that is true": b'{"cell": true, "outputs": []}',
    "a huge number": b'{"cell": ' + b"9" * 5000 + b"}",
    "an end that is a word": b'{"end": "yes"}',
}


@pytest.mark.parametrize("name", HOSTILE_LINES)
def test_lines_that_make_no_sense_are_passed_over(name):
    cells, ended = read_lines(HOSTILE_LINES[name], 1)
    assert len(cells) == 1
    assert not cells[0].started
    assert not ended


@pytest.mark.parametrize("outputs", [3, None, "text", {"a": 1}, [1, None, []]])
def test_outputs_of_another_kind_are_left_out(outputs):
    cells, _ = read_lines(json.dumps({"cell": 0, "outputs": outputs, "seconds": "long"}).encode(), 1)
    assert cells[0].outputs == ()
    assert cells[0].seconds == 0


@pytest.mark.parametrize(
    "data",
    [
        {"text/html": "<script>alert(1)</script>"},
        {"application/javascript": "alert(1)"},
        {"image/svg+xml": "<svg onload='alert(1)'/>"},
        {"text/markdown": "[x](javascript:alert(1))"},
        {"text/latex": "$\\href{javascript:alert(1)}{x}$"},
        {"application/vnd.jupyter.widget-view+json": {"model_id": "x"}},
        {"image/png": "data:text/html,<script>"},
        {"image/png": base64.b64encode(b"<svg onload='alert(1)'>" * 3).decode()},
        {"image/png": base64.b64encode(PNG[:16] + struct.pack(">II", 10**6, 10**6) + PNG[24:]).decode()},
        {"image/png": "A" * 3_000_000},
        {"text/plain": {"a": 1}},
        {"image/gif": base64.b64encode(b"GIF89a").decode()},
    ],
)
def test_only_text_and_small_pictures_are_taken(data):
    cell = taken({"output_type": "display_data", "data": data})
    assert cell.outputs == ()
    assert cell.left_out


def test_a_picture_is_taken_byte_by_byte():
    cell = taken({"output_type": "display_data", "data": {"image/png": base64.b64encode(PNG).decode()}})
    assert cell.outputs[0].png == PNG


def test_text_is_freed_of_escape_sequences_and_cut():
    said = (
        "\x1b[31mred\x1b[0m \x1b]0;title\x07\x1b]8;;http://example.org\x1b\\link\x1bP1$q\x1b\\\x1b(B" + "x" * MOST_CHARS
    )
    cell = taken({"output_type": "stream", "name": "stdout", "text": said})
    assert cell.outputs[0].text.startswith("red link")
    assert "\x1b" not in cell.outputs[0].text
    assert len(cell.outputs[0].text) == MOST_CHARS
    assert cell.left_out


def test_a_thousand_outputs_are_cut_and_printed_text_is_joined():
    cell = taken(*[{"output_type": "stream", "text": "a"}] * 1000)
    assert [output.text for output in cell.outputs] == ["a" * 100]
    assert cell.left_out


def test_the_first_report_of_a_cell_stands():
    lines = b'{"cell": 0, "outputs": [{"output_type": "stream", "text": "first"}]}\n'
    cells, _ = read_lines(lines + lines.replace(b"first", b"again") + b'{"cell": 0}', 1)
    assert cells[0].outputs[0].text == "first"


def test_without_bubblewrap_there_is_a_reason_and_something_to_install(monkeypatch):
    monkeypatch.setenv("PATH", "/nowhere")
    box.why_none.cache_clear()
    try:
        with pytest.raises(SandboxError, match="apt-get install bubblewrap"):
            box.find_box()
        monkeypatch.setattr(box.sys, "platform", "darwin")
        box.why_none.cache_clear()
        assert "needs Linux" in box.why_none()
    finally:
        box.why_none.cache_clear()


def test_a_bubblewrap_that_fails_is_not_believed(monkeypatch, tmp_path):
    program = tmp_path / "bwrap"
    program.write_text("#!/bin/sh\necho 'setting up uid map: Permission denied' >&2\nexit 1\n")
    program.chmod(0o755)
    monkeypatch.setenv("PATH", str(tmp_path), prepend=":")
    box.why_none.cache_clear()
    try:
        assert "Permission denied" in box.why_none()
        program.write_text("#!/bin/sh\nexit 0\n")
        box.why_none.cache_clear()
        assert "does not work here" in box.why_none()
    finally:
        box.why_none.cache_clear()


@pytest.mark.parametrize(
    "bound", [{"seconds": 0}, {"seconds": float("nan")}, {"cell_seconds": 0}, {"memory_mb": 10}, {"processes": 1}]
)
def test_bounds_that_nothing_can_keep_are_refused(bound):
    with pytest.raises(SandboxError, match="give"):
        Limits(**bound)


def test_a_notebook_without_end_is_refused():
    with pytest.raises(SandboxError, match="3000 cells"):
        run_cells(["1"] * 3000, None)
    with pytest.raises(SandboxError, match="1 cells"):
        run_cells(["1" * 3_000_000], None)


def test_outside_a_sandbox_the_users_other_programs_are_not_counted():
    assert box.resources(Limits(), alone=False).keys() < box.resources(Limits(), alone=True).keys()


HEADERS = {
    "x86_64": Path("/usr/include/x86_64-linux-gnu/asm/unistd_64.h"),
    "aarch64": Path("/usr/include/asm-generic/unistd.h"),
}


@pytest.mark.parametrize("machine", HEADERS)
def test_numbers_of_system_calls_are_those_of_the_kernels_own_headers(machine):
    if not HEADERS[machine].exists():
        pytest.skip("the headers of the Linux kernel (Debian package linux-libc-dev) are not installed")
    found = dict(re.findall(r"#define __NR(?:3264)?_(\w+)\s+(\d+)", HEADERS[machine].read_text()))
    column = MACHINES[machine][0]
    for name, numbers in {**DENIED, "socket": SOCKET, "clone": CLONE, "clone3": CLONE3}.items():
        if numbers[column] is not None:
            assert found[name] == str(numbers[column]), name


def run_filter(program, number, first_argument, machine_mark):
    """The kernel's classic packet filter, as its manual describes the five instructions used."""
    data = struct.pack("=IIQQ", number, machine_mark, 0, first_argument)
    steps = [struct.unpack_from("=HBBI", program, at) for at in range(0, len(program), 8)]
    at, register = 0, 0
    while True:
        code, if_true, if_false, value = steps[at]
        at += 1
        if code == 0x20:
            register = struct.unpack_from("=I", data, value)[0]
        elif code == 0x06:
            return value
        else:
            holds = {0x15: register == value, 0x35: register >= value, 0x45: register & value != 0}[code]
            at += if_true if holds else if_false


@pytest.mark.parametrize("machine", MACHINES)
def test_the_filter_lets_through_what_a_notebook_needs_and_nothing_it_must_not(machine):
    program = filter_program(machine)
    column, mark = MACHINES[machine]
    allow, refuse = 0x7FFF0000, range(0x00050000, 0x00051000)

    def asked(number, argument=0):
        return run_filter(program, number, argument, mark)

    assert asked({"x86_64": 0, "aarch64": 63}[machine]) == allow  # read
    assert all(asked(n[column]) in refuse for n in DENIED.values() if n[column] is not None)
    assert asked(SOCKET[column], 1) == asked(SOCKET[column], 2) == allow
    assert asked(SOCKET[column], 17) in refuse  # AF_PACKET
    assert asked(SOCKET[column], 40) in refuse  # AF_VSOCK
    assert asked(CLONE[column], 0x003D0F00) == allow  # the flags with which the C library makes a thread
    assert asked(CLONE[column], 0x10000011) in refuse  # CLONE_NEWUSER with SIGCHLD
    assert asked(CLONE3[column]) == 0x00050000 | 38  # ENOSYS
    assert run_filter(program, 0, 0, 0x40000003) == 0x80000000  # a call for 32-bit machines ends the process
    if machine == "x86_64":
        assert asked(0x40000000 | 1) in refuse


def test_an_unknown_machine_has_no_filter():
    assert filter_program("riscv64") == b""
