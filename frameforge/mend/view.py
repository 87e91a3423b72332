"""A piece as a mender looks at it: what the check found, and its edges as chords, made once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from frameforge.card.preset import Preset
from frameforge.check.chords import Chords, to_chords
from frameforge.check.survey import Survey, to_survey
from frameforge.check.thickness import ThinPlace
from frameforge.check.whole import findings_of
from frameforge.finding import Finding
from frameforge.geometry.region import Region
from frameforge.mend.ends import Room

__all__ = ["View"]


@dataclass(frozen=True, slots=True)
class View:
    """A surveyed piece, its findings, and the chords its places are numbered by."""

    survey: Survey
    findings: tuple[Finding, ...]
    chords: Chords

    @classmethod
    def from_regions(cls, regions: Sequence[Region], preset: Preset) -> View:
        """Return the view of at least one region (mm, y up) under the limits of a preset."""
        survey = to_survey(regions, preset)
        return cls(survey, findings_of(survey), to_chords(regions))

    @property
    def regions(self) -> tuple[Region, ...]:
        """The regions looked at."""
        return self.survey.regions

    @property
    def preset(self) -> Preset:
        """The limits."""
        return self.survey.preset

    @property
    def room(self) -> Room:
        """The edges, asked how much room there is."""
        return Room(self.chords)

    def searched_mm(self, place: ThinPlace) -> float:
        """Return the limit with which a place was searched for, mm."""
        preset = self.preset
        if place in self.survey.card_places:
            return max(preset.least_web_mm, preset.least_neck_mm, preset.least_finger_mm)
        return max(preset.least_slot_mm, preset.near_miss_mm)

    def parts_of(self, place: ThinPlace) -> set[int]:
        """Return the numbers of the parts that a place lies between."""
        return {int(self.chords.part[loop]) for loop in place.loops}
