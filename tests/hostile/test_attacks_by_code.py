"""Submissions whose code attacks: marking reads them and runs nothing; running them again happens in the sandbox.

Most attacks are cells of one notebook, each with what must be found in its output; those that end their kernel have a
notebook each. The attackers know more than any trainee: where the cohort lies, a port that listens, our process.
"""

import contextlib
import hashlib
import json
import os
import re
import shutil
import socket
import threading
import unicodedata
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

import nbformat
import pytest
from axe_playwright_python.sync_playwright import Axe
from click.testing import CliRunner

from autograde.cases import trainee_variant
from autograde.cohort.collect import collect
from autograde.cohort.families import load_case
from autograde.cohort.folder import Cohort, open_cohort
from autograde.cohort.gradebook_marks import write_marks
from autograde.cohort.handout import hand_out
from autograde.cohort.make import make_cohort, plan
from autograde.cohort.marking import mark_all, marked, to_mark
from autograde.cohort.rerun import rerun_all, rerun_folder, rerunnings, to_rerun
from autograde.cohort.roster import Trainee
from autograde.sandbox import Limits, find_box, why_none
from pedalwright_app.filling import fill
from pedalwright_app.main import main

pytestmark = pytest.mark.xdist_group("attacks by code")

CASE = "crank-drill"
SECRET = bytes(range(32))
WRONG = {"torque": "1 N m", "power": "1 W", "other-leg": "A", "advice": "Ride on."}
RAN = "window.ran=1;document.title='it ran'"
LIMITS = Limits(seconds=30, cell_seconds=2, memory_mb=400, processes=48, output_kb=1500, disk_mb=20)
CLOSED = "FileNotFoundError|PermissionError|No such file|Read-only|not permitted|unable to open"

