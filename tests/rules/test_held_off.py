"""A call that should take over, and that another holds off."""

from __future__ import annotations

import pytest

from tests.rules.hands import at, case, changed, own, reported
from wirecheck import files
from wirecheck.rules.held_off import RULE, HeldOff

BOARDS = files.folder("boards")
RIGHT = (BOARDS / "rules" / "held-off" / "right.wire").read_text(encoding="utf-8")
WRONG = (BOARDS / "rules" / "held-off" / "wrong.wire").read_text(encoding="utf-8")
SHIPPED = (BOARDS / "walk-in-freezer" / "wrong-thermostat-on-l1.wire").read_text(encoding="utf-8")
SPARE = own("held-off", "spare-on-the-screw")
CLOCK = files.part_text("defrost-timer") or ""

# A heater and a fan that lock each other out, each on its thermostat.
LOCKED = """\
board "Cooling locks out the heater of another thermostat"
panel LP 120/240 V, 10 kA available
breaker LP.2 15 A 2-pole
box CP junction 400 cu in metal
cable PF 14/2 NM-B 10 ft from LP to CP
TM is defrost-timer in CP
TH is cooling-thermostat in CP
C is our-relay in CP
HT is heater with power 1200 W, voltage 240 V in CP
EF is fan-motor in CP
at LP
  PF.black -- LP.2.a
  PF.white marked red -- LP.2.b
  PF.bare -- LP.ground
at CP
  PF.black -- pigtail -- TM.feed -- pigtail -- TH.a
  PF.white marked red -- pigtail -- TM.common -- pigtail -- HT.b -- pigtail -- EF.b -- pigtail -- C.coil-b
  PF.bare -- pigtail -- TM.ground -- pigtail -- TH.ground -- pigtail -- CP.ground
  TH.b -- pigtail -- C.coil-a -- pigtail -- EF.a
  TM.defrost -- C.in
  C.out -- HT.a
expect defrost runs HT
"""
RELAY = """\
part our-relay "A relay with a resting contact"
terminal in contact, sizes 18 to 10, rated 75 C
terminal out contact, sizes 18 to 10, rated 75 C
terminal coil-a switched, sizes 18 to 10, rated 75 C
terminal coil-b line, sizes 18 to 10, rated 75 C
load coil coil from coil-a to coil-b, 5 VA at 240 V, works 180 V to 264 V
in -- out when not coil runs
"""


def found(text: str, **parts: str) -> list[HeldOff]:
    return list(RULE.find(case(text, **parts)))


def locked(text: str = LOCKED, clock: str = CLOCK, relay: str = RELAY) -> list[HeldOff]:
    ours = changed(clock, ("part defrost-timer", "part clock"))
    return found(changed(text, ("TM is defrost-timer", "TM is clock")), clock=ours, **{"our-relay": relay})


def test_right_boards_are_right() -> None:
    assert not found(RIGHT)
    assert not found((BOARDS / "walk-in-freezer" / "right.wire").read_text(encoding="utf-8"))


def test_a_thermostat_fed_around_the_clock_keeps_the_heaters_off() -> None:
    (one,) = found(WRONG)
    assert (one.severity, one.stage, one.subject) == ("fault", "final", "WF.heater")
    assert (one.call, one.maker.name, one.other) == ("defrost", "WF.timer", "cool")
    assert [load.name for load in one.loads] == ["WF.heater"]
    assert one.swap is not None
    assert (one.swap.member.name, one.swap.here.name, one.swap.meant.name) == ("TW.black", "WF.L1", "WF.T-1")
    assert at(WRONG, one).startswith("PF.black -- TW.black")
    assert len(one.copper) == 2


def test_the_line_that_asks_and_what_is_left_empty_are_no_second_mistake() -> None:
    assert "call-continuity" not in reported(SHIPPED)
    assert reported(WRONG) == ["held-off"]


def test_without_a_screw_to_move_to_the_machine_is_to_blame() -> None:
    (one,) = found(SPARE)
    assert one.swap is None
    assert at(SPARE, one).startswith("WF is walk-in-freezer")


def test_no_screw_is_offered_that_puts_another_call_wrong() -> None:
    (one,) = found(WRONG + "expect idle runs WF.heater\n")
    assert one.swap is None


def test_small_parts_lock_it_out_as_well() -> None:
    (one,) = locked()
    assert (one.call, one.other, [load.name for load in one.loads]) == ("defrost", "cool", ["HT"])


def test_what_opens_nothing_takes_nothing_over() -> None:
    # Of two that lock each other out, whoever comes first has it: nothing says that it is wrong.
    assert not locked(
        clock=changed(CLOCK, ("feed -- cool when not clock is defrosting, rated current\n", ""))
    )


def test_what_opens_again_by_itself_has_not_been_closed_before() -> None:
    line = "feed -- cool when not clock is defrosting, rated current"
    late = changed(CLOCK, (line, line.replace("not clock is defrosting", "clock is ended")))
    assert not locked(clock=late)


@pytest.mark.parametrize("kind", ["heater", "motor"])
def test_only_what_does_work_counts(kind: str) -> None:
    part = 'part worker "One"\nterminal a line\nterminal b line\nload it {} from a to b, 900 VA at 240 V\n'
    text = changed(LOCKED, ("HT is heater with power 1200 W, voltage 240 V", "HT is worker"))
    text = changed(text, ("expect defrost runs HT\n", "")).replace("TM is defrost-timer", "TM is clock")
    clock = changed(CLOCK, ("part defrost-timer", "part clock"))
    ours = {"our-relay": RELAY, "clock": clock}
    assert found(text, worker=part.format(kind), **ours)
    assert not found(text, worker=part.format("electronics"), **ours)


def test_what_runs_for_a_while_is_not_held_off() -> None:
    # The heater runs once the relay has had its time.
    relay = RELAY.replace(
        "in -- out when not coil runs", "state hand away, there\nin -- out when hand is there"
    )
    relay += "hand goes from away to there after 5 min\n"
    assert not locked(relay=relay)


def test_what_trips_is_another_mistake() -> None:
    relay = RELAY + "in -- coil-b when coil runs\n"
    assert not locked(relay=relay)
