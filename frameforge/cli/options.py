"""Every option in one table, named like the recipe's keys, and the parameters a command takes from it."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterable, Mapping
from types import MappingProxyType
from typing import Annotated, Any, Final, NamedTuple

import typer

from frameforge.write.formats import FORMATS

__all__ = ["OPTIONS", "Option", "takes"]


class Option(NamedTuple):
    """One option: what stands behind it ("" for a switch), its help line, whether it may be given more than once."""

    metavar: str
    help: str
    is_many: bool = False


_LENGTH: Final = "LENGTH"

OPTIONS: Final[dict[str, Option]] = {
    "size": Option("SIZE", "the base: 100mm, 4in, '3 1/4 in' for a circle, 150x100mm for an oval; or find"),
    "opening": Option("SIZE", "the hole in the middle: 60mm, or 110x60mm"),
    "rim": Option(_LENGTH, "width of card left round the hole, the same everywhere; instead of --opening"),
    "rings": Option("SIZES", "rings from one sheet, one inside another: '60-140 by 20', or '44, 61, 78 mm'"),
    "layers": Option(
        "'CARD BORDER'", "cards below this one that show an even border: 'cream 5mm, brick 5mm'; -5mm: one on top"
    ),
    "match": Option("HOW", "what matches the cards below the top one: holes or notches, hidden by it (left out: none)"),
    "inside": Option("WHAT", "keep: what is cut out of the opening is a piece too; 40mm: a frame with that opening"),
    "clearance": Option(_LENGTH, "how much smaller all round that piece is, to sit loosely: 0.3mm (left out: 0)"),
    "ratio": Option("NUMBER", "width over height of the oval that --size find looks for: 1.5"),
    "grow_from": Option("SIZE", "the oval that --size find makes wider and higher by the same: 150x100mm"),
    "goes_in": Option("ENVELOPE", "what the piece must go in: C6, 'US A7', 114x162mm, or 76mm for a lid or tin"),
    "base": Option("SHAPE", "circle or oval; needless, the size tells"),
    "motif": Option("NAME", "a motif by name (see frameforge motif list), or your drawing.svg; twice: a pattern", True),
    "count": Option("NUMBER", "how many repeats; most: as many as fit, spread evenly (left out: most); or find"),
    "gap": Option(_LENGTH, "between repeats, and nothing else; at least this, with --count most (left out: 2mm)"),
    "foot_gap": Option(_LENGTH, "between the feet of neighbours; instead of --gap"),
    "scale": Option("NUMBER", "how large the motif is against its drawing: 0.7; or find"),
    "foot": Option(_LENGTH, "how wide the motif's foot is on the edge; instead of --scale; or find"),
    "lean": Option("ANGLE", "how far the motifs lean, clockwise: 15deg"),
    "place": Option(
        "WHERE", "out (outside the edge), in (into the opening), window (cut through) or across (half and half)"
    ),
    "on": Option("EDGE", "base or opening: the edge the motifs stand on; of rings, its size: 100mm"),
    "inset": Option(_LENGTH, "how far in from the edge the motifs stand"),
    "seat": Option("HOW", "as-drawn (the foot sunk into the curve), or bent to follow the edge (left out: as-drawn)"),
    "between": Option(
        "HOW",
        "the edge between: keep, flat, hollow or raised; or level, for what corner motifs leave of it (left out: keep)",
    ),
    "depth": Option(
        _LENGTH,
        "how far a hollow edge goes below the line from foot to foot, or a raised one above it; how far corners sink",
    ),
    "spread": Option("HOW", "on ovals: equal-gap, equal-arc or equal-chord (left out: equal-gap)"),
    "mirror": Option("HOW", "every-other: every second motif is turned over, left to right"),
    "start": Option("ANGLE", "where the first motif sits, clockwise from the top: 15deg; half: a gap at the top"),
    "skip": Option("POSITIONS", "positions left out, from 1 at the top, clockwise: 1,4 or top", is_many=True),
    "keep_free": Option("ZONE", "a zone without motifs: '60deg at top'"),
    "free": Option(
        "HOW", "beside that zone: spread (all of the count go there) or leave (gaps in a whole ring) (left out: spread)"
    ),
    "rest": Option("HOW", "what a gap leaves over: spread, size (another size closes) or filler (a smaller motif)"),
    "seam": Option("WHERE", "where the rest lies: bottom, or degrees clockwise from the top (left out: bottom)"),
    "filler": Option("NAME", "the motif that fills the rest, by name or your drawing.svg (left out: the best)"),
    "text": Option("WORDS", "words on the piece: 'Seed swap'"),
    "along": Option("WHERE", "where the words go: rim or middle (left out: rim)"),
    "as_": Option("HOW", "how the words are made: mark (lines), window (cut through) or join (left out: mark)"),
    "reads": Option("SIDE", "words along the rim are read from outside or inside (left out: outside)"),
    "letter_size": Option(_LENGTH, "how high capitals are (left out: 6mm)"),
    "font": Option("FILE", "a font of your own for the words, .ttf or .otf"),
    "hole": Option("'SIZE WHERE'", "a round hole: '4mm top'", is_many=True),
    "fold": Option("'DEPTH WHERE'", "a tent card, this piece and its mirror image joined at a fold: '10mm top'"),
    "flat": Option(_LENGTH, "how deep a straight foot is cut off opposite the fold: 8mm"),
    "crease": Option("HOW", "how a crease is drawn: full or dashed (left out: full)"),
    "lid": Option("'HEIGHT HOW'", "a box lid and its wall: '20mm strip' to be glued round, or '8mm flange'"),
    "stand": Option("'FEET x WIDTH'", "feet that the piece stands in, with slots for it: '2 x 50mm'"),
    "white": Option("HOW", "near-white shapes in your drawing: keep, or cuts to cut them out of what lies below"),
    "keep_counters": Option("", "windows: keep the islands of card in them, held by ties (left out: they go too)"),
    "loose": Option("HOW", "what nothing holds of a motif: tie it by strips of card, or drop it (left out: refused)"),
    "lenient": Option("", "take what stands before a fault in your drawing, instead of refusing it"),
    "mend": Option("WORDS", "what to mend, by the words of the findings: thin-web,spike; or all"),
    "kerf": Option(_LENGTH, "width the laser burns away: 0.15mm, or preset; 0 for a knife (left out: 0)"),
    "overcut": Option(_LENGTH, "the blade runs on a little past the start: 0.5mm, or preset (left out: 0)"),
    "lead_in": Option(_LENGTH, "the cut starts this far off, in the waste (left out: 0)"),
    "bridges": Option(
        "'HOW MANY'", "short uncut bits that keep the piece in the sheet: '4 x 0.6mm', '0.6mm every 60mm'"
    ),
    "flip": Option("", "for patterned card cut from its back, face down: mirror the lines of the cut files"),
    "test_piece": Option("", "make the test piece of your machine and card, to be cut and measured before all else"),
    "units": Option("UNIT", "unit of bare numbers: mm, cm or in (left out: mm)"),
    "card": Option("COLOUR", "the colour of card, by any name: moss"),
    "preset": Option("NAME", "what card and machine can do (left out: card-240-knife)"),
    "copies": Option("NUMBER", "how many of this piece you mean to cut: for the report, and on the sheets"),
    "sheet": Option("SHEET", "lay all pieces on sheets: A4, 'A4 landscape', 12x12in; more than once", is_many=True),
    "margin": Option(_LENGTH, "kept free at the edge of every sheet (left out: 5mm)"),
    "apart": Option(_LENGTH, "between pieces on a sheet (left out: 3mm)"),
    "turn": Option("HOW", "how pieces may turn on the sheet: free, quarter, half or none (left out: free)"),
    "used": Option("FILE", "a sheet cut from before, to begin on: off-cut.svg; more than once", is_many=True),
    "price": Option("NUMBER", "what one sheet costs: 0.35"),
    "stack": Option("NUMBER", "how many sheets are cut at once, or how deep the cut goes: 3, or 0.9mm"),
    "seed": Option("NUMBER", "another number gives another search for a good layout (left out: 1)"),
    "tries": Option("NUMBER", "how many orders of the pieces are tried: fewer end sooner, more may save a sheet"),
    "name": Option("NAME", "name of the piece and of its files (left out: like arch-17-on-100mm)"),
    "formats": Option("KINDS", f"kinds of file: {','.join(FORMATS)} (left out: all of them)"),
    "dxf": Option("STYLE", "how curves stand in the DXF: bulges, r12, splines or lines (left out: bulges)"),
    "dxf_unit": Option("UNIT", "unit of the DXF: mm or in (left out: mm)"),
    "one_path": Option("", "put all cut lines of a file into a single path"),
    "names": Option("FILE", "a list of names.csv: one piece for each of its rows"),
    "workers": Option("NUMBER", "how many processes make the rows of a list (left out: 1)"),
    "scheduler": Option("ADDRESS", "a dask.distributed cluster that makes them: tcp://127.0.0.1:8786"),
    "hand_out": Option("", "also hand-out.pdf: a page a project with picture, parts, sizes, steps and cautions"),
    "as_cut": Option("", "also a picture of the card left, with every bit to pick out numbered"),
    "one_file": Option("", "write no files of their own for creases and marks"),
    "width": Option(_LENGTH, "how wide it all is, for a cut file that does not say: 200mm"),
    "out": Option("FOLDER", "folder for the files (left out: out; demo: out/demo)"),
    "force": Option("", "replace files that frameforge did not write"),
    "strict": Option("", "make nothing when there is a warning"),
    "motifs": Option("FOLDER", "folder with motifs of your own, looked in first (left out: where motif add puts them)"),
    "port": Option("NUMBER", "the port of the desk on this computer (left out: 8642, or a free one)"),
    "no_open": Option("", "open no browser; the address is printed"),
    "json": Option("", "print one JSON object for other programs"),
}
"""All options offered, in the order of the help."""


def takes(
    *keys: str,
    argument: tuple[str, str, str] | None = None,
    needs_argument: bool = False,
    has_many_arguments: bool = False,
    instead: Mapping[str, Option] = MappingProxyType({}),
) -> Callable[[Callable[..., None]], Callable[..., None]]:
    """Return the decorator that gives a command the named options, all as keywords, and at most one argument.

    ``argument`` is its keyword, what stands for it in the help, and its help line. Texts come as they were typed:
    the recipe checks them. An option that may be repeated gives a tuple, one left out None, () or False;
    ``has_many_arguments`` takes one word or more and gives a tuple too. ``instead`` holds options that mean something
    of their own in this command.
    """

    def decorate(command: Callable[..., None]) -> Callable[..., None]:
        def run(**given: Any) -> None:
            command(**{key: tuple(value) if isinstance(value, list) else value for key, value in given.items()})

        parameters = [*_argument(argument, needs_argument, has_many_arguments), *_options(keys, {**OPTIONS, **instead})]
        run.__doc__ = command.__doc__
        run.__name__ = command.__name__
        run.__signature__ = inspect.Signature(parameters)  # type: ignore[attr-defined]  # read by inspect
        run.__annotations__ = {parameter.name: parameter.annotation for parameter in parameters}
        return run

    return decorate


def _argument(argument: tuple[str, str, str] | None, is_needed: bool, has_many: bool) -> Iterable[inspect.Parameter]:
    """Return the parameter of the one argument of a command, if it has one."""
    if argument is None:
        return []
    name, metavar, line = argument
    if has_many:
        words: Any = Annotated[list[str], typer.Argument(metavar=metavar, help=line)]
        return [inspect.Parameter(name, inspect.Parameter.KEYWORD_ONLY, annotation=words)]
    if is_needed:
        annotation: Any = Annotated[str, typer.Argument(metavar=metavar, help=line)]
        return [inspect.Parameter(name, inspect.Parameter.KEYWORD_ONLY, annotation=annotation)]
    annotation = Annotated[str | None, typer.Argument(metavar=metavar, help=line, show_default=False)]
    return [inspect.Parameter(name, inspect.Parameter.KEYWORD_ONLY, default=None, annotation=annotation)]


def _options(keys: Iterable[str], known: Mapping[str, Option]) -> Iterable[inspect.Parameter]:
    """Yield the parameters of the named options, in their order."""
    for key in keys:
        option, flag = known[key], f"--{key.strip('_').replace('_', '-')}"
        annotation: Any
        default: Any
        if not option.metavar:
            annotation = Annotated[bool, typer.Option(flag, help=option.help, show_default=False)]
            default = False
        else:
            typed = list[str] if option.is_many else str | None
            info = typer.Option(flag, metavar=option.metavar, help=option.help, show_default=False)
            annotation, default = Annotated[typed, info], [] if option.is_many else None
        yield inspect.Parameter(key, inspect.Parameter.KEYWORD_ONLY, default=default, annotation=annotation)
