"""The bench of muscle timing: joint moments that must be met, a load no other sharing beats, published windows."""

import numpy as np
import pytest
from scipy.optimize import linprog

from pedalwright.activity import ACTIVITY_WINDOWS
from pedalwright_bench.bench import bench
from pedalwright_bench.benches.muscle_timing.draw import spans, steps
from pedalwright_bench.benches.muscle_timing.model import rule_in_words, shared_load
from pedalwright_bench.benches.muscle_timing.words import LETTERS, STUDIES, arc_in_words
from pedalwright_bench.ride import ridden

BENCH = bench("muscle-timing")
CORNERS = [(100, 60, 2), (100, 100, 4), (200, 80, 3), (300, 60, 2), (300, 100, 4)]


@pytest.mark.parametrize("values", CORNERS)
def test_muscles_give_the_joint_moments_and_stay_within_what_they_can(values):
    """Equilibrium (crowninshield_brand_1981): at each joint the muscles' moments sum to the net moment."""
    found = BENCH.at(*values)
    _, _, loads = ridden(*values[:2])
    for asked, given in (
        (loads.hip_extension_moment_nm, found.shared.hip_extension_moment_nm),
        (loads.knee_extension_moment_nm, found.shared.knee_extension_moment_nm),
        (loads.ankle_plantar_flexion_moment_nm, found.shared.ankle_plantar_flexion_moment_nm),
    ):
        assert given.sum(axis=0) == pytest.approx(asked[::5], abs=1e-4)
    assert np.all((found.shared.activation >= 0) & (found.shared.activation <= 1))


def test_no_other_sharing_gives_a_lower_highest_load_than_a_linear_program_says():
    """The least possible highest load, by scipy's linear program, lies at or below what every rule arrives at."""
    found = BENCH.at(200, 80, 4)
    place = 17
    active = found.shared.activation[:, place]
    joints = np.stack(
        [
            found.shared.hip_extension_moment_nm[:, place],
            found.shared.knee_extension_moment_nm[:, place],
            found.shared.ankle_plantar_flexion_moment_nm[:, place],
        ]
    )
    pulling = active > 1e-6
    per_load = joints[:, pulling] / active[pulling]
    count = int(pulling.sum())
    least = linprog(
        [*[0.0] * count, 1.0],
        A_ub=np.column_stack([np.eye(count), -np.ones(count)]),
        b_ub=np.zeros(count),
        A_eq=np.column_stack([per_load, np.zeros(3)]),
        b_eq=joints.sum(axis=1),
    )
    assert least.success
    assert least.x[-1] - 1e-6 <= active.max() < 2 * least.x[-1]


def test_a_higher_power_spreads_the_load():
    stroke, _, loads = ridden(200, 80)
    highest = [shared_load(stroke, loads, power).activation.max() for power in (2, 3, 4)]
    assert highest[0] > highest[1] > highest[2]


def test_windows_are_all_shown_and_compared_by_counting():
    found = BENCH.at(*BENCH.defaults)
    assert [one.window for one in found.compared] == list(ACTIVITY_WINDOWS)
    assert {window.source for window in ACTIVITY_WINDOWS} == set(STUDIES) == set(LETTERS)
    for one in found.compared:
        middles = np.arange(72) * 5 + 2.5
        published = np.any([(middles > low) & (middles < high) for low, high in spans(one.window)], axis=0)
        active = found.active(one.window.muscle)
        assert one.overlap == pytest.approx(np.sum(published & active) / np.sum(published | active))


def test_vasti_first_rectus_before_and_1985_not_met():
    """da_silva_2016: vasti most in the first quarter, rectus femoris before them; no prediction meets ericson_1985."""
    found = BENCH.at(*BENCH.defaults)
    assert found.load("vasti").reshape(4, 18).mean(axis=1).argmax() == 0
    assert 180 < found.peak_at_deg("rectus femoris") < 360
    overlap = {one.window.source: one.overlap for one in found.of("semimembranosus")}
    assert overlap["ericson_1985"] < 0.3 < 0.7 < overlap["dorel_2008"]


def test_bars_stand_where_the_load_is():
    outline = steps(np.linspace(0, 1, 72), 10.0, -5.0, np.full(72, True))
    assert outline[0].tolist() == [0, 10]
    assert outline[-1].tolist() == [360, 10]
    assert outline[:, 1].min() == pytest.approx(5)
    assert np.all(np.diff(outline[:, 0]) >= 0)


@pytest.mark.parametrize("values", [(200, 80, 3), (300, 60, 2)])
def test_the_sentence_says_the_numbers(values):
    found = BENCH.at(*values)
    said = BENCH.sentence(found)
    assert f"the {found.hardest} comes nearest to the most it can pull, {found.peak_pct(found.hardest):.0f} %" in said
    assert f"Of 13 published windows the prediction overlaps {found.agreeing} by more than two thirds" in said
    assert f"{100 * found.worst.overlap:.0f} % overlap." in said


def test_words_size_and_labels():
    assert rule_in_words(3, "") == "power 3, the usual rule"
    assert [arc_in_words(*arc) for arc in ((0, 360), (float("nan"), float("nan")), (340, 130))] == [
        "all round",
        "nowhere",
        "from 340° to 130°",
    ]
    assert len(list(BENCH.states())) <= 45
    assert "weak or mixed" in BENCH.target
    assert "hypothesis" in " ".join(text for _, text in BENCH.notes)
