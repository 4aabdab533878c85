"""``pedalwright pack``: print hand-outs and plans for a workshop."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import click
import jinja2

from pedalwright_app.console import next_step, progress, say
from pedalwright_app.pack.modules import Module, PackError, modules_of, slips_of
from pedalwright_app.pack.printing import browser, print_pdf

__all__ = ["pack", "page_of"]

SITE = Path(".build") / "_build" / "html"
KINDS = ("hand-out", "plan")


@click.command()
@click.argument("folder", type=click.Path(file_okay=False, path_type=Path), default=Path(".build") / "pack")
@click.option(
    "--book",
    "site",
    type=click.Path(file_okay=False, path_type=Path),
    default=SITE,
    show_default=True,
    help="Folder of the built book, from which everything on paper is taken.",
)
@click.option("--module", "wanted", multiple=True, metavar="NAME", help="Only this module; repeat it for more.")
def pack(folder: Path, site: Path, wanted: tuple[str, ...]) -> None:
    """Print the workshop pack into FOLDER: for every module a hand-out of one page, and a plan for the instructor.

    The hand-out is for trainees: outcomes, questions to predict, a picture, formulas, cautions, take-away, and room for
    notes. It holds no answers. The plan is for you: timing, prompts, kit, answers with reasons, and what trainees get
    wrong. Both are taken from the built book and printed to PDF by Chromium.

    Example: pedalwright pack paper --module lever-tangency
    """
    modules = modules_of(site)
    names = [module.name for module in modules]
    if lost := [name for name in wanted if name not in names]:
        raise PackError(f"no module is called {lost[0]!r}; there are {', '.join(names)}")
    browser()
    chosen = [module for module in modules if not wanted or module.name in wanted]
    jobs = [(module, kind) for module in chosen for kind in KINDS]
    slips = slips_of(names)
    with progress("Printing", len(jobs)) as step:
        for number, (module, kind) in enumerate(jobs, start=1):
            print_pdf(page_of(module, kind, site, slips[module.name]), folder / f"{module.name}-{kind}.pdf")
            step(number, len(jobs))
    say(f"Printed: {len(jobs)} files in {folder}")
    next_step(f"print {folder / f'{chosen[0].name}-hand-out.pdf'}, one a trainee", "read the plan the evening before")


def page_of(module: Module, kind: str, site: Path, slips: list[tuple[str, list[str]]]) -> str:
    """Set one sheet of paper.

    Parameters
    ----------
    module : Module
        As read from the built book.
    kind : str
        ``hand-out`` or ``plan``.
    site : Path
        Folder of the built book, for pictures and type.
    slips : list
        Title of each case study of the module, with the labels of its misconceptions; only the plan shows them.

    Returns
    -------
    str
        A whole HTML document.
    """
    templates = {name: (files(__package__) / name).read_text(encoding="utf8") for name in ("sheet.css", f"{kind}.html")}
    setter = jinja2.Environment(autoescape=True, undefined=jinja2.StrictUndefined, trim_blocks=True)
    setter.filters["html"] = lambda text: jinja2.filters.do_mark_safe(text)
    return setter.from_string(templates[f"{kind}.html"]).render(
        module=module, slips=slips, base=f"{site.resolve().as_uri()}/", style=templates["sheet.css"]
    )
