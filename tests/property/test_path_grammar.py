"""Path data of any commands, written in any legal way, is scanned back to those commands and drawn where they say.

Grammar: SVG 2 section 9.3.9. The second road to the curves is svgpathtools, which reads path data on its own.
"""

from __future__ import annotations

import string

import svgpathtools
from hypothesis import given, settings
from hypothesis import strategies as st

from frameforge.read.path_grammar import ARGUMENTS, Command, scan_path
from frameforge.read.svg_curves import to_subpaths

NUMBERS = st.one_of(
    st.integers(-999, 999).map(float),
    st.floats(-1e6, 1e6, allow_nan=False).map(lambda x: round(x, 4)),
    st.floats(-1e-3, 1e-3, allow_nan=False),
)
BLANKS = st.text(" \t\n\r\f", max_size=2)


@st.composite
def written_numbers(draw: st.DrawFn, number: float, *, is_first: bool, after_flag: bool, last: str) -> str:
    """Return a number in one of its spellings, with a separator in front where the one before needs it."""
    spelled = draw(
        st.sampled_from([repr(number), f"{number:.17g}", f"{number:+.17g}", repr(number).replace("e-0", "E-")])
    )
    if abs(number) < 1 and "e" not in spelled.lower():
        spelled = spelled.replace("0.", ".", 1)
    gap = draw(BLANKS)
    if not is_first and draw(st.booleans()):
        gap += "," + draw(BLANKS)
    needs_gap = not is_first and not after_flag and not gap and not spelled.startswith(("+", "-"))
    if needs_gap and not (spelled.startswith(".") and "." in last and "e" not in last.lower()):
        gap = " "
    return gap + spelled


@st.composite
def paths(draw: st.DrawFn) -> tuple[str, tuple[Command, ...]]:
    """Return path data and the commands it stands for."""
    runs = draw(st.lists(st.tuples(st.sampled_from("MmLlHhVvCcSsQqTtAaZz"), st.integers(1, 3)), max_size=6))
    commands: list[Command] = []
    text = ""
    for letter, repeats in [("M", 1), *runs]:
        kinds = ARGUMENTS[letter.upper()]
        text += draw(BLANKS) + letter
        last = ""
        for i in range(repeats if kinds else 1):
            numbers = []
            for j, kind in enumerate(kinds):
                if kind == "f":
                    flag = draw(st.sampled_from("01"))
                    text += (draw(BLANKS) or " " if kinds[j - 1] == "n" else draw(BLANKS)) + flag
                    numbers.append(float(flag))
                    continue
                number = draw(NUMBERS)
                written = draw(
                    written_numbers(number, is_first=i == j == 0, after_flag=j > 0 and kinds[j - 1] == "f", last=last)
                )
                text, last = text + written, written
                numbers.append(float(written.strip(string.whitespace + ",")))
            run_letter = {"M": "L", "m": "l"}.get(letter, letter) if i else letter
            commands.append(Command(run_letter, tuple(numbers)))
    return text + draw(BLANKS), tuple(commands)


@settings(deadline=None, max_examples=100, derandomize=True)
@given(paths())
def test_what_is_written_is_read(case: tuple[str, tuple[Command, ...]]) -> None:
    """Every spelling and spacing of the grammar gives the same commands."""
    text, commands = case
    scan = scan_path(text)
    assert scan.fault is None, (text, scan.fault)
    assert scan.commands == commands


@settings(deadline=None, max_examples=100, derandomize=True)
@given(paths(), st.integers(0, 200), st.text("MLAZz,.-+e 01x€", max_size=4))
def test_a_fault_leaves_what_stands_before_it(case: tuple[str, tuple[Command, ...]], place: int, junk: str) -> None:
    """Junk put in anywhere raises nothing; commands wholly before it stay."""
    text, _ = case
    place = min(place, len(text))
    before = scan_path(text[:place]).commands[:-1]
    scan = scan_path(text[:place] + junk + text[place:])
    assert scan.commands[: len(before)] == before
    assert all(command.letter.upper() in ARGUMENTS for command in scan.commands)
    if scan.fault is not None:
        assert 1 <= scan.fault.position <= len(text) + len(junk) + 1


@settings(deadline=None, max_examples=100, derandomize=True)
@given(st.text(max_size=60))
def test_any_text_at_all_is_survived(text: str) -> None:
    """The scan never raises, and the curves of what it gives can be drawn."""
    to_subpaths(scan_path(text).commands)


SMALL = st.floats(-100, 100, allow_nan=False).map(lambda x: round(x, 2))
COUNTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2}


@settings(deadline=None, max_examples=100, derandomize=True)
@given(st.lists(st.sampled_from("LlHhVvCcSsQqTt"), min_size=1, max_size=6), st.data())
def test_curves_run_where_an_independent_reader_sees_them(letters: list[str], data: st.DataObject) -> None:
    """Points of every segment agree with svgpathtools' to 1e-9; arcs are held to formulae in the unit tests."""
    text = f"M{data.draw(SMALL)} {data.draw(SMALL)}"
    for letter in letters:
        numbers = [data.draw(SMALL) for _ in range(COUNTS[letter.upper()])]
        text += letter + " ".join(map(str, numbers))
    ours = [segment for subpath in to_subpaths(scan_path(text).commands) for segment in subpath.segments]
    theirs = [segment for segment in svgpathtools.parse_path(text) if _moves(segment)]
    assert len(ours) == len(theirs)
    for a, b in zip(ours, theirs, strict=True):
        for t in (0.0, 0.25, 0.5, 1.0):
            assert abs(a.point(t) - b.point(t)) < 1e-9


def _moves(segment: object) -> bool:
    """Return whether a segment of svgpathtools leaves its start."""
    return len(set(segment.bpoints())) > 1  # type: ignore[attr-defined]
