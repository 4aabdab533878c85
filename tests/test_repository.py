"""What holds for the repository as a whole: import directions, module sizes, nothing that belongs to one machine."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
LONGEST = {"src/pedalwright": 330, "src/pedalwright_bench": 310, "src/pedalwright_app": 310, "autograde": 350}
TEXT = {".py", ".md", ".toml", ".yml", ".yaml", ".cfg", ".txt", ".js", ".css", ".html", ".bib", ".j2", ".lock", ""}


def tracked_files():
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    return [ROOT / name for name in listed.split("\0") if name]


def test_imports_go_one_way():
    linter = Path(sys.executable).with_name("lint-imports")
    run = subprocess.run([linter, "--no-cache"], cwd=ROOT, capture_output=True, text=True)
    assert run.returncode == 0, run.stdout


@pytest.mark.parametrize("package", LONGEST)
def test_modules_stay_short(package):
    long = {
        str(path.relative_to(ROOT)): lines
        for path in (ROOT / package).rglob("*.py")
        if (lines := len(path.read_text(encoding="utf-8").splitlines())) > LONGEST[package]
    }
    assert not long, f"modules over {LONGEST[package]} lines; split them by what they do: {long}"


def test_no_path_of_one_machine_and_no_registry_host_is_tracked():
    private = re.compile(r"/(?:home|Users|root|workspace)/\w|py(?:pi|thonhosted)\.org|npm(?:js)\.(?:org|com)")
    found = []
    for path in tracked_files():
        if path.suffix in TEXT and path.is_file() and path != Path(__file__):
            for number, line in enumerate(path.read_text(encoding="utf-8", errors="replace").splitlines(), 1):
                if private.search(line):
                    found.append(f"{path.relative_to(ROOT)}:{number}: {line.strip()[:100]}")
    assert not found, found


def test_top_level_is_as_documented():
    expected = {"README.md", "DEVELOPERS.md", "book", "exercises", "autograde", "src", "tests", "_config.yml"}
    assert expected <= {path.name for path in ROOT.iterdir()}


def test_command_is_installed():
    command = Path(sys.executable).with_name("pedalwright")
    run = subprocess.run([command, "--help"], capture_output=True, text=True)
    assert run.returncode == 0, run.stderr
    assert "cohort" in run.stdout
