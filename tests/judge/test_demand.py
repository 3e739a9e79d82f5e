"""What conductors must be able to carry, by hand: NEC 210.19(A)(1), 430.22, 440.4(B)."""

from __future__ import annotations

import pytest

from tests.rules.circuits import MOTOR, MULTIWIRE, one_load, outdoor_unit, outlet, two_loads, valves
from tests.rules.hands import COOLING, STAIR, case
from wirecheck import files
from wirecheck.judge.demand import Demand, demands

PUMP = """\
part pump "A pump that runs for hours"
terminal a hot
terminal b neutral
load motor motor from a to b, 8 A at 120 V, continuous
"""


def demand(text: str, name: str = "W1.black") -> Demand:
    return demands(case(text))[name]


def test_a_lamp_counts_as_it_is_rated() -> None:
    one = demand(STAIR)
    assert one.amps == one.rated == pytest.approx(0.5)
    assert (one.continuous, one.motor, one.motor_amps, one.plates) == (0, None, 0, ())


def test_a_continuous_load_counts_a_quarter_more() -> None:
    # 1200 W at 120 V is 10 A, though the wire's own drop leaves it a little less.
    one = demand(one_load("14/2 NM-B 100 ft"))
    assert one.flows < 9.8
    assert one.rated == one.continuous == one.lasting == pytest.approx(10)
    assert one.amps == pytest.approx(12.5)


def test_a_start_winding_and_its_capacitor_are_in_the_rated_load() -> None:
    """NEC 440.32: 125 % of the rated load, and the 0.17 A of the crankcase heater with its quarter more."""
    board = files.folder("boards") / "capacitor-compressor" / "right.wire"
    one = demand(board.read_text(encoding="utf-8"))
    assert one.flows > 17
    assert one.rated == pytest.approx(13.6 + 40 / 240, abs=0.02)
    assert one.amps == pytest.approx(1.25 * one.rated, abs=0.02)


def test_the_largest_motor_counts_a_quarter_more_and_the_others_do_not() -> None:
    text = two_loads("heater 480 W 120 V", "heater 480 W 120 V")
    text = text.replace("H1 is heater 480 W 120 V", "H1 is motor with current 6 A, voltage 120 V")
    text = text.replace("H2 is heater 480 W 120 V", "H2 is motor with current 4 A, voltage 120 V")
    text = text.replace("H1.L1", "H1.a").replace("H1.L2", "H1.b").replace("-- H1.ground", "-- W2.bare")
    text = text.replace("H2.L1", "H2.a").replace("H2.L2", "H2.b")
    text = text.replace("W2.bare -- H2.ground", "cap W2.bare")
    text = text.replace("W1.bare -- W2.bare -- pigtail -- W2.bare", "W1.bare -- W2.bare")
    one = demand(text)
    assert one.motor is not None
    assert (one.motor.name, one.continuous) == ("H1", 0)
    assert one.motor_amps == pytest.approx(6)
    assert one.rated == pytest.approx(10)
    assert one.amps == one.lasting == pytest.approx(11.5)
    assert demand(text, "W2.black").amps == pytest.approx(5)


def test_what_starves_counts_as_what_flows() -> None:
    # 960 W at 240 V is 4 A; on 120 V it draws 2 A, half of that, and on a little less than half.
    one = demand(one_load(part="baseboard-heater 960 W 240 V"))
    assert one.rated == pytest.approx(one.flows)
    assert one.flows < 2


def test_a_nameplate_counts_what_it_asks_for() -> None:
    one = demand(outdoor_unit(30, mca=18.2), "PC.black")
    (plate,) = one.plates
    assert (plate.equipment.name, plate.amps, one.amps, one.rated) == ("CU", 18.2, 18.2, 0)


def test_other_loads_count_beside_the_nameplate() -> None:
    text = outdoor_unit(30).replace(
        "at CU\n", "H1 is heater 960 W 240 V in CU\nat CU\n  CU.L1 -- H1.a\n  CU.L2 -- H1.b\n"
    )
    one = demand(text, "PC.black")
    assert one.rated == pytest.approx(4)
    assert one.amps == pytest.approx(18.2 + 5)


