"""The command that says where a cohort stands."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import click

from pedalwright_app import award_status
from pedalwright_app.console import next_step, pairs
from pedalwright_app.marking_commands import by_hand_line
from pedalwright_app.options import folder_argument, line

__all__ = ["status"]


@click.command()
@folder_argument
def status(folder: Path) -> None:
    """Say where the cohort stands and what to do next.

    Nothing is written. Use it after a break, after an interruption, or when unsure which step comes next.

    \b
    Example
      pedalwright cohort status autumn
    """  # noqa: D301
    from autograde.cohort.collect import attempts_collected
    from autograde.cohort.folder import open_cohort
    from autograde.cohort.handout import attempts_handed_out, handed_out
    from autograde.cohort.marking import to_mark
    from autograde.cohort.standing import standing

    opened = open_cohort(folder)
    stand = standing(opened)
    there, on_record = [trainee for trainee in opened.trainees if not trainee.gone], handed_out(opened)
    sheets = {who: sheet for who, sheet in stand.sheets.items() if not sheet.trainee.gone}
    all_of_them = len(sheets)
    given = sum(1 for who in sheets if who in on_record)
    handed_in = sum(sheet.collected for sheet in sheets.values())
    again = Counter(key[2] for key in attempts_collected(opened) if key[2] > 1)
    open_again = sum(1 for key in attempts_handed_out(opened) if key[2] > 1) - sum(again.values())
    unmarked = len(to_mark(opened))
    waiting = sum(len(sheet.waiting) for sheet in stand.marked)
    page = opened.report / "index.html"
    newer = [path for path in (opened.record("marks"), opened.root / "gradebook.db") if _newer(path, page)]
    written = "out of date" if newer else "up to date"
    later = award_status.look(opened, stand)
    pairs(
        opened.settings.title,
        [
            ("trainees", len(there)),
            ("cases", ", ".join(opened.settings.cases)),
            ("handed out", f"{given} of {all_of_them} notebooks"),
            ("handed in", f"{handed_in} of {all_of_them}"),
            *(
                [("further attempts", f"{sum(again.values())} handed in, {open_again} open")]
                if again or open_again
                else []
            ),
            ("marked", f"{len(stand.marked)}, {unmarked} to mark"),
            ("waiting for a person", f"{waiting} answers"),
            ("report", written if page.exists() else "not written yet"),
            *later.rows,
        ],
    )
    if given < all_of_them:
        next_step(line("hand-out", folder))
    elif unmarked:
        next_step(line("mark", folder))
    elif stand.marked and (newer or not page.exists()):
        next_step(line("report", folder))
    elif handed_in < all_of_them or open_again:
        next_step(f"put what comes back into {opened.inbox}", line("collect", folder), *later.next)
    elif waiting:
        next_step(by_hand_line(folder), *later.next)
    else:
        next_step(*(later.next or ("nothing: every sheet is marked, reported and decided about",)))


def _newer(path: Path, page: Path) -> bool:
    return path.exists() and page.exists() and path.stat().st_mtime > page.stat().st_mtime
