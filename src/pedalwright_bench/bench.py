"""What a bench is: inputs with sliders, one calculation, one sentence, one picture.

A bench is a folder or module under ``pedalwright_bench.benches`` that exposes ``BENCH``; its name in
a page is the module's name with hyphens. Nothing else registers it.
"""

import dataclasses
import importlib
import itertools
import pkgutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any, Literal, Protocol

import numpy as np
from matplotlib.artist import Artist
from matplotlib.figure import Figure

from pedalwright.errors import OutOfRangeError, PedalwrightError
from pedalwright_bench.words import plain, unbroken

Layout = Literal["wide", "narrow"]
LAYOUTS: tuple[Layout, ...] = ("wide", "narrow")


@dataclass(frozen=True)
class Slider:
    """One input a learner can move.

    Parameters
    ----------
    name : str
        Field of the inputs class, with its unit: ``effort_w``.
    label : str
        What the learner reads beside the slider.
    unit : str
        Unit as printed.
    start, stop, step : float
        First and last value and the distance between two. [unit]
    default : float
        Value before anything is moved, and after a reset. [unit]
    ends : tuple of str
        Words for the two ends of the slider.
    words : callable
        Says a value in words; the screen reader and the readout use it.
    """

    name: str
    label: str
    unit: str
    start: float
    stop: float
    step: float
    default: float
    ends: tuple[str, str] = ("", "")
    words: Callable[[float, str], str] = plain

    def __post_init__(self) -> None:
        steps = (self.stop - self.start) / self.step if self.step else 0
        if self.step <= 0 or steps < 1 or abs(steps - round(steps)) > 1e-9:
            raise PedalwrightError(
                f"slider {self.name}: received {self.start:g} to {self.stop:g} in steps of {self.step:g}; "
                "allowed: a positive step that divides the range; change the step or the ends"
            )
        self.index(self.default)

    @property
    def values(self) -> tuple[float, ...]:
        """Every value the slider can take."""
        count = round((self.stop - self.start) / self.step) + 1
        return tuple(round(self.start + i * self.step, 9) for i in range(count))

    @property
    def middle(self) -> int:
        """Index of the default."""
        return self.index(self.default)

    def index(self, value: float) -> int:
        """Place of a value among the slider's values.

        Parameters
        ----------
        value : float
            One of the slider's values. [unit]

        Returns
        -------
        int
            Index from zero.

        Raises
        ------
        OutOfRangeError
            If the slider cannot take the value.
        """
        place = int(np.argmin(np.abs(np.asarray(self.values) - value)))
        if not np.isclose(self.values[place], value, rtol=0, atol=1e-6):
            raise OutOfRangeError(
                f"{self.name}: received {value:g}; allowed: {self.start:g} to {self.stop:g} {self.unit} in steps of "
                f"{self.step:g}; choose one of these"
            )
        return place

    def say(self, value: float) -> str:
        """Say the value in words, as the readout shows it."""
        return self.words(value, self.unit)


def slider(
    label: str,
    unit: str,
    start: float,
    stop: float,
    step: float,
    default: float,
    ends: tuple[str, str] = ("", ""),
    words: Callable[[float, str], str] = plain,
) -> Any:
    """Make a dataclass field with a slider attached: the one line an author writes for an input."""
    about = {
        "label": label,
        "unit": unit,
        "start": start,
        "stop": stop,
        "step": step,
        "default": default,
        "ends": ends,
        "words": words,
    }
    return dataclasses.field(default=default, metadata={"slider": about})


def sliders_of(inputs: Any) -> tuple[Slider, ...]:
    """List the sliders of an inputs class, in the order of its fields."""
    return tuple(
        Slider(name=field.name, **field.metadata["slider"])
        for field in dataclasses.fields(inputs)
        if "slider" in field.metadata
    )


@dataclass(frozen=True)
class Choice:
    """One answer a learner can predict, and what the bench says to it."""

    text: str
    reply: str
    right: bool = False


