"""Equipment fastened in place beside lights and receptacles; NEC 2023 210.23(B)(2)."""

from __future__ import annotations

import pytest

from tests.rules.hands import CHAIN, COOLING, LIGHT, at, changed, said, seen
from wirecheck import files
from wirecheck.rules.fastened_equipment import RULE

BOARDS = files.folder("boards") / "rules" / "fastened-equipment"
RIGHT = (BOARDS / "right.wire").read_text(encoding="utf-8")
WRONG = (BOARDS / "wrong.wire").read_text(encoding="utf-8")

HEATER = """\
board "A heater past a receptacle"
panel LP 120/240 V, 10 kA available
breaker LP.3 {breaker}
box A junction 42 cu in
box B junction 42 cu in
cable W1 12/2 NM-B 12 ft from LP to A
cable W2 12/2 NM-B 6 ft from A to B
{beside} in A
H1 is baseboard-heater {heater} 120 V in B
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at A
  W1.black -- W2.black -- pigtail -- X.hot
  W1.white -- W2.white -- pigtail -- X.neutral
  W1.bare -- W2.bare -- pigtail -- X.ground
at B
  W2.black -- H1.L1
  W2.white -- H1.L2
  W2.bare -- H1.ground
"""
RECEPTACLE = "X is duplex-receptacle 15 A"


@pytest.mark.parametrize("text", [RIGHT, CHAIN, COOLING, LIGHT])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_an_ice_machine_beside_a_receptacle() -> None:
    """7.2 A + 1 A + 0.6 A that run at once, of 15 A."""
    (found,) = seen(RULE, WRONG)
    assert (found.severity, found.stage, found.subject) == ("violation", "trim", "IM")
    assert (found.guard.name, found.beside.device) == ("LP.9", "R1")
    assert found.total == pytest.approx(8.8)
    assert found.limit == 7.5
    assert at(WRONG, found).startswith("IM is")
    assert found.copper
    (words,) = said(RULE, WRONG)
    assert (words.value, words.limit, words.unit) == (8.8, 7.5, "A")


@pytest.mark.parametrize(
    ("breaker", "heater", "times"),
    [
        ("15 A", "900 W", 0),
        ("15 A", "901 W", 1),
        ("20 A", "1200 W", 0),
        ("20 A", "1201 W", 1),
        # The code says it of circuits of 15 A and 20 A.
        ("25 A", "1800 W", 0),
        ("10 A", "1000 W", 0),
    ],
)
def test_half_of_a_circuit_is_the_limit(breaker: str, heater: str, times: int) -> None:
    text = HEATER.format(breaker=breaker, heater=heater, beside=RECEPTACLE)
    assert len(seen(RULE, text)) == times


@pytest.mark.parametrize(
    ("beside", "times"),
    [("X is lampholder 60 W", 1), ("X is bath-fan", 0), ("X is smoke-alarm", 0)],
)
def test_lights_count_as_receptacles_do(beside: str, times: int) -> None:
    text = HEATER.format(breaker="20 A", heater="1300 W", beside=beside)
    if "alarm" in beside:
        text = text.replace("-- pigtail -- X.ground", "")
    assert len(seen(RULE, text)) == times


def test_what_is_fastened_in_place_counts_together() -> None:
    """A fan of 0.5 A and a transformer of 40 VA beside 9.5 A."""
    text = HEATER.format(breaker="20 A", heater="1140 W", beside=RECEPTACLE)
    assert not seen(RULE, text)
    text = changed(
        text,
        ("H1 is", "T is class-2-transformer in A\nH1 is"),
        ("pigtail -- X.hot", "T.primary-hot -- pigtail -- X.hot"),
        ("pigtail -- X.neutral", "T.primary-neutral -- pigtail -- X.neutral"),
    )
    assert not seen(RULE, text)
    (found,) = seen(RULE, text.replace("class-2-transformer", "class-2-transformer 75 VA"))
    assert found.total == pytest.approx(9.5 + 75 / 120)
    assert found.subject == "H1"
    assert {one.device.name for one in found.fastened} == {"H1", "T"}


def test_lights_do_not_count_as_equipment() -> None:
    text = HEATER.format(breaker="15 A", heater="300 W", beside="X is lampholder 1300 W")
    assert not seen(RULE, text)


def test_each_leg_of_a_multiwire_circuit_is_a_circuit() -> None:
    text = changed(
        HEATER.format(breaker="15 A 2-pole", heater="1500 W", beside=RECEPTACLE),
        ("cable W1 12/2", "cable W1 12/3"),
        ("  W1.black -- LP.3\n", "  W1.black -- LP.3.a\n  W1.red -- LP.3.b\n"),
        ("W1.black -- W2.black -- pigtail -- X.hot", "W1.red -- W2.black\n  W1.black -- X.hot"),
    )
    assert not seen(RULE, text)
    text = changed(
        text, ("W1.red -- W2.black\n  W1.black -- X.hot", "W1.red -- W2.black -- X.hot\n  cap W1.black")
    )
    (found,) = seen(RULE, text)
    assert found.guard.name == "LP.3"


def test_central_heating_goes_by_its_own_rule() -> None:
    """422.12: what belongs to it may share its circuit."""
    text = (files.folder("boards") / "rules" / "heating-circuit" / "wrong.wire").read_text(encoding="utf-8")
    assert not seen(RULE, text)
