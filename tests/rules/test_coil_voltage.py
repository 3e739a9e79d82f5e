"""Coils: too little to pull in, too much, no rest, and the moment in which motors start."""

from __future__ import annotations

import pytest

from tests.rules.circuits import PANEL, one_load, valves
from tests.rules.hands import COOLING, STAIR, at, case, changed, reported, said, seen
from wirecheck import files
from wirecheck.model.board import Join
from wirecheck.rules.coil_voltage import RULE, Chatters, LetsGo, TooLittle, TooMuch, WrongTap

BOARDS = files.folder("boards")
IRON = """\
part iron "A transformer of any primary"
rating primary 120 V
terminal primary-hot hot
terminal primary-neutral line
terminal ground ground
terminal secondary-r class-2, holds 4
terminal secondary-c class-2-common, holds 4
transforms primary from primary-hot to primary-neutral into 24 V from secondary-r to secondary-c,
  capacity 40 VA, impedance 6 %, inherently-limited
"""


def relay(volts: float = 24, works_to: float = 30, pulls_in: float = 19.2, drops_out: float = 10) -> str:
    """A part: a coil of 5 VA with these ratings."""
    return f"""part relay "A coil"
terminal a contact
terminal b contact
load coil coil from a to b, 5 VA at {volts} V, works {min(pulls_in, works_to)} V to {works_to} V,
  pulls-in {pulls_in} V, drops-out {drops_out} V, inrush 10 VA
"""


def coil_on(transformer: str = "iron", feet: int = 5) -> str:
    return valves(transformer, 10, feet=feet).replace(
        "V0 is solenoid-valve with capacity 10 VA", "V0 is relay"
    )


def found(text: str, **parts: str) -> list[Chatters | WrongTap | TooMuch | TooLittle | LetsGo]:
    return list(RULE.find(case(text, **{"iron": IRON, "relay": relay()} | parts)))


@pytest.mark.parametrize("text", [STAIR, COOLING, valves("class-2-transformer 40 VA", 10)])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


# ---------------------------------------------------------------- too much


def test_a_coil_on_line_voltage_is_a_hazard() -> None:
    (one,) = seen(RULE, one_load(part="coil", screws=("a", "b")))
    assert isinstance(one, TooMuch)
    assert (one.subject, one.severity, one.stage, one.at.span.line) == ("H1", "hazard", "final", 6)
    assert one.present == pytest.approx(120, abs=1)
    assert one.copper and one.loads == (one.load,)


@pytest.mark.parametrize(("works_to", "raised"), [(24.2, False), (23.5, True)])
def test_a_twentieth_above_what_it_works_at_is_too_much(works_to: float, raised: bool) -> None:
    # A lightly loaded 24 V transformer stands at 25.2 V; 24.0 V and 5 % are as much.
    kinds = [type(one) for one in found(coil_on(), relay=relay(works_to=works_to))]
    assert kinds == [TooMuch] * raised


# -------------------------------------------------------------- too little


@pytest.mark.parametrize(("pulls_in", "raised"), [(25.2, False), (25.5, True)])
def test_a_coil_that_does_not_pull_in_is_a_fault(pulls_in: float, raised: bool) -> None:
    text = coil_on()
    told = found(text, relay=relay(pulls_in=pulls_in))
    assert [type(one) for one in told] == [TooLittle] * raised
    for one in told:
        assert isinstance(one, TooLittle)
        assert (one.subject, one.severity, one.stage, one.at.of.name) == ("V0", "fault", "final", "V0")
        assert one.present == pytest.approx(25.23, abs=0.02)
        assert (one.run, one.others, one.loads) == (None, (), (one.load,))
        assert one.copper


def test_the_run_that_loses_most_of_what_is_missing_is_to_blame() -> None:
    (one,) = found(coil_on(), relay=relay(pulls_in=26))
    assert isinstance(one, TooLittle)
    # 5 ft of 18 AWG, 7.77 ohm/kft, out and back, for 10 VA at 24 V.
    assert one.lost == pytest.approx(10 / 24 * 10 * 7.77e-3 * 0.86, rel=0.15)
    for part, blamed in ((0.98, True), (1.02, False)):
        (told,) = found(coil_on(), relay=relay(pulls_in=one.present + 2 * one.lost * part))
        assert isinstance(told, TooLittle)
        assert (told.run is not None, told.at.of.name) == (blamed, "C0" if blamed else "V0")


