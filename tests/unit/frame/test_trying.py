"""What is only tried is known to be, also where it ends in a fault; rings that Newton leaves open are not sought."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from fixtures.plain_motifs import arch, pod
from fixtures.rows import model_of

from frameforge.errors import GeometryError
from frameforge.frame import ring
from frameforge.frame.spec import Size
from frameforge.frame.trying import SPENT, is_trying, spend, trying
from frameforge.frame.ways import RefusedError, Way


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


def test_a_try_may_spend_so_much_and_no_more_than_what_is_left_of_the_one_around_it() -> None:
    spend(1e9)
    with trying(10):
        spend(4)
        with trying(100), pytest.raises(GeometryError) as fault:
            spend(7)
        assert fault.value.code == SPENT
        with pytest.raises(GeometryError):
            spend(1)
    with trying(10):
        with trying(3):
            spend(3)
        spend(7)
        with pytest.raises(GeometryError):
            spend(1)


def test_a_refusal_ends_with_the_ways_thought_of_until_that_took_too_long() -> None:
    def ways() -> Iterator[Way]:
        yield Way("--count 3", row={"count": 3})
        spend(1e9)
        yield Way("--count 2", row={"count": 2})

    spec = model_of(arch()).spec
    assert RefusedError("too many.", ways).tried(spec, lambda _: True).say == "too many. Take --count 3."


def test_a_patient_try_counts_all_the_same() -> None:
    with trying(5.0, is_patient=True):
        assert not is_trying()
        spend(4.0)
        with pytest.raises(GeometryError):
            spend(2.0)
    with trying(5.0, is_patient=True), trying(3.0):
        assert is_trying()
