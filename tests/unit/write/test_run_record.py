"""run.json: what it says, and when it is believed."""

from __future__ import annotations

import json

import pytest

from frameforge.write.marker import marked_text
from frameforge.write.run_record import MadePiece, read_record, record_text

MADE = (
    MadePiece("badge 1", (("badge-1.svg", "aa"), ("badge-1.dxf", "bb"))),
    MadePiece("O'Radish é", (("o.svg", "cc"),)),
)
VERSIONS = {"shapely": "2.2.0", "frameforge": "0.1.0"}


def test_it_lists_pieces_files_and_versions_in_a_fixed_order() -> None:
    content = json.loads(record_text(MADE, VERSIONS))
    assert list(content) == ["made", "versions", "marker"]
    assert content["made"][0] == {"piece": "badge 1", "files": {"badge-1.svg": "aa", "badge-1.dxf": "bb"}}
    assert list(content["versions"]) == ["frameforge", "shapely"]
    assert record_text(MADE, VERSIONS) == record_text(MADE, dict(reversed(VERSIONS.items())))


def test_it_reads_back_what_was_made() -> None:
    assert read_record(record_text(MADE, VERSIONS).encode()) == MADE


@pytest.mark.parametrize(
    "text",
    [
        "",
        "{}",
        record_text(MADE, VERSIONS).replace('"aa"', '"ab"'),
        marked_text('{"made": 3, "marker": "frameforge marker sha256:' + "0" * 64 + '"}'),
        marked_text("# frameforge marker sha256:" + "0" * 64),
    ],
    ids=["empty", "no marker", "edited", "another form", "no JSON"],
)
def test_what_is_not_ours_or_was_edited_proves_nothing(text: str) -> None:
    assert read_record(text.encode()) == ()
