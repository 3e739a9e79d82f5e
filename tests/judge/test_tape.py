"""A tape is read to a sixteenth of an inch."""

from __future__ import annotations

import pytest

from wirecheck.judge.tape import INCH, longer, shorter


@pytest.mark.parametrize(("off", "shows"), [(0.0, False), (0.03, False), (0.0325, True), (1 / 16, True)])
def test_what_a_tape_shows(off: float, shows: bool) -> None:
    assert shorter((6 - off) * INCH, 6 * INCH) is shows
    assert longer((6 + off) * INCH, 6 * INCH) is shows
    assert not shorter((6 + off) * INCH, 6 * INCH)
    assert not longer((6 - off) * INCH, 6 * INCH)
