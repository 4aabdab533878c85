"""One variant for each trainee and attempt.

The seed is HMAC-SHA256(cohort secret, "trainee|family|attempt"). A draw is kept only when it is
solvable, unambiguous and diagnosable: the right answer and all misconceptions lie further apart than
both their tolerance bands. The same seed gives the same variant with the same version of numpy; the
`fingerprint` of a handed-out variant tells whether it is still the same at marking time.
"""

from __future__ import annotations

import dataclasses
import hashlib
import hmac
import json
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from autograde.cases.calling import case_file, place_of, words_of
from autograde.cases.contract import Family
from autograde.marking import Task
from autograde.marking.compare import EDGE, apart
from autograde.marking.mark import is_possible
from autograde.marking.solving import SolveError, key_values, predict
from autograde.marking.tasks import Value

SECRET_FILE = "secret.key"
SECRET_BYTES = 32
PRACTICE_KEY = b"practice variants are public"
MAX_TRIES = 400


class VariantError(ValueError):
    """No usable variant was found, or the inputs cannot make one."""


@dataclass(frozen=True)
class Variant:
    """One drawn case.

    Parameters
    ----------
    family : Family
        Its family.
    case : object
        What `Family.draw` gave.
    tries : int
        How many draws it took.
    fingerprint : str
        Hexadecimal digest of the case's numbers.
    rejected : mapping
        Why draws before it were not kept: reason and how often.
    """

    family: Family
    case: Any
    tries: int
    fingerprint: str
    rejected: Mapping[str, int] = dataclasses.field(default_factory=dict)


def read_secret(cohort_folder: Path) -> bytes:
    """Read the cohort's secret.

    Parameters
    ----------
    cohort_folder : Path
        Holds ``secret.key``, hexadecimal text of at least 32 bytes.

    Returns
    -------
    bytes
        The secret.

    Raises
    ------
    VariantError
        When it is missing, not hexadecimal or too short.
    """
    file = Path(cohort_folder) / SECRET_FILE
    try:
        secret = bytes.fromhex(file.read_text(encoding="ascii").strip())
    except OSError as problem:
        raise VariantError(f"{file}: the cohort's secret cannot be read ({problem.strerror})") from problem
    except ValueError:
        raise VariantError(f"{file}: the cohort's secret is not hexadecimal text; restore it from a copy") from None
    if len(secret) < SECRET_BYTES:
        raise VariantError(f"{file}: the secret has {len(secret)} bytes; at least {SECRET_BYTES} are needed")
    return secret


def seed_of(secret: bytes, trainee: str, family: str, attempt: int = 1) -> bytes:
    """Make the seed of one trainee's attempt.

    Parameters
    ----------
    secret : bytes
        The cohort's secret.
    trainee, family : str
        Names without ``|`` and without control characters.
    attempt : int
        1 or more.

    Returns
    -------
    bytes
        32 bytes.

    Raises
    ------
    VariantError
        When a name or the attempt is not allowed.
    """
    for name in (trainee, family):
        if not name or "|" in name or not name.isprintable():
            raise VariantError(f"{name!r} cannot name a trainee or a case; use printable characters without |")
    if isinstance(attempt, bool) or not isinstance(attempt, int) or attempt < 1:
        raise VariantError(f"attempt is {attempt!r}; give 1 for the first, 2 for the second, …")
    return hmac.new(secret, f"{trainee}|{family}|{attempt}".encode(), hashlib.sha256).digest()


def variant_rng(secret: bytes, trainee: str, family: str, attempt: int = 1) -> np.random.Generator:
    """Make the random generator of one trainee's attempt.

    Parameters
    ----------
    secret, trainee, family, attempt
        As for `seed_of`.

    Returns
    -------
    numpy.random.Generator
        A PCG64 generator seeded with the whole digest.
    """
    return _rng(seed_of(secret, trainee, family, attempt))


def _rng(seed: bytes) -> np.random.Generator:
    return np.random.Generator(np.random.PCG64(int.from_bytes(seed, "big")))


def trainee_variant(family: Family, secret: bytes, trainee: str, attempt: int = 1) -> Variant:
    """Draw the variant of one trainee's attempt."""
    return draw_variant(family, variant_rng(secret, trainee, family.name, attempt))


def seeded_variant(family: Family, seed: bytes) -> Variant:
    """Draw the variant of one trainee's attempt where only its seed is known, see `seed_of`, and not the secret."""
    return draw_variant(family, _rng(seed))


def practice_variant(family: Family, number: int = 1) -> Variant:
    """Draw a public variant for practice, the same for everybody."""
    return draw_variant(family, variant_rng(PRACTICE_KEY, "practice", family.name, number))


