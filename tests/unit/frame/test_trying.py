"""What is only tried is known to be, also where it ends in a fault; rings that Newton leaves open are not sought."""

from __future__ import annotations

import pytest
from fixtures.plain_motifs import pod
from fixtures.rows import model_of

from frameforge.errors import GeometryError
from frameforge.frame import ring
from frameforge.frame.spec import Size
from frameforge.frame.trying import is_trying, trying


def test_it_is_known_within_and_no_longer() -> None:
    assert not is_trying()
    with trying():
        assert is_trying()
        with trying():
            pass
        assert is_trying()
    with pytest.raises(GeometryError), trying():
        raise GeometryError("no.")
    assert not is_trying()


def test_rings_that_newton_leaves_open_are_sought_only_for_good(monkeypatch: pytest.MonkeyPatch) -> None:
    oval = Size(150, 100)
    model = model_of(pod(), size=oval)
    wanted = model.layout(oval, 6, 1.0).gap_mm
    monkeypatch.setattr(ring, "_ITERATIONS", 0)
    assert model.layout(oval, 6, 1.0).gap_mm == pytest.approx(wanted, abs=1e-9)
    with trying(), pytest.raises(GeometryError, match="could not be made equal"):
        model.layout(oval, 6, 1.0)
