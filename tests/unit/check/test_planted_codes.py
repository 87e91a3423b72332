"""Every code that is not measured elsewhere, planted twenty times: its place within .05 mm, its measure, and silence at
the limit plus or minus .01 on the good side. Shapes are built from the wanted measure, so no source is needed."""

from __future__ import annotations

import cmath
import math

import pytest

from frameforge.card.preset import load_preset
from frameforge.check.too_big import Allowed
from frameforge.check.whole import check_piece
from frameforge.finding import Finding
from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, ellipse, rectangle

KNIFE = load_preset("card-240-knife")
TWENTY = pytest.mark.parametrize("k", range(20))


def found(code: str, *regions: Region, allowed: tuple[Allowed, ...] = ()) -> list[Finding]:
    return [f for f in check_piece(regions, KNIFE, allowed=allowed) if f.code == code]


def place(finding: Finding) -> complex:
    assert finding.place is not None
    return finding.place


def laid(region: Region, k: int) -> tuple[Region, Affine]:
    """Return a region turned and moved, another way for every k, and the map."""
    to_place = Affine(cmath.rect(1, 0.7 * k), 0, complex(3 * k - 20, 11 - 2 * k))
    return region.transformed(to_place), to_place


def waist(width: float) -> Region:
    """A plate of 60 x 40 that two round bites of radius 12 leave a neck of ``width`` in its middle."""
    y = width / 2 + 12
    down, up = (Arc.from_circle(side * 1j * y, 12, start, -math.pi) for side, start in ((-1, math.pi), (1, 0.0)))
    corners = [
        -30 - 1j * y,
        -12 - 1j * y,
        12 - 1j * y,
        30 - 1j * y,
        30 + 1j * y,
        12 + 1j * y,
        -12 + 1j * y,
        -30 + 1j * y,
    ]
    chain: list[Segment] = [
        Line(corners[0], corners[1]), down, Line(corners[2], corners[3]), Line(corners[3], corners[4]),
        Line(corners[4], corners[5]), up, Line(corners[6], corners[7]), Line(corners[7], corners[0]),
    ]  # fmt: skip
    return Region(Outline.from_chain(chain, joint_mm=1e-9))


def finger(width: float) -> Region:
    """A plate with a finger along the axis from x = 0 to 15 that ends round."""
    half = width / 2
    cap = Arc.from_circle(15, half, -math.pi / 2, math.pi)
    rest = [half * 1j, 10j, -20 + 10j, -20 - 10j, -10j, -half * 1j]
    chain: list[Segment] = [Line(-half * 1j, cap.start), cap, Line(cap.end, rest[0]), *map(Line, rest[:-1], rest[1:])]
    return Region(Outline.from_chain(chain, joint_mm=1e-9))


@TWENTY
def test_a_neck_between_two_bites(k: int) -> None:
    width = 0.2 + 0.068 * k
    region, to_place = laid(waist(width), k)
    (neck,) = found("thin-neck", region)
    assert abs(place(neck) - to_place.apply(0)) < 0.05
    assert neck.measured == pytest.approx(width, abs=1e-4)
    assert not found("thin-neck", laid(waist(1.51), k)[0])
    assert not found("thin-web", region)


@TWENTY
def test_a_finger_that_carries_nothing(k: int) -> None:
    width = 0.2 + 0.068 * k
    region, to_place = laid(finger(width), k)
    (thin,) = found("thin-finger", region)
    at = to_place.inverse().apply(place(thin))
    assert abs(at.imag) < 0.05
    assert 4 < at.real < 12, "in the middle of its even part"
    assert thin.measured == pytest.approx(width, abs=1e-4)
    assert not found("thin-finger", laid(finger(1.51), k)[0])


@TWENTY
def test_a_part_that_nothing_holds(k: int) -> None:
    loose = circle(cmath.rect(60, k), 3 + 0.2 * k)
    (part,) = found("loose", Region(circle(0, 40)), Region(loose))
    assert part.severity == "refused"
    assert abs(place(part) - cmath.rect(60, k)) < 0.05
    held = 40 + 3 + 0.2 * k - 0.01
    assert not found("loose", Region(circle(0, 40)))
    assert found("loose", Region(circle(0, 40)), Region(circle(cmath.rect(held + 0.02, k), 3 + 0.2 * k)))


@TWENTY
def test_a_crumb_of_card(k: int) -> None:
    area = 0.5 + 0.18 * k
    crumb = Region(circle(cmath.rect(60, k), math.sqrt(area / math.pi)))
    (bit,) = found("card-crumb", Region(circle(0, 40)), crumb)
    assert bit.measured == pytest.approx(area)
    assert abs(place(bit) - cmath.rect(60, k)) < 0.05
    large = Region(circle(cmath.rect(60, k), math.sqrt(4.01 / math.pi)))
    assert not found("card-crumb", Region(circle(0, 40)), large)


@TWENTY
def test_a_crumb_of_waste(k: int) -> None:
    area, at = 0.5 + 0.18 * k, cmath.rect(20, k)

    def pierced(area_mm2: float) -> Region:
        hole = ellipse(0, math.sqrt(2 * area_mm2 / math.pi), math.sqrt(area_mm2 / 2 / math.pi))
        turned = Affine(cmath.rect(1, k), 0, at)
        moved = Outline(tuple(segment.transformed(turned) for segment in hole.segments))
        return Region(circle(0, 40), (moved.reversed(),))

    (bit,) = found("waste-crumb", pierced(area))
    assert bit.severity == "note"
    assert bit.measured == pytest.approx(area, rel=1e-9)
    assert abs(place(bit) - at) < 0.05
    assert not found("waste-crumb", pierced(4.01))


