"""Motifs that may fill a rest, and what falls under the card's limits in them."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import pytest
from fixtures.plain_motifs import husk, leaf, plain_rectangle
from fixtures.rows import D100, model_of

from frameforge.frame.chain import longest_chain
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


def filler_of(motif: Motif, gap_mm: float, **more: object) -> tuple[RowModel, Filler]:
    """Return the motif at the seam of a row of leaves round 100 mm."""
    model = model_of(leaf(), **more)  # type: ignore[arg-type]
    chain = longest_chain(model, D100, 1.0, gap_mm)
    assert chain is not None
    found = largest_filler(model, chain, motif)
    assert found is not None
    return model, found


def test_plain_card_holds_as_far_as_its_foot_does() -> None:
    assert fault_of(*filler_of(husk(), 3.0)) is None


@pytest.mark.parametrize(("radius_mm", "part"), [(4.9, "of card between"), (1.0, None), (0.5, "hole")])
def test_webs_and_holes_shrink_with_the_motif(radius_mm: float, part: str | None) -> None:
    """At scale .9 or so a web of .1 mm is too thin, holes of 1.8 and .9 mm are too small for a knife, 2.7 mm is not."""
    model, filler = filler_of(pierced(radius_mm if part else 1.5), 3.0)
    fault = fault_of(model, filler)
    assert (fault is None) is (part is None)
    assert part is None or part in str(fault)


def test_a_window_is_looked_at_as_a_hole_in_the_card() -> None:
    """Cut through the card a bar .8 mm wide is a slit too narrow for a knife, and the web beside it is none of it."""
    model = model_of(plain_rectangle(4, 12), place="window", inset_mm=20.0)
    bar = Filler(
        plain_rectangle(0.8, 12), ready(Ornament(plain_rectangle(0.8, 12)), 1.0, is_flipped=False), 0.0, (3, 3)
    )
    assert "space" in str(fault_of(model, bar))
    assert "sticks out" in str(fault_of(model_of(leaf()), bar))


def test_all_that_can_be_named_are_tried_and_what_cannot_be_read_is_passed_over(tmp_path: Path) -> None:
    (tmp_path / "daisy.svg").write_bytes((folder() / "plum-blossom.svg").read_bytes())
    (tmp_path / "torn.svg").write_text("<svg")
    found = [motif.name for motif in known_motifs(tmp_path, partial(load_motif, folder=tmp_path))]
    assert found == sorted({"daisy", *names()})
