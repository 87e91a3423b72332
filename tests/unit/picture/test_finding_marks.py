"""Findings on a picture: rings measure, labels tell how bad it is by their shape and stand clear of everything."""

from __future__ import annotations

import cmath
import itertools
import math
import random
import re

import pytest
from fixtures.raster import colour_at, raster
from lxml import etree

from frameforge.finding import Finding, Severity, grouped
from frameforge.geometry.affine import Affine
from frameforge.geometry.box import Box
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.picture.elements import mm_to_px
from frameforge.picture.finding_marks import LABEL_ROOM_PX, finding_marks, placed_marks
from frameforge.picture.look import FLEECE, WET_SLATE
from frameforge.picture.piece import PieceDrawing, piece_picture

SCALE = 5.0
MIDDLE = 310 + 300j
TO_PX = mm_to_px(SCALE, MIDDLE)
PIECE = Box(110, 100, 510, 500)  # 80 mm across


def found(severity: Severity, at: complex, *, code: str = "thin-web", limit: float = 4.0, say: str = "") -> Finding:
    return Finding(code, severity, say or f"{at} of card.", x_mm=at.real, y_mm=at.imag, measured=1.0, limit=limit)


def marks(*findings: Finding) -> etree._Element:
    body = finding_marks(grouped(findings), TO_PX, PIECE)
    return etree.fromstring(f"<svg>{''.join(body)}</svg>")


def rings(svg: etree._Element) -> list[etree._Element]:
    """The rings themselves, without the pale case below each."""
    return [ring for ring in svg.iter("circle") if ring.get("stroke") == WET_SLATE]


def labels(svg: etree._Element) -> list[tuple[Box, etree._Element]]:
    """Where each label lies."""
    result = []
    for path in svg.iter("path"):
        corners = re.fullmatch(r"M (\S+) (\S+) l (\S+) (\S+) v (\S+) h (\S+) v \S+ Z", path.get("d"))
        if corners:
            x, y, left, shoulder, side, across = map(float, corners.groups())
            points = (complex(x, y), complex(x + left, y + shoulder + side), complex(x + left + across, y + shoulder))
            result.append((Box.from_points(points), path))
    return result


@pytest.mark.parametrize("limit", [1.5, 2.0, 9.3])
def test_the_inside_of_a_ring_is_the_limit_as_drawn(limit: float) -> None:
    (ring,) = rings(marks(found("warning", 20 + 10j, limit=limit)))
    inside = 2 * float(ring.get("r")) - float(ring.get("stroke-width"))
    assert inside == pytest.approx(limit * SCALE, abs=0.02)
    assert complex(float(ring.get("cx")), float(ring.get("cy"))) == pytest.approx(MIDDLE + (20 - 10j) * SCALE)


def test_an_area_is_ringed_by_its_disc() -> None:
    crumb = Finding("waste-crumb", "note", "A bit.", x_mm=3.0, y_mm=0.0, measured=1.0, limit=4.0, unit="mm2")
    (ring,) = rings(marks(crumb))
    inside = float(ring.get("r")) - float(ring.get("stroke-width")) / 2
    assert math.pi * (inside / SCALE) ** 2 == pytest.approx(4.0, rel=0.01)


def test_severity_is_told_by_shape() -> None:
    svg = marks(found("note", 30), found("warning", 30j), found("refused", -30))
    dotted = [ring.get("stroke-dasharray") is not None for ring in rings(svg)]
    assert sorted(dotted) == [False, False, True]
    fills = {path.get("fill") for _, path in labels(svg)}
    assert fills == {FLEECE, WET_SLATE}
    bars = [path for path in svg.iter("path") if path.get("stroke-width") == "2.4"]
    assert len(bars) == 1
    numbers = [(text.text, text.get("fill")) for text in svg.iter("text")]
    assert numbers == [("1", FLEECE), ("2", WET_SLATE), ("3", WET_SLATE)]


def test_equal_findings_share_one_label() -> None:
    svg = marks(*(found("warning", cmath.rect(30, k), say="1.19 mm of card.") for k in range(8)))
    assert [text.text for text in svg.iter("text")] == ["1 x8"]
    assert len(rings(svg)) == 8


