"""Verify an award, or a record of decisions, from files alone."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from pedalwright_app.console import next_step, pairs, say

if TYPE_CHECKING:
    from autograde.award.verify import Verification

__all__ = ["verify"]

UNKNOWN = 3
"""Exit code where nothing speaks against an award, but revocation could not be checked."""
_FILE = click.Path(dir_okay=False, path_type=Path)
SIGNS = {True: "yes", False: "NO", None: "?"}


@click.command()
@click.argument("file", type=_FILE)
@click.option("--key", type=_FILE, help="The issuer's public key file, from the issuer and not from the holder.")
@click.option("--status", "status_list", type=_FILE, help="The issuer's present status list, to see what was revoked.")
@click.option("--name", default="", help="Whom the award should belong to.")
@click.option("--email", default="", help="The e-mail address it should belong to.")
def verify(file: Path, key: Path | None, status_list: Path | None, name: str, email: str) -> None:
    """Verify an award from its FILE: certificate.pdf, award.jwt or badge.png. Nothing is fetched.

    A record of decisions (decisions.jsonl) is checked as well, line by line and without a key.

    \b
    Exit code
      0  verified
      1  not verified
      3  nothing speaks against it, but revocation was not checked: give --status
    """  # noqa: D301
    if file.suffix == ".jsonl":
        _record(file)
        return
    if key is None:
        raise click.UsageError("an award is verified with the issuer's public key file: add --key FILE")
    from autograde.award.verify import Verdict, verify_file

    found = verify_file(file, key, status_list, name=name, email=email)
    _show(found)
    if found.verdict is not Verdict.VERIFIED:
        raise click.exceptions.Exit(UNKNOWN if found.holds else 1)


def _show(found: Verification) -> None:
    pairs(str(found.verdict)[:1].upper() + str(found.verdict)[1:], [(SIGNS[c.holds], c.sentence) for c in found.checks])
    facts = [(name, value) for name, value in found.facts.items() if name != "criteria"]
    if facts and found.holds:
        pairs("What it says", facts)
    if found.holds:
        next_step("compare the name on the certificate with the person before you")
    else:
        next_step("do not rely on it; ask the issuer, whose address you know from elsewhere")


def _record(file: Path) -> None:
    from autograde.award.record_check import check_record

    report = check_record(file)
    pairs(
        "Whole" if report.whole else "Not whole",
        [("entries", report.entries), ("last", f"{report.head[0]}, SHA-256 {report.head[1]}")],
    )
    for text in (*(problem.text for problem in report.problems), *report.notes):
        say(f"  {text}")
    if not report.whole:
        raise click.exceptions.Exit(1)
