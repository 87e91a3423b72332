"""The page of an SVG in millimetres."""

from __future__ import annotations

import pytest

from frameforge.errors import InputError
from frameforge.read.page_size import svg_page_mm


@pytest.mark.parametrize(
    ("attributes", "size"),
    [
        ('width="210mm" height="297mm"', (210, 297)),
        ('width="12in" height="12in" viewBox="0 0 288 288"', (304.8, 304.8)),
        ('width="300mm" viewBox="0 0 3 2"', (300, 200)),
        ('viewBox="0 0 300 200"', None),
    ],
)
def test_a_page_is_as_large_as_it_says(attributes: str, size: tuple[float, float] | None) -> None:
    data = f'<svg xmlns="http://www.w3.org/2000/svg" {attributes}/>'.encode()
    found = svg_page_mm(data, where="a.svg")
    assert found == (None if size is None else pytest.approx(size))


def test_what_is_no_svg_is_told() -> None:
    with pytest.raises(InputError, match=r"a\.svg: "):
        svg_page_mm(b"no", where="a.svg")
