"""What is over a limit, and what is only noise."""

from __future__ import annotations

import pytest

from wirecheck.judge.limit import NOISE, over


@pytest.mark.parametrize("part", [0.0, 9.5e-10, NOISE, -1e-3])
def test_noise_is_not_over(part: float) -> None:
    assert not over(15 * (1 + part), 15)


@pytest.mark.parametrize("part", [1.05e-9, 1e-3])
def test_more_than_noise_is_over(part: float) -> None:
    assert over(15 * (1 + part), 15)
