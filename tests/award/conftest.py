"""An invented assessment of Fenwick Quay Cycle School: trainees are birds, raters are stones."""

from datetime import UTC, date, datetime
from types import SimpleNamespace

import numpy as np
import pytest

from autograde.award.blueprint import read_blueprint
from autograde.award.decision import decide
from autograde.award.issue import Desk, record_decision
from autograde.award.keys import KeyStore
from autograde.award.marks import Item, MarkTable
from autograde.award.outcome import Outcome
from autograde.award.ratings import read_ratings
from autograde.award.record import Record
from autograde.award.ring import Issuer
from autograde.award.standard import set_standard
from autograde.award.status import StatusLedger

PASSPHRASE = "saddle pedal crank wedge heron quay"
NOW = datetime(2025, 11, 21, 9, 30, tzinfo=UTC)
DAY = date(2025, 11, 21)
STATUS_URL = "https://fenwick-quay.example/status/1"

BLUEPRINT = """
title = "Bicycle fitter: support and alignment"
version = "2025.1"
description = "Works measured cases of invented riders and decides on support, position and referral."
attempts = 2
appeal_days = 28
valid_years = 3
assessed = [
  "Six case studies with measurements of an invented rider each, worked alone",
  "Reasoned recommendation and referral, marked by two people for a sample",
]
not_assessed = [
  "Work on a real rider: touch, measuring, communication",
  "Setting up tools and parts on a real bicycle",
  "First aid, data protection and business practice",
]

[competencies.lever]
name = "Reads a pedal-force record"
minimum_pct = 50

[competencies.support]
name = "Chooses support of foot and pelvis"
minimum_pct = 50

[competencies.referral]
name = "Recognises when to refer"
minimum_pct = 60

[cases.record]
name = "Pedal-force record"
marks = {lever = 40}

[cases.footbed]
name = "Arch and footbed"
marks = {support = 40}

[cases.whole]
name = "A whole case"
marks = {support = 10, referral = 10}

[[gates]]
case = "whole"
task = "refer"
minimum_pct = 100
why = "A rider with a red flag is referred, whatever else is right."
"""

ITEMS = (
    Item("record", "torque", "lever", 10),
    Item("record", "sector", "lever", 10),
    Item("record", "power", "lever", 20),
    Item("footbed", "class", "support", 15),
    Item("footbed", "tier", "support", 25),
    Item("whole", "plan", "support", 10),
    Item("whole", "refer", "referral", 5, safety=True),
    Item("whole", "letter", "referral", 5),
)
FULL = [item.max_marks for item in ITEMS]
ROWS = {
    "wren": [9, 8, 17, 12, 21, 8, 5, 4],  # 84: award
    "heron": [7, 6, 11, 8, 14, 6, 5, 4],  # 61: within the band
    "plover": [5, 5, 10, 7, 12, 5, 5, 1],  # 50: below the band
    "curlew": [10, 10, 20, 15, 25, 10, 0, 5],  # 95, but did not refer
    "dunnock": [10, 9, 18, 2, 5, 4, 5, 5],  # 58 with support at 11 of 50
    "siskin": [9, 9, 18, 12, 20, np.nan, 5, 5],  # a text waits to be marked
}
RATINGS = "round,rater,case,task,share_pct\n" + "\n".join(
    f"{number},{rater},{item.case},{item.task},{share}"
    for number, shares in ((1, (50, 60, 75)), (2, (55, 60, 65)))
    for rater, share in zip(("flint", "slate", "marl"), shares, strict=True)
    for item in ITEMS
)


@pytest.fixture(scope="session")
def invented():
    """The data above, for tests that vary them."""
    return SimpleNamespace(
        BLUEPRINT=BLUEPRINT, DAY=DAY, FULL=FULL, ITEMS=ITEMS, NOW=NOW, PASSPHRASE=PASSPHRASE, RATINGS=RATINGS, ROWS=ROWS
    )


@pytest.fixture(scope="session")
def blueprint():
    return read_blueprint(BLUEPRINT)


@pytest.fixture(scope="session")
def table():
    why = {("siskin", "whole/plan"): "a text that a person marks"}
    return MarkTable(tuple(ROWS), ITEMS, np.array(list(ROWS.values()), dtype=float), why)


@pytest.fixture(scope="session")
def standard():
    return set_standard(read_ratings(RATINGS, ITEMS), sem_marks=4.0, reliability=0.84)


@pytest.fixture
def store(tmp_path):
    store = KeyStore(tmp_path / "keys", clock=lambda: NOW)
    store.create(PASSPHRASE, Issuer("https://fenwick-quay.example/school", "Fenwick Quay Cycle School", demo=True))
    return store


@pytest.fixture
def key(store):
    return store.open(PASSPHRASE)


@pytest.fixture
def desk(tmp_path, blueprint, standard, key):
    ledger = StatusLedger(tmp_path / "status.json")
    ledger.create(STATUS_URL)
    record = Record(tmp_path / "decisions.jsonl", clock=lambda: NOW)
    return Desk(tmp_path / "awards", blueprint, standard, record, ledger, key)


@pytest.fixture
def award(desk, table):
    """Wren's award: decided, recorded, issued."""
    from autograde.award.issue import issue_award

    decision = decide(table, "wren", desk.blueprint, desk.standard, on=DAY)
    assert decision.outcome is Outcome.AWARD
    entry = record_decision(desk.record, decision)
    return issue_award(desk, entry, decision, name="Wren Łąkowa-Höhn", email="wren@fenwick-quay.example")