def test_the_wires_on_the_low_side_of_equipment_do_not_carry_its_nameplate() -> None:
    text = outdoor_unit(30) + "cable OW 18/2 CL2 9 ft from T1 to CU\nT1 is class-2-transformer\n"
    text += "at T1\n  OW.red -- T1.secondary-r\n  OW.white -- T1.secondary-c\n"
    text += "at CU\n  OW.red -- CU.Y\n  OW.white -- CU.C\n"
    told = demands(case(text))
    assert told["PC.black"].plates and "OW.red" not in told


def test_the_unbalance_of_two_legs_is_what_their_neutral_must_carry() -> None:
    one = demand(MULTIWIRE.replace("H2 is baseboard-heater 1200", "H2 is baseboard-heater 960"), "W1.white")
    # 10 A and 8 A, continuous, against each other: 2 A, and a quarter more.
    assert one.amps == pytest.approx(2.5, rel=1e-3)


def test_a_transformers_primary_counts_as_it_draws() -> None:
    one = demand(valves("class-2-transformer 40 VA", 20, 20))
    assert one.rated == pytest.approx(one.flows)
    assert one.amps == pytest.approx(one.flows)


def test_current_that_takes_two_ways_belongs_to_no_load() -> None:
    for name in ("W1.black", "W2.black"):
        one = demand(beside(20, 1200), name)
        assert one.rated is None
        assert one.amps == one.flows == pytest.approx(5, rel=0.02)


def test_a_circuit_without_a_load_has_no_demand() -> None:
    told = demands(case(outlet("duplex-receptacle 15 A", "15 A")))
    assert all(one.amps == pytest.approx(0, abs=1e-9) for one in told.values())


def test_a_continuous_motor_counts_once() -> None:
    told = demands(case(one_load(part="pump", screws=MOTOR), pump=PUMP))["W1.black"]
    assert told.motor is None
    assert told.amps == pytest.approx(10)


def beside(feet: int, watts: float) -> str:
    """A heater on 20 ft of cable, and a second cable beside it that is longer."""
    text = one_load(part=f"baseboard-heater {watts} W 120 V")
    text = text.replace("cable W1", f"cable W2 14/2 NM-B {feet} ft from LP to B\ncable W1")
    text = text.replace("  W1.black -- LP.3\n", "  W1.black -- W2.black -- pigtail -- LP.3\n")
    text = text.replace(
        "  W1.black -- H1.L1\n", "  W1.black -- W2.black -- pigtail -- H1.L1\n  cap W2.bare\n"
    )
    return text.replace("at B\n", "at LP\n  cap W2.white\n  cap W2.bare\nat B\n  cap W2.white\n")


@pytest.mark.parametrize(
    ("feet", "watts", "apart"),
    # A cable L feet long takes 20 / L of what the other carries: 5.3 % is too much, 5 % and 10 mA are not.
    # Of a tenth of an ampere the 10 mA count: 16.8 % is too much, 16.4 % is not.
    [(377, 1200, True), (400, 1200, False), (119, 12, True), (122, 12, False)],
)
def test_a_little_that_goes_another_way_is_still_the_loads(feet: int, watts: float, apart: bool) -> None:
    one = demand(beside(feet, watts))
    assert (one.rated is None) is apart


def test_equipment_is_found_behind_other_loads() -> None:
    text = outdoor_unit(30).replace("CU is", "H1 is heater 960 W 240 V in CU\nCU is")
    told = demand(text.replace("at CU\n", "at CU\n  CU.L1 -- H1.a\n  CU.L2 -- H1.b\n"), "PC.black")
    assert [plate.equipment.name for plate in told.plates] == ["CU"]
    assert told.amps == pytest.approx(18.2 + 5)


def test_what_a_nameplate_counts_is_not_counted_by_its_loads_as_well() -> None:
    one = demand(COOLING, "K1")
    assert one.flows > 10
    assert (one.amps, one.rated) == (18.2, 0)
