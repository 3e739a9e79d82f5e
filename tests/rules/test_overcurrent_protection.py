"""Breakers and fuses against wire, nameplate and load: NEC 240.4, 430.52, 440.22, 210.20(A), 240.6(A)."""

from __future__ import annotations

import pytest

from tests.judge.test_guards import FUSED
from tests.rules.circuits import LAMP, MOTOR, PANEL, one_load, outdoor_unit, outlet, two_loads
from tests.rules.hands import CHAIN, COOLING, STAIR, case, changed, own, reported, said, seen
from wirecheck import files
from wirecheck.rules.overcurrent_protection import (
    RULE,
    BelowNameplate,
    MoreThanItNeeds,
    NoStandard,
    OverNameplate,
    ThinControl,
    TooLarge,
    TooLargeForMotor,
    TooSmall,
)

GLOW = """\
part glow "An element that does not run for hours"
terminal L1 hot
terminal L2 neutral
terminal ground ground
load element heater from L1 to L2, 6 A at 120 V
"""


def lamp(size: str, breaker: str) -> str:
    return one_load(f"{size}/2 NM-B 20 ft", "lampholder 60 W", breaker, screws=LAMP)


@pytest.mark.parametrize("text", [STAIR, COOLING, CHAIN, FUSED])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


# ------------------------------------------------------------------- wire


@pytest.mark.parametrize(
    ("size", "largest", "next_standard", "larger"),
    # 240.4(D)(4), (6), (8): 14, 12 and 10 AWG copper; 240.4(B) with 240.6(A): 8 AWG NM has 40 A, 6 AWG 55 A.
    [("14", 15, 20, "12"), ("12", 20, 25, "10"), ("10", 30, 35, "8"), ("8", 40, 45, "6"), ("6", 60, 70, "4")],
)
def test_the_largest_breaker_for_nm_cable(size: str, largest: int, next_standard: int, larger: str) -> None:
    assert not seen(RULE, lamp(size, f"{largest} A"))
    (one,) = seen(RULE, lamp(size, f"{next_standard} A"))
    assert isinstance(one, TooLarge)
    assert (one.subject, one.worst.limit.amps, one.size) == ("LP.3", largest, larger)
    assert (one.severity, one.stage, one.at.span.line) == ("violation", "rough-in", 4)
    assert one.copper


def test_the_neutral_and_what_lies_beyond_a_switch_are_protected_too() -> None:
    thin = STAIR.replace("LP.3 15 A", "LP.3 20 A").replace("W1 14/2", "W1 12/2").replace("W2 14/3", "W2 12/3")
    (one,) = seen(RULE, thin)
    assert [each.conductor.run for each in one.over] == ["W3"]


def test_the_thinnest_run_stands_for_all() -> None:
    text = changed(STAIR, ("LP.3 15 A", "LP.3 25 A"), ("W1 14/2", "W1 12/2"))
    (one,) = seen(RULE, text)
    assert one.worst.conductor.run == "W2"
    assert {each.conductor.run: each.limit.amps for each in one.over} == {"W1": 20, "W2": 15, "W3": 15}


def test_several_outlets_lose_the_next_size_up() -> None:
    # 240.4(B)(1). 6 AWG NM has 55 A; with one 50 A outlet a 60 A breaker would serve for the wire.
    text = outlet("single-receptacle 50 A", "60 A", "6/2 NM-B 20 ft")
    assert not seen(RULE, text)
    two = text.replace("cable", "R2 is single-receptacle 50 A in B\ncable")
    for role in ("hot", "neutral", "ground"):
        two = two.replace(f"-- R1.{role}", f"-- pigtail -- R1.{role} -- pigtail -- R2.{role}")
    (one,) = seen(RULE, two)
    assert (one.worst.limit.amps, one.worst.limit.by, one.size) == (55, "ampacity", "4")


