"""Every tolerance: its name with the unit, its value, the reason for it.

No other module types a tolerance. Nothing here decides what the maker is told: findings are measured on true curves.
"""

from __future__ import annotations

from typing import Final

__all__ = [
    "AGREE_MM",
    "BEND_FIT_MM",
    "BIARC_MM",
    "BULGE_DECIMALS",
    "CHAIN_MM",
    "CHORD_MM",
    "CLOSED_PART",
    "CLOSE_FEET_MM",
    "CLOSE_UP_MM",
    "CRUMB_EDGE_MM",
    "DOT_MM",
    "DOUBLE_LINE_MM",
    "DUST_MM",
    "DXF_DECIMALS",
    "EVEN_MM",
    "EXTENT_MM",
    "FILES_AGREE_MM",
    "FIT_MM",
    "FLAT_ARC",
    "FLAT_FOOT_MM",
    "FOOT_BAND_MM",
    "FREE_END_MM",
    "GAP_MM",
    "GAP_SLACK_MM",
    "JOINT_MM",
    "LEAST_DASH_MM",
    "LENGTH_PART",
    "LINES_MM",
    "LINE_CHORD_MM",
    "MEND_FIT_MM",
    "MEND_MARGIN_MM",
    "MIN_CHORD_MM",
    "MOST_CHORDS",
    "NATURAL_JOINT_MM",
    "NEAREST_MM",
    "NEAR_WHITE",
    "NO_GAP_MM",
    "ONE_POINT_MM",
    "ON_CHORD_MM",
    "ON_LINE_MM",
    "PAGE_MM",
    "PATCH_MM",
    "REFINEMENTS",
    "REFINE_BY",
    "RING_MM",
    "ROOT_MM",
    "SAME_ANGLE_RAD",
    "SAME_PLACE_MM",
    "SAME_POINT_MM",
    "SAME_SHAPE_MM",
    "SAME_T",
    "SLIVER_MM",
    "SMALLEST_ARC_MM",
    "SMOOTH_MM",
    "SMOOTH_RAD",
    "SPLINE_FIT_MM",
    "SPLINE_MM",
    "STRAIGHT_END_MM",
    "SUPPORT_MM",
    "SVG_DECIMALS",
    "SVG_MM",
    "THIN_ARC_MM",
    "TIDY_FIT_MM",
    "TOUCH_MM",
    "TURNED_ARC_MM",
    "WELD_MM",
    "WIDTH_MM",
]

CHORD_MM: Final = 0.01
"""Greatest distance between a curve and its chords while shapely decides the topology. The traced result does not
depend on it; smaller costs time, larger costs more repeated runs."""

REFINE_BY: Final = 8.0
"""A run that is undecided is repeated with the chord distance divided by this."""

REFINEMENTS: Final = 4
"""How often a run is repeated finer before the fallback; 0.01 / 8^4 is 2.4e-6 mm."""

MOST_CHORDS: Final = 400_000
"""A run of more chords is not repeated finer: that would take seconds and hundreds of MB. A motif that holds 1000
curves, put round 40 times, has as many at the chord distance above."""

MIN_CHORD_MM: Final = 1e-9
"""Shorter than this a segment is nothing: double precision at 1 m resolves 1e-13 mm, so four digits remain."""

NATURAL_JOINT_MM: Final = 1e-11
"""Two curves that pass this close to a polygon vertex meet there; a few hundred units in the last place at 100 mm."""

JOINT_MM: Final = 1e-9
"""Residual of a solved crossing, and the greatest gap a traced outline may have."""

WELD_MM: Final = 2.5e-10
"""Joints of outlines this close are one point; a quarter of JOINT_MM, so that a moved joint opens no gap. Copies placed
by solved seats differ by 1e-12 at most."""

ON_CHORD_MM: Final = 1e-8
"""An edge of a result lies on a chord when its ends are this close to it; shapely rounds crossings to 1e-13 mm, and
shallow ones slide along the chord, not away from it."""

ON_LINE_MM: Final = 1e-7
"""An end this close to a fold lies on it: crossings with it are solved to 1e-9, and no file shows so little."""

