"""The refusal of pieces that lie on no sheet, with what programs read of them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from frameforge.errors import FrameforgeError, NestError

__all__ = ["LeftOverError"]


class LeftOverError(NestError):
    """Pieces that no sheet takes; ``left_over`` tells which, how many copies, how large, and what the sheet takes."""

    default_code = "too-big-for-sheet"

    def __init__(
        self, say: str, left_over: tuple[Mapping[str, Any], ...] = (), *, where: str = "", code: str = "",
        **numbers: float,
    ) -> None:  # fmt: skip
        super().__init__(say, where=where, code=code, **numbers)
        self.left_over = left_over

    @classmethod
    def from_many(cls, faults: list[FrameforgeError]) -> LeftOverError:
        """Return one refusal that says all ``faults``, a line each, and names all that is left over."""
        first = faults[0]
        left = tuple(entry for fault in faults if isinstance(fault, LeftOverError) for entry in fault.left_over)
        whole = cls(first.say, left, where=first.where, code=first.code, **first.numbers)
        whole.lines = tuple(line for fault in faults for line in fault.lines)
        return whole
