"""``frameforge check`` and ``frameforge mend``: cut files of any make looked at, and mended."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from frameforge.cli.console import print_json, say
from frameforge.cli.options import Option, takes
from frameforge.cli.progress import progress
from frameforge.cli.retyped import retyped

if TYPE_CHECKING:
    from frameforge.job.checked_file import Checked

__all__ = ["check_command", "mend_command"]

_OWN: Final = {
    "strict": Option("", "exit with 3 when there is a warning"),
    "sheet": Option("SHEET", "the sheet that all of a file must lie on: A4, 'A4 landscape', 12x12in"),
    "margin": Option("LENGTH", "kept free at the edge of that sheet (left out: 5mm)"),
}
"""What an option of ``make`` means here, where that is not the same."""

_FILES = ("files", "FILE", "cut files (.svg, .dxf), or recipes (.toml)")
_CUT_FILES = ("files", "FILE", "cut files (.svg, .dxf)")


@takes(
    "preset",
    "width",
    "goes_in",
    "sheet",
    "margin",
    "out",
    "force",
    "strict",
    "motifs",
    "json",
    argument=_FILES,
    has_many_arguments=True,
    instead=_OWN,
)
def check_command(files: tuple[str, ...], json: bool, **options: Any) -> None:
    """Look for what cannot be cut or will not hold.

    In recipes, and in cut files of any make. A picture of each file, with every place numbered as in the list, is put
    into the folder of --out.
    """
    _run(files, json, options, mends=None)


@takes(
    "mend",
    "preset",
    "width",
    "out",
    "force",
    "strict",
    "json",
    argument=_CUT_FILES,
    has_many_arguments=True,
    instead=_OWN,
)
def mend_command(files: tuple[str, ...], json: bool, mend: str | None, **options: Any) -> None:
    """Mend cut files of any make.

    They are written anew into the folder of --out. Left out, --mend means all that can be mended.
    The files named stay as they are.
    """
    _run(files, json, options, mends=mend or "all")


def _run(files: tuple[str, ...], json: bool, options: dict[str, Any], mends: str | None) -> None:
    """Run a check or a mend, and say what came of it."""
    from frameforge.job.check import CheckOrder, check
    from frameforge.job.motif_options import motifs_folder

    order = CheckOrder(
        files=[Path(file) for file in files],
        out=Path(options["out"] or "out"),
        preset=options["preset"],
        width=options["width"],
        goes_in=options.get("goes_in"),
        sheet=options.get("sheet"),
        margin=options.get("margin"),
        mends=mends,
        motifs=motifs_folder(options["motifs"]) if "motifs" in options else None,
        replaces_foreign=options["force"],
        refuses_warnings=options["strict"],
    )
    with progress() as report:
        result = check(order, report)
    if json:
        print_json(result.as_json())
    say([*result.lines(), *(_offer(result, options) if mends is None else ())], beside_json=json)


def _offer(result: Checked, typed: dict[str, Any]) -> list[str]:
    """Return the line to type to have mended what can be mended; none where there is no such thing."""
    if not result.mendable:
        return []
    options = {key: typed[key] for key in ("preset", "width")} | {"out": "mended"}
    return ["To mend what can be mended:", f"  {retyped('mend', result.mendable, options)}"]
