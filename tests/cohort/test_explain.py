import pytest
from click.testing import CliRunner

from pedalwright import nomenclature
from pedalwright_app.main import main


def ask(*words):
    return CliRunner().invoke(main, ["explain", *words])


@pytest.mark.parametrize("words", [["knee_flexion_deg"], ["knee", "flexion"], ["Knee flexion"]])
def test_a_quantity_is_found_by_name_and_in_plain_words(words):
    said = ask(*words)
    assert said.exit_code == 0, said.output
    for wanted in ("knee_flexion_deg", "in °", "Sign:", "Evidence:", "wu_cavanagh_1995"):
        assert wanted in said.output


def test_every_quantity_is_listed_and_can_be_explained():
    listed = ask().output
    for name, entry in nomenclature.quantities().items():
        assert f"{name} " in listed
        assert entry.kind in ask(name).output


def test_an_unknown_quantity_ends_in_one_line_with_similar_names():
    said = ask("knee_flexon_deg")
    assert said.exit_code == 1
    assert "knee_flexion_deg" in said.output
    assert "Traceback" not in said.output
    assert "program itself failed" not in said.output
