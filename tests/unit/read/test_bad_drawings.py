"""Bad drawings end in one line, within 5 s of CPU and 500 MB, and no other file or address is opened on the way."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest
from fixtures import bad_drawings


@pytest.mark.skipif(sys.platform == "win32", reason="peak memory is asked of a POSIX call")
def test_bad_drawings_end_soon_in_one_line() -> None:
    run = subprocess.run([sys.executable, bad_drawings.__file__], capture_output=True, text=True, check=True)
    report = json.loads(run.stdout)
    assert report["opened"] == []
    assert report["peak_mb"] < 500
    assert len(report["found"]) == len(list(bad_drawings.bad_drawings()))
    for name, said, seconds in report["found"]:
        assert said.startswith("leaf.svg"), name
        assert said.isprintable(), name
        assert seconds < 5, name
