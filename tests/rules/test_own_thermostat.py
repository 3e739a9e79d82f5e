"""A thermostat of one's own, with terminals of its maker's names, gets what the shipped one gets."""

from __future__ import annotations

import pytest

from tests.rules.hands import case, changed
from wirecheck import files
from wirecheck.causes.hiding import causes
from wirecheck.findings import problems
from wirecheck.judge.case import Case

FURNACE = (files.folder("boards") / "condensing-furnace" / "right.wire").read_text(encoding="utf-8")
OWN = """part own-stat "A thermostat with terminals of its maker's names"
terminal Rh class-2, carries power, sizes 22 to 18, rated 60 C "24 V from the equipment"
terminal Com class-2-common, carries common, sizes 22 to 18, rated 60 C, optional "common"
terminal W-E class-2, carries heat, sizes 22 to 18, rated 60 C "the heat call"
terminal Y1 class-2, carries cool, sizes 22 to 18, rated 60 C "the cooling call"
terminal Fan class-2, carries fan, sizes 22 to 18, rated 60 C "the fan call"
calls heat, cool, fan
load display electronics from Rh to Com, 1 VA at 24 V, works 18 V to 30 V, standby
Rh -- W-E when call heat
Rh -- Y1 when call cool
Rh -- Fan when call cool or call fan
"""
# What the shipped thermostat calls its terminals, and the wire on each.
NAMED = {"R": "Rh", "C": "Com", "W": "W-E", "Y": "Y1", "G": "Fan"}
WIRED = {"red": "R", "white": "W", "green": "G", "blue": "C"}


def own(text: str) -> Case:
    for letter, name in NAMED.items():
        text = text.replace(f"TS.{letter}\n", f"TS.{name}\n")
    return case(text.replace("heat-cool-thermostat", "own-stat"), **{"own-stat": OWN})


def found(board: Case) -> list[tuple[str, int, str, type, bool]]:
    """Every problem by its rule, line, severity and kind, and whether it is reported."""
    seen = problems(board)
    because = causes([problem for _, problem in seen], board)
    return [
        (rule.name, problem.at.span.line, problem.severity, type(problem), cause is None)
        for (rule, problem), cause in zip(seen, because, strict=True)
    ]


def test_wired_right_neither_has_a_mistake() -> None:
    assert found(own(FURNACE)) == found(case(FURNACE))
    assert not [one for one in found(own(FURNACE)) if one[2] != "advice"]


@pytest.mark.parametrize("place", ["F", "TS"])
@pytest.mark.parametrize(("one", "other"), [("white", "green"), ("red", "white"), ("red", "blue")])
def test_with_two_wires_swapped_both_get_the_same(place: str, one: str, other: str) -> None:
    first, second = (f"  TW.{color} -- {place}.{WIRED[color]}\n" for color in (one, other))
    text = changed(FURNACE, (first, first.replace(one, other)), (second, second.replace(other, one)))
    told = found(own(text))
    assert told == found(case(text))
    assert {"call-crosstalk", "call-continuity"} & {rule for rule, *_, reported in told if reported}


def test_with_a_wire_missing_both_get_the_same() -> None:
    text = changed(FURNACE, ("  TW.blue -- TS.C\n", "  cap TW.blue\n"))
    told = found(own(text))
    assert told == found(case(text))
    assert "missing-wire" in {rule for rule, *_ in told}
