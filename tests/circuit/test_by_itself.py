"""What moves by itself is tried in each position, where that can bring something new."""

from __future__ import annotations

import pytest

from tests.parts.hookups import hookup
from tests.samples import wired
from wirecheck.circuit.by_itself import answers_to, at_once, moved_alone
from wirecheck.circuit.circuit import Circuit
from wirecheck.circuit.play import Act, play
from wirecheck.circuit.settle import Settled, resting, settle

BOARD = """board "A control, and a lamp beside it"
panel LP 120/240 V, 10 kA available
breaker LP.1 15 A
box A junction 100 cu in
cable W 14/2 NM-B 20 ft from LP to A
at LP
  W.black -- LP.1
  W.white -- LP.neutral
  W.bare -- LP.ground
"""


def wiring(*lines: str) -> Circuit:
    return wired(BOARD + "\n".join(lines) + "\n")


def moved(settled: Settled, *passing: Settled) -> list[dict[str, str]]:
    """What stands elsewhere in each state that is tried, than at rest."""
    rest = resting(settled.circuit)
    return [
        {name: value for name, value in one.positions.items() if value != rest[name]}
        for one in moved_alone([settled], passing)
    ]


def at_rest(circuit: Circuit, **positions: str) -> Settled:
    return settle(circuit, resting(circuit, positions))


ACROSS = (
    "LPC is low-pressure-control in A",
    "at A",
    "  W.black -- LPC.a",
    "  W.white -- LPC.b",
)


def test_what_closes_across_volts_is_tried() -> None:
    rest = at_rest(wiring(*ACROSS))
    assert moved(rest) == [{"LPC": "closed"}]
    (shorted,) = moved_alone([rest], [])
    assert [opening.name for opening in shorted.opened] == ["LP.1"]
    assert not rest.opened


def test_what_closes_where_there_are_no_volts_is_not() -> None:
    dead = at_rest(wiring("LPC is low-pressure-control in A", "at A", "  W.black -- LPC.a -- LPC.b"))
    assert moved(dead) == []
    assert moved(at_rest(wiring("LPC is low-pressure-control in A"))) == []


LAMP = (
    "L1 is lampholder in A",
    "HL is limit-switch in A",
    "at A",
    "  W.black -- HL.a",
    "  HL.b -- L1.hot",
    "  W.white -- L1.neutral",
)
RELAY = (
    "K1 is relay-spdt in A",
    "T1 is class-2-transformer in A",
    "L1 is lampholder in A",
    "HL is limit-switch in A",
    "at A",
    "  W.black -- T1.primary-hot -- K1.common",
    "  W.white -- T1.primary-neutral -- L1.neutral",
    "  T1.secondary-r -- HL.a",
    "  HL.b -- K1.coil-a",
    "  K1.coil-b -- T1.secondary-c",
)


def test_what_opens_takes_away_and_brings_nothing_new() -> None:
    assert moved(at_rest(wiring(*LAMP))) == []


def test_what_opens_is_tried_where_a_relay_lets_go_and_closes_another_contact() -> None:
    circuit = wiring(*RELAY, "  K1.nc -- L1.hot")
    (opened,) = moved_alone([at_rest(circuit)], [])
    assert "K1" not in opened.running and "L1" in opened.running


def test_a_contact_that_carries_nothing_may_open_unseen() -> None:
    held = (line for line in RELAY if "HL." not in line)
    circuit = wiring(*held, "  W.black -- HL.a", "  T1.secondary-r -- K1.coil-a")
    assert moved(at_rest(circuit)) == []


def test_a_hand_and_an_overload_are_tried_elsewhere() -> None:
    assert moved(at_rest(wiring("S1 is single-pole-switch in A", "at A", "  W.black -- S1.line"))) == []


def test_on_the_way_what_closes_is_tried_once_for_the_volts_that_it_keeps_apart() -> None:
    rest = at_rest(wiring(*ACROSS))
    assert moved(rest, rest, rest) == [{"LPC": "closed"}]
    gone = at_rest(rest.circuit, **{"LP.1": "off"})
    assert moved(gone) == []
    assert moved(gone, rest, rest) == [{"LPC": "closed"}]


def test_on_the_way_what_opens_is_not_tried() -> None:
    circuit = wiring(*RELAY, "  K1.nc -- L1.hot")
    dark = at_rest(circuit, **{"LP.1": "off"})
    assert moved(dark, at_rest(circuit)) == []


def test_the_controls_answer_without_delay() -> None:
    """A freezer's clock ends the defrost in the moment in which the coil is warm."""
    circuit = hookup("walk-in-freezer")
    defrosting = next(
        step.settled
        for step in play(circuit, [Act(), Act(frozenset(("defrost",)))]).steps
        if "W.heater" in step.settled.running
    )
    warm = list(answers_to(defrosting, circuit.variables["W.termination"], "warm"))
    assert [one.positions["W.timer.clock"] for one in warm] == ["defrosting", "ended"]
    assert ["W.heater" in one.running for one in warm] == [True, False]
    assert "W.timer.release-coil" in warm[0].running
    last = at_once(defrosting, circuit.variables["W.termination"], "warm")
    assert last.positions == warm[-1].positions and last.volts == warm[-1].volts


@pytest.mark.parametrize("calls", [(), ("heat",), ("cool",)])
def test_the_safeties_of_a_machine_that_stops_bring_nothing_new(calls: tuple[str, ...]) -> None:
    circuit = hookup("heat-pump")
    assert not list(moved_alone([play(circuit, [Act(), Act(frozenset(calls))]).rest], []))
