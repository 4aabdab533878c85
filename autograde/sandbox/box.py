"""The sandbox itself: a command line for bubblewrap that shows a program nothing but Python."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Sequence
from functools import lru_cache
from pathlib import Path

from autograde.sandbox.errors import SandboxError
from autograde.sandbox.limits import Limits

__all__ = ["HOME", "Box", "environment", "find_box", "resources", "why_none"]

HOME = "/sandbox"
"""The only folder that can be written to inside; it is in memory and ends with the run."""
LIBRARIES = ("/lib", "/lib64", "/usr/lib", "/usr/lib64", "/etc/ld.so.cache", "/etc/alternatives")
"""Where programs find their shared libraries."""
FIRST_USER, USERS = 61184, 4336
"""Numbers that systems keep free for passing users (systemd hands out the same range)."""
PROBE_SECONDS = 20.0
INSTALL = "install the Debian package bubblewrap (apt-get install bubblewrap)"


class Box:
    """A bubblewrap that works on this machine.

    Parameters
    ----------
    program : str
        Path of ``bwrap``.
    """

    def __init__(self, program: str) -> None:
        self.program = program

    @property
    def user(self) -> int | None:
        """Number of the user to become inside, if the caller is root: one that owns nothing anywhere."""
        return FIRST_USER + os.getpid() % USERS if os.geteuid() == 0 else None

    def command(
        self, program: Sequence[str], limits: Limits, *, show: Sequence[Path] = (), filter_fd: int | None = None
    ) -> list[str]:
        """Write the command line that runs a program in the sandbox.

        Parameters
        ----------
        program : sequence of str
            The program and its arguments.
        limits : Limits
            For the size of what can be written.
        show : sequence of Path
            Files and folders shown inside, read only, beside the Python installation.
        filter_fd : int, optional
            Open file with a filter of system calls.

        Returns
        -------
        list of str
            The command: no network, own processes and host name, no environment, nothing of the machine's files but
            libraries, Python and what is named.
        """
        disk_bytes = str(limits.disk_mb * 1_000_000)
        words = [self.program, "--unshare-ipc", "--unshare-pid", "--unshare-net", "--unshare-uts"]
        words += ["--unshare-cgroup-try", "--die-with-parent", "--new-session", "--clearenv", "--hostname", "sandbox"]
        if os.geteuid() == 0:
            words += ["--cap-drop", "ALL", "--cap-add", "CAP_SETUID", "--cap-add", "CAP_SETGID"]
        else:
            words += ["--unshare-user"]
        words += ["--proc", "/proc", "--dev", "/dev"]
        for folder in ("/dev/shm", HOME):
            words += ["--perms", "1777", "--size", disk_bytes, "--tmpfs", folder]
        shown = _outermost([*_python_files(), *map(str, show)])
        for folder in sorted({str(parent) for path in shown for parent in Path(path).parents} - {"/"}):
            words += ["--dir", folder]  # made by the sandbox, so that the user inside may pass through
        for path in shown:
            words += ["--ro-bind", path, path]
        words += ["--remount-ro", "/dev", "--remount-ro", "/", "--chdir", HOME]
        for name, value in environment(HOME).items():
            words += ["--setenv", name, value]
        if filter_fd is not None:
            words += ["--seccomp", str(filter_fd)]
        return [*words, "--", *program]


def _python_files() -> list[str]:
    """List the Python installation, the environment it runs in, and the libraries both need."""
    wanted = [*LIBRARIES, sys.prefix, sys.base_prefix, sys.exec_prefix]
    wanted += [os.path.realpath(path) for path in (sys.prefix, sys.base_prefix, sys.executable)]
    return [path for path in wanted if os.path.exists(path)]


def _outermost(paths: Sequence[str]) -> list[str]:
    """Leave out what lies inside another of the paths."""
    kept: list[str] = []
    for path in sorted({os.path.abspath(path) for path in paths}):
        if path == "/":
            raise SandboxError("Python is installed at the root of the file system; use a virtual environment")
        if not any(path.startswith(f"{other}/") for other in kept):
            kept.append(path)
    return kept


def check_hidden(show: Sequence[Path], hide: Sequence[Path]) -> None:
    """Refuse to run when a folder that must stay hidden lies inside one that is shown.

    Parameters
    ----------
    show : sequence of Path
        What is shown beside Python.
    hide : sequence of Path
        What must not be seen.

    Raises
    ------
    SandboxError
        With the two folders.
    """
    shown = [Path(path).resolve() for path in [*_python_files(), *map(str, show)]]
    for path in hide:
        for folder in shown:
            if path.resolve().is_relative_to(folder):
                raise SandboxError(f"{path} lies inside {folder}, which code in the sandbox can read; move it away")


def environment(home: str) -> dict[str, str]:
    """Name the few variables that a notebook needs.

    Parameters
    ----------
    home : str
        Folder for everything that is written.

    Returns
    -------
    dict
        Nothing of the caller's own environment.
    """
    return {
        "HOME": home,
        "TMPDIR": home,
        "PATH": str(Path(sys.executable).parent),
        "LANG": "C.UTF-8",
        "USER": "trainee",
        "LOGNAME": "trainee",
        "MALLOC_ARENA_MAX": "2",
        "OMP_NUM_THREADS": "1",
        "OPENBLAS_NUM_THREADS": "1",
        "PYTHONDONTWRITEBYTECODE": "1",
        "PYDEVD_DISABLE_FILE_VALIDATION": "1",
    }


def resources(limits: Limits, *, alone: bool) -> dict[str, int]:
    """Say which limits each process gets, by their names in Python's module ``resource``.

    Parameters
    ----------
    limits : Limits
        Bounds of the run.
    alone : bool
        Whether nobody else's processes count (in a sandbox).

    Returns
    -------
    dict
        Bound by name.
    """
    bounds = {
        "RLIMIT_CPU": max(1, round(limits.seconds)) * 2,
        "RLIMIT_AS": (limits.memory_mb + 1024) * 1_000_000,
        "RLIMIT_FSIZE": limits.disk_mb * 1_000_000,
        "RLIMIT_NOFILE": 256,
        "RLIMIT_CORE": 0,
        "RLIMIT_MSGQUEUE": 0,
        "RLIMIT_MEMLOCK": 0,
    }
    return bounds | ({"RLIMIT_NPROC": limits.processes} if alone else {})


def find_box() -> Box:
    """Find a sandbox that works here.

    Returns
    -------
    Box
        The sandbox.

    Raises
    ------
    SandboxError
        If there is none, with the reason and what to do.
    """
    if reason := why_none():
        raise SandboxError(f"no sandbox is to be had: {reason}")
    return Box(str(shutil.which("bwrap")))


@lru_cache(maxsize=1)
def why_none() -> str:
    """Try the sandbox once and say why there is none.

    Returns
    -------
    str
        The reason and what to do; empty when the sandbox works.
    """
    if not sys.platform.startswith("linux"):
        return f"it needs Linux, and this is {sys.platform}; run this step on a Linux machine"
    program = shutil.which("bwrap")
    if program is None:
        return f"the program bwrap is missing; {INSTALL}"
    try:
        box = Box(program)
        become = f"import os; os.setresuid(*[{box.user}] * 3); " if box.user else ""
        command = box.command([sys.executable, "-I", "-c", f"{become}import json; print('works')"], Limits())
        done = subprocess.run(command, capture_output=True, timeout=PROBE_SECONDS, env={}, cwd="/", check=False)
    except (OSError, subprocess.TimeoutExpired) as trouble:
        return f"bwrap cannot be run ({trouble})"
    if done.stdout.strip() == b"works":
        return ""
    said = done.stderr.decode("utf-8", "replace").strip()[:200]
    return f"bwrap does not work here ({said or 'it said nothing'}); this system may forbid user namespaces"
