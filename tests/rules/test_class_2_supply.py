"""What feeds Class 2 cable; NEC 2023 Chapter 9 Table 11(A): 30 V, 100 VA, a fuse of 100 / V amperes."""

from __future__ import annotations

from pathlib import Path

import pytest

import wirecheck
from tests.rules.hands import COOLING, LOOP, STAIR, case, changed, said, seen
from wirecheck.rules.class_2_supply import (
    RULE,
    LineVoltage,
    NotLimited,
    NotListed,
    OnPower,
    TooLarge,
    TooManyVolts,
)

BOARDS = Path(__file__).parent / "boards" / "class-2-supply"
ON_POWER = (BOARDS / "on-power.wire").read_text(encoding="utf-8")

VALVE = """\
board "A valve"
panel LP 120/240 V, 10 kA available
breaker LP.3 15 A
T1 is {transformer}
V1 is solenoid-valve
cable W1 14/2 NM-B 11 ft from LP to T1
cable C1 18/2 CL2 20 ft from T1 to V1
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
at T1
  W1.black -- T1.primary-hot
  W1.white -- T1.primary-neutral
  C1.red -- T1.secondary-r
  C1.white -- T1.secondary-c
at V1
  C1.red -- V1.a
  C1.white -- V1.b
"""
# A transformer of the user's own: its volts, its capacity, and whether its winding limits its current.
OWN = """\
part own "A transformer"
terminal primary-hot hot, lead
terminal primary-neutral line, lead
terminal secondary-r class-2, holds 2
terminal secondary-c class-2-common, holds 2
transforms 120 V from primary-hot to primary-neutral into {volts} V from secondary-r to secondary-c,
  capacity {capacity} VA, impedance 6 %{limited}
"""


@pytest.mark.parametrize("text", [STAIR, COOLING, LOOP])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


@pytest.mark.parametrize(
    ("transformer", "kind", "limit"),
    [
        ("class-2-transformer 100 VA", None, None),
        ("class-2-transformer 101 VA", TooLarge, 100),
        # Vmax is what it gives with no load, 27.6 V: 100 / 27.6 V = 3.62 A.
        ("fused-class-2-transformer with capacity 75 VA, current 3.6 A", None, None),
        ("fused-class-2-transformer with capacity 75 VA, current 4 A", NotLimited, 100 / 27.6),
        ("fused-class-2-transformer with capacity 101 VA, current 5 A", TooLarge, 100),
    ],
)
def test_a_class_2_source_is_limited(transformer: str, kind: type | None, limit: float | None) -> None:
    text = VALVE.format(transformer=transformer)
    found = seen(RULE, text)
    assert [type(one) for one in found] == ([] if kind is None else [kind])
    for one in found:
        assert (one.severity, one.stage, one.subject, one.run.name) == ("violation", "rough-in", "T1", "C1")
        assert one.limit == pytest.approx(limit)
        assert text.splitlines()[one.at.span.line - 1].startswith("T1 is")


@pytest.mark.parametrize(
    ("volts", "capacity", "limited", "kind", "value", "unit"),
    [
        # 6 % more with no load: 28 V gives 29.7 V, and 29 V 30.7 V.
        (28, 100, ", inherently-limited", None, None, None),
        (29, 10, ", inherently-limited", TooManyVolts, 30.74, "V"),
        # Up to 20 V: 5 x V volt-amperes; 16 V gives 16.96 V.
        (16, 84, ", inherently-limited", None, None, None),
        (16, 85, ", inherently-limited", TooLarge, 85, "VA"),
        (24, 40, "", NotLimited, None, "A"),
    ],
)
def test_transformers_of_other_makes(
    volts: float, capacity: float, limited: str, kind: type | None, value: float | None, unit: str | None
) -> None:
    own = OWN.format(volts=volts, capacity=capacity, limited=limited)
    board = case(VALVE.format(transformer="own"), own=own)
    found = list(RULE.find(board))
    assert [type(one) for one in found] == ([] if kind is None else [kind])
    for one in found:
        words = RULE.words(one, board)
        assert (words.value, words.unit) == (pytest.approx(value) if value else None, unit)
        assert (one.severity, one.stage, one.at.span.line) == ("violation", "rough-in", 4)


