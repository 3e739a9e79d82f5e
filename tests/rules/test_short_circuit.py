"""What is joined to what, how many amperes flow by Ohm's law, and what opens."""

from __future__ import annotations

import pytest

from tests.rules.hands import CHAIN, COOLING, LIGHT, LOOP, STAIR, at, case, changed, own, said, seen
from wirecheck import files
from wirecheck.circuit.circuit import Leg, Winding
from wirecheck.language.quantity import figure
from wirecheck.rules.short_circuit import RULE, Meeting

BOX = """\
board "One cable to one lamp"
panel LP 120/240 V, 10 kA available
breaker LP.3 15 A
box B octagon 15.5 cu in
cable W1 14/2 NM-B 50 ft from LP to B
L1 is lampholder 60 W in B
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at B
  W1.black -- W1.white -- L1.hot
  W1.bare -- L1.ground
"""


@pytest.mark.parametrize("text", [STAIR, COOLING, LOOP, LIGHT, CHAIN])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_a_short_tells_its_amperes_its_join_and_what_opens() -> None:
    """Ohm's law: 120 V over 100 ft of 14 AWG at 30 C (Table 8, 3.07 ohm/kft at 75 C) and 12 mohm before."""
    (short,) = seen(RULE, BOX)
    loop = 0.1 * 3.07 * (1 + 0.00323 * (30 - 75)) + 0.012 + 0.001
    assert (short.severity, short.stage, short.subject) == ("hazard", "trim", "LP.leg-b")
    assert short.amps == pytest.approx(120 / loop, rel=2e-3)
    assert at(BOX, short) == "W1.black -- W1.white -- L1.hot"
    assert (short.opens.name, short.opens.kind) == ("LP.3", "overload")
    assert short.other is None
    assert short.copper == {case(BOX).uses.piece[point] for point in ("LP.leg-b", "LP.3", "LP.neutral")}


def test_a_hot_on_the_ground_is_a_short_as_well() -> None:
    text = changed(
        BOX,
        ("W1.black -- W1.white -- L1.hot", "W1.black -- W1.bare -- L1.hot"),
        ("  W1.bare -- L1.ground\n", ""),
    )
    (short,) = seen(RULE, text)
    assert short.way.points[-1] == "LP.ground"


def test_a_short_that_only_a_switch_makes_is_found_in_that_position() -> None:
    text = own("short-circuit", "switched")
    (short,) = seen(RULE, text)
    assert at(text, short) == "W1.white -- S1.load"
    assert short.settled.positions["S1"] == "on"


def test_two_hots_of_different_legs_are_a_short_of_240_volts() -> None:
    (short,) = seen(RULE, own("short-circuit", "legs"))
    assert isinstance(short.source, Leg)
    assert {short.source.name, short.other.name} == {"LP.leg-a", "LP.leg-b"}
    # 240 V over 20 ft of 14 AWG and 12 mohm on each leg.
    assert short.amps == pytest.approx(
        240 / (0.02 * 3.07 * (1 + 0.00323 * (30 - 75)) + 0.024 + 0.002), rel=0.02
    )


def test_two_hots_of_one_leg_are_no_short() -> None:
    """They are fed from both sides: backfeed."""
    text = own("short-circuit", "legs")
    assert not seen(RULE, changed(text, ("15 A leg a", "15 A leg b")))
    panels = changed(
        text,
        ("breaker LP.5 15 A leg a\n", "panel SP 120 V\nbreaker SP.1 15 A\n"),
        ("  W1.red -- LP.5\n", ""),
        ("at B\n", "at SP\n  W2 -- SP.1\nat B\n"),
        ("box B", "wire W2 14 THHN black 9 ft from SP to B\nbox B"),
        ("breaker LP.3 15 A", "breaker LP.1 15 A"),
        ("W1.black -- LP.3", "W1.black -- LP.1"),
        ("W1.black -- W1.red", "W1.black -- W2"),
    )
    assert not seen(RULE, changed(panels, ("cable W1 14/3", "cable W1 14/2")))


def test_r_to_c_is_a_fault_that_a_fuse_ends() -> None:
    text = own("short-circuit", "thermostat")
    (short,) = seen(RULE, text)
    assert short.severity == "fault"
    assert at(text, short) == "TW.red -- TW.blue -- TS.R"
    assert (short.opens.name, short.opens.kind) == ("F.fuse", "overload")
    assert isinstance(short.source, Winding)
    # The winding's own impedance and 90 ft of 18 AWG (Table 8: 7.77 ohm/kft) limit it.
    winding = short.source
    loop = winding.ohms + 0.09 * 7.77 * (1 + 0.00323 * (30 - 75))
    assert short.amps == pytest.approx(winding.open_volts / abs(loop), rel=0.02)


def test_a_button_that_shorts_a_limited_transformer() -> None:
    (short,) = seen(RULE, own("short-circuit", "chime"))
    assert short.settled.positions["PF"] == "pressed"
    assert (short.opens.name, short.opens.kind) == ("DT", "limited")