ONE_HOT = one_load(cable="14/3 NM-B 20 ft", part="line-contactor", screws=("coil-a", "coil-b"))


def test_a_coil_that_is_fed_from_too_few_volts_is_fed_wrong() -> None:
    (one,) = seen(RULE, ONE_HOT)
    assert isinstance(one, TooLittle)
    assert (one.nominal, one.run, at(ONE_HOT, one)) == (120, None, "W1.white -- H1.coil-b")
    assert one.present == pytest.approx(120, abs=1)


@pytest.mark.parametrize(("volts", "nominal"), [(26.6, None), (26.7, 24)])
def test_a_tenth_below_its_volts_is_another_source(volts: float, nominal: float | None) -> None:
    # 24 V is 90 % of 26.67 V. Of Class 2 no hot is missing: the line is the coil's.
    (one,) = found(coil_on(), relay=relay(volts=volts, works_to=40, pulls_in=26))
    assert isinstance(one, TooLittle)
    assert (one.nominal, one.at.of.name) == (nominal, "V0")


@pytest.mark.parametrize(
    ("volts", "raised"), [(120, True), (130, True), (240, True), (600, True), (700, False)]
)
def test_a_coil_for_the_line_on_24_volts_is_fed_too_little(volts: float, raised: bool) -> None:
    """Its ends come from one source: of its volts the twenty-fifth part will do. Of 635 V that is 25.4 V."""
    text = coil_on()
    told = found(text, relay=relay(volts=volts, works_to=1.1 * volts, pulls_in=0.85 * volts))
    assert [type(one) for one in told] == [TooLittle] * raised
    for one in told:
        assert isinstance(one, TooLittle)
        assert (one.nominal, one.present) == (24, pytest.approx(25, abs=1))


def test_a_coil_in_series_with_another_is_not_fed_below_a_fifth_of_its_volts() -> None:
    """Its volts are not those of a source: what stands in its way is told."""
    text = changed(
        ONE_HOT,
        ("H1 is line-contactor in B", "H1 is line-contactor in B\nH2 is relay in B"),
        ("W1.white -- H1.coil-b", "H1.coil-b -- H2.a\n  W1.white -- H2.b"),
    )
    told = found(text, relay=relay(volts=480, works_to=500, pulls_in=400))
    assert [one.subject for one in told] == ["H2"]


def test_one_long_run_is_one_mistake_and_the_weakest_coil_stands_for_all() -> None:
    text = coil_on(feet=500).replace("18/2 CL2", "22/2 CL2")
    text = text.replace("V0 is relay\n", "box B junction 42 cu in\nV0 is relay\nV1 is sturdy in V0\n")
    text = text.replace("box B junction 60 cu in\n", "")
    text += "at V0\n  V0.a -- V1.a\n  V0.b -- V1.b\n"
    sturdy = relay(pulls_in=22).replace("part relay", "part sturdy")
    (one,) = found(text, sturdy=sturdy)
    assert isinstance(one, TooLittle)
    assert (one.subject, one.at.of.name) == ("V1", "C0")
    assert [(load.name, volts) for load, volts in one.others] == [("V0", pytest.approx(one.present))]
    assert [load.name for load in one.loads] == ["V1", "V0"]


def test_a_coil_is_told_where_it_has_the_least() -> None:
    text = (BOARDS / "heat-cool-hookup" / "wrong-long-thin-run.wire").read_text(encoding="utf-8")
    (one,) = seen(RULE, text)
    assert isinstance(one, TooLittle)
    assert one.state.calls == {"cool"}
    assert one.run is not None
    assert one.run.name == "OW"


def test_what_opens_leaves_no_volts_to_judge() -> None:
    # The coil would starve on a shorted secondary; the winding takes itself off.
    text = (
        coil_on()
        .replace("  C0.red -- V0.a\n", "  C0.red -- C0.white -- V0.a\n")
        .replace("  C0.white -- V0.b\n", "  V0.a -- V0.b\n")
    )
    assert not found(text)


# ---------------------------------------------------------------- the tap


