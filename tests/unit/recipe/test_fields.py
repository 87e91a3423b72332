"""Values of single keys."""

from __future__ import annotations

import pytest

from frameforge.errors import InputError
from frameforge.recipe.fields import as_name


@pytest.mark.parametrize("name", ["leaf\udcff", "a\x7fb", "a\nb"])
def test_signs_that_no_file_system_takes_are_refused_whatever_they_are(name: str) -> None:
    with pytest.raises(InputError, match=r"(a control sign|another encoding) cannot stand in a file name"):
        as_name(name)
