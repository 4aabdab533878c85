"""Benches: interactive figures drawn from the calculation package, live or static.

``show("lever-tangency")`` is all that a page needs.
"""

from pedalwright_bench.modes import show

__all__ = ["show"]
