"""What a wire says that it is for, by its color and by a mark."""

from __future__ import annotations

import pytest

from tests.rules.hands import COOLING, case
from wirecheck.judge.purpose import of_conductor

WIRES = case(COOLING).board.conductors


@pytest.mark.parametrize(
    ("name", "marked", "meant"),
    [
        ("PF.black", None, "hot"),
        ("PF.white", None, "neutral"),
        ("PF.white", "red", "hot"),
        ("PF.black", "white", "neutral"),
        # Bare and green stay what they are.
        ("PF.bare", "black", "ground"),
        ("K3", "white", "ground"),
        # In thermostat cable no color says anything of hot and neutral.
        ("TW.white", None, None),
        ("TW.green", "black", None),
    ],
)
def test_what_a_wire_is_for_by_its_color_or_its_mark(
    name: str, marked: str | None, meant: str | None
) -> None:
    assert of_conductor(WIRES[name], marked) == meant
