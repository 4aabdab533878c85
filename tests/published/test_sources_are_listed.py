"""Every file of this folder stands in its list, and its source in the bibliography."""

import re
from pathlib import Path

import pytest

HERE = Path(__file__).parent
LISTED = re.findall(
    r"^\| `(test_\w+)\.py` \| ([^|]+) \| ([^|]+) \| ([^|]+) \|$", (HERE / "README.md").read_text("utf-8"), re.M
)
KEYS = set(re.findall(r"@\w+\{([^,\s]+),", (HERE.parents[1] / "book" / "references.bib").read_text("utf-8")))
ORIGINS = re.compile(
    r"\b(read|second hand|memory|recalled|common practice|by hand|closed form|other program|direction|printed)"
)
# No single source: worked examples of our own, and facts of the trade.
WITHOUT_KEY = {
    "test_closed_chain_golden_table",
    "test_inverse_dynamics_golden_pose",
    "test_work_energy_theorem",
    "test_common_practice_support",
    Path(__file__).stem,
}
FILES = sorted(path.stem for path in HERE.glob("test_*.py"))


def test_the_list_has_one_row_for_every_file():
    names = [name for name, *_ in LISTED]
    assert sorted(names) == [name for name in FILES if name != Path(__file__).stem]


@pytest.mark.parametrize(("name", "source", "asserted", "origin"), LISTED, ids=lambda text: text[:40])
def test_a_row_says_where_its_values_come_from(name, source, asserted, origin):
    assert source.strip()
    assert asserted.strip()
    assert ORIGINS.search(origin)


@pytest.mark.parametrize("name", [name for name in FILES if name not in WITHOUT_KEY])
def test_a_file_is_named_after_a_key_of_the_bibliography(name):
    assert name.removeprefix("test_") in KEYS
