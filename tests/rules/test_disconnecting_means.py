"""Disconnects: in sight of the equipment, and of all its hots; NEC 2023 422.31, 424.19, 430.103, 440.14."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.hands import COOLING, LIGHT, STAIR, at, changed, seen
from tests.rules.motors import SMALL
from wirecheck.rules.disconnecting_means import RULE, BreakerAlone, InReach, OpensOneHot, OutOfSight

ROOT = Path(__file__).parents[2]
SHIPPED, OTHERS = ROOT / "boards/rules/disconnecting-means", ROOT / "tests/rules/boards/disconnecting-means"
RIGHT, WRONG = (SHIPPED.joinpath(f"{name}.wire").read_text(encoding="utf-8") for name in ("right", "wrong"))
BREAKER, SWITCH, ONE_HOT = (
    OTHERS.joinpath(f"{name}.wire").read_text(encoding="utf-8") for name in ("breaker", "switch", "one-hot")
)
RUN = "cable W1 12/2 NM-B 52 ft from LP to H"


@pytest.mark.parametrize("text", [RIGHT, STAIR, COOLING, LIGHT])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_a_unit_that_moved_away_from_its_disconnect() -> None:
    (found,) = seen(RULE, WRONG)
    assert isinstance(found, OutOfSight)
    assert (found.severity, found.stage, found.subject, found.nearest.name) == (
        "violation",
        "trim",
        "CU",
        "D",
    )
    assert found.distance == pytest.approx(62 * 0.3048, abs=1e-3)
    assert at(WRONG, found).startswith("D is disconnect-2-pole")
    assert (found.lock, len(found.copper)) == (False, 4)


CLOCK = (ROOT / "boards/water-heater-on-time-clock/right.wire").read_text(encoding="utf-8")


@pytest.mark.parametrize("lock", ["2-pole lockable", "2-pole", "2-pole, out of sight of WH"])
def test_a_time_clock_is_no_disconnect(lock: str) -> None:
    """Common practice: it turns on what somebody turned off at it."""
    text = changed(CLOCK, ("2-pole lockable", lock))
    found = seen(RULE, text)
    assert [one.nearest.name for one in found] == ["TP.24"] * ("out of" in lock)
    assert [at(text, one).split()[0] for one in found] == ["WH"] * ("out of" in lock)


def test_what_lies_behind_a_clock_that_is_out_of_sight_is_so_too() -> None:
    (found,) = seen(
        RULE, changed(CLOCK, ("2-pole lockable", "2-pole"), ("time-clock", "time-clock, out of sight of WH"))
    )
    assert (found.nearest.name, found.distance, found.said) == ("TC", None, True)


@pytest.mark.parametrize(("feet", "found"), [(50, 0), (51, 1)])
def test_fifty_feet_are_in_sight(feet: int, found: int) -> None:
    assert len(seen(RULE, WRONG.replace("62 ft", f"{feet} ft"))) == found
    assert len(seen(RULE, changed(BREAKER, ("52 ft", f"{feet} ft")))) == found


def test_a_breaker_near_by_is_a_disconnect_and_one_far_away_is_none() -> None:
    """The wires on both sides of the disconnect count, for the breaker."""
    plain = (
        RIGHT.replace("62 ft", "9 ft")
        .replace(" 5 ft from", " 61 ft from")
        .replace(" 6 ft from", " {} ft from")
    )
    (found,) = seen(RULE, plain.format(*3 * [61]).replace("9 ft from", "4 ft from"))
    assert found.nearest.name == "D"
    text = BREAKER.replace("H is baseboard-heater 1500 W 240 V", "H is condensing-unit")
    (found,) = seen(RULE, text)
    assert (found.severity, found.nearest.name, at(text, found)[:5]) == ("violation", "LP.2", "H is ")
    near = changed(text, ("52 ft", "44 ft"))
    # Outdoors, no line says that the breaker can be seen.
    (found,) = seen(RULE, near)
    assert isinstance(found, BreakerAlone) and (found.severity, found.nearest.name) == ("advice", "LP.2")
    assert not seen(RULE, changed(near, ("20 A 2-pole", "20 A 2-pole, within sight of H")))


@pytest.mark.parametrize(
    ("word", "kind"),
    [
        ("30 A, 6 ft from CU", None),
        ("30 A, 50 ft from CU", None),
        ("30 A, 51 ft from CU", OutOfSight),
        ("30 A, within sight of CU", None),
        ("30 A, out of sight of CU", OutOfSight),
        ("30 A, out of sight of CU, within sight of CU", OutOfSight),
    ],
)
def test_a_line_says_what_is_in_sight(word: str, kind: type | None) -> None:
    """What a line says goes before the length of the wire, either way."""
    for text in (RIGHT, WRONG):
        found = seen(RULE, changed(text, ("disconnect-2-pole 30 A", f"disconnect-2-pole {word}")))
        assert [type(one) for one in found] == ([] if kind is None else [kind])
        for one in found:
            assert one.said and (one.distance is None) == ("51" not in word)


@pytest.mark.parametrize(
    ("sights", "found"),
    [
        ("", 1),
        (", within sight of Q", 0),
        (", out of sight of Q", 1),
        (", within sight of Q, out of sight of H", 1),
        (", out of sight of Q, within sight of H", 0),
    ],
)
def test_a_box_stands_for_what_is_in_it(sights: str, found: int) -> None:
    text = changed(
        BREAKER,
        (
            "H is baseboard-heater 1500 W 240 V",
            "box Q square 42 cu in\nH is baseboard-heater 1500 W 240 V in Q",
        ),
        ("20 A 2-pole", f"20 A 2-pole{sights}"),
        ("to H", "to Q"),
        ("at H", "at Q"),
    )
    assert len(seen(RULE, text)) == found


@pytest.mark.parametrize("word", ["out of sight of CU", "80 ft from CU"])
def test_a_breaker_behind_a_switch_out_of_sight_is_no_nearer(word: str) -> None:
    """By its wire the breaker is 45 ft away, and it cannot be seen any better."""
    near = changed(RIGHT, ("62 ft", "40 ft"), ("30 A\n", f"30 A, {word}\n"))
    (found,) = seen(RULE, near)
    assert isinstance(found, OutOfSight) and (found.nearest.name, found.said) == ("D", True)
    (breaker,) = (line for line in near.split("\n") if line.startswith("breaker"))
    assert not seen(RULE, changed(near, (breaker, f"{breaker}, within sight of CU")))


def test_a_lock_is_as_good_as_sight_but_for_refrigeration() -> None:
    (found,) = seen(RULE, BREAKER)
    assert (found.severity, found.lock, found.nearest.name) == ("advice", True, "LP.2")
    locked = changed(BREAKER, ("20 A 2-pole", "20 A 2-pole lockable"))
    assert not seen(RULE, locked)
    (found,) = seen(RULE, changed(locked, ("baseboard-heater 1500 W 240 V", "condensing-unit")))
    assert (found.severity, found.lock) == ("violation", False)
    # The breaker's lock will do behind a switch out of sight, too.
    (found,) = seen(RULE, SWITCH)
    assert (found.nearest.name, at(SWITCH, found)) == ("S", "S is double-pole-switch in A")
    assert not seen(RULE, changed(SWITCH, ("20 A 2-pole", "20 A 2-pole lockable")))


@pytest.mark.parametrize(("watts", "found"), [(300, 0), (301, 1)])
def test_small_appliances_have_their_breaker(watts: int, found: int) -> None:
    """422.31(A): up to 300 VA the branch circuit's breaker serves, wherever it is."""
    assert len(seen(RULE, changed(BREAKER, ("1500 W", f"{watts} W")))) == found


