"""A small cohort with a case family of its own, made once and copied for each test."""

import shutil
import sys
from pathlib import Path

import pytest

from autograde.cohort.folder import Cohort, open_cohort
from autograde.cohort.handout import hand_out
from autograde.cohort.make import make_cohort, plan
from autograde.cohort.roster import parse_roster

sys.path.insert(0, str(Path(__file__).parent))  # for desk_steps, which tests of this folder share

CASE = "crank-drill"
OWN_CASES = Path(__file__).parent / "own_cases"
ROSTER = "id,name,email\nwren,Wren,\nheron,Heron,heron@example.org\nplover,Plover,\ncurlew,Curlew,\n"
SECRET = bytes(range(32))


@pytest.fixture(scope="session")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("made") / "autumn"
    wanted = plan(root, parse_roster(ROSTER), title="Autumn", cases=[CASE], case_folders=[OWN_CASES])
    hand_out(make_cohort(wanted, SECRET))
    return root


@pytest.fixture
def cohort(made_once: Path, tmp_path: Path) -> Cohort:
    return open_cohort(Path(shutil.copytree(made_once, tmp_path / "autumn")))
