"""Conductors of a motor's control circuit; NEC 2023 430.72(B)."""

from __future__ import annotations

import pytest

from tests.rules.hands import case, changed
from wirecheck.judge.guards import allowed, guarded
from wirecheck.judge.motor_control import control_conductors, tapped_limit

REMOTE = """\
board "A pump with a remote control on thin wire"
panel LP 120/240 V, 10 kA available
breaker LP.2 40 A 2-pole
box CP square 42 cu in
box LB square 21 cu in
cable PF 8/2 NM-B 32 ft from LP to CP
cable CC 14/2 NM-B 11 ft from CP to LB
C1 is line-contactor 40 A in CP
M is motor with current 17 A, voltage 240 V in CP
LPC is low-pressure-control in LB
at LP
  PF.black -- LP.2.a
  PF.white marked red -- LP.2.b
  PF.bare -- LP.ground
at CP
  PF.black -- CC.black -- pigtail -- C1.line-1
  PF.white marked red -- pigtail -- C1.line-2 -- pigtail -- C1.coil-b
  PF.bare -- CC.bare
  CC.white marked black -- C1.coil-a
  M.a -- C1.load-1
  M.b -- C1.load-2
at LB
  CC.black -- LPC.a
  CC.white marked black -- LPC.b
  cap CC.bare
"""


def limits(text: str) -> dict[str, float]:
    """The largest protection of the runs of a board's one circuit that belong to a motor's control."""
    board = case(text)
    (guard,) = guarded(board)
    told = {one.conductor.run: one.limit for one in allowed(board, guard)}
    return {run: limit.amps for run, limit in told.items() if limit.by == "motor control"}


def test_what_serves_a_coil_alone_is_control() -> None:
    assert control_conductors(case(REMOTE)) == {"CC.black", "CC.white"}
    assert limits(REMOTE) == {"CC": 45}


@pytest.mark.parametrize(
    ("part", "screw"),
    [
        ("lampholder 60 W", "hot"),
        ("motor", "a"),
        ("class-2-transformer", "primary-hot"),
        ("single-receptacle", "hot"),
    ],
)
def test_what_serves_anything_beside_the_coil_is_not(part: str, screw: str) -> None:
    text = changed(
        REMOTE,
        ("CC.white marked black -- LPC.b", f"CC.white marked black -- LPC.b -- P.{screw}"),
        ("LPC is", f"P is {part} in LB\nLPC is"),
    )
    assert not limits(text)
    assert "CC.black" not in control_conductors(case(text))


def test_a_circuit_without_a_motor_has_none() -> None:
    assert not limits(changed(REMOTE, ("M is motor with current 17 A, voltage 240 V", "M is heater")))


def test_a_valve_is_no_controller() -> None:
    """It moves no contact."""
    text = changed(
        REMOTE,
        ("LPC is", "V is solenoid-valve with voltage 240 V in CP\nLPC is"),
        ("CC.white marked black -- C1.coil-a", "CC.white marked black -- V.a"),
        ("pigtail -- C1.coil-b", "pigtail -- V.b"),
    )
    assert not control_conductors(case(text))


def test_what_carries_more_than_a_coil_is_not() -> None:
    """The motor's short way back is the contactor's; while that is out its current comes by the long one."""
    text = changed(
        REMOTE,
        ("cable CC 14/2", "cable X 14/2 NM-B 99 ft from CP to LB\ncable CC 14/2"),
        ("M.a -- C1.load-1", "M.a -- C1.load-1 -- X.white"),
        ("pigtail -- C1.coil-b", "M.b"),
        ("  M.b -- C1.load-2\n", ""),
        ("LPC.b", "LPC.b -- X.white"),
        ("LPC is low-pressure-control", "LPC is limit-switch"),
    )
    assert control_conductors(case(text)) == {"CC.white"}
    assert {"CC.black"} < control_conductors(case(changed(text, ("LPC.b -- X.white", "LPC.b"))))


@pytest.mark.parametrize(
    ("size", "beyond", "enclosure"), [("18", 7, 25), ("16", 10, 40), ("14", 45, 100), ("12", 60, 120)]
)
def test_it_goes_by_its_size_and_whether_it_leaves_the_enclosure(
    size: str, beyond: float, enclosure: float
) -> None:
    board = case(REMOTE)
    conductor = board.board.conductors["CC.black"]._replace(size=size)
    assert tapped_limit(board, conductor) == beyond
    assert tapped_limit(board, conductor._replace(places=("CP", "CP"))) == enclosure
    assert tapped_limit(board, board.board.conductors["PF.black"]) is None
