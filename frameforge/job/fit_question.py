"""What ``fit`` is asked: the sizes and the counts to be told of, and the row they are told for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

from frameforge.card.preset import Preset
from frameforge.errors import InputError
from frameforge.frame.fit import default_gap_mm
from frameforge.frame.model import RowModel
from frameforge.frame.solve import MOST_REPEATS
from frameforge.frame.spec import RowSpec, Size
from frameforge.job.motif_source import MotifSource
from frameforge.job.presets import find_preset
from frameforge.motif.bare_foot import BARE_FOOT, bare_foot
from frameforge.motif.catalogue import USUAL_PRESET
from frameforge.motif.motif import Motif
from frameforge.recipe.from_options import with_options
from frameforge.recipe.model import RowTable
from frameforge.recipe.recipe import Recipe, check_recipe
from frameforge.recipe.slips import slip_lines
from frameforge.recipe.source import Source
from frameforge.recipe.to_spec import to_spec
from frameforge.units import is_in_inches

__all__ = ["INCH_SIZES", "MM_SIZES", "MOST_ANSWERS", "FitOrder", "FitQuestion", "bare_row", "read_question"]

MM_SIZES: Final = tuple(range(50, 201, 10))
"""Circles told of where neither size nor count is asked, mm."""

INCH_SIZES: Final = (2.25, 3.0, 3.5, 4.0, 4.5, 5.0, 5.5, 6.0, 6.5)
"""The same for makers who type inches."""

MOST_ANSWERS: Final = 400
"""Sizes times counts that one chart takes; nobody reads a larger one."""

_OPEN: Final = ("find", "most")
_BOTH: Final = "both"
_LENGTHS: Final = ("foot", "gap", "foot_gap", "opening", "rim", "inset", "grow_from")
_COMMAND: Final = "fit"


@dataclass(frozen=True, slots=True)
class FitOrder:
    """What was typed: options by key as texts, where files go, where motifs may be, how foreign files are treated."""

    options: Mapping[str, Any]
    out: Path
    motifs: Path | None = None
    is_lenient: bool = False
    replaces_foreign: bool = False


@dataclass(frozen=True, slots=True)
class FitQuestion:
    """A row and what is to be told of it: every size with every count; None stands for one to be found.

    ``typed`` are the sizes as they can be typed again, in the same order. ``is_bare`` tells that a foot without a motif
    is asked about, ``in_inches`` that the maker thinks in inches, ``is_default`` that the sizes are ours,
    ``is_compared`` that both seats are to be told of side by side.
    """

    model: RowModel
    sizes: tuple[Size | None, ...]
    typed: tuple[str | None, ...]
    counts: tuple[int | None, ...]
    is_bare: bool
    in_inches: bool
    is_default: bool
    is_compared: bool = False
    notes: tuple[str, ...] = ()

    @property
    def row(self) -> RowSpec:
        """The row as it was asked, its count left open."""
        return self.model.row

    @property
    def preset(self) -> Preset:
        """The limits of card and machine."""
        return self.model.preset

    @property
    def is_single(self) -> bool:
        """Whether one size and one count at most are asked: a statement that holds or is refused, and no chart."""
        return len(self.sizes) * len(self.counts) == 1

    @property
    def stated_gap_mm(self) -> float | None:
        """The gap, or foot gap, that was asked for; None for none."""
        for gap in (self.row.foot_gap_mm, self.row.gap_mm):
            if isinstance(gap, int | float):
                return float(gap)
        return None

    @property
    def wanted_gap_mm(self) -> float:
        """The gap asked for, or the one that is taken where none was."""
        stated = self.stated_gap_mm
        return default_gap_mm(self.model) if stated is None else stated


def read_question(order: FitOrder) -> FitQuestion:
    """Return what was asked. Raises InputError with every fault, FileError for a drawing that cannot be read."""
    options = {key: value for key, value in order.options.items() if value not in (None, False, (), [])}
    is_bare = "motif" not in options
    if is_bare:
        _check_bare(options)
        options["motif"] = (BARE_FOOT,)
    is_compared = str(options.get("seat", "")).strip().lower() == _BOTH
    if is_compared:
        del options["seat"]
    in_inches = _in_inches(options)
    asked_sizes = _asked(options.pop("size", ()), "size")
    counts = _asked(options.pop("count", ()), "count")
    is_default = not asked_sizes and not counts
    sizes = _default_sizes(in_inches=in_inches) if is_default else asked_sizes or ("find",)
    recipes, by_count = _checked(options, sizes, counts or (None,))
    first = recipes[0]
    preset = _preset(first)
    foot = first.pieces[0].row[0].foot
    source = MotifSource(Path(), order.motifs, order.is_lenient)

    def load(name: str, row: RowTable, where: str) -> Motif:
        if is_bare:
            return bare_foot(foot if isinstance(foot, int | float) else 1.0)
        return source.load(name, row, where, least_neck_mm=preset.least_neck_mm)

    spec = to_spec(first, 0, _COMMAND, load)
    row = bare_row(spec.rows[0]) if is_bare else spec.rows[0]
    model = RowModel(replace(spec, rows=(row,)), replace(row, count=None), preset)
    found = [recipe.pieces[0].size for recipe in recipes]
    return FitQuestion(
        model=model,
        sizes=tuple(None if isinstance(size, str) else size for size in found),
        typed=tuple(None if size == "find" else size for size in sizes),
        counts=tuple(_number(recipe.pieces[0].row[0].count) for recipe in by_count),
        is_bare=is_bare,
        in_inches=in_inches,
        is_default=is_default,
        is_compared=is_compared,
        notes=tuple(dict.fromkeys(line for recipe in recipes for line in slip_lines(recipe))),
    )


def _check_bare(options: Mapping[str, Any]) -> None:
    """Refuse what a foot alone cannot answer."""
    if "foot" not in options:
        say = "neither a motif nor a foot. Add --motif, for example --motif arch, or --foot 20mm."
        raise InputError(say, where=_COMMAND, code="no-motif")
    if str(options.get("place", "out")).strip().lower() in ("window", "across"):
        say = "a foot alone stands out or in; a motif is needed for this. Add --motif, for example --motif arch."
        raise InputError(say, where=f'{_COMMAND}, --place "{options["place"]}"', code="no-motif")


def bare_row(row: RowSpec) -> RowSpec:
    """Return the row of bare feet: its gap is the one between them."""
    if isinstance(row.gap_mm, int | float):
        return replace(row, gap_mm=None, foot_gap_mm=row.gap_mm)
    return row


def _asked(texts: Sequence[str], key: str) -> tuple[str, ...]:
    """Return the sizes or counts asked for, in their order; none where one is to be found.

    Raises InputError where some are stated and another is to be found.
    """
    stated = tuple(text.strip() for text in texts if text.strip().lower() not in _OPEN)
    if stated and len(stated) != len(texts):
        say = f"{key}s that are stated and one to be found do not go together. Leave out one kind."
        raise InputError(say, where=f"{_COMMAND}, --{key}", code="open-twice")
    return stated


def _default_sizes(*, in_inches: bool) -> tuple[str, ...]:
    return tuple(f"{inches:g}in" for inches in INCH_SIZES) if in_inches else tuple(f"{mm}mm" for mm in MM_SIZES)


def _in_inches(options: Mapping[str, Any]) -> bool:
    """Whether the maker types inches."""
    if "units" in options:
        return str(options["units"]).strip().lower() == "in"
    typed = [str(options[key]) for key in _LENGTHS if key in options]
    return any(is_in_inches(text) for text in (*typed, *options.get("size", ())))


def _checked(
    options: Mapping[str, Any], sizes: Sequence[str], counts: Sequence[str | None]
) -> tuple[list[Recipe], list[Recipe]]:
    """Return a recipe for each size (with the first count) and one for each count (with the first size).

    Raises InputError with every fault of them all, each line once.
    """
    if len(sizes) * len(counts) > MOST_ANSWERS:
        say = f"{len(sizes)} sizes times {len(counts)} counts are more than the {MOST_ANSWERS} that one chart takes."
        raise InputError(f"{say} Ask for fewer at a time.", where=_COMMAND, code="range")
    faults: dict[str, InputError] = {}

    def recipe(size: str, count: str | None) -> Recipe | None:
        given = {**options, "size": size, **({} if count is None else {"count": count})}
        try:
            return check_recipe(*with_options({}, Source("", command=_COMMAND), given))
        except InputError as fault:
            faults.update(dict.fromkeys(fault.lines, fault))
            return None

    by_size = [recipe(size, counts[0]) for size in sizes]
    by_count = [recipe(sizes[0], count) for count in counts]
    if faults:
        first = next(iter(faults.values()))
        first.lines = tuple(faults)
        raise first
    _check_counts(by_count)
    return [r for r in by_size if r is not None], [r for r in by_count if r is not None]


def _check_counts(recipes: Sequence[Recipe | None]) -> None:
    """Refuse counts that no row takes."""
    for recipe in recipes:
        count = recipe.pieces[0].row[0].count if recipe else None
        if isinstance(count, int) and count > MOST_REPEATS:
            say = f"a row takes 1 to {MOST_REPEATS}. Write a whole number in between, or most."
            raise InputError(say, where=f"{_COMMAND}, --count {count}", code="range", count=count)


def _number(count: int | str | None) -> int | None:
    return count if isinstance(count, int) else None


def _preset(recipe: Recipe) -> Preset:
    """Return the limits asked for, or those of the usual card."""
    name = recipe.pieces[0].preset
    try:
        return find_preset(name or USUAL_PRESET).preset
    except InputError as fault:
        if fault.code != "no-preset":
            raise
        where = recipe.source.label(("piece", 0, "preset"), name)
        raise InputError(fault.say, where=where, code=fault.code) from fault
