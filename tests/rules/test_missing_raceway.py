"""Single wires are in a raceway from place to place; NEC 2023 300.3(A)."""

from __future__ import annotations

import pytest

from tests.rules.hands import COOLING, LOOP, STAIR, changed, seen
from wirecheck.rules.missing_raceway import RULE, OutsideRaceway

TWO = """board "Two wires"
panel LP 120/240 V
breaker LP.1 20 A
box A square 30.3 cu in
box B square 30.3 cu in
raceway R1 EMT 1/2 in 20 ft from LP to A
wire H 12 THHN black 20 ft from LP to A in R1
wire N 12 THHN white 20 ft from LP to A in R1
wire G 12 THHN green 20 ft from LP to A in R1
"""


@pytest.mark.parametrize("text", [STAIR, COOLING, LOOP, TWO])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


@pytest.mark.parametrize(
    ("edits", "lines"),
    [
        # In no raceway.
        ((("black 20 ft from LP to A in R1", "black 20 ft from LP to A"),), [[7]]),
        # What lies in the same way is one matter, whichever end is named first.
        (
            (
                ("black 20 ft from LP to A in R1", "black 20 ft from A to LP"),
                ("white 20 ft from LP to A in R1", "white 20 ft from LP to A"),
            ),
            [[7, 8]],
        ),
        ((("white 20 ft from LP to A in R1", "white 20 ft from LP to B"), ("H 12", "H1 12")), [[8]]),
        # In one that does not join the two places.
        ((("in 20 ft from LP to A", "in 20 ft from LP to B"),), [[7, 8]]),
        ((("in 20 ft from LP to A", "in 20 ft from A to LP"),), []),
        # A ground may run by itself, and so may what Article 338 holds for a cable.
        ((("green 20 ft from LP to A in R1", "green 20 ft from LP to A"),), []),
        ((("12 THHN black 20 ft from LP to A in R1", "12 USE-2 black 20 ft from LP to A"),), []),
        # Inside one place it needs none.
        ((("black 20 ft from LP to A in R1", "black 1 ft from A to A"),), []),
        ((("wire H 12 THHN black 20 ft from LP to A in R1", "cable H 12/2 NM-B 20 ft from LP to A"),), []),
    ],
)
def test_wires(edits: tuple[tuple[str, str], ...], lines: list[list[int]]) -> None:
    found = seen(RULE, changed(TWO, *edits))
    assert [[run.span.line for run in one.runs] for one in found] == lines
    for one in found:
        assert isinstance(one, OutsideRaceway)
        assert (one.severity, one.stage) == ("violation", "rough-in")
        assert (one.at.span.line, one.subject) == (one.runs[0].span.line, one.runs[0].name)


def test_the_raceway_that_goes_elsewhere_is_named() -> None:
    (astray,) = seen(RULE, changed(TWO, ("in 20 ft from LP to A", "in 20 ft from LP to B")))
    assert astray.raceway.name == "R1"
    (bare,) = seen(RULE, TWO.replace(" in R1", ""))
    assert (bare.raceway, [run.name for run in bare.runs]) == (None, ["H", "N"])


def test_wires_on_two_ways_are_two_matters() -> None:
    text = changed(
        TWO,
        ("black 20 ft from LP to A in R1", "black 20 ft from LP to A"),
        ("white 20 ft from LP to A in R1", "white 20 ft from LP to B in R1"),
    )
    assert [one.subject for one in seen(RULE, text)] == ["H", "N"]


@pytest.mark.parametrize(("primary", "found"), [("secondary", 0), ("primary", 1)])
def test_a_wire_of_a_24_volt_circuit_needs_none(primary: str, found: int) -> None:
    ends = ("r", "c") if primary == "secondary" else ("hot", "neutral")
    text = (
        TWO + "T1 is class-2-transformer 40 VA in A\nwire X 14 THHN blue 9 ft from A to B\n"
        f"at A\n  H -- T1.primary-hot\n  N -- T1.primary-neutral\n  X -- T1.{primary}-{ends[0]}\n"
        "at LP\n  H -- LP.1\n  N -- LP.neutral\n"
    )
    if found:
        text = text.replace("  H -- T1.primary-hot\n", "").replace("  X -- ", "  H -- X -- ")
    assert len(seen(RULE, text)) == found