@pytest.mark.parametrize(("breaker", "raised"), [(15, False), (20, False), (25, True)])
def test_a_single_motor_goes_by_430_52(breaker: int, raised: bool) -> None:
    # 7.2 A (Table 430.248, 1/3 hp at 115 V) x 250 % = 18 A, next standard rating 20 A; 14 AWG all the same.
    found = seen(RULE, one_load(part="motor with voltage 120 V", breaker=f"{breaker} A", screws=MOTOR))
    assert len(found) == raised
    for one in found:
        assert isinstance(one, TooLargeForMotor)
        assert (one.limit.amps, one.limit.by, one.motor.motor.name) == (20, "motor", "H1")
        assert (one.subject, one.severity, one.stage, one.at.span.line) == (
            "LP.3",
            "violation",
            "rough-in",
            4,
        )
        assert one.copper


@pytest.mark.parametrize(("breaker", "raised"), [(25, False), (30, True)])
def test_a_motor_bounds_its_breaker_where_the_wire_would_bear_more(breaker: int, raised: bool) -> None:
    # 10 A x 250 % = 25 A; 10 AWG may have 30 A.
    motor = "motor with current 10 A, voltage 120 V"
    found = seen(RULE, one_load("10/2 NM-B 20 ft", motor, f"{breaker} A", screws=MOTOR))
    assert [type(one) for one in found] == [TooLargeForMotor] * raised
    for one in found:
        assert one.limit.amps == 25


@pytest.mark.parametrize(
    ("amps", "volts", "size", "breaker", "kind", "limit"),
    # 430.53(A): up to 6 A on 20 A at 120 V, on 15 A above; the wire still has its own limit.
    [
        (1, 120, "14", 15, None, None),
        (1, 120, "14", 20, "TooLarge", 15),
        (1, 120, "12", 20, None, None),
        (1, 120, "10", 25, "TooLargeForMotor", 20),
        (6, 120, "12", 20, None, None),
        (6.1, 120, "12", 20, None, None),
        (5.9, 120, "12", 20, None, None),
        (3, 240, "12", 15, None, None),
        (3, 240, "12", 20, "TooLargeForMotor", 15),
        (6, 208, "12", 20, "TooLargeForMotor", 15),
        (6.1, 208, "12", 20, None, None),
    ],
)
def test_a_small_motor_may_be_on_a_circuit_of_several_outlets(
    amps: float, volts: int, size: str, breaker: int, kind: str | None, limit: float | None
) -> None:
    motor = f"motor with current {amps} A, voltage {volts} V"
    found = seen(RULE, one_load(f"{size}/2 NM-B 20 ft", motor, f"{breaker} A", screws=MOTOR))
    assert [type(one).__name__ for one in found] == ([kind] if kind else [])
    for one in found:
        assert (one.worst.limit if isinstance(one, TooLarge) else one.limit).amps == limit


@pytest.mark.parametrize(
    ("amps", "breaker", "kind"),
    # 440.22(A): 175 % of 13.6 A is 23.8 A, next standard 25 A, 225 % is 30.6 A; never less than 15 A.
    # 175 % of 8.7 A is 15.2 A, next standard 20 A, though 225 % is 19.6 A.
    [
        (13.6, 25, None),
        (13.6, 30, MoreThanItNeeds),
        (13.6, 35, TooLargeForMotor),
        (6, 15, None),
        (6, 20, TooLargeForMotor),
        (8.7, 20, None),
        (8.5, 20, TooLargeForMotor),
        (40, 70, None),
        (40, 80, MoreThanItNeeds),
    ],
)
def test_a_bare_compressor_goes_by_its_rated_load(amps: float, breaker: int, kind: type | None) -> None:
    text = one_load("6/2 NM-B 20 ft", f"compressor {amps} A", f"{breaker} A 2-pole", screws=MOTOR)
    text = changed(
        text, ("W1.black -- LP.3", "W1.black -- LP.3.a"), ("W1.white -- LP.neutral", "W1.white -- LP.3.b")
    )
    found = seen(RULE, text)
    assert [type(one) for one in found] == ([kind] if kind else [])
    for one in found:
        assert (one.motor.by, one.motor.first) == ("hermetic", {13.6: 25, 6: 15, 8.5: 15, 40: 70}[amps])
        assert one.severity == ("advice" if kind is MoreThanItNeeds else "violation")
        assert (one.subject, one.stage, one.at.span.line) == ("LP.3", "rough-in", 4)
        assert one.copper


