"""The nomenclature file and its reader."""

import pytest

from pedalwright.errors import OutOfRangeError, PedalwrightError
from pedalwright.nomenclature import (
    EVIDENCE,
    KINDS,
    UNITS,
    explain,
    quantities,
    quantity,
    quantity_from_entry,
    unit_suffix,
)

ENTRY = {
    "name": "saddle_height_mm",
    "symbol": "B",
    "unit": "mm",
    "label": "Saddle height",
    "definition": "Bracket to top.",
    "sign": "Positive.",
    "range": "550 to 850.",
    "kind": "measured quantity",
    "evidence": "definition",
    "sources": ["a"],
    "also": ["seat_height_mm"],
}


def test_every_entry_is_a_whole_sentence():
    for entry in quantities().values():
        assert entry.definition.endswith((".", "…")), entry.name
        assert entry.kind in KINDS
        assert entry.evidence in EVIDENCE
        assert entry.label[0].isupper(), entry.name


def test_a_published_kind_has_a_source():
    lacking = [e.name for e in quantities().values() if e.kind == "published regression" and not e.sources]
    assert not lacking


def test_reads_an_entry():
    entry = quantity_from_entry(ENTRY)
    assert entry.sources == ("a",)
    assert entry.also == ("seat_height_mm",)
    assert quantity_from_entry({k: v for k, v in ENTRY.items() if k != "also"}).also == ()


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({"kind": "law"}, "measured law"),
        ({"evidence": "good"}, "conflicting"),
        ({"unit": "cm"}, "says 'mm'"),
        ({"definition": " "}, "definition empty"),
        ({"colour": "red"}, "received colour"),
    ],
)
def test_wrong_entries_are_refused(change, word):
    with pytest.raises(PedalwrightError, match=word):
        quantity_from_entry({**ENTRY, **change})


def test_missing_fields_are_named():
    with pytest.raises(PedalwrightError, match="missing symbol"):
        quantity_from_entry({k: v for k, v in ENTRY.items() if k != "symbol"})


@pytest.mark.parametrize(
    ("name", "suffix"),
    [
        ("knee_flexion_deg", "deg"),
        ("thigh_velocity_deg_s", "deg_s"),
        ("inertia_kg_m2", "kg_m2"),
        ("profile", None),
        ("deg", None),
        ("stiffness_kpa_mm", "kpa_mm"),
        ("gravity_m_s2", "m_s2"),
        ("tilt_degrees", None),
    ],
)
def test_unit_at_the_end_of_a_name(name, suffix):
    assert unit_suffix(name) == suffix
    assert suffix is None or suffix in UNITS


@pytest.mark.parametrize(
    "asked", ["knee_flexion_deg", "knee_flexion", "Knee flexion", " knee  flexion ", "knee-flexion"]
)
def test_looks_up_by_name_label_or_beginning(asked):
    assert quantity(asked).name == "knee_flexion_deg"


def test_looks_up_other_names_of_the_same_quantity():
    assert quantity("left_torque_nm").name == "torque_nm"


def test_unknown_names_get_similar_ones():
    with pytest.raises(OutOfRangeError, match="saddle_height_mm"):
        quantity("sadle height")
    with pytest.raises(OutOfRangeError, match="similar names: none"):
        quantity("zzzzzzzzzzzz")


def test_explanations_hold_every_field_in_plain_text():
    text = explain("knee flexion")
    entry = quantity("knee flexion")
    for part in (
        entry.label,
        entry.name,
        entry.symbol,
        "in °",
        entry.definition,
        entry.sign,
        entry.range,
        entry.kind,
        entry.evidence,
        *entry.sources,
    ):
        assert part in text
    assert "without a unit" in explain("index of effectiveness")
    assert "none; see the evidence" in explain("crank length")
