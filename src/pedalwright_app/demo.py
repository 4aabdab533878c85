"""The demonstration: an invented cohort from roster to award."""

from __future__ import annotations

import shlex
from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING

import click

from pedalwright_app import steps
from pedalwright_app.award_commands import verify_line
from pedalwright_app.console import next_step, pairs, say
from pedalwright_app.demo_birds import (
    BIRDS,
    DEMO_PASSPHRASE,
    DEMO_SECRET,
    ISSUER,
    ISSUER_ADDRESS,
    NOTE,
    PLANTED_IN,
    SCHOOL,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from autograde.cohort.folder import Cohort
    from autograde.desk.decisions import Decisions
    from autograde.desk.office import Outcomes

__all__ = ["demo"]


@click.command()
@click.argument("folder", type=click.Path(file_okay=False, path_type=Path), default=Path("demo"))
@click.option("--book", default="", metavar="ADDRESS", help="Address of the book, for links to pages to reteach.")
@click.option("--case", "cases", multiple=True, metavar="CASE", help="Only this case; may be repeated. By default all.")
def demo(folder: Path, book: str, cases: tuple[str, ...]) -> None:
    """Run an invented cohort from roster to award, in FOLDER (by default demo/).

    Twenty-four birds of an invented school get a notebook of their own for every case, hand in what is shipped with the
    program (some of it damaged on purpose), and are marked; an invented instructor marks their texts, another one reads
    a sample of them again, and they decide and award. Run it twice and marks and decisions are the same. Everything in
    it is made up; its secret and its passphrase are published and protect nothing.
    """
    from autograde.cohort.statistics import misconception_counts
    from pedalwright_app.demo_instructors import FIRST, SECOND, judge, moderate, write_plan
    from pedalwright_app.demo_sheets import drop_in_inbox

    cohort, found = _make(folder, book, cases)
    size = f"{len(cohort.trainees)} trainees, {len(cohort.settings.cases)} cases"
    say(f"{SCHOOL} (invented): {size}" + (", found from an earlier run" if found else ""))
    given = steps.hand_out(cohort)
    say(f"Handed out: {len(given)} notebooks, {sum(item.what == 'written' for item in given)} of them new")
    fresh = drop_in_inbox(cohort)
    say(f"The birds typed their answers: {fresh} new files in the inbox, some of them damaged on purpose")
    taken = Counter(item.what for item in steps.collect(cohort))
    say(f"Collected: {taken['taken']} new, {taken['kept before']} kept before, {taken['refused']} refused")
    marked = steps.mark(cohort)
    say(f"Marked: {marked.fresh} sheets now, {sum(marked.sheets.values())} in all")
    say(f"{FIRST}, an invented instructor, marked texts and what is not gradable: {judge(cohort)} answers now")
    write_plan(cohort)
    say(f"{SECOND}, another one, {moderate(cohort)}")
    stand, _ = steps.report(cohort)
    decisions, awarded = _decide_and_award(cohort)
    steps.report(cohort)
    top = misconception_counts(stand)[0]
    shown = PLANTED_IN if PLANTED_IN in cohort.settings.cases else cohort.settings.cases[0]
    pairs(
        "What came out",
        [
            ("most frequent misconception", f"{top.label}: {len(top.trainees)} of {top.handed_in} trainees"),
            ("page to reteach", top.page),
            ("waiting for a person", f"{sum(len(sheet.waiting) for sheet in stand.marked)} answers"),
            ("decisions", _counted(decisions)),
            ("verified", _verify(cohort, awarded)),
            ("an award", _certificate(awarded[0]) if awarded else "nobody passed"),
            ("cohort report", cohort.report / "index.html"),
            ("a trainee's feedback", cohort.feedback("wren", shown)),
            ("a trainee's own notebook", cohort.notebook("release", "wren", shown)),
            ("marks for a spreadsheet", cohort.report / "marks.csv"),
        ],
    )
    next_step(
        "open the cohort report in a browser",
        *([verify_line(cohort, _certificate(awarded[0]))] if awarded else []),
        f"pedalwright cohort status {shlex.quote(str(folder))}",
        "with trainees of your own: pedalwright cohort make --help",
    )


def _make(folder: Path, book: str, cases: tuple[str, ...]) -> tuple[Cohort, bool]:
    from autograde.cohort.errors import CohortError
    from autograde.cohort.families import known_families
    from autograde.cohort.folder import check_usable, open_cohort
    from autograde.cohort.make import make_cohort, plan
    from autograde.cohort.roster import Trainee

    cases = tuple(dict.fromkeys(cases)) or tuple(known_families())
    found = check_usable(folder)
    if found and open_cohort(folder).secret != DEMO_SECRET:
        raise CohortError(f"{folder} holds a cohort that is not the demonstration; give another folder")
    if found and set(open_cohort(folder).settings.cases) != set(cases):
        raise CohortError(f"{folder} holds the demonstration with other cases; delete that folder or give another")
    roster = [Trainee(bird.id, bird.name) for bird in BIRDS]
    return make_cohort(plan(folder, roster, title=SCHOOL, cases=cases, book=book, note=NOTE), DEMO_SECRET), found


def _decide_and_award(cohort: Cohort) -> tuple[Decisions, Sequence[Outcomes]]:
    """Decide by the proposed blueprint and the shipped ratings, and award; gives who holds an award, the best first."""
    from autograde.award.ring import Issuer
    from autograde.cohort.errors import CohortError
    from autograde.desk.decisions import decide_cohort
    from autograde.desk.office import FAILED

    with cohort.at_work():
        decisions = decide_cohort(cohort)
    outcomes = steps.award(cohort, DEMO_PASSPHRASE, Issuer(ISSUER_ADDRESS, ISSUER, demo=True))
    for failed in (one for one in outcomes if one.what.startswith(FAILED)):
        raise CohortError(f"the award of {failed.decided.trainee.name} {failed.what}")
    held = [one for one in outcomes if one.folder is not None and not one.trouble]
    return decisions, sorted(held, key=lambda one: -one.decided.decision.total_marks)


def _verify(cohort: Cohort, awarded: Sequence[Outcomes]) -> str:
    """Verify every certificate as its holder's next employer would: from files, with the name."""
    from autograde.award.verify import Verdict, verify_file
    from autograde.desk.places import Places

    key, status = cohort.root / "keys" / "issuer.jwks.json", Places.of(cohort).status_list
    good = sum(
        verify_file(_certificate(one), key, status, name=one.decided.trainee.name).verdict is Verdict.VERIFIED
        for one in awarded
    )
    return f"{good} of {len(awarded)} certificates, from their files alone"


def _certificate(one: Outcomes) -> Path:
    return (one.folder or Path()) / "certificate.pdf"


def _counted(decisions: Decisions) -> str:
    counts = Counter(str(one.decision.outcome) for one in decisions.all)
    fresh = sum(one.what != "as before" for one in decisions.all)
    return "; ".join(f"{outcome}: {count}" for outcome, count in counts.most_common()) + f" ({fresh} new)"
