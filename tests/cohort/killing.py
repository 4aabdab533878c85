"""Kill a step with SIGKILL just before one of its calls that write."""

import os
import shutil
import signal
import sys
from pathlib import Path

from autograde.cohort.folder import open_cohort

WRITING = {
    *("write", "writelines", "flush", "replace", "rename", "unlink", "mkdir", "chmod", "fchmod", "link", "truncate"),
    *("rmdir", "execute", "executemany", "commit", "close"),
}
TO_DISK = ("BufferedWriter", "BufferedRandom", "FileIO", "Cursor", "Connection", "module")
"""What such a call belongs to when it reaches a file, a folder or the database; texts in memory do not count."""


def in_a_child(step, root, moment):
    """Do a step in a forked process that is killed before its writing call number `moment`; gives how many it made."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.close(reading)
            os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
            count = 0

            def watch(_frame, event, called):
                nonlocal count
                if event == "c_call" and called.__name__ in WRITING and type(called.__self__).__name__ in TO_DISK:
                    count += 1
                    if count == moment:
                        os.kill(os.getpid(), signal.SIGKILL)

            cohort = open_cohort(root)
            sys.setprofile(watch)
            step(cohort)
            sys.setprofile(None)
            os.write(writing, str(count).encode())
        finally:
            os._exit(0)
    os.close(writing)
    _, status = os.waitpid(child, 0)
    with os.fdopen(reading) as stream:
        told = stream.read()
    return int(told) if told else -os.waitstatus_to_exitcode(status)


def fresh(cohort, name):
    """Copy a cohort, and what lies beside it is the caller's."""
    return Path(shutil.copytree(cohort.root, cohort.root.with_name(name)))


def killed(step, cohort, moment):
    """Do a step in a copy of a cohort, killed before its writing call number `moment`; gives the copy's folder.

    A step does not make quite as many calls each time: past its end, an earlier moment is taken.
    """
    while True:
        root = fresh(cohort, f"killed-{moment}")
        if in_a_child(step, root, moment) == signal.SIGKILL:
            return root
        shutil.rmtree(root)
        moment = moment * 19 // 20
