"""Every public name of the calculation package explains itself, in the same form, with known units and sources."""

import dataclasses
import importlib
import inspect
import pkgutil
import re
from functools import cache
from pathlib import Path
from types import ModuleType

import pytest
from numpydoc.docscrape import FunctionDoc

import pedalwright
from pedalwright.constants import Constant
from pedalwright.model_labels import MODEL_KINDS, label_of, labelled_functions
from pedalwright.nomenclature import KINDS, quantities, unit_suffix

ROOT = Path(__file__).parents[2]
BIBLIOGRAPHY = set(
    re.findall(r"@\w+\{\s*([^,\s]+)\s*,", (ROOT / "book" / "references.bib").read_text(encoding="utf-8"))
)
LABELS = tuple(f"*{kind}" for kind in KINDS)
UNITLESS = "1"


BROKEN: dict[str, str] = {}


@cache
def public_modules() -> tuple[ModuleType, ...]:
    """Import every public module; one that cannot be imported fails its own test and spares the others."""
    found = []
    for module in pkgutil.iter_modules(pedalwright.__path__):
        if not module.name.startswith("_"):
            try:
                found.append(importlib.import_module(f"pedalwright.{module.name}"))
            except Exception as error:
                BROKEN[module.name] = repr(error)
    return tuple(found)


def public_objects() -> list[tuple[str, object]]:
    """Functions and classes; of a function that remembers its results, the function inside."""
    return [
        (f"{module.__name__.removeprefix('pedalwright.')}.{name}", value)
        for module in public_modules()
        for name, value in ((name, inspect.unwrap(value)) for name, value in sorted(vars(module).items()))
        if not name.startswith("_")
        and (inspect.isfunction(value) or inspect.isclass(value))
        and value.__module__ == module.__name__
    ]


OBJECTS = public_objects()
FUNCTIONS = [(name, value) for name, value in OBJECTS if inspect.isfunction(value)]
FIELD_CLASSES = [
    (name, value)
    for name, value in OBJECTS
    if inspect.isclass(value) and (dataclasses.is_dataclass(value) or hasattr(value, "_fields"))
]
METHODS = [
    (f"{name}.{key}", method.fget if isinstance(method, property) else method)
    for name, value in OBJECTS
    if inspect.isclass(value)
    for key, method in sorted(vars(value).items())
    if not key.startswith("_") and (isinstance(method, property) or inspect.isfunction(method))
]


def cases(pairs):
    return pytest.mark.parametrize("subject", [pytest.param(value, id=name) for name, value in pairs])


def documented_parameters(subject) -> dict[str, str]:
    """Each parameter's description; ``a, b : type`` describes both."""
    found = {}
    for name, _, lines in FunctionDoc(subject)["Parameters"]:
        for part in name.split(","):
            found[part.strip().lstrip("*")] = " ".join(lines).strip()
    return found


def needed_parameters(subject) -> list[str]:
    if inspect.isclass(subject):
        if dataclasses.is_dataclass(subject):
            return [field.name for field in dataclasses.fields(subject) if field.init]
        return list(subject._fields)
    return [name for name in inspect.signature(subject).parameters if name not in ("self", "cls")]


def reference_keys(subject) -> list[str]:
    return [line.strip() for line in FunctionDoc(subject)["References"] if line.strip()]


def test_every_module_can_be_imported():
    assert public_modules()
    assert not BROKEN


@cases(OBJECTS)
def test_has_summary_and_example(subject):
    doc = FunctionDoc(subject)
    assert " ".join(doc["Summary"]).strip(), "no summary"
    assert any(">>>" in line for line in doc["Examples"]), "no example under Examples"


@cases(METHODS)
def test_methods_have_a_summary(subject):
    assert (subject.__doc__ or "").strip(), "no docstring"


@cases([*FUNCTIONS, *FIELD_CLASSES])
def test_parameters_are_those_of_the_signature(subject):
    assert list(documented_parameters(subject)) == needed_parameters(subject)


@cases([*FUNCTIONS, *FIELD_CLASSES])
def test_parameters_with_a_unit_close_with_it(subject):
    lacking = [
        name for name, text in documented_parameters(subject).items() if unit_suffix(name) and not text.endswith("]")
    ]
    assert not lacking, f"description of {', '.join(lacking)} does not end in its unit in brackets"


@cases(FUNCTIONS)
def test_returns_are_described(subject):
    returns_nothing = inspect.signature(subject).return_annotation in (None, "None")
    described = FunctionDoc(subject)["Returns"]
    assert bool(described) != returns_nothing
    for part in described:
        assert " ".join(part.desc).strip(), "a return value without a description"


@cases(FUNCTIONS)
def test_errors_are_described(subject):
    source = inspect.getsource(subject).replace(subject.__doc__ or "", "")
    if re.search(r"\braise\b|\bchecked\(|\bchecked_curve\(|\bchosen\(", source):
        assert FunctionDoc(subject)["Raises"], "raises errors, yet has no section Raises"


@cases(OBJECTS)
def test_models_say_what_they_are_and_where_they_come_from(subject):
    labelled = any(label in " ".join(FunctionDoc(subject)["Notes"]).lower() for label in LABELS)
    keys = reference_keys(subject)
    assert bool(keys) == labelled or (keys and inspect.isclass(subject)), (
        f"label {'found' if labelled else 'missing'} in Notes ({', '.join(KINDS)}), references {keys or 'missing'}"
    )


