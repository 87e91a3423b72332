"""Every error the program raises, on one page.

    FrameforgeError             exit 70, our own fault unless a child says otherwise
    ├── InputError              exit 2   a recipe, option, motif or list that cannot be understood
    ├── GeometryError           exit 3   understood, but cannot be made as asked
    ├── NestError               exit 3   pieces that no sheet takes
    └── FileError               exit 4   cannot be read or written, or is not ours to replace

The message is one line in the maker's words: ``where: what, measured against wanted. What to do.``
Numbers that stand in the message are kept as values in ``numbers`` too, lengths in mm, angles in degrees.
"""

from __future__ import annotations

__all__ = ["FileError", "FrameforgeError", "GeometryError", "InputError", "NestError"]


class FrameforgeError(Exception):
    """Root of all errors; ``str()`` gives the whole line, several faults one line each.

    Arguments: ``say``, what was found, what is allowed, what to try; ``where``, the file, option or piece
    that it is about (may be empty); ``code``, a short fixed word for JSON; ``numbers``, the values of the message.
    """

    exit_code = 70
    default_code = "own-fault"

    def __init__(self, say: str, *, where: str = "", code: str = "", **numbers: float) -> None:
        self.say = say
        self.where = where
        self.code = code or self.default_code
        self.numbers = numbers
        self.lines: tuple[str, ...] = (f"{where}: {say}" if where else say,)
        super().__init__(self.lines[0])

    def __str__(self) -> str:
        return "\n".join(self.lines)

    @classmethod
    def from_many(cls, faults: list[FrameforgeError]) -> FrameforgeError:
        """Return one error that says all ``faults`` (at least one), a line each, in their order."""
        first = faults[0]
        whole = cls(first.say, where=first.where, code=first.code, **first.numbers)
        whole.lines = tuple(line for fault in faults for line in fault.lines)
        return whole


class InputError(FrameforgeError):
    """A recipe, an option, a motif drawing or a list says something that cannot be understood or allowed."""

    exit_code = 2
    default_code = "input"


class GeometryError(FrameforgeError):
    """The request is clear, but the card cannot be cut so: overlap, loose parts, no room, no seat."""

    exit_code = 3
    default_code = "cannot-be-made"


class NestError(FrameforgeError):
    """A piece fits no sheet at any allowed turn."""

    exit_code = 3
    default_code = "does-not-fit"


class FileError(FrameforgeError):
    """A file cannot be read or written, or frameforge did not write it and leaves it alone."""

    exit_code = 4
    default_code = "file"
