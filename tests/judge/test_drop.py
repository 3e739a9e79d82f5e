"""What is lost on the way, against Chapter 9 Table 8 by hand and the handbook's form."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.rules.circuits import LAMP, MOTOR, MULTIWIRE, PANEL, one_load, outlet, two_loads, valves
from tests.rules.hands import LIGHT, case, changed
from wirecheck.circuit.routes import Origin
from wirecheck.judge.case import Case
from wirecheck.judge.drop import Drop, drops, exceeds, nominal_volts, outlet_drop, size_that_does, warmed
from wirecheck.judge.guards import guarded
from wirecheck.tables.ampacity import conductor_ampacity
from wirecheck.tables.code import LATEST
from wirecheck.tables.sizes import CIRCULAR_MIL, area


def drop_of(text: str, name: str = "H1.element") -> Drop:
    return drops(case(text))[name]


# Chapter 9 Table 8: 3.07 ohm/kft for 14 AWG at 75 C; its note 2: a = 0.00323.
def ohms_per_foot(celsius: float) -> float:
    return 3.07 / 1000 * (1 + 0.00323 * (celsius - 75))


@settings(max_examples=25, deadline=None)
@given(size=st.sampled_from(["14", "12", "10"]), length=st.integers(120, 400), watts=st.integers(500, 1300))
def test_the_drop_agrees_with_the_handbook_form(size: str, length: int, watts: int) -> None:
    # Common practice: drop = 2 x K x I x L / CM, K = 12.9 ohm circular mils per foot for copper at 75 C.
    # K rounds Table 8 up (3.07 ohm/kft x 4110 CM = 12.6), hence the few per cent.
    one = drop_of(
        one_load(f"{size}/2 NM-B {length} ft", f"baseboard-heater {watts} W 120 V", "20 A", ambient=75)
    )
    mils = area(size) / CIRCULAR_MIL
    flows = (watts / 120) / (1 + 2 * 12.6 * length / mils / (120**2 / watts))
    assert one.lost == pytest.approx(2 * 12.9 * flows * length / mils, rel=0.05)


def test_the_drop_is_that_of_table_8_at_the_wires_own_temperature() -> None:
    one = drop_of(one_load("14/2 NM-B 150 ft", ambient=30))
    wire = 2 * 150 * ohms_per_foot(30 + 60 * (9.36 / 25) ** 2)
    assert one.share == pytest.approx(wire / (wire + 120**2 / 1200), rel=0.01)
    assert (one.nominal, one.on_branch, one.other_hot, one.circuit) == (120, True, False, "LP.3")
    assert one.out == pytest.approx(one.back, rel=0.01)
    assert one.flows == pytest.approx(9.36, rel=0.01)
    assert one.present == pytest.approx(120 - one.lost, abs=0.2)
    assert [(fall.conductor.name, fall.outward) for fall in one.falls] == [
        ("W1.black", True),
        ("W1.white", False),
    ]
    assert sum(fall.volts for fall in one.falls) == pytest.approx(one.lost, rel=0.02)


@given(st.floats(0, 60))
def test_a_wire_at_its_table_current_stands_at_its_rating(flows: float) -> None:
    steps = conductor_ampacity("THHN", "10", terminal_c=None, code=LATEST)
    assert warmed(steps, 30, steps.table) == pytest.approx(90)
    assert 30 <= warmed(steps, 30, flows) <= 90
    # Table 310.16 itself: 30 A takes 10 AWG in 60 C insulation from 30 to 60 C, 40 A takes it to 90 C.
    assert warmed(steps, 30, 30) == pytest.approx(60, abs=5)


def test_bunched_with_others_a_wire_warms_with_less() -> None:
    alone, many = (conductor_ampacity("THHN", "12", current_carrying=count, code=LATEST) for count in (3, 9))
    assert warmed(alone, 30, 21) == pytest.approx(30 + 60 * (21 / 30) ** 2)
    assert warmed(many, 30, 21) == pytest.approx(90)


def test_surroundings_hotter_than_the_insulation_are_its_temperature() -> None:
    assert warmed(conductor_ampacity("THHN", "12", code=LATEST), 95, 0) == 95


def test_balanced_loads_lose_nothing_in_a_shared_neutral() -> None:
    alone, shared = drop_of(one_load("14/2 NM-B 150 ft")), drop_of(MULTIWIRE)
    assert shared.share == pytest.approx(alone.share / 2, rel=0.05)
    assert shared.back == pytest.approx(0, abs=1e-6)


def test_another_circuits_current_can_help_on_the_way_back() -> None:
    text = changed(MULTIWIRE, ("H1 is baseboard-heater 1200", "H1 is baseboard-heater 600"))
    assert drop_of(text).back < -1
    assert drop_of(text, "H2.element").back > 1


def test_between_two_hots_the_way_back_is_a_hot() -> None:
    text = f"""board "A heater on 240 V"
{PANEL}breaker LP.2 20 A 2-pole
BH is baseboard-heater 1500 W 240 V
cable W1 12/2 NM-B 90 ft from LP to BH
at LP
  W1.black -- LP.2.a
  W1.white marked black -- LP.2.b
  W1.bare -- LP.ground