def test_a_transformer_for_the_control_of_motors_is_no_class_2_source() -> None:
    """725.60(A): a Class 2 source is listed as one; a fuse of 3 A behind 24 V and 100 VA makes it none."""
    text = (BOARDS / "control-transformer.wire").read_text(encoding="utf-8")
    (found,) = seen(RULE, text)
    assert (type(found), found.severity, found.subject, found.run.name) == (NotListed, "violation", "T", "W3")
    assert text.splitlines()[found.at.span.line - 1].startswith("cable W3 18/2 CL2")
    (words,) = said(RULE, text)
    assert words.source == "NEC 2023 725.60(A)"
    (words,) = said(RULE, text.replace("\n", "\ncode nec 2020\n", 1))
    assert words.source == "NEC 2020 725.121(A)"
    # In power cable it is a power circuit, whatever its volts.
    power = text.replace("18/2 CL2", "14/2 NM-B").replace("W3.red", "W3.black")
    assert not seen(RULE, power)


def test_without_class_2_cable_there_is_nothing_to_limit() -> None:
    text = VALVE.format(transformer="class-2-transformer 150 VA")
    assert not seen(RULE, text.replace("18/2 CL2", "14/2 NM-B").replace("C1.red", "C1.black"))
    assert not seen(
        RULE, changed(text, ("  C1.red -- T1.secondary-r\n  C1.white -- T1.secondary-c\n", "  cap C1.red\n"))
    )


def test_thermostat_cable_on_a_breaker_is_a_hazard() -> None:
    (found,) = seen(RULE, ON_POWER)
    assert type(found) is OnPower
    assert (found.severity, found.stage, found.subject) == ("hazard", "rough-in", "W1")
    assert found.protection.name == "LP.3"
    # One of each cable.
    assert [one.name for one in found.conductors] == ["W1.red", "W2.red", "W3.red"]
    assert ON_POWER.splitlines()[found.at.span.line - 1].startswith("cable W1")


def test_a_message_names_six_cables_at_most() -> None:
    text = changed(ON_POWER, ("box B octagon", "box D junction 42 cu in\nbox B octagon"))
    text += "".join(f"cable X{number} 18/2 CL2 9 ft from A to D\n" for number in range(5))
    text += "at A\n  W1.red -- " + " -- ".join(f"X{number}.red" for number in range(5)) + "\n"
    (found,) = said(RULE, text)
    # The breaker, the place where it meets the power, and five cables more.
    assert len(found.also) == 7
    assert text.splitlines()[found.also[1].span.line - 1] == "  W1.red -- LP.3"
    (problem,) = seen(RULE, text)
    assert len(problem.conductors) == 8


def test_on_two_breakers_it_is_two_mistakes() -> None:
    text = changed(
        ON_POWER, ("breaker LP.3 15 A", "breaker LP.3 15 A\nbreaker LP.5 20 A\nbox D junction 42 cu in")
    )
    text += "cable X1 18/2 CL2 9 ft from LP to D\nat LP\n  X1.red -- LP.5\n"
    assert [(one.subject, one.protection.name) for one in seen(RULE, text)] == [
        ("W1", "LP.3"),
        ("X1", "LP.5"),
    ]


PUMP = """\
board "A pump behind an isolating relay"
panel LP 120/240 V, 10 kA available
breaker LP.3 15 A
box A square 42 cu in
cable W1 14/2 NM-B 11 ft from LP to A
cable Q1 18/2 CL2 20 ft from A to TS
K is relay-dpdt in A
T is class-2-transformer in A
C is low-pressure-control in A
S is single-pole-switch in A
P is motor in A
TS is heat-only-thermostat
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at A
  W1.black -- T.primary-hot -- pigtail -- K.common-1
  P.a -- K.no-1
  W1.white -- P.b -- T.primary-neutral
  W1.bare -- T.ground
  Q1.red -- T.secondary-r
  Q1.white -- K.coil-a
  K.coil-b -- T.secondary-c
at TS
  Q1.red -- TS.R
  Q1.white -- TS.W
"""
HOT = "  W1.black -- T.primary-hot -- pigtail -- K.common-1\n"


def line_voltage(text: str) -> list[LineVoltage]:
    return [one for one in seen(RULE, text) if isinstance(one, LineVoltage)]


def test_an_isolating_relay_keeps_them_apart() -> None:
    assert not line_voltage(PUMP)