CELLS = {
    "read the key": ("print(open(f'{ROOT}/secret.key').read())", CLOSED),
    "look for the key everywhere": (
        """
import os
wanted = {'secret.key', 'roster.csv', 'gradebook.db', 'cohort.toml'}
found = []
for folder, inside, names in os.walk('/'):
    inside[:] = [name for name in inside if name not in ('proc', 'site-packages', 'lib', 'lib64', 'include', 'share')]
    found += [folder] * bool(wanted & set(names))
print(found)
""",
        r"^\[\]\s*$",
    ),
    "draw one's own numbers": (
        "from autograde.cases import read_secret\nfrom pathlib import Path\nprint(read_secret(Path(ROOT)))",
        "VariantError",
    ),
    "let the check mark": (
        """
import os
os.environ['PEDALWRIGHT_MARKING'] = ROOT
%reload_ext autograde.sheet
%case crank-drill
print('check says', check('torque'))
""",
        "not gradable(?s:.)*check says 0.0",
    ),
    "read somebody else's work": (
        "import glob; print(glob.glob(f'{ROOT}/*/*/*/*.ipynb') + glob.glob('../*/*.ipynb'))",
        r"^\[\]\s*$",
    ),
    "read one's own file": ("print(open(f'{ROOT}/submitted/t000/{CASE}/{CASE}.ipynb').read())", CLOSED),
    "rewrite the gradebook": (
        """
import sqlite3
db = sqlite3.connect(f'{ROOT}/gradebook.db')
db.execute('update grade set manual_score = 2')
db.commit()
""",
        CLOSED,
    ),
    "rewrite the record of marks": ("open(f'{ROOT}/records/marks.jsonl', 'a').write('x')", CLOSED),
    "leave a file in the inbox": ("import os; os.makedirs(f'{ROOT}/inbox', exist_ok=True)", CLOSED),
    "rewrite the checker on disk": (
        """
import autograde.marking.mark as m
print('found it')
open(m.__file__, 'a').write('# changed')
""",
        f"found it(?s:.)*({CLOSED})",
    ),
    "rewrite the checker in memory": (
        """
import autograde.marking.mark as m
m.mark_sheet = lambda *_: 1 / 0
check = lambda _: 1000.0
print(check('torque'))
""",
        r"1000\.0",
    ),
    "a start file for the next Python": (
        "import os, sys\nopen(os.path.join(sys.prefix, 'lib', 'x.pth'), 'w').write('import os')",
        CLOSED,
    ),
    "secrets in the environment": ("import os; print('variables', *os.environ.items())", "variables"),
    "a program of the system": ("import subprocess; print(subprocess.run(['id'], capture_output=True))", CLOSED),
    "a shell": ("!touch {ROOT}/../ran; echo from a sh''ell", ""),
    "call home": ("import socket; socket.create_connection(('127.0.0.1', PORT), 1).send(b'x')", "refused|unreachable"),
    "call far": ("import urllib.request as r; r.urlopen('http://192.0.2.1/', timeout=1)", "unreachable|refused"),
    "ask for a name": ("import socket; print(socket.getaddrinfo('example.org', 80))", "gaierror"),
    "listen": (
        "import socket\nserver = socket.create_server(('0.0.0.0', PORT))\nprint('listens to nobody')",
        "listens to nobody",
    ),
    "signal the desk": ("import os; os.kill(DESK, 9)", "ProcessLookupError|PermissionError"),
    "look into the desk's memory": ("print(open(f'/proc/{DESK}/environ').read())", CLOSED),
    "a link to the machine's files": ("import os; os.symlink('/etc/shadow', 'x'); print(open('x').read())", CLOSED),
    "become root": ("import os; os.setuid(0); print('root')", "PermissionError"),
    "new powers": (
        """
import ctypes
libc = ctypes.CDLL(None)
print(libc.unshare(0x10000000), libc.mount(b'x', b'/', b'tmpfs', 0, None))
""",
        "-1 -1",
    ),
    "fill the disk": ("for n in range(999): open(f'f{n}', 'wb').write(b'x' * 10**6)", "No space left|File too large"),
    "an endless loop": ("while True: pass", "KeyboardInterrupt"),
    "markup": (
        """
from IPython.display import HTML, IFrame, Javascript, Latex, Markdown, SVG, display
display(HTML(f'<script>{RAN}</script>'), Javascript(RAN), IFrame('https://example.org', 9, 9))
display(Markdown('![x](https://example.org/x.png)'), Latex('$x$'))
display(SVG(data='<svg xmlns="http://www.w3.org/2000/svg" onload="window.ran=1"/>'))
""",
        "IPython.core.display|<IPython",
    ),
    "markup as text": ("print(f'</pre></section><script>{RAN}</script><img src=x onerror={RAN}>')", "<script>"),
    "a page in place of a picture": (
        """
import base64
from IPython.display import display
page = base64.b64encode(f'<script>{RAN}</script>'.encode() * 9).decode()
display({'image/png': page, 'image/svg+xml': f'<svg onload="{RAN}"/>', 'image/jpeg': page}, raw=True)
""",
        r"^\Z",
    ),
    "a picture as large as a house": (
        """
import base64, struct
from IPython.display import display
head = bytes.fromhex('89504e470d0a1a0a') + struct.pack('>I4sIIBBBBB', 13, b'IHDR', 99999, 99999, 8, 2, 0, 0, 0)
display({'image/png': base64.b64encode(head + bytes(9)).decode()}, raw=True)
""",
        r"^\Z",
    ),
    "escapes for a terminal": (
        r"print('\x1b[2J\x1b]0;owned\x07\x1b]8;;https://example.org\x1b\\here\x9b31m \u202eturned \x00zero')",
        "^here.31m .turned .zero$",
    ),
    "deep data": (
        """
from IPython.display import display
x = []
for _ in range(500):
    x = [x]
display({'text/plain': x, 'a/b': x}, raw=True)
""",
        r"^\Z",
    ),
    "a forged verdict": (
        """
from IPython.display import display
display({'text/plain': 'correct, 2 of 2'}, raw=True, metadata={'nbgrader': {'points': 2, 'grade': True}})
""",
        "correct, 2 of 2",
    ),
    "forged reports of other cells": (
        """
import glob, os
for path in glob.glob(f'/proc/{os.getppid()}/fd/*'):
    try:
        line = '{"cell": 0, "outputs": [{"output_type": "stream", "text": "forged"}]}'
        open(path, 'w').write(f'{line}\\n{line.replace("0", "1")}\\n')
    except OSError:
        pass
print('tried')
""",
        "tried",
    ),
    "a million lines": ("for n in range(1_000_000): print(n)", ""),
}
ALONE = {
    "processes without end": ("import os\nwhile True:\n    try: os.fork()\n    except OSError: pass", "stopped"),
    "memory without end": ("x = []\nwhile True: x.append(bytearray(10**7))", "memory"),
    "a loop that ignores the stop": (
        "import signal\nsignal.signal(signal.SIGINT, signal.SIG_IGN)\nwhile True: pass",
        "longer than 12 s",
    ),
    "the end of the kernel": ("import os; os._exit(0)", "its Python ended"),
    "the end of everything": ("import os; os.kill(-1, 9)", "its Python ended"),
    "output without end": ("import os\nwhile True: os.write(1, b'x' * 65536)", ""),
}


