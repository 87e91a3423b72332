"""The keys of a recipe, what each may hold, and the nearest known word to one that is not known."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from typing import Final

from frameforge.write.formats import FORMATS

__all__ = ["ALLOWED", "KEYS", "SYNONYMS", "allowed_say", "nearest"]

_FORMATS: Final = ", ".join(f'"{kind}"' for kind in FORMATS)
_LENGTH: Final = 'a length, for example 57mm, 4in or "2 1/4 in"'
_FLIP: Final = "true or false: whether the card is cut from its back, face down on the machine"
_OR_PRESET: Final = 'a length such as 0.15mm, or "preset" for what the preset says'

_LIMITS: Final = {
    "thickness": _LENGTH,
    "least_web": _LENGTH,
    "least_neck": _LENGTH,
    "least_finger": _LENGTH,
    "least_slot": _LENGTH,
    "least_hole": _LENGTH,
    "crumb": "square millimetres, for example 4",
    "tip": "an angle from 0 to 90, for example 20deg",
    "near_miss": _LENGTH,
    "speed": "millimetres a second, for example 20",
    "passes": "a whole number from 1 to 20",
    "lift_time": "seconds, for example 0.5",
    "dash": _LENGTH,
    "dash_space": _LENGTH,
}

_CREASE: Final = {
    "crease": '"full" or "dashed"',
    "dash": f"{_LENGTH}: how long the dashes of a dashed crease are",
    "dash_space": f"{_LENGTH}: how much card stays between two dashes of a crease",
    "stop": f"{_LENGTH}: how far the crease stops short of the edge",
}

_SHEETS: Final = 'sheets by name or size, for example "A4", "12x12in" or [304.8, 304.8], or a list of them'
_OF_SHEETS: Final = {
    "margin": f"{_LENGTH}; kept free at the edge of every sheet",
    "apart": f"{_LENGTH}; kept between pieces on a sheet",
    "price": "what one sheet costs, a number such as 0.35",
    "stack": 'how many sheets are cut at once, for example 3, or how deep the cut goes ("0.9mm")',
    "used": 'the file of a sheet that was cut from before, for example "off-cut.svg", or a list of such files',
}

ALLOWED: Final[dict[str, dict[str, str]]] = {
    "recipe": {
        "units": '"mm", "cm" or "in"',
        "card": "tables such as [card.sand]",
        "piece": "tables written [[piece]]",
        "rings": "tables written [[rings]]",
        "files": "a table [files]",
        "sheets": "a table [sheets]",
        "names": "a table [names]",
        "motif": "tables such as [motif.daisy], as frameforge keeps them in its files",
        "preset": "tables such as [preset.my-laser]",
    },
    "card": {
        "preset": 'a preset by name, for example "card-240-knife"',
        **_LIMITS,
        "kerf": _OR_PRESET,
        "overcut": _OR_PRESET,
        "lead_in": _LENGTH,
        "sheets": _SHEETS,
        **_OF_SHEETS,
    },
    "sheets": {
        "sheet": _SHEETS,
        **_OF_SHEETS,
        "turn": '"free", "quarter", "half" or "none": how pieces may be turned on the sheet',
        "seed": "a whole number from 0 on: another one gives another search",
        "tries": "how many orders of the pieces are tried, a whole number from 0 on",
        "laid": "tables written [[sheets.laid]], one for each piece of a card, that say where it lies",
    },
    "laid": {
        "piece": 'the name of a piece, for example "badge"',
        "sheet": "the number of the sheet, from 1 for each card",
        "size": 'which of several sheets it is, by name or size, for example "A4"',
        "from_left": f"{_LENGTH}: from the left edge of the sheet to the middle of the piece as it lies",
        "from_bottom": f"{_LENGTH}: from the lower edge of the sheet to the middle of the piece as it lies",
        "turn": "an angle clockwise, for example 90deg",
    },
    "names": {
        "file": 'the list, for example "names.csv"',
        "piece": "which piece is made once a row, by its name",
        "text": "the heading of the column with the words",
        "card": "the heading of the column with the colour of card",
        "size": "the heading of the column with the size",
        "count": "the heading of the column with the count of the first row of motifs",
    },
    "preset": {
        "like": 'the preset whose limits hold where nothing is said here, for example "card-240-laser"',
        **_LIMITS,
        "kerf": _LENGTH,
        "overcut": _LENGTH,
    },
    "piece": {
        "name": 'a name that can stand as a file name, for example "invitation"',
        "card": 'a colour of card by name, for example "moss"',
        "preset": 'a preset by name, for example "card-240-knife"',
        "copies": "a whole number from 1 to 9999",
        "sheet": 'a sheet by name or size, for example "A4" or "12x12in"',
        "base": '"circle" or "oval"',
        "size": '100mm for a circle, 150x100mm for an oval, or "find"',
        "ratio": "width over height of the oval to be found, for example 1.5",
        "grow_from": "the oval that grows by the same on both axes, for example 150x100mm",
        "goes_in": 'an envelope or sheet by name ("C6", "US A7"), a box (114x162mm), or a lid by its width (76mm)',
        "opening": "60mm for a round hole in the middle, 110x60mm for an oval one",
        "rim": _LENGTH,
        "kerf": _OR_PRESET,
        "overcut": _OR_PRESET,
        "lead_in": _LENGTH,
        "bridges": 'how many and how wide, for example "4 x 0.6mm", or "0.6mm every 60mm"',
        "flip": _FLIP,
        "test_piece": "true or false",
        "mend": '"all", or words of findings, for example ["thin-web", "spike"]',
        "row": "tables written [[piece.row]]",
        "inside": '"keep": what is cut out of the opening is a piece too; or how large an opening that has, say 40mm',
        "clearance": f"{_LENGTH}: how much smaller all round than the opening that piece is, so that it sits loosely",
        "from_opening": "the name of another piece: this one is made to go into its opening",
        "match": '"holes" or "notches", in the cards below the top one',
        "layer": "tables written [[piece.layer]]",
        "hole": "tables written [[piece.hole]]",
        "fold": "a table written [[piece.fold]]",
        "lid": "a table written [[piece.lid]]",
        "stand": "a table written [[piece.stand]]",
        "text": "tables written [[piece.text]]",
    },
    "row": {
        "motif": 'a motif by name ("arch"), an SVG file ("daisy.svg"), or a list of them',
        "count": 'a whole number from 1 to 2000, "most" or "find"',
        "gap": f'{_LENGTH}, or "find"',
        "foot_gap": _LENGTH,
        "scale": 'a number such as 0.7, above 0 and up to 100, or "find"',
        "foot": f'{_LENGTH}, or "find"',
        "lean": "an angle such as 15deg, clockwise",
        "place": '"out", "in", "window" or "across"',
        "on": '"base" or "opening"',
        "inset": _LENGTH,
        "seat": '"as-drawn" or "bent"',
        "between": '"keep", "flat", "level", "hollow" or "raised"',
        "depth": f"{_LENGTH}: how far a hollow edge goes below the line from foot to foot, how far a raised one goes "
        "above it (its rise), or how far the tips of corner motifs sink in",
        "spread": '"equal-gap", "equal-arc" or "equal-chord"',
        "mirror": '"every-other"',
        "start": 'an angle such as "15deg", or "half"',
        "skip": 'positions from 1 at the top, clockwise, or "top", "right", "bottom", "left"',
        "keep_free": 'a zone without motifs, for example "60deg at top"',
        "free": '"spread" (the rest spreads over what is left of the edge) or "leave" (it stays where it is)',
        "rest": '"spread" (all gaps alike), "size" (another size closes) or "filler" (a smaller motif at the seam)',
        "seam": 'where the rest lies: "top", "right", "bottom", "left", or degrees clockwise from the top',
        "filler": 'the motif that fills the rest, by name ("scallop") or an SVG file ("daisy.svg")',
        "white": '"keep" or "cuts"',
        "keep_counters": "true or false: whether windows keep the islands of card in them, held by ties",
        "loose": '"keep" (the piece is refused), "tie" (held by strips of card) or "drop" (left out)',
    },
    "text": {
        "words": 'the words, for example "Seed swap"',
        "column": 'a heading of the list of names, for example "name"',
        "along": '"rim" or "middle"',
        "as": '"mark" (lines), "window" (cut through, with ties) or "join" (letters that stand on the edge)',
        "reads": '"outside" or "inside": from which side of the edge the words are read',
        "size": f"{_LENGTH}: how high capitals are",
        "at": 'where their middle lies: "top", "bottom", "left", "right", or degrees clockwise from the top',
        "limit": "how much of a round edge they take at most, for example 240deg",
        "inset": f"{_LENGTH}: from the edge to the middle of the capitals",
        "font": 'a font of your own, for example "Mine.ttf"',
        "digest": "which font the words were set in, as a file keeps it; leave it out for another font",
    },
    "layer": {
        "card": 'a colour of card by name, for example "cream"',
        "border": f"{_LENGTH}: how much of this card shows round the one above it; below 0 it lies on top, and so much "
        "of the card below it shows",
        "opening": '"follow" (the border shows in the opening too), "same" (as the card before) or "closed"',
    },
    "rings": {
        "sizes": 'the sizes of all edges, "60-140 by 20", "44, 61, 78 mm" or [60, 80, 100]',
        "name": 'a name that can stand as a file name, for example "rings"',
        "card": 'a colour of card by name, for example "brick"',
        "preset": 'a preset by name, for example "card-240-knife"',
        "copies": "a whole number from 1 to 9999",
        "sheet": _SHEETS,
        "clearance": _LENGTH,
        "kerf": _OR_PRESET,
        "overcut": _OR_PRESET,
        "lead_in": _LENGTH,
        "bridges": 'how many and how wide, for example "4 x 0.6mm", or "0.6mm every 60mm"',
        "flip": _FLIP,
        "row": "tables written [[rings.row]]",
    },
    "hole": {
        "size": _LENGTH,
        "at": '"top", "right", "bottom", "left", or degrees clockwise from the top',
    },
    "fold": {
        "depth": f"{_LENGTH}: how far in from the edge the card is folded",
        "at": '"top", "right", "bottom", "left", or degrees clockwise from the top',
        "flat": f"{_LENGTH}: how deep a straight foot is cut off at the opposite side",
        **_CREASE,
    },
    "lid": {
        "height": f"{_LENGTH}: how high the wall of the lid is",
        "wall": '"strip" (a strip of card glued round) or "flange" (teeth folded down all round)',
        "lap": f"{_LENGTH}: how much the ends of the strip overlap",
        "parts": "a whole number from 1 to 9999: in how many parts the strip is cut",
        "teeth": "a whole number from 6 to 720: how many teeth the flange has",
        **_CREASE,
    },
    "stand": {
        "size": f"{_LENGTH}: how wide a foot is",
        "feet": "a whole number from 1 to 4",
        "layers": "a whole number from 1 to 20: how many layers of card stand in a foot",
        "play": "a length from 0 to 2 mm: how much wider a slot is than the card in it",
    },
    "files": {
        "formats": f"{_FORMATS} or several of them",
        "dxf": '"bulges", "r12", "splines" or "lines"',
        "dxf_unit": '"mm" or "in"',
        "one_path": "true or false",
        "as_cut": "true or false: whether a picture numbers the bits to pick out",
        "hand_out": "true or false: whether a page for those who cut and glue is printed, one a project",
        "split_kinds": "true or false: a file for each kind of line too, or one file for all",
    },
    "motif": {
        "foot": _LENGTH,
        "sink": _LENGTH,
        "stated": "true or false",
        "join": "outlines as frameforge writes them",
        "cut_away": "outlines as frameforge writes them",
        "window": "outlines as frameforge writes them",
    },
}
"""For each table of a recipe: its keys, in the order they are listed for the maker, and what each may hold."""

ALLOWED["ring_row"] = {**ALLOWED["row"], "on": "the size of the edge the motifs stand on, one of the rings' sizes"}

KEYS: Final = {table: tuple(keys) for table, keys in ALLOWED.items()}
"""For each table of a recipe, its keys."""

SYNONYMS: Final[dict[str, tuple[str, ...]]] = {
    "color": ("card",),
    "colors": ("card",),
    "colour": ("card",),
    "colours": ("card",),
    "paper": ("card",),
    "stock": ("card", "preset"),
    "material": ("preset",),
    "machine": ("preset",),
    "diameter": ("size",),
    "dia": ("size",),
    "width": ("size",),
    "radius": ("size",),
    "big": ("size",),
    "number": ("count",),
    "repeats": ("count",),
    "repeat": ("count",),
    "times": ("count", "copies"),
    "n": ("count",),
    "amount": ("count", "copies"),
    "quantity": ("copies",),
    "pieces": ("copies",),
    "offset": ("border", "rim"),
    "band": ("rim",),
    "ring": ("rings", "rim"),
    "spacing": ("gap",),
    "space": ("gap",),
    "distance": ("gap",),
    "middle": ("opening",),
    "center": ("opening",),
    "centre": ("opening",),
    "cutout": ("opening",),
    "inside": ("opening",),
    "ornament": ("motif",),
    "shape": ("motif", "base"),
    "pattern": ("motif",),
    "drawing": ("motif",),
    "leaf": ("motif",),
    "edge": ("motif", "on"),
    "side": ("place",),
    "position": ("place", "at"),
    "where": ("place", "at"),
    "rotate": ("start",),
    "rotation": ("start",),
    "angle": ("start", "at"),
    "turned": ("start",),
    "alternate": ("mirror",),
    "leave-out": ("skip",),
    "omit": ("skip",),
    "except": ("skip",),
    "factor": ("scale",),
    "title": ("name",),
    "label": ("name",),
    "output": ("out",),
    "folder": ("out",),
    "dir": ("out",),
    "directory": ("out",),
    "overwrite": ("force",),
    "replace": ("force",),
    "format": ("formats",),
    "type": ("formats",),
    "hanger": ("hole",),
    "offsets": ("layers", "layer"),
    "mats": ("layers", "layer"),
    "mat": ("layers", "layer"),
    "stacked": ("layers", "layer"),
    "nested": ("rings",),
    "concentric": ("rings",),
    "play": ("clearance",),
    "tolerance": ("clearance",),
    "register": ("match",),
    "registration": ("match",),
    "score": ("crease",),
    "tent": ("fold",),
    "easel": ("stand",),
    "box": ("lid",),
}
"""Everyday words for our keys, those asked for first come first; a key that is not offered is passed over."""


def nearest(word: str, known: Iterable[str]) -> tuple[str, ...]:
    """Return the known words that ``word`` may stand for: by everyday use, else the one spelt most alike, else none."""
    choices = {name.replace("_", "-"): name for name in known}
    plain = word.strip().lower().lstrip("-").replace("_", "-")
    if plain in choices:
        return (choices[plain],)
    meant = tuple(choices[name] for name in SYNONYMS.get(plain, ()) if name in choices)
    if meant:
        return meant
    near = difflib.get_close_matches(plain, choices, n=1, cutoff=0.6)
    if near:
        return (choices[near[0]],)
    longer = [name for name in choices if len(plain) > 2 and (name.startswith(plain) or plain.startswith(name))]
    return tuple(choices[name] for name in sorted(longer)[:1])


def allowed_say(table: str, key: str) -> str:
    """Return the sentence that says what a key may hold."""
    return f"Write {ALLOWED[table][key]}."
