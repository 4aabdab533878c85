"""What came out of the sandbox, taken for hostile: only text and small pictures pass, built anew from checked parts."""

from __future__ import annotations

import base64
import binascii
import json
import re
import struct
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

__all__ = ["CellRun", "Output", "read_lines"]

MOST_OUTPUTS = 100
MOST_CHARS = 20_000
MOST_PICTURE_BYTES = 1_000_000
MOST_PICTURE_SIDE = 4_000
PNG_START = b"\x89PNG\r\n\x1a\n"
ESCAPES = re.compile(r"\x1b(?:\[[0-?]*[ -/]*[@-~]|[\]PX^_].*?(?:\x07|\x1b\\|\Z)|[ -/]*[0-~])?", re.DOTALL)
"""Sequences by which a text moves a terminal's cursor, colours it or talks to it."""


@dataclass(frozen=True)
class Output:
    """One thing a cell put out.

    Parameters
    ----------
    kind : str
        ``printed``, ``value``, ``error`` or ``picture``.
    text : str
        The text; for a picture what it says in words, mostly empty.
    png : bytes
        The picture, or nothing.
    """

    kind: str
    text: str
    png: bytes = b""


@dataclass(frozen=True)
class CellRun:
    """What became of one cell.

    Parameters
    ----------
    started, finished : bool
        How far it came.
    seconds : float
        How long it says it took, s.
    outputs : tuple of Output
        What it put out.
    left_out : bool
        Whether there was more, of a kind or length that is not taken.
    """

    started: bool = False
    finished: bool = False
    seconds: float = 0.0
    outputs: tuple[Output, ...] = ()
    left_out: bool = False


def read_lines(said: bytes, cell_count: int) -> tuple[list[CellRun], bool]:
    """Read what the program in the sandbox wrote.

    Parameters
    ----------
    said : bytes
        Anything at all.
    cell_count : int
        Cells that it was given, from 0.

    Returns
    -------
    cells : list of CellRun
        One for each cell given, however much was said.
    ended : bool
        Whether it says that it came to its end.
    """
    cells, ended = [CellRun()] * cell_count, False
    for line in _lines(said):
        index = line.get("cell")
        if line.get("end") is True:
            ended = True
        elif isinstance(index, int) and not isinstance(index, bool) and 0 <= index < cell_count:
            if "outputs" not in line:
                cells[index] = cells[index] if cells[index].started else CellRun(started=True)
            elif not cells[index].finished:
                cells[index] = _cell_run(line)
    return cells, ended


def _lines(said: bytes) -> Iterator[Mapping[str, Any]]:
    for raw in said.split(b"\n"):
        try:
            line = json.loads(raw)
        except (ValueError, RecursionError, MemoryError):
            continue
        if isinstance(line, dict):
            yield line


def _cell_run(line: Mapping[str, Any]) -> CellRun:
    given = line["outputs"] if isinstance(line["outputs"], list) else []
    read = [_output(item) for item in given[:MOST_OUTPUTS] if isinstance(item, dict)]
    outputs = tuple(_joined(item for item in read if item is not None))
    seconds = line.get("seconds")
    return CellRun(
        started=True,
        finished=line.get("died") is not True,
        seconds=seconds if isinstance(seconds, float) and 0 <= seconds < 1e6 else 0.0,
        outputs=tuple(_shortened(item) for item in outputs),
        left_out=line.get("cut") is True
        or len(given) > MOST_OUTPUTS
        or None in read
        or any(len(item.text) > MOST_CHARS for item in outputs),
    )


def _output(item: Mapping[str, Any]) -> Output | None:
    match item.get("output_type"):
        case "stream":
            return Output("printed", _text(item.get("text")))
        case "error":
            shown = _text(item.get("traceback"), "\n") or f"{_text(item.get('ename'))}: {_text(item.get('evalue'))}"
            return Output("error", shown)
        case "execute_result" | "display_data":
            data = item.get("data")
            return _shown(data if isinstance(data, dict) else {})
    return None


def _shown(data: Mapping[str, Any]) -> Output | None:
    text = _text(data.get("text/plain"))
    if (png := _png(data.get("image/png"))) is not None:
        return Output("picture", text, png)
    return Output("value", text) if text else None


def _text(value: Any, between: str = "") -> str:
    if isinstance(value, list) and all(isinstance(part, str) for part in value):
        value = between.join(value)
    return ESCAPES.sub("", value) if isinstance(value, str) else ""


def _png(value: Any) -> bytes | None:
    """Take a picture whose head says that it is a PNG of a sensible size."""
    if not isinstance(value, str) or len(value) > MOST_PICTURE_BYTES * 4 / 3:
        return None
    try:
        content = base64.b64decode("".join(value.split()), validate=True)
    except (binascii.Error, ValueError):
        return None
    if len(content) < 33 or not content.startswith(PNG_START) or content[12:16] != b"IHDR":
        return None
    width, height = struct.unpack(">II", content[16:24])
    return content if 0 < width <= MOST_PICTURE_SIDE and 0 < height <= MOST_PICTURE_SIDE else None


def _joined(outputs: Iterable[Output]) -> Iterator[Output]:
    """Join what was printed piece by piece."""
    printed: list[str] = []
    for output in outputs:
        if output.kind == "printed":
            printed.append(output.text)
            continue
        if printed:
            yield Output("printed", "".join(printed))
            printed.clear()
        yield output
    if printed:
        yield Output("printed", "".join(printed))


def _shortened(output: Output) -> Output:
    return Output(output.kind, output.text[:MOST_CHARS], output.png)
