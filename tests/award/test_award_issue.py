"""Deciding, issuing, revoking and forgetting: recorded, repeatable after a kill, and together."""

import multiprocessing
import random
import shutil
import time
from dataclasses import replace
from pathlib import Path

import numpy as np
import pypdfium2
import pytest

from autograde.award import issue
from autograde.award.decision import decide
from autograde.award.errors import AwardError
from autograde.award.issue import DECISION, REVOKED, Desk, forget_trainee, issue_award, record_decision
from autograde.award.keys import KeyStore
from autograde.award.marks import MarkTable
from autograde.award.outcome import Outcome
from autograde.award.record import Record
from autograde.award.record_check import check_record
from autograde.award.review import settle
from autograde.award.status import StatusLedger
from autograde.award.tokens import token_payload
from autograde.award.verify import Verdict, verify_file

NAME = "Wren Łąkowa-Höhn"


@pytest.fixture
def wren(desk, table, invented):
    decision = decide(table, "wren", desk.blueprint, desk.standard, on=invented.DAY)
    return decision, record_decision(desk.record, decision)


def contents(folder):
    """All files but locks, which stay empty."""
    paths = [path for path in sorted(folder.rglob("*")) if path.is_file() and path.suffix != ".lock"]
    return {path.relative_to(folder): path.read_bytes() for path in paths}


def test_the_road_from_marks_to_a_verified_award(desk, table, store, invented, tmp_path):
    outcomes = {}
    for trainee in table.trainees:
        decision = decide(table, trainee, desk.blueprint, desk.standard, on=invented.DAY)
        entry = record_decision(desk.record, decision)
        outcomes[trainee] = decision.outcome
        if decision.outcome is Outcome.BORDERLINE:
            decision = settle(decision, award=True, by="Flint", statement="Sound reasoning throughout.")
            entry = record_decision(desk.record, decision)
        if decision.outcome is Outcome.AWARD:
            issue_award(desk, entry, decision, name=trainee.title())
    desk.publish_status(tmp_path / "status.jwt", invented.NOW)
    assert list(outcomes.values()).count(Outcome.AWARD) == 1
    assert len(list(filter(Path.is_dir, desk.folder.iterdir()))) == 2  # wren by the rule, heron by a person
    for folder in filter(Path.is_dir, desk.folder.iterdir()):
        for path in folder.iterdir():
            found = verify_file(path, store.public_path, tmp_path / "status.jwt", now=invented.NOW)
            assert found.verdict is Verdict.VERIFIED, found.checks
    report = check_record(desk.record.path)
    assert report.whole
    assert [entry.kind for entry in desk.record.entries()].count(DECISION) == 7


def test_the_award_anchors_the_record(desk, award):
    """The token holds number and hash of its decision, so a record rewritten from there on shows."""
    narrative = token_payload(award.token.read_text())["evidence"][0]["narrative"]
    entry = desk.record.entries()[0]
    assert narrative == f"Entry 1 of the issuer's record of decisions, SHA-256 {entry.hash}."
    assert check_record(desk.record.path, anchors={1: entry.hash}).whole
    assert not check_record(desk.record.path, anchors={1: "0" * 64}).whole


def test_issuing_again_changes_nothing(desk, wren, award):
    decision, entry = wren
    before, lines = contents(desk.folder), desk.record.path.read_bytes()
    issue_award(desk, entry, decision, name=NAME, email="wren@fenwick-quay.example")
    assert contents(desk.folder) == before
    assert desk.record.path.read_bytes() == lines


def test_an_award_that_was_not_recorded_is_not_issued(desk, wren, table, invented):
    decision, entry = wren
    with pytest.raises(AwardError, match="another decision"):
        issue_award(desk, entry, replace(decision, total_marks=99.0), name=NAME)
    heron = decide(table, "heron", desk.blueprint, desk.standard, on=invented.DAY)
    with pytest.raises(AwardError, match="nothing to issue"):
        issue_award(desk, record_decision(desk.record, heron), heron, name="Heron")
    assert not desk.folder.exists() or contents(desk.folder) == {}


def test_a_new_key_issues_the_same_award_anew(desk, wren, award, store, invented):
    decision, entry = wren
    store.report_compromised(desk.key.kid, invented.NOW, "laptop stolen")
    store.rotate("another six words for the quay")
    again = issue_award(
        replace(desk, key=store.open("another six words for the quay")),
        entry,
        decision,
        name=NAME,
        email="wren@fenwick-quay.example",
    )
    assert again.credential_id == award.credential_id
    found = verify_file(again.certificate, store.public_path, name=NAME, now=invented.NOW)
    assert found.holds, found.checks


def test_revocation_is_recorded_once_and_its_reason_is_private(desk, award):
    for _ in range(2):
        desk.revoke(award.credential_id, "Issued to the wrong person", by="Flint")
    revoked = [entry for entry in desk.record.entries() if entry.kind == REVOKED]
    assert len(revoked) == 1
    assert b"wrong person" not in desk.record.path.read_bytes()
    assert desk.record.personal(revoked[0].n)["reason"] == "Issued to the wrong person"
    assert award.credential_id in desk.ledger.revoked()
    with pytest.raises(AwardError, match="was not issued here"):
        desk.revoke("urn:uuid:00000000-0000-4000-8000-000000000009", "Issued to the wrong person", by="Flint")
    with pytest.raises(AwardError, match="needs a name and a reason"):
        desk.revoke(award.credential_id, "oops", by="Flint")


