"""A motif written as a drawing of its own comes back as the same parts, foot and axis, with its curves."""

from __future__ import annotations

from collections import Counter

import pytest
from fixtures.plain_motifs import arch, leaf, pod, scallop

from frameforge.geometry.affine import Affine
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, ellipse, rectangle
from frameforge.motif.catalogue import load_motif, names
from frameforge.motif.foot import to_motif
from frameforge.motif.motif import Motif
from frameforge.read.svg import read_drawing
from frameforge.write.marker import is_marked
from frameforge.write.motif_file import motif_text


def back(motif: Motif) -> Motif:
    text = motif_text(motif, "A & B", "so <that>")
    drawing = read_drawing(text.encode(), where="back.svg")
    assert drawing.notes == ()
    return to_motif(drawing, motif.name, least_neck_mm=1.5, where="back.svg")


def kinds(motif: Motif) -> Counter[str]:
    parts = (*motif.join, *motif.cut_away, *motif.window)
    return Counter(type(s).__name__ for region in parts for outline in region.outlines for s in outline.segments)


EYE = Motif(
    "eye",
    (Region(ellipse(8j, 7, 8).transformed(Affine.from_turn(0.3))),),
    5.0,
    window=(Region(circle(8j, 4), (circle(8j, 2).reversed(),)),),
)


@pytest.mark.parametrize("motif", [arch(), leaf(), pod(), scallop(), EYE], ids=lambda motif: motif.name)
def test_a_motif_comes_back_as_it_was(motif: Motif) -> None:
    again = back(motif)
    assert again.is_foot_stated
    assert again.foot_mm == pytest.approx(motif.foot_mm, abs=1e-6)
    for part in ("join", "cut_away", "window"):
        old, new = getattr(motif, part), getattr(again, part)
        assert sum(map(area_mm2, new)) == pytest.approx(sum(map(area_mm2, old)), abs=1e-4)
        assert [len(region.outlines) for region in new] == [len(region.outlines) for region in old]
        if old:
            for side in ("left", "bottom", "right", "top"):
                assert getattr(bounds(new), side) == pytest.approx(getattr(bounds(old), side), abs=2e-6)
    assert set(kinds(again)) == set(kinds(motif)), "curves stay what they are"


@pytest.mark.parametrize("name", names())
def test_ours_come_back_too(name: str) -> None:
    motif = load_motif(name)
    again = back(motif)
    assert kinds(again)["Cubic"] == kinds(motif)["Cubic"]
    assert kinds(again)["Line"] == kinds(motif)["Line"]
    for part in ("join", "cut_away", "window"):
        old, new = getattr(motif, part), getattr(again, part)
        assert sum(map(area_mm2, new)) == pytest.approx(sum(map(area_mm2, old)), abs=1e-5)


def test_a_motif_that_reaches_below_its_foot_lies_on_the_page_whole() -> None:
    sunk = Motif("sunk", (Region(rectangle(-3, -2.5, 4, 9)),), 2.0)
    drawing = read_drawing(motif_text(sunk, "sunk", "").encode(), where="sunk.svg")
    assert (drawing.width_mm, drawing.height_mm) == (9, 13.5)
    assert drawing.notes == (), "nothing reaches beyond the page"


def test_it_proves_that_we_wrote_it_and_is_the_same_every_time() -> None:
    text = motif_text(arch(), "Arch", "")
    assert is_marked(text.encode())
    assert not is_marked(text.replace("-8", "-7").encode())
    assert motif_text(arch(), "Arch", "") == text
