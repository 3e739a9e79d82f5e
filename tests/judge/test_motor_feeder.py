"""What a feeder for motors may have, against public worked examples of Article 430."""

from __future__ import annotations

import pytest

from tests.rules.hands import case, changed, seen
from tests.rules.motors import group
from wirecheck.judge.demand import demands
from wirecheck.judge.motor_feeder import MotorFeeder, motor_feeders
from wirecheck.rules import ampacity, overcurrent_protection
from wirecheck.rules.overcurrent_protection import TooLarge

# 25, 20 and 10 hp at 460 V, each behind the largest breaker of Table 430.52: 34, 27 and 14 A x 2.5.
THREE = {
    "M1": ("three-phase-motor 25 hp with current 32 A, voltage 480 V", 90),
    "M2": ("three-phase-motor 20 hp with current 25 A, voltage 480 V", 70),
    "M3": ("three-phase-motor 10 hp with current 13 A, voltage 480 V", 35),
}


def fused(text: str) -> str:
    """The same from three fuses of 100 A in a disconnect, behind a breaker."""
    more = ["D is fused-disconnect-3-pole 100 A with fuse 100 A"]
    more += [f"wire L{leg} 1 THWN-2 black 5 ft from LP to D" for leg in "abc"]
    joins = [
        f"  L{leg} -- D.line-{number}\n  F{leg} -- D.load-{number}" for number, leg in enumerate("abc", 1)
    ]
    for leg in "abc":
        text = text.replace(f"  F{leg} -- LP.2.{leg}\n", f"  L{leg} -- LP.2.{leg}\n")
    text = text.replace("  FG -- LP.ground\n", "").replace(" from LP to SP", " from D to SP")
    return text.replace("at LP\n", "\n".join([*more, "at D", "  FG -- D.ground", *joins, "at LP"]) + "\n")


def feeder(text: str, name: str = "LP.2") -> MotorFeeder:
    return motor_feeders(case(text))[name]


def test_a_feeder_for_three_motors() -> None:
    """studylib.net, PEC 2017 Appendix D, Example D10: 83.5 A for its wires; 90 + 27 + 14 = 131, so 125 A."""
    text = group(THREE, 125, "3")
    told = feeder(text)
    assert (told.motor.name, told.first, told.others, told.most) == ("M1", 90, 41, 125)
    assert told.must == pytest.approx(83.5)
    assert demands(case(text))["Fa"].amps == pytest.approx(83.5, rel=0.002)
    # 4 AWG has 85 A at 75 C.
    assert seen(overcurrent_protection.RULE, group(THREE, 125, "4")) == []
    assert seen(ampacity.RULE, group(THREE, 125, "4")) == []


@pytest.mark.slow
def test_the_next_standard_rating_above_is_too_large() -> None:
    (one,) = seen(overcurrent_protection.RULE, group(THREE, 150, "4"))
    assert isinstance(one, TooLarge)
    assert (one.worst.limit.amps, one.worst.limit.by, one.size) == (125, "motor feeder", "1")


@pytest.mark.slow
def test_wires_that_cannot_carry_the_motors_may_have_no_more_than_any_other() -> None:
    (one,) = seen(overcurrent_protection.RULE, group(THREE, 125, "6"))
    assert isinstance(one, TooLarge)
    assert (one.worst.limit.amps, one.worst.limit.by) == (70, "next size up")


def test_a_feeder_behind_fuses() -> None:
    """The same example: time-delay fuses of 60 A + 27 + 14 = 101, so 100 A."""
    told = motor_feeders(case(fused(group(THREE, 125, "3"))))
    assert {one.most for name, one in told.items() if name.startswith("D.")} == {100}


