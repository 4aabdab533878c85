"""The program that runs in the sandbox: it limits itself, then runs code cells and writes what each puts out.

It is started by its path, not as part of the package, and uses nothing of ours, so that the sandbox need not show our
files. It reads its order as JSON from standard input and writes one JSON line for each cell to standard output. The
cells run beside it as the same user, so they can forge these lines: nobody may believe them.
"""

from __future__ import annotations

import asyncio
import contextlib
import json
import os
import sys
import time
from typing import IO, Any

try:
    import resource
except ImportError:  # pragma: no cover - a system without such limits
    resource = None  # type: ignore[assignment]

SHOWN = ("text/plain", "image/png")
FIRST_TO_GO = "1000"
"""What the kernel is told about these processes: when memory runs out, they are the ones to end."""


def confine(order: dict[str, Any]) -> None:
    """Set limits that can never be raised again, then become a user who owns nothing."""
    with contextlib.suppress(OSError), open("/proc/self/oom_score_adj", "w") as stream:
        stream.write(FIRST_TO_GO)
    for name, most in order["resources"].items():
        if resource is not None and hasattr(resource, name):
            hard = resource.getrlimit(getattr(resource, name))[1]
            bound = most if hard == resource.RLIM_INFINITY else min(most, hard)
            resource.setrlimit(getattr(resource, name), (bound, bound))
    if order["user"] is not None:
        os.setgroups([])
        os.setresgid(*[order["user"]] * 3)
        os.setresuid(*[order["user"]] * 3)


def result_stream() -> IO[str]:
    """Take standard output for the results, so that nothing else is written there by accident."""
    stream = os.fdopen(os.dup(1), "w", encoding="utf-8", errors="replace")
    os.dup2(2, 1)
    return stream


async def run(order: dict[str, Any], results: IO[str]) -> None:
    """Run the cells one after the other in one kernel."""
    import nbformat
    from jupyter_client.manager import AsyncKernelManager
    from nbclient import NotebookClient
    from nbclient.exceptions import DeadKernelError
    from nbclient.util import ensure_async

    class Bounded(NotebookClient):
        """Takes in no more than the allowed output."""

        left = int(order["output_bytes"])
        interrupt: asyncio.Future[None] | None = None

        def process_message(self, msg: dict[str, Any], cell: Any, cell_index: int) -> Any:
            weight = _weight(msg["content"])
            if msg["msg_type"].startswith("comm_"):
                return None
            _simplify(msg["content"])
            kept = self.left
            self.left -= weight
            if not weight or self.left >= 0:
                return super().process_message(msg, cell, cell_index)
            cell["cut"] = True
            if self.interrupt is None:
                self.interrupt = asyncio.ensure_future(ensure_async(manager.interrupt_kernel()))
            if kept <= 0 or msg["msg_type"] != "stream":
                return None
            msg["content"]["text"] = msg["content"]["text"][:kept]
            return super().process_message(msg, cell, cell_index)

    notebook = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(source) for source in order["cells"]])
    manager = AsyncKernelManager(kernel_name="python3", transport="ipc" if os.name == "posix" else "tcp")
    client = Bounded(
        notebook,
        km=manager,
        timeout=order["cell_seconds"],
        interrupt_on_timeout=True,
        allow_errors=True,
        extra_arguments=["--HistoryManager.enabled=False"],
        resources={"metadata": {"path": os.getcwd()}},
    )

    def write(**line: Any) -> None:
        results.write(json.dumps(line, ensure_ascii=True) + "\n")
        results.flush()

    async with client.async_setup_kernel():
        for index, cell in enumerate(notebook.cells):
            write(cell=index)
            started = time.monotonic()
            try:
                await client.async_execute_cell(cell, index)
            except DeadKernelError:
                write(cell=index, died=True, cut=bool(cell.get("cut")), outputs=cell.outputs)
                break
            seconds = round(time.monotonic() - started, 3)
            write(cell=index, seconds=seconds, cut=bool(cell.get("cut")), outputs=cell.outputs)
        else:
            write(end=True)
        os._exit(0)  # whatever still runs ends with the sandbox


def _simplify(content: dict[str, Any]) -> None:
    """Keep what can be shown later, and nothing deep enough to trip over."""
    if isinstance(content.get("data"), dict):
        content["data"] = {kind: content["data"][kind] for kind in SHOWN if isinstance(content["data"].get(kind), str)}
        content["metadata"] = {}


def _weight(content: dict[str, Any]) -> int:
    """Characters in a message that puts something out."""
    data = content.get("data")
    parts = [content.get("text"), content.get("evalue"), *(content.get("traceback") or ())]
    parts += list(data.values()) if isinstance(data, dict) else []
    return sum(len(part) if isinstance(part, str) else len(str(part)) for part in parts if part)


def main() -> None:
    """Read the order and carry it out."""
    order = json.loads(sys.stdin.buffer.read())
    results = result_stream()
    confine(order)
    asyncio.run(run(order, results))


if __name__ == "__main__":
    main()
