"""A rest filled: the row with just its stated gap, and a smaller motif at the seam."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from frameforge.errors import FrameforgeError, GeometryError, InputError
from frameforge.frame.chain import Chain, chain_of
from frameforge.frame.filler import Filler, closes_evenly, filled, largest_filler
from frameforge.frame.fit import Fit, fit_row, wanted_gap_mm
from frameforge.frame.layout import Layout
from frameforge.frame.model import RowModel
from frameforge.frame.offers import gap_kind
from frameforge.frame.piece import RowResult
from frameforge.frame.pitch import pitch_deg
from frameforge.frame.wording import plural
from frameforge.units import format_floor

__all__ = ["Stepped", "relaid", "stepped", "stepped_result"]


@dataclass(frozen=True, slots=True)
class Stepped:
    """A row with its gap stepped round: the chain, the filler unless it closes by itself, both laid out together."""

    chain: Chain
    filler: Filler | None
    layout: Layout


def stepped(model: RowModel, fit: Fit) -> Stepped:
    """Return a row with rest "filler" laid out, the filler last.

    Raises InputError where the row names no filler and needs one, GeometryError where it does not go in.
    """
    gap = wanted_gap_mm(model)
    chain = chain_of(model, fit.size, fit.count, fit.scale, gap)
    if closes_evenly(chain):
        return Stepped(chain, None, chain.layout())
    seam = f"the {format_floor(chain.seam_gap_mm)} at the seam"
    if model.row.filler is None:
        say = f'no motif is named to fill {seam}. Write filler, for example filler = "scallop".'
        raise InputError(say, where=model.spec.name)
    filler = largest_filler(model, chain, model.row.filler)
    if filler is None:
        name = plural(model.row.filler.name, 1)
        say = (
            f"no {name} that this card can bear goes into {seam} with {gap_kind(model)}s of {gap:g} mm on both sides. "
            "Take another filler, or spread the rest."
        )
        raise GeometryError(say, where=model.spec.name, code="no-filler", seam_gap_mm=chain.seam_gap_mm, wanted_mm=gap)
    return Stepped(chain, filler, filled(chain, filler))


def relaid(model: RowModel, fit: Fit, scale: float) -> Layout | None:
    """Return the row as it would stand at another scale: with a filler stepped and filled anew, else the same count.

    None where it cannot be so.
    """
    if model.row.rest != "filler":
        return model.layout(fit.size, fit.count, scale)
    other = RowModel(model.spec, replace(model.row, scale=scale, foot_mm=None), model.preset)
    try:
        return stepped(other, fit_row(other, fit.size)).layout
    except FrameforgeError:
        return None


def stepped_result(done: Stepped, result: RowResult) -> RowResult:
    """Return the result of such a row with the filler, the last of its repeats so far, told apart from them."""
    repeats = result.repeats
    main = replace(
        result,
        count=done.chain.count,
        spread=None if done.chain.track.edge.is_circle else "equal-gap",
        pitch_deg=pitch_deg(done.layout, done.chain.count),
        start_deg=math.degrees(done.chain.seam_rad + math.pi) % 360.0,
        seam_gap_mm=done.chain.seam_gap_mm,
        repeats=repeats[: done.chain.count],
    )
    if done.filler is None:
        return main
    filler = replace(
        main,
        motif_name=done.filler.motif.name,
        count=1,
        gap_mm=min(gap.gap_mm for gap in done.layout.gaps[-2:] if gap),
        gap_max_mm=max(gap.gap_mm for gap in done.layout.gaps[-2:] if gap),
        foot_gap_mm=min((gap for gap in done.layout.foot_gaps[-2:] if gap is not None), default=None),
        pitch_deg=None,
        start_deg=round(repeats[-1].direction_deg, 9),
        seam_gap_mm=None,
        scale=done.filler.scale,
        repeats=repeats[-1:],
    )
    return replace(main, filler=filler)
