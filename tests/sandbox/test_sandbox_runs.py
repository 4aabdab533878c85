"""What code in the sandbox can do, and all it cannot: each test runs a real kernel."""

import contextlib
import os
import re
import socket
import struct
import subprocess
import sys
import threading
import time
import zlib
from dataclasses import replace
from pathlib import Path

import pytest

from autograde.sandbox import Limits, SandboxError, run_cells

SHORT = Limits(seconds=30, cell_seconds=2, memory_mb=400, output_kb=100, disk_mb=20)
ROOT = Path(__file__).parents[2]


def printed(cell):
    return "".join(output.text for output in cell.outputs)


def test_cells_run_in_order_in_one_kernel_and_what_they_put_out_comes_back(box):
    run = run_cells(
        [
            "crank_mm = 172.5",
            "print('half', end=' ')\nprint('turn')\ncrank_mm * 2",
            "1 / 0",
            "import matplotlib.pyplot as plt\nplt.figure(figsize=(1, 1))\nplt.plot([0, 1]);",
            "input('who?')",
            "%time 'still here'",
        ],
        box,
    )
    assert run.sandboxed
    assert run.trouble == ""
    assert all(cell.finished and not cell.left_out for cell in run.cells)
    assert [(output.kind, output.text) for output in run.cells[1].outputs] == [
        ("printed", "half turn\n"),
        ("value", "345.0"),
    ]
    assert "ZeroDivisionError" in printed(run.cells[2])
    assert "\x1b" not in printed(run.cells[2])
    picture = run.cells[3].outputs[-1]
    assert picture.kind == "picture"
    width, height, *_ = struct.unpack(">IIBBBBB", picture.png[16:29])
    assert 50 < width < 200 > height > 50
    assert zlib.crc32(picture.png[12:29]) == struct.unpack(">I", picture.png[29:33])[0]
    assert "StdinNotImplementedError" in printed(run.cells[4])
    assert "still here" in printed(run.cells[5])


PROBES = {
    "files of this machine": """
import os
print(sorted(set(os.listdir("/")) - {"lib", "lib64", "usr", "etc", "dev", "proc", "sandbox"}))
print(os.path.exists("/etc/passwd"), os.path.exists("/etc/hostname"), os.path.exists("/tmp"))
""",
    "a file by its name": "print(open(SECRET).read())",
    "a folder by its name": "import os; print(os.listdir(os.path.dirname(SECRET)))",
    "variables": "import os; print(*os.environ.items()); print(open('/proc/1/environ').read())",
    "who": "import os; print(os.getuid(), os.getgid(), os.getgroups())",
    "powers": "print(*[line for line in open('/proc/self/status') if line.startswith(('CapEff', 'CapPrm', 'NoNew'))])",
    "processes": "import os; print(sorted(int(name) for name in os.listdir('/proc') if name.isdigit()))",
    "signal to another": "import os; os.kill(OUTSIDE, 0)",
    "network here": "import socket; socket.create_connection(('127.0.0.1', PORT), 1)",
    "network elsewhere": "import socket; socket.create_connection(('192.0.2.1', 80), 1)",
    "names": "import socket; print(socket.gethostbyname('example.org'))",
    "packets": "import socket; socket.socket(socket.AF_PACKET, socket.SOCK_RAW)",
    "host name": "import socket; print(socket.gethostname())",
    "write into Python": "import json; open(json.__file__, 'a')",
    "write beside": "open('/anything', 'w')",
    "write to a device folder": "open('/dev/anything', 'w')",
    "shell": "import os; print(os.system('echo from a shell'), os.path.exists('/bin/sh'))",
    "memory without a name": "import os; os.memfd_create('m')",
    "a new user namespace": """
import ctypes
libc = ctypes.CDLL(None, use_errno=True)
print(libc.unshare(0x10000000), ctypes.get_errno())
print(libc.syscall(250 if __import__("platform").machine() == "x86_64" else 219, 0, -3, 0), ctypes.get_errno())
""",
    "mount": """
import ctypes
print(ctypes.CDLL(None, use_errno=True).mount(b"none", b"/sandbox", b"tmpfs", 0, None), ctypes.get_errno())
""",
    "read the parent's memory": "open(f'/proc/{__import__(\"os\").getppid()}/mem', 'rb').read(1)",
    "limits": "import resource; resource.setrlimit(resource.RLIMIT_NPROC, (4096, 4096))",
    "old root": "import os; os.chroot('/sandbox')",
}


