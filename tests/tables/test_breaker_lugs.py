"""The lugs of breakers, against the wires that their ratings ask for (NEC 110.14(C)(1), Table 310.16)."""

from __future__ import annotations

import pytest

from wirecheck.tables.ampacity import ampacity
from wirecheck.tables.breaker_lugs import largest_in_lug
from wirecheck.tables.code import LATEST as NEC
from wirecheck.tables.overcurrent import standard_ratings
from wirecheck.tables.sizes import size_at_least, trade_sizes


@pytest.mark.parametrize("material", ["copper", "aluminum"])
def test_the_wire_that_a_rating_asks_for_goes_in(material: str) -> None:
    for amps in standard_ratings(code=NEC):
        largest = largest_in_lug(amps)
        if largest is not None and amps <= 225:
            wire = next(
                size
                for size in trade_sizes(code=NEC)
                if size_at_least(size, "8")
                and ampacity(size, material, 75, terminal_c=75, code=NEC).result >= amps
            )
            assert size_at_least(largest, wire), amps


def test_larger_breakers_have_lugs_that_are_no_smaller() -> None:
    assert largest_in_lug(30) is None
    lugs = [largest_in_lug(amps) for amps in (35, 70, 80, 125, 150)]
    assert lugs == ["2", "2", "2/0", "2/0", "300"]
