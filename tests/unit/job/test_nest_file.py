"""Cut files to be laid: their copies, their pieces, and every line that belongs to them."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from frameforge.card.preset import load_preset
from frameforge.errors import InputError
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.job.make import MakeOrder, make
from frameforge.job.nest_file import NestFile, OfAllFiles, parts_of_file, split_copies

LASER = load_preset("card-240-laser")


@pytest.mark.parametrize(
    ("word", "path", "copies"),
    [
        ("badge.svg", "badge.svg", 1),
        ("badge.svg:24", "badge.svg", 24),
        ("C:\\cards\\badge.svg", "C:\\cards\\badge.svg", 1),
        ("C:\\cards\\badge.svg:6", "C:\\cards\\badge.svg", 6),
        ("seed:swap/a:b.dxf:12", "seed:swap/a:b.dxf", 12),
        ("badge.svg:24x", "badge.svg:24x", 1),
    ],
)
def test_only_a_final_number_behind_a_colon_counts_copies(word: str, path: str, copies: int) -> None:
    assert split_copies(word) == (Path(path), copies)


@pytest.mark.parametrize("word", ["badge.svg:0", "badge.svg:10000"])
def test_no_copy_and_too_many_are_refused(word: str) -> None:
    with pytest.raises(InputError) as caught:
        split_copies(word)
    assert "it goes from 1 to 9999. Write badge.svg:24" in str(caught.value)


def read(folder: Path, body: str, name: str = "flower.svg") -> NestFile:
    """Return the pieces of an SVG of somebody else's."""
    page = 'width="200mm" height="200mm" viewBox="0 0 200 200"'
    file = folder / name
    file.write_text(f'<svg xmlns="http://www.w3.org/2000/svg" {page}>{body}</svg>', encoding="utf-8")
    return parts_of_file(file, 3, OfAllFiles("moss"), set())


def shape(d: str) -> str:
    return f'<path d="{d}" fill="none" stroke="#000"/>'


RING = shape("M 10 50 A 40 40 0 1 0 90 50 A 40 40 0 1 0 10 50 Z M 20 50 A 30 30 0 1 1 80 50 A 30 30 0 1 1 20 50 Z")
SLIT = shape("M 50 15 L 50 19")


def test_a_foreign_file_is_one_piece_with_its_holes(tmp_path: Path) -> None:
    (part,) = read(tmp_path, RING).parts
    assert (part.name, part.copies, part.card) == ("flower", 3, "moss")
    assert part.area_mm2 == pytest.approx((1600 - 900) * math.pi, rel=1e-4)
    assert len(part.cut.region.holes) == 1
    assert part.lifts == 2


def test_parts_that_lie_apart_are_pieces_of_their_own(tmp_path: Path) -> None:
    file = read(tmp_path, RING + shape("M 100 100 H 150 V 130 H 100 Z"))
    assert [part.name for part in file.parts] == ["flower-1", "flower-2"]
    assert file.notes == (f"{(tmp_path / 'flower.svg').as_posix()}: 2 parts that lie apart; each is laid by itself.",)


def test_what_lies_in_an_opening_goes_along_and_keeps_others_out(tmp_path: Path) -> None:
    """The disc keeps its place in the ring, is cut first, and the opening round it takes nothing else."""
    disc = shape("M 40 50 A 10 10 0 1 0 60 50 A 10 10 0 1 0 40 50 Z")
    (part,) = read(tmp_path, RING + disc).parts
    assert part.area_mm2 == pytest.approx((1600 - 900 + 100) * math.pi, rel=1e-4)
    assert part.cut.region.holes == ()
    widths = [round(bounds(run).width_mm) for run in part.cut.cuts()]
    assert widths == [20, 60, 80]


def test_an_open_cut_on_the_card_goes_along_and_one_beside_it_is_left_out(tmp_path: Path) -> None:
    file = read(tmp_path, RING + SLIT + shape("M 150 150 L 160 160"))
    (part,) = file.parts
    assert [round(bounds(run).height_mm) for run in part.cut.cuts()] == [4, 60, 80]
    assert any("1 open line left out" in note for note in file.notes)


def test_a_file_that_encloses_nothing_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="none of its lines is closed"):
        read(tmp_path, SLIT)


def made(folder: Path, **options: object) -> None:
    """Make a piece as cut files."""
    make(MakeOrder(None, {"formats": "svg,dxf", **options}, folder), lambda done, total, name: None)


@pytest.mark.parametrize("kind", ["svg", "dxf"])
def test_a_file_of_ours_brings_its_marks_and_what_the_machine_needs(tmp_path: Path, kind: str) -> None:
    """The lines of the file are open (overcut) and hold no marks to a reader; its recipe makes them again."""
    made(tmp_path, test_piece=True)
    (trial,) = parts_of_file(tmp_path / f"test-piece.{kind}", 1, OfAllFiles(), set()).parts
    assert trial.cut.marks
    made(tmp_path, name="disc", size="60mm", kerf="0.2mm", overcut="1mm", lead_in="2mm")
    (disc,) = parts_of_file(tmp_path / f"disc.{kind}", 4, OfAllFiles("sand"), {"disc"}).parts
    assert (disc.name, disc.copies, disc.card, disc.lead_in_mm) == ("disc-2", 4, "sand", 2)
    assert disc.cut.machine_cuts is not None
    assert bounds(disc.cut.region).width_mm == pytest.approx(60.2)
    assert disc.area_mm2 == pytest.approx(900 * math.pi, rel=1e-9)
    assert (disc.kerf_mm, disc.preset.name) == (0.2, "card-240-knife")
    (fast,) = parts_of_file(tmp_path / f"disc.{kind}", 1, OfAllFiles(preset=LASER), set()).parts
    assert (fast.name, fast.preset) == ("disc", LASER)


def test_a_file_of_ours_that_was_edited_is_taken_as_it_is(tmp_path: Path) -> None:
    made(tmp_path, name="disc", size="60mm", opening="20mm")
    file = tmp_path / "disc.svg"
    text = file.read_text(encoding="utf-8")
    hole = text[text.index(' d="M') + 4 : text.index("Z M") + 2]
    file.write_text(text.replace(hole, ""), encoding="utf-8")
    (part,) = parts_of_file(file, 1, OfAllFiles(), set()).parts
    assert part.area_mm2 == pytest.approx(900 * math.pi, rel=1e-4)
    assert area_mm2(part.cut.region) == pytest.approx(part.area_mm2)
