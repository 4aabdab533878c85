import os
import stat

import pytest

from autograde.cohort import files
from autograde.cohort.errors import CohortError
from autograde.cohort.files import append_records, one_at_a_time, read_records, write_bytes
from autograde.cohort.folder import open_cohort
from autograde.cohort.make import make_cohort, plan
from autograde.cohort.roster import parse_roster


def test_a_write_that_is_interrupted_leaves_the_old_file_and_no_half(tmp_path, monkeypatch):
    path = tmp_path / "page.html"
    write_bytes(path, b"old")

    def pull_the_plug(_handle):
        raise KeyboardInterrupt

    monkeypatch.setattr(files.os, "fsync", pull_the_plug)
    with pytest.raises(KeyboardInterrupt):
        write_bytes(path, b"new and longer")
    assert path.read_bytes() == b"old"
    assert [p.name for p in tmp_path.iterdir()] == ["page.html"]


def test_a_record_line_cut_off_by_an_interruption_is_passed_over_and_spoils_no_other(tmp_path):
    path = tmp_path / "marks.jsonl"
    append_records(path, [{"n": 1}, {"n": 2}])
    path.write_bytes(path.read_bytes() + b'{"n": 3, "cut')
    append_records(path, [{"n": 4}])
    assert [record["n"] for record in read_records(path)] == [1, 2, 4]


def test_two_commands_do_not_write_at_once(tmp_path):
    lock = tmp_path / ".lock"
    with one_at_a_time(lock), pytest.raises(CohortError, match="another command"), one_at_a_time(lock):
        pass
    with one_at_a_time(tmp_path / ".lock"):
        pass


def test_the_secret_is_readable_by_its_owner_only_and_never_printed(cohort):
    mode = stat.S_IMODE(os.stat(cohort.root / "secret.key").st_mode)
    assert mode == 0o600
    assert stat.S_IMODE(os.stat(cohort.root).st_mode) == 0o700
    assert cohort.secret.hex() not in repr(cohort)
    assert repr(cohort.secret) not in repr(cohort)


def test_two_cohorts_have_two_secrets(tmp_path, made_once):
    settings = open_cohort(made_once).settings
    roster = parse_roster("id,name\nwren,Wren\n")
    secrets = {
        make_cohort(plan(tmp_path / name, roster, cases=settings.cases, case_folders=[_own(settings)])).secret
        for name in ("one", "two")
    }
    assert len(secrets) == 2


def _own(settings):
    from pathlib import Path

    return Path(settings.case_folders[0])


def test_making_a_cohort_again_adds_people_and_keeps_the_secret(cohort):
    roster = parse_roster("id,name\nsnipe,Snipe\nwren,Wren the Second\n")
    again = make_cohort(plan(cohort.root, roster))
    assert again.secret == cohort.secret
    assert [trainee.id for trainee in again.trainees] == ["wren", "heron", "plover", "curlew", "snipe"]
    assert again.trainee("wren").name == "Wren the Second"
    assert again.settings == cohort.settings


def test_a_folder_with_other_things_in_it_is_left_alone(tmp_path):
    (tmp_path / "thesis.docx").write_text("years of work")
    with pytest.raises(CohortError, match=r"thesis\.docx"):
        plan(tmp_path, parse_roster("id,name\nwren,Wren\n"))
    assert [p.name for p in tmp_path.iterdir()] == ["thesis.docx"]


def test_an_unknown_case_is_refused_with_the_known_ones(tmp_path, made_once):
    own = _own(open_cohort(made_once).settings)
    with pytest.raises(CohortError, match=r"no case 'x'.*crank-drill"):
        plan(tmp_path / "new", parse_roster("id,name\nwren,Wren\n"), cases=["x"], case_folders=[own])


@pytest.mark.parametrize(
    ("file", "content", "words"),
    [
        ("cohort.toml", "title = ", "not readable"),
        ("cohort.toml", 'title = "x"\ncourse_id = "x"\ncases = "crank-drill"\n', "list of texts"),
        (
            "cohort.toml",
            'title = "x"\ncourse_id = "x"\ncases = ["a"]\nsubmission_limit_mb = -1\n',
            "submission_limit_mb",
        ),
        ("secret.key", "not hexadecimal", "secret"),
        ("secret.key", "00" * 8, "secret"),
    ],
)
def test_a_damaged_cohort_says_what_is_damaged(cohort, file, content, words):
    (cohort.root / file).write_text(content)
    with pytest.raises(CohortError, match=words):
        open_cohort(cohort.root)


def test_a_title_with_quotes_and_signs_survives(tmp_path, made_once):
    own = _own(open_cohort(made_once).settings)
    title = 'Autumn "26" \\ Ümläut 🚲'
    make_cohort(
        plan(
            tmp_path / "new",
            parse_roster("id,name\nwren,Wren\n"),
            title=title,
            case_folders=[own],
            cases=["crank-drill"],
        )
    )
    assert open_cohort(tmp_path / "new").settings.title == title