def test_a_feeder_with_motors_of_40_5_and_10_hp() -> None:
    """electriciantalk.com, "Am I sizing these Motor OCPD's right?": 65 + 7.6 + 14 = 86.6 A, 3 AWG.

    By the same tables for a breaker: 52 A x 2.5 = 130, so 150 A; with 21.6 A 171.6, so 150 A.
    """
    motors = {
        "M1": ("three-phase-motor 40 hp with current 50 A, voltage 480 V", 150),
        "M2": ("three-phase-motor 5 hp with current 7 A, voltage 480 V", 20),
        "M3": ("three-phase-motor 10 hp with current 13 A, voltage 480 V", 35),
    }
    told = feeder(group(motors, 150, "3"))
    assert (told.first, told.others, told.most) == (150, pytest.approx(21.6), 150)
    assert told.must == pytest.approx(86.6)


TWO = """board "Two motors of one horsepower on one leg"
panel LP 120/240 V, 10 kA available
breaker LP.2 50 A 2-pole
subpanel SP 120/240 V
breaker SP.1 40 A
breaker SP.5 40 A
M1 is capacitor-start-motor 1 hp with current 14 A
M2 is capacitor-start-motor 1 hp with current 14 A
cable FD 8/3 NM-B 30 ft from LP to SP
cable W1 12/2 NM-B 20 ft from SP to M1
cable W2 12/2 NM-B 20 ft from SP to M2
at LP
  FD.black -- LP.2.a
  FD.red -- LP.2.b
  FD.white -- LP.neutral
  FD.bare -- LP.ground
at SP
  FD.black -- SP.a
  FD.red -- SP.b
  FD.white -- SP.neutral
  FD.bare -- SP.ground
  W1.black -- SP.1
  W2.black -- SP.5
  W1.white -- SP.neutral
  W2.white -- SP.neutral
  W1.bare -- SP.ground
  W2.bare -- SP.ground
at M1
  W1.black -- M1.L1
  W1.white -- M1.L2
  W1.bare -- M1.ground
at M2
  W2.black -- M2.L1
  W2.white -- M2.L2
  W2.bare -- M2.ground
"""


def test_two_motors_on_one_leg() -> None:
    """forums.mikeholt.com, "motor feeder calculation": 16 x 1.25 + 16 = 36 A, 8 AWG; 40 + 16 = 56: 50 A."""
    told = feeder(TWO)
    assert (told.first, told.others, told.most, told.must) == (40, 16, 50, 36)
    assert seen(overcurrent_protection.RULE, TWO) == []
    assert len(seen(overcurrent_protection.RULE, changed(TWO, ("LP.2 50 A", "LP.2 60 A")))) == 1


@pytest.mark.slow
def test_motors_on_two_legs_are_counted_by_leg() -> None:
    told = feeder(changed(TWO, ("breaker SP.5", "breaker SP.3"), ("W2.black -- SP.5", "W2.black -- SP.3")))
    assert (told.first, told.others, told.most, told.must) == (40, 0, 40, 20)


@pytest.mark.slow
def test_a_feeder_for_what_is_plugged_in_too_goes_by_its_wire() -> None:
    """430.62(A) is of fixed loads: nothing but the breaker keeps the feeder from what cords draw."""
    text = changed(
        TWO,
        ("breaker SP.5 40 A\n", "breaker SP.5 40 A\nbreaker SP.3 15 A\nR is duplex-receptacle 15 A\n"),
        ("cable W2", "cable W3 14/2 NM-B 20 ft from SP to R\ncable W2"),
        ("at M1\n", "  W3.black -- SP.3\n  W3.white -- SP.neutral\n  W3.bare -- SP.ground\nat R\n"
         "  W3.black -- R.hot\n  W3.white -- R.neutral\n  W3.bare -- R.ground\nat M1\n"),
    )  # fmt: skip
    assert not motor_feeders(case(text))
    assert len(seen(overcurrent_protection.RULE, text)) == 1


def test_one_motors_own_circuit_is_no_feeder() -> None:
    assert "SP.1" not in motor_feeders(case(TWO))
