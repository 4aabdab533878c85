"""Ericson and others 1986, abstract read: work of hip extensors 27, flexors 4, knee 39 and 10, plantar flexors 20 %.

Six healthy people on an ergometer at 120 W and 60 turns a minute.
"""

from pedalwright.work_shares import PUBLISHED_WORK_SHARES


def test_shares_of_positive_work():
    shares = PUBLISHED_WORK_SHARES["ericson_1986"].shares
    assert (shares.hip_extension_pct, shares.hip_flexion_pct) == (27, 4)
    assert (shares.knee_extension_pct, shares.knee_flexion_pct) == (39, 10)
    assert (shares.ankle_plantar_flexion_pct, shares.ankle_dorsiflexion_pct) == (20, 0)
    assert sum(vars(shares).values()) == 100
