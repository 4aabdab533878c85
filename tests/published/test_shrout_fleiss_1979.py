"""Shrout and Fleiss 1979, tables 2 and 4: six subjects, four judges; as statistics packages quote them."""

import pytest

from pedalwright.agreement import intraclass_correlation

RATINGS = [[9, 2, 5, 8], [6, 1, 3, 2], [8, 4, 6, 8], [7, 1, 2, 6], [10, 5, 6, 9], [6, 2, 4, 7]]
TABLE_4 = {"1,1": 0.17, "2,1": 0.29, "3,1": 0.71, "1,k": 0.44, "2,k": 0.62, "3,k": 0.91}


@pytest.mark.parametrize("form", TABLE_4)
def test_six_forms_of_the_same_data(form):
    assert intraclass_correlation(RATINGS, form).value == pytest.approx(TABLE_4[form], abs=0.005)
