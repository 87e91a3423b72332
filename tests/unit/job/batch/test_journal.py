"""The journal of a run of many: rows come back bit by bit, and only those whose files are there count as made."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from frameforge.errors import FileError
from frameforge.job.batch.journal import JOURNAL, Journal
from frameforge.job.batch.record import record_from, record_line
from frameforge.job.batch.work import Failed, Work, WorkDone, made_row

PIECE: dict[str, object] = {
    "name": "tag",
    "size": "40mm",
    "opening": "20mm",
    "kerf": "0.2mm",
    "row": [{"motif": "arch", "count": 6}],
    "text": [{"words": "Ann", "size": "3mm"}],
    "fold": [],
}
RAW: dict[str, object] = {"files": {"formats": ["svg", "png"]}, "piece": [PIECE]}


def _done(raw: dict[str, object] = RAW) -> WorkDone:
    done = made_row(Work("names.csv line 2", "tag.toml", raw, Path(), None, False))
    assert isinstance(done, WorkDone), done
    return done


@pytest.fixture(scope="module")
def done() -> WorkDone:
    return _done()


def _put(done: WorkDone, folder: Path) -> None:
    for piece in done.files:
        for file in piece.files:
            (folder / file.name).write_bytes(file.data)


def test_a_record_comes_back_bit_by_bit(done: WorkDone) -> None:
    again = record_from(json.loads(record_line(done.record)))
    (one,), (two,) = done.record.pieces, again.pieces
    assert two.cut == one.cut
    assert two.outline == one.outline
    assert two.outline is not two.cut.region  # the kerf moved what is cut
    assert two.report == one.report
    assert two.preset == one.preset
    assert two.part() == one.part()
    assert json.dumps(two.said) == json.dumps(one.said)


def test_a_row_counts_as_made_when_its_files_are_there(done: WorkDone, tmp_path: Path) -> None:
    journal = Journal(tmp_path)
    assert journal.made(done.record.key) is None
    journal.add(done.line)
    assert Journal(tmp_path).made(done.record.key) is None  # its files are missing
    _put(done, tmp_path)
    assert Journal(tmp_path).made(done.record.key) is not None
    (tmp_path / "tag.svg").write_bytes(b"changed")
    assert Journal(tmp_path).made(done.record.key) is None
    assert Journal(tmp_path).made("another key") is None


def test_a_line_that_was_cut_short_says_nothing(done: WorkDone, tmp_path: Path) -> None:
    journal = Journal(tmp_path)
    journal.add(done.line)
    _put(done, tmp_path)
    path = tmp_path / JOURNAL
    whole = path.read_bytes()
    for length in (len(whole) - 2, len(whole) // 2, 130, 90, 40, 1, 0):
        path.write_bytes(whole[:length])
        again = Journal(tmp_path)
        assert again.made(done.record.key) is None
        again.add(done.line)
        assert Journal(tmp_path).made(done.record.key) is not None


def test_files_that_a_line_lists_are_ours(done: WorkDone, tmp_path: Path) -> None:
    Journal(tmp_path).add(done.line)
    (listed,) = Journal(tmp_path).listed()
    assert listed.name == "tag"
    assert {name for name, _ in listed.files} == {"tag.svg", "tag.png", "tag.cut.svg", "tag.mark.svg"}


@pytest.mark.parametrize("data", [b"mine\n", b"\xff\xfe", b'{"frameforge": "else"}\n'])
def test_a_foreign_file_of_that_name_is_left_alone(data: bytes, tmp_path: Path) -> None:
    (tmp_path / JOURNAL).write_bytes(data)
    with pytest.raises(FileError, match="did not write this file"):
        Journal(tmp_path)


def test_the_key_tells_all_that_goes_into_a_row() -> None:
    def key(raw: dict[str, object] = RAW, beside: Path = Path(), motifs: Path | None = None) -> str:
        return Work("names.csv line 2", "tag.toml", raw, beside, motifs, False).key

    changed = {**RAW, "piece": [{**PIECE, "size": "41mm"}]}
    assert key() == key()
    assert key(changed) != key()
    assert key(motifs=Path("mine")) != key()


def test_why_a_row_failed_names_its_line() -> None:
    raw = {"piece": [{"name": "tag", "size": "40mm", "text": [{"words": "אב"}]}]}
    failed = made_row(Work("names.csv line 7", "tag.toml", raw, Path(), None, False))
    assert isinstance(failed, Failed)
    assert failed.exit_code == 2
    assert failed.lines[0].startswith("names.csv line 7")