def draw_variant(family: Family, rng: np.random.Generator, max_tries: int = MAX_TRIES) -> Variant:
    """Draw until a case is solvable, unambiguous and diagnosable.

    Parameters
    ----------
    family : Family
        What to draw.
    rng : numpy.random.Generator
        Where from.
    max_tries : int
        How many draws are tried.

    Returns
    -------
    Variant
        The first good one.

    Raises
    ------
    VariantError
        When none of the draws is good; with the most frequent reasons.
    """
    rejected: Counter[str] = Counter()
    for tries in range(1, max_tries + 1):
        case = _draw(family, rng)
        objection = next(objections(family, case), None)
        if objection is None:
            return Variant(family, case, tries, _fingerprint(family, case), dict(rejected))
        rejected[objection] += 1
    reasons = "; ".join(f"{reason} ({count} times)" for reason, count in rejected.most_common(3))
    raise VariantError(
        f"case {family.name!r}: none of {max_tries} draws can be used: {reasons}. "
        f"Widen what `draw` in {case_file(family)} draws, or narrow the tolerances"
    )


def _draw(family: Family, rng: np.random.Generator) -> Any:
    case = _author(family, "draw", family.draw, rng)
    if not isinstance(case, Mapping) and not dataclasses.is_dataclass(case):
        raise VariantError(
            f"{case_file(family)}: `draw` gives a {type(case).__name__}; return a frozen dataclass or a dictionary"
        )
    return case


def _author(family: Family, name: str, function: Callable[[Any], Any], argument: Any) -> Any:
    try:
        return function(argument)
    except Exception as problem:
        place = place_of(problem, family.folder, case_file(family))
        raise VariantError(f"{place}: `{name}` failed ({words_of(problem)}); correct it") from problem


def _reasons_against(family: Family, case: Any) -> list[str]:
    reasons = _author(family, "clear", family.clear, case)
    if not isinstance(reasons, list | tuple) or not all(isinstance(reason, str) for reason in reasons):
        raise VariantError(
            f"{case_file(family)}: `clear` gives a {type(reasons).__name__}; return a list of reasons, empty when the "
            "case is clear"
        )
    return list(reasons)


def objections(family: Family, case: Any) -> Iterator[str]:
    """Tell what speaks against handing out a case, one after the other.

    Parameters
    ----------
    family : Family
        The case's family.
    case : object
        The drawn case.

    Yields
    ------
    str
        Nothing at all when the case is solvable, unambiguous and diagnosable.
    """
    key = key_values(family.tasks, case)
    yield from (str(value) for value in key.values() if isinstance(value, SolveError))
    yield from _reasons_against(family, case)
    for task in family.tasks:
        right = key.get(task.id)
        if right is not None and not isinstance(right, SolveError):
            yield from _objections_to_task(family, task, case, key, right)


def _objections_to_task(
    family: Family, task: Task, case: Any, key: Mapping[str, Value | SolveError], right: Value
) -> Iterator[str]:
    if not is_possible(task, right):
        yield f"the right value of {task.id!r} is outside its plausible range"
    led: list[tuple[str, str, Value]] = [("the right value", "", right)]
    for item in family.misconceptions:
        if item.task != task.id:
            continue
        try:
            value = predict(item, task, case, key)
        except SolveError as problem:
            yield str(problem)
            continue
        if value is None:
            continue
        name = f"“{item.label}”"
        for other, other_words, other_value in led:
            if item.feedback != other_words and apart(task.kind, value, other_value) <= 1.0 + EDGE:
                yield f"{task.id}: {other} and {name} lie too close"
        led.append((name, item.feedback, value))


def _fingerprint(family: Family, case: Any) -> str:
    try:
        return fingerprint(case)
    except (TypeError, ValueError) as problem:
        raise VariantError(
            f"{case_file(family)}: what `draw` gives holds something else than numbers, texts, lists and dictionaries "
            f"({words_of(problem)}); keep to these, so that a variant can be recognised when it is marked"
        ) from problem


def fingerprint(case: Any) -> str:
    """Digest of a case's numbers, to tell whether a variant is still the same.

    Examples
    --------
    >>> fingerprint({"cadence_rpm": 90})[:16]
    '0bd3da372e04c855'
    """
    return hashlib.sha256(json.dumps(_plain(case), sort_keys=True).encode()).hexdigest()


def _plain(value: Any) -> Any:
    """Turn a case into lists, dictionaries, numbers and texts."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {field.name: _plain(getattr(value, field.name)) for field in dataclasses.fields(value)}
    if isinstance(value, Mapping):
        return {str(name): _plain(item) for name, item in value.items()}
    if isinstance(value, np.ndarray | np.generic):
        return _plain(value.tolist())
    if isinstance(value, list | tuple):
        return [_plain(item) for item in value]
    return value if isinstance(value, str | bool | None) else repr(float(value))
