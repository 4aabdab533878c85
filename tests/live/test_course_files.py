"""What the course server sends: signed in, from the book's folder only, with types, policy and caching that fit."""

import base64
import hashlib
import http.client
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from pedalwright_app.course.pages import SCRIPT, STYLE, made_live, policy


class Line:
    """A plain connection that changes nothing of the path it is given."""

    def __init__(self, course, token=True):
        self.course, self.token = course, token

    def get(self, path, method="GET", **headers):
        connection = http.client.HTTPConnection("127.0.0.1", self.course.port, timeout=10)
        if self.token:
            headers["Authorization"] = f"token {self.course.token}"
        connection.request(method, path, headers=headers)
        reply = connection.getresponse()
        reply.text = reply.read()
        connection.close()
        return reply


@pytest.fixture(scope="module")
def line(course):
    return Line(course)


@pytest.mark.parametrize(
    ("file", "kind"),
    [
        ("", "text/html; charset=utf-8"),
        ("lever-tangency.html", "text/html; charset=utf-8"),
        (STYLE, "text/css; charset=utf-8"),
        (SCRIPT, "text/javascript; charset=utf-8"),
        ("_static/mark.svg", "image/svg+xml"),
        ("_static/benches/wedge/wide/0-0-0.webp", "image/webp"),
    ],
)
def test_files_come_with_their_type(line, file, kind):
    reply = line.get(f"/course/{file}")
    assert (reply.status, reply.headers["Content-Type"]) == (200, kind)
    assert reply.headers["X-Content-Type-Options"] == "nosniff"
    assert reply.headers["Referrer-Policy"] == "same-origin"
    head = line.get(f"/course/{file}", "HEAD")
    assert (head.status, head.text, head.headers["Content-Length"]) == (200, b"", reply.headers["Content-Length"])


def test_without_signing_in_there_is_nothing_but_fonts(course, book_folder):
    stranger = Line(course, token=False)
    for path in ("", "index.html", SCRIPT, "_static/benches/wedge/wide/0-0-0.webp"):
        reply = stranger.get(f"/course/{path}")
        assert reply.status == 302
        assert "/login" in reply.headers["Location"]
    assert stranger.get("/course/live/state").status == 403
    font = next((book_folder / "_static").rglob("*.woff2")).relative_to(book_folder)
    assert stranger.get(f"/course/{font}").headers["Content-Type"] == "font/woff2"


@pytest.mark.parametrize(
    "path",
    [
        "/course/../pyproject.toml",
        "/course/..%2f..%2f..%2fpyproject.toml",
        "/course/%2e%2e/%2e%2e/pyproject.toml",
        "/course/_static/../../../../pyproject.toml",
        "/course/_static/%2e%2e/%2e%2e/x.woff2",
        "/course//etc/passwd",
        "/course/%2fetc%2fpasswd",
        "/course/.buildinfo",
        "/course/_static/..\\..\\x",
        "/course/no-such-page.html",
        "/course/%00",
    ],
)
@pytest.mark.parametrize("token", [True, False])
def test_nothing_outside_the_book_is_sent(course, path, token):
    reply = Line(course, token).get(path)
    assert reply.status in ({302, 400, 403, 404} if not token else {400, 403, 404})
    assert b"hatchling" not in reply.text
    assert b"root:" not in reply.text


def test_a_link_out_of_the_book_is_not_followed(new_course, book_folder, tmp_path):
    folder = tmp_path / "book"
    folder.mkdir()
    (folder / "index.html").write_text("<html><body>A book</body></html>")
    (tmp_path / "secret.txt").write_text("secret")
    (folder / "link.txt").symlink_to(tmp_path / "secret.txt")
    course = new_course("--book", str(folder))
    line = Line(course)
    assert b"A book" in line.get("/course/").text
    reply = line.get("/course/link.txt")
    assert reply.status in {403, 404}
    assert b"secret" not in reply.text
    assert b"This page is not in the book." in reply.text


