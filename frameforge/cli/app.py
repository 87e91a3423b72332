"""The list of commands."""

from __future__ import annotations

from typing import Annotated

import typer

from frameforge import __version__
from frameforge.cli import check, demo, desk, fit, guide, make, motif, nest
from frameforge.cli.console import say
from frameforge.cli.typed import HELP_SETTINGS, TypedCommand

__all__ = ["app"]

app = typer.Typer(
    name="frameforge",
    help="Ornamented round paper frames, mats, rings and labels as clean cut files with true curves.",
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings=HELP_SETTINGS,
)
app.command("demo", cls=TypedCommand, context_settings=HELP_SETTINGS)(demo.command)
app.command("make", cls=TypedCommand, context_settings=HELP_SETTINGS)(make.command)
app.command("fit", cls=TypedCommand, context_settings=HELP_SETTINGS)(fit.command)
app.command("guide", cls=TypedCommand, context_settings=HELP_SETTINGS)(guide.command)
app.command("check", cls=TypedCommand, context_settings=HELP_SETTINGS)(check.check_command)
app.command("mend", cls=TypedCommand, context_settings=HELP_SETTINGS)(check.mend_command)
app.command("nest", cls=TypedCommand, context_settings=HELP_SETTINGS)(nest.command)
app.command("desk", cls=TypedCommand, context_settings=HELP_SETTINGS)(desk.command)
app.add_typer(motif.app, name="motif")


@app.callback(invoke_without_command=True)
def _alone(
    version: Annotated[bool, typer.Option("--version", help="Print the version.")] = False,
) -> None:
    """Ornamented round paper frames, mats, rings and labels as clean cut files with true curves."""
    if version:
        say([f"frameforge {__version__}"])