at BH
  W1.black -- BH.L1
  W1.white marked black -- BH.L2
  W1.bare -- BH.ground
"""
    one = drop_of(text, "BH.element")
    assert (one.nominal, one.other_hot, one.circuit) == (240, True, "LP.2")
    assert one.out == pytest.approx(one.back, rel=0.02)
    assert one.lost == pytest.approx(sum(fall.volts for fall in one.falls), rel=0.02)


def test_hot_and_neutral_swapped_lose_the_same() -> None:
    swapped = one_load("14/2 NM-B 150 ft", screws=("L2", "L1"))
    one, other = drop_of(one_load("14/2 NM-B 150 ft")), drop_of(swapped)
    assert other.share == pytest.approx(one.share)
    assert [(fall.conductor.name, fall.outward) for fall in other.falls] == [
        ("W1.black", True),
        ("W1.white", False),
    ]


def test_a_load_is_judged_where_it_has_the_least() -> None:
    # The light has its volts only while the switch is on.
    assert drop_of(LIGHT, "L1").flows == pytest.approx(0.5, rel=0.01)


def test_coils_are_not_judged_and_other_loads_of_a_transformer_are() -> None:
    text = valves("class-2-transformer 40 VA", 10, feet=300)
    assert drops(case(text)) == {}
    lamp = text.replace("V0 is solenoid-valve with capacity 10 VA", "V0 is heater 10 W 24 V")
    one = drop_of(lamp, "V0")
    assert (one.nominal, one.on_branch, one.guard, one.circuit) == (24, False, None, "V0")
    # Chapter 9 Table 8: 18 AWG solid, 7.77 ohm/kft at 75 C; out and back.
    assert one.lost == pytest.approx(one.flows * 600 * 7.77 / 1000 * (1 - 0.00323 * 43), rel=0.05)


def test_a_load_that_nothing_feeds_has_no_drop() -> None:
    assert drops(case(one_load().replace("  W1.white -- LP.neutral\n", "  cap W1.white\n"))) == {}


def test_a_load_between_two_sources_has_none() -> None:
    text = one_load(part="lampholder 60 W", screws=LAMP).replace(
        "at LP", "T1 is class-2-transformer in B\nat LP"
    )
    text = text.replace(
        "W1.white -- H1.neutral", "H1.neutral -- T1.secondary-c\n  W1.white -- T1.secondary-r"
    )
    assert "H1" not in drops(case(text))


def test_the_steepest_conductor_loses_most() -> None:
    one = drop_of(two_loads("baseboard-heater 600 W 120 V", "baseboard-heater 600 W 120 V"), "H2.element")
    assert one.steepest is not None
    assert one.steepest.run == "W1"


@pytest.mark.parametrize(("share", "over"), [(0.03, False), (0.03004, False), (0.03006, True), (0.05, True)])
def test_over_a_limit_is_what_shows(share: float, over: bool) -> None:
    assert exceeds(share, 0.03) is over


# ------------------------------------------------------------------ outlets


def outlet_of(text: str) -> tuple[Case, Drop]:
    board = case(text)
    (guard,) = guarded(board)
    found = outlet_drop(board, guard, guard.outlets[0])
    assert found is not None
    return board, found


def test_an_outlet_is_judged_with_the_largest_plug_in_load() -> None:
    # Table 210.21(B)(2): 12 A on a 15 A circuit; Table 8, warmed to 30 + 60 x (12/25)^2 = 43.8 C.
    _, one = outlet_of(outlet("duplex-receptacle 15 A", "15 A", "14/2 NM-B 100 ft"))
    assert one.flows == 12
    assert one.lost == pytest.approx(12 * 2 * 100 * ohms_per_foot(43.8), rel=0.005)
    assert one.out == pytest.approx(one.back) == pytest.approx(one.lost / 2)
    assert one.present == pytest.approx(120 - one.lost)
    assert (one.nominal, one.other_hot, one.on_branch, one.circuit) == (120, False, True, "LP.3")


def test_where_no_plug_in_load_is_named_it_is_80_percent() -> None:
    _, one = outlet_of(outlet("single-receptacle 50 A", "50 A", "6/2 NM-B 20 ft"))
    assert one.flows == 40


@pytest.mark.parametrize(("rating", "circuit", "flows"), [(15, 20, 12), (20, 20, 16), (20, 30, 16)])
def test_a_receptacle_of_less_than_its_circuit_sets_its_largest_load(rating, circuit, flows) -> None:
    """NEC Table 210.21(B)(2): 12 A at a receptacle of 15 A, 16 A at one of 20 A."""
    _, one = outlet_of(outlet(f"duplex-receptacle {rating} A", f"{circuit} A", "12/2 NM-B 20 ft"))
    assert one.flows == flows


def test_hot_and_neutral_swapped_at_an_outlet_lose_the_same() -> None:
    text = outlet("duplex-receptacle 15 A", "15 A", "14/2 NM-B 100 ft")
    swapped = changed(
        text,
        ("W1.black -- R1.hot", "W1.black -- R1.neutral"),
        ("W1.white -- R1.neutral", "W1.white -- R1.hot"),
    )
    _, one = outlet_of(text)
    _, other = outlet_of(swapped)
    assert other.lost == pytest.approx(one.lost)
    assert [(fall.conductor.name, fall.outward) for fall in other.falls] == [
        ("W1.black", True),
        ("W1.white", False),
    ]


def test_an_outlet_without_a_hot_or_on_one_leg_twice_has_no_drop() -> None:
    text = outlet("duplex-receptacle 15 A", "15 A")
    for wrong in (
        text.replace("  W1.white -- LP.neutral\n", "  cap W1.white\n"),
        text.replace("  W1.white -- R1.neutral\n", "  cap W1.white\n  R1.hot -- R1.neutral\n"),
    ):
        board = case(wrong)
        (guard,) = guarded(board)
        assert outlet_drop(board, guard, guard.outlets[0]) is None


def test_an_outlet_between_two_legs_loses_in_both_hots() -> None:
    text = outlet("duplex-receptacle 15 A", "15 A 2-pole", "14/2 NM-B 100 ft")
    text = changed(
        text, ("W1.black -- LP.3", "W1.black -- LP.3.a"), ("W1.white -- LP.neutral", "W1.white -- LP.3.b")
    )
    _, one = outlet_of(text)
    assert (one.nominal, one.other_hot) == (240, True)


# ------------------------------------------------------------------- sizes


def size_for(text: str, share: float, name: str = "H1.element") -> str | None:
    board = case(text)
    one = drops(board)[name]
    return size_that_does(board, one, share * one.nominal)


def test_the_size_that_would_do_does_and_the_next_smaller_does_not() -> None:
    text = one_load("14/2 NM-B 150 ft")
    size = size_for(text, 0.03)
    assert size == "10"
    assert drop_of(text.replace("W1 14/2", "W1 10/2")).share < 0.03
    assert drop_of(text.replace("W1 14/2", "W1 12/2")).share > 0.03


def test_a_size_that_its_breaker_does_not_allow_is_passed_over() -> None:
    # 12 AWG loses little enough, and behind a 30 A breaker it must be 10 AWG.
    text = one_load("14/2 NM-B 100 ft", "baseboard-heater 1200 W 120 V", "30 A")
    assert size_for(text, 0.032) == "10"
    assert size_for(text.replace("LP.3 30 A", "LP.3 20 A"), 0.032) == "12"


def test_a_branch_circuit_has_14_gauge_at_least_and_a_transformers_wires_need_not() -> None:
    text = one_load("18/2 NM-B 20 ft", "baseboard-heater 600 W 120 V")
    assert size_for(text, 0.05) == "14"
    low = valves("class-2-transformer 40 VA", 10, feet=100).replace("18/2 CL2", "22/2 CL2")
    low = low.replace("V0 is solenoid-valve with capacity 10 VA", "V0 is heater 10 W 24 V")
    assert size_for(low, 0.05, "V0") == "20"


def test_wire_that_is_thick_enough_by_itself_stays_as_it_is() -> None:
    # 12 AWG to the first box is enough; only the 14 AWG beyond it has to be thicker.
    text = two_loads("baseboard-heater 120 W 120 V", "baseboard-heater 1200 W 120 V", feet=60)
    text = text.replace("W1 14/2", "W1 10/2")
    board = case(text)
    one = drops(board)["H2.element"]
    assert size_that_does(board, one, one.lost * 1.001) == "12"
    # With 12 AWG in W2 that loses 1.93/3.07 of what it does, and W1 what it did.
    parts = {run: sum(fall.volts for fall in one.falls if fall.conductor.run == run) for run in ("W1", "W2")}
    left = parts["W1"] + parts["W2"] * 1.93 / 3.07 + one.lost - sum(parts.values())
    # A heater then has more volts, and draws more by as much.
    left *= one.nominal / (one.present + left)
    assert size_that_does(board, one, left * 1.005) == "12"
    assert size_that_does(board, one, left * 0.995) == "10"


def test_where_no_wire_would_do_there_is_no_size() -> None:
    assert size_for(one_load("14/2 NM-B 150 ft"), 0.0) is None
    board = case(one_load())
    one = drops(board)["H1.element"]
    short = one._replace(falls=())
    assert size_that_does(board, short, 1) is None
    assert (short.steepest, one.steepest is None) == (None, False)


def test_a_starved_load_draws_more_with_thicker_wire() -> None:
    # 6000 ft of 14 AWG leave it half of its volts; what would do is worked out at what it then draws.
    text = one_load("14/2 NM-B 6000 ft", "lampholder 500 W", screws=LAMP)
    board = case(text)
    one = drops(board)["H1"]
    assert one.present < 70
    assert size_that_does(board, one, one.nominal - 100) == "6"
    assert drop_of(text.replace("W1 14/2", "W1 6/2"), "H1").present >= 100
    assert drop_of(text.replace("W1 14/2", "W1 8/2"), "H1").present < 100


def test_a_motor_draws_what_it_is_rated_for_and_no_more() -> None:
    motor = one_load("14/2 NM-B 100 ft", "motor with voltage 120 V", screws=MOTOR)
    board = case(motor)
    one = drops(board)["H1"]
    # 7.2 A whatever its volts: 12 AWG loses 1.93/3.07 of what 14 AWG does, a little more for the panel's own.
    least = one.lost * 1.93 / 3.07
    assert size_that_does(board, one, least * 1.01) == "12"
    assert size_that_does(board, one, least * 0.99) == "10"


def test_what_its_breaker_opens_has_no_drop() -> None:
    assert drops(case(two_loads("baseboard-heater 1800 W 120 V", "baseboard-heater 1800 W 120 V"))) == {}


def test_the_size_for_an_outlet_is_that_for_its_plug_in_load() -> None:
    board, one = outlet_of(outlet("duplex-receptacle 15 A", "15 A", "14/2 NM-B 100 ft"))
    # 12 A whatever the wire: 12 AWG loses 1.93/3.07 of what 14 AWG does, a little less for staying cooler.
    assert size_that_does(board, one, one.lost * 0.64) == "12"
    assert size_that_does(board, one, one.lost * 0.62) == "10"


def test_a_size_of_no_table_is_not_offered() -> None:
    text = one_load("2.5 mm2/2 NM-B 150 ft").replace("2.5 mm2/2", "14/2")
    wires = text.replace(
        "cable W1 14/2 NM-B 150 ft from LP to B",
        "wire H 2.5 mm2 THHN black 150 ft from LP to B\nwire N 2.5 mm2 THHN white 150 ft from LP to B",
    )
    wires = (
        wires.replace("W1.black", "H")
        .replace("W1.white", "N")
        .replace("  W1.bare -- LP.ground\n", "")
        .replace("  cap W1.bare\n", "")
    )
    board = case(wires)
    one = drops(board)["H1.element"]
    assert size_that_does(board, one, one.lost / 2) is None


def test_two_sources_have_no_volts_between_them() -> None:
    told = case(one_load("12/2 NM-B 10 ft") + "T1 is class-2-transformer\nT2 is class-2-transformer\n")
    first, second = (
        [Origin("winding", winding.name, told.circuit.node[end]) for end in winding.secondary]
        for winding in told.circuit.windings
    )
    leg = told.circuit.legs[0]
    assert nominal_volts(told, *first) == nominal_volts(told, *reversed(second)) == 24
    assert nominal_volts(told, first[0], second[1]) is None
    assert nominal_volts(told, Origin("leg", leg.name, told.circuit.node[leg.point]), first[0]) is None
