"""The status list: places, revocation, publication, damage."""

import base64
import gzip
import json
from datetime import timedelta

import jwt
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from autograde.award.errors import AwardError
from autograde.award.status import SHORTEST, StatusLedger, decode_bits, encode_bits, status_bit

URL = "https://fenwick-quay.example/status/1"
WHY = "Issued to the wrong person"


@pytest.fixture
def ledger(tmp_path):
    ledger = StatusLedger(tmp_path / "status.json")
    ledger.create(URL)
    return ledger


@given(st.sets(st.integers(0, SHORTEST - 1), max_size=40))
@settings(max_examples=60, deadline=None)
def test_what_is_set_is_read_and_nothing_else(places):
    data = decode_bits(encode_bits(places))
    assert len(data) == SHORTEST // 8
    assert {place for place in range(SHORTEST) if data[place // 8] and status_bit(data, place)} == places


def test_places_outside_are_refused():
    data = decode_bits(encode_bits([]))
    for place in (-1, SHORTEST):
        with pytest.raises(AwardError, match="outside"):
            encode_bits([place])
        with pytest.raises(AwardError, match="outside"):
            status_bit(data, place)


def packed(data):
    return "u" + base64.urlsafe_b64encode(data).decode().rstrip("=")


def test_damaged_lists_are_refused():
    whole = encode_bits([1, 2, 3])
    for text in (
        "",
        whole[1:],
        "z" + whole[1:],
        whole[:-8],
        "u!!!",
        "u",
        packed(b"no gzip"),
        packed(gzip.compress(bytes(100))),
        whole[:30] + "A" + whole[31:],
    ):
        with pytest.raises(AwardError):
            decode_bits(text)


def test_a_list_that_unpacks_to_a_flood_is_refused():
    with pytest.raises(AwardError, match="larger than"):
        decode_bits(packed(gzip.compress(bytes(50_000_000))))


def test_an_award_keeps_its_place_and_places_differ(ledger):
    places = [ledger.entry(f"urn:uuid:{number}").index for number in range(120)]
    assert len(set(places)) == 120
    assert [StatusLedger(ledger.path).entry(f"urn:uuid:{number}").index for number in range(120)] == places
    assert sum(places) / 120 == pytest.approx(SHORTEST / 2, rel=0.2)  # spread over the list, not counted up
    assert places != sorted(places)
    ledger.create("https://elsewhere.example/other")
    assert ledger.entry("urn:uuid:0").url == URL


def test_revoked_for_good_and_published(ledger, key, invented):
    kept, gone = ledger.entry("urn:uuid:1"), ledger.entry("urn:uuid:2")
    ledger.revoke("urn:uuid:2", WHY, invented.NOW)
    ledger.revoke("urn:uuid:2", "A later and different reason", invented.NOW + timedelta(days=3))
    assert ledger.revoked() == {"urn:uuid:2": {"on": "2025-11-21T09:30:00Z", "reason": WHY}}
    token = ledger.publish(key, invented.NOW, days=30)
    assert jwt.get_unverified_header(token)["typ"] == "vc+jwt"
    listed = jwt.decode(token, key.private.public_key(), algorithms=["EdDSA"])
    assert listed["id"] == URL
    assert listed["type"] == ["VerifiableCredential", "BitstringStatusListCredential"]
    assert listed["validUntil"] == "2025-12-21T09:30:00Z"
    subject = listed["credentialSubject"]
    assert (subject["type"], subject["statusPurpose"]) == ("BitstringStatusList", "revocation")
    data = decode_bits(subject["encodedList"])
    assert status_bit(data, gone.index)
    assert not status_bit(data, kept.index)
    assert WHY not in json.dumps(listed)


def test_unknown_awards_and_empty_reasons_are_refused(ledger, invented):
    ledger.entry("urn:uuid:1")
    with pytest.raises(AwardError, match="was not issued here"):
        ledger.revoke("urn:uuid:9", WHY, invented.NOW)
    with pytest.raises(AwardError, match="ten characters"):
        ledger.revoke("urn:uuid:1", "no", invented.NOW)
    assert ledger.revoked() == {}


def test_a_damaged_ledger_is_named(ledger):
    for content in (b"", b"[]", b"{}", b'{"url": 1}'):
        ledger.path.write_bytes(content)
        with pytest.raises(AwardError, match="restore it from a backup"):
            ledger.entry("urn:uuid:1")


def test_derived_secrets_differ_by_purpose_and_stay(ledger):
    first = ledger.derive("salt", "entry")
    assert first == StatusLedger(ledger.path).derive("salt", "entry")
    assert len({first, ledger.derive("credential", "entry"), ledger.derive("salt", "other")}) == 3
