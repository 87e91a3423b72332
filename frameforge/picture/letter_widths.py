"""How wide a line of text comes out in the shipped font, without opening the font file."""

from __future__ import annotations

import unicodedata
from functools import cache
from typing import Final

__all__ = ["shortened", "text_width"]

# Advance widths of Overpass 4.0 in thousandths of the type size, for the characters from space (32) to tilde (126).
# A test compares them with the font file.
REGULAR: Final = (
    235, 273, 403, 683, 588, 870, 677, 214, 343, 343, 533, 645, 225, 399, 225, 490, 642, 373, 612, 602, 621, 621, 597,
    522, 611, 597, 225, 225, 645, 645, 645, 514, 809, 679, 656, 647, 682, 599, 562, 688, 700, 283, 546, 660, 559, 804,
    708, 730, 630, 730, 665, 599, 583, 689, 652, 840, 603, 641, 650, 376, 490, 376, 645, 490, 368, 526, 562, 500, 562,
    538, 333, 563, 563, 254, 254, 531, 262, 847, 563, 558, 565, 563, 389, 469, 378, 563, 512, 715, 517, 529, 505, 372,
    272, 372, 645,
)  # fmt: skip
BOLD: Final = (
    250, 300, 442.5, 702, 603.5, 851.5, 710.5, 245, 372.5, 372.5, 552, 636, 249, 414.5, 243, 522.5, 657.5, 400, 611.5,
    599.5, 642.5, 611, 614.5, 536.5, 629, 614.5, 243, 243, 636, 636, 636, 510.5, 834, 717, 690, 638.5, 710, 624, 574.5,
    681.5, 721, 295.5, 557.5, 708, 566, 809.5, 718, 722, 638.5, 723, 689.5, 613.5, 602, 712, 682, 848, 678, 683.5, 639,
    393, 522.5, 393, 636, 496, 466, 557, 577, 541.5, 577, 557, 362, 577.5, 592, 283, 283, 559, 291, 876, 592, 566.5,
    578, 577.5, 416.5, 492.5, 392.5, 592, 557.5, 748, 577, 568, 543.5, 383.5, 301, 383.5, 636,
)  # fmt: skip
OTHER: Final = 650.0
"""Taken for characters that have no letter of ours below them; wider than the average capital."""


@cache
def text_width(words: str, size_px: float, *, is_bold: bool = False) -> float:
    """Return the width in px of one line of text, without kerning; 0 for empty text.

    Accented letters count as the letter below the accent; signs outside that set count 0.65 of the size.
    """
    table = BOLD if is_bold else REGULAR
    plain = unicodedata.normalize("NFD", words)
    thousandths = sum(
        table[ord(sign) - 32] if 32 <= ord(sign) < 127 else OTHER for sign in plain if not unicodedata.combining(sign)
    )
    return thousandths * size_px / 1000


def shortened(words: str, room: float, size: float, *, is_bold: bool = False) -> str:
    """Return one line of text that goes into a width, cut short with dots where it does not; any one unit of length."""
    if text_width(words, size, is_bold=is_bold) <= room:
        return words
    while words and text_width(f"{words}...", size, is_bold=is_bold) > room:
        words = words[:-1]
    return f"{words.rstrip()}..."
