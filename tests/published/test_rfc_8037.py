"""RFC 8037 appendix A, Ed25519 in JOSE: keys and the JWS of A.4 (recalled, then found in public test suites)."""

import base64

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from autograde.award.errors import AwardError
from autograde.award.ring import PublicKey, read_ring
from autograde.award.tokens import open_token, token_header

D = "nWGxne_9WmC6hEr0kuwsxERJxWl7MmkZcDusAxyuf2A"
X = "11qYAYKxCrfVS_7TyWQHOg7hcvPapiMlrwIaaPcHURo"
JWS = (
    "eyJhbGciOiJFZERTQSJ9.RXhhbXBsZSBvZiBFZDI1NTE5IHNpZ25pbmc.hgyY0il_MGCjP0JzlnLWG1PPOt7-09PGcvMg3AIbQR6dWbhijcNR4"
    "ki4iylGjg5BhVsPt9g7sVvpAr_MuM0KAg"
)


def private():
    return Ed25519PrivateKey.from_private_bytes(base64.urlsafe_b64decode(D + "="))


def test_public_key_of_the_private_key():
    public = PublicKey(private().public_key().public_bytes_raw())
    assert public.as_jwk()["x"] == X
    assert read_ring(f'{{"kty": "OKP", "crv": "Ed25519", "x": "{X}"}}'.encode()).keys[0].public == public.public


def test_signature_of_the_example():
    head, payload, signature = JWS.split(".")
    made = private().sign(f"{head}.{payload}".encode())
    assert base64.urlsafe_b64encode(made).rstrip(b"=").decode() == signature
    assert token_header(JWS) == {"alg": "EdDSA"}


def test_the_example_is_refused_as_an_award_only_because_it_is_no_json():
    public = private().public_key().public_bytes_raw()
    with pytest.raises(AwardError, match="no valid JSON"):
        open_token(JWS, public)
    with pytest.raises(AwardError, match="does not fit"):
        open_token(JWS[:-4] + "AAAg", public)
