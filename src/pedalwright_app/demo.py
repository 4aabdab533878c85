"""The demonstration: an invented cohort from roster to award."""

from __future__ import annotations

import shlex
import tomllib
from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from pedalwright_app import steps
from pedalwright_app.award_commands import verify_line
from pedalwright_app.console import next_step, pairs, say
from pedalwright_app.demo_birds import (
    BIRDS,
    CASE,
    DEMO_PASSPHRASE,
    DEMO_SECRET,
    ISSUER,
    ISSUER_ADDRESS,
    NOTE,
    SCHOOL,
    STRANGER,
    Bird,
)
from pedalwright_app.filling import cut_off, fill, without_answer_cell

if TYPE_CHECKING:
    from autograde.cohort.folder import Cohort
    from autograde.desk.decisions import Decisions

__all__ = ["demo", "drop_in_inbox", "submission"]

TYPED = Path(__file__).with_name("demo_typed")


@click.command()
@click.argument("folder", type=click.Path(file_okay=False, path_type=Path), default=Path("demo"))
@click.option("--book", default="", metavar="ADDRESS", help="Address of the book, for links to pages to reteach.")
def demo(folder: Path, book: str) -> None:
    """Run an invented cohort from roster to award, in FOLDER (by default demo/).

    Twenty-four birds of an invented school get a case each, hand in what is shipped with the program (some of it
    damaged on purpose), and are marked; an invented instructor marks their texts, decides and awards. Run it twice and
    marks and decisions are the same. Everything in it is made up; its secret and its passphrase are published and
    protect nothing.
    """
    from autograde.cohort.statistics import misconception_counts

    cohort, found = _make(folder, book)
    say(f"{SCHOOL} (invented): {len(cohort.trainees)} trainees" + (", found from an earlier run" if found else ""))
    given = steps.hand_out(cohort)
    say(f"Handed out: {len(given)} notebooks, {sum(item.what == 'written' for item in given)} of them new")
    fresh = drop_in_inbox(cohort)
    say(f"The birds typed their answers: {fresh} new files in the inbox, some of them damaged on purpose")
    taken = Counter(item.what for item in steps.collect(cohort))
    say(f"Collected: {taken['taken']} new, {taken['kept before']} kept before, {taken['refused']} refused")
    marked = steps.mark(cohort)
    say(f"Marked: {marked.fresh} sheets now, {sum(marked.sheets.values())} in all")
    say(f"Flint, an invented instructor, marked texts by hand: {_judge(cohort)} now")
    stand, _ = steps.report(cohort)
    decisions, awarded = _decide_and_award(cohort)
    top = misconception_counts(stand)[0]
    pairs(
        "What came out",
        [
            ("most frequent misconception", f"{top.label}: {len(top.trainees)} of {top.handed_in} trainees"),
            ("page to reteach", top.page),
            ("waiting for a person", f"{sum(len(sheet.waiting) for sheet in stand.marked)} answers"),
            ("decisions", _counted(decisions)),
            ("an award", awarded or "nobody passed"),
            ("cohort report", cohort.report / "index.html"),
            ("a trainee's feedback", cohort.feedback("wren", CASE)),
            ("a trainee's own notebook", cohort.notebook("release", "wren", CASE)),
            ("marks for a spreadsheet", cohort.report / "marks.csv"),
        ],
    )
    next_step(
        "open the cohort report in a browser",
        *([verify_line(cohort, awarded)] if awarded else []),
        f"pedalwright cohort status {shlex.quote(str(folder))}",
        "with trainees of your own: pedalwright cohort make --help",
    )


def _make(folder: Path, book: str) -> tuple[Cohort, bool]:
    from autograde.cohort.errors import CohortError
    from autograde.cohort.folder import check_usable, open_cohort
    from autograde.cohort.make import make_cohort, plan
    from autograde.cohort.roster import Trainee

    found = check_usable(folder)
    if found and open_cohort(folder).secret != DEMO_SECRET:
        raise CohortError(f"{folder} holds a cohort that is not the demonstration; give another folder")
    roster = [Trainee(bird.id, bird.name) for bird in BIRDS]
    return make_cohort(plan(folder, roster, title=SCHOOL, cases=[CASE], book=book, note=NOTE), DEMO_SECRET), found


def _judge(cohort: Cohort) -> int:
    """Let Flint enter the shipped marks for the texts, where nobody entered any."""
    from autograde.cohort.by_hand import enter_marks
    from pedalwright_app.demo_judging import judged

    with cohort.at_work():
        return enter_marks(cohort, judged())


def _decide_and_award(cohort: Cohort) -> tuple[Decisions, Path | None]:
    """Decide by the proposed blueprint and the shipped ratings, and award; gives the certificate with most marks."""
    from autograde.award.ring import Issuer
    from autograde.cohort.files import write_bytes
    from autograde.desk.decisions import decide_cohort
    from autograde.desk.places import Places
    from autograde.desk.plan import write_first_plan
    from pedalwright_app.demo_judging import RATINGS_FILE

    places = Places.of(cohort)
    with cohort.at_work():
        write_first_plan(cohort)
        if not places.ratings.exists():
            write_bytes(places.ratings, RATINGS_FILE.read_bytes())
        decisions = decide_cohort(cohort)
    outcomes = steps.award(cohort, DEMO_PASSPHRASE, Issuer(ISSUER_ADDRESS, ISSUER, demo=True))
    most = max(outcomes, key=lambda one: (not one.trouble, one.decided.decision.total_marks), default=None)
    return decisions, most.folder / "certificate.pdf" if most and most.folder and not most.trouble else None


def _counted(decisions: Decisions) -> str:
    counts = Counter(str(one.decision.outcome) for one in decisions.all)
    fresh = sum(one.what != "as before" for one in decisions.all)
    return "; ".join(f"{outcome}: {count}" for outcome, count in counts.most_common()) + f" ({fresh} new)"


def drop_in_inbox(cohort: Cohort) -> int:
    """Let every bird fill its own notebook and put it into the inbox.

    Parameters
    ----------
    cohort : Cohort
        The demonstration cohort, handed out.

    Returns
    -------
    int
        Files that were not there before.
    """
    files: dict[str, bytes] = {}
    for bird in BIRDS:
        content = submission(bird, cohort.notebook("release", bird.id, CASE).read_bytes())
        if content is not None:
            files[f"{bird.id}__{CASE}.ipynb"] = content
    files[f"{STRANGER}__{CASE}.ipynb"] = b"{}"
    fresh = 0
    for name, content in files.items():
        path = cohort.inbox / name
        if not path.exists() or path.read_bytes() != content:
            path.write_bytes(content)
            fresh += 1
    return fresh


def submission(bird: Bird, notebook: bytes) -> bytes | None:
    """Make the file a bird hands in from its own notebook and the answers shipped with the program.

    Parameters
    ----------
    bird : Bird
        Who.
    notebook : bytes
        As handed out to the bird.

    Returns
    -------
    bytes or None
        None if the bird hands nothing in.
    """
    shipped: dict[str, Any] = tomllib.loads((TYPED / f"{bird.id}.toml").read_text(encoding="utf-8"))
    mishap = shipped["mishap"]
    if mishap == "not handed in":
        return None
    filled = fill(notebook, shipped[CASE])
    if mishap == "cut off":
        return cut_off(filled)
    if mishap.startswith("deleted answer cell: "):
        return without_answer_cell(filled, mishap.partition(": ")[2])
    return filled
