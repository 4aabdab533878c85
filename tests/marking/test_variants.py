"""Keyed seeds, rejection of draws, fingerprints."""

import hashlib
import hmac
import subprocess
import sys
from dataclasses import dataclass, replace

import numpy as np
import pytest

from autograde.cases import (
    Family,
    Misconception,
    Quantity,
    Task,
    Tolerance,
    VariantError,
    draw_variant,
    fingerprint,
    load_family,
    practice_variant,
    read_secret,
    trainee_variant,
    variant_rng,
)
from autograde.cases.variants import objections, seed_of

SECRET = bytes(range(32))


# printf 'wren|pedal-force-record|1' | openssl dgst -sha256 -mac HMAC -macopt hexkey:000102…1f
@pytest.mark.parametrize(
    ("attempt", "digest"),
    [
        (1, "37ec59aecc9e09fdc61066c064965c9611634b7ed60729aa58aa45126ac4b970"),
        (2, "1353bb5415865c77a54a3b0f6bcc59338cfe1921ee8134c227b4250a4852bb1b"),
    ],
)
def test_seed_is_the_keyed_hash_another_program_makes(attempt, digest):
    assert seed_of(SECRET, "wren", "pedal-force-record", attempt).hex() == digest
    message = f"wren|pedal-force-record|{attempt}".encode()
    assert hmac.new(SECRET, message, hashlib.sha256).hexdigest() == digest


def test_the_whole_digest_seeds_the_generator():
    numbers = variant_rng(SECRET, "wren", "pedal-force-record").integers(0, 2**63, 4)
    expected = np.random.Generator(
        np.random.PCG64(0x37EC59AECC9E09FDC61066C064965C9611634B7ED60729AA58AA45126AC4B970)
    ).integers(0, 2**63, 4)
    assert numbers.tolist() == expected.tolist()


def test_trainee_family_and_attempt_each_change_the_variant():
    family = load_family("pedal-force-record")
    prints = {
        trainee_variant(family, secret, trainee, attempt).fingerprint
        for secret in (SECRET, SECRET[::-1])
        for trainee in ("wren", "Wren", "heron")
        for attempt in (1, 2)
    }
    assert len(prints) == 12


def test_the_same_seed_gives_the_same_variant_in_another_process():
    family = load_family("pedal-force-record")
    here = trainee_variant(family, SECRET, "wren").fingerprint
    program = (
        "from autograde.cases import load_family, trainee_variant;"
        "print(trainee_variant(load_family('pedal-force-record'), bytes(range(32)), 'wren').fingerprint)"
    )
    there = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True).stdout.strip()
    assert here == there


@pytest.mark.parametrize("name", ["", "a|b", "wren\n", "wren\x00"])
def test_names_that_could_be_confused_are_refused(name):
    with pytest.raises(VariantError, match="printable"):
        seed_of(SECRET, name, "pedal-force-record")


@pytest.mark.parametrize("attempt", [0, -1, 1.0, True, "1"])
def test_attempts_are_counted_from_one(attempt):
    with pytest.raises(VariantError, match="first"):
        seed_of(SECRET, "wren", "pedal-force-record", attempt)


def test_secret_is_read_from_the_cohort_folder(tmp_path):
    (tmp_path / "secret.key").write_text(SECRET.hex() + "\n")
    assert read_secret(tmp_path) == SECRET


@pytest.mark.parametrize(
    ("content", "says"),
    [(None, "cannot be read"), ("no hex", "not hexadecimal"), ("00ff", "2 bytes"), ("ä", "not hexa")],
)
def test_a_bad_secret_is_named_without_being_shown(tmp_path, content, says):
    if content is not None:
        (tmp_path / "secret.key").write_text(content)
    with pytest.raises(VariantError, match=says) as caught:
        read_secret(tmp_path)
    assert content is None or content not in str(caught.value)


@dataclass(frozen=True)
class Box:
    side: float


def box_family(low=1.0, high=10.0, slips=(), tolerance=0.1, clear=lambda case: []):
    tasks = (
        Task(
            "area",
            "?",
            Quantity("", (0, 150), Tolerance(tolerance)),
            1,
            "c",
            "p",
            solve=lambda case, _: case.side**2,
        ),
    )
    return Family(
        name="box",
        title="Box",
        module_page="p",
        competencies=("c",),
        draw=lambda rng: Box(round(float(rng.uniform(low, high)), 3)),
        tasks=tasks,
        misconceptions=tuple(slips),
        figures=lambda case: {},
        context=lambda case: {},
        clear=clear,
    )


