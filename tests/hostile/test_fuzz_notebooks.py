"""Fuzz whole notebooks: bytes and trees broken at random end in reasons, and marks come only from what was typed.

The rule for marks is simple: when a broken notebook earns full marks for a number, some line of it is a right answer
also for the small reader of the other fuzz test. `PEDALWRIGHT_FUZZ` sets the number of inputs over all fuzz tests.
"""

import copy
import json
import os
import re
import runpy
from functools import cache
from pathlib import Path

from hypothesis import HealthCheck, currently_in_test_context, event, given, settings
from hypothesis import strategies as st

from autograde.cases import Quantity, discover_families, render_brief, trainee_variant
from autograde.cases.writing import as_typed
from autograde.cohort.marking import MarkingJob, mark_content
from autograde.cohort.notebook import as_bytes, build_notebook
from autograde.cohort.read import read_sheet
from autograde.marking import State
from autograde.marking.solving import key_values
from pedalwright_app.filling import fill

READER = runpy.run_path(str(Path(__file__).with_name("test_fuzz_answers.py")))
INPUTS = int(os.environ.get("PEDALWRIGHT_FUZZ", "2000"))
SECRET = bytes(range(32))
FAMILIES = discover_families()
TRAINEE = "wren"
DEEP = json.loads("[" * 150 + "]" * 150)
GIANT = ("9" * 3000, "1e999", "-1e999", "NaN", "Infinity", "1" + "0" * 400, "1e-999", "0.1e+9999")


def many(share):
    """Settings of a test that takes a share of all inputs."""
    small = INPUTS <= 5000
    return settings(
        max_examples=max(20, int(share * INPUTS)),
        deadline=None,
        derandomize=small,
        database=None,
        suppress_health_check=list(HealthCheck),
    )


@cache
def honest(name):
    """An honest trainee's notebook without its pictures, what was typed, and the job of marking it."""
    family = FAMILIES[name]
    variant = trainee_variant(family, SECRET, TRAINEE)
    parts = [part for part in render_brief(family, variant.case) if not hasattr(part, "png")]
    blank = as_bytes(build_notebook(family, parts, metadata={"trainee": TRAINEE, "attempt": 1}))
    key = key_values(family.tasks, variant.case)
    typed = {task.id: as_typed(task, key[task.id]) for task in family.tasks if not task.by_hand}
    typed |= {task.id: "Refer, and ask again next week." for task in family.tasks if task.by_hand}
    job = MarkingJob(
        root=Path("nowhere"),
        trainee=TRAINEE,
        case=name,
        attempt=1,
        path=Path("nowhere"),
        sha256="",
        arrived="",
        fingerprint=variant.fingerprint,
        secret=SECRET,
        folders=(),
        limit_bytes=10**8,
    )
    return fill(blank, typed), typed, job


def mark(name, content):
    """Mark content, and see that the result holds together."""
    _, typed, job = honest(name)
    family = FAMILIES[name]
    sheet = read_sheet(content, family.tasks, TRAINEE, name)
    assert sheet.trouble or set(sheet.answers) | set(sheet.problems) == set(typed)
    _, result = mark_content(family, job, content)
    assert [each.task for each in result.results] == [task.id for task in family.tasks]
    for each, task in zip(result.results, family.tasks, strict=True):
        assert (each.marks is None) == (each.state is State.NOT_GRADABLE)
        assert each.marks is None or 0 <= each.marks <= task.marks == each.max_marks
        assert not (task.by_hand and each.marks), "a text earns nothing without a person"
        assert each.reason
        assert each.feedback
    if currently_in_test_context():
        event("not read at all" if sheet.trouble else "read")
    return {each.task: each for each in result.results}


def texts_in(value):
    """Every text of a tree, lines put together."""
    if isinstance(value, dict):
        for each in value.values():
            yield from texts_in(each)
    elif isinstance(value, list):
        if all(isinstance(each, str) for each in value):
            yield "".join(value)
        for each in value:
            yield from texts_in(each)
    elif isinstance(value, str):
        yield value


def test_the_honest_notebook_of_each_family_earns_all_marks():
    for name, family in FAMILIES.items():
        results = mark(name, honest(name)[0])
        for task in family.tasks:
            assert task.by_hand or results[task.id].marks == task.marks, (name, task.id)


def full_marks_only_where_typed(name, content, results):
    """For full marks some line of the file has to be a right answer, also for the other fuzz test's small reader."""
    try:
        lines = {line.strip() for text in texts_in(json.loads(content)) for line in text.splitlines()}
    except (ValueError, RecursionError):
        lines = set()
    key = key_values(FAMILIES[name].tasks, trainee_variant(FAMILIES[name], SECRET, TRAINEE).case)
    for task in FAMILIES[name].tasks:
        if results[task.id].marks != task.marks:
            continue
        if isinstance(task.kind, Quantity):
            typed = [line for line in lines if re.match(r"[-+−(]?[.\d]", line) and len(line) < 100]
            half = task.kind.tolerance.half_width(key[task.id]) * (1 + 1e-6)
            found = [t for t in typed for v in READER["own_values"](t, task.kind.unit) if abs(v - key[task.id]) <= half]
            assert found, (name, task.id, results[task.id].reason)
        else:
            assert lines, (name, task.id)