@pytest.mark.parametrize(
    ("breaker", "kind"), [(25, None), (30, MoreThanItNeeds), (35, TooLargeForMotor), (40, TooLargeForMotor)]
)
def test_a_start_winding_and_its_capacitor_are_in_the_rated_load(breaker: int, kind: type | None) -> None:
    """NEC 440.22(A), (B)(1): 175 % and 225 % of 13.6 A, and what the heater and the relay take beside it."""
    board = files.folder("boards") / "capacitor-compressor" / "right.wire"
    text = changed(board.read_text(encoding="utf-8"), ("LP.2 25 A", f"LP.2 {breaker} A"))
    found = seen(RULE, text)
    assert [type(one) for one in found] == ([kind] if kind else [])
    for one in found:
        assert one.motor.first == 25
        assert one.motor.most == pytest.approx(2.25 * 13.6 + 40 / 240 + 12 / 290)


def test_a_small_compressor_may_be_on_20_a() -> None:
    assert not seen(RULE, one_load("12/2 NM-B 20 ft", "small-compressor", "20 A", screws=MOTOR))
    (one,) = seen(RULE, one_load("10/2 NM-B 20 ft", "small-compressor", "25 A", screws=MOTOR))
    assert isinstance(one, TooLargeForMotor) and one.limit.amps == 20


def test_where_no_size_would_do_none_is_offered() -> None:
    (one,) = seen(RULE, lamp("2", "1600 A"))
    assert (one.worst.limit.amps, one.size) == (100, None)


def test_wire_of_no_table_is_not_judged() -> None:
    assert not seen(RULE, one_load("14/2 NM-B aluminum 20 ft", "lampholder 60 W", "20 A", screws=LAMP))


# --------------------------------------------------------------- nameplate


@pytest.mark.parametrize(("breaker", "raised"), [(25, False), (30, False), (35, True)])
def test_air_conditioning_goes_by_its_nameplate(breaker: int, raised: bool) -> None:
    # 240.4(G), 440: 12 AWG (20 A) carries an MCA of 18.2 A, and its breaker may be the MOCP of 30 A.
    found = seen(RULE, outdoor_unit(breaker, "12/2 NM-B"))
    assert len(found) == raised
    for one in found:
        assert isinstance(one, OverNameplate)
        assert (one.subject, one.plate.equipment.name, one.plate.most) == ("LP.2", "CU", 30)
        assert (one.severity, one.stage, one.at.span.line) == ("violation", "rough-in", 3) and one.copper


@pytest.mark.parametrize(("breaker", "raised"), [(20, False), (15, True)])
def test_a_breaker_below_the_nameplates_least_is_advice(breaker: int, raised: bool) -> None:
    found = seen(RULE, outdoor_unit(breaker))
    assert [type(one) for one in found] == [BelowNameplate] * raised
    for one in found:
        assert (one.severity, one.stage, one.subject, one.at.span.line) == ("advice", "rough-in", "LP.2", 3)
        assert (one.equipment.name, one.least) == ("CU", 18.2)
        assert one.copper


def test_a_nameplate_holds_beside_other_loads_too() -> None:
    beside = outdoor_unit(35, "8/2 NM-B").replace(
        "at CU\n",
        "H1 is heater with power 240 W, voltage 240 V in CU\nat CU\n  CU.L1 -- H1.a\n  CU.L2 -- H1.b\n",
    )
    assert [type(one) for one in seen(RULE, beside)] == [OverNameplate]
    assert not seen(RULE, beside.replace("mocp 30 A", "mocp 35 A"))


