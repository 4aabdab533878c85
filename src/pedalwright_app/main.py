"""The command `pedalwright`."""

from __future__ import annotations

from importlib.metadata import version

import click

from pedalwright_app.case_commands import case
from pedalwright_app.cohort_commands import cohort
from pedalwright_app.completion import completion
from pedalwright_app.console import TeachingGroup
from pedalwright_app.demo import demo
from pedalwright_app.explain import explain
from pedalwright_app.pack.command import pack
from pedalwright_app.study_command import study
from pedalwright_app.verify import verify

__all__ = ["main"]


@click.group(cls=TeachingGroup, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(version("pedalwright"), prog_name="pedalwright")
def main() -> None:
    """Train bicycle fitters and check what they can do.

    Start with `pedalwright demo`: it runs an invented cohort from roster to award in a minute. With trainees of
    your own, go on with `pedalwright cohort --help`. `pedalwright case --help` is for case studies: what there is, how
    to write your own, and why an answer got its marks. `pedalwright pack` prints hand-outs and plans for a workshop.
    `pedalwright study` opens the course with figures that calculate as you move them.
    `pedalwright verify FILE --key KEY` checks an award, and
    `pedalwright explain knee flexion` says what a quantity means.
    """


main.add_command(demo)
main.add_command(cohort)
main.add_command(case)
main.add_command(study)
main.add_command(pack)
main.add_command(verify)
main.add_command(explain)
main.add_command(completion)


if __name__ == "__main__":
    main()
