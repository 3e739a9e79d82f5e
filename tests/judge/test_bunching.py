"""What is counted as carrying current in a cable or a raceway."""

from __future__ import annotations

import pytest

from tests.rules.circuits import PANEL, bunched, outlet
from tests.rules.hands import STAIR, case, changed
from wirecheck import check
from wirecheck.judge.bunching import carrying_together

MULTIWIRE = f"""board "Multiwire in a raceway"
{PANEL}breaker LP.1 20 A 2-pole
box B junction 42 cu in
raceway R1 EMT 1/2 in 30 ft from LP to B
wire A1 12 THHN black 30 ft from LP to B in R1
wire A2 12 THHN red 30 ft from LP to B in R1
wire N 12 THHN white 30 ft from LP to B in R1
wire G 12 THHN green 30 ft from LP to B in R1
L1 is lampholder 60 W in B
L2 is lampholder 60 W in B
at LP
  A1 -- LP.1.a
  A2 -- LP.1.b
  N -- LP.neutral
  G -- LP.ground
at B
  A1 -- L1.hot
  A2 -- L2.hot
  N -- pigtail -- L1.neutral
  N -- pigtail -- L2.neutral
  G -- pigtail -- L1.ground
  G -- pigtail -- L2.ground
"""
THIRD = (
    ("breaker LP.1 20 A 2-pole", "breaker LP.1 20 A 3-pole"),
    ("wire N ", "wire A3 12 THHN blue 30 ft from LP to B in R1\nwire N "),
    ("L2 is", "L3 is lampholder 60 W in B\nL2 is"),
    ("  A2 -- LP.1.b\n", "  A2 -- LP.1.b\n  A3 -- LP.1.c\n"),
    ("  A2 -- L2.hot\n", "  A2 -- L2.hot\n  A3 -- L3.hot\n"),
    ("  N -- pigtail -- L2.neutral\n", "  N -- pigtail -- L2.neutral\n  N -- pigtail -- L3.neutral\n"),
)
CALLED = f"""board "A heater that a thermostat calls"
{PANEL}breaker LP.1 15 A
breaker LP.2 15 A
T1 is class-2-transformer 40 VA
K is relay-spst
TS is heat-only-thermostat
H1 is lampholder 60 W
cable P 14/2 NM-B 6 ft from LP to T1
cable Q 14/2 NM-B 6 ft from LP to K
cable W 14/2 NM-B 6 ft from K to H1
cable A 18/2 CL2 6 ft from T1 to TS
cable B 18/2 CL2 6 ft from TS to K
cable C 18/2 CL2 6 ft from K to T1
at LP
  P.black -- LP.1
  P.white -- LP.neutral
  P.bare -- LP.ground
  Q.black -- LP.2
  Q.white -- LP.neutral
  Q.bare -- LP.ground
at T1
  P.black -- T1.primary-hot
  P.white -- T1.primary-neutral
  P.bare -- T1.ground
  A.red -- T1.secondary-r
  C.white -- T1.secondary-c
at TS
  A.red -- TS.R
  B.red -- TS.W
at K
  B.red -- K.coil-a
  C.white -- K.coil-b
  Q.black -- K.common
  W.black -- K.no
  Q.white -- W.white
  Q.bare -- W.bare
at H1
  W.black -- H1.hot
  W.white -- H1.neutral
  W.bare -- H1.ground
"""


@pytest.mark.parametrize("circuits", [1, 2, 5])
def test_the_wires_of_all_circuits_in_a_raceway_count(circuits: int) -> None:
    together = carrying_together(case(bunched(circuits)))
    assert together["H1"] == together["N1"] == 2 * circuits


def test_the_neutral_of_a_multiwire_circuit_and_the_ground_are_not_counted() -> None:
    together = carrying_together(case(MULTIWIRE))
    assert together["A1"] == together["N"] == together["G"] == 2


def test_with_two_of_three_legs_the_neutral_counts() -> None:
    # 310.15(E)(2): it carries as much as the hots do.
    assert carrying_together(case(changed(MULTIWIRE, ("120/240 V", "208Y/120 V"))))["A1"] == 3


def test_with_all_three_legs_it_does_not() -> None:
    # 310.15(E)(1)
    assert carrying_together(case(changed(MULTIWIRE, ("120/240 V", "208Y/120 V"), *THIRD)))["A1"] == 3


def test_with_a_single_leg_there_is_no_unbalance() -> None:
    assert carrying_together(case(changed(STAIR, ("120/240 V", "120 V"))))["W1.black"] == 2


def test_each_cable_is_a_bunch_of_its_own() -> None:
    together = carrying_together(case(STAIR))
    assert (together["W1.black"], together["W3.black"]) == (2, 2)


