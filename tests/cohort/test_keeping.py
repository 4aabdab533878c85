"""Back up and restore, appeals, awards issued anew, keys, and forgetting a trainee."""

import hashlib
import json
import shutil
import stat
import zipfile
from datetime import date

import pytest
from desk_steps import CASE, ISSUER, PASSPHRASE, RATINGS, by_hand, files, hand_in, run

from autograde.award.outcome import Outcome
from autograde.award.record_check import check_record
from autograde.cohort.backup import MANIFEST, back_up, restore, verify_backup
from autograde.cohort.collect import collect
from autograde.cohort.errors import CohortError
from autograde.cohort.folder import open_cohort
from autograde.cohort.gradebook_marks import note_what_people_gave
from autograde.cohort.in_step import bring_in_step
from autograde.cohort.marking import mark_all, to_mark
from autograde.cohort.standing import standing
from autograde.cohort.statistics import misconception_counts, task_counts
from autograde.desk import forget as forgetting
from autograde.desk.appeals import close_appeal, open_appeal, open_appeals
from autograde.desk.decisions import AS_BEFORE, decide_cohort
from autograde.desk.forget import forget
from autograde.desk.places import Places
from autograde.desk.plan import write_first_plan
from pedalwright_app import award_commands


@pytest.fixture
def decided(cohort, monkeypatch):
    """Wren passes with 8, heron has 5 (borderline), plover 4: not yet; curlew handed in nothing."""
    monkeypatch.setenv(award_commands.PASSPHRASE, PASSPHRASE)
    for who, share in (("wren", 1.0), ("heron", 3.0), ("plover", 3.0)):
        hand_in(cohort, who, share, advice=f"Words that only {who} would write.")
    collect(cohort)
    for _ in mark_all(cohort, to_mark(cohort)):
        pass
    bring_in_step(cohort)
    write_first_plan(cohort)
    Places.of(cohort).ratings.write_text(RATINGS)
    for who, marks in (("wren", 2.0), ("heron", 2.0), ("plover", 1.0)):
        by_hand(cohort, who, marks, f"Well done, {who}.")
    decide_cohort(cohort, sem_marks=0.5)
    note_what_people_gave(cohort)
    return cohort


def modes(root):
    return {p.relative_to(root).as_posix(): stat.S_IMODE(p.stat().st_mode) for p in root.rglob("*") if p.is_file()}


def test_a_restored_cohort_is_the_same_and_goes_on(decided, tmp_path):
    run("cohort", "award", decided.root, *ISSUER)
    file, again = tmp_path / "autumn.zip", tmp_path / "again"
    output = run("cohort", "back-up", decided.root, file)
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    with zipfile.ZipFile(file) as archive:
        assert hashlib.sha256(archive.read(MANIFEST)).hexdigest() in output.replace("\n", "")
    assert "is whole" in run("cohort", "restore", file, again, "--dry-run")
    assert not again.exists()
    output = run("cohort", "restore", file, again)
    assert "pedalwright verify" in output
    assert stat.S_IMODE(again.stat().st_mode) == 0o700
    restored = open_cohort(again)
    assert files(restored) == files(decided)
    before, after = modes(decided.root), modes(again)
    assert {name for name, mode in after.items() if mode & 0o077} == set()
    assert {name for name in before if name not in after} <= {name for name in before if name.endswith("lock")}
    assert standing(restored).sheets["wren", CASE].marks == 8
    assert {one.what for one in decide_cohort(restored).all} == {AS_BEFORE}
    assert "there already  1" in run("cohort", "award", again)
    hand_in(restored, "curlew")
    run("cohort", "collect", again)
    run("cohort", "mark", again)
    assert standing(restored).sheets["curlew", CASE].marks == 6


def test_a_backup_is_never_written_over_anything(decided, tmp_path):
    file = tmp_path / "autumn.zip"
    run("cohort", "back-up", decided.root, file)
    before = file.read_bytes()
    assert "exists already" in run("cohort", "back-up", decided.root, file, code=1)
    assert "lies inside the cohort" in run("cohort", "back-up", decided.root, decided.root / "x.zip", code=1)
    assert "no folder" in run("cohort", "back-up", decided.root, tmp_path / "nowhere" / "x.zip", code=1)
    assert file.read_bytes() == before
    assert "not empty" in run("cohort", "restore", file, decided.root, code=1)
    assert [path.name for path in tmp_path.iterdir() if path.name.endswith(".part")] == []
    assert "would be" in run("cohort", "back-up", decided.root, tmp_path / "y.zip", "--dry-run").lower()
    assert not (tmp_path / "y.zip").exists()


