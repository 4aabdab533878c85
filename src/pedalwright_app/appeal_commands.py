"""The commands for appeals, and for the issuer's keys."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from pedalwright_app.award_commands import passphrase
from pedalwright_app.console import TeachingGroup, next_step, pairs, table
from pedalwright_app.options import dry_run_option, folder_argument, line

if TYPE_CHECKING:
    from autograde.cohort.folder import Cohort

__all__ = ["appeal", "keys"]

_DAY = click.DateTime(["%Y-%m-%d"])


@click.group(cls=TeachingGroup)
def appeal() -> None:
    """Take an appeal against a decision, and decide anew.

    \b
    The usual order:
      open   write down that a trainee appeals, and why
      close  decide anew, after another person marked the work again
      show   appeals that are open

    Between the two, somebody else than before marks the work again in the form for hand marking. Both decisions stay in
    the record, with who decided and why.
    """  # noqa: D301


@appeal.command("open")
@folder_argument
@click.argument("trainee")
@click.option("--because", required=True, metavar="WORDS", help="What the trainee says; kept as personal data.")
@click.option("--on", type=_DAY, metavar="DAY", help="When the appeal was made, such as 2026-03-02; by default today.")
@dry_run_option
def open_one(folder: Path, trainee: str, because: str, on: datetime | None, dry_run: bool) -> None:
    """Record that a TRAINEE appeals against the last decision.

    \b
    Example
      pedalwright cohort appeal open autumn plover --because "My second text was read as the first."
    """  # noqa: D301
    from autograde.cohort.folder import open_cohort
    from autograde.desk.appeals import open_appeal

    cohort = open_cohort(folder)
    day = on.date() if on else None
    if dry_run:
        found = open_appeal(cohort, trainee, reasons=because, on=day, dry_run=True)
    else:
        with cohort.at_work():
            found = open_appeal(cohort, trainee, reasons=because, on=day)
    rows: list[tuple[str, object]] = [("trainee", trainee)]
    if found is not None:
        rows += [("against", found.outcome), ("in the record", f"entry {found.entry.n}")]
    pairs("Would be recorded" if dry_run else "Appeal", rows)
    next_step(
        "let somebody else than before mark the work again in the form for hand marking",
        f"{line('appeal close', folder)} {trainee} --by NAME --because WORDS",
    )


@appeal.command("close")
@folder_argument
@click.argument("trainee")
@click.option("--by", required=True, metavar="NAME", help="Who heard it: somebody else than decided before.")
@click.option("--because", required=True, metavar="WORDS", help="The reasons; kept as personal data.")
@click.option("--award/--not-yet", "awarded", default=None, help="What that person decides if it is borderline again.")
@dry_run_option
def close_one(folder: Path, trainee: str, by: str, because: str, awarded: bool | None, dry_run: bool) -> None:
    """Decide anew about a TRAINEE, by the marks as they are now.

    \b
    Example
      pedalwright cohort appeal close autumn plover --by Marl --because "Read again: the second text refers in time."
    """  # noqa: D301
    from autograde.cohort.folder import open_cohort
    from autograde.cohort.in_step import refresh
    from autograde.desk.appeals import close_appeal

    cohort = open_cohort(folder)
    if dry_run:
        decision = close_appeal(cohort, trainee, by=by, statement=because, award=awarded, dry_run=True)
    else:
        with cohort.at_work():
            refresh(cohort)
            decision = close_appeal(cohort, trainee, by=by, statement=because, award=awarded)
    pairs(
        "Would be decided" if dry_run else "Decided anew",
        [("trainee", trainee), ("outcome", decision.outcome), ("", decision.reasons[-1])],
    )
    next_step(line("award", folder))


@appeal.command("show")
@folder_argument
def show(folder: Path) -> None:
    """List the appeals that are open. Nothing is written.

    \b
    Example
      pedalwright cohort appeal show autumn
    """  # noqa: D301
    from autograde.cohort.folder import open_cohort
    from autograde.desk.appeals import open_appeals
    from autograde.desk.places import Places

    cohort = open_cohort(folder)
    found = open_appeals(Places.of(cohort).record)
    rows = [(one.trainee, one.outcome, one.entry.body["on"]) for one in found]
    table(f"Open appeals: {len(rows)}", ("trainee", "against", "made on"), rows)
    next_step(
        f"{line('appeal close', folder)} {rows[0][0]} --by NAME --because WORDS" if rows else line("status", folder)
    )


@click.group(cls=TeachingGroup)
def keys() -> None:
    """Look after the keys that sign awards.

    \b
      show        which keys there are, and since when
      renew       end the present key's time and make a new one: yearly, or when somebody leaves who knew the passphrase
      passphrase  protect the present key by another passphrase
      given-up    tell everybody that a key is not surely yours any more

    What was signed before a renewal stays valid. After every change give FOLDER/keys/issuer.jwks.json anew to those who
    verify. A lost passphrase cannot be recovered: renew, and nothing signed before is lost.
    """  # noqa: D301


@keys.command("show")
@folder_argument
def show_keys(folder: Path) -> None:
    """List the keys that sign awards, and when each was in use. Nothing is written.

    \b
    Example
      pedalwright cohort keys show autumn
    """  # noqa: D301
    _show(_with_keys(folder), "Keys")


@keys.command("renew")
@folder_argument
@dry_run_option
def renew(folder: Path, dry_run: bool) -> None:
    """End the present key's time, make a new one, and sign the status list with it.

    The passphrase asked for is that of the new key, at least 15 characters.

    \b
    Example
      pedalwright cohort keys renew autumn
    """  # noqa: D301
    from autograde.desk.places import Places

    cohort = _with_keys(folder)
    if not dry_run:
        words = passphrase(confirm=True)
        with cohort.at_work():
            Places.of(cohort).keys.rotate(words)
            _publish(cohort, words)
    _show(cohort, "Would be renewed" if dry_run else "Renewed")


@keys.command("passphrase")
@folder_argument
@dry_run_option
def change(folder: Path, dry_run: bool) -> None:
    """Protect the present key by another passphrase; the old one is asked for first.

    A copy of the file that somebody has already still opens with the old one: renew the key in that case.

    \b
    Example
      pedalwright cohort keys passphrase autumn
    """  # noqa: D301
    from autograde.desk.places import Places

    cohort = _with_keys(folder)
    if not dry_run:
        old = passphrase()
        new = click.prompt(
            "New passphrase, at least 15 characters", hide_input=True, confirmation_prompt=True, err=True
        )
        with cohort.at_work():
            Places.of(cohort).keys.change_passphrase(old, str(new))
    _show(cohort, "Passphrase would be changed" if dry_run else "Passphrase changed")


@keys.command("given-up")
@folder_argument
@click.argument("key")
@click.option("--since", type=_DAY, required=True, metavar="DAY", help="From when on it was not surely yours.")
@click.option("--because", required=True, metavar="WORDS", help="The reason, for those who verify.")
@dry_run_option
def given_up(folder: Path, key: str, since: datetime, because: str, dry_run: bool) -> None:
    """Declare that a KEY is not surely yours any more; what it signed since then no longer verifies.

    KEY is an id as `keys show` lists it, or its last characters. Then renew, and issue the awards of that key anew.

    \b
    Example
      pedalwright cohort keys given-up autumn z6Mkq1 --since 2026-03-02 --because "The laptop was stolen."
    """  # noqa: D301
    from autograde.cohort.errors import CohortError
    from autograde.desk.places import Places

    cohort = _with_keys(folder)
    store = Places.of(cohort).keys
    found = [one.kid for one in store.ring().keys if one.kid.endswith(key) or key in one.kid.split("#")[-1]]
    if len(found) != 1:
        raise CohortError(f"{key!r} fits {len(found)} keys; give the id of one: {line('keys show', folder)}")
    if not dry_run:
        with cohort.at_work():
            store.report_compromised(found[0], since.replace(tzinfo=UTC), because)
    _show(cohort, "Would be given up" if dry_run else "Given up")


def _with_keys(folder: Path) -> Cohort:
    from autograde.cohort.errors import CohortError
    from autograde.cohort.folder import open_cohort
    from autograde.desk.places import Places

    cohort = open_cohort(folder)
    if not Places.of(cohort).keys.public_path.exists():
        raise CohortError(f"there is no key yet; the first is made by: {line('award', folder)}")
    return cohort


def _publish(cohort: Cohort, words: str) -> None:
    from autograde.award.files import write_atomic
    from autograde.desk.places import Places

    places = Places.of(cohort)
    if places.ledger.path.exists():
        signed = places.ledger.publish(places.keys.open(words), datetime.now(UTC))
        write_atomic(places.status_list, signed.encode())


def _show(cohort: Cohort, title: str) -> None:
    from autograde.desk.places import Places

    places = Places.of(cohort)
    rows: Sequence[Sequence[object]] = [
        (one.kid.split("#")[-1], one.valid_from, one.valid_until or "in use", one.compromised_since)
        for one in places.keys.ring().keys
    ]
    table(title, ("key", "from", "until", "given up since"), rows)
    next_step(f"give {places.keys.public_path} to whoever verifies, and publish {places.status_list}")
