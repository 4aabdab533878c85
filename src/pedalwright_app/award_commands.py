"""The commands that decide, award, revoke and verify."""

from __future__ import annotations

import os
from collections import Counter
from pathlib import Path
from shlex import quote
from typing import TYPE_CHECKING, Any

import click

from pedalwright_app import steps
from pedalwright_app.console import next_step, pairs, say, table
from pedalwright_app.options import MOST_LINES, dry_run_option, folder_argument, line

if TYPE_CHECKING:
    from collections.abc import Sequence

    from autograde.cohort.folder import Cohort
    from autograde.desk.decisions import Decided, Decisions
    from autograde.desk.office import Outcomes

__all__ = ["PASSPHRASE", "award", "decide", "revoke", "settle", "show_decisions", "verify_line"]

PASSPHRASE = "PEDALWRIGHT_PASSPHRASE"
"""Environment variable that the key's passphrase is taken from."""


@click.command()
@folder_argument
@click.option("--new-standard", is_flag=True, help="Set the standard again from the raters' file.")
@click.option(
    "--sem",
    type=click.FloatRange(0),
    metavar="MARKS",
    help="Standard error of measurement of a total, if the cohort is too small to estimate it.",
)
@dry_run_option
def decide(folder: Path, new_standard: bool, sem: float | None, dry_run: bool) -> None:
    """Decide who passes, by the written rules, and record it with the reasons.

    The rules lie in FOLDER: blueprint.toml (a first one is written by make: read it and make it yours) and ratings.csv
    (what at least two raters expect, task by task, of somebody only just competent; ratings-form.csv is the form). The
    standard is set once and then stays, whatever marks change later. Marks given by a person count like the program's
    own. What the rule cannot tell is left to a person: borderline totals, and work that is not marked to the end.

    Each decision goes into FOLDER/records/decisions.jsonl, where nothing can be changed unseen. Run it again after
    marks changed: only decisions that changed are added.

    \b
    Examples
      pedalwright cohort decide autumn --dry-run
      pedalwright cohort decide autumn --sem 1.2
    """  # noqa: D301
    from autograde.cohort.folder import open_cohort
    from autograde.cohort.in_step import refresh
    from autograde.desk.decisions import decide_cohort

    cohort = open_cohort(folder)
    if dry_run:
        decisions = decide_cohort(cohort, new_standard=new_standard, sem_marks=sem, dry_run=True)
    else:
        with cohort.at_work():
            refresh(cohort)
            decisions = decide_cohort(cohort, new_standard=new_standard, sem_marks=sem)
    show_decisions(decisions, dry_run=dry_run)
    next_step(*_after_deciding(folder, decisions))


def show_decisions(decisions: Decisions, *, dry_run: bool = False) -> None:
    """Print the standard, the decisions by outcome, and the ones that are new."""
    from autograde.award.outcome import Outcome
    from autograde.desk.decisions import AS_BEFORE

    standard = decisions.standard.standard
    low, high = standard.band_marks
    say(f"Standard: {standard.cut_marks:g} of {standard.max_marks:g} marks; from {low:g} to {high:g} a person decides.")
    if standard.check is not None:
        say(standard.check.sentence)
    fresh = Counter(str(one.decision.outcome) for one in decisions.all if one.what != AS_BEFORE)
    counts = Counter(str(one.decision.outcome) for one in decisions.all)
    table(
        "Would be decided" if dry_run else "Decided",
        ("outcome", "trainees", "new or changed"),
        [(str(outcome), counts[str(outcome)], fresh[str(outcome)]) for outcome in Outcome if counts[str(outcome)]],
        numbers=(1, 2),
    )
    changed = [one for one in decisions.all if one.what != AS_BEFORE]
    if 0 < len(changed) <= MOST_LINES:
        table("New or changed", ("trainee", "outcome", "reason"), [_reason(one) for one in changed])


def _reason(one: Decided) -> tuple[str, str, str]:
    before = f" (before: {one.before})" if one.before else ""
    return one.trainee.id, f"{one.decision.outcome}{before}", one.decision.reasons[0]


