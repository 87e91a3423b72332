"""Sizes of rings as makers write them, and what cannot be read so."""

from __future__ import annotations

import pytest

from frameforge.errors import InputError
from frameforge.recipe.ring_fields import as_inside, as_ring_sizes


def widths(value: object, unit: str = "mm") -> list[float]:
    return [round(size.width_mm, 9) for size in as_ring_sizes(value, unit)]  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("value", "found"),
    [
        ("60-140 by 20", [60, 80, 100, 120, 140]),
        ("60 - 140mm by 20mm", [60, 80, 100, 120, 140]),
        ("60mm-140 by 20", [60, 80, 100, 120, 140]),
        ("60–100 by 20", [60, 80, 100]),
        ("60..100 by 20", [60, 80, 100]),
        ("100 to 60 by 20", [60, 80, 100]),
        ("44,61,78 mm", [44, 61, 78]),
        ("44,5; 61; 78", [44.5, 61, 78]),
        ("2 1/4 in - 3 1/4 in by 1/2 in", [57.15, 69.85, 82.55]),
        ("5-7 in by 1", [127, 152.4, 177.8]),
        ([80, "60mm", "4in"], [60, 80, 101.6]),
    ],
)
def test_sizes_of_rings(value: object, found: list[float]) -> None:
    assert widths(value) == found


def test_ovals_grow_by_the_same_both_ways() -> None:
    sizes = as_ring_sizes("60x40 - 100x80 by 20", "mm")
    assert [(size.width_mm, size.height_mm) for size in sizes] == [(60, 40), (80, 60), (100, 80)]


def test_bare_numbers_have_the_unit_of_the_recipe() -> None:
    assert widths("2-3 by 1", "in") == [50.8, 76.2]


@pytest.mark.parametrize(
    ("value", "say"),
    [
        ("60-145 by 20", "do not meet 145mm. Write 60mm - 140mm by 20mm or 60mm - 160mm by 20mm."),
        ("60-140", "in which steps? Write for example 60-140 by 20."),
        ("60", "two sizes or more"),
        ("60, 80, 60", "60mm stands there twice"),
        ("60x40 - 100x60 by 20", "do not grow by the same"),
        ("1-500 by 0.5", "rings; 200 at most"),
        ("60-140 by nothing", "not from one size to another"),
        (5, "not the sizes of rings"),
        ("60, wide", "no such unit"),
    ],
)
def test_what_cannot_be_rings(value: object, say: str) -> None:
    with pytest.raises(InputError) as caught:
        as_ring_sizes(value, "mm")
    assert say in caught.value.say


def test_an_offered_span_can_be_typed_back() -> None:
    with pytest.raises(InputError) as caught:
        as_ring_sizes("60-145 by 20", "mm")
    offers = caught.value.say.removesuffix(".").partition("Write ")[2].split(" or ")
    assert [widths(offer)[-1] for offer in offers] == [140, 160]


@pytest.mark.parametrize(
    ("value", "found"), [("keep", []), ("Keep", []), ("40mm", [40]), (40, [40]), ("40, 20mm", [20, 40])]
)
def test_what_is_kept_inside(value: object, found: list[float]) -> None:
    assert [size.width_mm for size in as_inside(value, "mm")] == found
