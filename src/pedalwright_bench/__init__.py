"""Benches: interactive figures drawn from the calculation package, live or static."""
