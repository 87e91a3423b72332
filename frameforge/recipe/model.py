"""The tables of a recipe as strict models: which keys there are, and what each value comes to."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any, Final, Literal, TypeVar

from pydantic import BaseModel, ConfigDict, GetCoreSchemaHandler, Strict, ValidationInfo
from pydantic_core import CoreSchema, PydanticCustomError

from frameforge.errors import InputError
from frameforge.frame.spec import Between, Place, Seat, Size, Spread, Unknown
from frameforge.recipe import fields, row_fields
from frameforge.recipe.not_yet import not_yet_say
from frameforge.recipe.words import allowed_say
from frameforge.units import LengthUnit, parse_deg, parse_direction_deg

__all__ = ["CardTable", "FilesTable", "HoleTable", "MotifTable", "PieceTable", "RecipeTable", "RowTable"]


@dataclass(frozen=True, slots=True)
class _Value:
    """The check of one key: turns its value as written into ours, and words what is wrong with it for the maker.

    Written as a schema of its own: pydantic's plain validator would work out the schema of the result type as well,
    which costs 1 ms a key at every start.
    """

    table: str
    convert: Callable[[Any], object]

    def __get_pydantic_core_schema__(self, source: object, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Return the schema that calls ``check``."""
        return {"type": "function-plain", "function": {"type": "with-info", "function": self.check}}

    def check(self, value: Any, info: ValidationInfo) -> object:
        """Return the value converted. Raises PydanticCustomError with the sentence for the maker."""
        return self._converted(value, info.field_name or "", self.convert)

    def _converted(self, value: Any, key: str, convert: Callable[[Any], object]) -> object:
        if later := not_yet_say(self.table, key, value):
            raise PydanticCustomError("maker", "{say}", {"say": later})
        try:
            return convert(value)
        except InputError as fault:
            say = fault.say if "Write " in fault.say else f"{fault.say} {allowed_say(self.table, key)}"
            raise PydanticCustomError("maker", "{say}", {"say": say}) from fault


@dataclass(frozen=True, slots=True)
class _Measure(_Value):
    """The check of a length or size: bare numbers are in the recipe's unit, which the context carries."""

    convert: Callable[[Any, LengthUnit], object]  # type: ignore[assignment]  # takes the unit as well

    def check(self, value: Any, info: ValidationInfo) -> object:
        """Return the value converted. Raises PydanticCustomError with the sentence for the maker."""
        unit: LengthUnit = info.context["units"] if info.context else "mm"
        return self._converted(value, info.field_name or "", lambda given: self.convert(given, unit))


def _choice(*words: str) -> Callable[[Any], str]:
    """Return the function that takes one of some words."""

    def choose(value: Any) -> str:
        word = value.strip().lower() if isinstance(value, str) else value
        if word not in words:
            raise InputError("no such choice.", code="choice")
        return str(word)

    return choose


def _text(value: Any) -> str:
    if not isinstance(value, str) or not value.strip():
        raise InputError("not a text.", code="text")
    return value.strip()


def _switch(value: Any) -> bool:
    if not isinstance(value, bool):
        raise InputError("neither true nor false.", code="choice")
    return value


T = TypeVar("T")

Tables = Annotated[tuple[T, ...], Strict(False)]
"""An array of the recipe kept as a tuple; what it holds is checked as strictly as all else."""

_STRICT: Final = ConfigDict(strict=True, extra="forbid", frozen=True, allow_inf_nan=False)


class _Table(BaseModel):
    """A table of the recipe: no unknown keys, no conversions but ours, no infinite numbers."""

    model_config = _STRICT


class MotifTable(_Table):
    """An ornament kept in the recipe itself: lengths in mm, outlines as ``kept_motif`` writes them."""

    foot: float
    sink: float = 0.0
    stated: bool = True
    join: Tables[Tables[str]] = ()
    cut_away: Tables[Tables[str]] = ()
    window: Tables[Tables[str]] = ()


class CardTable(_Table):
    """A colour of card: its preset and single limits in place of the preset's, mm."""

    preset: Annotated[str | None, _Value("card", _text)] = None
    thickness: Annotated[float | None, _Measure("card", fields.as_length)] = None
    least_web: Annotated[float | None, _Measure("card", fields.as_length)] = None
    least_neck: Annotated[float | None, _Measure("card", fields.as_length)] = None
    least_finger: Annotated[float | None, _Measure("card", fields.as_length)] = None
    least_slot: Annotated[float | None, _Measure("card", fields.as_length)] = None
    least_hole: Annotated[float | None, _Measure("card", fields.as_length)] = None


