"""What a notebook says about handing in is what collecting understands."""

import json
import re
import shutil

from autograde.cohort.collect import collect

CASE = "crank-drill"


def how_to(path):
    return json.loads(path.read_text())["cells"][0]["source"]


def test_the_whole_folder_of_a_trainee_is_taken_as_it_was_handed_out(cohort):
    folder = re.search(r"whole folder `(\S+)`", how_to(cohort.notebook("release", "wren", CASE)))[1]
    shutil.copytree(cohort.root / "release" / folder, cohort.inbox / folder)
    assert [(item.trainee, item.case, item.what) for item in collect(cohort)] == [("wren", CASE, "taken")]


def test_a_single_file_is_taken_under_the_name_its_notebook_tells(cohort):
    notebook = cohort.notebook("release", "heron", CASE)
    name = re.search(r"call it `(\S+)`", how_to(notebook))[1]
    shutil.copy(notebook, cohort.inbox / name)
    assert [(item.trainee, item.case, item.what) for item in collect(cohort)] == [("heron", CASE, "taken")]


def test_the_specimen_names_nobody(cohort):
    told = how_to(cohort.source(CASE))
    assert "as your instructor says" in told
    assert "__" not in told