@pytest.mark.parametrize(
    ("primary", "raised", "high"),
    [
        # 120 V on a tap of 110 V is 9.1 % more, of 108.5 V 10.6 %; of 132 V 9.1 % less, of 134 V 10.4 %.
        ("110 V", False, True),
        ("108.5 V", True, True),
        ("132 V", False, False),
        ("134 V", True, False),
        # Of 590 V it is 20.3 %, of 610 V 19.7 %: no feed at all.
        ("590 V", True, False),
        ("610 V", False, False),
    ],
)
def test_a_transformer_takes_a_tenth_more_or_less(primary: str, raised: bool, high: bool) -> None:
    text = coil_on(f"iron with primary {primary}")
    told = [one for one in found(text) if isinstance(one, WrongTap)]
    assert len(told) == raised
    for one in told:
        assert one.high is high
        assert one.fed == pytest.approx(120, abs=0.5)
        assert (one.subject, one.severity, one.stage, one.at.of.name) == ("T1", "fault", "final", "T1")
        assert one.given == pytest.approx(one.fed / one.winding.primary_volts * 25.2, rel=0.02)
        assert one.copper


def packaged(*edits: tuple[str, str]) -> str:
    return changed((BOARDS / "packaged-unit" / "right.wire").read_text(encoding="utf-8"), *edits)


TO_208 = ("panel TP 120/240 V", "panel TP 208Y/120 V")
FOR_208 = ("mca 25.2 A, mocp 40 A", "mca 25.2 A, mocp 40 A, voltage 208 V")


def test_a_transformer_on_the_wrong_tap_is_told_both_ways() -> None:
    # 240 V into a 208 V tap gives 24 x 240/208 = 27.7 V under load; 208 V into a 240 V tap gives 20.8 V.
    (high,) = (one for one in seen(RULE, packaged(FOR_208)) if isinstance(one, WrongTap))
    assert high.fed == pytest.approx(240, rel=0.01)
    (low,) = (one for one in seen(RULE, packaged(TO_208)) if isinstance(one, WrongTap))
    assert low.fed == pytest.approx(208, rel=0.01)
    assert not seen(RULE, packaged(TO_208, FOR_208))


def test_twice_the_volts_of_a_tap_are_a_hazard() -> None:
    """At twice its volts a coil takes four times its power (Ohm's law)."""
    board = files.folder("boards") / "motor-control-transformer" / "wrong-tap-for-another-voltage.wire"
    finding = said(RULE, board.read_text("utf-8"))[0]
    assert finding.severity == "hazard"
    assert finding.message.endswith("Its 120 V side stands at 252 V, and what is on it burns out.")


def test_a_wrong_tap_hides_what_its_coils_get() -> None:
    text = valves("class-2-transformer 40 VA", 10, breaker="15 A 2-pole")
    text = changed(
        text, ("W1.black -- LP.3", "W1.black -- LP.3.a"), ("W1.white -- LP.neutral", "W1.white -- LP.3.b")
    )
    high = text
    assert {type(one) for one in seen(RULE, high)} == {WrongTap, TooMuch}
    assert reported(high).count("coil-voltage") == 1
    low = valves("class-2-transformer with primary 240 V", 10)
    assert {type(one) for one in seen(RULE, low)} == {WrongTap, TooLittle}
    assert reported(low).count("coil-voltage") == 1


# ----------------------------------------------------------------- no rest

BUZZER = f"""board "A relay that breaks its own feed"
{PANEL}breaker LP.3 15 A
T1 is class-2-transformer 40 VA
K is relay-spdt
cable W1 14/2 NM-B 11 ft from LP to T1
cable C0 18/2 CL2 5 ft from T1 to K
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at T1
  W1.black -- T1.primary-hot
  W1.white -- T1.primary-neutral
  W1.bare -- T1.ground
  C0.red -- T1.secondary-r
  C0.white -- T1.secondary-c
at K
  C0.red -- K.common
  K.nc -- K.coil-a
  C0.white -- K.coil-b
"""


def test_a_coil_that_breaks_its_own_feed_finds_no_rest() -> None:
    (one,) = seen(RULE, BUZZER)
    assert isinstance(one, Chatters)
    assert [each.name for each in one.restless] == ["K"]
    assert (one.subject, one.severity, one.stage, one.at.span.line) == ("K", "fault", "final", 5)
    assert one.copper


