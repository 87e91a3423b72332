"""What a recipe may say later on and not yet: each with the line that tells the maker what to do instead.

When a capability is built its rows here go, and its keys move to ``words`` and ``model``.
"""

from __future__ import annotations

from typing import Final

__all__ = ["KEYS_NOT_YET", "not_yet_say"]

KEYS_NOT_YET: Final[dict[str, dict[str, str]]] = {
    "sheets": {
        "interlock": "leave it out; rows, staggered rows and many orders of the pieces are tried without it",
    },
}
"""For each table: keys of the recipe that do nothing yet, and what to do instead."""


def not_yet_say(table: str, key: str) -> str | None:
    """Return the sentence for a key that is known but not built yet; None otherwise."""
    instead = KEYS_NOT_YET.get(table, {}).get(key)
    return f'"{key}" cannot be made yet. For now {instead}.' if instead else None
