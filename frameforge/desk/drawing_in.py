"""A drawing that was dropped onto the page: read as every drawing is, kept as curves, never given back as it came."""

from __future__ import annotations

import re
from pathlib import PurePosixPath
from typing import Any, Final

from frameforge.card.preset import load_preset
from frameforge.desk.change import RECIPE_NAME
from frameforge.desk.gallery import shown_motif
from frameforge.desk.paths import refuse_paths
from frameforge.desk.recipe_text import recipe_text
from frameforge.motif.catalogue import USUAL_PRESET
from frameforge.motif.foot import to_motif
from frameforge.read.kept_recipe import kept_recipe
from frameforge.read.svg import read_drawing
from frameforge.recipe.kept_motif import kept_motif
from frameforge.recipe.recipe import parse_toml

__all__ = ["opened_recipe", "with_drawing"]

_LONGEST: Final = 40


def with_drawing(recipe: str, name: str, data: bytes) -> dict[str, Any]:
    """Return the recipe with a drawing among its own motifs, the motif's name in it, and its picture.

    ``name`` is the file's, of which only letters, figures and dashes are kept. Raises InputError for a drawing that
    cannot be understood, and for a recipe that cannot be read.
    """
    raw = parse_toml(recipe, RECIPE_NAME)
    refuse_paths(raw)
    said, where = _plain(name), _shown(name)
    drawing = read_drawing(data, where=where)
    motif = to_motif(drawing, said, least_neck_mm=load_preset(USUAL_PRESET).least_neck_mm, where=where)
    motifs = {**raw.get("motif", {}), said: kept_motif(motif)}
    notes = [*motif.notes, *(finding.say for finding in motif.findings)]
    return {
        "recipe": recipe_text({**raw, "motif": motifs}),
        "motif": said,
        "shown": shown_motif(motif),
        "notes": notes,
    }


def opened_recipe(name: str, data: bytes) -> dict[str, Any]:
    """Return the recipe text of a file: of a recipe, or of an SVG or DXF that keeps one. Raises InputError."""
    said = _shown(name)
    if name.lower().endswith((".svg", ".dxf")):
        return {"recipe": kept_recipe(data, where=said)}
    text = data.decode("utf-8-sig", errors="replace")
    parse_toml(text, said)
    return {"recipe": text}


def _plain(name: str) -> str:
    """Return the name of a file as a motif's name: "My Daisy (2).svg" is my-daisy-2."""
    stem = PurePosixPath(name.replace("\\", "/")).name.rsplit(".", 1)[0].lower()
    return re.sub(r"[^a-z0-9]+", "-", stem).strip("-")[:_LONGEST] or "drawing"


def _shown(name: str) -> str:
    """Return the name of a file as it is told: letters, figures and dashes, and its ending."""
    ending = re.sub(r"[^a-z0-9.]", "", PurePosixPath(name).suffix.lower())
    return f"{_plain(name)}{ending[:5]}"
