"""Work is taken in from folders, archives and nbgrader's exchange, and told whose it is."""

import subprocess
import sys
import zipfile

import pytest
from desk_steps import CASE, files, run
from hypothesis import given
from hypothesis import strategies as st

from autograde.cohort.collect import attempts_collected, collect
from autograde.cohort.errors import CohortError
from autograde.cohort.whose import attempt_label, exchange_time, whose

PEOPLE, CASES = {"wren", "heron"}, {CASE, "tea"}


@pytest.mark.parametrize(
    "name",
    [
        f"wren__{CASE}.ipynb",
        f"week 3/wren__{CASE} (2).ipynb",
        f"wren/{CASE}/anything.ipynb",
        f"deep/down/wren/{CASE}/{CASE}-Copy1.ipynb",
        f"wren/{CASE}.ipynb",
        f"week 3/wren/{CASE} (1).ipynb",
        f"wren+{CASE}+2026-03-02 09:30:00.250000 UTC+c2FsdA/{CASE}.ipynb",
        f"wren+{CASE}+2026-03-02 09:30:00.250000 UTC/{CASE}.ipynb",
    ],
)
def test_each_layout_says_whose_it_is(name):
    assert whose(name, PEOPLE, CASES) == ("wren", CASE)


@pytest.mark.parametrize(
    ("name", "words"),
    [
        (f"{CASE}.ipynb", "says not whose"),
        (f"{CASE}/{CASE}.ipynb", "says not whose"),
        (f"puffin/{CASE}.ipynb", "nobody on the roster"),
        (f"wren+{CASE}+time+x/other.ipynb", "has another name"),
        (f"wren+{CASE}+time+x/timestamp.txt", "not a notebook"),
        (f"puffin+{CASE}+time+x/{CASE}.ipynb", "nobody on the roster"),
        (f"../wren/{CASE}.ipynb", "leads out"),
        (f"/wren/{CASE}.ipynb", "leads out"),
        (f"wren\\{CASE}.ipynb", "leads out"),
        ("wren/coffee.ipynb", "says not whose"),
    ],
)
def test_what_cannot_be_placed_says_why(name, words):
    with pytest.raises(CohortError, match=words):
        whose(name, PEOPLE, CASES)


@given(st.text(max_size=60))
def test_no_name_leads_to_anybody_who_is_not_on_the_roster(name):
    try:
        trainee, case = whose(f"{name}.ipynb", PEOPLE, CASES)
    except CohortError:
        return
    assert trainee in PEOPLE
    assert case in CASES


@given(st.binary(max_size=60))
def test_no_content_gives_a_wrong_attempt(content):
    assert attempt_label(content) is None


def test_the_time_of_the_exchange_is_the_time_of_the_work(cohort):
    assert exchange_time("wren+x+2026-03-02 09:30:00.25 CET+y/x.ipynb") == ""
    exchange = cohort.root.parent / "inbound"
    for hour, content in (("11", b"newer"), ("09", b"older")):
        folder = exchange / f"wren+{CASE}+2026-03-02 {hour}:30:00.250000 UTC+c2FsdA"
        folder.mkdir(parents=True)
        (folder / f"{CASE}.ipynb").write_bytes(content)
        (folder / "timestamp.txt").write_text(f"2026-03-02 {hour}:30:00.250000 UTC")
    output = run("cohort", "collect", cohort.root, "--from", exchange)
    assert "Refused" not in output
    record = attempts_collected(cohort)["wren", CASE, 1]
    assert record["modified"] == "2026-03-02T11:30:00.250000+00:00"
    assert cohort.notebook("submitted", "wren", CASE).read_bytes() == b"newer"


def test_nbgraders_own_submit_leaves_what_collect_takes(cohort, tmp_path):
    """The student's side of the exchange is nbgrader's own command, the time and the random part are its own."""
    exchange, home = tmp_path / "exchange", tmp_path / "home"
    (exchange / "autumn" / "inbound").mkdir(parents=True)
    (exchange / "autumn" / "outbound" / CASE).mkdir(parents=True)
    (home / CASE).mkdir(parents=True)
    for place in (exchange, exchange / "autumn", exchange / "autumn" / "inbound"):
        place.chmod(0o733 if place.name == "inbound" else 0o777)
    source = cohort.notebook("release", "wren", CASE).read_bytes()
    (home / CASE / f"{CASE}.ipynb").write_bytes(source)
    (exchange / "autumn" / "outbound" / CASE / f"{CASE}.ipynb").write_bytes(source)
    settings = [
        f"--Exchange.root={exchange}",
        "--CourseDirectory.course_id=autumn",
        "--CourseDirectory.student_id=wren",
    ]
    settings.append(f"--Exchange.cache={tmp_path / 'cache'}")
    command = [sys.executable, "-m", "nbgrader", "submit", *settings, CASE]
    done = subprocess.run(command, cwd=home, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    run("cohort", "collect", cohort.root, "--from", exchange / "autumn" / "inbound")
    assert cohort.notebook("submitted", "wren", CASE).read_bytes() == source


def test_an_archive_elsewhere_is_taken_in_and_a_dry_run_writes_nothing(cohort, tmp_path):
    with zipfile.ZipFile(tmp_path / "week.zip", "w") as archive:
        archive.writestr(f"wren/{CASE}.ipynb", b"{}")
        archive.writestr(f"puffin/{CASE}.ipynb", b"{}")
    before = files(cohort)
    output = run("cohort", "collect", cohort.root, "--from", tmp_path / "week.zip", "--dry-run")
    assert "Would be collected" in output
    assert "nobody on the roster" in output
    assert files(cohort) == before
    assert {(item.trainee, item.what) for item in collect(cohort, tmp_path / "week.zip")} == {
        ("wren", "taken"),
        ("", "refused"),
    }
    run("cohort", "collect", cohort.root, "--from", tmp_path / "nowhere", code=2)
