"""The commands that keep a cohort safe: back up, restore, forget a trainee."""

from __future__ import annotations

from pathlib import Path
from shlex import quote

import click

from pedalwright_app.console import next_step, pairs, progress
from pedalwright_app.options import MOST_LINES, dry_run_option, folder_argument, line

__all__ = ["back_up", "forget", "restore"]

_FILE = click.Path(dir_okay=False, path_type=Path)


@click.command("back-up")
@folder_argument
@click.argument("file", type=_FILE)
@click.option("--without-keys", is_flag=True, help="Leave secret.key and the signing keys out; keep them elsewhere.")
@dry_run_option
def back_up(folder: Path, file: Path, without_keys: bool, dry_run: bool) -> None:
    """Write the whole cohort into one FILE, with the SHA-256 of everything in it.

    The file holds marks, names, the secret that variants are drawn from and the signing key (which its passphrase
    protects). Keep it as safe as the folder, on another disk. An existing file is never written over. A gradebook on a
    database server is not in it: back that up there; what people gave is in the cohort's own record as well.

    \b
    Example
      pedalwright cohort back-up autumn /media/safe/autumn-2026-03-02.zip
    """  # noqa: D301
    from autograde.cohort import backup
    from autograde.cohort.folder import open_cohort
    from autograde.cohort.gradebook_marks import note_what_people_gave

    cohort = open_cohort(folder)
    if dry_run:
        count = sum(1 for path in cohort.root.rglob("*") if path.is_file())
        pairs("Would be backed up", [("files, about", count), ("into", file)])
        next_step(f"{line('back-up', folder)} {quote(str(file))}")
        return
    with cohort.at_work(), progress("Backing up", 1) as tell:
        note_what_people_gave(cohort)
        made = backup.back_up(cohort, file, keys=not without_keys, progress=tell)
    _show("Backed up", made)
    next_step(
        f"try that it is whole: pedalwright cohort restore {quote(str(file))} anywhere --dry-run",
        "write the SHA-256 down elsewhere; it tells whether the file is the one that was made",
    )


def _show(title: str, made: object) -> None:
    from autograde.cohort.backup import Backup

    assert isinstance(made, Backup)
    keys = (
        "in it: keep the file as safe as the folder" if made.keys else "left out: put secret.key and keys/private back"
    )
    pairs(
        title,
        [
            ("file", made.path),
            ("files in it", f"{made.files}, {made.size_bytes / 1e6:.1f} MB"),
            ("keys", keys),
            ("SHA-256 of its list", made.sha256),
        ],
    )


@click.command()
@click.argument("file", type=_FILE)
@folder_argument
@dry_run_option
def restore(file: Path, folder: Path, dry_run: bool) -> None:
    """Make a cohort's FOLDER again from a backup FILE.

    Every file is checked first; where one is missing or changed, nothing is written. The folder must be new: a cohort
    is never written over. With --dry-run the file is only checked.

    \b
    Example
      pedalwright cohort restore /media/safe/autumn-2026-03-02.zip autumn-again
    """  # noqa: D301
    from autograde.cohort import backup

    with progress("Checking" if dry_run else "Restoring", 1) as tell:
        made = backup.verify_backup(file, tell) if dry_run else backup.restore(file, folder, tell)
    _show("Would be restored: the file is whole" if dry_run else f"Restored into {folder}", made)
    again = f"pedalwright cohort restore {quote(str(file))} {quote(str(folder))}"
    if dry_run:
        next_step(again)
    elif not made.keys:
        next_step(f"put secret.key and keys/private back into {folder}", line("status", folder))
    else:
        record = folder / "records" / "decisions.jsonl"
        check = [f"pedalwright verify {quote(str(record))}"] if record.exists() else []
        next_step(*check, line("status", folder))


@click.command()
@folder_argument
@click.argument("trainee")
@click.option("--yes", is_flag=True, help="Do it without asking.")
@dry_run_option
def forget(folder: Path, trainee: str, yes: bool, dry_run: bool) -> None:
    """Delete a TRAINEE's personal data and work for good.

    Deleted are name, notebooks, texts, comments, feedback, the copies of awards and the personal part of every entry in
    the record. Marks, states and misconceptions stay under a name that tells nothing, so that no statistic moves, and
    the record stays whole. An award that was given out goes on being valid. Backups hold the data until they are
    deleted, and so does a zip archive in the inbox with the work of several trainees.

    \b
    Example
      pedalwright cohort forget autumn heron --dry-run
    """  # noqa: D301
    from autograde.cohort.folder import open_cohort
    from autograde.desk.forget import forget as delete

    cohort = open_cohort(folder)
    planned = delete(cohort, trainee, dry_run=True)
    shown = [(path.relative_to(cohort.root).as_posix(),) for path in planned.files]
    if dry_run:
        pairs("Would be deleted", [("", name) for (name,) in shown[:MOST_LINES]] or [("", "no files")])
        next_step(f"{line('forget', folder)} {trainee}")
        return
    if not yes:
        click.confirm(f"Delete everything personal about {trainee}, for good?", abort=True, err=True)
    with cohort.at_work():
        done = delete(cohort, trainee)
    rows: list[tuple[str, object]] = [
        ("files and folders", len(done.files)),
        ("personal parts of the record", done.personal_parts),
        ("marks are kept as", done.now),
    ]
    pairs("Deleted", rows)
    archives = [f"look into {path}: it may hold work of this trainee" for path in done.archives]
    next_step(*archives, "let backups run out, or delete there as well", line("report", folder))
