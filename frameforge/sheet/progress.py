"""How far a search is, and whether it goes on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

__all__ = ["Budget", "Progress"]


@dataclass(frozen=True, slots=True)
class Progress:
    """How far the search is: tries made and in all, sheets of the best so far (0: none yet), what is being tried."""

    done: int
    tries: int
    sheets: int
    method: str


@dataclass(slots=True)
class Budget:
    """The tries of one search. ``keep_going`` is asked before each of them; when it says no, none follows."""

    tries: int
    keep_going: Callable[[Progress], bool]
    done: int = 0
    interrupted: bool = False

    def goes_on(self, sheets: int, method: str) -> bool:
        """Count one try and return whether it is to be made."""
        if not self.interrupted and not self.keep_going(Progress(self.done, self.tries, sheets, method)):
            self.interrupted = True
        self.done += not self.interrupted
        return not self.interrupted
