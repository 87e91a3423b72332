"""What a finished piece goes in: an envelope or a sheet by its name, a box by its sides, a lid or tin by its width."""

from __future__ import annotations

import difflib
import re
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Final, Literal

from frameforge.errors import InputError

__all__ = ["EACH_SIDE_MM", "Envelope", "envelope_names", "named_envelope"]

EACH_SIDE_MM: Final = 3.0
"""Room kept on each side, so that a piece slides in (common practice, no source)."""

Kind = Literal["envelope", "sheet", "box", "circle"]


@dataclass(frozen=True, slots=True)
class Envelope:
    """What a piece goes in, ``width_mm`` by ``height_mm``; a circle has one width."""

    name: str
    kind: Kind
    width_mm: float
    height_mm: float

    def __post_init__(self) -> None:
        """Refuse what has no room left inside the margin."""
        least = min(self.width_mm, self.height_mm)
        if not least > 2 * EACH_SIDE_MM:
            say = (
                f"{least:g} mm leave no room with {EACH_SIDE_MM:g} mm each side. "
                f"Write more than {2 * EACH_SIDE_MM:g} mm, or a name such as C6."
            )
            raise InputError(say, code="range")

    @classmethod
    def from_size(cls, width_mm: float, height_mm: float, *, is_circle: bool) -> Envelope:
        """Return what is given by its size. Raises InputError when that leaves no room."""
        if is_circle:
            return cls(f"{width_mm:g} mm", "circle", width_mm, width_mm)
        return cls(f"{width_mm:g} x {height_mm:g} mm", "box", width_mm, height_mm)

    @property
    def long_mm(self) -> float:
        """The longer side of what it takes, mm."""
        return max(self.width_mm, self.height_mm) - 2 * EACH_SIDE_MM

    @property
    def short_mm(self) -> float:
        """The shorter side of what it takes, mm."""
        return min(self.width_mm, self.height_mm) - 2 * EACH_SIDE_MM

    @property
    def words(self) -> str:
        """What it is called: "a C6 envelope", "an A5 sheet", "a box of 114 x 162 mm", "a circle of 76 mm"."""
        if self.kind in ("box", "circle"):
            return f"a {self.kind} of {self.name}"
        return f"{'an' if self.name[0] in 'AL' and not self.name.startswith('Le') else 'a'} {self.name} {self.kind}"


def envelope_names() -> tuple[str, ...]:
    """Return the names of the envelopes and sheets that are known, envelopes first."""
    return tuple(envelope.name for envelope in _table().values())


def named_envelope(name: str) -> Envelope:
    """Return the envelope or sheet of a name such as "C6", "c6 envelope", "US A7", "#10" or "Letter".

    A name that both have is the sheet's where ISO 216 has it ("A6"); the envelope of the United States is "US A6".
    Raises InputError with the nearest name for one that is not known.
    """
    known = _table()
    plain = _plain(name)
    if plain in known:
        return known[plain]
    alike = [other for other in known if plain and other[0] == plain[0]]
    near = difflib.get_close_matches(plain, alike or known, n=1, cutoff=0.3)
    offer = (
        f"the nearest is {known[near[0]].name}." if near else f"there are {', '.join(envelope_names()[:6])} and more."
    )
    raise InputError(f"no envelope or sheet of that name; {offer}", code="name")


def _plain(name: str) -> str:
    """Return a name without spaces, case and needless words."""
    words = re.sub(r"\b(envelopes?|sheets?|iso|no|number)\b", " ", name.strip().lower())
    return re.sub(r"[^0-9a-z/]", "", words)


@cache
def _table() -> dict[str, Envelope]:
    """Return all that have a name, by that name made plain."""
    text = resources.files("frameforge.card").joinpath("envelopes.toml").read_text(encoding="utf-8")
    kinds = tomllib.loads(text)
    return {
        _plain(name): Envelope(name, kind, *size)
        for kind in ("envelope", "sheet")
        for name, size in kinds[kind].items()
    }
