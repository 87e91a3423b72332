"""``frameforge demo``: the pieces of a seed swap, to see what comes out."""

from __future__ import annotations

from pathlib import Path

from frameforge.cli.console import print_json, say
from frameforge.cli.options import takes
from frameforge.cli.progress import progress

__all__ = ["command"]


@takes("out", "force", "json")
def command(out: str | None, force: bool, json: bool) -> None:
    """Make five pieces of a seed swap, with pictures."""
    from frameforge.job.demo import demo

    with progress() as report:
        result = demo(Path(out) if out else None, report, replaces_foreign=force)
    if json:
        print_json(result.as_json())
    say(result.lines(), beside_json=json)
