"""Whether breakers are next to each other, so that one handle tie reaches them all."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from wirecheck.language.names import NEXT
from wirecheck.model.board import Breaker


def side_by_side(breakers: Sequence[Breaker]) -> bool:
    """Whether breakers fill spaces that follow each other on one side of one panel."""
    spaces = sorted({space for breaker in breakers for space in breaker.spaces})
    together = all(after - before == NEXT for before, after in itertools.pairwise(spaces))
    return together and len({breaker.panel for breaker in breakers}) == 1
