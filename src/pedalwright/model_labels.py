"""What each function of the package rests on: its label and its sources, read from its own docstring.

A label stands once, in the docstring; the book's glossary lists it from here, so the two cannot differ.
"""

import importlib
import inspect
import pkgutil
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from types import FunctionType, MappingProxyType

from pedalwright.nomenclature import KINDS

# Labels of a model, in the order in which they bind: physics, people who were measured, a simplification of ours.
MODEL_KINDS = ("measured law", "published regression", "teaching model")
_LABEL = re.compile(r"\*(" + "|".join(KINDS) + r")\b", re.I)
_SECTION = re.compile(r"^(\w[\w ]*)\n-{3,}\n(.*?)(?=^\w[\w ]*\n-{3,}\n|\Z)", re.M | re.S)


@dataclass(frozen=True)
class LabelledFunction:
    """A public function with the label of what it computes.

    Parameters
    ----------
    name : str
        Module and function.
    kinds : tuple of str
        Labels of ``KINDS`` as its notes give them, the main one first; empty if it only handles data.
    summary : str
        First sentence of the docstring.
    sources : tuple of str
        Bibliography keys.

    Examples
    --------
    >>> labelled_functions()["knee.quadriceps_arm_mm"].kinds
    ('published regression',)
    """

    name: str
    kinds: tuple[str, ...]
    summary: str
    sources: tuple[str, ...]


def label_of(name: str, docstring: str) -> LabelledFunction:
    r"""Read label and sources from a docstring.

    Parameters
    ----------
    name : str
        Module and function.
    docstring : str
        Text in the form of numpydoc, without indentation.

    Returns
    -------
    LabelledFunction
        What the sections Notes and References say.

    Examples
    --------
    >>> label_of("body.half", "Halve it.\n\nNotes\n-----\n*Convention.*")
    LabelledFunction(name='body.half', kinds=('convention',), summary='Halve it.', sources=())
    """
    sections = dict(_SECTION.findall(docstring))
    kinds = tuple(dict.fromkeys(kind.lower() for kind in _LABEL.findall(" ".join(sections.get("Notes", "").split()))))
    summary = " ".join(docstring.strip().split("\n\n")[0].split())
    return LabelledFunction(name, kinds, summary, tuple(sections.get("References", "").split()))


@cache
def labelled_functions() -> Mapping[str, LabelledFunction]:
    """Every public function of the package, by module and name.

    Returns
    -------
    mapping
        Functions in alphabetical order; a function stands once, under the module that defines it.

    Examples
    --------
    >>> labelled_functions()["torque.power_w"].kinds
    ('measured law',)
    """
    return MappingProxyType({name: label_of(name, inspect.getdoc(function) or "") for name, function in _functions()})


def _functions() -> Iterator[tuple[str, FunctionType]]:
    """Yield public functions; of one that remembers its results, the function inside."""
    package = __package__ or "pedalwright"
    for found in pkgutil.iter_modules(importlib.import_module(package).__path__):
        if not found.name.startswith("_"):
            module = importlib.import_module(f"{package}.{found.name}")
            for name, value in sorted(vars(module).items()):
                inside = inspect.unwrap(value)
                if name.startswith("_") or not isinstance(inside, FunctionType):
                    continue
                if inside.__module__ == module.__name__:
                    yield f"{found.name}.{name}", inside