def slip(name, predict, feedback=None):
    return Misconception(name, "area", name, predict, feedback or name, "p")


def test_a_slip_too_near_the_right_value_is_drawn_again():
    # side² and 2 × side meet at a side of 2: with a band of 0.1 each they must be more than 0.2 apart
    doubled = slip("doubled", lambda case, _: 2 * case.side)
    family = box_family(1.8, 2.6, [doubled])
    assert list(objections(family, Box(2.0)))
    assert list(objections(family, Box(2.09)))
    assert not list(objections(family, Box(2.11)))
    rng = np.random.default_rng(1)
    drawn = [draw_variant(family, rng) for _ in range(60)]
    assert all(abs(each.case.side**2 - 2 * each.case.side) > 0.2 for each in drawn)
    assert any(each.tries > 1 and each.rejected for each in drawn)


def test_two_slips_too_near_each_other_are_drawn_again_unless_they_are_told_the_same():
    one, other = slip("one", lambda case, _: 20.0), slip("other", lambda case, _: 20.1)
    assert list(objections(box_family(slips=[one, other]), Box(3)))
    assert not list(objections(box_family(slips=[one, replace(other, feedback="one")]), Box(3)))


def test_a_slip_that_does_not_apply_is_no_obstacle():
    assert not list(objections(box_family(slips=[slip("none", lambda case, _: None)]), Box(3)))


@pytest.mark.parametrize(
    ("family", "case"),
    [
        (box_family(), Box(13.0)),
        (box_family(), Box(float("nan"))),
        (box_family(slips=[slip("broken", lambda case, _: 1 / 0)]), Box(3.0)),
        (box_family(clear=lambda case: ["too plain"]), Box(3.0)),
    ],
)
def test_unsolvable_and_unclear_cases_are_drawn_again(family, case):
    assert list(objections(family, case))


def test_giving_up_says_why_and_what_to_change():
    family = box_family(1.99, 2.01, [slip("doubled", lambda case, _: 2 * case.side)])
    with pytest.raises(VariantError, match=r"none of 50 draws.*“doubled” lie too close \(50 times\)\. Widen"):
        draw_variant(family, np.random.default_rng(0), max_tries=50)


def test_a_draw_that_fails_names_the_file():
    family = replace(box_family(), draw=lambda rng: 1 / 0)
    with pytest.raises(VariantError, match=r"box/case\.py: `draw` failed \(ZeroDivisionError"):
        draw_variant(family, np.random.default_rng(0))


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"draw": lambda rng: None}, "`draw` gives a NoneType; return a frozen dataclass or a dictionary"),
        ({"draw": lambda rng: 3.0}, "`draw` gives a float"),
        ({"clear": lambda case: None}, "`clear` gives a NoneType; return a list of reasons"),
        ({"clear": lambda case: "too plain"}, "`clear` gives a str"),
        ({"clear": lambda case: case.missing}, r"`clear` failed \(AttributeError"),
        ({"draw": lambda rng: {"side": 3.0, "pair": {1, 2}}, "tasks": ()}, "holds something else than numbers"),
    ],
)
def test_what_cannot_be_a_case_names_the_file(change, says):
    with pytest.raises(VariantError, match=says) as caught:
        draw_variant(replace(box_family(), **change), np.random.default_rng(0))
    assert "box/case.py" in str(caught.value)


def test_fingerprint_sees_every_number_and_nothing_else():
    # printf '{"side": "3.0"}' | sha256sum
    assert fingerprint(Box(3.0)) == "114a0237a97e451d651efaf0fa3f3bad28c4be3769d377f7a424ce78991cf113"
    assert fingerprint(Box(3.0)) == fingerprint({"side": 3}) == fingerprint({"side": np.float64(3.0)})
    assert fingerprint(Box(3.0)) != fingerprint(Box(np.nextafter(3.0, 4.0)))


def test_practice_variants_are_public_and_numbered():
    family = load_family("pedal-force-record")
    assert practice_variant(family, 1).fingerprint == practice_variant(family, 1).fingerprint
    assert practice_variant(family, 1).fingerprint != practice_variant(family, 2).fingerprint
