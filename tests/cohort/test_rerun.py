"""Running trainees' cells again: what is run, what is skipped, and what an instructor is told."""

import json
import shutil

import pytest
from bs4 import BeautifulSoup
from click.testing import CliRunner

from autograde.cohort.collect import collect
from autograde.cohort.errors import CohortError
from autograde.cohort.marking import mark_all, marked, to_mark
from autograde.cohort.rerun import rerun_all, rerun_folder, rerunnings, to_rerun
from autograde.sandbox import Limits, find_box, why_none
from pedalwright_app.filling import cut_off, fill
from pedalwright_app.main import main

CASE = "crank-drill"
LIMITS = Limits(seconds=40)


@pytest.fixture(scope="module")
def box():
    if reason := why_none():
        (pytest.skip if shutil.which("bwrap") else pytest.fail)(reason)
    return find_box()


def hand_in(cohort, who, source, cut=False):
    notebook = json.loads(fill(cohort.notebook("release", who, CASE).read_bytes(), {"torque": "30 N m"}))
    notebook["cells"].append({"cell_type": "code", "id": "own", "metadata": {}, "source": source, "outputs": []})
    content = json.dumps(notebook).encode()
    (cohort.inbox / f"{who}__{CASE}.ipynb").write_bytes(cut_off(content) if cut else content)
    collect(cohort)


def who_is_next(cohort, box, **which):
    return [job.trainee for job in to_rerun(cohort, box, LIMITS, **which)]


def test_each_submission_is_run_once_and_a_newer_version_again(cohort, box):
    hand_in(cohort, "wren", "2 + 2", cut=True)
    hand_in(cohort, "heron", "import matplotlib.pyplot as plt\nplt.plot([0, 1]);")
    list(mark_all(cohort, to_mark(cohort)))
    marks = marked(cohort)
    assert who_is_next(cohort, box) == ["wren", "heron"]
    list(rerun_all(cohort, to_rerun(cohort, box, LIMITS)))
    assert marked(cohort) == marks

    wren, heron = (rerunnings(cohort)[who, CASE] for who in ("wren", "heron"))
    assert "cut off" in wren["trouble"]
    assert wren["cells"] == 0
    assert heron["trouble"] == ""
    assert heron["finished"] == heron["cells"] > 5
    page = BeautifulSoup((rerun_folder(cohort.root, "heron", CASE) / f"{CASE}.html").read_text(), "html.parser")
    assert page.img["src"].startswith("data:image/png;base64,iVBOR")
    assert page.img["alt"]
    assert "earns no marks" in page.get_text()
    assert "30 N m" in page.get_text()

    assert who_is_next(cohort, box) == []
    assert who_is_next(cohort, box, again=True) == ["wren", "heron"]
    hand_in(cohort, "heron", "3 + 3")
    assert who_is_next(cohort, box) == ["heron"]
    assert who_is_next(cohort, box, trainees=["wren"]) == []
    (rerun_folder(cohort.root, "wren", CASE) / f"{CASE}.html").unlink()
    assert who_is_next(cohort, box) == ["wren", "heron"]


def test_a_name_that_is_not_of_the_cohort_is_told(cohort):
    with pytest.raises(CohortError, match="no trainee 'owl'; it has wren, heron"):
        to_rerun(cohort, None, LIMITS, trainees=["owl"])
    with pytest.raises(CohortError, match="no case 'knee'"):
        to_rerun(cohort, None, LIMITS, cases=["knee"])


def test_the_command_says_what_it_would_run_and_writes_nothing(cohort, box):
    hand_in(cohort, "wren", "2 + 2")
    before = sorted((path, path.stat().st_mtime_ns) for path in cohort.root.rglob("*"))
    done = CliRunner().invoke(main, ["cohort", "rerun", str(cohort.root), "--dry-run"])
    assert done.exit_code == 0, done.output
    assert "wren" in done.output
    assert sorted((path, path.stat().st_mtime_ns) for path in cohort.root.rglob("*")) == before


def test_the_command_says_so_when_there_is_nothing_to_run(cohort, box):
    done = CliRunner().invoke(main, ["cohort", "rerun", str(cohort.root)])
    assert done.exit_code == 0, done.output
    assert "Nothing to run" in done.output
    assert "pedalwright cohort collect" in done.output