def test_the_fuses_of_one_disconnect_are_one_choice() -> None:
    (one,) = seen(RULE, changed(FUSED, ("mocp 25 A", "mocp 20 A")))
    assert (one.subject, one.guard.fuse, one.plate.most, one.at.span.line) == ("D.fuse-1", True, 20, 4)
    bare = changed(
        FUSED,
        ("CU is condensing-unit with mocp 25 A", "CU is compressor with current 10 A"),
        ("CU.L1", "CU.a"),
        ("CU.L2", "CU.b"),
    )
    (one,) = seen(RULE, bare)
    assert (type(one), one.subject, one.at.span.line) == (TooLargeForMotor, "D.fuse-1", 4)


# ------------------------------------------------------------------- load


@pytest.mark.parametrize(("watts", "raised"), [(1440, False), (1450, True)])
def test_a_continuous_load_needs_a_larger_breaker(watts: float, raised: bool) -> None:
    # 210.20(A): 1440 W / 120 V = 12 A, x 1.25 = 15 A.
    found = seen(RULE, one_load("12/2 NM-B 20 ft", f"baseboard-heater {watts} W 120 V", "15 A"))
    assert len(found) == raised
    for one in found:
        assert isinstance(one, TooSmall)
        assert one.needed == pytest.approx(1.25 * watts / 120)
        assert one.steady == pytest.approx(watts / 120)
        assert one.wire is not None
        assert (one.rating, one.wire.size) == (20, "12")
        assert (one.subject, one.severity, one.stage) == ("LP.3", "violation", "rough-in")


def test_the_larger_breaker_comes_with_the_wire_for_it() -> None:
    (one,) = seen(RULE, one_load("14/2 NM-B 20 ft", "baseboard-heater 1500 W 120 V", "15 A"))
    assert one.wire is not None
    assert (one.rating, one.wire.size, one.wire.run) == (20, "12", "W1")
    (one,) = seen(RULE, one_load("14/2 NM-B aluminum 20 ft", "baseboard-heater 1500 W 120 V", "15 A"))
    assert (one.rating, one.wire) == (20, None)


def test_the_rest_of_the_load_counts_once() -> None:
    text = two_loads("baseboard-heater 960 W 120 V", "baseboard-heater 480 W 120 V")
    assert not seen(RULE, text)
    mixed = text.replace("H2 is baseboard-heater 480 W 120 V", "H2 is glow")
    (one,) = RULE.find(case(mixed, glow=GLOW))
    # 8 A x 1.25 and 6 A.
    assert one.needed == pytest.approx(16)
    assert one.steady == pytest.approx(8)


def test_a_load_that_does_not_run_for_hours_may_fill_its_breaker() -> None:
    motor = "motor with current 15 A, voltage 120 V"
    assert not seen(RULE, one_load("12/2 NM-B 20 ft", motor, "15 A", screws=MOTOR))


def test_each_pole_is_judged_and_the_fuller_one_told() -> None:
    text = f"""board "Two heaters on two poles"
{PANEL}breaker LP.1 15 A 2-pole
box B junction 42 cu in
H1 is baseboard-heater 1200 W 120 V in B
H2 is baseboard-heater 1500 W 120 V in B
cable W1 12/3 NM-B 20 ft from LP to B
at LP
  W1.black -- LP.1.a
  W1.red -- LP.1.b
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at B
  W1.black -- H1.L1
  W1.red -- H2.L1
  W1.white -- pigtail -- H1.L2 -- pigtail -- H2.L2
  W1.bare -- pigtail -- H1.ground -- pigtail -- H2.ground
"""
    (one,) = seen(RULE, text)
    assert one.needed == pytest.approx(15.625)


def test_a_transformer_beside_a_heater_counts_as_it_draws() -> None:
    text = one_load("12/2 NM-B 20 ft", "baseboard-heater 1410 W 120 V", "15 A")
    assert not seen(RULE, text)
    more = """T1 is class-2-transformer 75 VA in B
V1 is solenoid-valve with capacity 70 VA in B
at B
  H1.L1 -- T1.primary-hot
  H1.L2 -- T1.primary-neutral
  T1.secondary-r -- V1.a
  T1.secondary-c -- V1.b
"""
    (one,) = seen(RULE, text + more)
    # 11.75 A x 1.25 = 14.69 A, and some 0.6 A.
    assert one.needed == pytest.approx(15.3, abs=0.1)


