"""Numbers and names as the maker reads them."""

from __future__ import annotations

import pytest

from frameforge.frame.spec import Size
from frameforge.frame.wording import down, place_words, plural, round_outer, round_words, size_words, up
from frameforge.units import format_size


def test_steps_go_the_way_that_holds() -> None:
    assert up(103.504, 0.1) == pytest.approx(103.6)
    assert down(0.9621, 0.01) == pytest.approx(0.96)
    assert up(57.2, 0.1) == pytest.approx(57.2)


def test_sizes_are_written_as_they_are_typed() -> None:
    assert size_words(Size(100, 100)) == "100mm"
    assert size_words(Size(150.04, 100.26)) == "150x100.3mm"
    assert round_outer(107.873) == "107.9"


@pytest.mark.parametrize(
    ("mm", "said"), [(82.55, "82.6"), (57.15, "57.2"), (63.25, "63.3"), (82.5499, "82.5"), (0.05, "0.1")]
)
def test_outer_sizes_are_rounded_half_up_everywhere(mm: float, said: str) -> None:
    """3 1/4 in is 82.55 mm: names, messages and closing lines all say 82.6."""
    assert round_outer(mm) == said
    assert size_words(Size(mm, mm)) == f"{said}mm"
    assert round_words(Size(mm, mm)) == f"a {said} mm circle"
    assert format_size(mm, mm).startswith(f"{said} mm")
    assert round_words(Size(150, mm)) == f"a 150 x {said} mm oval"


@pytest.mark.parametrize(
    ("name", "many"),
    [("arch", "arches"), ("bean-leaf", "bean leaves"), ("foot", "feet"), ("pea-pod", "pea pods"),
     ("trellis", "trellises"),
     ("daisy", "daisies"), ("spray", "sprays"), ("cabbage-edge", "cabbage edges"),
     ("leaf-veined", "leaf veined motifs"), ("daisy_2", "daisy 2 motifs"), ("poppy-seed", "poppy seeds"),
     ("flower (copy)", "flower (copy) motifs")],
)  # fmt: skip
def test_names_of_several(name: str, many: str) -> None:
    assert plural(name) == many
    assert plural(name, 1) == name.replace("-", " ").replace("_", " ")


@pytest.mark.parametrize(("deg", "hour"), [(0, 12), (14, 12), (16, 1), (60, 2), (359, 12), (345.1, 12), (180, 6)])
def test_places_are_told_by_the_clock(deg: float, hour: int) -> None:
    assert place_words("leaf", 4, deg) == f"leaf 4, at {hour} o'clock"


def test_multiples_are_the_numbers_that_are_written() -> None:
    assert (down(0.39, 0.1), up(0.21, 0.1), down(0.295, 0.01), up(1.1, 0.1)) == (0.3, 0.3, 0.29, 1.1)
