"""What is printed stays one line that reads one way."""

from __future__ import annotations

import pytest

from frameforge.cli.console import say


def test_signs_that_turn_a_line_round_are_not_printed(capsys: pytest.CaptureFixture[str]) -> None:
    say(["a\u202eb\u2066c"])
    assert capsys.readouterr().out == "a?b?c\n"
