"""Words where there is no card: over holes, windows, openings, folds, motifs and other words; ways out that hold."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from types import SimpleNamespace
from typing import Any, cast

import pytest
from fixtures.plain_motifs import plain_rectangle

from frameforge.card.preset import Preset
from frameforge.errors import GeometryError
from frameforge.frame import words_apart
from frameforge.frame.assembly import Assembly
from frameforge.frame.letters import LEAST_CAP_MM
from frameforge.frame.make import can_make, make_piece
from frameforge.frame.piece import Piece
from frameforge.frame.placed import Crowd, Placed
from frameforge.frame.set_words import SetWords
from frameforge.frame.spec import FoldSpec, HoleSpec, Ornament, PieceSpec, RowSpec, Size
from frameforge.frame.text_spec import TextSpec
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.job.presets import find_preset
from frameforge.read.font_folder import own_font

ROW = RowSpec((Ornament(plain_rectangle(10.0, 8.0)),), count=12, scale=1.0)


def _preset() -> Preset:
    return find_preset("card-240-knife").preset


def _words(words: str, **changes: Any) -> TextSpec:
    return TextSpec(words, own_font(is_bold=changes.get("style", "mark") != "mark"), **changes)


def _made(*texts: TextSpec, **changes: Any) -> Piece:
    return make_piece(PieceSpec("sign", Size(100, 100), texts=texts, **changes), _preset())


def _off(piece: Piece) -> list[Any]:
    return [one for one in piece.findings if one.code == "chopped" and "letter" in one.say]


def test_a_mark_over_a_hole_is_told_with_its_area() -> None:
    """A letter that lies wholly over a hole is lost with all its area."""
    text = _words("I", cap_mm=6.0, inset_mm=14.0)
    clear = _made(text)
    assert not _off(clear)
    letter = abs(sum(_twice_area(outline) for outline in clear.marks)) / 2
    (found,) = _off(_made(text, holes=(HoleSpec(18.0),)))
    assert found.measured == pytest.approx(letter, rel=1e-6)
    assert found.say.startswith(f'1 letter of "I" lies where there is no card, {letter:.2f} mm2 in all.')
    assert found.where == "at 12 o'clock"


def _twice_area(outline: Any) -> float:
    points = [segment.point(t) for segment in outline.segments for t in (k / 64 for k in range(64))]
    return math.fsum((a.conjugate() * b).imag for a, b in zip(points, (*points[1:], points[0]), strict=True))


def test_words_cut_through_into_a_hole_are_refused() -> None:
    with pytest.raises(GeometryError, match=r"letters? of \"Tansel Rootley\" lies? where there is no card"):
        _made(_words("Tansel Rootley", style="window"), holes=(HoleSpec(6.0),))


def test_words_cut_through_into_a_row_of_windows_are_refused_with_smaller_letters_that_hold() -> None:
    row = RowSpec((Ornament(plain_rectangle(6.0, 3.0)),), count=12, scale=1.0, place="window", inset_mm=12.0)
    text = _words("SEED", style="window", cap_mm=12.0, inset_mm=8.0)
    with pytest.raises(GeometryError) as refusal:
        _made(text, rows=(row,))
    assert "where there is no card" in refusal.value.say
    offer = re.search(r"Take --letter-size ([\d.]+)mm\.$", refusal.value.say)
    assert offer, refusal.value.say
    cap = float(offer[1])
    assert 2.0 <= cap < 12.0
    assert not _off(_made(replace(text, cap_mm=cap), rows=(row,)))


def test_words_joined_on_over_motifs_are_refused_with_places_to_leave_out_that_hold() -> None:
    text = _words("Join", style="join", cap_mm=8.0)
    with pytest.raises(GeometryError, match="over motifs") as refusal:
        _made(text, rows=(ROW,))
    offer = re.search(r"Take --skip ([\d,]+)\.$", refusal.value.say)
    assert offer, refusal.value.say
    skip = tuple(int(place) for place in offer[1].split(","))
    assert 1 in skip
    assert _made(text, rows=(replace(ROW, skip=skip),)).region.outer


def test_words_across_a_fold_are_told() -> None:
    assert _off(_made(_words("Table 3 of the sale", cap_mm=8.0), fold=FoldSpec(10.0)))
    assert not _off(_made(_words("Table 3", along="middle"), fold=FoldSpec(10.0)))


def test_two_texts_that_lie_over_each_other_are_told() -> None:
    at_the_top, below = _words("SEED SWAP"), _words("SEED", reads="inside", at_deg=180.0)
    assert not _off(_made(at_the_top, below))
    (found,) = _off(_made(at_the_top, _words("SEED")))
    assert "over other words" in found.say


def test_words_that_run_off_a_rim_are_told() -> None:
    """Letters with tails reach below the line: in a rim as high as the capitals they hang over the opening."""
    text = _words("ggg", cap_mm=6.0)
    assert _off(_made(text, opening=Size(87.6, 87.6)))
    assert not _off(_made(text, opening=Size(76, 76)))


@pytest.mark.parametrize("sign", ["É", "i", "Ň", "ö", "ḍ"])
def test_dots_and_accents_that_are_cut_stand_off_by_a_web(sign: str) -> None:
    """Between any two holes of a letter there is at least the card's least web, by shapely on chords."""
    font, preset = own_font(is_bold=True), _preset()
    if font.missing(sign):
        pytest.skip("this font does not draw it: outside data")
    piece = _made(_words(sign, style="window", along="middle", cap_mm=9.0))
    holes = [to_polygon(Region(hole.reversed())) for hole in piece.region.holes]
    assert len(holes) >= 2
    # Two dots beside each other stay as the font has them.
    pairs = [
        (a, b) for k, a in enumerate(holes) for b in holes[:k] if a.bounds[1] > b.bounds[3] or b.bounds[1] > a.bounds[3]
    ]
    assert pairs
    apart = min(a.distance(b) for a, b in pairs)
    assert apart >= preset.least_web_mm - 1e-3


