"""Breakers, fuses and sources, against the code's own tables and arithmetic done by hand."""

import pytest

from tests.rules.test_conductors import PANEL, found, one_load
from tests.samples import SAMPLES
from wirecheck import check

OURS = (
    "overcurrent-protection",
    "receptacle-rating",
    "breaker-trips",
    "multiwire-circuit",
    "transformer-load",
    "class-2-supply",
    "class-2-separation",
)


@pytest.mark.parametrize("sample", ["stair-light", "cooling-call"])
def test_the_samples_are_silent(sample):
    text = (SAMPLES / f"{sample}.wire").read_text(encoding="utf-8")
    assert [finding for finding in check(text).findings if finding.rule in OURS] == []


# ------------------------------------------------------------- overcurrent

LAMP = "lampholder 60 W"
SCREWS = ("hot", "neutral")


@pytest.mark.parametrize(
    ("size", "largest", "next_standard"),
    # 240.4(D)(4), (6), (8): 14, 12 and 10 AWG copper; 240.4(B) with 240.6(A): 8 AWG NM has 40 A, 6 AWG 55 A.
    [("14", 15, 20), ("12", 20, 25), ("10", 30, 35), ("8", 40, 45), ("6", 60, 70)],
)
def test_the_largest_breaker_for_nm_cable(size, largest, next_standard):
    fits = one_load(size, 20, LAMP, f"{largest} A", screws=SCREWS)
    assert found(fits, "overcurrent-protection") == []
    findings = found(one_load(size, 20, LAMP, f"{next_standard} A", screws=SCREWS), "overcurrent-protection")
    assert [(one.subject, one.value, one.limit) for one in findings] == [("LP.3", next_standard, largest)]
    assert findings[0].severity == "violation"
    assert findings[0].span.line == 4  # the breaker's own line
    assert findings[0].also[0].span.line == 7  # and the cable's


def test_the_message_teaches():
    finding = found(one_load("14", 20, LAMP, "20 A", screws=SCREWS), "overcurrent-protection")[0]
    assert finding.message.startswith("W1 is 14 AWG copper, which may have 15 A protection; LP.3 is 20 A")
    assert finding.source == "NEC 2023 240.4(D)(4)"
    assert "a 15 A breaker or 12 AWG copper" in finding.help


def test_the_neutral_and_what_lies_beyond_a_switch_are_protected_too():
    text = f"""board "Thin wire after the switch"
{PANEL}breaker LP.3 20 A
box A device 20.3 cu in
box B octagon 21 cu in
S1 is single-pole-switch in A
L1 is lampholder 60 W in B
cable W1 12/2 NM-B 22 ft from LP to A
cable W2 14/2 NM-B 22 ft from A to B
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at A
  W1.black -- S1.line
  W2.black -- S1.load
  W1.white -- W2.white
  W1.bare -- W2.bare -- pigtail -- S1.ground
at B
  W2.black -- L1.hot
  W2.white -- L1.neutral
  W2.bare -- L1.ground
"""
    findings = found(text, "overcurrent-protection")
    assert findings[0].message.startswith("W2 is 14 AWG")
    assert [note.span.line for note in findings[0].also] == [9]


def test_several_outlets_lose_the_next_size_up():
    # 240.4(B)(1). 6 AWG NM has 55 A; with one 50 A outlet a 60 A breaker would serve for the wire.
    one = f"""board "Outlets on a large circuit"
{PANEL}breaker LP.3 60 A
box B junction 60 cu in
R1 is single-receptacle 50 A in B
cable W1 6/2 NM-B 20 ft from LP to B
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at B
  W1.black -- R1.hot
  W1.white -- R1.neutral
  W1.bare -- R1.ground
"""
    two = one.replace("cable", "R2 is single-receptacle 50 A in B\ncable")
    for role in ("hot", "neutral", "ground"):
        wire = {"hot": "black", "neutral": "white", "ground": "bare"}[role]
        two = two.replace(
            f"W1.{wire} -- R1.{role}", f"W1.{wire} -- pigtail -- R1.{role} -- pigtail -- R2.{role}"
        )
    assert found(one, "overcurrent-protection") == []
    assert [finding.limit for finding in found(two, "overcurrent-protection")] == [55]


