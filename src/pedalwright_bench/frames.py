"""Draw every picture of every bench that pages show, before the book is built.

``python -m pedalwright_bench.frames OUT`` draws what changed since the last time, two processes side by
side; ``python -m pedalwright_bench.frames --picture lever-tangency OUT.png`` draws one picture.
"""

import argparse
import json
import multiprocessing
import os
import shutil
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from functools import cache
from pathlib import Path

from PIL import Image

from pedalwright.errors import PedalwrightError
from pedalwright_bench.bench import LAYOUTS, Bench, Layout, bench, bench_names, published_names
from pedalwright_bench.canvas import Canvas
from pedalwright_bench.sources import fingerprint

RECORD = "frames.json"
COLOURS = 128
CHUNK = 18
WORKERS = 2

Task = tuple[str, Layout, list[tuple[str, tuple[float, ...]]], Path]


def frame_path(folder: Path, name: str, layout: Layout, key: str) -> Path:
    """Where one frame lies below the folder of all frames."""
    return folder / name / layout / f"{key}.webp"


def save_frame(image: Image.Image, path: Path) -> None:
    """Write a frame without loss beyond a palette of 128 colours; never half a file."""
    path.parent.mkdir(parents=True, exist_ok=True)
    reduced = image.quantize(COLOURS, method=Image.Quantize.MEDIANCUT, dither=Image.Dither.NONE).convert("RGB")
    unfinished = path.with_suffix(".part")
    reduced.save(unfinished, "WEBP", lossless=True, quality=60, method=4)
    os.replace(unfinished, path)


def is_up_to_date(folder: Path, found: Bench) -> bool:
    """Whether the frames on disk were made from the sources as they are now."""
    try:
        record = json.loads((folder / found.name / RECORD).read_text(encoding="utf8"))
    except (OSError, ValueError):
        return False
    return bool(record.get("made_from") == fingerprint(found))


def draw_all(folder: Path, names: Sequence[str], *, force: bool = False, workers: int = WORKERS) -> int:
    """Draw the frames of the named benches that are not up to date; return how many were drawn.

    Parameters
    ----------
    folder : Path
        Folder of all frames; one folder a bench is made in it.
    names : sequence of str
        Benches to look at. Frames of benches that no longer exist are removed.
    force : bool
        Draw even what is up to date.
    workers : int
        Processes side by side; with 1 everything is drawn in this process.

    Returns
    -------
    int
        Number of frames drawn.
    """
    _remove_strangers(folder)
    stale = [bench(name) for name in names if force or not is_up_to_date(folder, bench(name))]
    for name in names:
        if name not in {found.name for found in stale}:
            print(f"  {name}: up to date", flush=True)
    for found in stale:
        shutil.rmtree(folder / found.name, ignore_errors=True)
    tasks = [task for found in stale for task in _tasks(found, folder)]
    total = sum(len(states) for _, _, states, _ in tasks)
    left = Counter(name for name, *_ in tasks)
    done = 0
    for name, drawn in _drawn(tasks, workers):
        done += drawn
        left[name] -= 1
        if left[name] == 0:
            _write_record(folder, bench(name))
        _tell(done, total, name)
    return done


def _drawn(tasks: Sequence[Task], workers: int) -> Iterator[tuple[str, int]]:
    """Do the tasks; yield the bench and the number of frames of each as it is done."""
    if workers == 1 or len(tasks) < 2:
        yield from ((task[0], _draw(task)) for task in tasks)
        return
    with ProcessPoolExecutor(min(workers, len(tasks)), mp_context=multiprocessing.get_context("spawn")) as pool:
        running: dict[Future[int], str] = {pool.submit(_draw, task): task[0] for task in tasks}
        for finished in as_completed(running):
            yield running[finished], finished.result()


def _tasks(found: Bench, folder: Path) -> Iterator[Task]:
    states = list(found.states())
    for layout in LAYOUTS:
        for first in range(0, len(states), CHUNK):
            yield found.name, layout, states[first : first + CHUNK], folder


@cache
def _canvas(name: str, layout: Layout) -> Canvas:
    return Canvas(bench(name), layout)


def _draw(task: Task) -> int:
    name, layout, states, folder = task
    found, canvas = bench(name), _canvas(name, layout)
    for key, values in states:
        save_frame(canvas.image(found.at(*values)), frame_path(folder, name, layout, key))
    return len(states)


def _write_record(folder: Path, found: Bench) -> None:
    about = {"made_from": fingerprint(found), "frames": sum(1 for _ in found.states()) * len(LAYOUTS)}
    path = folder / found.name / RECORD
    unfinished = path.with_suffix(".part")
    unfinished.write_text(json.dumps(about) + "\n", encoding="utf8")
    os.replace(unfinished, path)


def _remove_strangers(folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    known = set(bench_names())
    for path in folder.iterdir():
        if path.is_dir() and path.name not in known and (path / RECORD).exists():
            shutil.rmtree(path)


def _tell(done: int, total: int, name: str) -> None:
    line = f"  {done} of {total} pictures drawn ({name})"
    if sys.stdout.isatty():
        print(f"\r{line:<70}", end="\n" if done == total else "", flush=True)
    else:
        print(line, flush=True)


def draw_picture(name: str, path: Path, layout: Layout = "wide", values: Sequence[float] | None = None) -> None:
    """Draw one picture, by default at the bench's defaults, in the format that the file's ending says."""
    found = bench(name)
    image = Canvas(found, layout).image(found.at(*(values or found.defaults)))
    path.parent.mkdir(parents=True, exist_ok=True)
    reduced = image.quantize(COLOURS, method=Image.Quantize.MEDIANCUT, dither=Image.Dither.NONE)
    (reduced if path.suffix == ".png" else image).save(path, optimize=True)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command."""
    parser = argparse.ArgumentParser(prog="python -m pedalwright_bench.frames", description=__doc__)
    parser.add_argument("out", type=Path, help="folder of all frames, or with --picture the picture's file")
    parser.add_argument("--only", metavar="NAME", action="append", help="draw this bench only (may be repeated)")
    parser.add_argument("--force", action="store_true", help="draw even what is up to date")
    parser.add_argument("--picture", metavar="NAME", help="draw one picture of this bench")
    parser.add_argument("--layout", choices=LAYOUTS, default="wide", help="layout of that picture")
    parser.add_argument("--values", type=float, nargs="+", metavar="VALUE", help="slider values of that picture")
    options = parser.parse_args(arguments)
    try:
        if options.picture:
            draw_picture(options.picture, options.out, options.layout, options.values)
            print(f"  {options.out}")
        else:
            print("Pictures of the benches", flush=True)
            draw_all(options.out, options.only or published_names(), force=options.force)
    except PedalwrightError as error:
        print(f"{parser.prog}: {error}", file=sys.stderr)
        return 2
    return 0


if __name__ == "__main__":
    sys.exit(main())
