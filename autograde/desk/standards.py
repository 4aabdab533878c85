"""The standard of a cohort: set once from the raters' file, kept in the record, and not moved by later marks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from autograde.award.chain import Entry, canonical
from autograde.award.errors import AwardError
from autograde.award.marks import MarkTable
from autograde.award.quality import assess_quality
from autograde.award.ratings import read_bounds, read_ratings
from autograde.award.record import Record
from autograde.award.standard import Standard, set_standard
from autograde.desk.places import Places, fingerprint, read_words

__all__ = ["STANDARD", "StandardInForce", "latest_standard", "standard_for"]

STANDARD = "standard set"
"""Kind of the entry that holds the standard, and the fingerprints of blueprint and ratings it goes with."""


@dataclass(frozen=True)
class StandardInForce:
    """The standard that decisions are made by.

    Parameters
    ----------
    standard : Standard
        The cut and its band.
    body : mapping
        What the record holds about it, or will.
    recorded : bool
        Whether the record holds it already.
    """

    standard: Standard
    body: Mapping[str, Any]
    recorded: bool

    def record(self, record: Record) -> None:
        """Put it into the record unless it is there."""
        if not self.recorded:
            record.append(STANDARD, self.body)


def latest_standard(record: Record) -> Entry | None:
    """Give the entry of the standard that was set last, None if there is none."""
    return next((entry for entry in reversed(record.entries()) if entry.kind == STANDARD), None)


def standard_for(
    places: Places,
    record: Record,
    blueprint: str,
    table: MarkTable,
    *,
    anew: bool = False,
    sem_marks: float | None = None,
) -> StandardInForce:
    """Find the standard in force, or set it from the raters' file.

    Parameters
    ----------
    places : Places
        Where the files lie.
    record : Record
        Of decisions.
    blueprint : str
        Text of the blueprint.
    table : MarkTable
        The cohort's marks; a first standard takes its standard error of measurement from them.
    anew : bool
        Set it again, though there is one.
    sem_marks : float, optional
        The standard error of measurement, when it is known from elsewhere.

    Returns
    -------
    StandardInForce
        Nothing is written yet.

    Raises
    ------
    AwardError
        If there are no ratings, they changed since, or the standard error cannot be estimated.
    """
    latest = latest_standard(record)
    ratings, bounds = _ratings(places, needed=anew or latest is None)
    seen = fingerprint(ratings, bounds)
    if latest is None or anew:
        standard = _set(ratings, bounds, table, sem_marks)
    else:
        standard = Standard.from_dict(latest.body["standard"])
        if sem_marks is not None and round(sem_marks, 2) != standard.sem_marks:
            raise AwardError("the standard is set already; to set it with another standard error add --new-standard")
        if ratings and seen != latest.body.get("ratings"):
            raise AwardError(
                f"{places.ratings} or {places.bounds.name} changed since the standard was set; to set it again, and to "
                "decide about everybody by the new one, add --new-standard"
            )
        seen = str(latest.body.get("ratings", ""))
    body = {"standard": standard.as_dict(), "ratings": seen, "blueprint": fingerprint(blueprint)}
    same = latest is not None and canonical(dict(latest.body)) == canonical(body)
    return StandardInForce(standard, body, same)


def _ratings(places: Places, *, needed: bool) -> tuple[str, str]:
    if not places.ratings.exists():
        if needed:
            raise AwardError(
                f"there is no {places.ratings}: let at least two raters fill in {places.ratings_form.name}, task by "
                "task the share of the marks in percent that somebody who is only just competent would earn, and put "
                f"their lines together in {places.ratings.name}"
            )
        return "", ""
    return read_words(places.ratings), read_words(places.bounds) if places.bounds.exists() else ""


def _set(ratings: str, bounds: str, table: MarkTable, sem_marks: float | None) -> Standard:
    rounds = read_ratings(ratings, table.items)
    quality = assess_quality(table)
    if sem_marks is None and quality.sem_marks is None:
        why = quality.notes[0] if quality.notes else "too few marks"
        raise AwardError(
            f"how sure a total is cannot be estimated yet ({why}): mark more to the end, or give the standard error "
            "of measurement with --sem"
        )
    sem = quality.sem_marks if sem_marks is None else sem_marks
    alpha = quality.reliability.value if sem_marks is None and quality.reliability else None
    return set_standard(
        rounds,
        sem_marks=round(float(sem or 0.0), 2),
        reliability=None if alpha is None else round(float(alpha), 4),
        bounds=read_bounds(bounds) if bounds else (),
        totals=table.marks[table.complete].sum(axis=1),
    )
