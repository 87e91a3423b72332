"""Motifs that may fill a rest, and what falls under the card's limits in them."""

from __future__ import annotations

import math
from functools import partial
from pathlib import Path

import pytest
from fixtures.plain_motifs import arch, husk, leaf, plain_rectangle
from fixtures.rows import D100, model_of

from frameforge.frame.chain import Chain, longest_chain
from frameforge.frame.filler import Filler, largest_filler
from frameforge.frame.model import RowModel
from frameforge.frame.ornament import ready
from frameforge.frame.spec import Ornament
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.job.fillers import fault_of, known_motifs
from frameforge.motif.catalogue import load_motif, names
from frameforge.motif.motif import Motif
from frameforge.read.motif_folder import folder


def pierced(radius_mm: float, width_mm: float = 10.0) -> Motif:
    """Return a square card with a round window in its middle."""
    half = width_mm / 2
    card = Region(rectangle(-half, 0, half, width_mm))
    return Motif("tile", (card,), width_mm, window=(Region(circle(1j * half, radius_mm)),))


def filler_of(motif: Motif, gap_mm: float, **more: object) -> tuple[RowModel, Chain, Filler]:
    """Return the motif at the seam of a row of leaves round 100 mm."""
    model = model_of(leaf(), **more)  # type: ignore[arg-type]
    chain = longest_chain(model, D100, 1.0, gap_mm)
    assert chain is not None
    found = largest_filler(model, chain, motif)
    assert found is not None
    return model, chain, found


def test_plain_card_holds_as_far_as_its_foot_does() -> None:
    assert fault_of(*filler_of(husk(), 3.0)) is None


@pytest.mark.parametrize(("radius_mm", "part"), [(4.9, "of card between"), (1.0, None), (0.5, "hole")])
def test_webs_and_holes_shrink_with_the_motif(radius_mm: float, part: str | None) -> None:
    """At scale .9 or so a web of .1 mm is too thin, holes of 1.8 and .9 mm are too small for a knife, 2.7 mm is not."""
    order = filler_of(pierced(radius_mm if part else 1.5), 3.0)
    fault = fault_of(*order)
    assert (fault is None) is (part is None)
    assert part is None or part in str(fault)


def test_a_window_is_looked_at_as_a_hole_in_the_card() -> None:
    """Cut through the card a bar .8 mm wide is a slit too narrow for a knife, and the web beside it is none of it."""
    window = model_of(plain_rectangle(4, 12), place="window", inset_mm=20.0)
    bar = plain_rectangle(0.8, 12)
    filler = Filler(bar, ready(Ornament(bar), 1.0, is_flipped=False), math.pi, (3, 3))
    for model, part in ((window, "space"), (model_of(leaf()), "sticks out")):
        chain = longest_chain(model, D100, 1.0, 3.0)
        assert chain is not None
        assert part in str(fault_of(model, chain, filler))


def test_at_a_gap_of_0_only_feet_may_touch() -> None:
    """Squares meet arches at their feet, husks by their bellies."""
    model = model_of(arch())
    chain = longest_chain(model, D100, 1.0, 0.0)
    assert chain is not None
    square, belly = (largest_filler(model, chain, motif) for motif in (plain_rectangle(12, 12), husk()))
    assert square is not None
    assert belly is not None
    assert fault_of(model, chain, square) is None
    assert fault_of(model, chain, belly) == "it touches its neighbours in a point, and a point holds nothing."


def test_all_that_can_be_named_are_tried_and_what_cannot_be_read_is_passed_over(tmp_path: Path) -> None:
    (tmp_path / "daisy.svg").write_bytes((folder() / "plum-blossom.svg").read_bytes())
    (tmp_path / "torn.svg").write_text("<svg")
    found = [motif.name for motif in known_motifs(tmp_path, partial(load_motif, folder=tmp_path))]
    assert found == sorted({"daisy", *names()})