@pytest.mark.parametrize(("breaker", "raised"), [(15, False), (20, False), (25, True)])
def test_a_single_motor_goes_by_430_52(breaker, raised):
    # 7.2 A (Table 430.248, 1/3 hp at 115 V) x 250 % = 18 A, next standard rating 20 A; 14 AWG all the same.
    text = one_load("14", 20, "motor with voltage 120 V", f"{breaker} A", screws=("a", "b"))
    findings = found(text, "overcurrent-protection")
    assert bool(findings) == raised
    if raised:
        assert findings[0].limit == 20


def outdoor_unit(breaker, size="10", mca="18.2", mocp="30"):
    return f"""board "Outdoor unit"
{PANEL}breaker LP.2 {breaker} A 2-pole
CU is condensing-unit with mca {mca} A, mocp {mocp} A
cable PC {size}/2 NM-B 38 ft from LP to CU
at LP
  PC.black -- LP.2.a
  PC.white marked red -- LP.2.b
  PC.bare -- LP.ground
at CU
  PC.black -- CU.L1
  PC.white marked red -- CU.L2
  PC.bare -- CU.ground
"""


def test_air_conditioning_goes_by_its_nameplate():
    # 240.4(G), 440: 12 AWG (20 A) carries an MCA of 18.2 A, and its breaker may be the MOCP of 30 A.
    assert check(outdoor_unit(30, "12")).findings == ()
    findings = found(outdoor_unit(35, "12"), "overcurrent-protection")
    assert [(one.subject, one.value, one.limit) for one in findings] == [("LP.2", 35, 30)]
    assert [one.limit for one in found(outdoor_unit(30, "14"), "ampacity")] == [15]


def test_a_continuous_load_needs_a_larger_breaker():
    # 210.20(A): 1500 W / 120 V = 12.5 A, x 1.25 = 15.6 A.
    findings = found(one_load("12", 20, "baseboard-heater 1500 W 120 V", "15 A"), "overcurrent-protection")
    assert [(one.value, one.source) for one in findings] == [(15, "NEC 2023 210.20(A)")]
    assert findings[0].limit == pytest.approx(15.6)
    assert found(one_load("12", 20, "baseboard-heater 1500 W 120 V"), "overcurrent-protection") == []


def test_an_odd_rating_is_advice():
    findings = found(one_load("12", 20, LAMP, "18 A", screws=SCREWS), "overcurrent-protection")
    assert [finding.severity for finding in findings] == ["advice"]
    assert "15 A and 20 A" in findings[0].help


# ------------------------------------------------------------- receptacles


def receptacle(part, breaker, size):
    return f"""board "Receptacle"
{PANEL}breaker LP.3 {breaker} A
box B junction 60 cu in
R1 is {part} in B
cable W1 {size}/2 NM-B 20 ft from LP to B
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at B
  W1.black -- R1.hot
  W1.white -- R1.neutral
  W1.bare -- R1.ground
"""


@pytest.mark.parametrize(
    ("part", "breaker", "size", "raised"),
    [
        # Table 210.21(B)(3), a duplex being two receptacles; 210.21(B)(1) for a single one alone.
        ("duplex-receptacle 15 A", 15, "14", False),
        ("duplex-receptacle 20 A", 15, "14", True),
        ("duplex-receptacle 15 A", 20, "12", False),
        ("duplex-receptacle 20 A", 20, "12", False),
        ("duplex-receptacle 20 A", 30, "10", True),
        ("single-receptacle 15 A", 20, "12", True),
        ("single-receptacle 20 A", 20, "12", False),
        ("single-receptacle 20 A", 15, "14", False),
        ("single-receptacle 30 A", 30, "10", False),
        ("duplex-receptacle 20 A", 25, "10", True),
    ],
)
def test_receptacles_fit_their_circuit(part, breaker, size, raised):
    findings = found(receptacle(part, breaker, size), "receptacle-rating")
    assert [finding.subject for finding in findings] == ["R1"] * raised


