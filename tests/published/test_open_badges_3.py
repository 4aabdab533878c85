"""Open Badges 3.0 (1EdTech): the identity hash and the shortest valid credential of the standard's text."""

import copy
import json
from importlib import resources

import jsonschema
import pytest

from autograde.award.recipient import identity_hash
from autograde.award.schema import schema_problems

# The sample of section "Open Badges Document Formats".
SAMPLE = {
    "@context": [
        "https://www.w3.org/ns/credentials/v2",
        "https://purl.imsglobal.org/spec/ob/v3p0/context-3.0.3.json",
        "https://purl.imsglobal.org/spec/ob/v3p0/extensions.json",
    ],
    "id": "http://example.edu/credentials/3732",
    "type": ["VerifiableCredential", "OpenBadgeCredential"],
    "issuer": {"id": "https://example.edu/issuers/565049", "type": ["Profile"], "name": "Example University"},
    "validFrom": "2010-01-01T00:00:00Z",
    "name": "Example University Degree",
    "credentialSubject": {
        "id": "did:example:ebfeb1f712ebc6f1c276e12ec21",
        "type": ["AchievementSubject"],
        "achievement": {
            "id": "https://example.com/achievements/21st-century-skills/teamwork",
            "type": ["Achievement"],
            "criteria": {"narrative": "Team members are nominated for this badge by their peers."},
            "description": "Collaborates within a group.",
            "name": "Teamwork",
        },
    },
    "credentialSchema": [
        {
            "id": "https://purl.imsglobal.org/spec/ob/v3p0/schema/json/ob_v3p0_achievementcredential_schema.json",
            "type": "1EdTechJsonSchemaValidator2019",
        }
    ],
}
REQUIRED = [
    ("@context",),
    ("id",),
    ("type",),
    ("issuer",),
    ("issuer", "id"),
    ("issuer", "type"),
    ("validFrom",),
    ("credentialSubject",),
    ("credentialSubject", "id"),  # no identifier either
    ("credentialSubject", "type"),
    ("credentialSubject", "achievement"),
    ("credentialSubject", "achievement", "id"),
    ("credentialSubject", "achievement", "type"),
    ("credentialSubject", "achievement", "name"),
    ("credentialSubject", "achievement", "description"),
    ("credentialSubject", "achievement", "criteria"),
    ("credentialSchema", 0, "id"),
    ("credentialSchema", 0, "type"),
]


def test_identity_hash_of_the_standards_text():
    """Definition of IdentityHash: 'a@example.com' salted with 'Kosher'."""
    assert identity_hash("a@example.com", "Kosher") == (
        "sha256$b5809d8a92f8858436d7e6b87c12ebc0ae1eac4baecc2c0b913aee2c922ef399"
    )


def test_the_sample_has_all_required_fields():
    assert schema_problems(SAMPLE) == []


@pytest.mark.parametrize("path", REQUIRED)
def test_without_a_required_field_it_is_refused(path):
    broken = copy.deepcopy(SAMPLE)
    part = broken
    for step in path[:-1]:
        part = part[step]
    del part[path[-1]]
    assert schema_problems(broken)


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("@context", 0), "https://www.w3.org/2018/credentials/v1"),
        (("@context", 1), "https://purl.imsglobal.org/spec/clr/v2p0/context.json"),
        (("type",), ["VerifiableCredential"]),
        (("type",), ["OpenBadgeCredential"]),
        (("validFrom",), "2010-01-01"),
        (("credentialSubject", "achievement", "criteria"), "a text"),
        (("credentialSubject", "result"), [{"value": "85"}]),
        (("credentialSubject", "identifier"), [{"type": "IdentityObject", "hashed": True, "identityHash": "Wren"}]),
        (("credentialSubject", "achievement", "resultDescription"), [{"id": "urn:a:b", "type": ["ResultDescription"]}]),
    ],
)
def test_another_value_is_refused(path, value):
    broken = copy.deepcopy(SAMPLE)
    part = broken
    for step in path[:-1]:
        part = part[step]
    part[path[-1]] = value
    assert schema_problems(broken)


def test_the_transcribed_schema_is_a_schema():
    text = resources.files("autograde.award").joinpath("achievement_credential.schema.json").read_text("utf-8")
    jsonschema.Draft202012Validator.check_schema(json.loads(text))
