"""The cohort desk: nbgrader notebooks, hand out, collect, mark, report."""
