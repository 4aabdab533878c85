import json

import nbformat
import pytest
from nbgrader.nbgraderformat import MetadataValidator
from nbgrader.utils import compute_checksum

from autograde.cases import practice_variant, render_brief, trainee_variant
from autograde.cases.variants import seed_of
from autograde.cohort.families import known_families, load_case
from autograde.cohort.handout import hand_out, handed_out
from autograde.cohort.notebook import as_bytes, build_notebook
from autograde.marking.solving import key_values

CASE = "crank-drill"


def test_a_handed_out_notebook_is_valid_for_the_format_and_for_nbgrader(cohort):
    for path in (cohort.notebook("release", "wren", CASE), cohort.source(CASE)):
        notebook = nbformat.read(path, as_version=4)
        nbformat.validate(notebook)
        MetadataValidator().validate_nb(notebook)
        for cell in notebook.cells:
            if "nbgrader" in cell.metadata:
                assert cell.metadata.nbgrader.checksum == compute_checksum(cell)


@pytest.mark.parametrize("name", sorted(known_families()) or ["none"])
def test_every_case_that_comes_with_the_program_makes_a_valid_notebook(name):
    family = known_families()[name]
    variant = practice_variant(family)
    notebook = nbformat.from_dict(build_notebook(family, render_brief(family, variant.case)))
    nbformat.validate(notebook)
    MetadataValidator().validate_nb(notebook)
    ids = [cell.metadata.nbgrader.grade_id for cell in notebook.cells if "nbgrader" in cell.metadata]
    for task in family.tasks:
        wanted = {f"words-{task.id}"} if task.by_hand else {f"answer-{task.id}", f"check-{task.id}"}
        assert wanted <= set(ids)
    assert sum(cell.metadata.get("nbgrader", {}).get("points", 0) for cell in notebook.cells) == family.max_marks


def test_source_and_hand_outs_share_their_answer_and_check_cells(cohort):
    def graded(path):
        cells = json.loads(path.read_bytes())["cells"]
        return [(c["metadata"]["nbgrader"], c["source"]) for c in cells if "nbgrader" in c["metadata"]]

    assert graded(cohort.source(CASE)) == graded(cohort.notebook("release", "heron", CASE))


def test_trainees_have_numbers_of_their_own_and_the_same_again(cohort):
    briefs = {who: cohort.notebook("release", who, CASE).read_text() for who in ("wren", "heron", "plover", "curlew")}
    numbers = {tuple(json.loads(text)["cells"][2]["source"].split()) for text in briefs.values()}
    assert len(numbers) > 1
    path = cohort.notebook("release", "wren", CASE)
    path.unlink()
    hand_out(cohort)
    assert path.read_text() == briefs["wren"]


def test_no_notebook_holds_key_seed_or_secret(cohort):
    family = load_case(CASE, cohort.settings.case_folders)
    for trainee in cohort.trainees:
        text = cohort.notebook("release", trainee.id, CASE).read_text()
        variant = trainee_variant(family, cohort.secret, trainee.id)
        key = key_values(family.tasks, variant.case)
        seed = seed_of(cohort.secret, trainee.id, CASE)
        shown = json.loads(text)
        prose = "".join(cell["source"] for cell in shown["cells"])
        for number in (key["torque"], key["power"]):
            for digits in range(3, 7):
                assert f"{number:.{digits}g}" not in prose
        for hidden in (seed.hex(), str(int.from_bytes(seed, "big")), cohort.secret.hex(), variant.fingerprint):
            assert hidden not in text
        assert str(cohort.root) not in text
        assert "metres-forgotten" not in text


def test_handing_out_again_writes_nothing_and_never_over_work_in_progress(cohort):
    path = cohort.notebook("release", "wren", CASE)
    before = path.read_bytes()
    path.write_bytes(before + b" ")
    lines = len(cohort.record("handed_out").read_text().splitlines())
    assert {item.what for item in hand_out(cohort)} == {"there already"}
    assert path.read_bytes() == before + b" "
    assert len(cohort.record("handed_out").read_text().splitlines()) == lines


def test_a_hand_out_killed_before_its_record_is_finished_by_the_next(cohort):
    cohort.record("handed_out").unlink()
    cohort.notebook("release", "heron", CASE).unlink()
    outcome = {item.trainee: item.what for item in hand_out(cohort)}
    assert outcome == {
        "wren": "there already",
        "heron": "written",
        "plover": "there already",
        "curlew": "there already",
    }
    assert len(handed_out(cohort)) == 4


def test_a_dry_run_writes_nothing(cohort):
    cohort.record("handed_out").unlink()
    path = cohort.notebook("release", "heron", CASE)
    path.unlink()
    assert any(item.what == "written" for item in hand_out(cohort, dry_run=True))
    assert not path.exists()
    assert not cohort.record("handed_out").exists()


def test_a_name_with_markup_stays_text_in_the_notebook(cohort):
    from autograde.cohort.notebook import markdown_text

    shown = markdown_text("<img src=x onerror=alert(1)> [a](javascript:b) $\\href{x}$ `c` **d**")
    assert "<" not in shown
    for sign in ("\\[a\\]", "\\$", "\\`c\\`", "\\*\\*d\\*\\*"):
        assert sign in shown


def test_the_same_notebook_is_written_byte_for_byte_the_same():
    family = next(iter(known_families().values()), None)
    if family is None:
        pytest.skip("no case comes with the program")
    case = practice_variant(family).case
    first, second = (as_bytes(build_notebook(family, render_brief(family, case))) for _ in range(2))
    assert first == second
