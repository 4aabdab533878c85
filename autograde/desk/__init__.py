"""From marks to awards: the only place that knows both the cohort's folder and the award's rules.

`places` says what lies where, `plan` writes a first blueprint, `table` turns the cohort's marks into the table that
decisions are made from, `standards` sets the standard once, `decisions` decides and records, `office` issues and
revokes.
"""