def test_an_overload_hides_a_breaker_that_is_too_small() -> None:
    text = one_load("10/2 NM-B 5 ft", "baseboard-heater 2600 W 120 V", "20 A")
    assert [type(one) for one in seen(RULE, text)] == [TooSmall]
    assert "overcurrent-protection" in reported(text, stage="rough-in")
    told = reported(text)
    assert "breaker-trips" in told and "overcurrent-protection" not in told


# ---------------------------------------------------------------- ratings


@pytest.mark.parametrize(("rating", "raised"), [("18 A", True), ("9 A", False), ("10 A", False)])
def test_a_rating_that_is_not_made_is_advice(rating: str, raised: bool) -> None:
    found = seen(RULE, lamp("12", rating))
    assert len(found) == raised
    for one in found:
        assert isinstance(one, NoStandard)
        assert (one.severity, one.stage, one.subject) == ("advice", "rough-in", "LP.3") and one.copper


@pytest.mark.parametrize("rating", ["3 A", "4 A", "0.5 A", "12 A"])
def test_fuses_of_any_rating_are_permitted(rating: str) -> None:
    fused = one_load("12/2 NM-B 20 ft", "lampholder 60 W", "15 A", screws=LAMP).replace(
        "at B\n  W1.black -- H1.hot\n",
        f"F is fuse {rating} in B\nat B\n  W1.black -- F.line\n  F.load -- H1.hot\n",
    )
    assert not seen(RULE, fused)


def test_what_is_tapped_to_control_a_motor_leaves_the_limit_the_motors() -> None:
    """430.52(C)(1): 16.7 A x 250 % is 41.75 A, and 45 A the next standard rating."""
    text = changed(
        own("grounding-conductor-size", "thin-bond"),
        ("wire xb 16", "wire xb 14"),
        ("LP.1 30 A 3-pole", "LP.1 60 A 3-pole"),
    )
    (one,) = seen(RULE, text)
    assert isinstance(one, TooLargeForMotor)
    assert (one.limit.amps, one.motor.motor.name) == (45, "MT")


# ------------------------------------------------- motors that are miswired

COMPRESSOR = (files.folder("boards") / "capacitor-compressor" / "right.wire").read_text(encoding="utf-8")


def test_what_is_wired_wrong_within_a_motor_asks_for_no_larger_breaker() -> None:
    """Its rating is all that a motor takes, with its start winding and its capacitors: 440.22, 110.3(B)."""
    swapped = changed(
        COMPRESSOR,
        ("  C.load-2 -- pigtail -- PR.5 -- CP.C\n", "  C.load-2 -- pigtail -- PR.2 -- CP.C\n"),
        ("  RC.b -- pigtail -- PR.2 -- CP.S\n", "  RC.b -- pigtail -- PR.5 -- CP.S\n"),
    )
    past = changed(
        COMPRESSOR,
        ("C.load-1 -- pigtail -- RC.a", "CP.S -- pigtail -- RC.a"),
        ("RC.b -- pigtail -- PR.2 -- CP.S", "RC.b -- pigtail -- PR.2 -- C.load-1"),
    )
    for text in (COMPRESSOR, swapped, past):
        assert not seen(RULE, text)
        assert "overcurrent-protection" not in reported(text)


@pytest.mark.parametrize(
    ("text", "breaker", "source"),
    [
        (COOLING, "breaker LP.1 15 A", "NEC 2023 110.3(B)"),
        (COOLING, "breaker LP.2 30 A", "NEC 2023 440.22(C), 110.3(B)"),
    ],
)
def test_article_440_is_of_what_has_a_compressor(text: str, breaker: str, source: str) -> None:
    """NEC 440.1: motor-compressors that are sealed; a furnace goes by its nameplate alone."""
    told = said(RULE, changed(text, (breaker, f"{breaker.rsplit(maxsplit=2)[0]} 60 A")))
    assert source in [one.source for one in told if "nameplate" in one.message]