def test_accents_that_are_cut_leave_a_web_to_the_edge() -> None:
    piece = _made(_words("Élodeà Crësswick", style="window"))
    holes = [to_polygon(Region(hole.reversed())) for hole in piece.region.holes]
    edge = to_polygon(Region(piece.region.outer)).exterior
    assert min(hole.distance(edge) for hole in holes) >= 1.5 - 0.01


SQUARE = Region(rectangle(0, 0, 2, 2))
SAID = SetWords("SEED", "mark", ((SQUARE,), (SQUARE,), (SQUARE,)))
SHORT = TextSpec("SEED", own_font(is_bold=False), cap_mm=6.0)


def ways(spec: PieceSpec, *motifs: tuple[int, int]) -> list[tuple[str, PieceSpec]]:
    return list(words_apart._ways(spec, words_apart._Off(SAID, 1, (SQUARE,), "over motifs", frozenset(motifs))))


def test_smaller_letters_are_offered_by_tenths_down_to_the_least() -> None:
    """9, 8, 7, 6, 5 and 4 tenths of 6 mm, in tenths; under 2 mm nothing is set."""
    spec = PieceSpec("sign", Size(100, 100), texts=(SHORT,))
    found = ways(spec)
    assert [words for words, _ in found] == [
        f"--letter-size {cap}mm" for cap in ("5.4", "4.8", "4.2", "3.6", "3", "2.4")
    ]
    assert [tried.texts[0].cap_mm for _, tried in found] == [5.4, 4.8, 4.2, 3.6, 3.0, 2.4]
    small = replace(spec, texts=(replace(SHORT, cap_mm=LEAST_CAP_MM / 0.6),))
    assert [tried.texts[0].cap_mm for _, tried in ways(small)] == pytest.approx(
        [LEAST_CAP_MM * k / 6 for k in (9, 8, 7, 6)], abs=0.1
    )
    assert ways(replace(spec, texts=(SHORT, SHORT))) == []


def test_motifs_in_the_way_are_left_out_where_they_are_few_and_of_one_row() -> None:
    two = PieceSpec("sign", Size(100, 100), rows=(replace(ROW, skip=(7,)), ROW), texts=(SHORT, SHORT))
    one = replace(two, rows=two.rows[:1])
    ((words, tried),) = ways(one, (0, 12), (0, 1))
    assert (words, tried.rows[0].skip) == ("--skip 7,1,12", (7, 1, 12))
    ((words, tried),) = ways(two, (1, 12))
    assert (words, tried.rows[1].skip, tried.rows[0].skip) == ("--skip 12 in row 2", (12,), (7,))
    assert ways(two, (0, 1), (1, 12)) == []
    assert len(ways(one, *((0, k) for k in range(6)))) == 1
    assert ways(one, *((0, k) for k in range(7))) == []


@pytest.mark.parametrize(("side", "is_told"), [(0.099, False), (0.101, True)])
def test_less_than_a_tenth_of_a_millimetre_square_is_nothing_to_speak_of(side: float, *, is_told: bool) -> None:
    found = list(words_apart._told(SAID, [[Region(rectangle(0, 0, side, side))], [], []], "over other words"))
    assert bool(found) is is_told
    assert list(words_apart._told(SAID, [[], [], []], "over other words")) == []


