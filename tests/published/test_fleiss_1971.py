"""Fleiss 1971, kappa for many raters; the worked table of fourteen raters and ten subjects is a public textbook one."""

import pytest

from pedalwright.kappa import fleiss_kappa

COUNTS = [
    [0, 0, 0, 0, 14],
    [0, 2, 6, 4, 2],
    [0, 0, 3, 5, 6],
    [0, 3, 9, 2, 0],
    [2, 2, 8, 1, 1],
    [7, 7, 0, 0, 0],
    [3, 2, 6, 3, 0],
    [2, 5, 3, 2, 2],
    [6, 5, 2, 1, 0],
    [0, 2, 2, 3, 7],
]


def test_worked_table():
    assert fleiss_kappa(COUNTS) == pytest.approx(0.210, abs=5e-4)