def test_what_is_said_of_the_whole_piece_is_not_ringed() -> None:
    assert not list(marks(found("warning", 0, code="hard-to-hold", limit=57.15)).iter())[1:]


@pytest.mark.parametrize("count", [1, 5, 14, 24])
@pytest.mark.parametrize("reach", [0.0, 5.0, 36.0])
def test_labels_stand_clear_of_the_piece_and_of_each_other(count: int, reach: float) -> None:
    places = [cmath.rect(reach, 0.26 * k) + 0.01 * k for k in range(count)]
    boxes = [box for box, _ in labels(marks(*(found("warning", at) for at in places)))]
    assert len(boxes) == count
    for i, box in enumerate(boxes):
        corners = (complex(x, y) for x in (box.left, box.right) for y in (box.bottom, box.top))
        # The piece is a disc of 200 px: no corner of a label lies on it, none beyond the room kept for labels.
        assert all(abs(corner - MIDDLE) > 196 for corner in corners)
        assert PIECE.bottom - LABEL_ROOM_PX <= box.bottom
        assert box.top <= PIECE.top + LABEL_ROOM_PX
        for other in boxes[:i]:
            apart = box.right < other.left or other.right < box.left or box.top < other.bottom or other.top < box.bottom
            assert apart


@pytest.mark.parametrize(("wide", "high"), [(600, 250), (250, 600), (600, 120)])
@pytest.mark.parametrize("count", [24, *(pytest.param(k, marks=pytest.mark.slow) for k in (20, 30))])
def test_round_a_long_piece_no_label_lies_on_another(wide: float, high: float, count: int) -> None:
    """Fourteen at least have their label, the worst first; the places of the others are ringed all the same."""
    rng = random.Random(count)
    findings = [
        found("warning", complex(rng.uniform(-50, 50) * wide / 600, rng.uniform(-50, 50) * high / 600), say=f"{k} mm.")
        for k in range(count)
        for _ in range(rng.choice((1, 12)))
    ]
    groups = grouped(findings)
    assert len(groups) == count
    piece = Box(-wide / 2, -high / 2, wide / 2, high / 2)
    stood = placed_marks(groups, Affine.from_scale(6), piece)[1]
    assert len(stood) >= 14
    assert [label.group.number for label in stood[:14]] == list(range(1, 15))
    for one, other in itertools.combinations([label.box for label in stood], 2):
        assert one.right <= other.left or other.right <= one.left or one.top <= other.bottom or other.top <= one.bottom
    assert all(box.bottom >= piece.bottom - LABEL_ROOM_PX for box in (label.box for label in stood))
    assert all(box.top <= piece.top + LABEL_ROOM_PX for box in (label.box for label in stood))


def test_a_picture_with_findings_has_rings_and_a_table() -> None:
    plate = Region(rectangle(-40, -30, 40, 30), (circle(0, 12).reversed(),))
    thin = Finding("thin-web", "warning", "1.2 mm of card between two cuts, this card needs 1.5 mm. Mend it.",
                   where="leaf 4, at 2 o'clock", x_mm=25.0, y_mm=12.0, measured=1.2, limit=8.0)  # fmt: skip
    svg = piece_picture(PieceDrawing("plate", (plate,), "sand", (), grouped([thin])))
    told = [text.text for text in etree.fromstring(svg.encode()).iter("{*}text")]
    assert told[3:5] == ["1", "warning"]
    assert " ".join(told[5:-1]) == "Leaf 4, at 2 o'clock: 1.2 mm of card between two cuts, this card needs 1.5 mm."
    assert told[-1] == "Mend it."
    ring = next(r for r in etree.fromstring(svg.encode()).iter("{*}circle") if r.get("stroke") == WET_SLATE)
    centre, radius = complex(float(ring.get("cx")), float(ring.get("cy"))), float(ring.get("r"))
    assert colour_at(raster(svg), centre + radius) == WET_SLATE
    assert colour_at(raster(svg), centre) == "#D2B888"