def test_keys_may_stay_out_of_a_backup(decided, tmp_path):
    run("cohort", "award", decided.root, *ISSUER)
    file, again = tmp_path / "autumn.zip", tmp_path / "again"
    run("cohort", "back-up", decided.root, file, "--without-keys")
    with zipfile.ZipFile(file) as archive:
        names = archive.namelist()
    assert not [name for name in names if name == "secret.key" or name.startswith("keys/private")]
    assert "keys/issuer.jwks.json" in names
    assert "put secret.key" in run("cohort", "restore", file, again)
    run("cohort", "status", again, code=1)
    shutil.copy(decided.root / "secret.key", again)
    run("cohort", "status", again)


def rewritten(file, target, change):
    """Copy an archive entry by entry through `change(name, content)`, which gives None to leave it out."""
    with zipfile.ZipFile(file) as old, zipfile.ZipFile(target, "w") as new:
        for info in old.infolist():
            content = change(info.filename, old.read(info))
            if content is not None:
                new.writestr(info.filename, content)
    return target


def with_manifest(change):
    def apply(name, content):
        if name != MANIFEST:
            return content
        manifest = json.loads(content)
        change(manifest)
        return json.dumps(manifest)

    return apply


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda name, content: content + b" " if name == "roster.csv" else content, "'roster.csv' was changed"),
        (lambda name, content: None if name == "roster.csv" else content, "'roster.csv' is missing"),
        (lambda name, content: None if name == MANIFEST else content, "no backup of a cohort"),
        (lambda name, content: b"{" if name == MANIFEST else content, "no backup of a cohort"),
        (lambda name, content: b"[" * 99_999 if name == MANIFEST else content, "no backup of a cohort"),
        (with_manifest(lambda m: m["files"].pop("roster.csv")), "'roster.csv' is not in its manifest"),
        (with_manifest(lambda m: m.update(kind="other")), "another kind"),
        (with_manifest(lambda m: m["files"].update({"../x": m["files"]["roster.csv"]})), "outside the folder"),
        (with_manifest(lambda m: m["files"].update({"/x": m["files"]["roster.csv"]})), "outside the folder"),
        (with_manifest(lambda m: m["files"]["roster.csv"].update(bytes=1)), "'roster.csv' was changed"),
        (with_manifest(lambda m: m["files"]["roster.csv"].update(mode="x")), "is damaged"),
    ],
)
def test_a_backup_that_is_not_whole_is_refused_and_nothing_is_left_behind(decided, tmp_path, change, words):
    file = tmp_path / "autumn.zip"
    back_up(decided, file)
    spoilt = rewritten(file, tmp_path / "spoilt.zip", change)
    with pytest.raises(CohortError, match=words):
        restore(spoilt, tmp_path / "again")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["autumn", "autumn.zip", "spoilt.zip"]


