"""Marking of filled answer sheets; knows no notebook and no database."""
