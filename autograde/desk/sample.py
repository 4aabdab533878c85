"""Which texts a second person reads: drawn by a stated rule, the same again from the cohort's secret."""

from __future__ import annotations

import hmac
import math
from collections.abc import Iterator, Mapping, Sequence

from autograde.award.errors import AwardError
from autograde.award.outcome import Outcome
from autograde.cohort.errors import CohortError
from autograde.cohort.folder import Cohort
from autograde.cohort.marking import marked
from autograde.cohort.standing import BY_PERSON, Standing, standing
from autograde.desk.decisions import decide_cohort
from autograde.desk.rounds import BORDERLINE, LEAST, SAFETY, SHARE, SHARE_PCT, Piece, Round, read_rounds

__all__ = ["draw_sample"]


def draw_sample(
    cohort: Cohort,
    *,
    first_reader: str,
    share_pct: float = SHARE_PCT,
    least: int = LEAST,
    stand: Standing | None = None,
) -> Round:
    """Draw the texts for a second reading; nothing is written yet.

    Parameters
    ----------
    cohort : Cohort
        Marked, and its texts marked by a person.
    first_reader : str
        Who gave those marks.
    share_pct : float
        Share of the rest drawn by lot, 0 to 100 percent.
    least : int
        The fewest drawn by lot, 0 or more.
    stand : Standing, optional
        How the cohort stands, if known.

    Returns
    -------
    Round
        A text that was drawn before is not drawn again unless its trainee handed in newer work.

    Raises
    ------
    CohortError
        If there is no text to draw from, or no first reader is named.
    """
    if not first_reader.strip():
        raise CohortError("say who gave the first marks: --first NAME")
    if not 0 <= share_pct <= 100 or least < 0:
        raise CohortError(f"received a share of {share_pct:g} % and at least {least}; give 0 to 100 %, and 0 or more")
    stand = stand or standing(cohort)
    rounds = read_rounds(cohort)
    drawn = {(p.trainee, p.case, p.task, p.sha256) for earlier in rounds for p in earlier.pieces}
    texts = [text for text in _texts(cohort, stand) if text[:4] not in drawn]
    if not texts:
        raise CohortError(
            "there is no text to read a second time: none is marked by a person yet, or all were drawn before"
        )
    close, note = _borderline(cohort, stand)
    number = len(rounds) + 1
    why = _choose(cohort.secret, texts, number, close, share_pct, least)
    order = sorted(why, key=lambda text: _lot(cohort.secret, number, "number", text))
    width = max(2, len(str(len(order))))
    pieces = tuple(
        Piece(f"t{number}-{place:0{width}d}", *text[:5], why=why[text]) for place, text in enumerate(order, start=1)
    )
    return Round(number, first_reader.strip(), len(texts), share_pct, least, note, pieces, recorded=False)


_Text = tuple[str, str, str, str, float, bool]


def _texts(cohort: Cohort, stand: Standing) -> Iterator[_Text]:
    records = marked(cohort)
    for (trainee, case), sheet in stand.sheets.items():
        for outcome in sheet.outcomes:
            if outcome.task.by_hand and outcome.state == BY_PERSON and outcome.marks is not None:
                sha256 = str(records[trainee, case]["sha256"])
                yield trainee, case, outcome.task.id, sha256, outcome.marks, outcome.task.safety


def _borderline(cohort: Cohort, stand: Standing) -> tuple[set[str], str]:
    try:
        decisions = decide_cohort(cohort, stand, dry_run=True)
    except (AwardError, CohortError) as trouble:
        return set(), f"who is borderline is not known yet ({trouble})"
    return {one.trainee.id for one in decisions.all if one.decision.outcome is Outcome.BORDERLINE}, ""


def _choose(
    secret: bytes, texts: Sequence[_Text], number: int, close: set[str], share_pct: float, least: int
) -> Mapping[_Text, str]:
    chosen = {text: BORDERLINE for text in texts if text[0] in close}
    chosen |= {text: SAFETY for text in texts if text[5] and text not in chosen}
    rest = [text for text in texts if text not in chosen]
    wanted = max(least, math.ceil(len(rest) * share_pct / 100))
    by_lot = sorted(rest, key=lambda text: _lot(secret, number, "draw", text))[:wanted]
    return chosen | dict.fromkeys(by_lot, SHARE)


def _lot(secret: bytes, number: int, purpose: str, text: _Text) -> bytes:
    """Give a text its lot: not to be foreseen without the secret, the same with it, whatever was handed in."""
    about = "|".join(("second reading", str(number), purpose, *text[:3]))
    return hmac.digest(secret, about.encode(), "sha256")