def test_a_page_may_reach_no_other_origin(line, course):
    rules = line.get("/course/lever-tangency.html").headers["Content-Security-Policy"].split("; ")
    assert rules[0] == "default-src 'none'"
    words = {word for rule in rules for word in rule.split()[1:]}
    own = {f"ws://127.0.0.1:{course.port}", f"wss://127.0.0.1:{course.port}"}
    rest = {word for word in words - own if not word.startswith("'sha256-")}
    assert rest == {"'none'", "'self'", "'unsafe-inline'", "data:", "blob:"}
    assert not any("unsafe" in rule for rule in rules if not rule.startswith("style-src"))


class InlineScripts(HTMLParser):
    """Collects the code of inline scripts."""

    def __init__(self, html):
        super().__init__()
        self.found, self._open = [], False
        self.feed(html)

    def handle_starttag(self, tag, attrs):
        self._open = tag == "script" and not {"src", "type"} & {name for name, _ in attrs}

    def handle_data(self, data):
        if self._open:
            self.found.append(data)
            self._open = False


def test_every_inline_script_of_every_page_is_named_by_its_hash(book_folder):

    for page in book_folder.glob("*.html"):
        html = page.read_text(encoding="utf8")
        header = policy(made_live(html), "127.0.0.1:1")
        scripts = InlineScripts(html).found
        assert scripts
        for code in scripts:
            digest = base64.b64encode(hashlib.sha256(code.encode()).digest()).decode()
            assert f"'sha256-{digest}'" in header, page.name


def test_a_strange_host_is_kept_out_of_the_policy():
    assert "evil" not in policy("<p>", "x; script-src evil")


def test_the_live_script_comes_with_benches_and_the_search_and_only_there(line, book_folder):
    for page in book_folder.glob("*.html"):
        sent = line.get(f"/course/{page.name}").text.decode()
        built = page.read_text(encoding="utf8")
        assert SCRIPT not in built
        assert (SCRIPT in sent) == ('class="bench"' in built or page.name == "search.html")
        assert re.sub(r"<link[^>]*bench-live.css\"><script[^>]*bench-live.js\"></script>", "", sent) == built


def test_unchanged_files_are_not_sent_twice_and_named_ones_are_kept(line):
    page = line.get("/course/index.html")
    assert page.headers["Cache-Control"] == "private, no-cache"
    again = line.get("/course/index.html", **{"If-None-Match": page.headers["Etag"]})
    assert (again.status, again.text) == (304, b"")
    frame = line.get("/course/_static/benches/wedge/wide/0-0-0.webp?v=1a2b")
    assert "immutable" in frame.headers["Cache-Control"]
    assert line.get("/course/_static/benches/wedge/wide/0-0-0.webp").headers["Cache-Control"] == "private, no-cache"


def test_a_book_built_anew_is_sent_anew(new_course, tmp_path):
    (tmp_path / "index.html").write_text("<html><body>first</body></html>")
    course = new_course("--book", str(tmp_path))
    line = Line(course)
    first = line.get("/course/")
    (tmp_path / "index.html").write_text("<html><body>second one</body></html>")
    second = line.get("/course/", **{"If-None-Match": first.headers["Etag"]})
    assert (second.status, b"second one" in second.text) == (200, True)


def test_the_token_does_not_stay_in_the_address(course):
    reply = Line(course, token=False).get(f"/course/lever-tangency.html?token={course.token}&highlight=knee")
    assert (reply.status, reply.headers["Location"]) == (302, "/course/lever-tangency.html?highlight=knee")
    assert "username" in reply.headers["Set-Cookie"]
    assert Line(course).get("/course").headers["Location"] == "/course/"


def test_the_study_server_has_no_terminal_and_no_files_but_the_book(line, course):
    assert line.get("/api/terminals").status == 404
    listed = line.get("/api/contents").text
    assert b'"content": []' in listed
    assert not any(name in listed.decode() for name in ("pyproject", Path(__file__).parts[1]))
