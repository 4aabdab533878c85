"""Constants say where they come from."""

import pytest

from pedalwright.constants import Constant


@pytest.mark.parametrize("standing", ["published", "from memory", "definition"])
def test_what_is_published_needs_a_source(standing):
    with pytest.raises(ValueError, match="add the bibliography key"):
        Constant(1.0, "mm", "something", standing)
    assert Constant(1.0, "mm", "something", standing, source="key").source == "key"


@pytest.mark.parametrize("standing", ["assumption", "common practice"])
def test_what_is_not_published_needs_none(standing):
    assert Constant(1.0, "mm", "something", standing).source == ""
