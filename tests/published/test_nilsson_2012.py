"""Nilsson and others 2012, abstract and table 3: navicular drop of 254 people, 0.6 to 1.8 cm in the middle 68 %."""

from pedalwright.arch_load import navicular_drop_class


def test_limits_of_table_3():
    drops_mm = [5.9, 6.0, 12.0, 18.0, 18.1]
    assert navicular_drop_class(drops_mm).tolist() == ["small", "usual", "usual", "usual", "large"]


def test_older_rule_of_more_than_15_mm_disagrees_between_15_and_18_mm():
    """Brody 1982, from memory."""
    drops_mm = [14.9, 15.1, 17.9]
    assert navicular_drop_class(drops_mm, "brody_1982").tolist() == ["usual", "large", "large"]
    assert navicular_drop_class(drops_mm, "nilsson_2012").tolist() == ["usual", "usual", "usual"]