# Functions that read, move or look up numbers and claim nothing about riders. Everything else carries a label.
HANDLES_DATA = {
    f"{module}.{name}"
    for module, names in {
        "body_lengths": ("check_rider",),
        "conventions": (
            "crank_direction",
            "tangent_direction",
            "pedal_place_mm",
            "sector_of",
            "flexion_from_included_deg",
            "included_from_flexion_deg",
            "opposite_crank_angle_deg",
            "whole_number",
        ),
        "errors": ("checked",),
        "foot_on_pedal": ("ankle_to_pedal", "ankle_to_pedal_from_foot"),
        "lever": ("hip_line_angle_deg", "peak_angle_deg", "turned_with_the_leg"),
        "model_labels": ("label_of", "labelled_functions"),
        "nomenclature": ("explain", "quantities", "quantity", "quantity_from_entry", "unit_suffix"),
        "pedal_angle": ("constant_curve", "fourier_curve"),
        "position": (
            "leg_splay_deg",
            "raised",
            "saddle_point_mm",
            "slid_back",
        ),
        "turn": (
            "at_crank_angle",
            "checked_curve",
            "highest_point",
            "integral_to",
            "lowest_point",
            "mean_over_turn",
            "sampled_angles_deg",
            "sector_edges_deg",
        ),
        "units": ("kind_of_unit",),
    }.items()
    for name in names
}


@pytest.mark.parametrize("name", [name for name, _ in FUNCTIONS])
def test_every_function_is_labelled_or_only_handles_data(name):
    assert bool(labelled_functions()[name].kinds) != (name in HANDLES_DATA), f"{name}: label it in Notes, {KINDS}"


def test_what_only_handles_data_still_exists():
    assert {name for name, _ in FUNCTIONS} >= HANDLES_DATA


DOCSTRING = """Sum.

Parameters
----------
a : float
    *Convention.* [1]

Notes
-----
*Teaching
model*, like a *measured law*.

References
----------
hull_jorge_1985
winter_2009

Examples
--------
>>> 1
1
"""


def test_label_and_sources_are_read_from_the_sections_they_stand_in():
    found = label_of("a.b", DOCSTRING)
    assert (found.kinds, found.summary) == (("teaching model", "measured law"), "Sum.")
    assert found.sources == ("hull_jorge_1985", "winter_2009")
    assert label_of("a.b", "Sum.\n\n*Convention.*").kinds == ()


def test_glossary_and_docstring_say_the_same_of_what_a_function_computes():
    """A quantity of the glossary that a function of that name computes has the function's label.

    What is read from an instrument may also be computed by a law, agreed on, or estimated by a regression.
    """
    by_name = {name.split(".")[1]: one.kinds for name, one in labelled_functions().items()}
    differ = {
        name: (entry.kind, by_name[name])
        for entry in quantities().values()
        for name in (entry.name, *entry.also)
        if name in by_name and entry.kind != "measured quantity" and entry.kind not in by_name[name]
    }
    assert not differ
    assert set(MODEL_KINDS) < set(KINDS)


@cases(OBJECTS)
def test_references_are_in_the_bibliography(subject):
    unknown = [key for key in reference_keys(subject) if key not in BIBLIOGRAPHY]
    assert not unknown, f"add to book/references.bib: {', '.join(unknown)}"


@cases(FUNCTIONS)
def test_parameters_with_a_unit_are_in_the_nomenclature(subject):
    known = {name for entry in quantities().values() for name in (entry.name, *entry.also)}
    missing = [name for name in needed_parameters(subject) if unit_suffix(name) and name not in known]
    assert not missing, f"add to nomenclature.toml, as an entry or under also: {', '.join(missing)}"


def constants() -> list[tuple[str, Constant]]:
    found = []
    for module in public_modules():
        for name, value in vars(module).items():
            members = value if isinstance(value, tuple) else (value,)
            found += [(f"{module.__name__}.{name}", one) for one in members if isinstance(one, Constant)]
    return found


@cases(constants())
def test_constants_have_a_source_or_call_themselves_assumption(subject):
    if subject.source:
        assert subject.source in BIBLIOGRAPHY
    else:
        assert subject.standing in ("assumption", "common practice")


def test_nomenclature_sources_are_in_the_bibliography():
    unknown = {key for entry in quantities().values() for key in entry.sources} - BIBLIOGRAPHY
    assert not unknown


def test_named_choices_carry_known_sources():
    unknown = {
        f"{module.__name__}.{name}: {one.source}"
        for module in public_modules()
        for name, value in vars(module).items()
        if not name.startswith("_")
        and hasattr(value, "values")
        and not inspect.isclass(value)
        and callable(value.values)
        for one in value.values()
        if isinstance(getattr(one, "source", None), str)
        and one.source not in ("", "common practice, no source")
        and one.source not in BIBLIOGRAPHY
    }
    assert not unknown


def test_bibliography_has_no_key_twice():
    keys = re.findall(r"@\w+\{\s*([^,\s]+)\s*,", (ROOT / "book" / "references.bib").read_text(encoding="utf-8"))
    assert sorted(keys) == sorted(set(keys))