@dataclass(frozen=True)
class Prediction:
    """A guess asked for before the picture is uncovered."""

    prompt: str
    choices: tuple[Choice, ...]

    def __post_init__(self) -> None:
        if sum(choice.right for choice in self.choices) != 1:
            raise PedalwrightError(
                f"prediction {self.prompt!r}: received {sum(c.right for c in self.choices)} right choices; "
                "allowed: exactly one; mark one choice as right"
            )


class Picture(Protocol):
    """A figure whose artists are made once and then only moved.

    ``moving`` lists the artists that ``update`` changes, in drawing order; everything else is drawn
    once and kept as a background.
    """

    figure: Figure
    moving: list[Artist]

    def update(self, results: Any) -> None:
        """Move the artists to new results."""


@dataclass(frozen=True)
class Bench:
    """An interactive figure.

    Parameters
    ----------
    name : str
        Name in pages, lower case with hyphens.
    title, question : str
        Heading, and the question the learner should be able to answer at the end.
    inputs : type
        Frozen dataclass whose fields are made by `slider`.
    model : callable
        Inputs to results; calls the calculation package and nothing else.
    sentence : callable
        Results to one plain sentence, which is also the picture's text alternative.
    prediction : callable
        Results at the defaults to the guess asked for first.
    picture : callable
        Layout to a new `Picture`.
    target : str
        What the marked window means.
    notes : tuple of tuple of str
        Heading and text of what the model keeps, leaves out and rests on.
    draft : bool
        True until a page shows the bench: its frames are drawn on request only, and no page is asked for.
    """

    name: str
    title: str
    question: str
    inputs: type[Any]
    model: Callable[[Any], Any]
    sentence: Callable[[Any], str]
    prediction: Callable[[Any], Prediction]
    picture: Callable[[Layout], Picture]
    target: str
    notes: tuple[tuple[str, str], ...]
    draft: bool = False

    @property
    def sliders(self) -> tuple[Slider, ...]:
        """The bench's sliders, in the order of its inputs."""
        return sliders_of(self.inputs)

    def at(self, *values: float) -> Any:
        """Results at the given slider values, in the order of the sliders.

        Raises
        ------
        OutOfRangeError
            If a slider cannot take its value.
        """
        sliders = self.sliders
        if len(values) != len(sliders):
            raise PedalwrightError(
                f"bench {self.name}: received {len(values)} values; allowed: {len(sliders)}; give one a slider"
            )
        return self.model(self.inputs(**{s.name: s.values[s.index(v)] for s, v in zip(sliders, values, strict=True)}))

    def say(self, results: Any) -> str:
        """Say the result as the page prints it: the sentence, no number torn from its unit."""
        return unbroken(self.sentence(results))

    def states(self) -> Iterator[tuple[str, tuple[float, ...]]]:
        """Every combination of slider values with its key, the last slider running fastest."""
        places = [range(len(s.values)) for s in self.sliders]
        for place in itertools.product(*places):
            yield (
                "-".join(map(str, place)),
                tuple(s.values[i] for s, i in zip(self.sliders, place, strict=True)),
            )

    @property
    def defaults(self) -> tuple[float, ...]:
        """Slider values before anything is moved."""
        return tuple(s.default for s in self.sliders)


def bench_names() -> tuple[str, ...]:
    """Names of all benches, as pages use them."""
    package = importlib.import_module("pedalwright_bench.benches")
    return tuple(
        sorted(m.name.replace("_", "-") for m in pkgutil.iter_modules(package.__path__) if not m.name.startswith("_"))
    )


def published_names() -> tuple[str, ...]:
    """Names of the benches that pages show: all but drafts."""
    return tuple(name for name in bench_names() if not bench(name).draft)


def bench(name: str) -> Bench:
    """Find a bench by its name in pages.

    Parameters
    ----------
    name : str
        For example "lever-tangency".

    Returns
    -------
    Bench
        The bench.

    Raises
    ------
    PedalwrightError
        If there is no bench of that name.

    Examples
    --------
    >>> bench("lever-tangency").name
    'lever-tangency'
    """
    if name not in bench_names():
        raise PedalwrightError(
            f"bench: received {name!r}; allowed: {', '.join(bench_names())}; check the spelling in the page"
        )
    found: Bench = importlib.import_module("pedalwright_bench.benches." + name.replace("-", "_")).BENCH
    return found
