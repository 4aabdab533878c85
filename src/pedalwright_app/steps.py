"""The steps of the cohort desk with their progress shown, shared by the commands and the demonstration."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from pedalwright_app.console import progress

if TYPE_CHECKING:
    from pathlib import Path

    from autograde.award.ring import Issuer
    from autograde.cohort.collect import Collected
    from autograde.cohort.folder import Cohort
    from autograde.cohort.handout import HandOut
    from autograde.cohort.standing import Standing
    from autograde.cohort.workers import Runner
    from autograde.desk.office import Outcomes

__all__ = ["TEXT_FOR_A_PERSON", "Marked", "award", "collect", "feedback", "hand_out", "mark", "report"]

TEXT_FOR_A_PERSON = "text for a person"


@dataclass(frozen=True)
class Marked:
    """What marking did: how many sheets now, how many in all, and the answers in each state by case."""

    fresh: int
    sheets: Mapping[str, int]
    states: Mapping[str, Counter[str]]


def hand_out(
    cohort: Cohort,
    *,
    further: Mapping[tuple[str, str], int] | None = None,
    workers: int | None = None,
    scheduler: str = "",
    dry_run: bool = False,
) -> Sequence[HandOut]:
    """Hand out what is missing, and further attempts if any are named."""
    from autograde.cohort import handout

    if dry_run:
        return handout.hand_out(cohort, further=further, dry_run=True)
    todo = sum(1 for _ in handout.jobs(cohort, further))
    with cohort.at_work(), progress("Handing out", todo) as tell:
        runner = _runner("hand out", todo, workers, scheduler)
        return handout.hand_out(cohort, further=further, runner=runner, progress=tell)


def _runner(what: str, todo: int, workers: int | None, scheduler: str) -> Runner:
    if not scheduler:
        from autograde.cohort.workers import suited

        return suited(todo, workers)
    from autograde.cohort.elsewhere import HANDING_OUT, MARKING, on_scheduler

    return on_scheduler(scheduler, MARKING if what == "mark" else HANDING_OUT)


def collect(cohort: Cohort, folder: Path | None = None, *, dry_run: bool = False) -> Sequence[Collected]:
    """Take in what is new in the inbox, or in another folder or archive."""
    from autograde.cohort import collect as desk
    from autograde.cohort.inbox import how_many

    if dry_run:
        return desk.collect(cohort, folder, dry_run=True)
    with cohort.at_work(), progress("Collecting", how_many(cohort, folder)) as tell:
        return desk.collect(cohort, folder, progress=tell)


def mark(cohort: Cohort, *, again: bool = False, workers: int | None = None, scheduler: str = "") -> Marked:
    """Mark what is new or changed, and bring the gradebook in step."""
    from autograde.cohort.in_step import bring_in_step
    from autograde.cohort.make import bring_gradebook_in_step
    from autograde.cohort.marking import mark_all, marked, to_mark

    todo = to_mark(cohort, again=again)
    with cohort.at_work():
        with progress("Marking", len(todo)) as tell:
            for _ in mark_all(cohort, todo, runner=_runner("mark", len(todo), workers, scheduler), progress=tell):
                pass
        bring_gradebook_in_step(cohort)
        bring_in_step(cohort)
        records = list(marked(cohort).values())
    return _count(records, len(todo))


def _count(records: Sequence[Mapping[str, Any]], fresh: int) -> Marked:
    states: dict[str, Counter[str]] = {}
    for record in records:
        counts = states.setdefault(record["case"], Counter())
        counts.update(TEXT_FOR_A_PERSON if item["by_hand"] else item["state"] for item in record["results"])
    return Marked(fresh, Counter(record["case"] for record in records), states)


def feedback(cohort: Cohort, *, dry_run: bool = False) -> tuple[Standing, int]:
    """Write feedback pages; returns how the cohort stands and the pages that changed."""
    from autograde.cohort.feedback import write_feedback
    from autograde.cohort.in_step import refresh
    from autograde.cohort.standing import standing

    if dry_run:
        stand = standing(cohort)
        return stand, len(stand.marked)
    with cohort.at_work():
        refresh(cohort)
        stand = standing(cohort)
        with progress("Feedback", len(stand.marked)) as tell:
            return stand, write_feedback(stand, progress=tell)


def report(cohort: Cohort, *, dry_run: bool = False) -> tuple[Standing, int]:
    """Write report and feedback pages; returns how the cohort stands and the pages that changed."""
    from autograde.desk.reporting import write_cohort_report

    stand, pages = feedback(cohort, dry_run=dry_run)
    if not dry_run:
        with cohort.at_work():
            write_cohort_report(cohort, stand)
    return stand, pages


def award(
    cohort: Cohort,
    words: str,
    issuer: Issuer | None,
    *,
    status_address: str = "",
    name_font: Path | None = None,
    anew: Sequence[str] = (),
) -> Sequence[Outcomes]:
    """Make the key if there is none, and issue what is not issued yet."""
    from autograde.desk.office import ISSUED_NOW, award_cohort, make_key, plan_awards

    _, planned = plan_awards(cohort, anew=anew)
    with cohort.at_work():
        make_key(cohort, words, issuer, status_address)
        with progress("Awarding", sum(one.what == ISSUED_NOW for one in planned)) as tell:
            return award_cohort(cohort, words, name_font=name_font, anew=anew, progress=tell)
