"""Every offer a refusal or a finding prints is typed back, all else kept as it was, and then the piece is made."""

from __future__ import annotations

import random
import re
from dataclasses import replace
from typing import Any

import pytest
from fixtures.plain_motifs import arch, disc, husk, leaf, plain_rectangle, pod, scallop

from frameforge.card.preset import load_preset
from frameforge.errors import GeometryError
from frameforge.frame.make import make_piece
from frameforge.frame.piece import Piece
from frameforge.frame.spec import Ornament, PieceSpec, RowSpec, Size, Unknown
from frameforge.units import parse_length_mm, parse_size_mm

KNIFE = load_preset("card-240-knife")
MOTIFS = [arch(), leaf(), pod(), scallop(), husk(), disc(), plain_rectangle(6.0, 9.0), plain_rectangle(22.0, 7.0)]
OFFER = re.compile(r"--(?P<key>[a-z-]+) (?P<value>find|[a-z-]+|\d+(?:\.\d+)?(?:x\d+(?:\.\d+)?)?(?:mm)?)(?=[ ,.]|$)")


def order_of(seed: int) -> PieceSpec:
    """Return an order that often asks for too much."""
    chance = random.Random(seed)
    motif = chance.choice(MOTIFS)
    width = chance.randint(30, 170)
    size = Size(width, width if chance.random() < 0.6 else round(width * chance.uniform(0.3, 0.95)))
    has_opening = chance.random() < 0.4
    opening = Size(round(size.width_mm * 0.6), round(size.height_mm * 0.6)) if has_opening else None
    row: dict[str, Any] = {"count": chance.choice([chance.randint(3, 40), "most"])}
    row["gap_mm"] = chance.choice([None, 0.5, 2.0, float(chance.randint(1, 9))])
    row["foot_mm"] = chance.choice([None, None, float(chance.randint(1, 30))]) if motif.foot_mm else None
    row["is_mirrored_every_other"] = chance.random() < 0.2
    row["place"] = chance.choice(["out", "out", "in"]) if opening else "out"
    row["start_deg"] = chance.choice([0.0, 30.0])
    return PieceSpec("hoop", size, opening=opening, rows=(RowSpec((Ornament(motif),), **row),))


def typed(order: PieceSpec, offer: str) -> PieceSpec:
    """Return the order with one offer typed in: "--count 17", "--size 103.6mm", "--gap 0 --scale find"."""
    for found in OFFER.finditer(offer):
        key, value = found["key"].replace("-", "_"), found["value"]
        row = order.rows[0]
        if key in ("size", "opening"):
            sides: dict[str, Any] = {key: Size(*parse_size_mm(value))}
            order = replace(order, **sides)
        elif key == "rim":
            order = replace(order, opening=None, rim_mm=parse_length_mm(value))
        elif key == "count":
            order = replace(order, rows=(replace(row, count="most" if value == "most" else int(value)),))
        elif key == "scale":
            scale: float | Unknown = "find" if value == "find" else float(value)
            order = replace(order, rows=(replace(row, scale=scale, foot_mm=None),))
        elif key in ("gap", "foot_gap", "foot", "inset", "depth"):
            changed = {f"{key}_mm": parse_length_mm(value)} | ({"scale": None} if key == "foot" else {})
            order = replace(order, rows=(replace(row, **changed),))  # type: ignore[arg-type]
        else:
            order = replace(order, rows=(replace(row, **{key: value}),))  # type: ignore[arg-type]
    return order


def offers_in(say: str) -> list[str]:
    """Return the offers of a sentence, each as it stands between commas and "or"."""
    _, _, tail = say.partition(" Take ")
    if not tail:
        _, _, tail = say.partition(" take ")
    parts = re.split(r", | or (?!more|less)", re.sub(r"\([^)]*\)", "", tail))
    counts = re.findall(r"\b(\d+) \(gap", tail) if "--count" not in tail else []
    return [part for part in parts if OFFER.search(part)] + [f"--count {count}" for count in counts]


def made(order: PieceSpec) -> Piece | str:
    try:
        return make_piece(order, KNIFE)
    except GeometryError as fault:
        return fault.say


def check_offers(seed: int) -> int:
    """Type back every offer of an order that is refused or warned of. Return how many there were."""
    order = order_of(seed)
    piece = made(order)
    if isinstance(piece, str):
        offers = offers_in(piece)
        for offer in offers:
            again = made(typed(order, offer))
            assert isinstance(again, Piece), f"{order}\n{piece}\n{offer}\n{again}"
        return len(offers)
    offers = []
    for finding in piece.findings:
        if finding.severity == "note":
            continue
        for offer in offers_in(finding.say):
            offers.append(offer)
            again = made(typed(order, offer))
            assert isinstance(again, Piece), f"{order}\n{finding.say}\n{offer}\n{again}"
            same = [f for f in again.findings if f.code == finding.code and f.where == finding.where]
            assert not same, f"{order}\n{finding.say}\n{offer}\n{same}"
    return len(offers)


def test_offers_hold_when_they_are_typed() -> None:
    assert sum(check_offers(seed) for seed in range(14, 24)) > 4


@pytest.mark.slow
def test_many_more_offers_hold() -> None:
    assert sum(check_offers(seed) for seed in range(24, 433)) > 200


def test_offers_are_read_as_they_stand() -> None:
    say = "x do not go; 17 do. Take --count 17 (gap 2.41 mm), --size 103.6mm or --scale 0.96."
    assert offers_in(say) == ["--count 17 ", "--size 103.6mm", "--scale 0.96."]
    assert offers_in("why. Take 10 (gap 9.22 mm) or 12 (gap 3.99 mm).") == ["--count 10", "--count 12"]
    assert offers_in("Leave out one of them, or take --size 107.3mm.") == ["--size 107.3mm."]
    order = typed(order_of(1), "--gap 0 --scale find")
    assert (order.rows[0].gap_mm, order.rows[0].scale) == (0.0, "find")
