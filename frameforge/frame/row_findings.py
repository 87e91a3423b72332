"""What a row has to say for itself: steep seats, slits narrower than the card's limit, thin webs, choices made."""

from __future__ import annotations

from collections.abc import Sequence

from frameforge.finding import Finding
from frameforge.frame.fit import Fit
from frameforge.frame.gap import Gap
from frameforge.frame.layout import Layout
from frameforge.frame.model import RowModel
from frameforge.frame.offers import things
from frameforge.frame.others import others_within
from frameforge.frame.row_offers import touching_words, ways_to_gap
from frameforge.frame.spec import Size
from frameforge.frame.squeezed import squeezed
from frameforge.frame.steep_seat import steep_seats
from frameforge.frame.ways import sentence_of
from frameforge.tolerances import GAP_SLACK_MM, TOUCH_MM
from frameforge.units import format_floor

__all__ = ["row_findings"]


def row_findings(
    model: RowModel, fit: Fit, layout: Layout, positions: Sequence[int], directions: Sequence[float]
) -> tuple[Finding, ...]:
    """Return the row's findings; none stops the piece from being made. ``directions`` are degrees clockwise."""
    found = [Finding("took", "note", f"{sentence}.", piece=model.spec.name) for sentence in fit.took]
    found += steep_seats(model, layout, positions, directions)
    found += squeezed(model, fit, layout, positions, directions)
    found += _narrow(model, fit, layout)
    return tuple(found)


def _narrow(model: RowModel, fit: Fit, layout: Layout) -> list[Finding]:
    """Name the gaps that are narrower than the card's limit: slits between motifs, webs between windows.

    Each is a finding of its own, with its own measure and place, in one sentence for them all.

    What stands between two cut-aways is a tooth of card, and is refused where it does not hold.
    """
    is_window = model.row.place == "window"
    limit = model.preset.least_web_mm if is_window else model.preset.least_slot_mm
    slits = [*_slits(layout, is_window=is_window), *(pair.gap for pair in others_within(layout, limit))]
    narrow = [gap for gap in slits if TOUCH_MM < gap.gap_mm < limit - TOUCH_MM]
    if not narrow:
        return []
    least = min(narrow, key=lambda gap: gap.gap_mm)
    what = "web" if is_window else "slit"
    say = (
        f"{len(narrow)} {what}{'s' if len(narrow) > 1 else ''} of {format_floor(least.gap_mm)} between the "
        f"{things(model, 2)}, this card needs {limit:.1f} mm."
    )

    def holds(tried: RowModel, size: Size, made: Layout) -> bool:
        is_wide = all(gap.gap_mm >= limit - GAP_SLACK_MM for gap in _slits(made, is_window=is_window))
        return is_wide and not others_within(made, limit - GAP_SLACK_MM)

    touching = touching_words(model, fit, layout)
    ways = [way.words for way in ways_to_gap(model, fit, limit, holds)]
    say += sentence_of([touching, *ways] if touching else ways)
    code = "thin-web" if is_window else "narrow-slot"
    spots = [(gap, (gap.on_a + gap.on_b) / 2) for gap in narrow]
    return [
        Finding(code, "warning", say, "", model.spec.name, spot.real, spot.imag, gap.gap_mm, limit, "mm")
        for gap, spot in spots
    ]


def _slits(layout: Layout, *, is_window: bool) -> list[Gap]:
    """Return the gaps between neighbours that are waste, or, of windows, card."""
    cuts = [bool(ready.motif.cut_away) and not is_window for ready in layout.readies]
    pairs = zip(layout.gaps, cuts, [*cuts[1:], cuts[0]], strict=True)
    return [gap for gap, one, other in pairs if gap and not (one and other)]
