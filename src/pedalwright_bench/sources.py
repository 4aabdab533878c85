"""Which source files a bench is made from, and one hash that tells whether any of them changed."""

import ast
import hashlib
import importlib.util
from collections.abc import Iterator
from functools import cache
from importlib.metadata import version
from pathlib import Path

from pedalwright_bench.bench import Bench

OURS = ("pedalwright", "pedalwright_bench")
DRAWN_BY = ("pedalwright_bench.frames", "pedalwright_bench.canvas")
SHOWN_BY = ("pedalwright_bench.modes",)
DRAWN_WITH = ("matplotlib", "numpy", "scipy", "pillow")


def fingerprint(bench: Bench) -> str:
    """Hash of everything a bench's frames are made from.

    Parameters
    ----------
    bench : Bench
        The bench.

    Returns
    -------
    str
        Hexadecimal digest over the bench's own files, every file of ours they import, directly or not,
        the files that draw frames, and the versions of the drawing libraries.
    """
    digest = hashlib.sha256()
    for library in DRAWN_WITH:
        digest.update(f"{library} {version(library)}\n".encode())
    for path in source_files("pedalwright_bench.benches." + bench.name.replace("-", "_")):
        digest.update(path.name.encode() + b"\0" + path.read_bytes())
    return digest.hexdigest()


def source_files(module: str) -> list[Path]:
    """Files of ours that a bench's module needs, itself included, and data files named like one of them."""
    found: dict[str, Path] = {}
    waiting = [module, *DRAWN_BY]
    while waiting:
        name = waiting.pop()
        if name in found or name in SHOWN_BY or name.partition(".")[0] not in OURS:
            continue
        path = _file_of(name)
        if path is not None:
            found[name] = path
            waiting.extend(_imported_by(path))
    data = {
        beside
        for path in found.values()
        for beside in path.parent.glob(f"{path.stem}.*")
        if beside.suffix in {".toml", ".csv", ".json"}
    }
    return sorted({*found.values(), *data})


@cache
def _file_of(name: str) -> Path | None:
    try:
        spec = importlib.util.find_spec(name)
    except ModuleNotFoundError:
        return None
    return Path(spec.origin) if spec is not None and spec.origin else None


def _imported_by(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)
