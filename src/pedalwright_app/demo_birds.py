"""The invented trainees of the demonstration cohort, and what goes wrong with some of their files."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = [
    "BIRDS",
    "CASE",
    "DEMO_PASSPHRASE",
    "DEMO_SECRET",
    "ISSUER",
    "ISSUER_ADDRESS",
    "NOTE",
    "PLANTED",
    "SCHOOL",
    "STRANGER",
    "Bird",
]

SCHOOL = "Fenwick Quay Cycle School, autumn cohort"
NOTE = "Invented for demonstration: the school, its trainees (birds) and its riders (trees) do not exist."
CASE = "pedal-force-record"
PLANTED = "down-force-only"
"""The misconception the demonstration data are made to show most often."""

DEMO_SECRET = b"published demo secret: protects nothing, never use it for trainees"
"""Fixed, so that the demonstration comes out the same everywhere. A real cohort draws a secret of its own."""

DEMO_PASSPHRASE = "published demo passphrase: protects nothing"
"""Of the key that signs the demonstration's awards, which say on their face that they are invented."""

ISSUER = "Fenwick Quay Cycle School"
ISSUER_ADDRESS = "https://fenwick-quay.example/school"

STRANGER = "puffin"
"""A file in the inbox by somebody who is not on the roster."""


@dataclass(frozen=True)
class Bird:
    """One invented trainee.

    Parameters
    ----------
    id, name : str
        As on the roster.
    mishap : str
        What is special about the work handed in; empty for nothing.
    """

    id: str
    name: str
    mishap: str = ""


BIRDS = tuple(
    Bird(name.lower(), name, mishap)
    for name, mishap in {
        "Avocet": "",
        "Bittern": "",
        "Curlew": "",
        "Dipper": "",
        "Dunlin": "deleted answer cell: mean-torque",
        "Egret": "decimal comma",
        "Eider": "",
        "Garganey": "",
        "Godwit": "",
        "Grebe": "half filled",
        "Heron": "",
        "Knot": "nan",
        "Lapwing": "",
        "Linnet": "",
        "Moorhen": "",
        "Pipit": "text for a number",
        "Plover": "",
        "Redshank": "empty sheet",
        "Siskin": "cut off",
        "Snipe": "",
        "Teal": "other units",
        "Wagtail": "",
        "Whinchat": "not handed in",
        "Wren": "",
    }.items()
)
