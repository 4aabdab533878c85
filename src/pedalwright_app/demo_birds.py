"""The invented trainees of the demonstration cohort, and what goes wrong with some of their files."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = [
    "BIRDS",
    "DEMO_PASSPHRASE",
    "DEMO_SECRET",
    "HABITS",
    "ISSUER",
    "ISSUER_ADDRESS",
    "NOTE",
    "PLANTED",
    "PLANTED_IN",
    "SCHOOL",
    "STRANGER",
    "Bird",
]

SCHOOL = "Fenwick Quay Cycle School, autumn cohort"
NOTE = "Invented for demonstration: the school, its trainees (birds) and its riders (trees) do not exist."
PLANTED_IN = "pedal-force-record"
PLANTED = "down-force-only"
"""The misconception the demonstration data are made to show most often, and the case in which it shows."""

DEMO_SECRET = b"published demo secret: protects nothing, never use it for trainees"
"""Fixed, so that the demonstration comes out the same everywhere. A real cohort draws a secret of its own."""

DEMO_PASSPHRASE = "published demo passphrase: protects nothing"
"""Of the key that signs the demonstration's awards, which say on their face that they are invented."""

ISSUER = "Fenwick Quay Cycle School"
ISSUER_ADDRESS = "https://fenwick-quay.example/school"

STRANGER = "puffin"
"""A file in the inbox by somebody who is not on the roster."""


HABITS = ("other units", "decimal comma", "hands in nothing", "in folders", "in one archive")
"""What concerns all that a bird hands in. The others are mishaps of one case each."""


@dataclass(frozen=True)
class Bird:
    """One invented trainee.

    Parameters
    ----------
    id, name : str
        As on the roster.
    habit : str
        What is special about all the work handed in; empty for nothing.
    mishap : str
        What goes wrong with one case, drawn by the generator; empty for nothing.
    """

    id: str
    name: str
    habit: str = ""
    mishap: str = ""


BIRDS = tuple(
    Bird(name.lower(), name, special if special in HABITS else "", "" if special in HABITS else special)
    for name, special in {
        "Avocet": "",
        "Bittern": "name of a copy",
        "Curlew": "",
        "Dipper": "text for a number",
        "Dunlin": "deleted answer cell",
        "Egret": "decimal comma",
        "Eider": "",
        "Garganey": "in folders",
        "Godwit": "half filled",
        "Grebe": "half filled",
        "Heron": "in one archive",
        "Knot": "nan",
        "Lapwing": "",
        "Linnet": "",
        "Moorhen": "nan",
        "Pipit": "text for a number",
        "Plover": "",
        "Redshank": "empty sheet",
        "Siskin": "cut off",
        "Snipe": "",
        "Teal": "other units",
        "Wagtail": "not handed in",
        "Whinchat": "hands in nothing",
        "Wren": "",
    }.items()
)
