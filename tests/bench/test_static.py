"""The fragment of a page: well formed, labelled, and with every sentence it can show."""

import json
import re
from html.parser import HTMLParser

import pytest
from bs4 import BeautifulSoup

from pedalwright_bench.bench import bench, bench_names
from pedalwright_bench.static import static

VOID = {"img", "input", "source", "br", "meta", "link"}
PHRASE_ONLY = {"p", "span", "label", "legend", "summary", "dt", "output", "button"}
BLOCKS = {"div", "p", "figure", "fieldset", "details", "dl", "dd", "dt", "picture", "table", "ul", "ol"}


class Strict(HTMLParser):
    """Complains where a browser would silently mend."""

    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.open, self.faults = [], []

    def handle_starttag(self, tag, attrs):
        names = [name for name, _ in attrs]
        self.faults += [f"{tag}: {name} twice" for name in set(names) if names.count(name) > 1]
        if tag in BLOCKS and (outer := set(self.open) & PHRASE_ONLY) and tag != "picture":
            self.faults.append(f"{tag} inside {outer}")
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.faults.append(f"</{tag}> closes nothing")


@pytest.fixture(params=bench_names())
def found(request):
    return bench(request.param)


@pytest.fixture
def soup(found):
    return BeautifulSoup(static(found).html, "html.parser")


def test_the_fragment_is_well_formed(found):
    parser = Strict()
    parser.feed(static(found).html)
    parser.close()
    assert parser.faults == []
    assert parser.open == []


def test_ids_are_unique_and_every_control_has_a_label(soup):
    ids = [tag["id"] for tag in soup.find_all(id=True)]
    assert len(ids) == len(set(ids))
    for control in soup.find_all("input", type="range"):
        assert soup.find("label", attrs={"for": control["id"]}).get_text(strip=True)
        assert control["aria-valuetext"]
    assert all(radio.find_parent("label") for radio in soup.find_all("input", type="radio"))
    assert len({radio["name"] for radio in soup.find_all("input", type="radio")}) == 1
    assert all(button["type"] == "button" for button in soup.find_all("button"))


def test_the_picture_states_its_result(found, soup):
    sentence = found.say(found.at(*found.defaults))
    image = soup.find("img")
    assert image["alt"] == soup.find("output").get_text() == sentence
    assert soup.find("output")["aria-live"] == "polite"
    assert (image["width"], image["height"]) == ("1280", "800")
    narrow = soup.find("source")
    assert (narrow["media"], narrow["width"], narrow["height"]) == ("(max-width: 600px)", "780", "1300")
    key = "-".join(str(s.middle) for s in found.sliders)
    assert re.fullmatch(rf"_static/benches/{found.name}/wide/{key}\.webp\?v=[0-9a-f]{{8}}", image["src"])
    assert narrow["srcset"] == image["src"].replace("wide", "narrow")


def test_every_state_has_its_own_sentence_in_order(found, soup):
    data = json.loads(soup.find("script", class_="bench-data").string)
    assert data["sentences"] == [found.say(found.at(*values)) for _, values in found.states()]
    assert len(set(data["sentences"])) == len(data["sentences"])
    assert [s["said"] for s in data["sliders"]] == [[s.say(v) for v in s.values] for s in found.sliders]
    assert [s["start"] for s in data["sliders"]] == [s.middle for s in found.sliders]


def test_sliders_take_the_values_that_frames_were_drawn_for(found, soup):
    for control, slider in zip(soup.find_all("input", type="range"), found.sliders, strict=True):
        low, high, step = (float(control[name]) for name in ("min", "max", "step"))
        assert round((high - low) / step) + 1 == len(slider.values)
        assert (low, high, float(control["value"])) == (slider.start, slider.stop, slider.default)


def test_text_is_escaped_and_the_data_cannot_end_the_script(tiny):
    html = static(bench("tiny-square")).html
    assert "A &lt;square&gt; &amp; its side" in html
    assert "Everything &lt;/script&gt; there is." in html
    assert html.count("</script>") == 1
    data = json.loads(BeautifulSoup(html, "html.parser").find("script").string)
    assert data["sentences"][0] == "Side 1\N{NO-BREAK SPACE}mm & area 1\N{NO-BREAK SPACE}mm², lifted 0."


def test_another_folder_of_frames_can_be_named(tiny):
    assert 'src="../pictures/tiny-square/wide/1-0.webp' in static(bench("tiny-square"), "../pictures").html


def test_the_fragment_is_light(found):
    assert len(static(found).html.encode()) < 120_000