def _after_deciding(folder: Path, decisions: Decisions) -> Sequence[str]:
    from autograde.award.outcome import Outcome

    lines = []
    borderline = [one.trainee.id for one in decisions.all if one.decision.outcome is Outcome.BORDERLINE]
    if borderline:
        who = ", ".join(borderline[:MOST_LINES])
        lines.append(f"look at the work of {who}; then {line('settle', folder)} {borderline[0]} --help")
    if any(one.decision.outcome is Outcome.OUTSTANDING for one in decisions.all):
        lines.append("mark to the end what waits for a person, then decide again")
    outcomes = {one.decision.outcome for one in decisions.all}
    if outcomes & {Outcome.NOT_YET, Outcome.BLOCKED}:
        lines.append(f"after teaching, a further attempt: {line('hand-out', folder)} --next-attempt --below-standard")
    return [*lines, line("award", folder)] if Outcome.AWARD in outcomes or not lines else lines


@click.command()
@folder_argument
@click.argument("trainee")
@click.option("--award/--not-yet", "awarded", required=True, default=None, help="What you decide.")
@click.option("--by", required=True, metavar="NAME", help="Who decides.")
@click.option("--because", required=True, metavar="WORDS", help="Your reasons, kept as personal data.")
@dry_run_option
def settle(folder: Path, trainee: str, awarded: bool, by: str, because: str, dry_run: bool) -> None:
    """Decide about a TRAINEE whom the rule leaves to a person.

    Only borderline totals are settled this way. A safety gate, a minimum that was missed and unmarked work are never
    settled away: they take other marks.

    \b
    Example
      pedalwright cohort settle autumn heron --award --by Flint --because "Read with Slate: refers in time."
    """  # noqa: D301
    from autograde.cohort.folder import open_cohort
    from autograde.desk.decisions import settle_one

    cohort = open_cohort(folder)
    if dry_run:
        one = settle_one(cohort, trainee, award=awarded, by=by, statement=because, dry_run=True)
    else:
        with cohort.at_work():
            one = settle_one(cohort, trainee, award=awarded, by=by, statement=because)
    pairs(
        "Would be settled" if dry_run else "Settled",
        [("trainee", one.trainee.id), ("outcome", one.decision.outcome), ("in the record", one.what)],
    )
    next_step(line("award", folder))


@click.command()
@folder_argument
@click.option("--issuer", default="", metavar="NAME", help="Who issues; the first time only.")
@click.option("--address", default="", metavar="URL", help="An https address of the issuer's own; the first time only.")
@click.option("--status-address", default="", metavar="URL", help="Where awards/status.jwt will be published.")
@click.option(
    "--name-font",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="A TrueType font for names in a script that the certificate's own font does not have.",
)
@click.option(
    "--anew", multiple=True, metavar="TRAINEE", help="Issue once more what was revoked, say, for a wrong name."
)
@dry_run_option
def award(
    folder: Path,
    issuer: str,
    address: str,
    status_address: str,
    name_font: Path | None,
    anew: Sequence[str],
    dry_run: bool,
) -> None:
    """Issue a signed award and a certificate to everybody who passed.

    Each lies in a folder of its own under FOLDER/awards: award.jwt (the signed award), certificate.pdf and badge.png.
    The key is made once, in FOLDER/keys, under a passphrase of at least 15 characters that is asked for, or taken from
    the environment variable PEDALWRIGHT_PASSPHRASE. Keep both: a lost passphrase cannot be recovered. Give
    FOLDER/keys/issuer.jwks.json to everybody who verifies, and publish FOLDER/awards/status.jwt anew every 30 days.

    Run it again after new decisions: what is issued already stays as it is.

    \b
    Examples
      pedalwright cohort award autumn --issuer "Fenwick Quay Cycle School" --address https://fenwick-quay.example/school
      pedalwright cohort award autumn --anew wren
    """  # noqa: D301
    from autograde.award.ring import Issuer
    from autograde.cohort.folder import open_cohort
    from autograde.desk.office import FAILED, plan_awards
    from autograde.desk.places import Places

    cohort = open_cohort(folder)
    _, planned = plan_awards(cohort, anew=anew)
    if dry_run:
        show_awards(planned, dry_run=True)
        next_step(line("award", folder))
        return
    first = not Places.of(cohort).keys.public_path.exists()
    words = passphrase(confirm=first)
    named = Issuer(address, issuer) if issuer or address else None
    outcomes = steps.award(cohort, words, named, status_address=status_address, name_font=name_font, anew=anew)
    show_awards(outcomes)
    places = Places.of(cohort)
    ahead = [f"give {places.keys.public_path} to whoever verifies, and publish {places.status_list}"]
    folders = [outcome.folder for outcome in outcomes if outcome.folder and not outcome.trouble]
    if folders:
        ahead.insert(0, f"give every trainee their folder; try {verify_line(cohort, folders[0] / 'certificate.pdf')}")
    next_step(*ahead)
    if any(outcome.what.startswith(FAILED) for outcome in outcomes):
        raise click.exceptions.Exit(1)


