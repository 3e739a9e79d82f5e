"""A wire against the raceway that it is in."""

from __future__ import annotations

import pytest

from tests.rules.hands import COOLING, LOOP, STAIR, changed, seen
from wirecheck.rules.raceway_length import RULE, MuchLonger, TooShort

WHIP = """board "Two wires and a cable"
panel LP 120/240 V
box A square 30.3 cu in
box B square 30.3 cu in
raceway R1 EMT 1/2 in 32 ft from LP to A
wire H 12 THHN black 36 ft from LP to A in R1
wire N 12 THHN white 36 ft from A to LP in R1
"""


@pytest.mark.parametrize("text", [STAIR, COOLING, LOOP, WHIP])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


@pytest.mark.parametrize(
    ("old", "new", "lines"),
    [
        ("black 36 ft", "black 32 ft", []),
        ("black 36 ft", "black 31 ft 11 in", [6]),
        # Ten feet to make up, or a quarter of a long raceway.
        ("black 36 ft", "black 42 ft", []),
        ("black 36 ft", "black 42 ft 1 in", [6]),
        ("32 ft", "80 ft", [5]),
        ("32 ft", "26 ft", []),
        ("32 ft", "25 ft", [5]),
        # What goes on beyond the raceway is another rule's.
        ("black 36 ft from LP to A", "black 90 ft from LP to B", []),
    ],
)
def test_a_wire_is_as_long_as_its_raceway_and_what_is_made_up(old: str, new: str, lines: list[int]) -> None:
    found = seen(RULE, changed(WHIP, (old, new)))
    assert [one.at.span.line for one in found] == lines


def test_a_quarter_of_a_long_raceway_may_be_measured_short() -> None:
    long = changed(
        WHIP, ("32 ft", "200 ft"), ("black 36 ft", "black 250 ft"), ("white 36 ft", "white 251 ft")
    )
    (found,) = seen(RULE, long)
    assert isinstance(found, MuchLonger)
    assert (found.subject, found.severity, [run.name for run in found.runs]) == ("N", "advice", ["N"])


def test_a_cable_may_have_a_raceway_for_a_part_of_its_way_and_is_not_shorter() -> None:
    cable = "cable C 14/2 NM-B {} from LP to A in R1\n"
    assert not seen(RULE, WHIP + cable.format("90 ft"))
    (found,) = seen(RULE, WHIP + cable.format("30 ft"))
    assert isinstance(found, TooShort)
    assert (found.subject, found.severity, found.stage) == ("C", "fault", "rough-in")
