"""Feldt 1965, sampling distribution of coefficient 20, as the documentation of two R packages quotes it."""

import pytest

from autograde.award.reliability import feldt_interval, kr20

# Ten students, ten right-or-wrong questions, with p, q, pq and the variance of the totals (5.84, dividing by n)
# printed beneath: KR20.txt of the statistics pages of East Carolina University.
QUIZ = """
1 1 1 1 1 1 0 1 1 0
1 0 1 1 0 1 1 1 0 1
1 1 1 1 0 1 1 0 0 1
0 0 1 0 0 0 1 0 0 0
0 0 0 0 0 1 0 0 1 0
1 1 1 0 1 1 1 1 1 1
1 1 0 1 1 1 0 1 1 1
1 1 1 1 1 1 1 1 0 1
0 1 0 1 1 1 1 1 0 1
1 1 0 1 1 0 1 1 1 0
"""


def test_interval_of_a_coefficient_of_seven_parts_and_eighty_nine_persons():
    """ci.cronbach(.05, .85, 7, 89) of the R package statpsych prints 0.7971254 and 0.8931436.

    It takes n(k − 1) degrees of freedom for the error where Feldt, Woodruff and Salih 1987 (formulas 6 and 7, as the
    R package cocron quotes them) take (n − 1)(k − 1), so the last digits differ.
    """
    assert feldt_interval(0.85, trainees=89, tasks=7) == pytest.approx((0.7971254, 0.8931436), abs=1e-4)


def test_coefficient_of_the_printed_quiz():
    """From the printed Σpq = 2.18 and variance 5.84: 10/9·(1 − 2.18/5.84)."""
    scores = [[int(sign) for sign in line.split()] for line in QUIZ.strip().splitlines()]
    assert kr20(scores).value == pytest.approx(10 / 9 * (1 - 2.18 / 5.84), abs=1e-12)
