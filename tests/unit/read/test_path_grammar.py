"""Path data is scanned command by command, and a fault names its place.

Sources: SVG 1.1 (second edition) section 8.3.9 and its examples; SVG 2 chapter 9 (paths), section 9.5.4 for faults.
"""

from __future__ import annotations

import pytest

from frameforge.read.path_grammar import ARGUMENTS, Command, scan_numbers, scan_path


def letters(data: str) -> str:
    """Return the letters of the commands that stand."""
    return "".join(command.letter for command in scan_path(data).commands)


def test_pairs_after_a_move_are_lines_of_the_same_kind() -> None:
    assert letters("M1 2 3 4 5 6") == "MLL"
    assert letters("m1 2 3 4zl1 1") == "mlzl"


def test_numbers_may_stand_without_separators() -> None:
    """The standard's own examples: "M 100-200" and "M 0.6.5"."""
    assert scan_path("M 100-200L0.6.5").commands == (Command("M", (100, -200)), Command("L", (0.6, 0.5)))
    assert scan_path("M1e2+.5E-1").commands == (Command("M", (100, 0.05)),)
    assert scan_path("M1.,2.").commands == (Command("M", (1, 2)),)


def test_arc_flags_may_run_together_with_what_follows() -> None:
    """``a1,1 0 00.5.5`` has the flags 0 and 0 and the end .5 .5 (SVG 2, note to the grammar)."""
    scan = scan_path("M0 0a1,1 0 00.5.5 1 1 0 11-2-3")
    assert scan.fault is None
    assert scan.commands[1:] == (Command("a", (1, 1, 0, 0, 0, 0.5, 0.5)), Command("a", (1, 1, 0, 1, 1, -2, -3)))


def test_empty_data_is_good_and_draws_nothing() -> None:
    assert scan_path("") == scan_path(" \n\t ")
    assert scan_path("").fault is None


@pytest.mark.parametrize(
    ("data", "kept", "position", "say"),
    [
        ("M 10,10 L 20,20,30", "ML", 19, "it ends where a number is needed"),
        ("M0 0L1,,2", "M", 8, '"," stands where a number is needed'),
        ("M0 0X1 2", "M", 5, '"X1" stands where a drawing command is needed'),
        ("L0 0", "", 1, '"L" stands where the first command must be M'),
        ("M0 0A1 1 0 2 0 5 5", "M", 12, '"2" stands where a flag 0 or 1 is needed'),
        ("M0 0L1 1,", "ML", 10, "it ends where a number is needed"),
        ("M0 0L1e400 1", "M", 6, "the number 1e400 is too large"),
        ("M0 0L-3e9 1", "M", 6, "the number -3e9 is too large"),
        ("M0 0 NaN", "M", 6, '"NaN" stands where a drawing command is needed'),
        ("M,0 0", "", 2, '"," stands where a number is needed'),
        ("M0 0L٣ 1", "M", 6, '"٣" stands where a number is needed'),
    ],
)
def test_a_fault_is_told_by_its_place_and_what_stands_before_is_kept(
    data: str, kept: str, position: int, say: str
) -> None:
    """ "M 10,10 L 20,20,30" must still draw to 20,20 (SVG 2 section 9.5.4)."""
    scan = scan_path(data)
    assert scan.fault is not None
    assert (scan.fault.position, scan.fault.say) == (position, say)
    assert letters(data) == kept


def test_every_command_takes_its_arguments() -> None:
    for letter, kinds in ARGUMENTS.items():
        numbers = " ".join("1" for _ in kinds)
        scan = scan_path(f"M0 0{letter}{numbers}")
        assert scan.fault is None
        assert scan.commands[1].letter == letter
        assert len(scan.commands[1].numbers) == len(kinds)


def test_a_million_characters_are_read_in_step_with_their_number() -> None:
    """No pattern may search again from every place: ten times the text takes no more than thirty times as long."""
    import time

    def seconds(text: str) -> float:
        start = time.process_time()
        scan_path(text)
        return time.process_time() - start

    for text in ("1" * 10_000, " " * 10_000, "M0 0" + "1 " * 5_000 + "x", "M0 0" + "." * 10_000):
        few = min(seconds(text) for _ in range(3))
        assert seconds(text * 10) <= 30 * few + 0.02


def test_a_list_of_numbers_takes_single_commas() -> None:
    assert scan_numbers(" 1,2 3 , 4-5 ") == ((1, 2, 3, 4, -5), None)
    numbers, fault = scan_numbers("1 2,,3")
    assert numbers == (1, 2)
    assert fault is not None
    assert fault.position == 5
    assert scan_numbers("")[0] == ()
    assert scan_numbers("x")[1] is not None
