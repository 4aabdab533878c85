"""W3C Bitstring Status List v1.0: the list of the standard's example, and what it demands of a list."""

import base64
import gzip

import pytest

from autograde.award.errors import AwardError
from autograde.award.status import SHORTEST, decode_bits, encode_bits, status_bit

EXAMPLE = "uH4sIAAAAAAAAA-3BMQEAAADCoPVPbQwfoAAAAAAAAAAAAAAAAAAAAIC3AYbSVKsAQAAA"


def test_list_of_the_example_is_sixteen_kilobytes_of_zeros():
    assert decode_bits(EXAMPLE) == bytes(16 * 1024)


def test_our_list_of_the_same_bits_reads_the_same():
    """Compressors may differ in their bytes; what they unpack to may not."""
    made = encode_bits([])
    assert decode_bits(made) == decode_bits(EXAMPLE)
    assert gzip.decompress(base64.urlsafe_b64decode(made[1:] + "=" * (-len(made[1:]) % 4))) == bytes(16 * 1024)
    assert made[0] == "u"
    assert "=" not in made


def test_first_place_is_the_leftmost_bit():
    assert decode_bits(encode_bits([0]))[0] == 0b1000_0000
    assert decode_bits(encode_bits([7]))[0] == 0b0000_0001
    assert decode_bits(encode_bits([SHORTEST - 1]))[-1] == 0b0000_0001


def test_index_of_the_example_credential():
    data = decode_bits(encode_bits([94567]))
    assert status_bit(data, 94567)
    assert not status_bit(data, 94566)
    assert not status_bit(data, 94568)
    assert sum(bin(byte).count("1") for byte in data) == 1


def test_a_list_of_fewer_than_131072_places_is_refused():
    short = "u" + base64.urlsafe_b64encode(gzip.compress(bytes(1024))).decode().rstrip("=")
    with pytest.raises(AwardError, match="131072"):
        decode_bits(short)
    with pytest.raises(AwardError, match="131072"):
        encode_bits([], size=8192)
