"""The glossary page lists every model with its label, and every question that sources answer differently."""

import pytest
from pedalwright_book.glossary import disagreement_lines, model_line

from pedalwright.disagreements import DISAGREEMENTS
from pedalwright.model_labels import MODEL_KINDS, LabelledFunction, labelled_functions


def section_id(kind: str) -> str:
    return {"measured law": "measured-laws"}.get(kind, f"{kind}s".replace(" ", "-"))


def test_line_of_a_model_names_function_module_other_labels_and_sources():
    model = LabelledFunction("knee.arm_mm", ("published regression", "teaching model"), "Arm.", ("im_2015",))
    assert model_line(model) == "- Arm. *In part: teaching model.* `arm_mm` of `knee` {cite:p}`im_2015`"
    assert model_line(LabelledFunction("a.b", ("convention",), "B.", ())) == "- B. `b` of `a`"


def test_lines_of_a_question_name_answers_default_and_reason():
    text = " ".join(disagreement_lines("thigh mass", DISAGREEMENTS["thigh mass"]))
    assert text.startswith("- **Thigh mass.**")
    for part in ("`winter_2009`", "unless you say otherwise: `de_leva_1996`", DISAGREEMENTS["thigh mass"].reason):
        assert part in text


@pytest.mark.parametrize("kind", MODEL_KINDS)
def test_page_lists_every_model_under_its_label(site, kind):
    section = site.pages["glossary.html"].find(id=section_id(kind))
    listed = {
        item.find_all("code")[-2].get_text() + " " + item.find_all("code")[-1].get_text() for item in section("li")
    }
    expected = {
        " ".join(reversed(one.name.split("."))) for one in labelled_functions().values() if one.kinds[:1] == (kind,)
    }
    assert listed == expected


def test_page_lists_every_question(site):
    text = site.text("glossary.html", "where-sources-disagree")
    assert all(one.question in text.replace("’", "'") for one in DISAGREEMENTS.values())
