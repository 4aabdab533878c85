"""Verification: what holds, what does not, in which words; changed bytes; hostile input."""

import base64
import json
import random
import struct
import zlib
from datetime import timedelta

import jwt
import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from autograde.award.embed import seal_pdf
from autograde.award.keys import KeyStore
from autograde.award.ring import KeyRing, PublicKey, read_ring
from autograde.award.status import sign_status_list
from autograde.award.tokens import sign_token, token_payload
from autograde.award.verify import Verdict, plain, verify_award, verify_file

NAME = "Wren Łąkowa-Höhn"
NEW = "another six words for the quay"


@pytest.fixture
def status(desk, award, tmp_path, invented):
    path = tmp_path / "status.jwt"
    desk.publish_status(path, invented.NOW)
    return path


@pytest.fixture
def check(store, award, status, invented):
    """Verify bytes against the issuer's ring and list."""

    fresh = status.read_bytes()

    def checked(content, ring=None, listed=fresh, now=invented.NOW, **known):
        return verify_award(content, ring or store.ring(), listed, now=now, **known)

    return checked


def sentence(verification, about):
    return next(check.sentence for check in verification.checks if check.about == about)


@pytest.mark.parametrize("kind", ["token", "certificate", "badge"])
def test_all_three_files_verify(award, store, status, invented, kind):
    path = getattr(award, kind)
    found = verify_file(path, store.public_path, status, name=NAME, email="Wren@fenwick-quay.example", now=invented.NOW)
    assert found.verdict is Verdict.VERIFIED, found.checks
    assert found.holds
    assert all(check.holds for check in found.checks)
    assert found.facts["award"] == "Bicycle fitter: support and alignment (invented demonstration)"
    assert found.facts["result: Recognises when to refer"] == "90 %"
    assert "invented demonstration" in found.facts["note"]
    assert any(check.about == "page" for check in found.checks) == (kind == "certificate")


def test_another_library_verifies_the_same_token(award, key):
    claims = jwt.decode(
        award.token.read_text(), key.private.public_key(), algorithms=["EdDSA"], options={"verify_nbf": False}
    )
    assert claims["id"] == award.credential_id


def test_every_changed_byte_of_the_token_fails(award, check):
    token = award.token.read_bytes()
    for place in range(len(token)):
        changed = token[:place] + bytes([token[place] ^ 1]) + token[place + 1 :]
        assert not check(changed).holds, place


@pytest.mark.parametrize("kind", ["certificate", "badge"])
def test_changed_bytes_of_certificate_and_badge_fail(award, check, kind):
    """The first and last two hundred bytes and three hundred between, each with one bit changed, and some cut out."""
    whole = getattr(award, kind).read_bytes()
    rng = random.Random(5)
    places = {*range(200), *range(len(whole) - 200, len(whole)), *rng.sample(range(len(whole)), 300)}
    for place in sorted(places):
        bit = 1 << rng.randrange(8)
        assert not check(whole[:place] + bytes([whole[place] ^ bit]) + whole[place + 1 :]).holds, place
    for place in rng.sample(range(len(whole)), 50):
        assert not check(whole[:place] + whole[place + 1 :]).holds, place
        assert not check(whole[:place]).holds, place
    for place in rng.sample(range(len(whole)), 50):
        assert not check(whole[:place] + b"\0" + whole[place:]).holds, place
    assert not check(whole + b" ").holds


def test_a_file_may_end_in_a_line_end(award, check):
    token = award.token.read_bytes()
    assert check(token + b"\n").holds
    assert check(token + b"\r\n").holds
    assert not check(token + b"\n\n").holds
    assert not check(b"\n" + token).holds


def test_a_page_put_around_a_true_award_fails(award, check, desk):
    """Another name is set on the page and the genuine token is attached: the token holds, the page does not."""
    pdf = award.certificate.read_bytes()
    body = pdf[: pdf.rindex(b"\n%award-seal ")]
    unsealed = check(body)
    assert unsealed.verdict is Verdict.NOT_VERIFIED
    assert "rely on nothing that is printed on it" in sentence(unsealed, "page")
    assert next(c for c in unsealed.checks if c.about == "signature").holds
    other = seal_pdf(body, "urn:uuid:00000000-0000-4000-8000-00000000000f", desk.key)
    assert "another award" in sentence(check(other), "page")
    seal = b"\n%award-seal " + award.token.read_bytes()[:3000] + b"\n"
    assert not check(body + seal).holds