@pytest.fixture(scope="module")
def probed(box, tmp_path_factory):
    """All probes in one run, beside a listening server and a secret of this machine."""
    secret = tmp_path_factory.mktemp("cohort") / "secret.key"
    secret.write_text("MARKED SECRET")
    heard = []
    with socket.create_server(("127.0.0.1", 0)) as server:
        server.settimeout(30)
        port = server.getsockname()[1]

        def listen():
            with contextlib.suppress(OSError):
                heard.append(server.accept())

        threading.Thread(target=listen, daemon=True).start()
        os.environ["PEDALWRIGHT_PASSPHRASE"] = "MARKED SECRET"
        names = f"SECRET, PORT, OUTSIDE = {str(secret)!r}, {port}, {os.getpid()}"
        try:
            run = run_cells([names, *PROBES.values()], box, hide=[secret.parent])
        finally:
            del os.environ["PEDALWRIGHT_PASSPHRASE"]
    assert not heard
    return dict(zip(PROBES, run.cells[1:], strict=True))


def test_nothing_of_this_machine_is_seen(probed):
    assert not any("MARKED" in printed(cell) for cell in probed.values())
    top, rest = printed(probed["files of this machine"]).splitlines()
    shown = {Path(path).parts[1] for path in (sys.prefix, sys.base_prefix, sys.executable, str(ROOT))}
    assert set(re.findall(r"'(.+?)'", top)) <= shown
    assert rest == f"False False {'tmp' in shown}"  # a program that lies in /tmp itself is shown there
    for name in ("a file by its name", "a folder by its name"):
        assert "FileNotFoundError" in printed(probed[name])
    assert printed(probed["host name"]).strip() == "sandbox"
    assert len(printed(probed["processes"]).split(",")) <= 4


def test_the_user_inside_has_no_powers_and_is_not_root(probed):
    user, group, groups = printed(probed["who"]).split(maxsplit=2)
    assert int(user) != 0
    assert int(group) != 0
    assert groups.strip() in ("[]", f"[{group}]") or os.geteuid() != 0
    assert re.findall(r"Cap\w+:\s+(\w+)", printed(probed["powers"])) == ["0" * 16] * 2
    assert re.findall(r"NoNewPrivs:\s+(\d)", printed(probed["powers"])) == ["1"]


REFUSED = {
    "signal to another": ("ProcessLookupError", "PermissionError"),
    "network here": ("ConnectionRefusedError",),
    "network elsewhere": ("Network is unreachable",),
    "names": ("gaierror",),
    "packets": ("Address family not supported", "PermissionError"),
    "write into Python": ("Read-only file system", "PermissionError"),
    "write beside": ("Read-only file system", "PermissionError"),
    "write to a device folder": ("Read-only file system", "PermissionError"),
    "memory without a name": ("PermissionError",),
    "limits": ("ValueError", "PermissionError"),
    "old root": ("PermissionError",),
}


@pytest.mark.parametrize("name", REFUSED)
def test_a_door_is_closed(probed, name):
    assert any(words in printed(probed[name]) for words in REFUSED[name]), printed(probed[name])


def test_doors_into_the_kernel_are_closed(probed):
    assert printed(probed["a new user namespace"]).splitlines() == ["-1 1", "-1 1"]  # EPERM is 1 on Linux
    assert printed(probed["mount"]).split() == ["-1", "1"]
    assert "from a shell" not in printed(probed["shell"])


BOMBS = {
    "endless loop": ("while True: pass", ""),
    "a loop that will not be interrupted": (
        "import signal\nsignal.signal(signal.SIGINT, signal.SIG_IGN)\nwhile True: pass",
        "longer than",
    ),
    "memory": ("x = []\nwhile True: x.append(bytearray(10**7))", "memory"),
    "memory shared by many": (
        "import os, time\nfor _ in range(12):\n    if os.fork() == 0:\n        x = []\n"
        "        while True: x.append(b'x' * 10**6)\ntime.sleep(60)",
        "memory",
    ),
    "processes": ("import os\nwhile True:\n    try: os.fork()\n    except OSError: pass", "stopped"),
    "output": ("while True: print('x' * 10000, flush=True)", ""),
    "files": ("for n in range(99): open(f'{n}', 'wb').write(b'x' * 10**6)", ""),
    "the end of its Python": ("import os; os._exit(1)", "its Python ended"),
    "the end of all processes": ("import os; os.kill(-1, 9)", "its Python ended"),
}


@pytest.mark.parametrize("name", BOMBS)
def test_a_bomb_goes_off_alone(box, name):
    source, trouble = BOMBS[name]
    limits = replace(SHORT, seconds=8 if trouble == "longer than" else 30, cell_seconds=1, processes=40)
    started = time.monotonic()
    run = run_cells(["print('before')", source], box, limits=limits)
    assert time.monotonic() - started < limits.seconds + 10
    assert printed(run.cells[0]) == "before\n"
    assert trouble in run.trouble
    assert not trouble or "code cell 2 of 2" in run.trouble
    assert sum(len(printed(cell)) for cell in run.cells) < 200_000


