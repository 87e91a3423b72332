"""``frameforge motif``: what ornaments there are, and one of them looked at."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import typer

from frameforge.cli.console import print_json, say
from frameforge.cli.options import takes
from frameforge.cli.typed import HELP_SETTINGS, TypedCommand

__all__ = ["app"]

app = typer.Typer(help="The motifs: list them, or look at one.", rich_markup_mode=None, context_settings=HELP_SETTINGS)


@app.callback(invoke_without_command=True)
def _alone(context: typer.Context) -> None:
    """The motifs: list them, or look at one."""
    if context.invoked_subcommand is None:
        say(["All of them:", "    frameforge motif list", "", "One of them:", "    frameforge motif show arch"])


@takes("motifs", "out", "force", "json")
def _list(motifs: str | None, out: str | None, force: bool, json: bool) -> None:
    """List all motifs with foot, width and height.

    With --out a picture of them all is put into that folder.
    """
    from frameforge.job.motif import list_motifs

    result = list_motifs(Path(motifs) if motifs else None, Path(out) if out else None, replaces_foreign=force)
    if json:
        print_json(result.as_json())
    say(result.lines(), beside_json=json)


@takes(
    "white", "lenient", "motifs", "out", "force", "json",
    argument=("motif", "MOTIF", "a motif by name, or a drawing.svg"), needs_argument=True,
)  # fmt: skip
def _show(motif: str, out: str | None, json: bool, **options: Any) -> None:
    """Show one motif: its size, its foot, its parts, and a picture of it."""
    from frameforge.job.motif import show_motif

    result = show_motif(motif, Path(out or "out"), options)
    if json:
        print_json(result.as_json())
    say(result.lines(), beside_json=json)


app.command("list", cls=TypedCommand, context_settings=HELP_SETTINGS)(_list)
app.command("show", cls=TypedCommand, context_settings=HELP_SETTINGS)(_show)
