"""What wires may carry, what they lose and what grounds them, against worked examples and handbook forms."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.samples import SAMPLES, board
from wirecheck import check
from wirecheck.judge.bunching import carrying_together
from wirecheck.judge.case import Case
from wirecheck.judge.drop import warmed
from wirecheck.judge.sizing import carries
from wirecheck.tables.ampacity import conductor_ampacity
from wirecheck.tables.code import LATEST
from wirecheck.tables.sizes import circular_mils

PANEL = "panel LP 120/240 V, 10 kA available\n"


def found(text, rule):
    return [finding for finding in check(text).findings if finding.rule == rule]


def one_load(size, length, part, breaker="20 A", ambient=30, screws=("L1", "L2"), kind="NM-B"):
    """A load on a single cable."""
    return f"""board "One load"
ambient {ambient} C
{PANEL}breaker LP.3 {breaker}
box B junction 42 cu in
H1 is {part} in B
cable W1 {size}/2 {kind} {length} ft from LP to B
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at B
  W1.black -- H1.{screws[0]}
  W1.white -- H1.{screws[1]}
  cap W1.bare
"""


@pytest.mark.parametrize("sample", ["stair-light", "cooling-call"])
def test_the_samples_are_silent(sample):
    ours = ("ampacity", "voltage-drop", "grounding-conductor-size")
    text = (SAMPLES / f"{sample}.wire").read_text(encoding="utf-8")
    assert [finding for finding in check(text).findings if finding.rule in ours] == []


# ----------------------------------------------------------------- ampacity


def bunched_circuits(count, ambient):
    """A raceway with that many two-wire circuits of 12 AWG THHN, each with its own neutral."""
    lines = ['board "Many in one raceway"', f"ambient {ambient} C", PANEL, "box B junction 100 cu in"]
    lines.append("raceway R1 EMT 1 in 30 ft from LP to B")
    at_panel, at_box = [], []
    for number in range(1, count + 1):
        lines.append(f"breaker LP.{number} 20 A")
        lines.append(f"L{number} is lampholder 60 W in B")
        lines.append(f"wire H{number} 12 THHN black 30 ft from LP to B in R1")
        lines.append(f"wire N{number} 12 THHN white 30 ft from LP to B in R1")
        at_panel += [f"H{number} -- LP.{number}", f"N{number} -- LP.neutral"]
        at_box += [f"H{number} -- L{number}.hot", f"N{number} -- L{number}.neutral"]
    return "\n".join([*lines, "at LP", *at_panel, "at B", *at_box]) + "\n"


@pytest.mark.parametrize(
    ("circuits", "ambient", "expected"),
    [
        # The method of 310.15(B) and (C), by hand: 30 A (12 AWG, 90 C column) x ambient x bunching,
        # then no more than the 20 A of the 60 C column (110.14(C)).
        (1, 30, 20.0),
        (2, 30, 20.0),  # 4 wires: 30 x 0.80 = 24, capped at 20
        (4, 40, 30 * 0.91 * 0.70),  # 8 wires at 40 C: 19.1
        (5, 30, 30 * 0.50),  # 10 wires: 15
        (11, 45, 30 * 0.87 * 0.45),  # 22 wires at 45 C
    ],
)
def test_ampacity_is_corrected_adjusted_and_capped(circuits, ambient, expected):
    case = Case(board(bunched_circuits(circuits, ambient)))
    bunched = carrying_together(case)
    assert bunched["H1"] == 2 * circuits
    steps = carries(case, case.board.conductors["H1"], 20)
    assert steps.result == pytest.approx(expected)


def test_the_neutral_of_a_multiwire_circuit_and_the_ground_are_not_counted():
    text = f"""board "Multiwire in a raceway"
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
    assert carrying_together(Case(board(text)))["A1"] == 2
    # Two of the three legs of a wye: the neutral carries as much as they do, and counts (310.15(E)(2)).
    wye = text.replace("120/240 V", "208Y/120 V")
    assert carrying_together(Case(board(wye)))["A1"] == 3


def test_of_two_travelers_one_is_counted():
    case = Case(board((SAMPLES / "stair-light.wire").read_text(encoding="utf-8")))
    assert carrying_together(case)["W2.black"] == 2


@pytest.mark.parametrize(
    ("current", "raised"),
    [
        (16.0, False),  # 16 x 1.25 = 20 A, the ampacity of 12 AWG in NM cable
        (17.0, True),  # Table 430.248: 3 hp at 230 V, 17 A; 17 x 1.25 = 21.25 A (430.22)
    ],
)
def test_a_motor_counts_125_percent(current, raised):
    text = one_load("12", 20, f"motor with current {current} A, voltage 120 V", "20 A", screws=("a", "b"))
    findings = found(text, "ampacity")
    assert bool(findings) == raised
    if raised:
        assert findings[0].value == pytest.approx(21.3)
        assert findings[0].limit == 20.0
        assert "10 AWG" in findings[0].help


