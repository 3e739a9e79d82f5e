"""The two wires in a box whose swap puts a light right, where there are two."""

from __future__ import annotations

import itertools

import pytest

from tests.rules.hands import STAIR, case, changed
from tests.samples import fed
from wirecheck.judge.switch_swaps import swap
from wirecheck.judge.targets import group_of, targets


def swapped(text: str, name: str, *switches: str) -> tuple[str, ...] | None:
    """The screws whose wires are swapped, by name."""
    board = case(text)
    (target,) = targets(board.circuit, name)
    group = group_of(board, target)
    assert group is not None
    found = swap(board, target, group, switches)
    return None if found is None else tuple(screw.name for screw in found)


def test_two_wires_of_one_switch() -> None:
    text = changed(
        STAIR,
        ("W1.black -- S1.common", "W1.black -- S1.traveler-2"),
        ("W2.red -- S1.traveler-2", "W2.red -- S1.common"),
    )
    assert swapped(text, "L1", "S1", "S2") == ("S1.common", "S1.traveler-2")


def gang(*joins: str, rooms: int = 2) -> str:
    """Switches and lamps in one box, all fed by one cable."""
    numbers = range(1, rooms + 1)
    return fed(
        "box A device 60 cu in 4-gang",
        "cable W1 14/2 NM-B 20 ft from LP to A",
        *(f"S{number} is single-pole-switch in A" for number in numbers),
        *(f"L{number} is lampholder 60 W in A" for number in numbers),
        "at LP",
        "W1.black -- LP.3",
        "W1.white -- LP.neutral",
        "at A",
        "W1.black -- " + " -- ".join(f"S{number}.line" for number in numbers),
        "W1.white -- " + " -- ".join(f"L{number}.neutral" for number in numbers),
        *joins,
    )


def test_two_wires_between_two_switches_of_one_box() -> None:
    assert swapped(gang("S1.load -- L2.hot", "S2.load -- L1.hot"), "L1", "S1") == ("S1.load", "S2.load")


def test_a_swap_that_would_put_another_light_wrong_is_none() -> None:
    """L1 belongs on S1 and has S2's wire, which it shares with L2: swapping puts L2 on S1."""
    text = gang("S2.load -- L1.hot -- L2.hot")
    assert swapped(text, "L1", "S1") == ("S1.load", "S2.load")
    assert swapped(text + "expect L2 from S2\n", "L1", "S1") is None
    assert swapped(text + "expect L2 live\n", "L1", "S1") == ("S1.load", "S2.load")
    assert swapped(text + "expect L2 from S1\n", "L1", "S1") == ("S1.load", "S2.load")


def test_a_light_that_is_right_but_for_a_missing_wire_has_no_swap() -> None:
    assert swapped(gang("S2.load -- L2.hot"), "L1", "S1") is None


def test_neutrals_and_grounds_are_not_swapped() -> None:
    text = (
        gang("S2.load -- L2.hot").replace("L1.neutral -- L2.neutral", "L2.neutral")
        + "S1.load -- L1.neutral\n"
    )
    assert swapped(text + "W1.bare -- L1.hot\n", "L1", "S1") is None


def hall(fours: int) -> str:
    """A light from 3-way switches at both ends and 4-way switches between, all in one box."""
    names = [f"S{number}" for number in range(1, fours + 3)]
    joins = ["W1.black -- S1.common"]
    for number, (one, other) in enumerate(itertools.pairwise(names), start=1):
        for way in (1, 2):
            out = f"{one}.traveler-{way}" if number == 1 else f"{one}.out-{way}"
            into = f"{other}.traveler-{way}" if number == fours + 1 else f"{other}.in-{way}"
            joins.append(f"{out} -- {into}")
    joins += [f"{names[-1]}.common -- L1.hot", "W1.white -- L1.neutral"]
    return fed(
        "box A device 90 cu in 4-gang",
        "cable W1 14/2 NM-B 20 ft from LP to A",
        *(f"{name} is {3 if name in (names[0], names[-1]) else 4}-way-switch in A" for name in names),
        "L1 is lampholder 60 W in A",
        "at LP",
        "W1.black -- LP.3",
        "W1.white -- LP.neutral",
        "at A",
        *joins,
    )


NAMES = ("S1", "S2", "S3", "S4", "S5", "S6", "S7")


@pytest.mark.parametrize(("switches", "found"), [(6, ("S1.common", "S1.traveler-1")), (7, None)])
def test_more_than_six_switches_that_feel_each_other_are_not_searched(
    switches: int, found: tuple[str, str] | None
) -> None:
    text = hall(switches - 2)
    text = text.replace("W1.black -- S1.common", "W1.black -- S1.traveler-1")
    text = text.replace("S1.traveler-1 -- S2", "S1.common -- S2")
    assert swapped(text, "L1", *NAMES[:switches]) == found


@pytest.mark.parametrize(("switches", "found"), [(3, ("L1.hot", "S1.common")), (4, None)])
def test_between_many_screws_in_one_box_only_those_of_one_device_are_searched(
    switches: int, found: tuple[str, str] | None
) -> None:
    """43 pairs in 8 positions are 344 states, 87 pairs in 16 are 1392; 500 are worked out at most."""
    text = hall(switches - 2)
    text = text.replace("W1.black -- S1.common", "W1.black -- L1.hot")
    text = text.replace(f"S{switches}.common -- L1.hot", f"S{switches}.common -- S1.common")
    assert swapped(text, "L1", *NAMES[:switches]) == found
