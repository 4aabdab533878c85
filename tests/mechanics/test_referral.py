"""Refer or fit: what stops a fit, how urgent, and what is never said."""

import itertools
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pedalwright.errors import OutOfRangeError
from pedalwright.red_flags import RED_FLAGS, URGENCIES
from pedalwright.referral import must_not, refer

NAMES = [flag.name for flag in RED_FLAGS]
BIBLIOGRAPHY = (Path(__file__).parents[2] / "book" / "references.bib").read_text(encoding="utf-8")
# A fitter names no disease and promises nothing; words that would do either.
DIAGNOSES = re.compile(
    r"\b(you have|diagnos(is of|ed)|thrombosis|cauda equina|arthritis|fracture of|will (heal|cure|prevent))\b",
    re.I,
)


def test_nothing_reported_is_no_proof_that_nothing_is_wrong():
    found = refer([])
    assert not found.needed
    assert not found.stops_fit
    assert found.urgency is None
    assert "does not show that nothing is wrong" in found.text()


@given(st.lists(st.sampled_from(NAMES), min_size=1, max_size=6))
def test_the_most_urgent_comes_first_and_one_stop_stops(names):
    found = refer(names)
    ranks = [URGENCIES.index(flag.urgency) for flag in found.flags]
    assert ranks == sorted(ranks, reverse=True)
    assert found.urgency == found.flags[0].urgency
    assert found.stops_fit == any(flag.stops_fit for flag in found.flags)
    assert {flag.name for flag in found.flags} == set(names)
    assert len(found.refer_to) == len(set(found.refer_to))


@pytest.mark.parametrize("name", NAMES)
def test_every_finding_says_what_to_do_and_who_decides(name):
    text = refer([name]).text()
    (flag,) = refer([name]).flags
    assert flag.precaution in text
    assert flag.refer_to in text
    assert "A physician or physiotherapist decides" in text
    assert text.startswith("Stop: adjust nothing today." if flag.stops_fit else "The fit may go on with precautions.")


@pytest.mark.parametrize("flag", RED_FLAGS, ids=NAMES)
def test_every_entry_is_complete_and_names_its_source(flag):
    assert flag.urgency in URGENCIES
    assert flag.source in ("from memory", "common practice, no source") or f"{{{flag.source}," in BIBLIOGRAPHY
    assert all((flag.question, flag.refer_to, flag.precaution))


def test_names_are_given_once():
    assert len(NAMES) == len(set(NAMES))


def test_every_emergency_and_same_day_finding_stops_the_fit():
    assert all(flag.stops_fit for flag in RED_FLAGS if flag.urgency in ("emergency", "same day", "soon"))


@pytest.mark.parametrize(
    "text", [flag.precaution for flag in RED_FLAGS] + [refer(pair).text() for pair in itertools.pairwise(NAMES)]
)
def test_no_text_names_a_disease_or_promises_anything(text):
    assert not DIAGNOSES.search(text)


def test_what_a_fitter_must_not_do():
    rules = " ".join(must_not()).lower()
    for word in ("disease", "treatment", "joint", "promise", "pain", "medicine", "consent"):
        assert word in rules


def test_one_name_may_be_given_alone():
    assert refer("pregnancy").flags[0].name == "pregnancy"


def test_a_finding_that_is_not_listed_is_refused_with_the_list():
    with pytest.raises(OutOfRangeError, match="reported: received 'sore knee'; allowed: loss of bladder"):
        refer(["sore knee"])
