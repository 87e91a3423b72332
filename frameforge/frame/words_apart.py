"""Words that lie where there is no card for them: over an opening, a hole or a window, beyond the edge or a fold, over
motifs that they would be joined to, or over other words."""

from __future__ import annotations

import cmath
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

import shapely

from frameforge.card.preset import Preset
from frameforge.errors import FrameforgeError, GeometryError
from frameforge.finding import Finding
from frameforge.frame.assembly import Assembly, assemble
from frameforge.frame.letters import LEAST_CAP_MM
from frameforge.frame.placed import Crowd, Placed
from frameforge.frame.set_words import SetWords
from frameforge.frame.spec import PieceSpec
from frameforge.frame.wording import clock_words, down
from frameforge.geometry.combine import difference, evaluate
from frameforge.geometry.measure import area_mm2, centroid
from frameforge.geometry.region import Region
from frameforge.units import to_clock_deg

__all__ = ["check_words", "words_off"]

_LEAST_MM2: Final = 0.01
"""Less than this cannot be seen (a tenth of a millimetre square)."""
_SCALES: Final = (0.9, 0.8, 0.7, 0.6, 0.5, 0.4)
_MOST_LEFT_OUT: Final = 6


@dataclass(frozen=True, slots=True)
class _Off:
    """What of a text is lost: how many letters, the places that lie wrong, why, and the motifs in the way."""

    text: SetWords
    letters: int
    lost: tuple[Region, ...]
    why: str
    motifs: frozenset[tuple[int, int]] = frozenset()

    @property
    def area_mm2(self) -> float:
        return area_mm2(self.lost)


def words_off(spec: PieceSpec, preset: Preset, made: Assembly) -> tuple[Finding, ...]:
    """Return a warning for every text to be marked that does not lie on card as a whole, each with a way out.

    Raises GeometryError for words to be cut or joined on that do so: the piece would not hold, or nobody could read it.
    """
    found = []
    for off in _offs(made):
        spot = centroid(off.lost)
        hour = clock_words(to_clock_deg(cmath.phase(spot)))
        letters, lie = ("1 letter", "lies") if off.letters == 1 else (f"{off.letters} letters", "lie")
        say = f'{letters} of "{off.text.said}" {lie} {off.why}, {off.area_mm2:.2f} mm2 in all.'
        way = _way_out(spec, preset, off)
        if off.text.style != "mark":
            raise GeometryError(f"{hour}, {say} {way}", where=spec.name, code="words", area=off.area_mm2)
        found.append(
            Finding(
                "chopped", "warning", f"{say} {way}", hour, spec.name, spot.real, spot.imag, off.area_mm2, 0.0, "mm2"
            )
        )
    return tuple(found)


def check_words(made: Assembly, *, are_marks_told: bool = True) -> None:
    """Raise GeometryError where words do not lie as they should, without a way out.

    Not ``are_marks_told``: words to be marked may lie anywhere, since the piece is made all the same.
    """
    if any(are_marks_told or off.text.style != "mark" for off in _offs(made)):
        raise GeometryError("its words lie where there is no card for them.", code="words")


def _offs(made: Assembly) -> Iterator[_Off]:
    """Yield every text that lies wrong, of a piece that carries words."""
    assert made.letters is not None
    card = [Placed(region) for region in made.blank]
    holes = Crowd([Placed(hole) for hole in made.holes])
    before: list[Placed] = []
    for text in made.letters.words:
        parts = [[Placed(region) for region in letter] for letter in text.letters]
        if text.style == "join":
            yield from _over_motifs(text, parts, made)
        else:
            lost = [[*(piece for part in letter for piece in _off_card(part, card, holes))] for letter in parts]
            yield from _told(text, lost, "where there is no card")
        others = Crowd(before)
        yield from _told(text, [[*(p for part in letter for p in others.overlap(part))] for letter in parts],
                         "over other words")  # fmt: skip
        before += [part for letter in parts for part in letter]


def _off_card(part: Placed, card: Sequence[Placed], holes: Crowd) -> tuple[Region, ...]:
    """Return what of a letter lies beside the card, or in a hole."""
    over = holes.overlap(part)
    if any(shapely.contains(region.shape, part.shape) for region in card):
        return over
    return (*evaluate(difference(part.region, *(region.region for region in card))).regions, *over)


def _over_motifs(text: SetWords, parts: Sequence[Sequence[Placed]], made: Assembly) -> Iterator[_Off]:
    """Yield words to be joined on that run into motifs, with the row (from 0) and position of each of those."""
    placed = [
        ((k, repeat.position), Placed(region, repeat.placement))
        for k, row in enumerate(made.rows)
        for repeat in row.result.repeats
        for region in repeat.motif.join
    ]
    motifs = Crowd([part for _, part in placed])
    lost = [[*(piece for part in letter for piece in motifs.overlap(part))] for letter in parts]
    met = {id(other) for letter in parts for part in letter for other in motifs.near(part)}
    places = frozenset(place for place, part in placed if id(part) in met)
    yield from (replace(off, motifs=places) for off in _told(text, lost, "over motifs"))


def _told(text: SetWords, lost: Sequence[Sequence[Region]], why: str) -> Iterator[_Off]:
    """Yield what is lost of a text, if it is anything to speak of."""
    regions = tuple(region for letter in lost for region in letter)
    if regions and area_mm2(regions) >= _LEAST_MM2:
        yield _Off(text, sum(bool(letter) for letter in lost), regions, why)


def _way_out(spec: PieceSpec, preset: Preset, off: _Off) -> str:
    """Return the first way after which all words lie as they should."""
    for words, tried in _ways(spec, off):
        try:
            remade = assemble(tried, preset, is_trial=True)
            check_words(remade)
        except FrameforgeError:
            continue
        if len(remade.combined.regions) == 1:
            return f"Take {words}."
    return "Write fewer words, set them elsewhere, or move what lies there."


def _ways(spec: PieceSpec, off: _Off) -> Iterator[tuple[str, PieceSpec]]:
    """Yield ways to change an order: motifs left out where the words stand, smaller letters."""
    rows = {k for k, _ in off.motifs}
    if len(rows) == 1 and len(off.motifs) <= _MOST_LEFT_OUT:
        (k,) = rows
        places = sorted(position for _, position in off.motifs)
        row = replace(spec.rows[k], skip=(*spec.rows[k].skip, *places))
        of_row = f" in row {k + 1}" if len(spec.rows) > 1 else ""
        all_left_out = ",".join(map(str, (*spec.rows[k].skip, *places)))
        yield f"--skip {all_left_out}{of_row}", spec.with_row(k, row)
    if len(spec.texts) != 1:
        return
    (text,) = spec.texts
    for factor in _SCALES:
        cap = down(text.cap_mm * factor, 0.1)
        if cap >= LEAST_CAP_MM:
            yield f"--letter-size {cap:g}mm", replace(spec, texts=(replace(text, cap_mm=cap),))
