import os

import pytest

from autograde.cases import Choice, DirectedChange, Quantity
from autograde.marking.solving import key_values


def pytest_generate_tests(metafunc):
    """Sweep over seeds: a few by default, thousands with PEDALWRIGHT_SWEEP=5000."""
    if "sweep" in metafunc.fixturenames:
        metafunc.parametrize("sweep", [int(os.environ.get("PEDALWRIGHT_SWEEP", "60"))])


def written(task, value):
    """A value as a careful trainee would type it."""
    kind = task.kind
    if isinstance(kind, Quantity):
        return f"{value:.6g} {kind.unit}"
    if isinstance(kind, DirectedChange):
        return f"{(kind.positive if value >= 0 else kind.negative)[0]} {abs(value):.6g} {kind.unit}"
    labels = {option.key: label for label, option in kind.labelled()}
    if isinstance(kind, Choice):
        return labels[value]
    return ", ".join(labels[key] for key in value) or "none"


def right_sheet(variant):
    """The answers of someone who made no slip and did not round."""
    key = key_values(variant.family.tasks, variant.case)
    tasks = [task for task in variant.family.tasks if not task.by_hand]
    return {task.id: written(task, key[task.id]) for task in tasks}


@pytest.fixture(scope="session")
def write():
    return written


@pytest.fixture(scope="session")
def right():
    return right_sheet
