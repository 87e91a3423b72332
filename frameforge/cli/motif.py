"""``frameforge motif``: what ornaments there are, one of them looked at, and one of your own added."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final

import typer

from frameforge.cli.console import print_json, say
from frameforge.cli.options import Option, takes
from frameforge.cli.typed import HELP_SETTINGS, TypedCommand

__all__ = ["app"]

_OWN: Final = {"name": Option("NAME", "its name among your motifs (left out: that of the file)")}
"""What an option of ``make`` means in ``motif add``, where that is not the same."""

_HELP = "The motifs: list them, look at one, or add one of your own."

app = typer.Typer(help=_HELP, rich_markup_mode=None, context_settings=HELP_SETTINGS)


@app.callback(invoke_without_command=True)
def _alone(context: typer.Context) -> None:
    """The motifs: list them, look at one, or add one of your own."""
    if context.invoked_subcommand is None:
        say(["All of them:", "    frameforge motif list", "", "One of them:", "    frameforge motif show arch"])
        say(["", "Your own drawing as one of them:", "    frameforge motif add daisy.svg"])


@takes("motifs", "out", "force", "json")
def _list(motifs: str | None, out: str | None, force: bool, json: bool) -> None:
    """List all motifs with foot, width, height, thinnest card and narrowest slit.

    With --out a picture of them all is put into that folder.
    """
    from frameforge.job.motif import list_motifs

    result = list_motifs(motifs, Path(out) if out else None, replaces_foreign=force)
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


@takes(
    "name", "white", "lenient", "motifs", "force", "json",
    argument=("drawing", "DRAWING", "your drawing.svg"), needs_argument=True, instead=_OWN,
)  # fmt: skip
def _add(drawing: str, json: bool, **options: Any) -> None:
    """Add a drawing to your own motifs, so that its name is enough from then on.

    A copy with its foot and parts stated goes into your own folder, or into --motifs.
    """
    from frameforge.job.motif_add import add_motif

    result = add_motif(drawing, options)
    if json:
        print_json(result.as_json())
    say(result.lines(), beside_json=json)


app.command("list", cls=TypedCommand, context_settings=HELP_SETTINGS)(_list)
app.command("show", cls=TypedCommand, context_settings=HELP_SETTINGS)(_show)
app.command("add", cls=TypedCommand, context_settings=HELP_SETTINGS)(_add)
