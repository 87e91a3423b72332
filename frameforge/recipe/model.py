"""The tables of a recipe as values; None stands where nothing was said.

Lengths in mm, areas in mm2, directions clockwise in deg, speeds in mm/s, times in s; scales and ratios are pure.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from frameforge.card.envelope import Envelope
from frameforge.card.preset import FIELD_OF
from frameforge.card.sheet_size import SheetSize
from frameforge.frame.spec import Between, Loose, Place, Seat, Size, Spread, Unknown
from frameforge.frame.text_spec import USUAL_LIMIT_DEG, Along, Reads, Style
from frameforge.machine.allowances import Bridges
from frameforge.recipe.machine_fields import Allowance
from frameforge.recipe.row_fields import Entry, Position
from frameforge.recipe.sheet_fields import Stack
from frameforge.units import LengthUnit

__all__ = [
    "CardTable",
    "FilesTable",
    "FoldTable",
    "HoleTable",
    "LaidTable",
    "LayerTable",
    "LidTable",
    "MotifTable",
    "NamesTable",
    "PieceTable",
    "PresetTable",
    "RecipeTable",
    "RingRowTable",
    "RingsTable",
    "RowTable",
    "SheetsTable",
    "StandTable",
    "Table",
    "TextTable",
]


@dataclass(frozen=True, slots=True)
class CardTable:
    """A colour of card: its preset, single limits in place of the preset's, what is allowed for the machine, and the
    sheets there are of it: ``price`` is one sheet's, ``used`` are files of sheets that were cut from before."""

    preset: str | None = None
    thickness: float | None = None
    least_web: float | None = None
    least_neck: float | None = None
    least_finger: float | None = None
    least_slot: float | None = None
    least_hole: float | None = None
    crumb: float | None = None
    tip: float | None = None
    near_miss: float | None = None
    speed: float | None = None
    passes: int | None = None
    lift_time: float | None = None
    dash: float | None = None
    dash_space: float | None = None
    kerf: Allowance | None = None
    overcut: Allowance | None = None
    lead_in: float | None = None
    sheets: tuple[SheetSize, ...] | None = None
    margin: float | None = None
    apart: float | None = None
    price: float | None = None
    stack: Stack | None = None
    used: tuple[str, ...] = ()

    @property
    def limits(self) -> dict[str, float]:
        """The limits that were written, by the fields of ``Preset`` and in their units."""
        return {field: value for field, value in _limits(self) if field not in ("kerf_mm", "overcut_mm")}


@dataclass(frozen=True, slots=True)
class PresetTable:
    """A preset of the maker's own: the one it is like, and the limits that differ."""

    like: str | None = None
    thickness: float | None = None
    least_web: float | None = None
    least_neck: float | None = None
    least_finger: float | None = None
    least_slot: float | None = None
    least_hole: float | None = None
    crumb: float | None = None
    tip: float | None = None
    near_miss: float | None = None
    kerf: float | None = None
    overcut: float | None = None
    speed: float | None = None
    passes: int | None = None
    lift_time: float | None = None
    dash: float | None = None
    dash_space: float | None = None

    @property
    def limits(self) -> dict[str, float]:
        """The limits that were written, by the fields of ``Preset`` and in their units."""
        return dict(_limits(self))


def _limits(table: CardTable | PresetTable) -> Iterator[tuple[str, Any]]:
    """Yield the field of ``Preset`` and the value of every limit that was written."""
    for key, field_name in FIELD_OF.items():
        value = getattr(table, key)
        if value is not None:
            yield field_name, value


