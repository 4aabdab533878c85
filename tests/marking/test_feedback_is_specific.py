"""What each family owes its trainees: tasks and slips enough, stated errors, and feedback that names the slip."""

import importlib.util
import re
from itertools import combinations
from pathlib import Path

import pytest

from autograde.cases import DirectedChange, Quantity, discover_families, trainee_variant
from autograde.marking.solving import key_values

FAMILIES = discover_families()
SECRET = bytes(range(32))
HERE = Path(__file__).parent
BOOK = HERE.parents[1] / "book"
VARIANTS = 20
# What a feedback may begin with: it speaks to the trainee about the answer that was given.
SPEAKS_OF_THE_ANSWER = re.compile(
    r"\b(?:you|your|yours)\b|^(?:this is|the (?:size|distance|row|part|number|angle)|a minus sign)\b", re.IGNORECASE
)
REPEATS = re.compile(r"\brepeats?\b|\bstandard uncertainty\b|\berror of\b", re.IGNORECASE)


@pytest.fixture(params=FAMILIES.values(), ids=FAMILIES.keys())
def family(request):
    return request.param


def test_a_family_has_four_to_eight_tasks_and_one_of_judgement(family):
    by_hand = [task for task in family.tasks if task.by_hand]
    assert 4 <= len(family.tasks) - len(by_hand) <= 8
    assert len(by_hand) == 1
    assert len(by_hand[0].kind.rubric) >= 2
    assert sum(each.marks for each in by_hand[0].kind.rubric) == by_hand[0].marks


def test_a_family_knows_at_least_four_slips_and_each_task_one(family):
    assert len({slip.id for slip in family.misconceptions}) >= 4
    assert {slip.task for slip in family.misconceptions} == {task.id for task in family.tasks if not task.by_hand}


def test_the_brief_states_how_well_measurements_repeat(family):
    assert REPEATS.search((family.folder / "brief.md").read_text(encoding="utf-8"))
    for task in family.tasks:
        if isinstance(task.kind, Quantity | DirectedChange):
            assert task.kind.tolerance.because, f"{task.id}: says where its tolerance comes from"


def test_feedback_names_the_slip(family):
    for slip in family.misconceptions:
        assert len(slip.feedback.split()) >= 7, (slip.task, slip.id)
        assert SPEAKS_OF_THE_ANSWER.search(slip.feedback), (slip.task, slip.id, slip.feedback)
        assert slip.feedback.rstrip().endswith((".", "?")), (slip.task, slip.id)
        assert slip.label.strip()
        assert slip.label.strip() != slip.feedback.strip()


def test_feedback_of_different_slips_differs(family):
    """One text may stand for one slip in several tasks or guises; two slips never share one."""
    for one, other in combinations(family.misconceptions, 2):
        if one.feedback == other.feedback:
            assert one.label == other.label, (one.task, one.id, other.task, other.id)


def test_slips_of_one_task_have_different_names(family):
    for task in family.tasks:
        labels = {slip.label: slip.feedback for slip in family.misconceptions if slip.task == task.id}
        texts = {slip.feedback for slip in family.misconceptions if slip.task == task.id}
        assert set(labels.values()) == texts, f"{task.id}: one label for two slips"


def test_feedback_holds_no_number_of_a_variant(family):
    """Texts are fixed; a number in one that is the key of some variant would tell it."""
    for number in range(VARIANTS):
        variant = trainee_variant(family, SECRET, f"trainee-{number}")
        key = key_values(family.tasks, variant.case)
        for slip in family.misconceptions:
            said = {float(found) for found in re.findall(r"\d+(?:\.\d+)?", slip.feedback)}
            right = key[slip.task]
            if isinstance(right, float):
                half_width = family.task(slip.task).kind.tolerance.half_width(right)
                assert not [each for each in said if abs(each - abs(right)) <= half_width], (slip.task, slip.id)


def test_feedback_never_names_the_right_wording(family):
    """Of a wording it does not quote an option as it stands, nor its letter."""
    for slip in family.misconceptions:
        kind = family.task(slip.task).kind
        for label, option in kind.labelled() if hasattr(kind, "labelled") else ():
            assert len(option.text) < 12 or option.text.rstrip(".").lower() not in slip.feedback.lower()
            assert not re.search(rf"\b(?:option|answer|letter) {re.escape(label)}\b", slip.feedback)


def test_pages_to_revisit_lead_somewhere(family):
    for page in {family.module_page, *(t.page for t in family.tasks), *(m.page for m in family.misconceptions)}:
        file, _, anchor = page.partition("#")
        text = (BOOK / f"{file}.md").read_text(encoding="utf-8")
        assert not anchor or f"({anchor})=" in text, page
        assert f"file: {file}" in (BOOK / "_toc.yml").read_text(encoding="utf-8"), page


def test_each_family_is_worked_once_by_hand(family):
    """Its own test file reckons every task that the program marks, apart from the family's code."""
    file = HERE / f"test_{family.name.replace('-', '_')}.py"
    spec = importlib.util.spec_from_file_location(f"by_hand_{file.stem}", file)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    worked = [value for name, value in vars(module).items() if name.startswith("BY_") and isinstance(value, dict)]
    wanted = {task.id for task in family.tasks if not task.by_hand}
    assert [each for each in worked if set(each) == wanted], f"{file.name}: BY_AWK or BY_HAND lacks a task"
    assert "key_values" in file.read_text(encoding="utf-8")
