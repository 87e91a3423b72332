"""Ways out as orders: what each changes, and that only those that can be made are told."""

from __future__ import annotations

from fixtures.plain_motifs import arch, husk
from fixtures.rows import D100, row_of

from frameforge.errors import GeometryError
from frameforge.frame.spec import PieceSpec, Size
from frameforge.frame.ways import RefusedError, Way, sentence_of

ORDER = PieceSpec("hoop", D100, rows=(row_of(arch(), count=18), row_of(husk())))


def test_a_way_changes_the_piece_or_one_row() -> None:
    assert Way("--size 90mm", piece={"size": Size(90, 90)}).applied(ORDER).size == Size(90, 90)
    changed = Way("--count 9", row={"count": 9}, index=1).applied(ORDER)
    assert [row.count for row in changed.rows] == [18, 9]
    assert changed.size == ORDER.size


def test_ways_as_a_sentence() -> None:
    assert sentence_of([]) == ""
    assert sentence_of(["--count 9"]) == " Take --count 9."
    assert sentence_of(["a", "b", "c"]) == " Take a, b or c."


def test_only_ways_that_can_be_made_are_told() -> None:
    ways = [Way(f"--count {n}", row={"count": n}) for n in (17, 16, 15)]
    fault = RefusedError("18 do not go.", ways, where="hoop", code="too-many", count=18)
    assert str(fault) == "hoop: 18 do not go. Take --count 17, --count 16 or --count 15."
    told = fault.tried(ORDER, lambda tried: tried.rows[0].count != 16)
    assert type(told) is GeometryError
    assert str(told) == "hoop: 18 do not go. Take --count 17 or --count 15."
    assert (told.code, told.numbers, told.where) == ("too-many", {"count": 18}, "hoop")


def test_without_any_way_the_general_advice_stands() -> None:
    spec = PieceSpec("hoop", Size(100, 100))
    fault = RefusedError("12 leaves do not go round.", [], lambda words: sentence_of(words) or " Take fewer.")
    assert fault.say == "12 leaves do not go round. Take fewer."
    assert fault.tried(spec, lambda order: False).say == "12 leaves do not go round. Take fewer."
    assert fault.tried(spec, lambda order: False, list).say == "12 leaves do not go round. Take fewer."
    last = fault.tried(spec, lambda order: False, lambda: ["--size 120mm", "--scale 0.8"])
    assert last.say == "12 leaves do not go round. Take --size 120mm or --scale 0.8."
    asked = RefusedError(
        "the four cannot all hold. Leave out one of them", [], lambda w: f", or take {w[0]}." if w else "."
    )
    assert asked.tried(spec, lambda order: False, lambda: ["--scale 0.8"]).say.endswith(
        "one of them, or take --scale 0.8."
    )