@pytest.mark.parametrize(("power", "count"), [("60 W", 2), ("0.126 W", 2), ("0.114 W", 3)])
def test_of_two_travelers_one_is_counted_where_they_carry_anything(power: str, count: int) -> None:
    # 0.126 W at 120 V is 1.05 mA, 0.114 W 0.95 mA.
    text = changed(STAIR, ("lampholder 60 W", f"lampholder {power}"))
    assert carrying_together(case(text))["W2.black"] == count


def test_wires_that_wait_for_a_plug_count() -> None:
    assert carrying_together(case(outlet("duplex-receptacle 15 A", "15 A")))["W1.black"] == 2


def test_wires_that_carry_in_a_call_alone_count() -> None:
    board = case(CALLED)
    assert not board.heaviest.load_amps(board.circuit.load["H1"])
    assert carrying_together(board)["W.black"] == 2


def test_class_2_wires_are_not_counted() -> None:
    assert carrying_together(case(CALLED))["A.red"] == 0


SPARE = "wire X 12 THHN blue 30 ft from LP to B in R1\n"


@pytest.mark.parametrize(
    ("line", "count"),
    [
        ("", 4),
        (SPARE, 5),
        # A neutral that nothing uses is a spare too, a ground never is.
        (SPARE.replace("blue", "white"), 5),
        (SPARE.replace("blue", "green"), 4),
        (SPARE.replace("wire X 12 THHN blue", "cable X 18/2 CL2"), 4),
        (SPARE.replace(" in R1", ""), 4),
    ],
)
def test_spares_count(line: str, count: int) -> None:
    # Table 310.15(C)(1), note: the conductors in the raceway, spares and all.
    text = changed(bunched(2), ("wire H1", f"{line}wire H1"))
    assert carrying_together(case(text))["H1"] == count


@pytest.mark.parametrize(
    ("joined", "count"), [("  X -- LP.neutral\n", 5), ("  X -- LP.ground\n", 4), ("  X -- LP.1\n", 5)]
)
def test_a_spare_may_be_joined_at_one_end(joined: str, count: int) -> None:
    text = changed(bunched(2), ("wire H1", f"{SPARE}wire H1"), ("at LP\n", f"at LP\n{joined}"))
    assert carrying_together(case(text))["H1"] == count


def test_a_wire_of_a_24_volt_circuit_is_no_spare() -> None:
    assert carrying_together(case(CALLED))["C.white"] == 0
    text = changed(
        CALLED,
        ("cable C 18/2 CL2 6 ft from K to T1", "wire C 14 THHN blue 6 ft from K to T1"),
        ("  C.white -- T1.secondary-c", "  C -- T1.secondary-c"),
        ("  C.white -- K.coil-b", "  C -- K.coil-b"),
    )
    assert carrying_together(case(text))["C"] == 0


@pytest.mark.parametrize(("inches", "count"), [(24, 1), (24.1, 4)])
def test_a_short_raceway_bunches_nothing(inches: float, count: int) -> None:
    # 310.15(C)(1)(b)
    text = changed(bunched(2), ("raceway R1 EMT 1 in 30 ft", f"raceway R1 EMT 1 in {inches} in"))
    assert carrying_together(case(text))["H1"] == count


BUNDLED = f"""board "Three heaters"
{PANEL}breaker LP.1 15 A
breaker LP.3 15 A
breaker LP.5 15 A
""" + "".join(
    f"""H{n} is baseboard-heater 1200 W 120 V
cable W{n} 14/2 NM-B 30 ft from LP to H{n}
at LP
  W{n}.black -- LP.{2 * n - 1}
  W{n}.white -- LP.neutral
  W{n}.bare -- LP.ground
at H{n}
  W{n}.black -- H{n}.L1
  W{n}.white -- H{n}.L2
  W{n}.bare -- H{n}.ground
"""
    for n in (1, 2, 3)
)


@pytest.mark.parametrize(
    ("lines", "counted"),
    [
        # 310.15(C)(1): cables that lie together for more than 24 in; 334.80 says it of NM in one hole.
        ("", (2, 2, 2)),
        ("bundle W1, W2, W3 24 in\n", (2, 2, 2)),
        ("bundle W1, W2, W3 25 in\n", (6, 6, 6)),
        ("bundle W1, W3 4 ft\n", (4, 2, 4)),
    ],
)
def test_cables_in_a_bundle_warm_each_other(lines: str, counted: tuple[int, ...]) -> None:
    together = carrying_together(case(BUNDLED + lines))
    assert tuple(together[f"W{n}.black"] for n in (1, 2, 3)) == counted


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("bundle W1, W9 4 ft", "W9 is not on this board"),
        ("bundle W1, W2, W1 4 ft", "W1 is in a bundle already"),
        ("bundle W1 4 ft", "expected"),
    ],
)
def test_a_bundle_that_cannot_be_is_told(line: str, words: str) -> None:
    told = [one.message for one in check(f"{BUNDLED}{line}\n").findings]
    assert any(words in message for message in told), told