PATCH_MM: Final = 1e-5
"""Curves that should cross but pass each other this closely are joined in the vertex between them; a tenth of the last
decimal written, so it cannot be seen in a file."""

SAME_T: Final = 1e-9
"""Chain parameters (segments and parts of them, no unit) that differ by less are one place."""

SUPPORT_MM: Final = 1e-9
"""Circles, ellipses and lines whose numbers agree to this are one support and share their flattening grid."""

SAME_POINT_MM: Final = 1e-7
"""Joints of a drawing closer than this are one joint; a tenth of the last decimal drawing programs write."""

ROOT_MM: Final = 0.3
"""How far a motif is sunk below its foot line, so that the union has no hair-thin joint (thickness of 240 g card)."""

GAP_MM: Final = 1e-3
"""Flattening distance when the gap between neighbouring motifs is measured on chords."""

BIARC_MM: Final = 0.01
"""Greatest distance between a cubic or elliptical arc and the circular arcs a DXF polyline carries for it."""

LINES_MM: Final = 0.02
"""Greatest distance between a curve and its chords in ``--dxf lines``; a tenth of what a knife can follow."""

LENGTH_PART: Final = 1e-12
"""Two quadratures of a curve's length that differ by less than this part of it have settled; 1e-10 is what we state."""

WIDTH_MM: Final = 1e-7
"""A width that equals its limit but for rounding is not under it."""

SAME_SHAPE_MM: Final = 1e-6
"""Segments whose control points, laid on one another, agree to this are one shape: what is fitted to one serves all.
Far below every fit, far above what turning a motif round a ring does to its numbers (1e-13 mm)."""

SVG_DECIMALS: Final = 4
"""Decimals of a coordinate in SVG: half a step is 5e-5 mm, a hundredth of what a cutter resolves."""

SVG_MM: Final = 2e-4
"""Greatest distance between a curve and what SVG text carries of it, rounded ends and radii together."""

DXF_DECIMALS: Final = 6
"""Decimals of a coordinate in DXF, mm; two more in inches."""

BULGE_DECIMALS: Final = 12
"""Decimals of a bulge: a chord of 1 m and a rounding of 1e-12 move the middle of the arc by 2.5e-10 mm."""

SPLINE_MM: Final = 1e-5
"""Greatest distance between an arc and the cubics written for it; a tenth of the last decimal of SVG."""

FILES_AGREE_MM: Final = 0.02
"""SVG and DXF of one piece lie no further apart than this."""

THIN_ARC_MM: Final = 0.5
"""An elliptical arc with a shorter half-axis is written in SVG as cubics, whose shape does not hang on two radii."""

FLAT_ARC: Final = 4.0
"""So is one whose half-axes have a greater ratio: that ratio multiplies the rounding of its ends."""

TURNED_ARC_MM: Final = 60.0
"""And one that stands askew with a longer half-axis: half a step of its turn, 5e-5 deg, is 5e-5 mm at that radius."""

SAME_ANGLE_RAD: Final = 1e-9
"""Angles that agree to this are one angle: at a radius of 1 m it is 1e-6 mm."""

TOUCH_MM: Final = 1e-6
"""Edges nearer than this touch: a hundredth of the last decimal written, so no file can tell them apart."""

ONE_POINT_MM: Final = 1e-4
"""Edges nearer than this may come to one point in a file: the last decimal written."""

SAME_PLACE_MM: Final = 0.05
"""Findings of one kind nearer than this are one finding."""

NEAREST_MM: Final = 1e-7
"""How near chords must be to their curves before the closest pair is solved on the curves themselves."""

NO_GAP_MM: Final = 1e-12
"""Points closer than this are one; curves that cross are solved to a few units in the last place."""

GAP_SLACK_MM: Final = 1e-9
"""A gap short of the wanted one by this still counts as wide enough: a ring that just closes keeps its last repeat."""

CHAIN_MM: Final = 2e-9
"""Stepped gaps may miss the stated one by this. They are solved to 1e-11; between outlines that just touch, where the
measure changes from distance to depth, it jumps by 1e-9."""

RING_MM: Final = 1e-9
"""Gaps round a ring that differ by no more than this are equal; Newton settles at a hundredth of it."""