@pytest.mark.parametrize(("watts", "raised"), [(1440, False), (1450, True)])
def test_a_continuous_load_counts_125_percent(watts, raised):
    # 210.19(A)(1): 1440 W at 120 V is 12 A, x 1.25 = 15 A, all that 14 AWG in NM cable may carry.
    findings = found(one_load("14", 20, f"baseboard-heater {watts} W 120 V", "15 A"), "ampacity")
    assert bool(findings) == raised
    if raised:
        assert findings[0].value == pytest.approx(1450 / 120 * 1.25, abs=0.01)


def test_an_overloaded_wire_behind_a_breaker_that_holds_is_a_hazard():
    findings = found(one_load("14", 20, "baseboard-heater 2400 W 120 V", "30 A"), "ampacity")
    assert [finding.severity for finding in findings] == ["hazard"]


def test_hot_surroundings_take_ampacity_away():
    # 90 C insulation at 65 C: x 0.65; 14 AWG: 25 x 0.65 = 16.25, capped at 15. At 76 C: x 0.41 = 10.25 A.
    load = "baseboard-heater 1200 W 120 V"
    assert found(one_load("14", 20, load, "15 A", ambient=65), "ampacity") == []
    findings = found(one_load("14", 20, load, "15 A", ambient=76), "ampacity")
    assert findings[0].limit == pytest.approx(10.3)
    assert "0.41" in findings[0].help


def test_what_no_table_holds_is_said_and_not_guessed():
    findings = found(
        one_load("14", 20, "baseboard-heater 1200 W 120 V").replace("NM-B", "NM-B aluminum"), "ampacity"
    )
    assert [finding.severity for finding in findings] == ["advice"]
    assert "not checked" in findings[0].message


# ------------------------------------------------------------- voltage drop


@settings(max_examples=25, deadline=None)
@given(
    size=st.sampled_from(["14", "12", "10"]),
    length=st.integers(120, 400),
    watts=st.integers(500, 1300),
)
def test_the_drop_agrees_with_the_handbook_form(size, length, watts):
    # Common practice: drop = 2 x K x I x L / CM, K = 12.9 ohm circular mils per foot for copper at 75 C.
    # K rounds Table 8 up (3.07 ohm/kft x 4110 CM = 12.6), hence the few per cent.
    text = one_load(size, length, f"baseboard-heater {watts} W 120 V", "20 A", ambient=75)
    findings = found(text, "voltage-drop")
    flows = (watts / 120) / (1 + 2 * 12.6 * length / circular_mils(size) / (120**2 / watts))
    handbook = 2 * 12.9 * flows * length / circular_mils(size)
    if handbook < 3.8:
        return
    assert len(findings) == 1
    if findings[0].unit == "%":
        assert findings[0].value * 1.2 == pytest.approx(handbook, rel=0.05)


def test_the_drop_is_that_of_table_8_at_the_wires_own_temperature():
    # By hand: 14 AWG, 3.07 ohm/kft at 75 C (Chapter 9 Table 8), a = 0.00323 (its note 2), 150 ft.
    findings = found(one_load("14", 150, "baseboard-heater 1200 W 120 V", "15 A"), "voltage-drop")
    load = 120**2 / 1200
    celsius = 30 + 60 * (9.36 / 25) ** 2
    wire = 2 * 0.150 * 3.07 * (1 + 0.00323 * (celsius - 75))
    assert findings[0].value == pytest.approx(100 * wire / (wire + load), rel=0.01)


def test_the_size_that_would_do_does():
    text = one_load("14", 150, "baseboard-heater 1200 W 120 V", "15 A")
    size = re.search(r"(\d+) AWG all the way would do", found(text, "voltage-drop")[0].help)[1]
    assert found(text.replace("W1 14/2", f"W1 {size}/2"), "voltage-drop") == []
    smaller = {"12": "14", "10": "12", "8": "10"}[size]
    assert found(text.replace("W1 14/2", f"W1 {smaller}/2"), "voltage-drop") != []


def test_a_load_below_its_working_volts_is_a_fault():
    findings = found(
        one_load("14", 1500, "lampholder 500 W", "15 A", screws=("hot", "neutral")), "voltage-drop"
    )
    assert [finding.severity for finding in findings] == ["fault"]
    assert findings[0].limit == 100.0 and findings[0].value < 100


def test_a_load_on_the_wrong_source_is_told_so():
    findings = found(one_load("12", 20, "baseboard-heater 1500 W 240 V"), "wrong-voltage")
    assert "made for 240 V and is fed 120 V" in findings[0].message