def test_nothing_goes_on_after_the_run(box):
    name = f"left{os.getpid()}"
    leave = f"""
import ctypes, os, time
if os.fork() == 0:
    os.setsid()
    ctypes.CDLL(None).prctl(15, {name.encode()!r}, 0, 0, 0)  # PR_SET_NAME
    while True: time.sleep(0.1)
time.sleep(0.5)
print(open("/proc/self/comm").read())
print([path for path in os.listdir("/proc") if path.isdigit() and {name!r} in open(f"/proc/{{path}}/comm").read()])
"""
    assert re.search(r"\['\d+'\]", printed(run_cells([leave], box, limits=SHORT).cells[0]))
    _wait(lambda: not _named(name), 5)  # the kernel ends what is left on its own, a moment after the sandbox
    assert not _named(name)


def test_the_sandbox_ends_when_the_program_that_started_it_is_killed(box):
    name = f"kept{os.getpid()}"
    cell = f"import ctypes\nctypes.CDLL(None).prctl(15, {name.encode()!r}, 0, 0, 0)\nwhile True: pass"
    words = f"from autograde.sandbox import find_box, run_cells; run_cells([{cell!r}], find_box())"
    starter = subprocess.Popen([sys.executable, "-c", words])
    try:
        _wait(lambda: _named(name), 30)
        assert _named(name)
    finally:
        starter.kill()
        starter.wait()
    _wait(lambda: not _named(name), 5)
    assert not _named(name)


def _wait(held, seconds):
    deadline = time.monotonic() + seconds
    while not held() and time.monotonic() < deadline:
        time.sleep(0.05)


def _named(name):
    found = []
    for path in Path("/proc").glob("[0-9]*/comm"):
        with contextlib.suppress(OSError):
            found += [path] * (name in path.read_text())
    return found


def test_results_that_the_code_forges_are_only_what_it_is_said_to_have_put_out(box):
    """As the same user it may reach the program that reports; all it can change is its own page."""
    forge = r"""
import glob, os
for path in glob.glob(f"/proc/{os.getppid()}/fd/*"):
    try:
        open(path, "w").write('{"cell": 0, "outputs": [{"output_type": "stream", "text": "forged"}]}\n{"end": true}\n')
    except OSError:
        pass
"""
    run = run_cells(["print('honest')", forge, "print('third')"], box, limits=SHORT)
    assert printed(run.cells[0]) == "honest\n"
    assert len(run.cells) == 3


@pytest.mark.skipif(os.geteuid() != 0, reason="an ordinary user has been tested all along")
def test_it_works_for_an_ordinary_user_too(box):
    """Root opens the way to its own Python, becomes nobody, and runs the sandbox as nobody."""
    program = """
import os
from autograde.sandbox import Limits, find_box, run_cells
assert os.geteuid() == 65534
cell = "import os; print(os.getuid(), os.path.exists('/etc/passwd')); open('/x', 'w')"
bomb = "x = []\\nwhile True: x.append(bytearray(10**7))"
run = run_cells([cell, bomb], find_box(), limits=Limits(seconds=20, memory_mb=400))
print([output.text for output in run.cells[0].outputs], run.trouble)
"""
    words = ["bwrap", "--dev-bind", "/", "/"]
    for path in map(Path, (sys.base_prefix, sys.prefix, str(ROOT))):
        way = [folder for folder in reversed(path.parents) if not folder.stat().st_mode & 0o001]
        if way:
            words += ["--tmpfs", str(way[0])]
            words += [word for folder in path.parents[::-1] if way[0] in folder.parents for word in ("--dir", folder)]
            words += ["--ro-bind", str(path), str(path)]
    words += ["--", "setpriv", "--reuid=65534", "--regid=65534", "--clear-groups"]
    words += ["--inh-caps=-all", "--ambient-caps=-all", "--bounding-set=-all"]
    done = subprocess.run([*words, sys.executable, "-c", program], capture_output=True, text=True, cwd="/", timeout=60)
    assert done.returncode == 0, done.stderr
    assert "65534 False" in done.stdout
    assert "Read-only file system" in done.stdout
    assert "stopped in code cell 2 of 2: it held more than 400 MB of memory" in done.stdout


def test_a_folder_that_must_stay_hidden_is_never_shown(box, tmp_path):
    (tmp_path / "cohort").mkdir()
    with pytest.raises(SandboxError, match="lies inside"):
        run_cells(["1"], box, show=[tmp_path], hide=[tmp_path / "cohort"])
    (tmp_path / "link").symlink_to(tmp_path)
    with pytest.raises(SandboxError, match="lies inside"):
        run_cells(["1"], box, show=[tmp_path / "link"], hide=[tmp_path / "cohort"])


def test_without_a_sandbox_it_runs_only_when_told_so_and_says_it_was_unprotected():
    run = run_cells(["import os; print(os.getcwd() != '/sandbox')", "while True: pass"], None, limits=SHORT)
    assert not run.sandboxed
    assert printed(run.cells[0]) == "True\n"
    assert "KeyboardInterrupt" in printed(run.cells[1])