@dataclass(frozen=True, slots=True)
class RowTable:
    """A row of a pattern round an edge."""

    motif: tuple[Entry, ...]
    count: int | Literal["most", "find"] | None = None
    gap: float | Unknown | None = None
    foot_gap: float | None = None
    scale: float | Unknown | None = None
    foot: float | Unknown | None = None
    lean: float = 0.0
    place: Place = "out"
    on: Literal["base", "opening"] | None = None
    inset: float = 0.0
    seat: Seat = "as-drawn"
    between: Between = "keep"
    depth: float | None = None
    spread: Spread | None = None
    mirror: Literal["every-other"] | None = None
    start: tuple[float, bool] = (0.0, False)
    skip: tuple[Position, ...] = ()
    keep_free: tuple[float, float] | None = None
    free: Literal["spread", "leave"] = "spread"
    rest: Literal["spread", "size", "filler"] | None = None
    seam: float | None = None
    filler: str | None = None
    white: Literal["keep", "cuts"] = "keep"
    keep_counters: bool = False
    loose: Loose = "keep"


@dataclass(frozen=True, slots=True)
class RingRowTable:
    """A row on one edge of a set of rings: its size, None for the outermost, and the row itself."""

    on: Size | None
    row: RowTable


@dataclass(frozen=True, slots=True)
class RingsTable:
    """Graduated rings from one sheet: the sizes of their edges, the smallest first, and the rows on them."""

    sizes: tuple[Size, ...]
    name: str | None = None
    card: str | None = None
    preset: str | None = None
    copies: int = 1
    sheet: tuple[SheetSize, ...] | None = None
    clearance: float | None = None
    kerf: Allowance | None = None
    overcut: Allowance | None = None
    lead_in: float | None = None
    bridges: Bridges | None = None
    flip: bool = False
    row: tuple[RingRowTable, ...] = ()


@dataclass(frozen=True, slots=True)
class LayerTable:
    """A further card of a stack: how much wider all round than the one above it (below 0: narrower, and on top of the
    topmost), and what becomes of the opening."""

    card: str
    border: float
    opening: Literal["follow", "same", "closed"] = "follow"


@dataclass(frozen=True, slots=True)
class HoleTable:
    """A round hole: diameter and direction."""

    size: float
    at: float = 0.0


@dataclass(frozen=True, slots=True)
class FoldTable:
    """A tent card: where it is folded, how deep its foot is cut off, how the crease is drawn."""

    depth: float
    at: float = 0.0
    flat: float = 0.0
    crease: Literal["full", "dashed"] = "full"
    dash: float | None = None
    dash_space: float | None = None
    stop: float = 0.0


@dataclass(frozen=True, slots=True)
class TextTable:
    """Words: what they are or which column of a list they come from, and how they are set. ``digest`` is the SHA-256 of
    the font they were set in, in a recipe that a file keeps."""

    words: str | None = None
    column: str | None = None
    along: Along = "rim"
    style: Style = "mark"
    reads: Reads = "outside"
    size: float | None = None
    at: float | None = None
    limit: float = USUAL_LIMIT_DEG
    inset: float | None = None
    font: str | None = None
    digest: str | None = None


@dataclass(frozen=True, slots=True)
class LidTable:
    """A box lid: its wall, a strip with its lap and parts, or a flange with its teeth and crease."""

    height: float
    wall: Literal["strip", "flange"] = "strip"
    lap: float = 10.0
    parts: int = 1
    teeth: int | None = None
    crease: Literal["full", "dashed"] = "full"
    dash: float | None = None
    dash_space: float | None = None
    stop: float = 0.0


@dataclass(frozen=True, slots=True)
class StandTable:
    """A stand: how wide its feet are and how many, how many layers of card stand in them, with how much play."""

    size: float
    feet: int = 2
    layers: int = 1
    play: float = 0.1