# --------------------------------------------------------- a motor's start


def motor_start(feet: int = 400) -> str:
    """A motor and a control transformer at the end of one long cable."""
    return f"""board "A motor that starts"
{PANEL}breaker LP.3 20 A
box B junction 60 cu in
M1 is motor with voltage 120 V in B
T1 is class-2-transformer 40 VA in B
K1 is relay in B
cable W1 12/2 NM-B {feet} ft from LP to B
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at B
  W1.black -- M1.a -- T1.primary-hot
  W1.white -- M1.b -- T1.primary-neutral
  W1.bare -- T1.ground
  T1.secondary-r -- K1.a
  T1.secondary-c -- K1.b
"""


def test_the_start_of_a_motor_can_make_a_coil_let_go() -> None:
    (one,) = found(motor_start(480), relay=relay(drops_out=18.5))
    assert isinstance(one, LetsGo)
    # By hand: 960 ft of 12 AWG, 1.7 ohm/kft at 30 C, are 1.63 ohm before the 2.78 ohm (at 75 % of power
    # factor) that the motor has as it starts: 67 % of the volts, 18.1 of 27.1 V.
    assert one.left == pytest.approx(18.1, abs=0.3)
    assert [motor.name for motor in one.motors] == ["M1"]
    assert (one.subject, one.severity, one.stage, one.at.of.name) == ("K1", "fault", "final", "K1")
    assert one.copper
    left = one.left
    assert not found(motor_start(480), relay=relay(drops_out=left - 0.05))
    assert len(found(motor_start(480), relay=relay(drops_out=min(left + 0.05, 19.2)))) == 1


def test_a_heater_has_no_start() -> None:
    text = motor_start().replace("motor with voltage 120 V", "heater 800 W 120 V")
    assert not found(text, relay=relay(drops_out=18.5))


@pytest.mark.parametrize(("share", "kinds"), [(0.2, []), (0.201, [WrongTap, TooLittle])])
def test_a_fifth_of_its_volts_is_no_feed(share: float, kinds: list[type]) -> None:
    """A transformer and a coil on it that stand at just that share of what they are made for."""
    told = case(coil_on(), iron=IRON, relay=relay())
    (winding,), (coil,) = told.circuit.windings, told.circuit.loads
    volts = [0j] * len(told.states[0].volts)
    volts[told.circuit.node[winding.primary[0]]] = complex(share * winding.primary_volts)
    volts[told.circuit.node[coil.a]] = complex(share * coil.volts)
    told.__dict__["states"] = (told.states[0]._replace(volts=tuple(volts), running=frozenset()),)
    assert [type(one) for one in RULE.find(told)] == kinds


@pytest.mark.parametrize(
    ("board", "screw", "with_it"),
    [
        ("water-chiller/wrong-coil-between-two-hots", "C.A2", "D.load-2"),
        ("rack-compressor/wrong-neutral-and-a-hot-exchanged", "C.A2", "C.L2"),
    ],
)
def test_a_coil_between_two_hots_is_told_where_the_second_one_is(
    board: str, screw: str, with_it: str
) -> None:
    (one,) = (
        one for one in seen(RULE, (BOARDS / f"{board}.wire").read_text("utf-8")) if isinstance(one, TooMuch)
    )
    assert one.second_hot == screw
    assert isinstance(one.at.of, Join)
    assert {screw, with_it} <= {member.screw or member.name for member in one.at.of.members}


def test_a_coil_is_of_other_volts_where_no_neutral_comes_to_it() -> None:
    text = (BOARDS / "motor-starter" / "wrong-coil-of-another-voltage.wire").read_text("utf-8")
    (one,) = seen(RULE, text)
    assert one.second_hot is None
    assert not isinstance(one.at.of, Join)


def test_the_plainest_state_of_those_in_which_a_meter_shows_the_same_is_told() -> None:
    """A furnace's pressure switch has nothing to do with a call for cooling."""
    text = (files.folder("boards") / "heat-cool-hookup" / "wrong-long-thin-run.wire").read_text(
        encoding="utf-8"
    )
    (one,) = said(RULE, text)
    assert one.message.startswith("CU.contactor gets 14.5 V with cool called while it tries to pull in,")