def test_forgetting_a_trainee_leaves_statistics_and_chain(desk, table, award, invented, tmp_path):
    for trainee in ("heron", "plover"):
        record_decision(desk.record, decide(table, trainee, desk.blueprint, desk.standard, on=invented.DAY))
    desk.revoke(award.credential_id, "Wren asked for it in writing", by="Flint")
    totals = [entry.body.get("total_marks") for entry in desk.record.entries()]
    assert forget_trainee(desk.folder, desk.record, "wren") == 3
    assert forget_trainee(desk.folder, desk.record, "wren") == 0
    left = b"".join(contents(tmp_path).values())
    for personal in (b"wren", b"Wren", NAME.encode(), "Łąkowa".encode("utf-16-be")):
        assert personal not in left, personal
    assert not award.certificate.exists()
    assert [entry.body.get("total_marks") for entry in desk.record.entries()][: len(totals)] == totals
    assert check_record(desk.record.path).whole
    assert award.credential_id in desk.ledger.revoked()


BIRDS = ("wren", "lapwing", "linnet", "dunlin", "redstart", "pipit")


def issue_all(root, invented, blueprint, standard):
    """What one run of the command does, in a process of its own: open everything anew, decide, issue."""
    marks = np.array([invented.ROWS["wren"]] * 6, dtype=float)
    marks[:, 0] -= np.arange(6) * 0.5
    table = MarkTable(BIRDS, invented.ITEMS, marks)
    record = Record(root / "decisions.jsonl", clock=lambda: invented.NOW)
    ledger, key = StatusLedger(root / "status.json"), KeyStore(root / "keys").open(invented.PASSPHRASE)
    desk = Desk(root / "awards", blueprint, standard, record, ledger, key)
    for bird in BIRDS:
        decision = decide(table, bird, blueprint, standard, on=invented.DAY)
        issue_award(desk, record_decision(record, decision), decision, name=bird.title())


def what_was_decided(root):
    """All that does not follow from a random salt: kinds, bodies, personal parts; and what the certificates say."""
    record = Record(root / "decisions.jsonl")
    entries = [
        (entry.kind, entry.body if entry.kind == DECISION else None, record.personal(entry.n))
        for entry in record.entries()
    ]
    pages = []
    for path in (root / "awards").rglob("*.pdf"):
        text = pypdfium2.PdfDocument(path)[0].get_textpage().get_text_bounded()
        pages.append(text.split("Award: ")[0])
    return entries, sorted(pages)


def test_killed_again_and_again_the_result_is_that_of_an_undisturbed_run(
    desk, tmp_path, store, invented, blueprint, standard
):
    """The undisturbed run first; then the same folder killed at 20 random moments, and run to its end."""
    fork = multiprocessing.get_context("fork")

    def run():
        process = fork.Process(target=issue_all, args=(tmp_path, invented, blueprint, standard))
        process.start()
        return process

    began = time.monotonic()
    process = run()
    process.join()
    duration = time.monotonic() - began
    assert process.exitcode == 0
    undisturbed = what_was_decided(tmp_path)
    assert len(undisturbed[0]) == 12
    assert len(undisturbed[1]) == 6
    shutil.rmtree(desk.folder)
    shutil.rmtree(tmp_path / "decisions.personal")
    for path in tmp_path.glob("decisions.*"):
        path.unlink()
    rng, kills = random.Random(3), 0
    for _ in range(20):
        process = run()
        time.sleep(rng.uniform(0, 0.4 * duration))
        kills += process.is_alive()
        process.kill()
        process.join()
    assert kills >= 12
    for _ in range(2):
        process = run()
        process.join()
        assert process.exitcode == 0
        assert check_record(tmp_path / "decisions.jsonl").whole
        assert what_was_decided(tmp_path) == undisturbed
    files = contents(desk.folder)
    assert len(files) == 18
    assert all(verify_file(desk.folder / path, store.public_path, now=invented.NOW).holds for path in files)


def test_a_kill_between_two_files_is_mended(desk, wren, award, monkeypatch):
    decision, entry = wren
    whole = contents(desk.folder)
    for path in whole:
        (desk.folder / path).unlink()
    real, count = issue.write_atomic, 0

    def killed_at_the_second(path, content, mode=0o644):
        nonlocal count
        count += 1
        if count == 2:
            raise KeyboardInterrupt
        real(path, content, mode)

    with monkeypatch.context() as patch:
        patch.setattr(issue, "write_atomic", killed_at_the_second)
        with pytest.raises(KeyboardInterrupt):
            issue_award(desk, entry, decision, name=NAME, email="wren@fenwick-quay.example")
    assert len(contents(desk.folder)) == 1
    issue_award(desk, entry, decision, name=NAME, email="wren@fenwick-quay.example")
    assert contents(desk.folder) == whole