def test_two_awards_in_one_pdf_are_refused(award, check):
    pdf = award.certificate.read_bytes()
    added = b"\n9 0 obj\n<< >>\nstream\neyJhbGciOiJFZERTQSJ9.e30.AAAA\nendstream\nendobj\n"
    found = check(pdf.replace(b"\nxref", added + b"\nxref", 1))
    assert "put together by somebody else" in found.checks[0].sentence


def test_somebody_elses_key_and_issuer(award, check, tmp_path, store):
    stranger = PublicKey(Ed25519PrivateKey.generate().public_key().public_bytes_raw())
    found = check(award.token.read_bytes(), ring=KeyRing(None, (stranger,)))
    assert "none of the 1 key(s)" in found.checks[0].sentence
    bare = check(award.token.read_bytes(), ring=KeyRing(None, store.ring().keys))
    assert bare.holds
    assert "does not say whose it is" in sentence(bare, "issuer")
    data = json.loads(store.public_path.read_text())
    data["issuer"]["id"] = "https://another.example"
    assert "The award names https://fenwick-quay.example/school" in sentence(
        check(award.token.read_bytes(), ring=read_ring(json.dumps(data).encode())), "issuer"
    )


def test_before_and_after_its_time(award, check, invented):
    early = check(award.token.read_bytes(), now=invented.NOW - timedelta(seconds=1))
    late = check(award.token.read_bytes(), now=invented.NOW.replace(year=2029))
    assert sentence(early, "time") == "It holds only from 2025-11-21T09:30:00Z on."
    assert sentence(late, "time") == "It held until 2028-11-21T09:30:00Z and has expired."
    assert not early.holds
    assert not late.holds


def test_revoked_for_good(award, desk, check, status, invented):
    desk.revoke(award.credential_id, "Issued to the wrong person", by="Flint")
    desk.publish_status(status, invented.NOW)
    for path in (award.token, award.certificate, award.badge):
        found = check(path.read_bytes(), listed=status.read_bytes())
        assert found.verdict is Verdict.NOT_VERIFIED
        assert sentence(found, "revocation") == "The issuer has revoked this award."
    years_later = invented.NOW.replace(year=2027)
    assert "revoked" in sentence(
        check(award.token.read_bytes(), listed=status.read_bytes(), now=years_later), "revocation"
    )


def test_without_a_usable_list_revocation_is_not_known(award, check, desk, status, invented, tmp_path):
    listed = status.read_bytes()
    url = "https://fenwick-quay.example/status/1"
    stranger = KeyStore(tmp_path / "stranger", clock=lambda: invented.NOW)
    stranger.create(NEW, desk.key.issuer)
    cases = {
        "no status list was given": None,
        "no signed token": b"\xff",
        "this is no signed token": b"hello",
        "is no status list": award.token.read_bytes(),
        "is another one": sign_status_list(url[:-1] + "2", [], desk.key, issued=invented.NOW).encode(),
        "not in the public key file": sign_status_list(url, [], stranger.open(NEW), issued=invented.NOW).encode(),
        "does not fit": listed[:-6] + b"AAAAAA",
        "only from": sign_status_list(url, [], desk.key, issued=invented.NOW + timedelta(days=1)).encode(),
        "is old": sign_status_list(url, [], desk.key, issued=invented.NOW, days=-1).encode(),
    }
    for words, content in cases.items():
        found = check(award.token.read_bytes(), listed=content)
        assert found.verdict is Verdict.REVOCATION_UNKNOWN, words
        assert words in sentence(found, "revocation"), (words, sentence(found, "revocation"))
        assert found.holds


def test_a_key_given_up_takes_its_awards_along(award, check, store, invented):
    store.report_compromised(store.ring().keys[0].kid, invented.NOW, "laptop stolen")
    found = check(award.token.read_bytes(), ring=store.ring())
    assert "laptop stolen" in sentence(found, "key")
    assert not found.holds


def test_a_key_given_up_later_still_spoils_the_printed_page(award, check, store, invented):
    """The token was signed before the theft; a thief can seal any page around it."""
    store.report_compromised(store.ring().keys[0].kid, invented.NOW + timedelta(days=1), "laptop stolen")
    assert check(award.token.read_bytes(), ring=store.ring()).holds
    page = check(award.certificate.read_bytes(), ring=store.ring())
    assert "gave up the key" in sentence(page, "page")
    assert not page.holds


def test_an_identity_that_another_issuer_left_readable_is_compared_as_it_is(award, check, key):
    payload = token_payload(award.token.read_text())
    readable = {"type": "IdentityObject", "hashed": False, "identityHash": "Wren", "identityType": "name"}
    payload["credentialSubject"]["identifier"] = [readable]
    token = sign_token(payload, key).encode()
    assert check(token, name="Wren").holds
    assert not check(token, name="Heron").holds