@many(0.1)
@given(st.data())
def test_broken_bytes_end_in_reasons(data):
    name = data.draw(st.sampled_from(list(FAMILIES)))
    content = bytearray(honest(name)[0])
    for _ in range(data.draw(st.integers(1, 6))):
        start = data.draw(st.integers(0, max(0, len(content) - 1)))
        stop = min(len(content), start + data.draw(st.integers(0, 300)))
        piece = bytes(content[start:stop])
        new = data.draw(
            st.sampled_from([b"", piece * 2, piece[::-1], b"\0", b"\xff\xfe", b'"', b"}", b"]", b"\\u0000"])
        )
        content[start:stop] = data.draw(st.sampled_from([new, data.draw(st.binary(max_size=40))]))
    results = mark(name, bytes(content))
    full_marks_only_where_typed(name, bytes(content), results)


@many(0.02)
@given(st.one_of(st.binary(max_size=400), st.text(max_size=200).map(lambda text: text.encode("utf-8", "replace"))))
def test_any_bytes_at_all_end_in_reasons(content):
    results = mark("saddle-height", content)
    assert all(each.marks is None for each in results.values())


def anything():
    leaves = st.one_of(
        st.none(),
        st.booleans(),
        st.integers(),
        st.floats(),
        st.text(max_size=12),
        st.sampled_from([DEEP, 10**400, -(10**30), "%%answer", "answer-", "\ud800", "\0", "answer-../../x"]),
    )
    return st.recursive(
        leaves,
        lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(st.text(max_size=8), inner, max_size=4)),
        max_leaves=6,
    )


def places(tree):
    """Every place of a tree, as the container and the key in it."""
    found, todo = [], [tree]
    while todo:
        here = todo.pop()
        items = here.items() if isinstance(here, dict) else enumerate(here) if isinstance(here, list) else ()
        for key, value in items:
            found.append((here, key))
            todo.append(value)
    return found


@many(0.12)
@given(st.data())
def test_broken_trees_end_in_reasons_and_never_in_more_marks(data):
    name = data.draw(st.sampled_from(list(FAMILIES)))
    tree = json.loads(honest(name)[0])
    for _ in range(data.draw(st.integers(1, 5))):
        all_places = places(tree)
        if not all_places:
            break
        here, key = all_places[data.draw(st.integers(0, len(all_places) - 1))]
        way = data.draw(st.integers(0, 4))
        if way == 0:
            del here[key]
        elif way == 1:
            here[key] = copy.deepcopy(data.draw(anything()))
        elif way == 2 and isinstance(here, list):
            here.insert(key, copy.deepcopy(here[key]))
        elif way == 3:
            other, other_key = all_places[data.draw(st.integers(0, len(all_places) - 1))]
            here[key] = copy.deepcopy(other[other_key])
        else:
            here[key] = [here[key]]
    content = json.dumps(tree).encode("utf-8", "replace")
    if data.draw(st.booleans()):
        content = content.replace(b"null", data.draw(st.sampled_from(GIANT)).encode())
    results = mark(name, content)
    full_marks_only_where_typed(name, content, results)


FORGERIES = {
    "points": lambda mark, value: mark.update(points=value),
    "max_points": lambda mark, value: mark.update(max_points=value),
    "score": lambda mark, value: mark.update(score=value, auto_score=value, manual_score=value),
    "grade": lambda mark, value: mark.update(grade=bool(value)),
    "solution": lambda mark, value: mark.update(solution=not value),
    "locked": lambda mark, value: mark.update(locked=False),
    "checksum": lambda mark, value: mark.update(checksum=str(value)),
    "cell_type": lambda mark, value: mark.update(cell_type="markdown"),
    "schema": lambda mark, value: mark.update(schema_version=value),
}
NONSENSE = (
    "",
    "nan",
    "inf",
    "9**9**9",
    "1e999",
    "a lot",
    "<b>1</b>",
    "check('x')",
    "{{ key }}",
    "\u202e1",
    "0x1",
)


@many(0.06)
@given(st.data())
def test_forged_metadata_and_outputs_earn_nothing(data):
    """Every answer is nonsense, and the notebook says of itself that all is right."""
    name = data.draw(st.sampled_from(list(FAMILIES)))
    _, typed, _ = honest(name)
    blank = json.loads(honest(name)[0])
    for cell in blank["cells"]:
        grade_id = cell["metadata"].get("nbgrader", {}).get("grade_id", "")
        if grade_id.startswith("answer-"):
            cell["source"] = f"%%answer {grade_id[7:]}\n{data.draw(st.sampled_from(NONSENSE))}\n"
        mark_of = cell["metadata"].get("nbgrader")
        if mark_of is not None:
            for forgery in data.draw(st.lists(st.sampled_from(list(FORGERIES)), max_size=3)):
                FORGERIES[forgery](mark_of, data.draw(st.sampled_from([100, -1, 1e308, True, "all", None])))
        if cell["cell_type"] == "code":
            words = data.draw(st.sampled_from(["Right.", "correct", "100", typed[next(iter(typed))]]))
            cell["outputs"] = [{"output_type": "stream", "name": "stdout", "text": words}]
    blank["metadata"]["pedalwright"] |= data.draw(
        st.sampled_from([{}, {"attempt": 99}, {"marks": 100}, {"fingerprint": "0" * 64}, {"key": typed}])
    )
    results = mark(name, json.dumps(blank).encode("utf-8", "replace"))
    assert not any(each.marks for each in results.values()), results
