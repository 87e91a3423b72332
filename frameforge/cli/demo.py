"""``frameforge demo``: the pieces of a seed swap, to see what comes out."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

from frameforge.cli.console import print_json, say
from frameforge.cli.options import Option, takes
from frameforge.cli.progress import progress

if TYPE_CHECKING:
    from frameforge.job.demo_all import DemoAll
    from frameforge.job.made import Made

__all__ = ["command"]


_OWN: Final = {"all": Option("", "the whole seed swap: ten pieces on sheets, 24 badges, guides, hand-outs")}
"""What belongs to this command alone."""


@takes("all", "out", "force", "json", instead=_OWN)
def command(all: bool, out: str | None, force: bool, json: bool) -> None:  # noqa: A002  # as the option is called
    """Make five pieces of a seed swap, with pictures; or all of it."""
    folder = Path(out) if out else None
    result: Made | DemoAll
    with progress() as report:
        if all:
            from frameforge.job.demo_all import demo_all

            result = demo_all(folder, report, replaces_foreign=force)
        else:
            from frameforge.job.demo import demo

            result = demo(folder, report, replaces_foreign=force)
    if json:
        print_json(result.as_json())
    say(result.lines(), beside_json=json)
