"""The did:key method and base 58 (drafts of W3C CCG and IETF): published examples.

The first name was read in the method's text; the other two and the three of base 58 were recalled and then found in
public test suites that cite the drafts.
"""

import pytest

from autograde.award.did_key import decode_base58, did_key, encode_base58, key_url, public_bytes
from autograde.award.errors import AwardError

# The Ed25519 example key of the method's text, and two of its test vectors.
NAMES = [
    "did:key:z6MkhaXgBZDvotDkL5257faiztiGiC2QtKLGpbnnEGta2doK",
    "did:key:z6MkiTBz1ymuepAQ4HEHYSF1H8quG5GLVVQR3djdX3mDooWp",
    "did:key:z6MkpTHR8VNsBxYAAWHut2Geadd9jSwuBV8xRoAnwWsdvktH",
]
# Examples of the base 58 draft.
BASE58 = {
    b"Hello World!": "2NEpo7TZRRrLZSi2U",
    b"The quick brown fox jumps over the lazy dog.": "USm3fpXnKG5EUBx2ndxBDMPVciP5hGey2Jh4NDv6gmeo1LkMeiKrLJUUBk6Z",
    bytes.fromhex("0000287fb4cd"): "11233QC4",
}
# RFC 8032 test 1, with the name that any Ed25519 did:key must have: z6Mk….
RFC_8032_PUBLIC = bytes.fromhex("d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a")


@pytest.mark.parametrize("data", BASE58)
def test_base_58(data):
    assert encode_base58(data) == BASE58[data]
    assert decode_base58(BASE58[data]) == data


@pytest.mark.parametrize("name", NAMES)
def test_names_hold_an_ed25519_key_and_round_trip(name):
    assert len(public_bytes(name)) == 32
    assert did_key(public_bytes(name)) == name
    assert public_bytes(key_url(public_bytes(name))) == public_bytes(name)


def test_every_name_begins_alike():
    assert did_key(RFC_8032_PUBLIC).startswith("did:key:z6Mk")
    assert key_url(RFC_8032_PUBLIC) == did_key(RFC_8032_PUBLIC) + "#" + did_key(RFC_8032_PUBLIC)[8:]


@pytest.mark.parametrize(
    "name",
    [
        "did:web:example.org",
        "did:key:z6MkhaXgBZDvotDkL5257faiztiGiC2QtKLGpbnnEGta2do",  # a sign short
        "did:key:z6MkhaXgBZDvotDkL5257faiztiGiC2QtKLGpbnnEGta2do0",  # 0 is not in base 58
        "did:key:zQ3shokFTS3brHcDQrn82RUDfCZESWL1ZdCEJwekUDPQiYBme",  # another kind of key (secp256k1)
        "",
    ],
)
def test_other_names_are_refused(name):
    with pytest.raises(AwardError):
        public_bytes(name)
