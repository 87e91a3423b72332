"""``frameforge nest``: cut outlines of any make placed on sheets."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final

from frameforge.cli.console import Ended, print_json, say
from frameforge.cli.ending import INTERRUPTED
from frameforge.cli.interrupt import stoppable
from frameforge.cli.options import Option, takes
from frameforge.cli.progress import progress

__all__ = ["command"]

_OWN: Final = {
    "preset": Option("NAME", "how fast the machine is (left out: card-240-knife)"),
    "card": Option("COLOUR", "the colour of card, by any name; the sheets are called by it: moss"),
    "width": Option("LENGTH", "how wide everything in a file is, for a cut file that does not say: 200mm"),
}
"""What an option of ``make`` means here, where that is not the same."""


@takes(
    "sheet", "card", "margin", "apart", "turn", "used", "price", "stack", "seed", "tries", "preset", "width",
    "formats", "dxf", "dxf_unit", "one_path", "one_file", "out", "force", "json",
    argument=("files", "FILE[:COPIES]", "cut files (.svg, .dxf), each with how many of it: badge.svg:24"),
    has_many_arguments=True,
    instead=_OWN,
)  # fmt: skip
def command(files: tuple[str, ...], json: bool, **options: Any) -> None:
    """Place cut outlines on sheets, with little waste.

    Pieces also lie in the openings of others. Ctrl-C ends the search and keeps the best layout found so far.
    """
    from frameforge.job.nest import NestOrder, nest

    out, force = options.pop("out"), options.pop("force")
    order = NestOrder(files, options, Path(out or "out"), force, stoppable)
    with progress() as report:
        result = nest(order, report)
    if json:
        print_json(result.as_json())
    say(result.lines(), beside_json=json)
    if result.sheets.is_interrupted:
        raise Ended(INTERRUPTED)
