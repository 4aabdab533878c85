"""RFC 8785, canonical JSON: the example of section 3.2.2 and its author's test data (cyberphone/json-canonicalization).

Inputs are retyped; outputs are given by their SHA-256, as computed from that repository's files.
"""

import hashlib
import json

import pytest

from autograde.award.chain import canonical
from autograde.award.errors import AwardError

VALUES = r"""{
  "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
  "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
  "literals": [null, true, false]
}"""
CASES = {
    "arrays": (
        r'[56, {"d": true, "10": null, "1": []}]',
        "099601b171cafed97c333f8878d68e7f8c8f795412adb34b2fdcf0e7c7beac42",
    ),
    "french": (
        '{"peach": "This sorting order", "péché": "is wrong according to French", '
        '"pêche": "but canonicalization MUST", "sin": "ignore locale"}',
        "d99d0ebdcb0033cb858cfa830ae46bc0fb3309413b271f1da828c89901a27ed5",
    ),
    "structures": (
        r'{"1": {"f": {"f": "hi", "F": 5}, "\n": 56.0}, "10": {}, "": "empty", "a": {}, '
        r'"111": [{"e": "yes", "E": "no"}], "A": {}}',
        "605f65004ec2db7692522a0852c22f1c989e036d547e88963d1a3143cf3195d5",
    ),
    "unicode": (
        r'{"Unnormalized Unicode": "A\u030a"}',
        "0d99aad92a125196ff887876643fd3206786a84ddce2cee52ba4ad256d2381d3",
    ),
    "values": (VALUES, "2d5e01a318d0f0879ab568c4be289c8b1f64ef8921a53c6277d5e069978baacb"),
    "weird": (
        r'{"\u20ac": "Euro Sign", "\r": "Carriage Return", "\u000a": "Newline", "1": "One", '
        r'"\u0080": "Control\u007f", "\ud83d\ude02": "Smiley", "\u00f6": "Latin Small Letter O With Diaeresis", '
        r'"\ufb33": "Hebrew Letter Dalet With Dagesh", "</script>": "Browser Challenge"}',
        "6af595a9aa80110b964b4de3f82a05fa6ae7423005019bacfa2620dddc4e94d1",
    ),
}


def test_example_of_the_standard():
    assert canonical(json.loads(VALUES)).decode() == (
        r'{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],'
        r'"string":"€$\u000f\nA' + "'" + r'B\"\\\\\"/"}'
    )


@pytest.mark.parametrize("name", CASES)
def test_data_of_the_author(name):
    text, digest = CASES[name]
    assert hashlib.sha256(canonical(json.loads(text))).hexdigest() == digest


@pytest.mark.parametrize("value", [float("nan"), float("inf"), 2**53 + 1, {"a": [float("-inf")]}, {1: 2}, "\ud800"])
def test_what_has_no_canonical_form_is_refused(value):
    with pytest.raises(AwardError):
        canonical(value)
