"""The parts of a house, wired: what runs in which position of the switches, and at what voltage."""

from __future__ import annotations

import pytest

from tests.parts.shelf import SHIPPED
from wirecheck.circuit.circuit import Circuit, circuit
from wirecheck.circuit.settle import resting, settle
from wirecheck.language.reader import read
from wirecheck.model.build import build


def wired(text: str) -> Circuit:
    board = build(read('board "House"\npanel LP 120/240 V, 10 kA available\n' + text, "house.wire"), SHIPPED)
    assert board.problems == (), board.problems
    return circuit(board)


DOORBELL = wired(
    """breaker LP.1 15 A
X is doorbell-transformer
B1 is push-button
B2 is push-button
C is doorbell-chime
cable W1 14/2 NM-B 20 ft from LP to X
cable D1 18/2 CL2 40 ft from X to B1
cable D2 18/2 CL2 60 ft from X to B2
cable D3 18/3 CL2 30 ft from X to C
at LP
  W1.black -- LP.1
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at X
  W1.black -- X.primary-hot
  W1.white -- X.primary-neutral
  W1.bare -- X.ground
  D1.red -- D2.red -- X.secondary-1
  D1.white -- D3.white
  D2.white -- D3.green
  D3.red -- X.secondary-2
at B1
  D1.red -- B1.a
  D1.white -- B1.b
at B2
  D2.red -- B2.a
  D2.white -- B2.b
at C
  D3.red -- C.trans
  D3.white -- C.front
  D3.green -- C.rear
"""
)


@pytest.mark.parametrize(
    ("moved", "rings"),
    [
        ({}, set()),
        ({"B1": "pressed"}, {"C.front-bell"}),
        ({"B2": "pressed"}, {"C.rear-bell"}),
        ({"B1": "pressed", "B2": "pressed"}, {"C.front-bell", "C.rear-bell"}),
    ],
)
def test_each_door_rings_its_own_bell(moved: dict[str, str], rings: set[str]) -> None:
    assert settle(DOORBELL, resting(DOORBELL, moved)).running == rings


FAN = wired(
    """breaker LP.1 15 A
box A device 22 cu in
box B octagon 15.5 cu in
S1 is single-pole-switch in A
S2 is single-pole-switch in A
F is ceiling-fan in B
cable W1 14/2 NM-B 20 ft from LP to A
cable W2 14/3 NM-B 12 ft from A to B
at LP
  W1.black -- LP.1
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at A
  W1.black -- pigtail -- S1.line -- pigtail -- S2.line
  W2.black -- S1.load
  W2.red -- S2.load
  W1.white -- W2.white
  W1.bare -- W2.bare -- pigtail -- S1.ground -- pigtail -- S2.ground
at B
  W2.black -- F.fan-hot
  W2.red -- F.light-hot
  W2.white -- F.neutral
  W2.bare -- F.ground
"""
)


@pytest.mark.parametrize("fan", ["on", "off"])
@pytest.mark.parametrize("light", ["on", "off"])
def test_fan_and_light_each_on_its_own_switch(fan: str, light: str) -> None:
    running = settle(FAN, resting(FAN, {"S1": fan, "S2": light})).running
    assert running == {name for name, at in (("F.motor", fan), ("F.light", light)) if at == "on"}


BASEBOARD = wired(
    """breaker LP.1 20 A 2-pole
box A device 22 cu in
H is baseboard-heater
T is line-voltage-thermostat in A
cable W1 12/2 NM-B 40 ft from LP to A
cable W2 12/2 NM-B 15 ft from A to H
at LP
  W1.black -- LP.1.a
  W1.white marked red -- LP.1.b
  W1.bare -- LP.ground
at A
  W1.black -- T.line-1
  W1.white marked red -- T.line-2
  W2.black -- T.load-1
  W2.white marked red -- T.load-2
  W1.bare -- W2.bare -- pigtail -- T.ground
at H
  W2.black -- H.L1
  W2.white marked red -- H.L2
  W2.bare -- H.ground
"""
)


def test_the_baseboard_heats_on_a_call_and_its_limit_drops_it() -> None:
    rest = resting(BASEBOARD)
    assert settle(BASEBOARD, rest).running == set()
    heating = settle(BASEBOARD, rest, ["heat"])
    assert heating.running == {"H.element"}
    # 1500 W at 240 V draws 6.25 A, and a little less through 55 ft of 12 AWG each way.
    assert 6.1 < heating.load_amps(BASEBOARD.load["H.element"]) < 6.25
    assert settle(BASEBOARD, rest | {"H.limit": "open"}, ["heat"]).running == set()


def test_a_transformer_on_its_other_tap_gives_the_same_24_volts() -> None:
    told = []
    for panel_volts, breaker, back in (("120 V", "LP.1", "LP.neutral"), ("240 V", "LP.1.a", "LP.1.b")):
        poles = " 2-pole" if panel_volts == "240 V" else ""
        board = wired(
            f"""breaker LP.1 15 A{poles}
X is class-2-transformer 40 VA {panel_volts}
cable W1 14/2 NM-B 20 ft from LP to X
at LP
  W1.black -- {breaker}
  W1.white -- {back}
  W1.bare -- LP.ground
at X
  W1.black -- X.primary-hot
  W1.white -- X.primary-neutral
  W1.bare -- X.ground
"""
        )
        told.append(settle(board, resting(board)).across("X.secondary-r", "X.secondary-c"))
    assert told[0] == pytest.approx(told[1], rel=1e-3)
    assert 23.5 < told[0] < 28


RELAYS = {
    "relay-spst": ({("common", "no")}, set()),
    "relay-spdt": ({("common", "no")}, {("common", "nc")}),
    "relay-dpdt": (
        {("common-1", "no-1"), ("common-2", "no-2")},
        {("common-1", "nc-1"), ("common-2", "nc-2")},
    ),
    "contactor": ({("line-1", "load-1"), ("line-2", "load-2")}, set()),
    "contactor-1-pole": ({("line-1", "load-1")}, set()),
}


@pytest.mark.parametrize("name", RELAYS)
def test_a_relay_closes_its_contacts_with_24_volts_on_its_coil(name: str) -> None:
    board = wired(
        f"""breaker LP.1 15 A
X is class-2-transformer
T is heat-only-thermostat
K is {name}
cable W1 14/2 NM-B 20 ft from LP to X
cable D1 18/2 CL2 40 ft from X to T
cable D2 18/2 CL2 10 ft from X to K
at LP
  W1.black -- LP.1
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at X
  W1.black -- X.primary-hot
  W1.white -- X.primary-neutral
  W1.bare -- X.ground
  D1.red -- X.secondary-r
  D1.white -- D2.red
  D2.white -- X.secondary-c
at T
  D1.red -- T.R
  D1.white -- T.W
at K
  D2.red -- K.coil-a
  D2.white -- K.coil-b
"""
    )
    pulled, resting_closed = RELAYS[name]
    ends = {
        contact.name: (contact.a.removeprefix("K."), contact.b.removeprefix("K."))
        for contact in board.contacts
    }
    for calls, wanted in (([], resting_closed), (["heat"], pulled)):
        closed = settle(board, resting(board), calls).closed
        assert {ends[each] for each in closed if each.startswith("K.")} == wanted
