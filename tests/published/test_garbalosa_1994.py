"""Forefoot tilt, prevalence: Garbalosa and others 1994 beside figures that contradict it.

Garbalosa: 86.67 % varus, 4.58 % neutral, 8.75 % valgus of 240 feet, from secondary pages (one of them says 234 feet).
Carrelero-Camp and others 2026, abstract read: 97.1 % varus in 70 limbs; range of the literature 8.6 to 83.67 %.
"""

import pytest

from pedalwright.forefoot import FOREFOOT_PREVALENCE


def by_source(source):
    return [one for one in FOREFOOT_PREVALENCE.values() if one.source == source]


def test_figures_of_240_feet():
    (paper,) = by_source("garbalosa_1994")
    assert (paper.varus_pct, paper.neutral_pct, paper.valgus_pct) == (86.67, 4.58, 8.75)


def test_they_are_whole_feet_of_240():
    (paper,) = by_source("garbalosa_1994")
    feet = [240 * share / 100 for share in (paper.varus_pct, paper.neutral_pct, paper.valgus_pct)]
    assert feet == pytest.approx([208, 11, 21], abs=0.02)
    assert sum(feet) == pytest.approx(240, abs=0.05)


def test_figures_that_contradict_it_stand_beside_it():
    assert [one.varus_pct for one in by_source("carrelero_camp_2026")] == [97.1, 8.6, 83.67]


def test_figures_of_the_trade_say_that_they_have_no_source():
    (trade,) = by_source("common practice, no source")
    assert (trade.varus_pct, trade.neutral_pct, trade.valgus_pct) == (87.0, 11.0, 2.0)
    assert trade.varus_pct + trade.neutral_pct + trade.valgus_pct == 100
