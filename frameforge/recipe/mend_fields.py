"""What is to be mended, as the maker says it: "all", or the words of findings."""

from __future__ import annotations

import difflib
import re

from frameforge.errors import InputError
from frameforge.mend.codes import ALL_CODES, MENDABLE

__all__ = ["as_mend"]


def as_mend(value: object) -> tuple[str, ...]:
    """Return the codes of "all", "thin-web, spike" or a list of words, each once, in the order of the work.

    Raises InputError, with the nearest word, for one that cannot be mended.
    """
    words = re.split(r"[\s,;]+", value.strip()) if isinstance(value, str) else value
    if not isinstance(words, list | tuple) or not words or not all(isinstance(word, str) and word for word in words):
        raise InputError("no word of a finding.", code="choice")
    lowered = [word.strip().lower().replace("_", "-") for word in words]
    if lowered == ["all"]:
        return ALL_CODES
    for word in lowered:
        if word not in MENDABLE:
            near = difflib.get_close_matches(word, MENDABLE, n=1)
            offer = f"the nearest is {near[0]}." if near else f"there are: all, {', '.join(MENDABLE)}."
            raise InputError(f'"{word}" cannot be mended; {offer} Write "all", or words of the list.', code="choice")
    return tuple(code for code in MENDABLE if code in lowered)
