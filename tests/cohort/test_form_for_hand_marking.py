"""nbgrader's own form for hand marking opens the cohort folder: what is typed there reaches our report."""

import os
import re
import socket
import subprocess
import sys
import time
import urllib.request

import pytest
from nbgrader.api import Gradebook

from autograde.cohort.collect import collect
from autograde.cohort.feedback import write_feedback
from autograde.cohort.gradebook_marks import write_marks
from autograde.cohort.marking import mark_all, marked, to_mark
from autograde.cohort.report import write_report
from autograde.cohort.standing import BY_PERSON, WAITING, standing
from pedalwright_app.filling import fill

pytestmark = [pytest.mark.browser, pytest.mark.xdist_group("browser")]

CASE = "crank-drill"
ADVICE = (
    "The number has limits. <b>Refer</b> when it hurts. <script>window.ran = 1</script><img src=x onerror='ran = 1'>"
)
COMMENT = "Say who is referred, and to whom."


def written(cohort):
    stand = standing(cohort)
    write_feedback(stand)
    write_report(cohort, stand)
    return {outcome.task.id: outcome for outcome in stand.sheets["wren", CASE].outcomes}


@pytest.fixture
def waiting(cohort):
    content = fill(
        cohort.notebook("release", "wren", CASE).read_bytes(),
        {"torque": "<img src=x onerror='ran=1'>", "advice": ADVICE},
    )
    (cohort.inbox / f"wren__{CASE}.ipynb").write_bytes(content)
    collect(cohort)
    list(mark_all(cohort, to_mark(cohort)))
    write_marks(cohort, list(marked(cohort).values()))
    assert written(cohort)["advice"].state == WAITING
    return cohort


@pytest.fixture
def form(waiting, tmp_path):
    """A notebook server on a free port with nbgrader's form, started in the cohort folder as an instructor would."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    own = {f"JUPYTER_{kind}_DIR": str(tmp_path / kind.lower()) for kind in ("CONFIG", "DATA", "RUNTIME")}
    extensions = {"nbgrader.server_extensions.formgrader": True}
    extensions |= dict.fromkeys(
        ("jupyterlab", "notebook", "jupyter_lsp", "jupytext", "jupyter_server_terminals"), False
    )
    words = [sys.executable, "-m", "jupyter_server", "--no-browser", "--allow-root", f"--port={port}"]
    words += ["--ip=127.0.0.1", "--ServerApp.port_retries=0", "--IdentityProvider.token=", "--ServerApp.password="]
    words += [f"--ServerApp.jpserver_extensions={extensions}", f"--ServerApp.root_dir={waiting.root}"]
    log = tmp_path / "server.log"
    with log.open("wb") as stream:
        server = subprocess.Popen(
            words, cwd=waiting.root, env={**os.environ, **own, "HOME": str(tmp_path)}, stdout=stream, stderr=stream
        )
    address = f"http://127.0.0.1:{port}"
    try:
        _wait_for(f"{address}/formgrader/api/assignments", server, log)
        yield address
    finally:
        server.terminate()
        server.wait(timeout=20)


def _wait_for(address, server, log):
    deadline = time.monotonic() + 60
    while time.monotonic() < deadline and server.poll() is None:
        try:
            with urllib.request.urlopen(address, timeout=5):
                return
        except OSError:
            time.sleep(0.2)
    pytest.fail(f"the notebook server did not answer: {log.read_text()[-2000:]}")


def test_a_score_and_a_comment_typed_in_the_form_reach_gradebook_report_and_feedback(browser, form, waiting):
    with Gradebook(waiting.db_url, waiting.settings.course_id) as gradebook:
        submission = gradebook.find_submission_notebook(CASE, CASE, "wren").id
    page = browser.new_page()
    page.route(re.compile(r"^https?://(?!127\.0\.0\.1)"), lambda route: route.abort())  # its formulas' script
    page.goto(f"{form}/formgrader/gradebook/{CASE}/{CASE}")
    page.locator(f"a[href*='{submission}']").first.wait_for()
    page.goto(f"{form}/formgrader/submissions/{submission}/?index=0")
    page.wait_for_function("formgrader.grades && formgrader.grades.loaded && formgrader.comments.loaded")
    assert page.locator("text=Refer").first.is_visible()
    assert page.locator("b", has_text="Refer").count() == 0
    assert page.evaluate("window.ran") is None
    score = page.locator("#words-advice")
    score.fill("1.5")
    with page.expect_response(re.compile("/formgrader/api/grade/")) as saved:
        score.press("Tab")
    assert saved.value.ok
    comment = page.locator("#words-advice-comment")
    comment.fill(COMMENT)
    with page.expect_response(re.compile("/formgrader/api/comment/")) as saved:
        comment.press("Tab")
    assert saved.value.ok
    page.close()

    with Gradebook(waiting.db_url, waiting.settings.course_id) as gradebook:
        grade = gradebook.find_grade("words-advice", CASE, CASE, "wren")
        assert grade.manual_score == 1.5
        assert not grade.needs_manual_grade
        assert gradebook.find_comment("words-advice", CASE, CASE, "wren").manual_comment == COMMENT
        assert gradebook.find_grade("check-torque", CASE, CASE, "wren").needs_manual_grade
    outcome = written(waiting)["advice"]
    assert (outcome.state, outcome.marks, outcome.comment) == (BY_PERSON, 1.5, COMMENT)
    assert COMMENT in waiting.feedback("wren", CASE).read_text()
    assert "marked by a person" in (waiting.report / "answers.csv").read_text()


def test_nbgraders_own_feedback_of_hostile_work_stays_inert(browser, waiting, tmp_path):
    words = [sys.executable, "-m", "nbgrader", "generate_feedback", CASE, "--force"]
    done = subprocess.run(
        words, cwd=waiting.root, env={**os.environ, "HOME": str(tmp_path)}, capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr
    page = browser.new_page()
    page.route(re.compile("^https?://"), lambda route: route.abort())
    page.goto(waiting.feedback("wren", CASE).as_uri())
    assert page.get_by_text("Refer", exact=False).first.is_visible()
    assert page.evaluate("[window.ran, document.querySelectorAll('img[src=x]').length]") == [None, 0]
    page.close()
