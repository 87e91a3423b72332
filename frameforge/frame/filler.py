"""The filler: a motif that stands at the seam of a row, as large as leaves the row's gap on both its sides."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from frameforge.errors import GeometryError
from frameforge.frame.chain import Chain, step_gaps
from frameforge.frame.layout import Layout, measured
from frameforge.frame.model import RowModel
from frameforge.frame.ornament import Ready, ready
from frameforge.frame.place import Track
from frameforge.frame.rising import rising_zero
from frameforge.frame.spec import Ornament
from frameforge.frame.standing import stand
from frameforge.motif.motif import Motif
from frameforge.tolerances import AGREE_MM, GAP_SLACK_MM, NO_GAP_MM

__all__ = ["Filler", "closes_evenly", "filled", "largest_filler", "ranked"]

_CENTRING_STEPS = 60
_NEWTON_STEPS = 25
_SETTLED_MM = 1e-11
_LEAST_HEIGHT_MM = 0.5
"""A filler lower than this is a speck of card (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Filler:
    """A motif, as ``drawn`` and at the scale at which it fills the seam, its place (tau, radians), its gaps."""

    drawn: Motif
    ready: Ready
    tau: float
    gaps_mm: tuple[float, float]

    @property
    def motif(self) -> Motif:
        """The motif as it will be cut."""
        return self.ready.motif

    @property
    def scale(self) -> float:
        """How many times as large as its drawing it is."""
        return self.ready.scale


def closes_evenly(chain: Chain) -> bool:
    """Whether the seam is no wider than the gap, so that there is nothing to fill."""
    return chain.seam_gap_mm - chain.gap_mm <= AGREE_MM


def largest_filler(model: RowModel, chain: Chain, motif: Motif) -> Filler | None:
    """Return the motif at the largest scale that leaves the chain's gap on both sides.

    None where even its least scale stands too near: the one at which its foot has the card's least neck, or, without
    a foot, at which it is half a millimetre high. Where gaps are measured from foot to foot, a motif without a foot
    fills nothing, and none that would stand in its neighbours above their feet. Both gaps hold to 1e-10 mm.
    """
    found = _at_largest(model, chain, motif)
    if found is None or model.row.foot_gap_mm is None:
        return found
    beside = [gap.gap_mm for gap in filled(chain, found).gaps[-2:] if gap]
    return found if min(beside) >= -GAP_SLACK_MM else None


def _at_largest(model: RowModel, chain: Chain, motif: Motif) -> Filler | None:
    """Return the motif at the scale at which both its gaps, of the kind the row states, are those of the chain."""
    seam = _Seam(model, chain, motif)
    drawn = ready(Ornament(motif), 1.0, is_flipped=False)
    if seam.by_foot and drawn.foot_mm == 0:
        return None
    foot = drawn.foot_mm
    least = model.preset.least_neck_mm / foot if foot else _LEAST_HEIGHT_MM / drawn.box.height_mm
    if seam.excess_mm(least) < 0:
        return None
    width = foot if seam.by_foot else drawn.box.width_mm
    guess = max((chain.seam_gap_mm - 2 * chain.gap_mm) / width, 1.01 * least)
    quickly = seam.solved(guess)
    if quickly is not None and quickly.scale > least:
        return quickly
    # The gap falls as the scale rises: look for the zero of its opposite in 1/scale.
    inverse = rising_zero(lambda x: seam.excess_mm(1 / x), 1 / guess)
    return None if inverse is None else seam.balanced(1 / inverse)


class _Seam:
    """The two repeats at the seam, and a motif tried between them at any scale and place."""

    def __init__(self, model: RowModel, chain: Chain, motif: Motif) -> None:
        self.track, self.motif, self.gap_mm = chain.track, motif, chain.gap_mm
        self.by_foot = model.row.foot_gap_mm is not None
        self.ends = chain.readies[-1], chain.readies[0]
        self.reach = chain.taus[-1], chain.taus[0] + math.tau
        self.tau = chain.track.edge.tau_towards(chain.seam_rad)
        self.tau += round((sum(self.reach) / 2 - self.tau) / math.tau) * math.tau

    def excess_mm(self, scale: float) -> float:
        """Return by how much the gaps of the motif, where both are equal, are wider than the chain's."""
        try:
            return min(self.balanced(scale).gaps_mm) - self.gap_mm
        except GeometryError:
            return -math.inf

    def balanced(self, scale: float) -> Filler:
        """Return the motif at a scale, where both its gaps are equal. Raises GeometryError without a seat."""
        made = ready(Ornament(self.motif), scale, is_flipped=False)
        tau, (low, high) = self.tau, self.reach
        for _ in range(_CENTRING_STEPS):
            at = self._tried(made, tau)
            miss, rate = at.before - at.after, at.before_by_tau - at.after_by_tau
            low, high = (low, tau) if miss > 0 else (tau, high)
            if abs(miss) <= 10 * NO_GAP_MM or not high - low > 1e-15 * abs(tau):
                break
            better = tau - miss / rate if rate > 0 else math.inf
            tau = better if low < better < high else (low + high) / 2
        return Filler(self.motif, made, tau, (at.before, at.after))

    def solved(self, scale: float) -> Filler | None:
        """Return place and scale with the chain's gap on both sides, by Newton on both at once; None if it strays."""
        tau = self.tau
        for _ in range(_NEWTON_STEPS):
            made = ready(Ornament(self.motif), scale, is_flipped=False)
            try:
                at = self._tried(made, tau)
            except GeometryError:
                return None
            before, after = at.before - self.gap_mm, at.after - self.gap_mm
            if max(abs(before), abs(after)) <= _SETTLED_MM:
                return Filler(self.motif, made, tau, (at.before, at.after))
            cross = at.before_by_tau * at.after_by_scale - at.after_by_tau * at.before_by_scale
            if not cross:
                return None
            tau -= (before * at.after_by_scale - after * at.before_by_scale) / cross
            scale -= min(scale / 2, (at.before_by_tau * after - at.after_by_tau * before) / cross)
            if not self.reach[0] < tau < self.reach[1]:
                return None
        return None

    def _tried(self, made: Ready, tau: float) -> _Try:
        """Return the gaps with the motif at a place, and how they change."""
        readies = (self.ends[0], made, self.ends[1])
        seats, standing = stand(self.track, readies, (self.reach[0], tau, self.reach[1]))
        before, after = step_gaps(seats, standing, by_foot=self.by_foot)
        seat = seats[1]

        def rates(contact: complex, towards: complex) -> tuple[float, float]:
            # As the scale grows a contact goes straight away from the middle of the foot, which sinks with the sagitta,
            # nearly as the square of the foot; what that leaves is for the next step.
            by_tau = seat.moved(contact)
            by_scale = (contact - seat.middle - 2j * seat.sagitta_mm * seat.tangent) / made.scale
            return (towards.conjugate() * by_tau).real, (towards.conjugate() * by_scale).real

        return _Try(
            before.gap_mm, after.gap_mm, *rates(before.on_b, before.direction), *rates(after.on_a, -after.direction)
        )


class _Try(NamedTuple):
    """The gaps before and after a filler (mm), and their rates by its place (radians of tau) and by its scale."""

    before: float
    after: float
    before_by_tau: float
    before_by_scale: float
    after_by_tau: float
    after_by_scale: float


def filled(chain: Chain, filler: Filler | None) -> Layout:
    """Return chain and filler laid out together, the filler last, every gap measured."""
    if filler is None:
        return chain.layout()
    readies, taus = (*chain.readies, filler.ready), (*chain.taus, filler.tau)
    return measured(chain.track, readies, taus, (True,) * len(readies), None)


def ranked(model: RowModel, chain: Chain, motifs: Iterable[Motif]) -> tuple[Filler, ...]:
    """Return the motifs that fill the seam, each at its largest scale, the one nearest in height to the row's first.

    The row's height is that of its tallest motif. Corner motifs take card away where they stand and fill nothing.
    """
    wanted = max(_height_mm(chain.track, made) for made in chain.readies)
    found = [largest_filler(model, chain, motif) for motif in motifs if not motif.cut_away]
    fitting = [filler for filler in found if filler is not None]
    return tuple(sorted(fitting, key=lambda f: (abs(_height_mm(chain.track, f.ready) - wanted), f.motif.name)))


def _height_mm(track: Track, made: Ready) -> float:
    """Return how high a motif stands: above its foot, or all of it where it has no foot on the track."""
    return made.box.height_mm if track.by == "middle" else made.height_mm