def test_a_cut_off_or_bent_backup_is_refused(decided, tmp_path):
    file = tmp_path / "autumn.zip"
    back_up(decided, file)
    content = file.read_bytes()
    for spoilt in (content[: len(content) // 2], b"", content[:500] + bytes([content[500] ^ 1]) + content[501:]):
        file.write_bytes(spoilt)
        with pytest.raises(CohortError):
            verify_backup(file)


def test_links_are_not_followed_into_a_backup(decided, tmp_path):
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "elsewhere" / "private.txt").write_text("not of this cohort")
    (decided.root / "inbox" / "link").symlink_to(tmp_path / "elsewhere")
    (decided.root / "inbox" / "one.txt").symlink_to(tmp_path / "elsewhere" / "private.txt")
    back_up(decided, tmp_path / "autumn.zip")
    with zipfile.ZipFile(tmp_path / "autumn.zip") as archive:
        assert not [name for name in archive.namelist() if "link" in name or "one.txt" in name or "private.txt" in name]


def test_an_appeal_is_recorded_heard_by_another_and_stays(decided):
    command = ("cohort", "appeal", "open", decided.root, "plover", "--because", "My text was taken for another's.")
    assert "Would be recorded" in run(*command, "--dry-run")
    record = Places.of(decided).record
    assert open_appeals(record) == ()
    run(*command)
    run(*command)
    assert [appeal.trainee for appeal in open_appeals(record)] == ["plover"]
    assert "1 open" in run("cohort", "status", decided.root)
    by_hand(decided, "plover", 2.0)
    close = ("cohort", "appeal", "close", decided.root, "plover", "--because", "The text refers in time; read again.")
    assert "Would be decided" in run(*close, "--by", "Marl", "--dry-run")
    assert len(open_appeals(record)) == 1
    output = run(*close, "--by", "Marl", "--award")
    assert "changed from: not yet" in output.replace("\n", " ")
    decisions = {one.trainee.id: one for one in decide_cohort(decided).all}
    assert decisions["plover"].what == AS_BEFORE
    assert decisions["plover"].decision.outcome is Outcome.AWARD  # 5 marks lie in the band, and Marl awards
    assert decisions["wren"].what == AS_BEFORE
    assert open_appeals(record) == ()
    heard = next(entry for entry in record.entries() if entry.kind == "appeal heard")
    assert (heard.body["before"], heard.body["after"]) == ("not yet", "award")
    assert record.personal(heard.n)["by"] == "Marl"
    assert "refers in time" not in record.path.read_text()
    assert check_record(record.path).whole
    assert "no appeal" in run(*close, "--by", "Marl", code=1)


def test_an_appeal_can_be_upheld_by_the_rule_alone(decided):
    open_appeal(decided, "plover", reasons="I think that I did more.")
    decision = close_appeal(decided, "plover", by="Marl", statement="Read again; the marks are right.")
    assert decision.outcome is Outcome.NOT_YET
    assert decision.reasons[-1].endswith("the first decision is upheld.")
    assert {one.what for one in decide_cohort(decided).all} == {AS_BEFORE}


def test_an_appeal_comes_in_time_with_reasons_and_is_heard_by_another(decided):
    for who, reasons, on, words in (
        ("puffin", "Long enough a reason.", None, "no decision about"),
        ("plover", "short", None, "at least 10"),
        ("plover", "Long enough a reason.", date(2999, 1, 1), "it was open until"),
    ):
        with pytest.raises(CohortError, match=words):
            open_appeal(decided, who, reasons=reasons, on=on)
    run("cohort", "settle", decided.root, "heron", "--not-yet", "--by", "Flint", "--because", "No word of referring.")
    run("cohort", "appeal", "open", decided.root, "heron", "--because", "I did refer, in the last line.")
    close = ("cohort", "appeal", "close", decided.root, "heron", "--because", "It does refer, in the last line.")
    assert "somebody else" in run(*close, "--by", "Flint", "--award", code=1)
    run(*close, "--by", "Marl", "--award")
    assert {one.trainee.id: one.decision.outcome for one in decide_cohort(decided).all}["heron"] is Outcome.AWARD


def test_an_award_that_was_revoked_is_issued_anew_with_another_number(decided):
    run("cohort", "award", decided.root, *ISSUER)
    (first,) = (decided.root / "awards").glob("*/award.jwt")
    assert "holds no revoked award" in run("cohort", "award", decided.root, "--anew", "wren", code=1)
    run("cohort", "revoke", decided.root, "wren", "--by", "Flint", "--because", "Issued under a wrong name.")
    roster = decided.root / "roster.csv"
    roster.write_text(roster.read_text().replace("Wren", "Jenny Wren"))
    assert "was revoked" in run("cohort", "award", decided.root)
    run("cohort", "award", decided.root, "--anew", "wren")
    second = next(path for path in (decided.root / "awards").glob("*/award.jwt") if path != first)
    places = Places.of(decided)
    key = ("--key", places.keys.public_path, "--status", places.status_list)
    assert "issued to this name" in run("verify", second, *key, "--name", "Jenny Wren")
    assert "has revoked" in run("verify", first, *key, code=1)
    kept = files(decided)
    run("cohort", "award", decided.root, "--anew", "wren")
    assert {name for name, content in files(decided).items() if kept.get(name) != content} <= {"awards/status.jwt"}
    second.unlink()
    run("cohort", "award", decided.root)
    assert second.exists()
    assert len(list((decided.root / "awards").glob("*/award.jwt"))) == 2


def test_keys_are_shown_renewed_given_up_and_wrapped_anew(decided, monkeypatch):
    assert "no key yet" in run("cohort", "keys", "show", decided.root, code=1)
    run("cohort", "award", decided.root, *ISSUER)
    (award,) = (decided.root / "awards").glob("*/award.jwt")
    places = Places.of(decided)
    status = ("--key", places.keys.public_path, "--status", places.status_list)
    assert "in use" in run("cohort", "keys", "show", decided.root)
    before = files(decided)
    run("cohort", "keys", "renew", decided.root, "--dry-run")
    assert files(decided) == before
    monkeypatch.setenv(award_commands.PASSPHRASE, "another six invented words")
    run("cohort", "keys", "renew", decided.root)
    assert "Verified" in run("verify", award, *status)  # signed before the renewal, status list by the new key
    assert len(places.keys.ring().keys) == 2
    words = "yet another six words\n" * 2
    run("cohort", "keys", "passphrase", decided.root, typed=words)
    monkeypatch.setenv(award_commands.PASSPHRASE, "yet another six words")
    run("cohort", "award", decided.root)
    first = places.keys.ring().keys[0].kid
    since = ("--since", "2020-01-01", "--because", "The laptop was stolen.")
    assert "fits 0 keys" in run("cohort", "keys", "given-up", decided.root, "nonsense!", *since, code=1)
    run("cohort", "keys", "given-up", decided.root, first[-12:], *since)
    assert "gave this key up" in run("verify", award, *status, code=1)


def everything(root):
    """All bytes of a cohort, names of files included."""
    paths = [path for path in root.rglob("*") if not path.name.endswith("lock")]
    return b"\n".join(str(path.relative_to(root)).encode() for path in paths) + b"".join(
        path.read_bytes() for path in paths if path.is_file()
    )


def figures(cohort):
    stand = standing(cohort)
    counts = [(item.task.id, item.states, item.facility) for item in task_counts(stand)]
    return counts, [(item.id, item.answers, len(item.trainees)) for item in misconception_counts(stand)]


def test_forgetting_leaves_statistics_and_chain_and_nothing_personal(decided):
    run("cohort", "award", decided.root, *ISSUER)
    run("cohort", "report", decided.root)
    run("cohort", "moderate", "draw", decided.root, "--first", "Flint")
    open_appeal(decided, "wren", reasons="I would like to see it again.")
    before, others = figures(decided), {who: standing(decided).sheets[who, CASE].marks for who in ("heron", "plover")}
    (decided.root / "reexecuted" / "wren" / CASE).mkdir(parents=True)
    assert b"only wren would" in everything(decided.root)
    kept = files(decided)
    assert "release/wren" in run("cohort", "forget", decided.root, "wren", "--dry-run")
    assert files(decided) == kept
    run("cohort", "forget", decided.root, "wren", code=1, typed="n\n")
    assert files(decided) == kept
    run("cohort", "forget", decided.root, "wren", "--yes")
    after = open_cohort(decided.root)
    assert figures(after) == before
    assert {who: standing(after).sheets[who, CASE].marks for who in others} == others
    text = everything(decided.root).lower()
    assert b"wren" not in text
    assert b"heron" in text
    assert check_record(Places.of(after).record.path).whole
    assert open_appeals(Places.of(after).record) == ()
    assert {one.trainee.id: one.what for one in decide_cohort(after).all} == {
        "heron": AS_BEFORE,
        "plover": AS_BEFORE,
        "curlew": AS_BEFORE,
    }
    for step in ("hand-out", "collect", "mark", "report", "status"):
        run("cohort", step, decided.root)
    assert figures(after) == before
    assert b"wren" not in everything(decided.root).lower()
    assert "nobody on the roster" in run("cohort", "forget", decided.root, "wren", "--yes", code=1)


@pytest.mark.parametrize(
    "stopped", ["forget_trainee", "forget_in_rounds", "_rewrite", "remove_student", "forget_name", "bring_in_step"]
)
def test_forgetting_stopped_on_the_way_is_ended_by_the_next_run(decided, monkeypatch, stopped):
    class PlugPulledError(BaseException):
        pass

    def stop(*_args):
        raise PlugPulledError

    before = figures(decided)
    with monkeypatch.context() as patch:
        patch.setattr(forgetting, stopped, stop)
        with pytest.raises(PlugPulledError):
            forget(decided, "wren")
    forget(open_cohort(decided.root), "wren")
    after = open_cohort(decided.root)
    assert b"wren" not in everything(decided.root).lower()
    assert figures(after) == before
    assert sum(trainee.gone for trainee in after.trainees) == 1
