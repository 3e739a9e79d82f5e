"""Switches that do what they shall, and the sentences about those that do not."""

from __future__ import annotations

import itertools

import networkx
import pytest

from tests.samples import SAMPLES, fed
from wirecheck import check
from wirecheck.judge.finding import Finding

STAIR = (SAMPLES / "stair-light.wire").read_text()
JOINS = {
    "S1.common": "  W1.black -- S1.common",
    "S1.traveler-1": "  W2.black -- S1.traveler-1",
    "S1.traveler-2": "  W2.red -- S1.traveler-2",
    "S2.common": "  W3.black -- S2.common",
    "S2.traveler-1": "  W2.black -- S2.traveler-1",
    "S2.traveler-2": "  W2.red -- S2.traveler-2",
}


def found(text: str) -> list[Finding]:
    return [finding for finding in check(text).findings if finding.rule == "switching"]


def exchanged(one: str, other: str) -> str:
    """The stair light with the wires of two screws exchanged."""
    text = STAIR
    for a, b in ((one, other), (other, one)):
        wire = JOINS[a].split(" -- ")[0]
        text = text.replace(JOINS[a] + "\n", f"{wire} -- {b} #\n")
    return text


def lights(one: str, other: str) -> dict[tuple[str, str], bool]:
    """Whether the lamp is on, position by position: connectivity by networkx, written out by hand."""
    place = {screw: screw for screw in JOINS} | {one: other, other: one}
    told = {}
    for first, second in itertools.product(("up", "down"), repeat=2):
        graph = networkx.Graph()
        graph.add_edge("feed", place["S1.common"])
        graph.add_edge(place["S1.traveler-1"], "black")
        graph.add_edge(place["S1.traveler-2"], "red")
        graph.add_edge(place["S2.traveler-1"], "black")
        graph.add_edge(place["S2.traveler-2"], "red")
        graph.add_edge(place["S2.common"], "lamp")
        graph.add_edge("S1.common", "S1.traveler-1" if first == "up" else "S1.traveler-2")
        graph.add_edge("S2.common", "S2.traveler-1" if second == "up" else "S2.traveler-2")
        told[first, second] = networkx.has_path(graph, "feed", "lamp")
    return told


PAIRS = [
    pair
    for pair in itertools.combinations(JOINS, 2)
    if pair[0].partition(".")[0] == pair[1].partition(".")[0]
]


@pytest.mark.parametrize(("one", "other"), PAIRS)
def test_every_exchange_of_two_wires_is_judged_as_the_circuit_is(one: str, other: str) -> None:
    on = lights(one, other)
    right = all(
        on[a, b] != on[c, b] and on[a, b] != on[a, d]
        for a, b, c, d in (("up", "up", "down", "down"), ("down", "down", "up", "up"))
    )
    told = found(exchanged(one, other))
    assert bool(told) != right
    if told:
        assert {one, other} == {told[0].message.split()[-5], told[0].message.split()[-3]} or one in told[
            0
        ].message


def test_the_line_to_mend_is_shown_and_the_expectation_beside_it() -> None:
    text = exchanged("S1.common", "S1.traveler-1")
    (finding,) = found(text)
    assert "S1." in text.splitlines()[finding.span.line - 1]
    assert finding.help == "Exchange the wires on S1.common and S1.traveler-1."
    assert any(
        note.span.line == text.splitlines().index("expect L1 from S1, S2") + 1 for note in finding.also
    )


ROOM = (
    "box A device 40 cu in",
    "cable W1 14/2 NM-B 10 ft from LP to A",
    "S1 is single-pole-switch in A",
    "L1 is lampholder 60 W in A",
    "L2 is lampholder 60 W in A",
    "at LP",
    "W1.black -- LP.3",
    "W1.white -- LP.neutral",
    "W1.bare -- LP.ground",
    "at A",
)


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        (
            ("W1.black -- S1.line", "S1.load -- L1.hot", "L1.neutral -- L2.hot", "L2.neutral -- W1.white"),
            "gets only 60",
        ),
        (("W1.black -- L1.hot", "W1.white -- L1.neutral"), "is on whatever the switches do"),
        (("W1.black -- S1.line", "W1.white -- L1.neutral"), "never comes on"),
    ],
)
def test_what_a_light_does_is_said_plainly(lines: tuple[str, ...], words: str) -> None:
    told = found(fed(*ROOM, *lines, "expect L1 from S1"))
    assert len(told) == 1
    assert words in told[0].message


def test_a_light_that_needs_two_switches_at_once() -> None:
    told = found(
        fed(
            *ROOM[:2],
            "S2 is single-pole-switch in A",
            *ROOM[2:],
            "W1.black -- S1.line",
            "S1.load -- S2.line",
            "S2.load -- L1.hot",
            "W1.white -- L1.neutral",
            "expect L1 from S1, S2",
        )
    )
    assert "only while" in told[0].message and "S1 is on" in told[0].message and "S2 is on" in told[0].message


def test_an_outlet_that_shall_be_live_and_is_switched() -> None:
    told = found(
        fed(
            *ROOM[:2],
            "S1 is single-pole-switch in A",
            "R1 is duplex-receptacle 15 A in A",
            *ROOM[5:],
            "W1.black -- S1.line",
            "S1.load -- R1.hot",
            "W1.white -- R1.neutral",
            "W1.bare -- R1.ground",
            "expect R1 live",
        )
    )
    assert told and {finding.subject for finding in told} <= {"R1.top", "R1.bottom"}
    assert all("S1 off" in finding.message for finding in told)