MULTIWIRE = f"""board "Two heaters on one neutral"
{PANEL}breaker LP.1 20 A 2-pole
box B junction 42 cu in
H1 is baseboard-heater 1200 W 120 V in B
H2 is baseboard-heater 1200 W 120 V in B
cable W1 14/3 NM-B 150 ft from LP to B
at LP
  W1.black -- LP.1.a
  W1.red -- LP.1.b
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at B
  W1.black -- H1.L1
  W1.red -- H2.L1
  W1.white -- pigtail -- H1.L2
  W1.white -- pigtail -- H2.L2
  W1.bare -- pigtail -- H1.ground
  W1.bare -- pigtail -- H2.ground
"""


def test_balanced_loads_lose_nothing_in_a_shared_neutral():
    alone = found(one_load("14", 150, "baseboard-heater 1200 W 120 V", "15 A"), "voltage-drop")[0].value
    shared = found(MULTIWIRE, "voltage-drop")
    assert shared[0].value == pytest.approx(alone / 2, rel=0.05)


def test_an_outlet_is_judged_with_the_largest_plug_in_load():
    text = f"""board "A far outlet"
{PANEL}breaker LP.3 15 A
box B device 20.3 cu in
R1 is duplex-receptacle 15 A in B
cable W1 14/2 NM-B 100 ft from LP to B
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at B
  W1.black -- R1.hot
  W1.white -- R1.neutral
  W1.bare -- R1.ground
"""
    findings = found(text, "voltage-drop")
    assert [finding.severity for finding in findings] == ["advice"]
    # Table 210.21(B)(2): 12 A on a 15 A circuit; Table 8, warmed to 30 + 60 x (12/25)^2 = 43.8 C.
    lost = 12 * 2 * 0.100 * 3.07 * (1 + 0.00323 * (43.8 - 75))
    assert findings[0].value == pytest.approx(100 * lost / 120, rel=0.005)
    assert "12 A" in findings[0].message
    assert found(text.replace("100 ft", "50 ft"), "voltage-drop") == []


@given(st.floats(0, 60))
def test_a_wire_at_its_table_current_stands_at_its_rating(flows):
    steps = conductor_ampacity("THHN", "10", terminal_c=None, code=LATEST)
    assert warmed(steps, 30, steps.table) == pytest.approx(90)
    assert 30 <= warmed(steps, 30, flows) <= 90
    # Table 310.16 itself: 30 A takes 10 AWG in 60 C insulation from 30 to 60 C, 40 A takes it to 90 C.
    assert warmed(steps, 30, 30) == pytest.approx(60, abs=5)


# ---------------------------------------------------- grounding conductors


def feeder(hot, ground, breaker, conduit="2 in"):
    return f"""board "A large heater"
{PANEL}breaker LP.1 {breaker} A 2-pole
H1 is heater with power {breaker * 240 * 0.7:.0f} W, voltage 240 V
raceway R1 PVC {conduit} 100 ft from LP to H1
wire A1 {hot} THWN-2 black 100 ft from LP to H1 in R1
wire A2 {hot} THWN-2 red 100 ft from LP to H1 in R1
wire G {ground} THWN-2 green 100 ft from LP to H1 in R1
at LP
  A1 -- LP.1.a
  A2 -- LP.1.b
  G -- LP.ground
at H1
  A1 -- H1.a
  A2 -- H1.b
  cap G
"""


@pytest.mark.parametrize(
    ("breaker", "hot", "least", "next_smaller"),
    # Table 250.122, copper, with hots of the least size for that breaker.
    [(60, "6", "10", "12"), (100, "3", "8", "10"), (200, "3/0", "6", "8")],
)
def test_table_250_122(breaker, hot, least, next_smaller):
    assert found(feeder(hot, least, breaker), "grounding-conductor-size") == []
    findings = found(feeder(hot, next_smaller, breaker), "grounding-conductor-size")
    assert [finding.subject for finding in findings] == ["G"]
    assert f"{least} AWG" in findings[0].message


def test_it_grows_with_the_hots():
    # The example of the NEC Handbook at 250.122(B), from memory: 250 A, 250 kcmil made 350 kcmil for voltage
    # drop; 41,740 CM (4 AWG) x 350/250 = 58,436 CM, so 2 AWG (66,360 CM).
    assert found(feeder("250 kcmil", "4", 250, "3 in"), "grounding-conductor-size") == []
    assert found(feeder("350 kcmil", "2", 250, "3 in"), "grounding-conductor-size") == []
    findings = found(feeder("350 kcmil", "4", 250, "3 in"), "grounding-conductor-size")
    assert findings[0].source == "NEC 2023 250.122(B)"
    assert "2 AWG" in findings[0].message


def test_it_need_not_be_larger_than_the_hots():
    # 250.122(A), with a motor whose breaker is large for its start (430.52).
    text = one_load("14", 20, "motor with current 10 A, voltage 120 V", "25 A", screws=("a", "b"))
    assert found(text, "grounding-conductor-size") == []