def test_lamps_and_control_circuits_are_no_equipment() -> None:
    text = changed(
        LIGHT,
        ("60 W", "600 W"),
    )
    assert not seen(RULE, text.replace(" ft ", "0 ft "))


def test_tied_breakers_open_together_and_others_do_not() -> None:
    two = changed(
        BREAKER,
        ("breaker LP.2 20 A 2-pole", "breaker LP.2 20 A\nbreaker LP.4 20 A{tie}"),
        ("LP.2.a", "LP.2"),
        ("LP.2.b", "LP.4"),
    )
    (found,) = seen(RULE, two.replace("{tie}", " tied to LP.2"))
    assert found.nearest.name == "LP.2 and LP.4"
    # Two handles that are two: another rule says it.
    assert not seen(RULE, two.replace("{tie}", ""))


@pytest.mark.parametrize("part", ["double-pole-switch", "line-voltage-thermostat"])
def test_a_switch_or_a_two_pole_thermostat_beside_it_will_do(part: str) -> None:
    text = changed(
        SWITCH,
        ("double-pole-switch", part),
        ("12 ft from LP to A", "52 ft from LP to A"),
        ("52 ft from A to H", "12 ft from A to H"),
    )
    assert not seen(RULE, text)


def test_one_pole_of_a_switch_in_a_circuit_of_two_hots() -> None:
    (found,) = seen(RULE, ONE_HOT)
    assert isinstance(found, OpensOneHot)
    assert (found.severity, found.stage, found.subject) == ("hazard", "trim", "S")
    assert (found.unit.name, found.screw.name, at(ONE_HOT, found)) == ("CU", "CU.L2", "W1.black -- S.line")
    assert len(found.copper) == 3
    # How far away the breaker is makes it no better.
    (found,) = seen(RULE, changed(ONE_HOT, ("22 ft", "122 ft")))
    assert isinstance(found, OpensOneHot)
    # It stands in the other hot.
    text = changed(
        ONE_HOT,
        ("W1.black -- S.line", "W1.white marked red -- S.line"),
        ("K1 -- S.load", "K2 -- S.load"),
        ("W1.white marked red -- K2", "W1.black -- K1"),
    )
    (found,) = seen(RULE, text)
    assert found.screw.name == "CU.L1"


