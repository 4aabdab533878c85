"""The credential: fields of the badge standard, claims of its token, what it does not tell."""

import base64
import json
from dataclasses import replace
from datetime import UTC, datetime

import jwt
import pytest

from autograde.award.credential import SCOPE_OF_PRACTICE, StatusEntry, build_credential, sign_credential
from autograde.award.decision import decide
from autograde.award.errors import AwardError
from autograde.award.recipient import Recipient, identity_hash, tidy_identity
from autograde.award.ring import Issuer
from autograde.award.schema import schema_problems

SALT = "0123456789abcdef" * 2


@pytest.fixture
def build(table, blueprint, standard, key, invented):
    decision = decide(table, "wren", blueprint, standard, on=invented.DAY)

    wren = Recipient("Wren", SALT, "wren@fenwick-quay.example")

    def made(recipient=wren, plan=blueprint, what=decision, **other):
        values = {
            "credential_id": "urn:uuid:00000000-0000-4000-8000-000000000001",
            "subject_id": "urn:uuid:00000000-0000-4000-8000-000000000002",
            "issued": invented.NOW,
            "awarded": invented.NOW,
            "status": StatusEntry("https://fenwick-quay.example/status/1", 94567),
            "entry": (3, "ab" * 32),
        }
        return build_credential(what, plan, standard, recipient, key, **values | other)

    return made


def test_required_fields_and_results(build):
    credential = build()
    assert schema_problems(credential) == []
    assert credential["@context"][0] == "https://www.w3.org/ns/credentials/v2"
    assert credential["validUntil"] == "2028-11-21T09:30:00Z"
    subject = credential["credentialSubject"]
    described = {entry["id"]: entry for entry in subject["achievement"]["resultDescription"]}
    results = {described[entry["resultDescription"]]["name"]: entry["value"] for entry in subject["result"]}
    # by hand from the marks: 34 of 40, 41 of 50, 9 of 10
    assert results == {
        "Reads a pedal-force record": "85",
        "Chooses support of foot and pelvis": "82",
        "Recognises when to refer": "90",
    }
    assert credential["credentialStatus"] == {
        "id": "https://fenwick-quay.example/status/1#94567",
        "type": "BitstringStatusListEntry",
        "statusPurpose": "revocation",
        "statusListIndex": "94567",
        "statusListCredential": "https://fenwick-quay.example/status/1",
    }
    assert "ab" * 32 in credential["evidence"][0]["narrative"]


def test_it_says_what_was_not_assessed_and_what_it_does_not_license(build):
    narrative = build()["credentialSubject"]["achievement"]["criteria"]["narrative"]
    assert "Not assessed:\n- Work on a real rider" in narrative
    assert SCOPE_OF_PRACTICE in narrative
    assert "does not license medical or physiotherapeutic practice" in narrative
    assert "modified Angoff" in narrative


def test_what_is_not_written_in_the_blueprint_is_taken_from_its_names(build, blueprint):
    assert "- Six case studies" in build()["credentialSubject"]["achievement"]["criteria"]["narrative"]
    assert build()["credentialSubject"]["achievement"]["description"].startswith("Works measured cases")
    bare = build(plan=replace(blueprint, assessed=(), not_assessed=(), description=""))
    achievement = bare["credentialSubject"]["achievement"]
    assert "Assessed:\n- Reads a pedal-force record\n" in achievement["criteria"]["narrative"]
    assert "Not assessed" not in achievement["criteria"]["narrative"]
    assert achievement["description"] == "Bicycle fitter: support and alignment"


def test_a_demonstration_says_so(build):
    credential = build()
    assert credential["name"].endswith("(invented demonstration)")
    assert credential["credentialSubject"]["achievement"]["tag"] == ["invented demonstration"]


def test_a_real_school_is_not_marked_as_invented(table, blueprint, standard, key, invented):
    real = replace(key, issuer=Issuer("https://school.example", "A School"))
    decision = decide(table, "wren", blueprint, standard, on=invented.DAY)
    credential = build_credential(
        decision,
        blueprint,
        standard,
        Recipient("Wren", SALT),
        real,
        credential_id="urn:uuid:1-1",
        subject_id="urn:uuid:1-2",
        issued=invented.NOW,
        awarded=invented.NOW,
    )
    assert "invented demonstration" not in json.dumps(credential)
    assert "tag" not in credential["credentialSubject"]["achievement"]
    assert "credentialStatus" not in credential
    assert "evidence" not in credential


def test_nobody_is_named(build, key):
    token = sign_credential(build(), key)
    content = base64.urlsafe_b64decode(token.split(".")[1] + "==").decode()
    for name in ("Wren", "wren@fenwick-quay.example"):
        assert name not in content
    kinds = {entry["identityType"]: entry for entry in build()["credentialSubject"]["identifier"]}
    assert kinds["name"]["identityHash"] == identity_hash("Wren", SALT)
    assert kinds["emailAddress"]["identityHash"] == identity_hash("wren@fenwick-quay.example", SALT)
    assert len(build(Recipient("Wren", SALT))["credentialSubject"]["identifier"]) == 1


def test_names_are_hashed_alike_however_they_are_typed():
    assert tidy_identity("  Łąkowa-Ho\u0308hn  ", "name") == "Łąkowa-Höhn"
    assert tidy_identity("Wren@Fenwick-Quay.EXAMPLE ", "emailAddress") == "wren@fenwick-quay.example"
    for wrong in (("", SALT), ("Wren", ""), ("Wren", "short"), ("Wren", "Z" * 32)):
        with pytest.raises(AwardError, match="needs a name, and a salt"):
            Recipient(*wrong)


def test_claims_of_the_token_repeat_the_credential(build, key):
    """Table of JWT claims of the badge standard; read by another library."""
    token = sign_credential(build(), key)
    header = jwt.get_unverified_header(token)
    assert header == {"alg": "EdDSA", "kid": key.kid, "typ": "JWT"}
    when = datetime(2025, 12, 1, tzinfo=UTC)
    claims = jwt.decode(
        token,
        key.private.public_key(),
        algorithms=["EdDSA"],
        issuer="https://fenwick-quay.example/school",
        options={"verify_exp": False, "verify_nbf": False},
    )
    assert claims["jti"] == claims["id"]
    assert claims["sub"] == claims["credentialSubject"]["id"]
    assert claims["nbf"] == 1763717400  # date -u -d 2025-11-21T09:30:00Z +%s
    assert claims["exp"] == 1858411800  # date -u -d 2028-11-21T09:30:00Z +%s
    assert claims["nbf"] < when.timestamp() < claims["exp"]
    assert "vc" not in claims


def test_validity_ends_on_the_same_day_also_after_a_leap_day(build, blueprint):
    leap = datetime(2024, 2, 29, 12, tzinfo=UTC)
    assert build(issued=leap)["validUntil"] == "2027-02-28T12:00:00Z"
    assert "validUntil" not in build(plan=replace(blueprint, valid_years=None))


def test_only_an_award_becomes_a_credential(build, table, blueprint, standard, invented):
    for trainee in ("heron", "plover", "curlew", "siskin"):
        with pytest.raises(AwardError, match="nothing to issue"):
            build(what=decide(table, trainee, blueprint, standard, on=invented.DAY))
    with pytest.raises(AwardError, match="does not fulfil the badge standard"):
        build(credential_id="no address")
