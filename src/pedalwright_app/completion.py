"""Let a shell complete the commands."""

from __future__ import annotations

import click
from click.shell_completion import get_completion_class

from pedalwright_app.console import next_step

__all__ = ["completion"]

PROGRAM, VARIABLE = "pedalwright", "_PEDALWRIGHT_COMPLETE"
PLACES = {
    "bash": "pedalwright completion bash >> ~/.bashrc",
    "zsh": "pedalwright completion zsh >> ~/.zshrc",
    "fish": "pedalwright completion fish > ~/.config/fish/completions/pedalwright.fish",
}


@click.command()
@click.argument("shell", type=click.Choice(list(PLACES)), required=False)
@click.pass_context
def completion(context: click.Context, shell: str | None) -> None:
    """Print what lets a SHELL complete commands and options with the Tab key.

    Without SHELL it says where the text goes. It works from the next terminal on.

    \b
    Example
      pedalwright completion bash >> ~/.bashrc
    """  # noqa: D301
    if shell is None:
        next_step(*PLACES.values())
        return
    found = get_completion_class(shell)
    if found is None:
        raise click.UsageError(f"this version of the program knows no completion for {shell}")
    click.echo(found(context.find_root().command, {}, PROGRAM, VARIABLE).source())
