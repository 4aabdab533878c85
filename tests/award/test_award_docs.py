"""Docstrings of the award: parameters as in the signature, sources that exist, imports that are allowed."""

import ast
import importlib
import inspect
import pkgutil
import re
from pathlib import Path

import pytest
from numpydoc.docscrape import FunctionDoc

import autograde.award

ROOT = Path(__file__).parents[2]
MODULES = [importlib.import_module(f"autograde.award.{m.name}") for m in pkgutil.iter_modules(autograde.award.__path__)]
FUNCTIONS = [
    value
    for module in MODULES
    for name in getattr(module, "__all__", ())
    if inspect.isfunction(value := getattr(module, name)) and value.__module__ == module.__name__
]
KEYS = set(re.findall(r"@\w+\{\s*([^,\s]+)\s*,", (ROOT / "book" / "references.bib").read_text(encoding="utf-8")))


@pytest.mark.parametrize("function", FUNCTIONS, ids=lambda function: function.__qualname__)
def test_described_parameters_are_those_of_the_signature(function):
    described = [name for entry in FunctionDoc(function)["Parameters"] for name in entry.name.split(", ")]
    if described:
        assert described == list(inspect.signature(function).parameters)


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__.rpartition(".")[2])
def test_sources_stand_in_the_bibliography(module):
    text = inspect.getsource(module)
    named = re.findall(r"References: ([a-z0-9_, ]+)\.", text)
    named += re.findall(r"References\n\s+-{10}\n\s+([a-z0-9_, \n]+?)\n\s*(?:\n|\"\"\")", text)
    keys = {key for group in named for key in re.split(r"[,\s]+", group) if key}
    assert keys <= KEYS, f"add to book/references.bib: {sorted(keys - KEYS)}"


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__.rpartition(".")[2])
def test_no_notebook_no_database_no_network(module):
    tree = ast.parse(inspect.getsource(module))
    names = {alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names}
    names |= {str(node.module) for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    forbidden = re.compile(
        r"(nbgrader|nbformat|jupytext|ipywidgets|IPython|sqlalchemy|sqlite3|socket|ssl|http|urllib|requests|"
        r"autograde\.(cohort|cases|sandbox)|pedalwright_)"
    )
    assert not [name for name in names if forbidden.match(name)]
