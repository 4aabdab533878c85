"""Referral list of a health service for the lower limb (read), and findings of riders (abstracts read)."""

import pytest

from pedalwright.red_flags import RED_FLAGS
from pedalwright.referral import refer

EMERGENCY = {
    "loss of bladder or bowel control",  # cauda equina signs
    "hot swollen joint with fever",  # septic arthritis, acute infection
    "possible fracture or dislocation",
    "swollen painful calf",  # deep vein thrombosis
}
URGENT = {
    "weakness or numbness that spreads",  # progressive neurological deficit
    "sudden foot drop",
    "night pain, fever or weight loss",
    "child with hip or thigh pain",  # slipped epiphysis, Perthes
    "several stiff swollen joints",  # inflammatory arthritis
}


@pytest.mark.parametrize("name", sorted(EMERGENCY))
def test_emergencies_of_the_list(name):
    found = refer([name])
    assert found.urgency == "emergency"
    assert found.stops_fit
    assert found.flags[0].source == "nhs_borders_lower_limb"


@pytest.mark.parametrize("name", sorted(URGENT))
def test_urgent_findings_of_the_list_stop_the_fit(name):
    found = refer([name])
    assert found.stops_fit
    assert found.urgency in ("same day", "soon")


@pytest.mark.parametrize(
    ("name", "source"),
    [("genital numbness that lasts", "schrader_2008"), ("hand weakness or wasting", "patterson_2003")],
)
def test_findings_of_riders_name_their_paper(name, source):
    (flag,) = (one for one in RED_FLAGS if one.name == name)
    assert flag.source == source
    assert flag.stops_fit