def test_a_transformer_without_protection_burns_out() -> None:
    part = files.part_text("doorbell-transformer")
    assert part is not None
    text = own("short-circuit", "chime")
    board = case(text, **{"doorbell-transformer": part.replace(", inherently-limited", "")})
    (short,) = RULE.find(board)
    assert (short.opens.name, short.opens.kind) == ("DT", "burned")
    assert RULE.words(short, board).value == short.amps == pytest.approx(10.7, abs=0.05)


def test_what_flows_through_a_long_wire_may_open_nothing() -> None:
    long = own("short-circuit", "long-wires")
    (short,) = seen(RULE, long)
    assert short.opens is None
    assert short.amps < 2
    (finding,) = said(RULE, long)
    assert finding.value == figure(short.amps, "A") == 1.86


def test_a_ground_fault_device_opens_first() -> None:
    (short,) = seen(RULE, own("short-circuit", "gfci"))
    assert (short.opens.name, short.opens.kind) == ("LP.3", "ground-fault")


def test_each_join_that_shorts_is_found_once() -> None:
    """In both positions of a switch that has nothing to do with it, and in each of two places."""
    second = (
        "breaker LP.5 15 A leg b\nbox C octagon 15.5 cu in\ncable W9 14/2 NM-B 9 ft from LP to C\n"
        "at LP\n  W9.black -- LP.5\n  W9.white -- LP.neutral\n  W9.bare -- LP.ground\n"
        "at C\n  W9.black -- W9.white\n  cap W9.bare\n"
    )
    text = changed(
        LIGHT,
        ("  W1.white -- W2.white\n", "  W1.white -- W2.white -- W1.black\n"),
        ("  W1.black -- S1.line\n", ""),
    )
    text = text.replace("W2.white -- W1.black", "W2.white -- W1.black -- pigtail -- S1.line") + second
    found = seen(RULE, text)
    assert [at(text, one) for one in found] == [
        "W1.white -- W2.white -- W1.black -- pigtail -- S1.line",
        "W9.black -- W9.white",
    ]


LPC = """\
board "A low-pressure control across the line"
panel LP 120/240 V, 10 kA available
breaker LP.1 15 A
box A junction 100 cu in
cable W 14/2 NM-B 60 ft from LP to A
LPC is low-pressure-control in A
at LP
  W.black -- LP.1
  W.white -- LP.neutral
at A
  W.black -- LPC.a
  W.white -- LPC.b
"""


def test_a_control_that_stands_open_at_rest_is_a_short_once_it_closes() -> None:
    (found,) = seen(RULE, LPC)
    assert found.settled.positions["LPC"] == "closed"
    assert at(LPC, found) == "W.white -- LPC.b"
    # 120 V through 120 ft of 14 AWG, 2.6 ohm per 1000 ft at 30 C, and what the panel has behind it.
    assert found.amps == pytest.approx(120 / (0.12 * 2.6 + 0.012), rel=0.03)
    assert not seen(RULE, LPC.replace("  W.white -- LPC.b", "  cap W.white"))


REVERSING = files.folder("boards") / "reversing-starter"


def test_of_two_contactors_that_reverse_a_motor_each_keeps_the_other_out() -> None:
    right = (REVERSING / "right.wire").read_text(encoding="utf-8")
    assert not seen(RULE, right)
    wrong = own("short-circuit", "one-interlock")
    (found,) = seen(RULE, wrong)
    assert isinstance(found, Meeting)
    assert (found.one.name, found.other.name, found.severity) == ("F", "R", "hazard")
    assert at(wrong, found).startswith("F is contactor-3-pole")
    # The button alone past the interlock is the same, though what holds the coil goes through it.
    button = changed(
        right,
        ("  C3 -- pigtail -- F.14 -- pigtail -- R.21\n", "  F.14 -- R.21\n"),
        ("  R.22 -- F.A1\n", "  C3 -- R.22 -- F.A1\n"),
    )
    (found,) = seen(RULE, button)
    assert isinstance(found, Meeting)
    # With none at all both stay in, and that is the short itself.
    none = (REVERSING / "wrong-interlocks-left-out.wire").read_text(encoding="utf-8")
    assert not any(isinstance(one, Meeting) for one in seen(RULE, none))


def test_contactors_that_nothing_keeps_apart_name_the_contacts_that_should() -> None:
    """Common practice: a contact of each that is closed at rest stands before the other's coil."""
    board = files.folder("boards") / "reversing-starter" / "wrong-interlocks-left-out.wire"
    (finding,) = said(RULE, board.read_text("utf-8"))
    assert finding.look is not None
    assert "the coils of F and R" in finding.look
    assert "F.21 to F.22 and R.21 to R.22, belongs before the coil of the other contactor" in finding.look
    # Of two hots that a hand joined no contactor says anything.
    joined = files.folder("boards") / "rules" / "short-circuit" / "wrong.wire"
    assert {one.look for one in said(RULE, joined.read_text("utf-8"))} == {None}
