"""Where a meter is put: on what a hand reaches, and between two points of one circuit."""

from __future__ import annotations

from tests.samples import board, fed
from wirecheck import files
from wirecheck.judge.case import Case
from wirecheck.troubles.probes import probes
from wirecheck.troubles.trials import trials


def pairs(name: str) -> set[tuple[str, str]]:
    return measured(Case(board((files.folder("boards") / name / "right.wire").read_text())))


def measured(case: Case) -> set[tuple[str, str]]:
    found = set()
    for state in trials(case):
        settled = case.standing(dict(state.moved), state.calls)
        found |= {(one.a, one.b) for one in probes(case.circuit, settled)}
    return found


def test_nothing_is_measured_inside_a_compressor_that_is_welded_shut() -> None:
    """Its terminals are outside, and the protector is in its windings (common practice)."""
    points = {point for pair in pairs("split-air-conditioner") for point in pair}
    assert "CU.contactor.load-1" in points and not [point for point in points if ".protector." in point]


def test_line_voltage_is_not_measured_to_the_terminals_of_24_volts() -> None:
    """Volts between two circuits tell of both, and so of neither (common practice)."""
    there = pairs("split-air-conditioner")
    low, line = {"CU.Y", "CU.C"}, {"CU.L1", "CU.L2"}
    assert {("CU.Y", "CU.C"), ("CU.L1", "CU.L2")} <= there
    assert not [pair for pair in there if not low.isdisjoint(pair) and not line.isdisjoint(pair)]


def test_a_hot_is_not_measured_to_the_hot_of_another_breaker() -> None:
    text = fed(
        "breaker LP.5 15 A",
        "box A device 40 cu in",
        "S1 is single-pole-switch in A",
        "S2 is single-pole-switch in A",
        "L1 is lampholder",
        "L2 is lampholder",
        *(f"wire H{each} 14 THHN black 9 ft from LP to A" for each in (1, 2)),
        *(f"wire B{each} 14 THHN black 9 ft from A to L{each}" for each in (1, 2)),
        *(f"wire N{each} 14 THHN white 9 ft from LP to L{each}" for each in (1, 2)),
        *("at LP", "H1 -- LP.3", "H2 -- LP.5", "N1 -- LP.neutral", "N2 -- LP.neutral"),
        *("at A", "H1 -- S1.line", "B1 -- S1.load", "H2 -- S2.line", "B2 -- S2.load"),
        *(f"at L{each}\nB{each} -- L{each}.hot\nN{each} -- L{each}.neutral" for each in (1, 2)),
    )
    there = measured(Case(board(text)))
    assert ("S1.line", "S1.load") in there
    assert not [pair for pair in there if {"S1", "S2"} <= {point[:2] for point in pair}]