@dataclass(frozen=True, slots=True)
class PieceTable:
    """One piece of card."""

    size: Size | Unknown = "find"
    name: str | None = None
    card: str | None = None
    preset: str | None = None
    copies: int = 1
    sheet: tuple[SheetSize, ...] | None = None
    base: Literal["circle", "oval"] | None = None
    ratio: float | None = None
    grow_from: Size | None = None
    goes_in: Envelope | None = None
    opening: Size | None = None
    rim: float | None = None
    kerf: Allowance | None = None
    overcut: Allowance | None = None
    lead_in: float | None = None
    bridges: Bridges | None = None
    flip: bool = False
    test_piece: bool = False
    mend: tuple[str, ...] = ()
    inside: tuple[Size, ...] | None = None
    clearance: float | None = None
    from_opening: str | None = None
    match: Literal["holes", "notches"] | None = None
    row: tuple[RowTable, ...] = ()
    layer: tuple[LayerTable, ...] = ()
    hole: tuple[HoleTable, ...] = ()
    fold: tuple[FoldTable, ...] = ()
    lid: tuple[LidTable, ...] = ()
    stand: tuple[StandTable, ...] = ()
    text: tuple[TextTable, ...] = ()


@dataclass(frozen=True, slots=True)
class FilesTable:
    """Which files are written, and how."""

    formats: tuple[str, ...] | None = None
    dxf: Literal["bulges", "r12", "splines", "lines"] = "bulges"
    dxf_unit: Literal["mm", "in"] = "mm"
    one_path: bool = False
    as_cut: bool = False
    hand_out: bool = False
    split_kinds: bool = True


@dataclass(frozen=True, slots=True)
class LaidTable:
    """Where one copy of a piece lies: the number of its sheet, from 1 for each card, and how far the middle of the
    piece as it is turned (the middle of its upright box) is from that sheet's left and lower edge. ``size`` names the
    sheet where there are several."""

    piece: str
    from_left: float
    from_bottom: float
    sheet: int = 1
    turn: float = 0.0
    size: str | None = None


@dataclass(frozen=True, slots=True)
class SheetsTable:
    """How pieces are laid on sheets; ``sheet`` to ``used`` hold for every card that says nothing of its own. ``laid``
    says where every piece of a card lies; without it that is looked for."""

    sheet: tuple[SheetSize, ...] | None = None
    margin: float | None = None
    apart: float | None = None
    price: float | None = None
    stack: Stack | None = None
    used: tuple[str, ...] = ()
    turn: Literal["free", "quarter", "half", "none"] = "free"
    seed: int | None = None
    tries: int | None = None
    laid: tuple[LaidTable, ...] = ()


@dataclass(frozen=True, slots=True)
class NamesTable:
    """A list of names: its file, the piece that is made once a row, and the columns that set something of it."""

    file: str | None = None
    piece: str | None = None
    text: str | None = None
    card: str | None = None
    size: str | None = None
    count: str | None = None


@dataclass(frozen=True, slots=True)
class MotifTable:
    """An ornament kept in the recipe itself: outlines as ``kept_motif`` writes them."""

    foot: float
    sink: float = 0.0
    stated: bool = True
    join: tuple[tuple[str, ...], ...] = ()
    cut_away: tuple[tuple[str, ...], ...] = ()
    window: tuple[tuple[str, ...], ...] = ()


@dataclass(frozen=True, slots=True)
class RecipeTable:
    """A whole recipe."""

    units: LengthUnit = "mm"
    card: Mapping[str, CardTable] = field(default_factory=dict)
    motif: Mapping[str, MotifTable] = field(default_factory=dict)
    preset: Mapping[str, PresetTable] = field(default_factory=dict)
    files: FilesTable = field(default_factory=FilesTable)
    sheets: SheetsTable | None = None
    names: NamesTable | None = None
    piece: tuple[PieceTable, ...] = ()
    rings: tuple[RingsTable, ...] = ()


Table = (
    RingsTable
    | RingRowTable
    | LaidTable
    | LayerTable
    | RecipeTable
    | CardTable
    | PresetTable
    | MotifTable
    | FilesTable
    | SheetsTable
    | NamesTable
    | PieceTable
    | RowTable
    | HoleTable
    | FoldTable
    | LidTable
    | StandTable
    | TextTable
)
"""Any table of a recipe."""
