"""The files of a recipe: put into the chosen folder, or in one archive, with the bytes that the commands write."""

from __future__ import annotations

import io
import tempfile
import zipfile
from pathlib import Path
from typing import Final

from frameforge.desk.change import RECIPE_NAME, checked
from frameforge.desk.on_sheets import LAYOUTS
from frameforge.desk.question import Tell
from frameforge.errors import FrameforgeError
from frameforge.job.kept_layouts import keeping_layouts
from frameforge.job.made import Made
from frameforge.job.make import MakeOrder, make_recipe
from frameforge.job.motif_source import MotifSource

__all__ = ["archive", "guide_archive", "put"]

_LONG_AGO: Final = (1980, 1, 1, 0, 0, 0)
"""The date of every file in an archive, the earliest that the format knows: same pieces, same bytes."""


def put(recipe_text: str, out: Path, source: MotifSource, tell: Tell) -> list[str]:
    """Write the files of a recipe into ``out`` and return what is said of them.

    Raises what the command raises, and then wrote nothing.
    """
    return _made(recipe_text, out, source, tell).lines()


def archive(recipe_text: str, source: MotifSource, tell: Tell, *, has_guide: bool = False) -> tuple[str, bytes]:
    """Return the name and the bytes of a zip archive with the files of a recipe, as ``make`` leaves them in a folder.

    ``has_guide`` adds those that ``guide`` then puts beside them. Raises what the commands raise.
    """
    with tempfile.TemporaryDirectory(prefix="frameforge-") as folder:
        out = Path(folder) / "out"
        made = _made(recipe_text, out, source, tell)
        if has_guide:
            tell(len(made.pieces), len(made.pieces), "the guide to cut by hand")
            _guide(recipe_text, Path(folder), source.folder)
        files = _files(out)
    name = made.pieces[0].name if len(made.pieces) == 1 else "pieces"
    return f"{name}.zip", _zipped(files)


def guide_archive(recipe_text: str, motifs: Path | None) -> tuple[str, bytes]:
    """Return the name and the bytes of a zip archive with the full-size guides of a recipe, as ``guide`` writes them.

    ``motifs`` is the folder of the maker's own. Raises what the command raises.
    """
    checked(recipe_text)
    with tempfile.TemporaryDirectory(prefix="frameforge-") as folder:
        first = _guide(recipe_text, Path(folder), motifs)
        files = _files(Path(folder) / "out")
    return f"{Path(first).stem}.zip", _zipped(files)


def _guide(recipe_text: str, folder: Path, motifs: Path | None) -> str:
    """Write the guides of a recipe into the "out" of a folder that is gone afterwards; return the first one's name."""
    from frameforge.job.guide import guide  # here, since few ask for one
    from frameforge.job.guide_order import GuideOrder

    recipe = folder / f"{RECIPE_NAME}.toml"
    recipe.write_text(recipe_text, encoding="utf-8")
    try:
        return guide(GuideOrder(recipe=recipe, options={}, out=folder / "out", motifs=motifs)).files[0]
    except FrameforgeError as fault:
        # The maker knows of no such folder.
        fault.lines = tuple(line.replace(recipe.as_posix(), RECIPE_NAME) for line in fault.lines)
        raise


def _files(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


def _made(recipe_text: str, out: Path, source: MotifSource, tell: Tell) -> Made:
    order = MakeOrder(recipe=source.beside / "recipe.toml", options={}, out=out, motifs=source.folder)
    with keeping_layouts(LAYOUTS):
        return make_recipe(checked(recipe_text), order, tell)


def _zipped(files: dict[str, bytes]) -> bytes:
    """Return an archive of files by their names."""
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as whole:
        for name, data in files.items():
            whole.writestr(zipfile.ZipInfo(name, _LONG_AGO), data, zipfile.ZIP_DEFLATED)
    return held.getvalue()
