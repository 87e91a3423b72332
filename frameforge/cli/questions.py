"""What ``frameforge`` and ``frameforge make`` answer when typed alone: four questions, four lines to copy."""

from __future__ import annotations

from typing import Final

__all__ = ["ALONE", "EXAMPLES", "question_lines"]

ALONE: Final[tuple[list[str], ...]] = ([], ["make"])
"""The command lines that are answered so; they never reach typer, which would load pydantic to parse nothing."""

EXAMPLES: Final = (
    ("A motif round a circle with a hole in the middle?", "frameforge make --motif arch --size 100mm --opening 60mm"),
    (
        "An oval, and this many of them?",
        "frameforge make --motif scallop --count 24 --size 150x100mm --opening 110x60mm",
    ),
    ("Which motifs are there?", "frameforge motif list"),
    ("What can it do?", "frameforge demo"),
)
"""Four questions and the command line that answers each; every one works as it stands."""


def question_lines() -> list[str]:
    """Return the text: each question with its line below, and where the help is."""
    lines = ["Copy a line and change it:", ""]
    for question, example in EXAMPLES:
        lines += [question, f"    {example}", ""]
    return [*lines, "All options: frameforge make --help"]
