"""`pedalwright study`: opens on the loopback address only, stops cleanly, and says what it needs."""

import os
import signal
import socket
import subprocess
import sys

import psutil
import pytest
from click.testing import CliRunner

from pedalwright_app.main import main
from pedalwright_app.study_command import study


def test_it_listens_on_the_loopback_address_only_and_ends_cleanly_on_ctrl_c(new_course):
    course = new_course()
    listening = [c.laddr for c in psutil.Process(course.process.pid).net_connections() if c.status == "LISTEN"]
    assert ("127.0.0.1", course.port) in [tuple(address) for address in listening]
    assert {address.ip for address in listening} == {"127.0.0.1"}
    course.process.send_signal(signal.SIGINT)
    said = course.process.communicate(timeout=30)[0].splitlines()
    assert course.process.returncode == 0
    assert said[-1].strip() == "The course is closed."
    assert not any("Traceback" in line for line in said)
    assert not any(str(course.port) in line for line in said)


def test_ctrl_c_ends_it_also_where_the_signal_was_ignored_when_it_began(new_course):
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        course = new_course()
    finally:
        signal.signal(signal.SIGINT, before)
    assert course.stop() == 0


def test_a_second_reader_gets_another_port(new_course):
    first, second = new_course(), new_course()
    assert first.port != second.port
    assert first.token != second.token
    first.stop()
    second.stop()


def test_a_folder_without_a_book_is_told_in_one_line(tmp_path):
    told = CliRunner().invoke(study, ["--book", str(tmp_path), "--no-open"])
    assert told.exit_code == 1
    assert told.output.count("\n") == 1
    assert "holds no built book" in told.output
    assert "make book" in told.output


def test_a_busy_port_is_passed_over(new_course):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        course = new_course("--port", str(port))
        assert course.port != port
        course.stop()


def test_the_extension_is_switched_on_where_the_program_is_installed():
    listed = subprocess.run(
        [sys.executable, "-m", "jupyter", "server", "extension", "list"],
        capture_output=True,
        text=True,
        check=True,
        env={**os.environ, "NO_COLOR": "1"},
    )
    assert "pedalwright_app.course" in listed.stdout + listed.stderr


@pytest.mark.parametrize("word", ["study", "--rest-after", "Ctrl-C"])
def test_help_tells_of_it(word):
    said = CliRunner().invoke(main, ["study", "--help"]).output
    assert word in said
