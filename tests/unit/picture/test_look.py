"""Colours: every text can be read on what lies below it."""

from __future__ import annotations

import pytest

from frameforge.picture.look import BEETROOT, BENCH, DRY_SLATE, FLEECE, MARROW_FLOWER, WET_SLATE


def _luminance(colour: str) -> float:
    """Relative luminance, W3C WCAG 2.2, definition of the term."""
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def _contrast(ink: str, ground: str) -> float:
    light, dark = sorted((_luminance(ink), _luminance(ground)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("ink", [WET_SLATE, DRY_SLATE, BEETROOT])
@pytest.mark.parametrize("ground", [BENCH, FLEECE])
def test_contrast(ink: str, ground: str) -> None:
    """WCAG 2.2, success criterion 1.4.3 asks 4.5; our own floor is 5.9."""
    assert _contrast(ink, ground) >= 5.9


def test_what_is_chosen_can_be_read() -> None:
    assert _contrast(WET_SLATE, MARROW_FLOWER) >= 9