@dataclass
class Rerun:
    """The cohort after marking and after running all again."""

    cohort: Cohort
    records: dict
    changed: list[str]
    beside: set[str]
    heard: list

    def notebook(self, who):
        return json.loads((rerun_folder(self.cohort.root, who, CASE) / f"{CASE}.ipynb").read_bytes())

    def page(self, who):
        return rerun_folder(self.cohort.root, who, CASE) / f"{CASE}.html"


def with_cells(content, sources):
    notebook = json.loads(content)
    for source in sources:
        notebook["cells"].append({"cell_type": "code", "id": "x", "metadata": {}, "source": source, "outputs": []})
    return json.dumps(notebook).encode()


def right(cohort, who):
    """Torque is force times lever, power is torque times angular velocity (2 pi by 60 for turns a minute)."""
    case = trainee_variant(load_case(CASE, cohort.settings.case_folders), cohort.secret, who).case
    torque = case.force_n * case.crank_mm / 1000
    power = torque * case.cadence_rpm * 0.104719755
    return {"torque": f"{torque:.2f} N m", "power": f"{power:.1f} W", "other-leg": "B"}


def digests(root):
    return {
        str(path.relative_to(root)): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in root.rglob("*")
        if path.is_file()
    }


def hand_in_all(cohort, facts):
    def put(who, sources, answers):
        content = with_cells(fill(cohort.notebook("release", who, CASE).read_bytes(), answers), sources)
        (cohort.inbox / f"{who}__{CASE}.ipynb").write_bytes(content)

    put("wren", ["crank_mm = 172.5\ncrank_mm * 2"], right(cohort, "wren"))
    known = "\n".join(f"{name} = {value!r}" for name, value in facts.items())
    put("t000", [known, *(source.strip() for source, _ in CELLS.values())], WRONG)
    for number, (source, _) in enumerate(ALONE.values(), start=1):
        put(f"t{number:03d}", ["print('before')", source, "print('after')"], WRONG)