def test_a_list_for_another_purpose_or_without_key_id(award, check, key, status):
    payload = token_payload(status.read_text())
    unnamed = jwt.encode(payload, key.private, algorithm="EdDSA").encode()
    assert check(award.token.read_bytes(), listed=unnamed).verdict is Verdict.VERIFIED
    for part, value in (("statusPurpose", "suspension"), ("type", "Other")):
        changed = payload | {"credentialSubject": payload["credentialSubject"] | {part: value}}
        found = check(award.token.read_bytes(), listed=sign_token(changed, key, kind="vc+jwt").encode())
        assert "another purpose" in sentence(found, "revocation")


def test_after_rotation_old_awards_hold(award, check, store, status, invented, desk):
    later = KeyStore(store.folder, clock=lambda: invented.NOW + timedelta(days=40))
    later.rotate(NEW)
    listed = desk.ledger.publish(later.open(NEW), invented.NOW + timedelta(days=41))
    found = check(
        award.token.read_bytes(), ring=later.ring(), listed=listed.encode(), now=invented.NOW + timedelta(days=50)
    )
    assert found.verdict is Verdict.VERIFIED, found.checks


def test_whom_it_belongs_to(award, check):
    token = award.token.read_bytes()
    assert "no name was given" in sentence(check(token), "recipient")
    assert check(token, name="  Wren  Łąkowa-Ho\u0308hn ").holds
    address = "wren@fenwick-quay.example"
    assert check(token, email=address).holds
    assert not check(token, name=address).holds
    assert not check(token, email=NAME).holds
    for wrong in ({"name": "Heron"}, {"email": "heron@fenwick-quay.example"}, {"name": NAME, "email": "x@y.example"}):
        assert not check(token, **wrong).holds


@pytest.mark.parametrize(
    ("change", "about", "words"),
    [
        ({"iss": "https://another.example"}, "claims", "iss do not agree"),
        ({"sub": "urn:x:1"}, "claims", "sub do not agree"),
        ({"nbf": 1}, "claims", "nbf do not agree"),
        ({"exp": 1}, "claims", "exp do not agree"),
        ({"jti": None}, "claims", "jti do not agree"),
        ({"vc": {}}, "form", "older version"),
        ({"validFrom": "yesterday"}, "form", "validFrom"),
        ({"validFrom": "2025-13-45T00:00:00Z"}, "claims", "cannot be read"),
        ({"credentialSubject": 3}, "form", "credentialSubject"),
        ({"type": ["VerifiableCredential"]}, "form", "type"),
        ({"credentialStatus": {"id": "urn:a:b", "type": "Other"}}, "revocation", "not understood"),
    ],
)
def test_signed_nonsense_is_still_nonsense(award, check, key, change, about, words):
    """Signed by the true key, so only the content is wrong."""
    payload = token_payload(award.token.read_text()) | change
    found = check(sign_token(payload, key).encode())
    assert words in sentence(found, about), sentence(found, about)
    assert found.holds == (about == "revocation")


def test_a_seal_or_a_list_is_no_award(award, check, key, status):
    assert "no credential of the badge standard" in sentence(check(status.read_bytes()), "form")
    payload = token_payload(award.token.read_text())
    assert "another kind" in sentence(check(sign_token(payload, key, kind="pdf-seal+jwt").encode()), "form")


def test_terminal_escapes_and_half_characters_are_not_shown(award, check, key):
    payload = token_payload(award.token.read_text())
    payload["credentialSubject"]["achievement"]["name"] = "\x1b[31mred\x07 \u202eback\n"
    shown = str(check(sign_token(payload, key).encode()).facts)
    assert "\\x1b" not in shown
    assert check(sign_token(payload, key).encode()).facts["award"].isprintable()
    assert plain("a\ud800b\x00c\u2028d") == "a b c d"
    assert len(plain("x" * 9999)) < 310


def test_files_that_are_not_there_or_of_another_kind(tmp_path, award, store, status):
    missing = verify_file(tmp_path / "none.jwt", store.public_path)
    assert "here is no file" in missing.checks[0].sentence
    assert "here is no file" in verify_file(award.token, tmp_path / "none").checks[0].sentence
    assert "here is no file" in verify_file(tmp_path, store.public_path).checks[0].sentence
    private = next((store.folder / "private").glob("*.pem"))
    assert "private key" in verify_file(award.token, private).checks[0].sentence
    large = tmp_path / "large.pdf"
    with large.open("wb") as stream:
        stream.truncate(11_000_000)
    assert "larger than" in verify_file(large, store.public_path).checks[0].sentence
    assert not verify_file(award.token, award.token).holds


