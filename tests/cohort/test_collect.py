import os
import zipfile

import pytest

from autograde.cohort.collect import collect, current_submissions
from autograde.cohort.errors import CohortError

CASE = "crank-drill"


def drop(cohort, name, content=b"{}", modified=None):
    path = cohort.inbox / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content)
    if modified is not None:
        os.utime(path, (modified, modified))
    return path


def what(outcome):
    return [(item.trainee, item.what) for item in outcome]


def test_files_folders_and_archives_are_taken_in(cohort):
    drop(cohort, f"wren__{CASE}.ipynb", b"1")
    drop(cohort, f"heron/{CASE}/anything at all.ipynb", b"2")
    with zipfile.ZipFile(cohort.inbox / "from the platform.zip", "w") as archive:
        archive.writestr(f"week 3/plover/{CASE}/{CASE}.ipynb", b"3")
        archive.writestr(f"curlew__{CASE} (1).ipynb", b"4")
        archive.writestr("__MACOSX/._x.ipynb", b"5")
    assert sorted(what(collect(cohort))) == [(who, "taken") for who in ("curlew", "heron", "plover", "wren")]
    for content, who in enumerate(("wren", "heron", "plover", "curlew"), start=1):
        assert cohort.notebook("submitted", who, CASE).read_bytes() == str(content).encode()


def test_collecting_again_changes_nothing_and_leaves_the_inbox_alone(cohort):
    path = drop(cohort, f"wren__{CASE}.ipynb", b"1")
    collect(cohort)
    before = sorted((p, p.stat().st_mtime_ns) for p in cohort.root.rglob("*") if p.is_file())
    assert what(collect(cohort)) == [("wren", "kept before")]
    assert sorted((p, p.stat().st_mtime_ns) for p in cohort.root.rglob("*") if p.is_file()) == before
    assert path.read_bytes() == b"1"


def test_every_version_is_kept_and_the_one_that_arrived_last_counts(cohort):
    submitted = cohort.notebook("submitted", "wren", CASE)
    for moment, content in enumerate((b"first", b"second", b"first"), start=1_000_000):
        drop(cohort, f"wren__{CASE}.ipynb", content, moment)
        collect(cohort)
        assert submitted.read_bytes() == content
    kept = {path.read_bytes() for path in (cohort.root / "collected" / "wren" / CASE).iterdir()}
    assert kept == {b"first", b"second"}
    assert len(cohort.record("collected").read_text().splitlines()) == 3


def test_an_old_copy_found_again_does_not_replace_newer_work(cohort):
    drop(cohort, f"wren__{CASE}.ipynb", b"first", 1_000_000)
    collect(cohort)
    drop(cohort, f"wren__{CASE}.ipynb", b"second", 2_000_000)
    collect(cohort)
    drop(cohort, f"wren/{CASE}/old mail attachment.ipynb", b"first", 1_500_000)
    collect(cohort)
    assert cohort.notebook("submitted", "wren", CASE).read_bytes() == b"second"


def test_two_files_of_one_trainee_are_taken_in_the_order_of_their_age(cohort):
    drop(cohort, f"wren__{CASE}.ipynb", b"new", 2_000_000)
    drop(cohort, f"wren__{CASE}-Copy1.ipynb", b"old", 1_000_000)
    assert what(collect(cohort)) == [("wren", "taken"), ("wren", "newer version")]
    assert cohort.notebook("submitted", "wren", CASE).read_bytes() == b"new"


@pytest.mark.parametrize(
    ("name", "reason"),
    [
        (f"puffin__{CASE}.ipynb", "nobody on the roster"),
        ("wren__other-case.ipynb", "no case"),
        ("wren.ipynb", "says not whose"),
        (f"wren__{CASE}.html", "not a notebook"),
    ],
)
def test_what_cannot_be_placed_is_refused_with_a_reason_and_stays_in_the_inbox(cohort, name, reason):
    path = drop(cohort, name)
    outcome = collect(cohort)
    assert [item.what for item in outcome] == ["refused"]
    assert reason in outcome[0].reason
    assert path.exists()
    assert reason in cohort.record("refused").read_text()


def test_a_dry_run_says_what_would_be_taken_and_writes_nothing(cohort):
    drop(cohort, f"wren__{CASE}.ipynb")
    drop(cohort, "nobody.ipynb")
    before = sorted(cohort.root.rglob("*"))
    assert sorted(item.what for item in collect(cohort, dry_run=True)) == ["refused", "taken"]
    assert sorted(cohort.root.rglob("*")) == before
    assert current_submissions(cohort) == {}


def test_a_collection_killed_half_way_is_finished_by_the_next(cohort):
    drop(cohort, f"wren__{CASE}.ipynb", b"1")
    collect(cohort)
    cohort.notebook("submitted", "wren", CASE).unlink()
    collect(cohort)
    assert cohort.notebook("submitted", "wren", CASE).read_bytes() == b"1"


def test_a_kept_version_that_is_gone_is_named(cohort):
    drop(cohort, f"wren__{CASE}.ipynb", b"1")
    collect(cohort)
    cohort.notebook("submitted", "wren", CASE).unlink()
    for path in (cohort.root / "collected").rglob("*.ipynb"):
        path.unlink()
    with pytest.raises(CohortError, match="put it back"):
        collect(cohort)
