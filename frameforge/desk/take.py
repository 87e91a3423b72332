"""The files of a recipe: put into the chosen folder, or in one archive, with the bytes that the commands write."""

from __future__ import annotations

import io
import tempfile
import zipfile
from pathlib import Path
from typing import Final

from frameforge.desk.change import RECIPE_NAME, checked
from frameforge.desk.fonts import check_fonts
from frameforge.desk.on_sheets import LAYOUTS
from frameforge.desk.question import Tell
from frameforge.errors import FrameforgeError
from frameforge.job.kept_layouts import keeping_layouts
from frameforge.job.made import Made
from frameforge.job.make import MakeOrder, make_recipe
from frameforge.job.motif_source import MotifSource

__all__ = ["archive", "put"]

_LONG_AGO: Final = (1980, 1, 1, 0, 0, 0)
"""The date of every file in an archive, the earliest that the format knows: same pieces, same bytes."""


def put(recipe_text: str, out: Path, source: MotifSource, tell: Tell, *, has_guide: bool = False) -> list[str]:
    """Write the files of a recipe into ``out`` and return what is said of them; ``has_guide`` adds its guides.

    Raises what the commands raise, and then wrote nothing.
    """
    if not has_guide:
        return _made(recipe_text, out, source, tell).lines()
    with tempfile.TemporaryDirectory(prefix="frameforge-") as folder:
        # A guide that cannot be made is known before anything is written.
        _guide(recipe_text, Path(folder), Path(folder) / "out", source.folder, tell)
        said = _made(recipe_text, out, source, tell).lines()
        return [*said, *_guide(recipe_text, Path(folder), out, source.folder, tell)]


def archive(recipe_text: str, source: MotifSource, tell: Tell, *, has_guide: bool = False) -> tuple[str, bytes]:
    """Return the name and the bytes of a zip archive with the files of a recipe, as ``make`` leaves them in a folder.

    ``has_guide`` adds those that ``guide`` then puts beside them. Raises what the commands raise.
    """
    with tempfile.TemporaryDirectory(prefix="frameforge-") as folder:
        out = Path(folder) / "out"
        made = _made(recipe_text, out, source, tell)
        if has_guide:
            _guide(recipe_text, Path(folder), out, source.folder, tell)
        files = _files(out)
    name = made.pieces[0].name if len(made.pieces) == 1 else "pieces"
    return f"{name}.zip", _zipped(files)


def _guide(recipe_text: str, folder: Path, out: Path, motifs: Path | None, tell: Tell) -> list[str]:
    """Write the guides of a recipe into ``out`` and return what is said of them; ``folder`` is gone afterwards."""
    from frameforge.job.guide import guide  # here, since few ask for one
    from frameforge.job.guide_order import GuideOrder

    recipe = folder / f"{RECIPE_NAME}.toml"
    recipe.write_text(recipe_text, encoding="utf-8")
    try:
        return guide(GuideOrder(recipe=recipe, options={}, out=out, motifs=motifs), tell).lines()
    except FrameforgeError as fault:
        # The maker knows of no such folder.
        fault.lines = tuple(line.replace(recipe.as_posix(), RECIPE_NAME) for line in fault.lines)
        raise


def _files(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


def _made(recipe_text: str, out: Path, source: MotifSource, tell: Tell) -> Made:
    order = MakeOrder(recipe=source.beside / "recipe.toml", options={}, out=out, motifs=source.folder)
    recipe = checked(recipe_text)
    check_fonts(recipe, source.beside)
    with keeping_layouts(LAYOUTS):
        return make_recipe(recipe, order, tell)


def _zipped(files: dict[str, bytes]) -> bytes:
    """Return an archive of files by their names."""
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as whole:
        for name, data in files.items():
            whole.writestr(zipfile.ZipInfo(name, _LONG_AGO), data, zipfile.ZIP_DEFLATED)
    return held.getvalue()
