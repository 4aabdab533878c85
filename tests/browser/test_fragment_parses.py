"""A browser's parser finds nothing to mend in a bench's fragment."""

from html.parser import HTMLParser

import pytest

from pedalwright_bench.bench import bench, bench_names
from pedalwright_bench.static import static

VOID = {"img", "input", "source"}
# Made before a browser runs: reading sources as syntax trees inside its event loop trips over an interpreter's bug.
FRAGMENTS = {name: static(bench(name)).html for name in bench_names()}


class Outline(HTMLParser):
    def __init__(self):
        super().__init__()
        self.depth, self.lines = 0, []

    def handle_starttag(self, tag, attrs):
        self.lines.append(f"{self.depth}{tag}")
        self.depth += tag not in VOID

    def handle_endtag(self, tag):
        self.depth -= 1


@pytest.mark.parametrize("name", FRAGMENTS)
def test_the_browser_mends_nothing(browser, name):
    html = FRAGMENTS[name]
    outline = Outline()
    outline.feed(html)
    page = browser.new_page()
    parsed = page.evaluate(
        """html => {
          const template = document.createElement("template");
          template.innerHTML = html;
          const lines = [];
          const walk = (node, depth) => {
            for (const child of node.children) {
              lines.push(depth + child.localName);
              walk(child, depth + 1);
            }
          };
          walk(template.content, 0);
          return lines;
        }""",
        html,
    )
    page.close()
    assert parsed == outline.lines
