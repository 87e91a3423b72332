"""On which line a key stands. What is a table or a key follows TOML 1.0 (toml.io)."""

from __future__ import annotations

from frameforge.recipe.lines import line_numbers, line_of

TEXT = '''units = "mm"     # [[piece]] in a comment
words = """
size = 3
[[piece]]
"""
list = [
    1, # ]
    "]",
]
[card."dark moss"]
preset = "p"

[[piece]]
size = 76
"name" = "a"

[[piece.row]]
motif = "arch"
[[piece.row]]
on.edge = 1

[[piece]]
  [[piece.row]]
  count = 3
'''


def test_keys_and_tables_are_found_on_their_lines() -> None:
    numbers = line_numbers(TEXT)
    assert numbers["units",] == 1
    assert numbers["words",] == 2
    assert numbers["list",] == 6
    assert numbers["card", "dark moss"] == 10
    assert numbers["card", "dark moss", "preset"] == 11
    assert numbers["piece", 0] == 13
    assert numbers["piece", 0, "size"] == 14
    assert numbers["piece", 0, "name"] == 15
    assert numbers["piece", 0, "row", 0, "motif"] == 18
    assert numbers["piece", 0, "row", 1, "on", "edge"] == 20
    assert numbers["piece", 1, "row", 0, "count"] == 24
    assert not [path for path in numbers if path[:1] == ("size",)], "what stands inside a long text is no key"


def test_a_path_without_a_line_takes_its_holders() -> None:
    numbers = line_numbers(TEXT)
    assert line_of(("piece", 0, "row", 1, "motif"), numbers) == 19
    assert line_of(("list", 2), numbers) == 6
    assert line_of(("nothing",), numbers) is None
    assert line_of((), numbers) is None
