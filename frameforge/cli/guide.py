"""``frameforge guide``: full-size printed guides for those who cut or punch by hand."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final

from frameforge.cli.console import print_json, say
from frameforge.cli.options import Option, takes

__all__ = ["command"]

_OWN: Final = {
    "foot": Option("LENGTH", "how wide the foot is: of the motif, or of your punch alone, without a motif"),
    "size": Option("SIZE", "the base: 100mm, 4in, 150x100mm; of a grid how wide it is (left out: the page)"),
    "count": Option("NUMBER", "how many repeats, or spokes of a grid"),
    "page": Option("PAPER", "the paper printed on: A4, Letter, 'A3 landscape', 210x297mm (left out: A4)"),
    "overlap": Option("LENGTH", "how far pages overlap when the guide is larger than one (left out: 10mm)"),
    "grid": Option("", "a bare grid of spokes and circles to lay any cut circle on; with --count"),
}
"""What the options of ``make`` mean here, where that is not the same, and those of this command alone."""


@takes(
    "size", "opening", "rim", "motif", "foot", "count", "gap", "foot_gap", "scale", "lean", "place", "on", "inset",
    "seat", "spread", "mirror", "start", "skip", "keep_free", "free", "white", "lenient", "units", "preset", "name",
    "grid", "page", "overlap", "out", "force", "motifs", "json",
    argument=("recipe", "RECIPE", "a recipe.toml, or an .svg or .dxf that frameforge wrote"), instead=_OWN,
)  # fmt: skip
def command(recipe: str | None, json: bool, **options: Any) -> None:
    """Print full-size guides: where every ornament goes, with spokes, foot marks, numbers and a bar to measure.

    For a motif, or for the foot of a punch alone. A guide larger than the page is parted over several.
    """
    from frameforge.job.guide import guide
    from frameforge.job.guide_order import GuideOrder
    from frameforge.job.motif_options import motifs_folder

    order = GuideOrder(
        recipe=Path(recipe) if recipe else None,
        out=Path(options.pop("out") or "out"),
        page=options.pop("page"),
        overlap=options.pop("overlap"),
        is_grid=options.pop("grid"),
        motifs=motifs_folder(options.pop("motifs")),
        is_lenient=options.pop("lenient"),
        replaces_foreign=options.pop("force"),
        options=options,
    )
    result = guide(order)
    if json:
        print_json(result.as_json())
    say(result.lines(), beside_json=json)