# ------------------------------------------------------------------- trips


def test_an_overload_says_what_opens_and_what_stops():
    text = one_load("10", 5, "baseboard-heater 3600 W 120 V", "20 A")
    finding = found(text, "breaker-trips")[0]
    assert (finding.severity, finding.subject, finding.limit) == ("fault", "LP.3", 20)
    # By hand: 4 ohm of heater behind 2 x 5 ft of 10 AWG (1.21 ohm/kft) and the panel's 12 milliohm.
    assert finding.value == pytest.approx(120 / (4 + 0.012 + 0.0121), rel=0.01)
    assert "H1.element stops" in finding.message
    # UL 489: at 150 % it has opened within the hour.
    assert "within 60 min" in finding.message


def test_a_little_too_much_need_not_open_it():
    finding = found(one_load("12", 5, "baseboard-heater 2500 W 120 V", "20 A"), "breaker-trips")[0]
    assert 20 < finding.value < 21
    assert "sooner or later" in finding.message


def test_a_short_circuit_is_another_rules():
    text = one_load("14", 20, LAMP, "15 A", screws=SCREWS).replace(
        "W1.black -- H1.hot", "W1.black -- W1.white -- H1.hot"
    )
    assert found(text, "breaker-trips") == []
    assert found(text, "short-circuit") != []


# ------------------------------------------------------------ transformers


def valves(transformer, *capacities, breaker="15 A"):
    """A transformer with valves in parallel, straight at its screws."""
    lines = ['board "Valves"', PANEL + f"breaker LP.3 {breaker}", "box B junction 60 cu in"]
    lines += [f"T1 is {transformer}", "cable W1 12/2 NM-B 11 ft from LP to T1"]
    lines += ["at LP", "W1.black -- LP.3", "W1.white -- LP.neutral", "W1.bare -- LP.ground", "at T1"]
    lines += ["W1.black -- T1.primary-hot", "W1.white -- T1.primary-neutral", "W1.bare -- T1.ground"]
    for number, capacity in enumerate(capacities):
        lines.insert(3, f"V{number} is solenoid-valve with capacity {capacity} VA")
        lines.insert(4, f"cable C{number} 18/2 CL2 5 ft from T1 to V{number}")
        lines += ["at T1", f"C{number}.red -- T1.secondary-r", f"C{number}.white -- T1.secondary-c"]
        lines += [f"at V{number}", f"C{number}.red -- V{number}.a", f"C{number}.white -- V{number}.b"]
    return "\n".join(lines) + "\n"


def test_all_that_draws_at_once_is_added():
    assert found(valves("class-2-transformer 40 VA", 18, 18), "transformer-load") == []
    findings = found(valves("class-2-transformer 40 VA", 18, 18, 18), "transformer-load")
    assert [(one.severity, one.limit) for one in findings] == [("violation", 40)]
    assert findings[0].value == pytest.approx(54)
    assert "54 VA or more" in findings[0].help


def test_a_class_2_transformer_may_have_20_amperes_ahead():
    # 725.127
    text = valves("class-2-transformer 40 VA", 10, breaker="20 A")
    assert found(text, "transformer-load") == []
    findings = found(valves("class-2-transformer 40 VA", 10, breaker="25 A"), "transformer-load")
    assert [(one.value, one.limit) for one in findings] == [(25, 20)]


def test_a_larger_transformer_goes_by_table_450_3_b():
    # 300 VA / 120 V = 2.5 A, from 2 A to 9 A: 167 % = 4.175 A.
    findings = found(valves("class-2-transformer 300 VA", 10), "transformer-load")
    assert findings[0].limit == pytest.approx(4.17, abs=0.01)