EXTENT_MM: Final = 1e-5
"""How far a curve may lie outside the points by which a piece's room is measured: nothing that a ruler shows."""

AGREE_MM: Final = 1e-3
"""Size, count, gap and scale that are all stated agree when the gap comes to what is stated within this."""

PAGE_MM: Final = 0.01
"""By so much a drawing may reach beyond its page, or a box behind it fall short of it, before it is told."""

CLOSED_PART: Final = 1e-12
"""A path whose end misses its start by no more than this part of its coordinates comes back by rounding only."""

NEAR_WHITE: Final = 0.95
"""From here on, in red, green and blue alike (0 to 1), a colour reads as the white of the page."""

FLAT_FOOT_MM: Final = 1e-3
"""A foot drawn straight and level may waver by this and is still flat; the last decimal most drawings carry."""

FOOT_BAND_MM: Final = 0.1
"""What comes this close to the lowest line of a drawing stands on it; a hand-drawn foot is no straighter."""

CLOSE_FEET_MM: Final = 0.02
"""Feet found on two levels as close as this are one: joints of both would leave a line as short as a raster step."""

BEND_FIT_MM: Final = 1.8e-3
"""Greatest distance between a cubic of a bent motif and the exact curve, measured at 65 points; a tenth is left below
0.002 mm for what lies between them."""

FIT_MM: Final = 2e-3
"""Greatest distance between a cubic that stands for a parallel curve and the exact one; a hundredth of a kerf."""

SMALLEST_ARC_MM: Final = 1e-5
"""A circle whose parallel has no greater radius than this has no parallel on that side."""

SMOOTH_RAD: Final = 1e-10
"""Segments that meet at a smaller angle run on smoothly: their exact parallels meet too."""

SMOOTH_MM: Final = 1e-4
"""Where a fitted parallel is involved, neighbours whose ends differ by less than this are joined in one point."""

FREE_END_MM: Final = 2e-5
"""Free ends of parallel curves this close belong together: both end where the source's own curvature stops them."""

CRUMB_EDGE_MM: Final = 1e-5
"""Edges of a result this short that lie on no curve are rounding where several curves meet."""

DUST_MM: Final = 1e-4
"""Rings shorter than this are rounding where parallels vanish."""

DOT_MM: Final = 1e-6
"""A drawn line no longer than this is a dot."""

STRAIGHT_END_MM: Final = 1e-3
"""So far an end that bends more tightly than the pen is wide may lie from the straight line it is drawn as; half the
error of a fitted edge."""

LEAST_DASH_MM: Final = 0.1
"""Dashes and gaps that come to less than this, one with another, are drawn as a whole line; a third of 240 g card's
thickness."""

EVEN_MM: Final = 0.02
"""A motif this near to its own mirror image counts as even on both sides: both are compared as chords."""

MEND_FIT_MM: Final = 0.01
"""How far the line of arcs that a mend follows may lie from the middle of a thin place: it shifts the added card a
little to one side and takes nothing from its width. A tenth of what the eye sees."""

MEND_MARGIN_MM: Final = 0.005
"""A mend makes a place this much wider to each side than asked, so that rounding in a file does not undo it."""

TIDY_FIT_MM: Final = 0.004
"""How far a curve may lie from the chain of lines and arcs of a mend whose place it takes; both edges of a place
together then stay within its margin."""

SLIVER_MM: Final = 0.02
"""A mend leaves no segment shorter than this: cutters step as far, and a check of files tells shorter ones."""

LINE_CHORD_MM: Final = 5e-4
"""Distance of chords from curves while the lines of a file are compared with each other: a tenth of what is decided."""

DOUBLE_LINE_MM: Final = 0.005
"""Lines nearer than this all along are one line cut twice: half a step of files that round to hundredths."""

CLOSE_UP_MM: Final = 0.5
"""Open ends no further apart than this are joined where that is asked for: a gap that only a slip of the hand leaves,
and half the narrowest slot of card."""

SPLINE_FIT_MM: Final = 2e-3
"""How near cubics come to a spline of a DXF that is no cubic itself; as near as to any other fitted curve."""