# ------------------------------------------------------- from a machine to its control

CONTROL = own("overcurrent-protection", "thin-control")


@pytest.mark.parametrize(
    ("size", "breaker", "limit"),
    [("18", "30 A", 7), ("16", "30 A", 10), ("16", "15 A", 10), ("14", "30 A", None), ("18", "7 A", None)],
)
def test_wires_from_a_machine_to_its_control_and_back(size: str, breaker: str, limit: float | None) -> None:
    """NEC 2023 Table 430.72(B), column C: 18 AWG 7 A, 16 AWG 10 A, 14 AWG 45 A (its values from memory)."""
    wire = "THHN" if size == "14" else "TFFN"
    text = CONTROL.replace("18 TFFN", f"{size} {wire}").replace("30 A 2-pole", f"{breaker} 2-pole")
    found = [one for one in seen(RULE, text) if isinstance(one, ThinControl)]
    assert [one.worst.limit.amps for one in found] == [limit] * (limit is not None)
    for one in found:
        assert (one.severity, one.stage, one.subject, one.size) == ("violation", "rough-in", "TA", "14")
        assert [each.conductor.name for each in one.over] == ["TA", "TB"]
        assert one.machine.name == "W"


def test_the_section_is_that_of_what_the_machine_has_in_it() -> None:
    """430.72(B) is of the control of motors; of what is none 724.43, 725.43 before 2023 (from memory)."""
    board = case(CONTROL)
    assert RULE.words(
        next(one for one in RULE.find(board) if isinstance(one, ThinControl)), board
    ).source == ("NEC 2023 430.72(B)")
    part = """\
part own "A heater that a control of its own switches"
rating mca 20 A "minimum circuit ampacity of the nameplate"
rating mocp 30 A "the largest breaker of the nameplate"
terminal L1 hot, sizes 18 to 8, rated 75 C
terminal L2 hot, sizes 18 to 8, rated 75 C
terminal T-1 switched, sizes 18 to 12, rated 75 C
terminal T-2 line, sizes 18 to 12, rated 75 C
terminal ground ground, green screw, sizes 14 to 10, rated 75 C
load heat heater from L1 to L2, 3000 W at 240 V, works 180 V to 264 V
load relay coil from T-2 to L2, 5 VA at 240 V, works 180 V to 264 V
L1 -- T-1
"""
    heated = changed(CONTROL[: CONTROL.index("expect")], ("W is walk-in-freezer", "W is own"))
    for edition, section in (("2023", "724.43, 724.45(C)"), ("2020", "725.43, 725.45(C)")):
        text = changed(heated, ("\npanel LP", f"\ncode nec {edition}\npanel LP"))
        heater = case(text, own=part)
        (found,) = (one for one in RULE.find(heater) if isinstance(one, ThinControl))
        assert RULE.words(found, heater).source == f"NEC {edition} {section}"


def test_a_wire_on_the_screw_of_the_feed_is_one_to_the_control_too() -> None:
    """Where the thermostat takes its hot from beside the feed, and not from the clock."""
    text = changed(CONTROL, ("  C1 -- W.L1\n  TA -- W.T-1\n", "  C1 -- TA -- pigtail -- W.L1\n"))
    (found,) = (one for one in seen(RULE, text) if isinstance(one, ThinControl))
    assert [each.conductor.name for each in found.over] == ["TA", "TB"]


def test_the_feed_of_a_machine_is_none() -> None:
    thin = CONTROL.replace("10 THWN black", "14 THWN black").replace("10 THWN red", "14 THWN red")
    (found,) = (one for one in seen(RULE, thin) if isinstance(one, ThinControl))
    assert [each.conductor.name for each in found.over] == ["TA", "TB"]
