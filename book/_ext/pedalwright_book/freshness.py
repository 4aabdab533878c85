"""Keep what is built in step with what it is built from: assets, bench frames, and the packages the pages run."""

from __future__ import annotations

import hashlib
import shutil
from collections.abc import Iterable
from importlib.util import find_spec
from pathlib import Path

from sphinx.application import Sphinx
from sphinx.config import Config
from sphinx.environment import BuildEnvironment

PACKAGES = ("pedalwright", "pedalwright_bench")


def fingerprint(folders: Iterable[Path]) -> str:
    """Return a hash of names and contents of all files below the folders, compiled ones left out."""
    digest = hashlib.sha256()
    for folder in folders:
        for path in sorted(p for p in folder.rglob("*") if p.is_file() and "__pycache__" not in p.parts):
            digest.update(path.relative_to(folder).as_posix().encode() + b"\0" + path.read_bytes())
    return digest.hexdigest()


def package_folders() -> list[Path]:
    """Return the folders of the packages that the pages' cells import."""
    specs = [find_spec(name) for name in PACKAGES]
    return [Path(spec.origin).parent for spec in specs if spec is not None and spec.origin]


def drop_stale_results(app: Sphinx, config: Config) -> None:
    """Forget the cached cell results when the packages that made them have changed."""
    cache = Path(config.nb_execution_cache_path or Path(app.outdir).parent / ".jupyter_cache")
    stamp, now = cache.with_name(".made-from"), fingerprint(package_folders())
    if cache.is_dir() and (not stamp.is_file() or stamp.read_text(encoding="utf8") != now):
        shutil.rmtree(cache)
    stamp.parent.mkdir(parents=True, exist_ok=True)
    stamp.write_text(now, encoding="utf8")


def outdated_pages(
    app: Sphinx, env: BuildEnvironment, added: set[str], changed: set[str], removed: set[str]
) -> list[str]:
    """Rebuild every page when an asset, a bench frame, this extension or a package changed."""
    source = Path(app.srcdir)
    static = [source / folder for folder in app.config.html_static_path]
    extra = [source / folder for folder in ("_ext", "_templates", "_generated", "questions")]
    now = fingerprint([*static, *extra, *package_folders()])
    before, env.pedalwright_made_from = getattr(env, "pedalwright_made_from", None), now
    return [] if before == now else list(env.found_docs)


def setup(app: Sphinx) -> None:
    """Make sure that the folder of generated static files is there, and watch."""
    (Path(app.srcdir).parent / ".build" / "static").mkdir(parents=True, exist_ok=True)
    app.connect("config-inited", drop_stale_results, priority=900)
    app.connect("env-get-outdated", outdated_pages)
