"""Cables as they are made (UL 719, UL 493, UL 1569, UL 854), held against NEC Tables 250.122 and 310.16."""

from __future__ import annotations

import pytest

from wirecheck.files import table_rows
from wirecheck.tables.ampacity import ampacity
from wirecheck.tables.cable_grounds import cable_ground
from wirecheck.tables.code import LATEST as NEC
from wirecheck.tables.overcurrent import grounding_conductor, largest_protection
from wirecheck.tables.sizes import area, next_larger

ROWS = table_rows("cable_grounds")


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['kind']}-{row['size']}")
def test_a_cables_ground_is_enough_behind_its_largest_breaker(row: dict[str, str]) -> None:
    terminals = 60 if row["kind"] in ("NM-B", "UF-B") else 75
    carries = ampacity(row["size"], row["material"], terminals, terminal_c=terminals, code=NEC).result
    breaker = largest_protection(row["size"], row["material"], carries, code=NEC).amps
    least = grounding_conductor(breaker, row["material"], code=NEC)
    assert least is not None
    assert area(row["ground"]) >= area(least) * (1 - 1e-9)
    assert area(row["ground"]) < area(row["size"])


def test_what_is_not_listed_has_a_ground_of_its_own_size() -> None:
    assert cable_ground("NM-B", "copper", "12") == "12"
    assert cable_ground("NM-B", "aluminum", "6") == "6"
    assert cable_ground("AC", "copper", "6") == "6"
    assert cable_ground("NM-B", "copper", "2.5 mm2") == "2.5 mm2"


def test_larger_cables_have_no_smaller_grounds() -> None:
    for row in ROWS:
        larger = next_larger(row["size"], code=NEC)
        if larger is not None:
            ground = cable_ground(row["kind"], row["material"], larger)
            assert area(ground) >= area(row["ground"]) * (1 - 1e-9)
