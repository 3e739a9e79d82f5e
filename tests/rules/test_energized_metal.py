"""Metal that stands at a voltage: by which copper, or through which load, it comes there."""

from __future__ import annotations

import pytest

from tests.rules.hands import COOLING, LIGHT, STAIR, at, case, changed, own, reported, seen
from wirecheck import files
from wirecheck.rules.energized_metal import RULE

WRONG = files.rule_board("energized-metal", "wrong")


@pytest.mark.parametrize("text", [STAIR, COOLING, LIGHT])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_a_hot_on_the_ground_screw_makes_the_metal_live() -> None:
    (live,) = seen(RULE, WRONG)
    assert live.volts == pytest.approx(120, rel=1e-3)
    assert at(WRONG, live).startswith("W1.black -- R1.ground")
    assert (live.severity, live.stage, live.subject) == ("hazard", "trim", "R1.ground")
    assert live.way.points[0] == "LP.leg-b"
    assert live.copper == {case(WRONG).uses.piece["R1.ground"]}


def test_metal_made_live_through_a_load_by_an_open_neutral() -> None:
    """The neutral tied to an open ground: no current, and full volts on the case. Two screws, one mistake."""
    text = own("energized-metal", "open-neutral")
    (live,) = seen(RULE, text)
    assert live.volts == pytest.approx(120, rel=1e-2)
    assert live.way is None
    assert at(text, live) == "W2.white -- W2.bare -- pigtail -- S1.ground"
    assert live.copper == {case(text).uses.piece[point] for point in ("S1.ground", "L1.ground")}


def test_where_no_join_is_to_blame_it_is_at_the_screw() -> None:
    text = changed(
        own("energized-metal", "open-neutral"),
        (
            "  W2.white -- L1.neutral\n  W2.bare -- L1.ground\n",
            "  W2.red -- L1.neutral\n  W2.bare -- L1.ground\n",
        ),
        ("W2.white -- W2.bare", "W2.red -- W2.bare"),
        ("cable W2 14/2", "cable W2 14/3"),
    )
    live = seen(RULE, text)
    assert [at(text, one) for one in live] == [
        "W2.red -- W2.bare -- pigtail -- S1.ground",
        "W2.bare -- L1.ground",
    ]


def test_what_is_live_by_one_join_is_one_mistake_and_all_of_its_copper() -> None:
    text = own("energized-metal", "several")
    (live,) = seen(RULE, text)
    assert at(text, live) == "W1.black -- W2.bare -- pigtail -- A.ground -- S1.ground"
    assert live.terminals[0].name == "A.ground"
    assert case(text).uses.piece["L1.ground"] in live.copper
    assert reported(text).count("energized-metal") == 1
    assert "open-ground" not in reported(text)


def test_copper_beyond_a_switch_is_live_by_the_same_join() -> None:
    text = changed(
        own("energized-metal", "several"),
        ("L1 is", "S2 is single-pole-switch in A\nL1 is"),
        (
            "W1.black -- W2.bare -- pigtail -- A.ground -- S1.ground",
            "W1.black -- pigtail -- S2.line -- pigtail -- A.ground\n  W2.bare -- S2.load",
        ),
    )
    (live,) = seen(RULE, text)
    assert live.copper == {case(text).uses.piece[point] for point in ("A.ground", "L1.ground")}
    assert len(live.copper) == 2


# Chapter 9 Table 11(A): Class 2 sources give up to 30 V where hands may touch them.
@pytest.mark.parametrize(("volts", "live"), [(29, False), (31, True), (99, True)])
def test_the_least_voltage_that_counts(volts: float, live: bool) -> None:
    """Two lamps in series on 120 V share it by their resistance; the metal hangs between them."""
    watts = [f"{1000 * volts / 120:.4f} W", f"{1000 * (120 - volts) / 120:.4f} W"]
    text = f"""\
board "A metal box between two heaters"
panel LP 120/240 V, 10 kA available
breaker LP.3 15 A
box A square 30.3 cu in metal
cable W1 14/2 NM-B 1 ft from LP to A
L1 is heater {watts[0]} in A
L2 is heater {watts[1]} in A
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
at A
  W1.black -- L1.a
  L1.b -- A.ground -- L2.a
  W1.white -- L2.b
"""
    found = seen(RULE, text)
    assert [one.volts for one in found] == ([pytest.approx(volts, abs=0.2)] if live else [])


def test_metal_that_only_a_switch_makes_live() -> None:
    text = changed(
        LIGHT,
        ("  W2.black -- L1.hot\n", "  W2.black -- L1.ground\n"),
        ("  W2.bare -- L1.ground\n", "  W2.bare -- L1.hot\n"),
    )
    (live,) = seen(RULE, text)
    assert live.settled.positions["S1"] == "on"
    assert [one.name for one in live.terminals] == ["L1.ground"]


def test_metal_at_an_unknown_voltage_is_not_called_live() -> None:
    """The ground hangs on the far side of an open switch."""
    text = changed(
        LIGHT,
        ("  W1.black -- S1.line\n", ""),
        ("  W2.black -- S1.load\n", "  W2.black -- S1.load -- W2.bare\n"),
        ("  W1.bare -- W2.bare -- pigtail -- S1.ground\n", "  W1.bare -- S1.ground\n"),
    )
    assert not seen(RULE, text)
