"""Arch height index, class, flexibility and support tier."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from pedalwright.arch_load import (
    NAVICULAR_DROP_WINDOWS_MM,
    arch_drop_mm,
    arch_flexibility_mm_per_kn,
    arch_rigidity_index,
    navicular_drop_class,
)
from pedalwright.errors import OutOfRangeError
from pedalwright.foot import (
    ARCH_CLASSES,
    ARCH_NORMS,
    arch_class,
    arch_class_probability,
    arch_height_index,
    arch_z,
)
from pedalwright.footbed_tier import HELD_SHARE, SUPPORT_TIERS, support_tier

index = st.floats(0.25, 0.45)


def test_index_is_height_over_the_length_named():
    assert arch_height_index(60.0, 180.0) == pytest.approx(1 / 3)
    assert arch_height_index(60.0, 240.0, "total") == pytest.approx(0.25)


@given(st.floats(40, 80), st.floats(0.2, 0.5), st.floats(0.5, 2))
def test_index_does_not_depend_on_the_size_of_the_foot(height, wanted, factor):
    length = height / wanted
    assert arch_height_index(factor * height, factor * length) == pytest.approx(wanted)


@pytest.mark.parametrize(
    ("height", "length", "kind"),
    [(6.2, 182.0, "truncated"), (62.0, 18.2, "truncated"), (10.9, 73.0, "truncated"), (62.0, 102.0, "truncated"),
     (24.0, 250.0, "total"), (120.0, 250.0, "total")],
)  # fmt: skip
def test_a_mix_of_units_or_lengths_is_noticed(height, length, kind):
    with pytest.raises(OutOfRangeError, match="both in mm"):
        arch_height_index(height, length, kind)


@pytest.mark.parametrize(
    ("ratio", "kind"), [(0.1501, "truncated"), (0.5999, "truncated"), (0.1001, "total"), (0.4499, "total")]
)
def test_any_foot_passes(ratio, kind):
    assert arch_height_index(100 * ratio, 100.0, kind) == pytest.approx(ratio)


def test_the_error_names_the_length_it_was_divided_by():
    with pytest.raises(OutOfRangeError, match="by the total length"):
        arch_height_index(20.0, 250.0, "total")


def test_z_is_read_off_the_norm():
    assert arch_z(0.34) == pytest.approx(0.0)
    assert arch_z(0.363, "sitting") == pytest.approx(0.0)
    assert arch_z(0.34) - arch_z(0.34, "sitting") == pytest.approx(0.023 / 0.030)


@given(index, st.floats(0.3, 2))
def test_class_follows_z(value, cut):
    z = float(arch_z(value))
    expected = "low" if z < -cut - 1e-6 else "high" if z > cut + 1e-6 else "medium"
    if abs(abs(z) - cut) > 1e-6:
        assert arch_class(value, cut_sd=cut) == expected


@given(index, st.floats(0.001, 0.05))
def test_class_probabilities_are_those_of_a_normal_distribution(value, spread):
    low, medium, high = arch_class_probability(value, spread)
    true = stats.norm(value, spread)
    assert low == pytest.approx(true.cdf(0.310), abs=1e-9)
    assert high == pytest.approx(true.sf(0.370), abs=1e-9)
    assert low + medium + high == pytest.approx(1)


def test_probabilities_come_in_the_order_of_the_classes_and_use_the_cut():
    assert ARCH_CLASSES == ("low", "medium", "high")
    assert np.argmax(arch_class_probability([0.28, 0.34, 0.41], 0.01), axis=-1).tolist() == [0, 1, 2]
    wide = arch_class_probability(0.38, 0.01, cut_sd=2.0)
    assert wide[2] == pytest.approx(stats.norm(0.38, 0.01).sf(0.40))
    sitting = arch_class_probability(0.363, 0.01, "sitting")
    assert sitting[0] == pytest.approx(sitting[2])


def test_norms_say_that_they_are_from_memory_and_weak():
    assert all("from memory" in norm.weakness for norm in ARCH_NORMS.values())


def test_rigidity_index():
    assert arch_rigidity_index(0.30, 0.40) == pytest.approx(0.75)


@given(st.floats(50, 80), st.floats(0, 10), st.floats(45, 110))
def test_flexibility_scales_with_drop_and_inversely_with_mass(standing, drop, mass):
    one = arch_flexibility_mm_per_kn(standing + drop, standing, mass)
    assert arch_flexibility_mm_per_kn(standing + 2 * drop, standing, mass) == pytest.approx(2 * one, abs=1e-6)
    assert arch_flexibility_mm_per_kn(standing + drop, standing, 2 * mass) == pytest.approx(one / 2, abs=1e-6)


def test_drop_is_a_linear_spring():
    assert arch_drop_mm(10.0, [0.0, 200.0, 400.0]) == pytest.approx([0.0, 2.0, 4.0])


@pytest.mark.parametrize("norm", NAVICULAR_DROP_WINDOWS_MM)
def test_navicular_windows_include_their_ends(norm):
    low, high = NAVICULAR_DROP_WINDOWS_MM[norm]
    assert navicular_drop_class([low - 0.1, low, high, high + 0.1], norm).tolist() == [
        "small",
        "usual",
        "usual",
        "large",
    ]


def test_tier_for_every_class_and_a_share_for_every_tier():
    assert set(SUPPORT_TIERS) == set(ARCH_CLASSES)
    assert [str(support_tier(name)) for name in ARCH_CLASSES] == ["mild", "moderate", "significant"]
    assert support_tier([["low", "high"]]).tolist() == [["mild", "significant"]]
    assert HELD_SHARE["mild"] < HELD_SHARE["moderate"] < HELD_SHARE["significant"] < 1


def test_unknown_arch_class_lists_the_classes():
    with pytest.raises(OutOfRangeError, match="received 'flat'; allowed: low, medium, high"):
        support_tier(["high", "flat"])


@pytest.mark.parametrize(
    "call",
    [
        lambda: arch_height_index(0.0, 180.0),
        lambda: arch_height_index(60.0, -180.0),
        lambda: arch_height_index(60.0, 180.0, "half"),
        lambda: arch_z(0.9),
        lambda: arch_z(0.14),
        lambda: arch_z(0.34, "lying"),
        lambda: arch_class(0.34, cut_sd=0.0),
        lambda: arch_class_probability(0.34, 0.0),
        lambda: arch_class_probability(0.34, 0.01, cut_sd=0.0),
        lambda: arch_class_probability(0.34, 0.01, "lying"),
        lambda: arch_rigidity_index(0.0, 0.3),
        lambda: arch_rigidity_index(0.3, 0.0),
        lambda: arch_flexibility_mm_per_kn(0.0, 62.0, 70.0),
        lambda: arch_flexibility_mm_per_kn(66.0, 0.0, 70.0),
        lambda: arch_flexibility_mm_per_kn(66.0, 62.0, 0.0),
        lambda: arch_drop_mm(-1.0, 300.0),
        lambda: arch_drop_mm(1.0, -300.0),
        lambda: navicular_drop_class(float("nan")),
        lambda: navicular_drop_class(5.0, "nobody"),
    ],
)
def test_unusable_input_raises_the_one_clear_error(call):
    with pytest.raises(OutOfRangeError, match=r"received .* allowed"):
        call()


@pytest.mark.parametrize(
    ("call", "name"),
    [
        (lambda: arch_height_index(-1, 180.0), "dorsum_height_mm"),
        (lambda: arch_height_index(60, -1), "foot_length_mm"),
        (lambda: arch_height_index(60, 180, "half"), "length"),
        (lambda: arch_z(0.9), "index: .*truncated length"),
        (lambda: arch_z(0.34, "lying"), "norm"),
        (lambda: arch_class(0.34, cut_sd=-1), "cut_sd"),
        (lambda: arch_class_probability(0.34, -1), "standard_uncertainty"),
        (lambda: arch_class_probability(0.34, 0.01, cut_sd=-1), "cut_sd"),
        (lambda: arch_class_probability(0.34, 0.01, "lying"), "norm"),
        (lambda: arch_rigidity_index(-1, 0.3), "standing_index"),
        (lambda: arch_rigidity_index(0.3, -1), "sitting_index"),
        (lambda: arch_flexibility_mm_per_kn(-1, 62.0, 70.0), "sitting_height_mm"),
        (lambda: arch_flexibility_mm_per_kn(66.0, -1, 70.0), "standing_height_mm"),
        (lambda: arch_flexibility_mm_per_kn(66.0, 62.0, -1), "body_mass_kg"),
        (lambda: arch_drop_mm(-1.0, 300.0), "arch_flexibility_mm_per_kn"),
        (lambda: arch_drop_mm(1.0, -300.0), "foot_load_n"),
        (lambda: navicular_drop_class("deep"), "navicular_drop_mm"),
        (lambda: navicular_drop_class(5.0, "nobody"), "norm"),
    ],
)
def test_the_error_begins_with_the_name_of_the_input(call, name):
    with pytest.raises(OutOfRangeError, match=f"^{name}"):
        call()


def test_probabilities_of_two_feet_keep_the_classes_on_the_last_axis():
    assert arch_class_probability([0.28, 0.41], 0.01).shape == (2, 3)


def test_small_sizes_are_allowed():
    assert arch_height_index(0.3, 0.9) == pytest.approx(1 / 3)
    assert arch_flexibility_mm_per_kn(0.9, 0.5, 0.5) == pytest.approx(0.4 / (0.4 * 0.5 * 9.80665 / 1000))
    assert arch_drop_mm(0.5, 100.0) == pytest.approx(0.05)


def test_messages_say_what_to_do():
    with pytest.raises(
        OutOfRangeError, match=r"; check that height and length are both in mm and that it is this length$"
    ):
        arch_height_index(6.2, 182.0)
    with pytest.raises(OutOfRangeError, match=r"; give the index by truncated length$"):
        arch_z(0.9)
