"""Places of a ring kept from one try to the next: within and no longer, and of just that ring."""

from __future__ import annotations

from frameforge.frame.remembering import keep_places, kept_places, remembering


def test_places_are_kept_within_and_forgotten_after() -> None:
    keep_places((0.0, 1.0), 6.0)
    assert kept_places(2, 6.0) is None
    with remembering():
        assert kept_places(2, 6.0) is None
        keep_places((0.0, 1.0), 6.0)
        assert kept_places(2, 6.0) == (0.0, 1.0)
        keep_places((0.0, 1.5), 6.0)
        assert kept_places(2, 6.0) == (0.0, 1.5)
        assert kept_places(3, 6.0) is None
        assert kept_places(2, 3.0) is None
    assert kept_places(2, 6.0) is None


def test_one_within_another_begins_anew_and_gives_back_what_was_kept() -> None:
    with remembering():
        keep_places((0.0, 1.0), 6.0)
        with remembering():
            assert kept_places(2, 6.0) is None
            keep_places((0.0, 1.5), 6.0)
        assert kept_places(2, 6.0) == (0.0, 1.0)
