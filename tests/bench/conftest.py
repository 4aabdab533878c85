"""A bench of two numbers, small enough to draw every picture of it in a test."""

import importlib
import sys
from pathlib import Path

import pytest

import pedalwright_bench.benches

TINY = '''
"""A bench for tests: a square whose side and lift can be moved."""

from dataclasses import dataclass

from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from pedalwright_bench.bench import Bench, Choice, Prediction, slider
from pedalwright_bench.style import size_in


@dataclass(frozen=True)
class Inputs:
    side_mm: float = slider("Side", "mm", 1, 3, 1, 2)
    lift_mm: float = slider("Lift", "mm", 0, 0.5, 0.5, 0)


class Square:
    def __init__(self, layout):
        self.figure = Figure(figsize=size_in(layout))
        axes = self.figure.add_axes((0, 0, 1, 1))
        axes.set(xlim=(0, 4), ylim=(0, 4))
        self.square = Rectangle((0, 0), 1, 1)
        axes.add_patch(self.square)
        self.moving = [self.square]

    def update(self, results):
        side, lift = results
        self.square.set_bounds(0, lift, side, side)


BENCH = Bench(
    name="tiny-square",
    title="A <square> & its side",
    question="How large?",
    inputs=Inputs,
    model=lambda inputs: (inputs.side_mm, inputs.lift_mm),
    sentence=lambda results: f"Side {results[0]:g} mm & area {results[0] ** 2:g} mm², lifted {results[1]:g}.",
    prediction=lambda results: Prediction("Large?", (Choice("Yes", "It is.", right=True), Choice("No", "It is."))),
    picture=Square,
    target="None.",
    notes=(("Keeps", "Everything </script> there is."),),
)
'''


@pytest.fixture
def tiny(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Put the tiny bench among the benches; the fixture is the path of its source."""
    folder = tmp_path / "more_benches"
    folder.mkdir()
    source = folder / "tiny_square.py"
    source.write_text(TINY, encoding="utf8")
    monkeypatch.setattr(pedalwright_bench.benches, "__path__", [str(folder)])
    importlib.invalidate_caches()
    yield source
    sys.modules.pop("pedalwright_bench.benches.tiny_square", None)
    from pedalwright_bench import frames, sources

    frames._canvas.cache_clear()
    sources._file_of.cache_clear()
