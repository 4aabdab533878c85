"""One file that holds a whole cohort, and the way back.

The file is a zip archive with every file of the folder and, as its last entry, a manifest with the SHA-256 of each. It
is written while no other command is at work; the gradebook's database is copied by its own means, so that a form
that is open then does no harm. It holds the secret and the issuer's keys, unless they are left out, and personal
data: keep it as safe as the folder, and let old ones go when data have to be deleted.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import sqlite3
import stat
import tempfile
import zipfile
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import Any

from autograde.cohort.errors import CohortError
from autograde.cohort.folder import Cohort

__all__ = ["Backup", "back_up", "restore", "verify_backup"]

MANIFEST = "MANIFEST.json"
KIND = "pedalwright cohort backup 1"
GRADEBOOK = "gradebook.db"
LEFT_OUT = (".lock", ".part", ".partial", "-wal", "-shm", "-journal")
KEYS = ("secret.key", "keys/private/")
SAME_DAY = (1980, 1, 1, 0, 0, 0)
LARGEST_MANIFEST = 200_000_000
CHUNK = 1 << 20
Progress = Callable[[int, int], None]


@dataclass(frozen=True)
class Backup:
    """What a backup holds.

    Parameters
    ----------
    path : Path
        The file.
    files : int
        How many files are in it.
    size_bytes : int
        Of their content together.
    keys : bool
        Whether secret and signing keys are in it.
    sha256 : str
        Of the manifest; written down elsewhere, it tells whether the whole file is the one that was made.
    """

    path: Path
    files: int
    size_bytes: int
    keys: bool
    sha256: str


def back_up(cohort: Cohort, path: Path, *, keys: bool = True, progress: Progress = lambda _done, _all: None) -> Backup:
    """Write a cohort into one file.

    Parameters
    ----------
    cohort : Cohort
        Held by the caller, so that nothing else writes (`Cohort.at_work`).
    path : Path
        The file to write; it must not be there yet, nor lie inside the cohort.
    keys : bool
        False to leave secret and signing keys out; they must then be kept elsewhere.
    progress : callable
        Told how many of how many files are done.

    Returns
    -------
    Backup
        What was written.

    Raises
    ------
    CohortError
        If the file exists, lies in the cohort, or cannot be written.
    """
    root = cohort.root.resolve()
    if path.exists():
        raise CohortError(f"{path} exists already; give another name, nothing is ever written over a backup")
    if root in path.resolve().parents:
        raise CohortError(f"{path} lies inside the cohort; give a place outside, best on another disk")
    if not path.parent.is_dir():
        raise CohortError(f"there is no folder {path.parent}; make it first")
    names = [name for name in _names(root) if keys or not name.startswith(KEYS)]
    partial = path.with_name(f".{path.name}.part")
    partial.unlink(missing_ok=True)
    try:
        with os.fdopen(os.open(partial, os.O_RDWR | os.O_CREAT | os.O_EXCL, 0o600), "w+b") as stream:
            with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED, compresslevel=3) as archive:
                manifest, size = _fill(archive, root, names, keys, progress)
            stream.flush()
            os.fsync(stream.fileno())
        os.link(partial, path)
    except FileExistsError as trouble:
        raise CohortError(f"{path} exists already; give another name") from trouble
    finally:
        partial.unlink(missing_ok=True)
    return Backup(path, len(names), size, keys, hashlib.sha256(manifest).hexdigest())


def _fill(archive: zipfile.ZipFile, root: Path, names: list[str], keys: bool, progress: Progress) -> tuple[bytes, int]:
    entries, size = {}, 0
    for count, name in enumerate(names, start=1):
        source = root / name
        mode = stat.S_IMODE(source.stat().st_mode)
        with tempfile.TemporaryDirectory() as scratch:
            if name == GRADEBOOK:
                source = _copy_database(source, Path(scratch) / GRADEBOOK)
            digest, length = _write(archive, source, name, mode)
        entries[name] = {"sha256": digest, "bytes": length, "mode": mode}
        size += length
        progress(count, len(names))
    manifest = json.dumps({"kind": KIND, "keys": keys, "files": entries}, indent=1, sort_keys=True).encode()
    archive.writestr(_info(MANIFEST, 0o600), manifest)
    return manifest, size


def _names(root: Path) -> list[str]:
    found = []
    for folder, folders, files in os.walk(root):
        folders[:] = [name for name in folders if not (Path(folder) / name).is_symlink()]
        for name in files:
            path = Path(folder) / name
            if path.is_file() and not path.is_symlink() and not name.endswith(LEFT_OUT):
                found.append(path.relative_to(root).as_posix())
    return sorted(name for name in found if name != MANIFEST)


def _copy_database(source: Path, target: Path) -> Path:
    try:
        reading, writing = sqlite3.connect(f"file:{source}?mode=ro", uri=True), sqlite3.connect(target)
        with closing(reading) as old, closing(writing) as new:
            old.backup(new)
    except sqlite3.Error:
        return source  # a damaged database is kept as it is
    return target


def _info(name: str, mode: int) -> zipfile.ZipInfo:
    info = zipfile.ZipInfo(name, SAME_DAY)
    info.external_attr = (stat.S_IFREG | mode) << 16
    info.compress_type = zipfile.ZIP_DEFLATED
    return info


def _write(archive: zipfile.ZipFile, source: Path, name: str, mode: int) -> tuple[str, int]:
    digest, length = hashlib.sha256(), 0
    info = _info(name, mode)
    info.file_size = source.stat().st_size
    with source.open("rb") as stream, archive.open(info, "w") as entry:
        while chunk := stream.read(CHUNK):
            digest.update(chunk)
            length += len(chunk)
            entry.write(chunk)
    return digest.hexdigest(), length


def verify_backup(path: Path, progress: Progress = lambda _done, _all: None) -> Backup:
    """Check every file in a backup against its manifest; nothing is unpacked.

    Parameters
    ----------
    path : Path
        The file.
    progress : callable
        Told how many of how many files are done.

    Returns
    -------
    Backup
        What it holds.

    Raises
    ------
    CohortError
        Naming the file in it that is missing, changed, too many, or would be put outside the cohort.
    """
    with _opened(path) as archive:
        manifest, content = _manifest(archive, path)
        for count, _ in enumerate(_checked(archive, manifest, path), start=1):
            progress(count, len(manifest["files"]))
    size = sum(entry["bytes"] for entry in manifest["files"].values())
    sha256 = hashlib.sha256(content).hexdigest()
    return Backup(path, len(manifest["files"]), size, bool(manifest["keys"]), sha256)


def restore(path: Path, root: Path, progress: Progress = lambda _done, _all: None) -> Backup:
    """Make a cohort's folder again from a backup, after every file in it was checked.

    Parameters
    ----------
    path : Path
        The backup.
    root : Path
        The folder to make; it must not be there yet, or be empty.
    progress : callable
        Told how many of how many files are done.

    Returns
    -------
    Backup
        What it holds.

    Raises
    ------
    CohortError
        If the folder holds something, or the backup is not whole; then nothing is left behind.
    """
    if root.exists() and (not root.is_dir() or any(root.iterdir())):
        raise CohortError(f"{root} exists and is not empty; give a new folder, nothing is ever written over a cohort")
    found = verify_backup(path)
    root.resolve().parent.mkdir(parents=True, exist_ok=True)
    work = root.resolve().with_name(f".{root.name}.part")
    shutil.rmtree(work, ignore_errors=True)
    work.mkdir(mode=0o700)
    try:
        with _opened(path) as archive:
            manifest, _ = _manifest(archive, path)
            for count, (name, entry) in enumerate(manifest["files"].items(), start=1):
                target = work / name
                target.parent.mkdir(parents=True, exist_ok=True)
                with archive.open(name) as stream, target.open("wb") as out:
                    shutil.copyfileobj(stream, out, CHUNK)
                target.chmod(int(entry["mode"]) & 0o700 | 0o600)
                progress(count, len(manifest["files"]))
        os.sync()
        work.chmod(0o700)
        if root.exists():
            root.rmdir()
        work.replace(root)
    except BaseException:
        shutil.rmtree(work, ignore_errors=True)
        raise
    return found


def _opened(path: Path) -> zipfile.ZipFile:
    try:
        return zipfile.ZipFile(path)
    except (OSError, zipfile.BadZipFile, ValueError) as trouble:
        raise CohortError(f"{path} is no backup, or it was cut off: {trouble}") from trouble


def _manifest(archive: zipfile.ZipFile, path: Path) -> tuple[dict[str, Any], bytes]:
    try:
        info = archive.getinfo(MANIFEST)
        if info.file_size > LARGEST_MANIFEST:
            raise ValueError("its manifest is too large")
        content = archive.read(info)
        manifest = json.loads(content)
        if manifest["kind"] != KIND or not isinstance(manifest["keys"], bool):
            raise ValueError("it is of another kind")
        for name, entry in manifest["files"].items():
            parts = PurePosixPath(name).parts
            if not parts or name.startswith("/") or ".." in parts or "\\" in name or "\0" in name:
                raise ValueError(f"it would put {name[:80]!r} outside the folder")
            if not (type(entry["bytes"]) is int and type(entry["mode"]) is int and isinstance(entry["sha256"], str)):
                raise ValueError(f"its entry for {name[:80]!r} is damaged")
    except (KeyError, TypeError, ValueError, AttributeError, RecursionError, zipfile.BadZipFile, OSError) as trouble:
        raise CohortError(f"{path} is no backup of a cohort, or is damaged: {trouble}") from trouble
    return manifest, content


def _checked(archive: zipfile.ZipFile, manifest: dict[str, Any], path: Path) -> Iterator[str]:
    names = [name for name in archive.namelist() if name != MANIFEST]
    wanted = manifest["files"]
    extra = sorted(set(names) - set(wanted)) or sorted({name for name in names if names.count(name) > 1})
    if extra or len(names) != len(wanted):
        missing = sorted(set(wanted) - set(names))
        what = f"{extra[0]!r} is not in its manifest" if extra else f"{missing[0]!r} is missing"
        raise CohortError(f"the backup {path} is not whole: {what}; use another copy")
    for name, entry in wanted.items():
        digest, length = hashlib.sha256(), 0
        try:
            with archive.open(name) as stream:
                while length <= entry["bytes"] and (chunk := stream.read(CHUNK)):
                    digest.update(chunk)
                    length += len(chunk)
        except Exception as trouble:  # a damaged archive fails in many ways; each means the same here
            raise CohortError(f"the backup {path} is damaged at {name!r}: {trouble}; use another copy") from trouble
        if (length, digest.hexdigest()) != (entry["bytes"], entry["sha256"]):
            raise CohortError(f"the backup {path} is not whole: {name!r} was changed; use another copy")
        yield name