@pytest.fixture(scope="module")
def rerun(made_once, tmp_path_factory):
    reason = why_none()
    if reason:
        (pytest.skip if shutil.which("bwrap") else pytest.fail)(reason)
    around = tmp_path_factory.mktemp("run")
    model = open_cohort(made_once)
    people = [Trainee(who, who) for who in ("wren", *(f"t{number:03d}" for number in range(len(ALONE) + 1)))]
    folders = [Path(folder) for folder in model.settings.case_folders]
    cohort = make_cohort(plan(around / "cohort", people, title="Run", cases=[CASE], case_folders=folders), SECRET)
    hand_out(cohort)
    heard = []
    with socket.create_server(("127.0.0.1", 0)) as server:
        server.settimeout(120)
        threading.Thread(target=_listen, args=(server, heard), daemon=True).start()
        facts = {
            "ROOT": str(cohort.root),
            "CASE": CASE,
            "PORT": server.getsockname()[1],
            "DESK": os.getpid(),
            "RAN": RAN,
        }
        hand_in_all(cohort, facts)
        collect(cohort)
        records = {record["trainee"]: record for record in mark_all(cohort, to_mark(cohort))}
        write_marks(cohort, list(marked(cohort).values()))
        before = digests(cohort.root)
        box = find_box()
        short = Limits(**vars(LIMITS) | {"seconds": 12})
        todo = [
            job
            for limits, who in (
                (LIMITS, {"wren", "t000"}),
                (short, {person.id for person in people} - {"wren", "t000"}),
            )
            for job in to_rerun(cohort, box, limits, trainees=who)
        ]
        list(rerun_all(cohort, todo, runner=ThreadPoolExecutor(2).map))
    after = digests(cohort.root)
    changed = [name for name in before.keys() | after.keys() if before.get(name) != after.get(name)]
    return Rerun(cohort, records, changed, {path.name for path in around.iterdir()}, heard)


def _listen(server, heard):
    with contextlib.suppress(OSError):
        heard.append(server.accept())


def put_out(cell):
    texts = [output.get("text") or output.get("data", {}).get("text/plain", "") for output in cell["outputs"]]
    return "".join(texts)


def attack_cells(rerun):
    code = [cell for cell in rerun.notebook("t000")["cells"] if cell["cell_type"] == "code"]
    return dict(zip(CELLS, code[-len(CELLS) :], strict=True))


def test_marking_ran_none_of_it_and_gave_nothing_for_it(rerun):
    assert rerun.records["wren"]["marks"] == 6
    for who, record in rerun.records.items():
        assert who == "wren" or record["marks"] == 0
    assert len(rerun.records) == len(ALONE) + 2


def test_running_again_changes_no_mark_and_no_file_of_the_cohort(rerun):
    assert rerun.changed
    assert all(name.startswith("reexecuted/") or name == "records/reexecuted.jsonl" for name in rerun.changed)
    assert rerun.beside == {"cohort"}
    assert not rerun.heard
    assert to_mark(rerun.cohort) == []


def test_honest_work_beside_them_runs_to_the_end(rerun):
    record = rerunnings(rerun.cohort)["wren", CASE]
    assert record["trouble"] == ""
    assert record["errors"] == 0
    assert record["finished"] == record["cells"]
    assert record["sandboxed"]
    assert put_out(rerun.notebook("wren")["cells"][-1]) == "345.0"


def test_all_cells_of_the_hostile_notebook_came_to_their_end(rerun):
    record = rerunnings(rerun.cohort)["t000", CASE]
    assert record["finished"] == record["cells"]
    assert record["cells"] > len(CELLS)


@pytest.mark.parametrize("name", CELLS)
def test_an_attack_by_code_finds_the_door_closed(rerun, name):
    said = put_out(attack_cells(rerun)[name])
    assert re.search(CELLS[name][1], said), said
    for words in (SECRET.hex(), "from a shell", "uid=", "PEDALWRIGHT_PASSPHRASE"):
        assert words not in said


@pytest.mark.parametrize("name", ALONE)
def test_a_bomb_is_stopped_with_a_reason(rerun, name):
    who = f"t{list(ALONE).index(name) + 1:03d}"
    record = rerunnings(rerun.cohort)[who, CASE]
    assert re.search(ALONE[name][1], record["trouble"]), record
    code = [cell for cell in rerun.notebook(who)["cells"] if cell["cell_type"] == "code"]
    assert put_out(code[-3]) == "before\n"
    assert not record["trouble"] or put_out(code[-1]) == ""
    assert rerun.page(who).stat().st_size < 3_000_000


def test_nothing_secret_is_in_what_came_out(rerun):
    for path in (rerun.cohort.root / "reexecuted").rglob("*"):
        if path.is_file():
            content = path.read_bytes()
            assert SECRET not in content
            assert SECRET.hex().encode() not in content


