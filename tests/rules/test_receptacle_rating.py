"""Receptacles against the rating of their circuit: NEC 210.21(B)(1), Table 210.21(B)(3), 210.18."""

from __future__ import annotations

import pytest

from tests.judge.test_guards import RANGE
from tests.rules.circuits import outlet
from tests.rules.hands import CHAIN, STAIR, case, changed, reported, seen
from wirecheck.rules.receptacle_rating import RULE, Misfit, NoSuchCircuit, SmallAlone, Starved

PLUG = """\
part plug "Two faces of no rating"
terminal hot hot
terminal neutral neutral
terminal ground ground
outlet top from hot to neutral
outlet bottom from hot to neutral
"""


@pytest.mark.parametrize("text", [STAIR, CHAIN, RANGE])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


@pytest.mark.parametrize(
    ("part", "breaker", "kind"),
    [
        # Table 210.21(B)(3), a duplex being two receptacles; 210.21(B)(1) for a single one alone.
        ("duplex-receptacle 15 A", 15, None),
        ("duplex-receptacle 20 A", 15, Misfit),
        ("duplex-receptacle 15 A", 20, None),
        ("duplex-receptacle 20 A", 20, None),
        ("duplex-receptacle 20 A", 30, Misfit),
        ("single-receptacle 15 A", 20, SmallAlone),
        ("single-receptacle 20 A", 20, None),
        ("single-receptacle 20 A", 15, None),
        ("single-receptacle 30 A", 30, None),
        ("duplex-receptacle 20 A", 25, NoSuchCircuit),
    ],
)
def test_receptacles_fit_their_circuit(part: str, breaker: int, kind: type | None) -> None:
    found = seen(RULE, outlet(part, f"{breaker} A", "10/2 NM-B 20 ft"))
    assert [type(one) for one in found] == ([kind] if kind else [])
    for one in found:
        assert (one.subject, one.severity, one.stage, one.at.span.line) == ("R1", "violation", "trim", 5)
        assert (one.guard.amps, one.rated) == (breaker, one.outlet.amps)
        assert one.copper


@pytest.mark.parametrize(("breaker", "kind"), [(40, Starved), (50, None), (60, SmallAlone)])
def test_a_ranges_outlet_on_a_small_breaker_starves(breaker: int, kind: type | None) -> None:
    # Table 210.21(B)(3): a 40 A circuit may have a 50 A range's receptacle, 30 A may not.
    found = seen(RULE, changed(RANGE, ("50 A 2-pole", f"{breaker} A 2-pole")))
    if breaker == 40:
        assert not found
        (one,) = seen(RULE, changed(RANGE, ("50 A 2-pole", "30 A 2-pole")))
        assert (type(one), one.severity, one.rated) == (kind, "fault", 50)
    else:
        assert [type(one) for one in found] == ([kind] if kind else [])


def test_with_a_load_beside_it_a_receptacle_is_not_alone() -> None:
    text = outlet("single-receptacle 20 A", "15 A")
    beside = text.replace(
        "at B\n", "L1 is lampholder 60 W in B\nat B\n  R1.hot -- L1.hot\n  R1.neutral -- L1.neutral\n"
    )
    assert [type(one) for one in seen(RULE, beside)] == [Misfit]


def test_each_device_is_told_once() -> None:
    text = changed(CHAIN, ("LP.3 20 A", "LP.3 15 A"))
    assert [one.subject for one in seen(RULE, text)] == ["G1", "R1"]


def test_a_face_of_unknown_rating_is_not_judged() -> None:
    text = outlet("plug", "15 A")
    assert not list(RULE.find(case(text, plug=PLUG)))


def test_a_breaker_too_large_for_its_wire_is_what_has_to_be_changed() -> None:
    for part, breaker in (
        ("duplex-receptacle 20 A", 30),
        ("single-receptacle 15 A", 20),
        ("duplex-receptacle 15 A", 25),
    ):
        text = outlet(part, f"{breaker} A")
        assert len(seen(RULE, text)) == 1
        assert reported(text) == ["overcurrent-protection"]
    small = changed(RANGE, ("50 A 2-pole", "30 A 2-pole"), ("6/3 NM-B", "12/3 NM-B"))
    assert "receptacle-rating" not in reported(small)
    assert "receptacle-rating" in reported(outlet("duplex-receptacle 20 A", "15 A"))


def test_it_is_no_matter_of_the_rough_in() -> None:
    assert not reported(outlet("duplex-receptacle 20 A", "15 A"), stage="rough-in")
