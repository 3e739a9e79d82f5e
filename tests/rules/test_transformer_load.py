"""Transformers: what they feed, what their primaries have ahead, and the moment that coils pull in."""

from __future__ import annotations

import pytest

from tests.judge.test_bunching import CALLED
from tests.rules.circuits import valves
from tests.rules.hands import COOLING, case, reported, seen
from wirecheck.rules.transformer_load import RULE, Overdrawn, PrimaryUnprotected, SagsAtPullIn

ROOFTOP = """\
part rooftop "A unit with a transformer"
rating mca 1 A
terminal primary-hot hot
terminal primary-neutral line
terminal ground ground
terminal secondary-r class-2, holds 4
terminal secondary-c class-2-common, holds 4
transforms 120 V from primary-hot to primary-neutral into 24 V from secondary-r to secondary-c,
  capacity 40 VA, impedance 6 %
"""


def pulls_in(capacity: float) -> str:
    """A contactor of 35 VA at its pull-in on a small transformer."""
    text = CALLED.replace("class-2-transformer 40 VA", f"class-2-transformer {capacity} VA")
    text = text.replace("K is relay-spst", "K is contactor")
    return text.replace("K.common", "K.line-1").replace("K.no", "K.load-1")


def beside(watts: float) -> str:
    """A heater that stands on the same transformer."""
    return f"V1 is heater {watts} W 24 V in T1\nat T1\n  T1.secondary-r -- V1.a\n  T1.secondary-c -- V1.b\n"


@pytest.mark.parametrize("text", [COOLING, CALLED])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


@pytest.mark.parametrize(
    ("capacities", "raised"), [((18, 18, 4), False), ((18, 18, 4.1), True), ((18, 18, 18), True)]
)
def test_all_that_draws_at_once_is_added(capacities: tuple[float, ...], raised: bool) -> None:
    found = seen(RULE, valves("class-2-transformer 40 VA", *capacities))
    assert len(found) == raised
    for one in found:
        assert isinstance(one, Overdrawn)
        assert (one.subject, one.severity, one.stage, one.burns) == ("T1", "violation", "final", False)
        assert one.drawn.apparent == pytest.approx(sum(capacities))
        assert one.copper
        assert one.at.of.name == "T1"


def test_twice_its_rating_burns_it_out() -> None:
    # One that does not limit itself, and that nothing protects.
    text = valves("rooftop", 18, 18, 18)
    plain = ROOFTOP.replace("capacity 40 VA", "capacity 20 VA")
    (one,) = RULE.find(case(text, rooftop=plain))
    assert one.burns
    (one,) = RULE.find(case(text, rooftop=ROOFTOP))
    assert not one.burns


# ----------------------------------------------------------------- primaries


@pytest.mark.parametrize(("breaker", "raised"), [("20 A", False), ("25 A", True)])
def test_a_class_2_transformer_may_have_20_amperes_ahead(breaker: str, raised: bool) -> None:
    # 725.127
    found = seen(RULE, valves("class-2-transformer 40 VA", 10, breaker=breaker))
    assert len(found) == raised
    for one in found:
        assert isinstance(one, PrimaryUnprotected)
        assert (one.guard.name, one.most, one.severity, one.stage) == ("LP.3", 20, "violation", "final")
        assert one.copper


def test_a_larger_transformer_goes_by_table_450_3_b() -> None:
    # 300 VA / 120 V = 2.5 A, from 2 A to 9 A: 167 % = 4.175 A.
    (one,) = seen(RULE, valves("class-2-transformer 300 VA", 10))
    assert one.most == pytest.approx(4.175)


@pytest.mark.parametrize(("fuse", "most"), [(20, 6.25), (21, 4.175)])
def test_with_protection_at_its_secondary_a_primary_may_have_250_percent(fuse: float, most: float) -> None:
    # Table 450.3(B): 12.5 A of secondary may have 125 %, 15.6 A, and the next standard rating: 20 A.
    text = valves(f"fused-class-2-transformer with capacity 300 VA, current {fuse} A", 10)
    (one,) = seen(RULE, text)
    assert one.most == pytest.approx(most)


def test_a_transformer_inside_equipment_is_its_makers_business() -> None:
    text = COOLING.replace("breaker LP.1 15 A", "breaker LP.1 25 A").replace("PF 14/2", "PF 10/2")
    assert not seen(RULE, text)


def test_a_transformer_in_equipment_with_a_nameplate_is_too() -> None:
    text = valves("rooftop", 10, breaker="25 A")
    assert not list(RULE.find(case(text, rooftop=ROOFTOP)))
    plain = ROOFTOP.replace("rating mca 1 A\n", "")
    assert [type(one) for one in RULE.find(case(text, rooftop=plain))] == [PrimaryUnprotected]


# ------------------------------------------------------------------ pull-in


@pytest.mark.parametrize(("capacity", "raised"), [(16.5, True), (16.7, False)])
def test_the_moment_of_pulling_in_may_leave_20_of_24_volts(capacity: float, raised: bool) -> None:
    # 27.6 V open; 35 VA at 24 V through 15 %: 24 x 0.15 x 35 / VA off it; 20 V at 16.6 VA.
    found = seen(RULE, pulls_in(capacity))
    assert len(found) == raised
    for one in found:
        assert isinstance(one, SagsAtPullIn)
        assert one.drawn == pytest.approx(35)
        assert one.left == pytest.approx(27.6 - 24 * 0.15 * 35 / capacity)
        assert ([coil.name for coil in one.coils], one.state.calls) == (["K"], {"heat"})
        assert (one.subject, one.severity, one.stage) == ("T1", "advice", "final")


def test_what_holds_beside_it_is_added() -> None:
    # The contactor that pulls in beside 5 VA that stand: 40 VA, and 20 V at 18.9 VA.
    (one,) = (each for each in seen(RULE, pulls_in(18.8) + beside(5)) if isinstance(each, SagsAtPullIn))
    assert not seen(RULE, pulls_in(19) + beside(5))
    assert one.drawn == pytest.approx(40)


def test_too_much_all_the_time_hides_the_moment() -> None:
    text = pulls_in(16.5) + beside(9)
    assert {type(one) for one in seen(RULE, text)} == {Overdrawn, SagsAtPullIn}
    assert reported(text).count("transformer-load") == 1


def test_a_transformer_inside_a_device_without_a_nameplate_is_its_makers_business_too() -> None:
    unit = """\
part unit "A unit with a transformer inside"
terminal primary-hot hot
terminal primary-neutral line
terminal ground ground
terminal secondary-r class-2, holds 4
terminal secondary-c class-2-common, holds 4
t is class-2-transformer
primary-hot -- t.primary-hot
primary-neutral -- t.primary-neutral
t.secondary-r -- secondary-r
t.secondary-c -- secondary-c
"""
    text = valves("unit", 10, breaker="25 A")
    assert not list(RULE.find(case(text, unit=unit)))
