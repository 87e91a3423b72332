"""``frameforge fit``: which sizes take how many of a motif, before any card is cut."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final

from frameforge.cli.console import print_json, say
from frameforge.cli.options import Option, takes

__all__ = ["command"]

_OWN: Final = {
    "size": Option("SIZE", "a size to be told of: 100mm, 4in, 150x100mm; more than once (left out: 50 to 200mm)", True),
    "count": Option("NUMBER", "a count to be told of; more than once (left out: as many as go round)", True),
    "gap": Option("LENGTH", "between repeats; at least this where the count is left out (left out: 2mm)"),
    "foot": Option("LENGTH", "how wide the foot is: of the motif, or alone, without one; or find"),
    "seat": Option("HOW", "as-drawn, bent to follow the edge, or both side by side (left out: as-drawn)"),
    "rest": Option("HOW", "of the ways to close a row, tell only spread, size or filler (left out: all of them)"),
    "filler": Option("NAME", "tell how large this motif fills the rest: by name, or your drawing.svg"),
    "formats": Option("KINDS", "kinds of picture: svg,png (left out: both)"),
}
"""What the options of ``make`` mean here, where that is not the same."""


@takes(
    "motif", "foot", "size", "count", "gap", "foot_gap", "scale", "ratio", "grow_from", "opening", "rim", "place", "on",
    "inset", "lean", "seat", "spread", "mirror", "start", "rest", "seam", "filler", "white", "lenient", "units",
    "card", "preset", "formats",
    "out", "force", "motifs", "json", instead=_OWN,
)  # fmt: skip
def command(json: bool, **options: Any) -> None:
    """Tell which sizes take how many of a motif, or of a bare foot, and draw it as a chart.

    Sizes are answered by counts, counts by sizes, both together by the gap.
    """
    from frameforge.job.fit import fit
    from frameforge.job.fit_question import FitOrder
    from frameforge.job.motif_options import motifs_folder

    order = FitOrder(
        options=options,
        out=Path(options["out"] or "out"),
        motifs=motifs_folder(options["motifs"]),
        is_lenient=options["lenient"],
        replaces_foreign=options["force"],
    )
    result = fit(order)
    if json:
        print_json(result.as_json())
    say(result.lines(), beside_json=json)
