"""`pedalwright study`: the live course on this computer, for one reader, without the internet."""

from __future__ import annotations

import secrets
import signal
import subprocess
import sys
import tempfile
from pathlib import Path

import click

from pedalwright_app.console import next_step, say

PORT = 8765
PORTS_TRIED = 30


@click.command()
@click.option("--book", type=click.Path(file_okay=False, path_type=Path), help="Folder of the built book.")
@click.option("--port", default=PORT, show_default=True, type=click.IntRange(1, 65535), help="Port to try first.")
@click.option("--open/--no-open", "open_page", default=True, help="Open the book in the web browser.")
@click.option(
    "--rest-after",
    default=20.0,
    show_default=True,
    type=click.FloatRange(0.05),
    metavar="MINUTES",
    help="End the calculation when nothing was moved for so long.",
)
def study(book: Path | None, port: int, open_page: bool, rest_after: float) -> None:
    """Open the course with figures that calculate as you move them.

    The server runs on this computer only, and only who has the printed address can read from it. Stop it with Ctrl-C.
    """
    from pedalwright_app.course.extension import find_book

    folder = (book or find_book()).absolute()
    if not (folder / "index.html").is_file():
        _build(folder)
    serve(folder, port, open_page, rest_after)


def serve(folder: Path, port: int, open_page: bool, rest_after: float) -> None:
    """Run the server until it is stopped."""
    from traitlets.config import Config

    from pedalwright_app.course.extension import CourseApp

    token = secrets.token_urlsafe(24)
    with tempfile.TemporaryDirectory(prefix="pedalwright-study-") as empty:
        config = Config()
        config.CourseApp.book = str(folder)
        config.CourseApp.rest_after_minutes = rest_after
        config.ServerApp.update(
            ip="127.0.0.1",
            port=port,
            port_retries=PORTS_TRIED,
            root_dir=empty,
            open_browser=open_page,
            terminals_enabled=False,
            answer_yes=True,
            allow_remote_access=False,
            allow_root=True,
            log_level="ERROR",
        )
        config.IdentityProvider.token = token
        CourseApp.clear_instance()
        app = CourseApp.initialize_server(argv=[], config=config)  # type: ignore[no-untyped-call]
        app.io_loop.add_callback(_announce, f"http://127.0.0.1:{app.port}/course/?token={token}")
        _let_ctrl_c_through()
        app.start()
    say("The course is closed.")


def _let_ctrl_c_through() -> None:
    """Heed Ctrl-C also where the signal was ignored at the start, as shells do for a job in the background."""
    if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
        signal.signal(signal.SIGINT, signal.default_int_handler)


def _announce(address: str) -> None:
    say(f"The course is open at {address}")
    next_step("read in the browser; move a slider and the figure is calculated anew", "stop with Ctrl-C")
    sys.stdout.flush()


def _build(folder: Path) -> None:
    """Build the book of this project; a folder elsewhere has to be there already."""
    project = folder.parents[2]
    if folder.parts[-3:] != (".build", "_build", "html") or not (project / "Makefile").is_file():
        raise click.ClickException(
            f"{folder} holds no built book (index.html is not there); allowed: a folder made by `make book`; "
            "build the book there, or name its folder with --book"
        )
    say("The book is not built yet; this takes a few minutes, once.")
    if subprocess.run(["make", "book"], cwd=project, check=False).returncode:
        raise click.ClickException("the book could not be built; the lines above say why")
