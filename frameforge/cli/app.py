"""The list of commands."""

from __future__ import annotations

from typing import Annotated

import typer

from frameforge import __version__
from frameforge.cli import demo, make, motif
from frameforge.cli.console import say

__all__ = ["app"]

app = typer.Typer(
    name="frameforge",
    help="Ornamented round paper frames, mats, rings and labels as clean cut files with true curves.",
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["--help", "-h"], "max_content_width": 80},
)
app.command("demo")(demo.command)
app.command("make")(make.command)
app.add_typer(motif.app, name="motif")


@app.callback(invoke_without_command=True)
def _alone(
    version: Annotated[bool, typer.Option("--version", help="Print the version.")] = False,
) -> None:
    """Ornamented round paper frames, mats, rings and labels as clean cut files with true curves."""
    if version:
        say([f"frameforge {__version__}"])