def test_letters_that_lose_something_are_counted() -> None:
    (off,) = words_apart._told(SAID, [[SQUARE], [], [SQUARE, SQUARE]], "over other words")
    assert (off.letters, off.why, off.motifs, len(off.lost)) == (2, "over other words", frozenset(), 3)
    assert off.area_mm2 == pytest.approx(12)


@pytest.mark.parametrize(("letters", "said"), [(1, '1 letter of "SEED" lies'), (2, '2 letters of "SEED" lie')])
def test_words_that_lie_wrong_are_told_with_where_and_how_much(
    letters: int, said: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    spot = Region(rectangle(9, -1, 11, 1))
    spec = PieceSpec("sign", Size(100, 100))

    def told(style: Any) -> Any:
        off = words_apart._Off(replace(SAID, style=style), letters, (spot,), "over motifs")
        monkeypatch.setattr(words_apart, "_offs", lambda made: iter([off]))
        return words_apart.words_off(spec, _preset(), cast("Assembly", None))

    (found,) = told("mark")
    say = f"{said} over motifs, 4.00 mm2 in all. Write fewer words, set them elsewhere, or move what lies there."
    assert (found.code, found.severity, found.say, found.where) == ("chopped", "warning", say, "at 3 o'clock")
    assert (found.piece, found.measured, found.limit, found.unit) == ("sign", pytest.approx(4), 0.0, "mm2")
    assert (found.x_mm, found.y_mm) == pytest.approx((10, 0), abs=1e-9)
    for style in ("window", "join"):
        with pytest.raises(GeometryError) as caught:
            told(style)
        assert str(caught.value) == f"sign: at 3 o'clock, {say}"
        assert (caught.value.code, caught.value.numbers) == ("words", {"area": pytest.approx(4)})
    with pytest.raises(GeometryError, match="words lie where there is no card") as bare:
        words_apart.check_words(cast("Assembly", None))
    assert bare.value.code == "words"


def test_what_of_a_letter_lies_beside_the_card_or_in_a_hole() -> None:
    card = [Placed(Region(rectangle(-10, -10, 10, 10)))]
    holes = Crowd([Placed(Region(rectangle(4, 0, 8, 4)))])

    def lost(left: float, right: float) -> float:
        part = Placed(Region(rectangle(left, 0, right, 2)))
        return sum(map(area_mm2, words_apart._off_card(part, card, holes)))

    assert lost(0, 3) == 0
    assert lost(3, 5) == pytest.approx(2)
    assert lost(9, 12) == pytest.approx(4)
    assert lost(7, 12) == pytest.approx(2 + 4)
    assert lost(12, 14) == pytest.approx(4)


def test_for_an_order_that_is_only_tried_no_way_out_of_its_words_is_looked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    def way_out(*_: object) -> str:
        raise AssertionError

    monkeypatch.setattr(words_apart, "_way_out", way_out)
    for style, goes in (("mark", True), ("window", False)):
        order = PieceSpec("sign", Size(100, 100), texts=(_words("I", cap_mm=6.0, inset_mm=14.0, style=style),))
        assert can_make(order, _preset())
        assert can_make(replace(order, holes=(HoleSpec(18.0),)), _preset()) is goes


def test_a_way_after_which_the_piece_falls_apart_is_none(monkeypatch: pytest.MonkeyPatch) -> None:
    parts = iter([(1, 2), (), (1,)])
    monkeypatch.setattr(
        words_apart, "_ways", lambda spec, off: iter([("--one", spec), ("--two", spec), ("--three", spec)])
    )
    monkeypatch.setattr(words_apart, "check_words", lambda *made, **more: None)
    monkeypatch.setattr(
        words_apart, "assemble", lambda *order, **more: SimpleNamespace(combined=SimpleNamespace(regions=next(parts)))
    )
    off = words_apart._Off(SAID, 1, (SQUARE,), "over motifs")
    assert words_apart._way_out(PieceSpec("sign", Size(100, 100)), _preset(), off) == "Take --three."


@pytest.mark.parametrize(("style", "is_let_be"), [("mark", True), ("join", False), ("window", False)])
def test_marks_that_lie_wrong_may_be_let_be(style: Any, *, is_let_be: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    off = words_apart._Off(replace(SAID, style=style), 1, (SQUARE,), "over motifs")
    monkeypatch.setattr(words_apart, "_offs", lambda made: iter([off]))
    made = cast("Assembly", None)
    with pytest.raises(GeometryError):
        words_apart.check_words(made)
    if is_let_be:
        words_apart.check_words(made, are_marks_told=False)
    else:
        with pytest.raises(GeometryError):
            words_apart.check_words(made, are_marks_told=False)