def test_beside_a_disconnect_one_pole_may_start_and_stop_it() -> None:
    """430.84: what only starts and stops a motor need not open all its hots."""
    text = changed(
        RIGHT,
        ("CU is", "box A device 22.5 cu in\nS is single-pole-switch 20 A in A\nCU is"),
        ("raceway R1 LFNC 1/2 in 5 ft from D to CU", "raceway R1 LFNC 1/2 in 5 ft from A to CU\n"
         "wire K4 10 THWN black 2 ft from D to A\nwire K5 10 THWN red 2 ft from D to A"),
        ("black 6 ft from D", "black 6 ft from A"),
        ("red 6 ft from D", "red 6 ft from A"),
        ("K1 -- D.load-1\n  K2 -- D.load-2", "K4 -- D.load-1\n  K5 -- D.load-2\nat A\n  K4 -- S.line\n"
         "  K1 -- S.load\n  K2 -- K5"),
    )  # fmt: skip
    assert not seen(RULE, text)


def test_a_switch_of_three_ways_is_no_disconnect() -> None:
    """It never opens both of its ways."""
    text = changed(
        BREAKER,
        ("H is", "box A device 22.5 cu in\nS is 3-way-switch in A\nH is"),
        (RUN, "cable W1 12/2 NM-B 2 ft from LP to A\ncable W2 12/2 NM-B 12 ft from A to H"),
        ("at H\n  W1.black", "at A\n  W1.black -- S.common\n  W2.black -- S.traveler-1\n{}at H\n  W2.black"),
        ("  W1.white marked red -- H.L2\n  W1.bare", "  W2.white -- H.L2\n  W2.bare"),
    ).format("  W1.white marked red -- W2.white\n  W1.bare -- W2.bare -- pigtail -- S.ground\n")
    assert not seen(RULE, text)