class RowTable(_Table):
    """A row of a pattern round an edge; None where nothing was said."""

    motif: Annotated[tuple[row_fields.Entry, ...], _Value("row", row_fields.as_pattern)]
    count: Annotated[int | Literal["most", "find"] | None, _Value("row", row_fields.as_count)] = None
    gap: Annotated[float | Unknown | None, _Measure("row", row_fields.as_gap)] = None
    foot_gap: Annotated[float | None, _Measure("row", fields.as_length_or_0)] = None
    scale: Annotated[float | Unknown | None, _Value("row", row_fields.as_scale)] = None
    foot: Annotated[float | Unknown | None, _Measure("row", row_fields.as_foot)] = None
    lean: Annotated[float, _Value("row", parse_deg)] = 0.0
    place: Annotated[Place, _Value("row", _choice("out", "in", "window", "across"))] = "out"
    on: Annotated[Literal["base", "opening"] | None, _Value("row", _choice("base", "opening"))] = None
    inset: Annotated[float, _Measure("row", fields.as_length_or_0)] = 0.0
    seat: Annotated[Seat, _Value("row", _choice("as-drawn"))] = "as-drawn"
    between: Annotated[Between, _Value("row", _choice("keep", "flat", "hollow"))] = "keep"
    depth: Annotated[float | None, _Measure("row", fields.as_length)] = None
    spread: Annotated[Spread | None, _Value("row", _choice("equal-gap", "equal-arc", "equal-chord"))] = None
    mirror: Annotated[Literal["every-other"] | None, _Value("row", _choice("every-other"))] = None
    start: Annotated[tuple[float, bool], _Value("row", row_fields.as_start)] = (0.0, False)
    skip: Annotated[tuple[row_fields.Position, ...], _Value("row", row_fields.as_skip)] = ()
    keep_free: Annotated[tuple[float, float] | None, _Value("row", row_fields.as_zone)] = None
    free: Annotated[Literal["spread", "leave"], _Value("row", _choice("spread", "leave"))] = "spread"
    white: Annotated[Literal["keep", "cuts"], _Value("row", _choice("keep", "cuts"))] = "keep"


class HoleTable(_Table):
    """A round hole: diameter in mm, direction in degrees clockwise from the top."""

    size: Annotated[float, _Measure("hole", fields.as_length)]
    at: Annotated[float, _Value("hole", parse_direction_deg)] = 0.0


class PieceTable(_Table):
    """One piece of card."""

    name: Annotated[str | None, _Value("piece", fields.as_name)] = None
    card: Annotated[str | None, _Value("piece", _text)] = None
    preset: Annotated[str | None, _Value("piece", _text)] = None
    copies: Annotated[int, _Value("piece", fields.as_whole)] = 1
    base: Annotated[Literal["circle", "oval"] | None, _Value("piece", _choice("circle", "oval"))] = None
    size: Annotated[Size | Unknown, _Measure("piece", fields.as_size_or_find)]
    ratio: Annotated[float | None, _Value("piece", fields.as_ratio)] = None
    grow_from: Annotated[Size | None, _Measure("piece", fields.as_size)] = None
    opening: Annotated[Size | None, _Measure("piece", fields.as_size)] = None
    rim: Annotated[float | None, _Measure("piece", fields.as_length)] = None
    row: Tables[RowTable] = ()
    hole: Tables[HoleTable] = ()


class FilesTable(_Table):
    """Which files are written, and how."""

    formats: Annotated[tuple[str, ...] | None, _Value("files", fields.as_formats)] = None
    dxf: Annotated[
        Literal["bulges", "r12", "splines", "lines"], _Value("files", _choice("bulges", "r12", "splines", "lines"))
    ] = "bulges"
    dxf_unit: Annotated[Literal["mm", "in"], _Value("files", _choice("mm", "in"))] = "mm"
    one_path: Annotated[bool, _Value("files", _switch)] = False


class RecipeTable(_Table):
    """A whole recipe."""

    units: Annotated[LengthUnit, _Value("recipe", fields.as_units)] = "mm"
    card: dict[str, CardTable] = {}
    motif: dict[str, MotifTable] = {}
    files: FilesTable = FilesTable()
    piece: Tables[PieceTable] = ()