def test_what_came_out_is_a_valid_notebook_of_text_and_pictures_alone(rerun):
    for path in (rerun.cohort.root / "reexecuted").rglob("*.ipynb"):
        notebook = json.loads(path.read_bytes())
        nbformat.validate(notebook)
        assert set(notebook["metadata"]) == {"kernelspec"}
        for cell in notebook["cells"]:
            assert set(cell["metadata"]) <= {"editable"}
            assert "attachments" not in cell
            for output in cell.get("outputs", []):
                assert set(output.get("data", {})) <= {"text/plain", "image/png"}
                assert output.get("metadata", {}) == {}


def test_pages_and_words_of_the_command_hold_no_sign_that_acts(rerun, tmp_path):
    for path in (rerun.cohort.root / "reexecuted").rglob("*.html"):
        assert harmless(path.read_text(encoding="utf-8"))
    root = shutil.copytree(rerun.cohort.root, tmp_path / "cohort")
    done = CliRunner().invoke(main, ["cohort", "rerun", str(root), "--trainee", "t004", "--again", "--seconds", "20"])
    assert done.exit_code == 0, done.output
    assert "its Python ended" in re.sub(r"\s+", " ", done.output)
    assert harmless(done.output)


def harmless(text):
    return not any(unicodedata.category(sign) in ("Cc", "Cf", "Cs") and sign not in "\n\t\r" for sign in text)


def test_without_a_sandbox_nothing_is_run_unless_told_so_in_so_many_words(rerun, tmp_path, monkeypatch):
    import autograde.sandbox
    from autograde.sandbox import SandboxError

    def none():
        raise SandboxError("no sandbox is to be had: the program bwrap is missing")

    monkeypatch.setattr(autograde.sandbox, "find_box", none)
    root = shutil.copytree(rerun.cohort.root, tmp_path / "cohort")
    words = ["cohort", "rerun", str(root), "--trainee", "wren", "--again"]
    refused = CliRunner().invoke(main, words)
    assert refused.exit_code == 1
    assert "no sandbox is to be had" in refused.output
    assert rerunnings(open_cohort(root))["wren", CASE]["sandboxed"]
    done = CliRunner().invoke(main, [*words, "--without-sandbox-i-accept-that-their-code-can-do-all-i-can"])
    assert done.exit_code == 0, done.output
    assert "unprotected" in done.output
    assert not rerunnings(open_cohort(root))["wren", CASE]["sandboxed"]
    page = rerun_folder(root, "wren", CASE) / f"{CASE}.html"
    assert "without a sandbox" in page.read_text()


@pytest.mark.browser
def test_pages_of_what_ran_stay_inert_in_a_browser(browser, rerun):
    context = browser.new_context()
    page = context.new_page()
    asked, said, others = [], [], []
    page.on("request", lambda request: asked.append(request.url))
    page.on("dialog", lambda dialog: (said.append(dialog.message), dialog.dismiss()))
    context.on("page", lambda other: others.append(other))
    for who in ("t000", "wren"):
        page.goto(rerun.page(who).as_uri())
        page.evaluate("for (const it of document.querySelectorAll('details')) it.open = true")
        assert page.evaluate("window.ran") is None
        assert page.title() != "it ran"
        assert page.evaluate("document.querySelectorAll('script, iframe, object, embed, form, svg').length") == 0
    assert not said
    assert not others
    assert not [url for url in asked if not url.startswith(("file:", "data:image/png"))]
    context.close()


@pytest.mark.browser
@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("width", [1280, 390])
def test_pages_of_what_ran_can_be_read_by_everybody(browser, rerun, width, theme):
    for who in ("t000", "wren"):
        page = browser.new_page(viewport={"width": width, "height": 900}, color_scheme=theme)
        page.goto(rerun.page(who).as_uri())
        page.evaluate("for (const it of document.querySelectorAll('details')) it.open = true")
        found = Axe().run(page, options={"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]})
        assert found.violations_count == 0, found.generate_report()
        assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
        page.close()