def test_what_has_no_power_has_nothing_to_disconnect() -> None:
    assert not seen(RULE, changed(BREAKER, ("  W1.black -- LP.2.a\n  W1.white marked red -- LP.2.b\n", "")))


def test_a_heater_of_120_volts_goes_by_its_own_hot() -> None:
    """A unit of 120 V has one hot, and its neutral is nothing to open."""
    text = changed(
        BREAKER,
        ("20 A 2-pole", "20 A"),
        ("LP.2.a", "LP.2"),
        ("W1.white marked red -- LP.2.b", "W1.white -- LP.neutral"),
        ("1500 W 240 V", "1500 W 120 V"),
        ("W1.white marked red -- H.L2", "W1.white -- H.L2"),
    )
    (found,) = seen(RULE, text)
    assert (found.severity, found.nearest.name) == ("advice", "LP.2")


# -------------------------------------------------------------- near water

REACH = (OTHERS / "reach-of-the-water.wire").read_text(encoding="utf-8")


def test_a_spas_disconnect_within_reach_of_the_water() -> None:
    """NEC 680.13 (680.12 before 2017), in a public text of it: at least 5 ft from the inside walls."""
    (found,) = seen(RULE, REACH)
    assert isinstance(found, InReach)
    assert (found.subject, found.severity, found.stage) == ("D", "violation", "trim")
    assert found.distance == pytest.approx(3 * 0.3048)
    assert at(REACH, found).startswith("D is disconnect-2-pole")


@pytest.mark.parametrize(("said", "found"), [(", 4.9 ft", 1), (", 5 ft", 0), (", 50 ft", 0)])
def test_five_feet_are_out_of_reach(said: str, found: int) -> None:
    assert len(seen(RULE, changed(REACH, (", 3 ft", said)))) == found


def test_words_of_sight_say_no_distance() -> None:
    assert not seen(RULE, changed(REACH, (", 3 ft from SP", ", within sight of SP")))
    assert not seen(RULE, changed(REACH, (", 3 ft from SP", "")))


def test_a_breaker_near_the_water_is_in_reach_too() -> None:
    text = changed(REACH, (", 3 ft from SP", ""), ("50 A 2-pole gfci", "50 A 2-pole gfci, 4 ft from SP"))
    (found,) = seen(RULE, text)
    assert found.subject == "TP.32"


def test_what_nobody_sits_in_may_be_near_its_disconnect() -> None:
    assert not seen(
        RULE,
        changed(
            WRONG.replace("62 ft", "9 ft"), ("disconnect-2-pole 30 A", "disconnect-2-pole 30 A, 1 ft from CU")
        ),
    )


FIFTH, LONG = "breaker SP.5 15 A tied to SP.", "cable W1 14/3 NM-B 60 ft from SP to M"


@pytest.mark.parametrize("last", ["1", "3"])
def test_three_handles_that_are_tied_are_one(last: str) -> None:
    """NEC 2023 430.103, 430.107: the breakers open all lines at once, each tied to the next or all to one."""
    text = changed(
        SMALL,
        ("breaker SP.1 15 A 3-pole\n", f"breaker SP.1 15 A\nbreaker SP.3 15 A tied to SP.1\n{FIFTH}{last}\n"),
        ("cable W1 14/3 NM-B 20 ft from SP to D\ncable W2 14/3 NM-B 6 ft from D to M", LONG),
        (SMALL[SMALL.index("at D\n") : SMALL.index("at M\n")], ""),
        ("D is disconnect-3-pole 30 A\n", ""),
        ("expect M from D\n", ""),
    )
    for leg, breaker in zip("abc", "135", strict=True):
        text = text.replace(f"SP.1.{leg}", f"SP.{breaker}")
    (found,) = seen(RULE, text.replace("W2.", "W1."))
    assert isinstance(found, OutOfSight)
    assert found.nearest.name == "SP.1, SP.3 and SP.5"
    assert not seen(RULE, text.replace("W2.", "W1.").replace(LONG, LONG.replace("60", "40")))