def show_awards(outcomes: Sequence[Outcomes], *, dry_run: bool = False) -> None:
    """Print what awarding did, or would do."""
    from autograde.desk.office import ISSUED_NOW, THERE

    counts = Counter(outcome.what for outcome in outcomes)
    rows: list[tuple[str, object]] = [("issued now", counts[ISSUED_NOW]), ("there already", counts[THERE])]
    rows += [(outcome.decided.trainee.id, outcome.what) for outcome in outcomes if outcome.trouble][:MOST_LINES]
    pairs("Would be awarded" if dry_run else "Awarded", rows)
    fresh = [outcome for outcome in outcomes if outcome.what == ISSUED_NOW and outcome.folder]
    if 0 < len(fresh) <= MOST_LINES:
        pairs("Where they lie", [(outcome.decided.trainee.id, outcome.folder) for outcome in fresh])


def verify_line(cohort: Cohort, file: Path) -> str:
    """Write the command that verifies an award of a cohort."""
    from autograde.desk.places import Places

    places = Places.of(cohort)
    key, status = quote(str(places.keys.public_path)), quote(str(places.status_list))
    return f"pedalwright verify {quote(str(file))} --key {key} --status {status}"


@click.command()
@folder_argument
@click.argument("which", metavar="AWARD")
@click.option("--by", required=True, metavar="NAME", help="Who decided it.")
@click.option("--because", required=True, metavar="WORDS", help="Why; kept as personal data.")
@dry_run_option
def revoke(folder: Path, which: str, by: str, because: str, dry_run: bool) -> None:
    """Revoke an AWARD for good: by its trainee's id, its number, or the name of its folder.

    It cannot be taken back. The status list is signed anew; publish it, since those who verify look there.

    \b
    Example
      pedalwright cohort revoke autumn wren --by Flint --because "Issued under a wrong name."
    """  # noqa: D301
    from autograde.cohort.folder import open_cohort
    from autograde.desk.office import find_award, revoke_award
    from autograde.desk.places import Places

    cohort = open_cohort(folder)
    held, trainee = find_award(cohort, which)
    if not dry_run:
        words = passphrase()
        with cohort.at_work():
            revoke_award(cohort, words, held, by=by, reason=because)
    before = "revoked before; the list was signed anew" if held.revoked else "for good"
    pairs(
        "Would be revoked" if dry_run else "Revoked",
        [("trainee", trainee), ("award", held.credential), ("revoked", before)],
    )
    again = f"{line('revoke', folder)} {quote(which)} --by NAME --because WORDS"
    next_step(again if dry_run else f"publish {Places.of(cohort).status_list}")


def passphrase(*, confirm: bool = False) -> str:
    """Take the passphrase from the environment, or ask for it."""
    from autograde.award.errors import AwardError

    given = os.environ.get(PASSPHRASE, "")
    if given:
        return given
    try:
        words: Any = click.prompt(
            "Passphrase of the new key, at least 15 characters" if confirm else "Passphrase of the key",
            hide_input=True,
            confirmation_prompt=confirm,
            err=True,
        )
    except click.Abort as trouble:
        raise AwardError(
            f"no passphrase was given; type it, or put it into the environment as {PASSPHRASE}"
        ) from trouble
    return str(words)