def test_line_voltage_on_one_side_of_a_winding() -> None:
    """Nothing flows, and the thermostat's screws are at 120 V all the same."""
    text = with_hot("T.secondary-r")
    (found,) = line_voltage(text)
    assert (found.severity, found.stage, found.subject) == ("hazard", "trim", "T.secondary-r")
    assert [one.name for one in found.found.terminals] == ["T.secondary-r", "TS.R", "TS.W", "K.coil-a"]
    assert (found.found.leg.name, found.found.state.calls) == ("LP.leg-b", frozenset())
    assert text.splitlines()[found.at.span.line - 1] == HOT.replace(
        "T.primary-hot", "T.primary-hot -- T.secondary-r"
    ).rstrip("\n")
    (words,) = (one for one in said(RULE, text) if one.subject == "T.secondary-r")
    assert (words.value, words.limit, words.unit) == (120, 30, "V")


def with_hot(*more: str, lines: str = "") -> str:
    """The board with more on the hot's splice, and lines of joins behind it."""
    return changed(PUMP, (HOT, HOT.replace("T.primary-hot", " -- ".join(("T.primary-hot", *more))) + lines))


def test_the_first_join_that_is_class_2_is_where_it_goes_wrong() -> None:
    """The cable of the thermostat is on the hot in the box, and leads to its screws elsewhere."""
    text = changed(with_hot("Q1.red"), ("  Q1.red -- T.secondary-r\n", ""))
    (found,) = line_voltage(text)
    assert [one.name for one in found.found.terminals] == ["TS.R", "TS.W", "K.coil-a"]
    assert "Q1.red" in text.splitlines()[found.at.span.line - 1]


@pytest.mark.parametrize(("contact", "times"), [("no-2", 1), ("nc-2", 0)])
def test_it_may_take_a_call_to_bring_it(contact: str, times: int) -> None:
    """The closed contact of a second pole lets go as the open one of the first closes."""
    text = changed(
        PUMP,
        ("P.a -- K.no-1", "P.a -- K.no-1 -- K.common-2"),
        ("  K.coil-b --", f"  K.{contact} -- Q1.red\n  K.coil-b --"),
    )
    found = line_voltage(text)
    assert [one.found.state.calls for one in found] == [frozenset({"heat"})] * times


@pytest.mark.parametrize(("near", "far", "stands"), [("C.a", "C.b", "closed"), ("S.line", "S.load", "open")])
def test_it_may_take_a_control_to_bring_it(near: str, far: str, stands: str) -> None:
    """A control that stands open at rest counts like a switch."""
    (found,) = line_voltage(with_hot(near, lines=f"  {far} -- Q1.white\n"))
    assert "TS.W" in [one.name for one in found.found.terminals]
    assert found.found.state.positions["C"] == stands


def test_two_meetings_are_two_mistakes() -> None:
    text = changed(
        with_hot("Q1.red"),
        ("  Q1.red -- T.secondary-r\n", ""),
        ("K.coil-b -- T.secondary-c", "K.coil-b -- X1.black"),
        ("cable Q1", "breaker LP.5 15 A\ncable X1 14/2 NM-B 11 ft from LP to A\ncable Q1"),
        ("  W1.black -- LP.3\n", "  W1.black -- LP.3\n  X1.black -- LP.5\n"),
    )
    assert [one.subject for one in line_voltage(text)] == ["K.coil-b", "TS.R"]


def test_what_is_earthed_is_not_at_line_voltage() -> None:
    """A switch across the line shorts it, and leads to a grounded common; that is another rule's matter."""
    text = changed(
        with_hot("S.line"),
        ("  W1.white -- P.b", "  W1.white -- S.load -- P.b"),
        ("  W1.bare -- T.ground\n", "  W1.bare -- T.ground -- T.secondary-c\n"),
        ("  K.coil-b -- T.secondary-c\n", ""),
    )
    assert not line_voltage(text)


def test_the_cable_on_that_screw_is_no_second_mistake() -> None:
    text = with_hot("K.coil-a")
    assert {type(one) for one in seen(RULE, text)} == {LineVoltage, OnPower}
    kept = [one for one in wirecheck.check(text).findings if one.rule == "class-2-supply"]
    assert [type(one.problem) for one in kept] == [LineVoltage]
