"""A PostgreSQL server of a test's own: started in a new folder, stopped at its end."""

import os
import pwd
import shutil
import socket
import subprocess
import tempfile
from contextlib import contextmanager
from pathlib import Path

PASSWORD = "invented words for the test server only"
OWNERS = ("postgres", "nobody")
"""Users under whom the server runs when the test runs as root: it refuses to run as root."""


def program(name):
    """Find one of the server's programs; Debian keeps them out of the search path."""
    folders = sorted(Path("/usr/lib/postgresql").glob("*/bin"), reverse=True)
    found = next((str(folder / name) for folder in folders if (folder / name).exists()), None) or shutil.which(name)
    assert found, f"{name} is missing: the tests of the gradebook on PostgreSQL need it (apt-get install postgresql)"
    return found


def owner():
    if os.geteuid() != 0:
        return None
    known = {entry.pw_name for entry in pwd.getpwall()}
    return next(name for name in OWNERS if name in known)


def told(*command, user=None):
    done = subprocess.run(
        command, user=user, extra_groups=[] if user else None, cwd="/", capture_output=True, text=True
    )
    assert done.returncode == 0, f"{command[0]}: {done.stdout}{done.stderr}"


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


@contextmanager
def server():
    """Give the address (without the password) of a running server that asks for a password."""
    user = owner()
    folder = Path(tempfile.mkdtemp(prefix="pedalwright-pg-"))
    words = folder / "words"
    words.write_text(PASSWORD)
    if user:
        for path in (folder, words):
            shutil.chown(path, user)
    data, port = str(folder / "data"), free_port()
    try:
        given = ("--auth=scram-sha-256", f"--pwfile={words}", "--username=flint", "--encoding=UTF8", "--no-sync")
        told(program("initdb"), "-D", data, *given, user=user)
        settings = f"-c listen_addresses=127.0.0.1 -p {port} -k {folder} -c fsync=off"
        told(program("pg_ctl"), "-D", data, "-w", "-l", str(folder / "log"), "-o", settings, "start", user=user)
        try:
            yield f"postgresql+psycopg://flint@127.0.0.1:{port}"
        finally:
            told(program("pg_ctl"), "-D", data, "-m", "immediate", "stop", user=user)
    finally:
        shutil.rmtree(folder, ignore_errors=True)
