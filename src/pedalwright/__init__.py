"""Calculations behind a bicycle fit: pure functions on numpy, no I/O, no state."""