def png_with(*texts):
    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    header = chunk(b"IHDR", struct.pack(">IIBBBBB", 1, 1, 8, 0, 0, 0, 0))
    body = chunk(b"IDAT", zlib.compress(b"\0\0"))
    texts = b"".join(chunk(b"iTXt", b"openbadgecredential" + text) for text in texts)
    return b"\x89PNG\r\n\x1a\n" + header + texts + body + chunk(b"IEND", b"")


@pytest.mark.parametrize(
    ("png", "words"),
    [
        (png_with(), "holds no award"),
        (png_with(b"\0\0\0\0\0a.b.c", b"\0\0\0\0\0a.b.c"), "several awards"),
        (png_with(b"\0\1\0\0\0" + zlib.compress(b"a.b.c")), "compressed"),
        (png_with(b"\0\0\0\0\0\xff"), "no signed token"),
        (png_with(b"\0\0\0\0\0a.b.c") + b"more", "checksum"),
        (png_with(b"\0\0\0\0\0a.b.c")[:-12], "cut off"),
        (b"\x89PNG\r\n\x1a\n", "cut off"),
        (b"\x89PNG\r\n\x1a\n\xff\xff\xff\xff", "checksum"),
    ],
)
def test_odd_pictures_are_refused(check, png, words):
    assert words in check(png).checks[0].sentence


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda parts: st.lists(parts, max_size=4) | st.dictionaries(st.text(max_size=12), parts, max_size=4),
    max_leaves=12,
)
FUZZ = settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])


@given(st.binary(max_size=400))
@FUZZ
def test_any_bytes_are_answered(check, data):
    for content in (data, b"%PDF-1.4\n" + data, b"%PDF-1.4\nstream\neyJ" + data + b"endstream\n%award-seal ",
                    b"\x89PNG\r\n\x1a\n" + data, png_with(b"\0\0\0\0\0" + data), b"eyJ." + data + b".x"):  # fmt: skip
        found = check(content)
        assert not found.holds
        assert found.checks[0].sentence.isprintable()


@given(st.data())
@FUZZ
def test_any_damage_to_a_true_file_is_answered(award, check, data):
    whole = getattr(award, data.draw(st.sampled_from(["token", "certificate", "badge"]))).read_bytes()
    start = data.draw(st.integers(0, len(whole)))
    stop = data.draw(st.integers(start, min(len(whole), start + 60)))
    put_in = data.draw(st.binary(max_size=30))
    changed = whole[:start] + put_in + whole[stop:]
    if changed.rstrip(b"\r\n") != whole.rstrip(b"\r\n"):
        assert not check(changed).holds


@given(st.data())
@FUZZ
def test_any_content_signed_by_the_true_key_is_answered(award, check, key, data):
    """The worst case: whoever signs is the issuer, but what is signed is arbitrary."""
    payload = token_payload(award.token.read_text())
    part, name = payload, data.draw(st.sampled_from(sorted(payload)))
    while isinstance(part[name], dict) and part[name] and data.draw(st.booleans()):
        part = part[name]
        name = data.draw(st.sampled_from(sorted(part)))
    part[name] = data.draw(JSON)
    raw = json.dumps(payload).encode()
    token = jwt.PyJWS().encode(raw, key.private, algorithm="EdDSA", headers={"kid": key.kid})
    found = check(token.encode(), name=NAME, email="wren@fenwick-quay.example")
    assert all(check.sentence.isprintable() for check in found.checks)
    assert all(str(value).isprintable() for value in found.facts.values())


@given(st.data())
@FUZZ
def test_any_status_list_signed_by_the_true_key_is_answered(award, check, key, status, data):
    payload = token_payload(status.read_text())
    part = payload if data.draw(st.booleans()) else payload["credentialSubject"]
    part[data.draw(st.sampled_from(sorted(part)))] = data.draw(JSON)
    token = jwt.PyJWS().encode(json.dumps(payload).encode(), key.private, algorithm="EdDSA", headers={"kid": key.kid})
    found = check(award.token.read_bytes(), listed=token.encode())
    assert found.verdict in (Verdict.VERIFIED, Verdict.REVOCATION_UNKNOWN)


@given(JSON, JSON)
@FUZZ
def test_any_header_is_answered(award, check, key, value, other):
    _, payload, signature = award.token.read_text().split(".")
    for header in (value, {"alg": value}, {"alg": "EdDSA", "kid": value}, {"alg": "EdDSA", "typ": value, "jwk": other}):
        head = base64.urlsafe_b64encode(json.dumps(header).encode()).decode().rstrip("=")
        assert not check(f"{head}.{payload}.{signature}".encode()).holds
