"""Issue and revoke the awards of a cohort."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from shlex import quote

from autograde.award.errors import AwardError
from autograde.award.issue import ISSUED, Desk, award_folder, issue_award
from autograde.award.outcome import Outcome
from autograde.award.record import Record
from autograde.award.ring import Issuer
from autograde.award.standard import Standard
from autograde.award.status import StatusLedger
from autograde.cohort.errors import CohortError
from autograde.cohort.folder import Cohort
from autograde.cohort.pseudonyms import real_trainee
from autograde.desk.decisions import Decided, Decisions, decide_cohort
from autograde.desk.places import Places
from autograde.desk.plan import open_blueprint
from autograde.desk.standards import latest_standard

__all__ = [
    "EARLIER",
    "FAILED",
    "ISSUED_NOW",
    "REVOKED",
    "THERE",
    "Held",
    "Outcomes",
    "award_cohort",
    "awards_held",
    "find_award",
    "make_key",
    "plan_awards",
    "revoke_award",
]

ISSUED_NOW, THERE = "issued", "there already"
EARLIER = "not issued: holds an award of an earlier decision; revoke that one first"
REVOKED = "not issued: the award of this decision was revoked; to issue it anew: --anew TRAINEE"
FAILED = "could not be issued"


@dataclass(frozen=True)
class Held:
    """An award that was issued.

    Parameters
    ----------
    credential : str
        Its number.
    decision : str
        Hash of the decision it rests on.
    revoked : bool
        Whether it was revoked.
    """

    credential: str
    decision: str
    revoked: bool


@dataclass(frozen=True)
class Outcomes:
    """What awarding did for one trainee: the decision, what happened and why, and where the award lies.

    ``again`` counts the awards of this decision that were revoked before.
    """

    decided: Decided
    what: str
    folder: Path | None = None
    again: int = 0

    @property
    def trouble(self) -> bool:
        """Whether somebody who passed holds no award for it."""
        return self.what not in (ISSUED_NOW, THERE)


def make_key(cohort: Cohort, passphrase: str, issuer: Issuer | None, status_address: str = "") -> None:
    """Make the issuer's key and begin the status list, if they are not there yet.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    passphrase : str
        At least 15 characters.
    issuer : Issuer or None
        Who issues; needed the first time.
    status_address : str
        Where the status list will be published; by default below the issuer's address.

    Raises
    ------
    AwardError
        If the issuer is missing the first time, or is another one than the key's.
    """
    places = Places.of(cohort)
    if places.keys.public_path.exists():
        known = places.keys.ring().issuer
        if issuer is not None and known is not None and (issuer.id, issuer.name) != (known.id, known.name):
            raise AwardError(
                f"the key belongs to {known.name} ({known.id}); leave --issuer and --address out, or move the folder "
                f"{places.keys.folder} away to begin as another issuer"
            )
    elif issuer is None:
        raise AwardError(
            "there is no key yet; the first time say who issues: --issuer NAME --address https://... (an address of "
            "the issuer's own)"
        )
    else:
        places.keys.create(passphrase, issuer)
    opened = places.keys.ring().issuer
    places.ledger.create(status_address or f"{opened.id.rstrip('/') if opened else 'urn:unknown'}/status/1")


def open_office(cohort: Cohort, passphrase: str, decisions: Decisions) -> Desk:
    """Open the issuing office of a cohort; the key has been made before."""
    places = Places.of(cohort)
    return Desk(
        places.awards,
        decisions.blueprint,
        decisions.standard.standard,
        places.record,
        places.ledger,
        places.keys.open(passphrase),
    )


def awards_held(record: Record, ledger: StatusLedger) -> dict[str, list[Held]]:
    """List the awards issued so far.

    Parameters
    ----------
    record : Record
        Of decisions.
    ledger : StatusLedger
        Tells what was revoked.

    Returns
    -------
    dict
        By trainee id, in the order of issue; those of deleted trainees are left out.
    """
    revoked: Mapping[str, object] = ledger.revoked() if ledger.path.exists() else {}
    found: dict[str, dict[str, Held]] = {}
    for entry in record.entries():
        personal = record.personal(entry.n) if entry.kind == ISSUED else None
        if personal:
            credential = str(entry.body["credential"])
            held = Held(credential, str(entry.body["decision"]), credential in revoked)
            found.setdefault(str(personal["trainee"]), {})[credential] = held
    return {trainee: list(awards.values()) for trainee, awards in found.items()}


def plan_awards(
    cohort: Cohort, decisions: Decisions | None = None, *, anew: Collection[str] = ()
) -> tuple[Decisions, Sequence[Outcomes]]:
    """Work out what awarding would do.

    Parameters
    ----------
    cohort : Cohort
        Decided.
    decisions : Decisions, optional
        As they would be made now, if known.
    anew : collection of str
        Ids of trainees whose award was revoked and is issued once more.

    Returns
    -------
    Decisions, sequence of Outcomes
        One outcome for each trainee whose decision is an award; `ISSUED_NOW` where files would be written.

    Raises
    ------
    CohortError
        If a decision is not in the record as it would be made now, or somebody named in `anew` holds no revoked award.
    """
    decisions = decisions or decide_cohort(cohort, dry_run=True)
    if decisions.to_record or not decisions.standard.recorded:
        raise CohortError(
            f"marks or rules changed since the last decisions ({len(decisions.to_record)} to record); decide first: "
            f"pedalwright cohort decide {quote(str(cohort.root))}"
        )
    places = Places.of(cohort)
    held = awards_held(places.record, places.ledger)
    passed = [decided for decided in decisions.all if decided.decision.outcome is Outcome.AWARD]
    for trainee in anew:
        if trainee not in {decided.trainee.id for decided in passed} or not any(
            a.revoked for a in held.get(trainee, [])
        ):
            raise CohortError(f"{trainee!r} holds no revoked award of a decision that stands; nothing to issue anew")
    return decisions, [
        _planned(places, decided, held.get(decided.trainee.id, []), decided.trainee.id in anew) for decided in passed
    ]


def _planned(places: Places, decided: Decided, held: Sequence[Held], anew: bool) -> Outcomes:
    entry = decided.entry
    own = [award for award in held if entry is not None and award.decision == entry.hash]
    if any(award not in own and not award.revoked for award in held):
        return Outcomes(decided, EARLIER)
    if not own:
        return Outcomes(decided, ISSUED_NOW)
    folder = award_folder(places.awards, own[-1].credential)
    if own[-1].revoked:
        return Outcomes(decided, ISSUED_NOW, again=len(own)) if anew else Outcomes(decided, REVOKED, folder)
    whole = all((folder / name).is_file() for name in ("award.jwt", "certificate.pdf", "badge.png"))
    return Outcomes(decided, THERE if whole else ISSUED_NOW, folder, again=len(own) - 1)


def award_cohort(
    cohort: Cohort,
    passphrase: str,
    *,
    name_font: Path | None = None,
    anew: Collection[str] = (),
    progress: Callable[[int, int], None] = lambda _done, _all: None,
) -> Sequence[Outcomes]:
    """Issue what is not issued yet, and sign the status list as it stands.

    Parameters
    ----------
    cohort : Cohort
        Decided, with a key.
    passphrase : str
        Opens the key.
    name_font : Path, optional
        A TrueType font for names in another script.
    anew : collection of str
        See `plan_awards`.
    progress : callable
        Told how many of how many are done.

    Returns
    -------
    sequence of Outcomes
        One for each trainee whose decision is an award. Trouble with one of them stops no other.
    """
    decisions, planned = plan_awards(cohort, anew=anew)
    names = {trainee.id: real_trainee(cohort, trainee).name for trainee in cohort.trainees}
    office = open_office(cohort, passphrase, decisions)
    done, todo = [], sum(outcome.what == ISSUED_NOW for outcome in planned)
    for outcome in planned:
        done.append(_issue(office, outcome, names, name_font) if outcome.what == ISSUED_NOW else outcome)
        progress(sum(outcome.what not in (THERE, EARLIER, REVOKED) for outcome in done), todo)
    office.publish_status(Places.of(cohort).status_list, datetime.now(UTC))
    return done


def _issue(office: Desk, outcome: Outcomes, names: Mapping[str, str], name_font: Path | None) -> Outcomes:
    decided = outcome.decided
    if decided.entry is None:
        return Outcomes(decided, f"{FAILED}: the decision is not recorded")
    try:
        name = names[decided.trainee.id]
        files = issue_award(
            office, decided.entry, decided.decision, name=name, name_font=name_font, again=outcome.again
        )
    except AwardError as trouble:
        return Outcomes(decided, f"{FAILED}: {trouble}")
    return Outcomes(decided, ISSUED_NOW, files.token.parent)


def find_award(cohort: Cohort, which: str) -> tuple[Held, str]:
    """Find the award that is meant.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    which : str
        A trainee's id, the award's number, or the name of its folder.

    Returns
    -------
    Held, str
        The award, and the trainee's id.

    Raises
    ------
    CohortError
        If there is none.
    """
    places = Places.of(cohort)
    held = awards_held(places.record, places.ledger)
    for trainee, awards in held.items():
        for award in awards:
            if which in (award.credential, award.credential.rpartition(":")[2]):
                return award, trainee
    if which in held:
        return next((award for award in held[which] if not award.revoked), held[which][-1]), which
    raise CohortError(
        f"no award was issued to or as {which!r}; give a trainee's id or the name of a folder in {places.awards}"
    )


def revoke_award(cohort: Cohort, passphrase: str, award: Held, *, by: str, reason: str) -> None:
    """Revoke an award for good, and sign the status list anew.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    passphrase : str
        Opens the key.
    award : Held
        From `find_award`; if it is revoked already, only the list is signed again.
    by, reason : str
        Who decided it, and why.

    Raises
    ------
    AwardError
        If name or reason are missing, or the key does not open.
    """
    places = Places.of(cohort)
    standard = latest_standard(places.record)
    if standard is None:
        raise AwardError("the record of decisions holds no standard; restore it from a backup")
    office = Desk(
        places.awards,
        open_blueprint(cohort)[0],
        Standard.from_dict(standard.body["standard"]),
        places.record,
        places.ledger,
        places.keys.open(passphrase),
    )
    if not award.revoked:
        office.revoke(award.credential, reason, by)
    office.publish_status(places.status_list, datetime.now(UTC))