@TWENTY
def test_a_piece_that_fingers_cannot_hold(k: int) -> None:
    # 2 1/4 in = 57.15 mm: common practice, no source.
    across = 20 + 1.95 * k
    region, to_place = laid(Region(circle(0, across / 2)), k)
    (small,) = found("hard-to-hold", region)
    assert small.measured == pytest.approx(across)
    assert abs(place(small) - to_place.apply(0)) < 0.05
    assert not found("hard-to-hold", Region(circle(0, 57.16 / 2)))
    assert found("hard-to-hold", Region(circle(0, 57.14 / 2)))


@TWENTY
def test_a_piece_too_big_for_its_envelope(k: int) -> None:
    envelope = Allowed(108, 156, "a C6 envelope with 3 mm each side", "envelope")
    across = 108.01 + 0.5 * k
    region, to_place = laid(Region(circle(0, across / 2)), k)
    (big,) = found("too-big-for-envelope", region, allowed=(envelope,))
    assert (big.severity, big.limit) == ("refused", 108)
    assert big.measured == pytest.approx(across, abs=3e-4)
    assert abs(place(big) - to_place.apply(0)) < 0.05
    assert not found("too-big-for-envelope", Region(circle(3, 107.99 / 2)), allowed=(envelope,))
    assert not found("too-big-for-envelope", Region(circle(3, 54)), allowed=(envelope,)), "exactly the limit goes in"


@TWENTY
def test_a_strip_fits_its_sheet_askew_or_not_at_all(k: int) -> None:
    """A strip of length l and width b, turned by q, takes l cos q + b sin q by l sin q + b cos q (derivation)."""
    sheet = Allowed(200, 287, "an A4 sheet with 5 mm margin", "sheet")
    width = 10 + 2 * k
    # The longest strip of that width in the sheet, by trying every turn.
    turns = [math.radians(q / 1000) for q in range(90_001)]
    longest = max(
        min((200 - width * math.cos(q)) / math.sin(q) if q else math.inf,
            (287 - width * math.sin(q)) / math.cos(q) if q < math.pi / 2 - 1e-9 else math.inf)
        for q in turns
    )  # fmt: skip
    long, short = (
        laid(Region(rectangle(-length / 2, -width / 2, length / 2, width / 2)), k)[0]
        for length in (longest + 0.01, longest - 0.01)
    )
    (big,) = found("too-big-for-sheet", long, allowed=(sheet,))
    assert big.measured is not None
    assert big.limit is not None
    assert 0 < big.measured - big.limit < 0.02
    assert not found("too-big-for-sheet", short, allowed=(sheet,))
    assert big.say.endswith("Make it smaller, or take a larger sheet.")


@TWENTY
def test_a_piece_too_big_for_its_tin(k: int) -> None:
    tin = Allowed(70, 70, "a circle of 76 mm with 3 mm each side", "envelope", is_round=True)
    # A rectangle goes into the circle over its corners.
    width = 20 + k
    long = math.sqrt(70.02**2 - width**2)
    strip, _ = laid(Region(rectangle(-long / 2, -width / 2, long / 2, width / 2)), k)
    (big,) = found("too-big-for-envelope", strip, allowed=(tin,))
    assert big.measured == pytest.approx(70.02, abs=1e-6)
    short = math.sqrt(69.98**2 - width**2)
    small, _ = laid(Region(rectangle(-short / 2, -width / 2, short / 2, width / 2)), k)
    assert not found("too-big-for-envelope", small, allowed=(tin,))


@pytest.mark.parametrize(
    ("width", "height", "takes"), [(210.0, 209.0, "287 mm"), (400.0, 100.0, "410 x 287 mm")], ids=["round", "long"]
)
def test_a_larger_sheet_is_offered_with_what_it_takes(width: float, height: float, takes: str) -> None:
    """Of a piece about as high as wide the shorter side counts, of a long one both do."""
    large = Allowed(410, 287, "an A3 sheet with 5 mm margin", "sheet", typed="--sheet A3")
    sheet = Allowed(200, 287, "an A4 sheet with 5 mm margin", "sheet", larger=(Allowed(201, 288, "", "sheet"), large))
    region = Region(rectangle(0, 0, width, height))
    (big,) = found("too-big-for-sheet", region, allowed=(sheet,))
    assert big.say.endswith(f"Make it smaller, or use --sheet A3 (takes {takes}).")
    assert not found("too-big-for-sheet", region, allowed=(large,))


@pytest.mark.parametrize("radius", [0.8, 1.2])
@pytest.mark.parametrize("is_arc_first", [True, False])
def test_the_largest_disc_of_half_a_disc_is_half_as_wide(radius: float, *, is_arc_first: bool) -> None:
    """A hole of an arc and its diameter: the disc that touches both is R across, not 2 R; so is that of its copy."""
    arc = Arc.from_circle(0, radius, math.pi, -math.pi)
    line = Line(arc.end, arc.start)
    half = Outline((arc, line) if is_arc_first else (line, arc))
    holes = tuple(Outline(tuple(s.transformed(Affine.from_move(at)) for s in half.segments)) for at in (-8j, 8j))
    first, second = found("small-hole", Region(circle(0, 30), holes))
    assert [first.measured, second.measured] == pytest.approx([radius, radius], abs=2e-3)
    assert sorted(place(one).imag for one in (first, second)) == pytest.approx(
        [-8 + radius / 2, 8 + radius / 2], abs=2e-3
    )


def test_where_there_is_no_card_nothing_is_hard_to_hold_and_nothing_too_big() -> None:
    assert not check_piece((), KNIFE, allowed=(Allowed(1, 1, "an envelope", "envelope"),))
