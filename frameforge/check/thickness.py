"""Thin places of card and narrow places between card: found by tangent discs, measured on the true curves."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from frameforge.check.chords import Chords, IntArray, to_chords
from frameforge.check.dead_end import with_dead_ends
from frameforge.check.discs import DiscSamples, Side, tangent_discs
from frameforge.check.places import Place, find_places
from frameforge.check.prong import prong_apart
from frameforge.check.spot import Spot, disc_radius, widest_disc
from frameforge.check.taper import narrowest
from frameforge.check.thin_place import Kind, ThinPlace, TrackDisc
from frameforge.check.width import Width, is_empty, least_width, nearest_mm, polished, spot_on
from frameforge.geometry.region import Region
from frameforge.tolerances import CHORD_MM, SAME_PLACE_MM, WIDTH_MM

__all__ = ["Kind", "ThinPlace", "TrackDisc", "thin_places"]

SHARP_OF_LIMIT = 0.12
"""A dangling place whose least radius is under this share of the limit ends in a tip ..."""
SHARP_OF_GREATEST = 0.35
"""... and under this share of its greatest radius: it narrows all the way, as a finger of even width does not."""
MOST_POLISHED = 8
"""Discs of a finger solved again on the true curves; those within the chord error of the least one compete."""
TIP_DEG = 20.0
"""A tip that opens by more is blunt, whether it ends in a point or round."""
EVEN_RAD = math.radians(0.05)
"""Walls that open by less are of even width: from one sample to the next it changes by less than .001 mm."""
SHORTEST_MM = 0.02
"""Dangling places shorter than this are the rounding of a corner."""


@dataclass(frozen=True, slots=True)
class _Search:
    """What is looked for: places under a width, on one side, tips up to an angle."""

    limit_mm: float
    side: Side
    tip_deg: float

    @property
    def sign(self) -> int:
        """1 for card, -1 for space between card."""
        return 1 if self.side == "card" else -1

    @property
    def tip_rad(self) -> float:
        """The same angle in radians."""
        return math.radians(self.tip_deg)


def thin_places(
    regions: Sequence[Region],
    limit_mm: float,
    side: Side = "card",
    *,
    chords: Chords | None = None,
    tip_deg: float = TIP_DEG,
) -> tuple[ThinPlace, ...]:
    """Return the places narrower than ``limit_mm``: of card, or (side "slot") of the space between card.

    Tips are returned whatever their width: their measure is the angle. Where a blunter tip than ``tip_deg`` ends,
    rounded or not, it is no finger. Nothing is found at a width of exactly the
    limit. Accuracy: widths 1e-9 mm where the walls are smooth at the contacts; a place is missed only where it is
    shorter than its own half width. ``chords`` are those of the regions, where they were made before.
    """
    if not regions:
        return ()
    chords = to_chords(regions) if chords is None else chords
    discs = tangent_discs(chords, limit_mm, side)
    search = _Search(limit_mm, side, tip_deg)
    found: list[ThinPlace] = []
    for whole in find_places(chords, discs):
        for place in prong_apart(chords, discs, whole, SHARP_OF_LIMIT * limit_mm):
            found += _measured(chords, discs, place, search)
    if side == "slot":
        found = with_dead_ends(found, chords, limit_mm - WIDTH_MM, discs.step, search.tip_rad)
    return _without_doubles(found)


def _measured(chords: Chords, discs: DiscSamples, place: Place, search: _Search) -> tuple[ThinPlace, ...]:
    """Return what the place comes to: nothing where it is not narrower than the limit or no place after all."""
    if place.form == "dangling":
        return _dangling(chords, discs, place, search)
    if place.form == "whole" and len(_loops(chords, discs, place)) == 1:
        return _thin_loop(chords, discs, place, search)
    thinnest = _middle_of_ties(discs, place, float(discs.radius[place.samples[0]]))
    window = 1.5 * discs.step + 2 * float(discs.radius[thinnest])
    rough = least_width(chords, _disc_width(discs, thinnest), window)
    # Each curve lies within the chord distance of its chords: what is wider by more than both needs no polish.
    if rough.mm >= search.limit_mm + 2 * CHORD_MM:
        return ()
    exact = polished(chords, rough)
    if exact.mm >= search.limit_mm - WIDTH_MM:
        return ()
    extent = _extent(discs, place.samples)
    is_short = extent < min(0.5 * search.limit_mm, 2 * float(discs.radius[thinnest]))
    if place.form != "whole" and is_short and not is_empty(chords, rough):
        return ()
    kind: Kind = "all" if place.form == "whole" else place.form
    return (_thin_place(chords, discs, place, kind, exact, extent, None),)


def _without_doubles(places: list[ThinPlace]) -> tuple[ThinPlace, ...]:
    """Return the places without those that came down to the same contacts as a longer one."""
    cells: dict[tuple[int, int], list[ThinPlace]] = {}
    kept: set[int] = set()
    for number in sorted(range(len(places)), key=lambda k: -places[k].extent_mm):
        place = places[number]
        column, row = (math.floor(v / SAME_PLACE_MM) for v in (place.middle.real, place.middle.imag))
        near = (p for i in (-1, 0, 1) for j in (-1, 0, 1) for p in cells.get((column + i, row + j), ()))
        if not any(_is_double(place, other) for other in near):
            cells.setdefault((column, row), []).append(place)
            kept.add(number)
    return tuple(place for number, place in enumerate(places) if number in kept)


def _is_double(one: ThinPlace, other: ThinPlace) -> bool:
    """Return whether two places are the same one."""
    is_alike = one.loops == other.loops and (one.kind == "tip") == (other.kind == "tip")
    return is_alike and abs(one.middle - other.middle) <= SAME_PLACE_MM


def _is_held(chords: Chords, spot: Spot, radius: float, turn: int) -> bool:
    """Return whether a disc at a spot is held by a wall nearer than its radius; one that meets no wall is held too."""
    if math.isinf(radius):
        return True
    return nearest_mm(chords, spot.point + radius * turn * 1j * spot.direction) < radius - 2 * CHORD_MM


def _thin_loop(chords: Chords, discs: DiscSamples, place: Place, search: _Search) -> tuple[ThinPlace, ...]:
    """Return a part, or a slit, thin all over: its width is that of its largest disc, and a sharp end is told too."""
    widest = _disc_width(discs, _middle_of_ties(discs, place, float(discs.radius[place.samples[-1]])))
    spot, other = spot_on(chords, widest.chord_a, widest.a), spot_on(chords, widest.chord_b, widest.b)
    turn = search.sign
    radius, spot, touch = widest_disc(spot, other, turn)
    if _is_held(chords, spot, radius, turn):
        # A third wall holds the disc: the sample's own is the largest that was met.
        spot = spot_on(chords, widest.chord_a, widest.a)
        radius, touch = disc_radius(spot, other, turn)
        if _is_held(chords, spot, radius, turn):
            # Held by a corner: there the disc against the chords is as true as any.
            radius, touch = widest.mm / 2, other
    if 2 * radius >= search.limit_mm - WIDTH_MM:
        return ()
    exact = Width(2 * radius, spot.point, touch.point, widest.chord_a, widest.chord_b)
    whole = _thin_place(chords, discs, place, "all", exact, _extent(discs, place.samples), None)
    tip = _tip(chords, discs, place, search) if search.side == "card" else None
    return (whole,) if tip is None else (whole, tip)


def _tip(chords: Chords, discs: DiscSamples, place: Place, search: _Search) -> ThinPlace | None:
    """Return the place as a tip when its discs shrink to nothing towards an end, None when they do not."""
    if not _is_sharp(discs, place, search, float(discs.radius[place.samples[0]])):
        return None
    return _as_tip(chords, discs, place, search)


def _is_sharp(discs: DiscSamples, place: Place, search: _Search, radius_mm: float) -> bool:
    """Return whether a place whose discs shrink to a radius ends in a point."""
    greatest = float(discs.radius[place.samples[-1]])
    return radius_mm < SHARP_OF_LIMIT * search.limit_mm and radius_mm < SHARP_OF_GREATEST * greatest


def _as_tip(chords: Chords, discs: DiscSamples, place: Place, search: _Search) -> ThinPlace:
    """Return the place as a tip of its angle."""
    width = _disc_width(discs, int(place.samples[0]))
    chord = _last_chord(chords, width, complex(discs.centre[place.samples[-1]]))
    angle = math.degrees(_opening_rad(discs, place, search))
    found = _thin_place(chords, discs, place, "tip", width, _extent(discs, place.samples), angle)
    return replace(found, tip=complex(chords.end[chord]))


def _opening_rad(discs: DiscSamples, place: Place, search: _Search) -> float:
    """Return the angle that the walls of a tip open by.

    Where it is narrower than the limit, the angle met most, or met most towards the mouth where that is greater: the
    point itself may be cut off, or bent. A long enough stretch of walls that open by less than a blunt tip goes first.
    """
    narrow = place.samples[2 * discs.radius[place.samples] < search.limit_mm]
    narrow = narrow if len(narrow) else place.samples
    slender = narrow[discs.wedge_rad[narrow] < search.tip_rad]
    if len(slender) and _extent(discs, slender) >= 0.5 * search.limit_mm:
        return float(np.median(discs.wedge_rad[slender]))
    return max(float(np.median(discs.wedge_rad[part])) for part in (narrow, narrow[len(narrow) // 2 :]))


def _last_chord(chords: Chords, width: Width, inside: complex) -> int:
    """Return the chord that ends in the point of a tip: of the edge between the contacts of its least disc, what is
    furthest from within."""
    loop = chords.loop[width.chord_a]
    first, count = int(chords.first[loop]), int(chords.first[loop + 1] - chords.first[loop])
    one, other = width.chord_a - first, width.chord_b - first
    way = chords.along[width.chord_b] - chords.along[width.chord_a]
    ahead = (other - one) % count
    is_ahead = way % chords.loop_length[loop] <= chords.loop_length[loop] / 2
    begin, steps = (one, ahead) if is_ahead else (other, count - ahead)
    between = first + (begin + np.arange(max(steps, 1))) % count
    return int(between[np.argmax(np.abs(chords.end[between] - inside))])


def _dangling(chords: Chords, discs: DiscSamples, place: Place, search: _Search) -> tuple[ThinPlace, ...]:
    """Return a finger or a tip."""
    least = float(discs.radius[place.samples[0]])
    is_sharp, is_blunt = _is_sharp(discs, place, search, least), _opens_by_rad(discs, place) >= search.tip_rad
    exact, even = None, place
    if not is_sharp and not is_blunt:
        if not _may_be_finger(discs, place, search):
            return ()
        exact = _finger_width(chords, discs, place, search.sign)
        if exact.mm < _rough_mm(discs, place) - 4 * CHORD_MM:
            # A joint that turns by rounding only, as between two arcs of a round end in a file, is no point.
            exact = _finger_width(chords, discs, place, search.sign, walks_on=False)
        is_sharp = _is_sharp(discs, place, search, exact.mm / 2)
    if is_sharp and _runs_into_point(discs, place, search):
        return (_as_tip(chords, discs, place, search),)
    if is_sharp or is_blunt:
        even = _body(discs, place, search)
        if not len(even.samples) or _extent(discs, even.samples) < 0.5 * search.limit_mm:
            return ()
        exact = _finger_width(chords, discs, even, search.sign, walks_on=False)
    if exact is None or exact.mm >= search.limit_mm - WIDTH_MM:
        return ()
    extent = _extent(discs, place.samples)
    if extent + discs.step < min(0.5 * search.limit_mm, exact.mm):
        return ()
    return (_thin_place(chords, discs, place, "finger", exact, extent, math.degrees(_opens_by_rad(discs, even))),)


def _opens_by_rad(discs: DiscSamples, place: Place) -> float:
    """Return the angle that the walls open by where a finger is narrowest.

    On a round end any point may face any other: the straightest of the least discs tells how the walls run.
    """
    return float(discs.wedge_rad[_least(discs, place)].min())


def _may_be_finger(discs: DiscSamples, place: Place, search: _Search) -> bool:
    """Return whether a place without a point is long and narrow enough to be measured as a finger."""
    rough = _rough_mm(discs, place)
    return _extent(discs, place.samples) >= SHORTEST_MM and rough - 4 * CHORD_MM < search.limit_mm


def _rough_mm(discs: DiscSamples, place: Place) -> float:
    """Return the least width of a finger to within a sampling step: beyond the last sample it may go on narrowing."""
    return 2 * float(discs.radius[place.samples[0]]) - 2 * discs.step * math.tan(_opens_by_rad(discs, place))


def _runs_into_point(discs: DiscSamples, place: Place, search: _Search) -> bool:
    """Return whether the walls of a place run straight into the point that it ends in, not as those of a pencil.

    There the widest disc is about as far from the point as their angle says: r / sin(angle / 2).
    """
    opens_by = _opening_rad(discs, place, search)
    away = abs(complex(discs.centre[place.samples[-1]] - discs.centre[place.samples[0]]))
    return opens_by >= search.tip_rad or discs.radius[place.samples[-1]] <= 2 * away * math.sin(opens_by / 2)


def _body(discs: DiscSamples, place: Place, search: _Search) -> Place:
    """Return a place without its blunt or pointed end: the discs where it is slender, none where it is so nowhere."""
    slender = place.samples[discs.wedge_rad[place.samples] < search.tip_rad]
    if not len(slender):
        return Place(place.form, slender)
    most = 2 * float(np.median(discs.wedge_rad[slender])) + EVEN_RAD
    return Place(place.form, slender[discs.wedge_rad[slender] <= most])


def _middle_of_ties(discs: DiscSamples, place: Place, radius_mm: float) -> int:
    """Return the sample with a disc of ``radius_mm``; along a strip of even width the one in its middle."""
    ties = place.samples[np.abs(discs.radius[place.samples] - radius_mm) <= WIDTH_MM]
    centre = discs.centre[ties]
    return int(ties[np.argmin(np.abs(centre - centre.mean()))])


def _disc_width(discs: DiscSamples, k: int) -> Width:
    """Return the width that the disc of sample k shows, on chords."""
    return Width(
        2 * float(discs.radius[k]),
        complex(discs.at[k]),
        complex(discs.contact[k]),
        int(discs.chord[k]),
        int(discs.partner[k]),
    )


def _finger_width(chords: Chords, discs: DiscSamples, place: Place, sign: int, walks_on: bool = True) -> Width:
    """Return twice the least radius of the finger's discs, each solved again on the true curves.

    Of discs equally small, along a finger of even width, the one in the middle. With ``walks_on`` a taper is followed
    down to its end.
    """
    close = _least(discs, place)
    middle = int(close[np.argmin(np.abs(discs.centre[close] - discs.centre[close].mean()))])
    looked_at = dict.fromkeys((*close[:MOST_POLISHED].tolist(), middle))
    solved = [_solved_disc(chords, discs, k, sign) for k in looked_at]
    least = min(width.mm for width in solved)
    ties = [width for width in solved if width.mm <= least + WIDTH_MM]
    even = min(ties, key=lambda width: abs(width.middle - discs.centre[middle]))
    tapers = walks_on and float(discs.wedge_rad[close].min()) > EVEN_RAD
    return narrowest(chords, even, sign) if tapers else even


def _least(discs: DiscSamples, place: Place) -> IntArray:
    """Return the samples whose discs may be the least one: chords are no nearer to the curves than that."""
    radius = discs.radius[place.samples]
    least: IntArray = place.samples[radius <= radius[0] + 2 * CHORD_MM]
    return least


def _solved_disc(chords: Chords, discs: DiscSamples, k: int, sign: int) -> Width:
    """Return the disc of sample k, as a width, solved on the true curves."""
    rough = _disc_width(discs, k)
    spot, other = spot_on(chords, rough.chord_a, rough.a), spot_on(chords, rough.chord_b, rough.b)
    exact, touch = disc_radius(spot, other, sign)
    return Width(2 * exact, spot.point, touch.point, rough.chord_a, rough.chord_b)


def _thin_place(
    chords: Chords, discs: DiscSamples, place: Place, kind: Kind, width: Width, extent: float, angle: float | None
) -> ThinPlace:
    """Return the finished value."""
    loops = _loops(chords, discs, place)
    return ThinPlace(kind, width.mm, width.a, width.b, extent, loops, angle, _track(discs, place.samples))


def _loops(chords: Chords, discs: DiscSamples, place: Place) -> tuple[int, ...]:
    """Return the numbers of the loops that bound a place."""
    touched = {*chords.loop[discs.chord[place.samples]].tolist(), *chords.loop[discs.partner[place.samples]].tolist()}
    return tuple(sorted(touched))


def _extent(discs: DiscSamples, samples: IntArray) -> float:
    """Return how far the disc centres of a place reach, mm (diagonal of their box)."""
    centre = discs.centre[samples]
    return float(math.hypot(np.ptp(centre.real), np.ptp(centre.imag)))


def _track(discs: DiscSamples, samples: IntArray) -> tuple[TrackDisc, ...]:
    """Return the discs of a place in the order of the loops."""
    k = np.sort(samples)
    columns = (discs.centre[k], discs.radius[k], discs.at[k], discs.contact[k], discs.chord[k], discs.partner[k])
    return tuple(TrackDisc(*row) for row in zip(*(column.tolist() for column in columns), strict=True))
