"""How many wires a screw holds, and which line put one too many there."""

from __future__ import annotations

import pytest

from tests.rules.hands import COOLING, LOOP, STAIR, changed, seen
from tests.samples import fed
from wirecheck.rules.terminal_crowding import RULE


@pytest.mark.parametrize("text", [STAIR, COOLING, LOOP])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


# NEC 2023 110.14(A): one conductor a screw unless marked for more.
@pytest.mark.parametrize(
    ("old", "new", "screw", "purposes"),
    [
        (
            "W1.bare -- W2.bare -- pigtail -- S1.ground",
            "W1.bare -- W2.bare -- S1.ground",
            "S1.ground",
            "ground",
        ),
        ("  W1.white -- W2.white\n", "  W1.white -- W2.white -- S1.common\n", "S1.common", "hot neutral"),
        ("  W2.red -- S1.traveler-2\n", "  W2.red -- S1.traveler-1\n", "S1.traveler-1", "hot"),
        ("  W3.bare -- L1.ground\n", "  W3.bare -- L1.neutral\n", "L1.neutral", "ground neutral"),
    ],
)
def test_two_wires_under_one_screw(old: str, new: str, screw: str, purposes: str) -> None:
    text = changed(STAIR, (old, new))
    (found,) = [one for one in seen(RULE, text) if one.subject == screw]
    assert (found.terminal.spec.holds, found.severity, found.stage) == (1, "violation", "trim")
    assert found.purposes == set(purposes.split())
    assert screw in text.splitlines()[found.at.span.line - 1]


def test_a_pigtail_back_from_a_screw_is_a_second_wire_under_it() -> None:
    """Of a screw between two pigtails both are under it, and the help asks for one."""
    back = "W1.bare -- pigtail -- S1.ground -- pigtail -- W2.bare"
    text = changed(STAIR, ("W1.bare -- W2.bare -- pigtail -- S1.ground", back))
    (found,) = seen(RULE, text)
    assert (found.subject, len(found.under)) == ("S1.ground", 2)


@pytest.mark.parametrize("row", ["K.T1 -- pigtail -- {}", "{} -- pigtail -- K.T1"])
@pytest.mark.parametrize("count", [2, 3])
def test_a_pigtail_to_another_screw_is_a_wire_under_both_whichever_stands_first(row: str, count: int) -> None:
    """NEC 2023 110.14(A): a contactor's screw that takes two holds no third, however its lines are turned."""
    heaters = [f"H{number} is heater 500 W in U" for number in range(count)]
    joins = [row.format(f"H{number}.a") for number in range(count)]
    text = fed("box U junction 300 cu in", "K is contactor-2-pole in U", *heaters, "at U", *joins)
    assert [(one.subject, len(one.under)) for one in seen(RULE, text)] == [("K.T1", 3)] * (count == 3)


def test_bars_give_each_join_a_screw_of_its_own() -> None:
    """NEC 2023 408.41: one neutral a screw; grounds as the bar's own marking allows, two here."""
    more = "cable W8 14/2 NM-B 9 ft from LP to B\n"
    each = more + "at LP\n  W8.white -- LP.neutral\n  W8.bare -- LP.ground\n"
    assert not seen(RULE, STAIR + each)
    both = changed(
        STAIR,
        ("  W1.white -- LP.neutral\n", "  W1.white -- W8.white -- LP.neutral\n"),
        ("  W1.bare -- LP.ground\n", "  W1.bare -- W8.bare -- LP.ground\n"),
    )
    (found,) = seen(RULE, both + more)
    assert found.subject == "LP.neutral"
    assert len(found.under) == 2


OUTLETS = """\
board "An outlet that feeds on"
panel LP 120/240 V, 10 kA available
breaker LP.3 15 A
box A device 20.3 cu in
box B device 20.3 cu in
cable W1 14/2 NM-B 11 ft from LP to A
cable W2 14/2 NM-B 12 ft from A to B
cable W3 14/2 NM-B 12 ft from A to B
R1 is {} in A
at A
"""


def on(part: str, *lines: str) -> list[tuple[str, int, bool]]:
    """What is crowded in A: the screw, how many wires are under it, and whether another screw is free."""
    text = OUTLETS.format(part) + "".join(f"  {line}\n" for line in lines)
    return [(one.subject, len(one.under), one.free) for one in seen(RULE, text)]


def test_a_side_with_two_screws_takes_a_wire_under_each() -> None:
    """Common practice: the screws of a receptacle's side pass on what comes to them, one wire each."""
    duplex = "duplex-receptacle"
    assert not on(duplex, "W1.black -- R1.hot", "W2.black -- R1.hot")
    assert not on(duplex, "W1.black -- R1.hot-2", "W2.black -- R1.hot-1")
    assert not on(duplex, "W1.black -- R1.hot", "W2.black -- R1.hot-1")
    assert not on(duplex, "W1.white -- R1.neutral-1", "W2.white -- W3.white -- pigtail -- R1.neutral-2")
    assert on(duplex, "W1.black -- W2.black -- R1.hot") == [("R1.hot", 2, True)]
    assert on(duplex, "W1.black -- R1.hot-1", "W2.black -- R1.hot-1") == [("R1.hot", 2, True)]
    assert on(duplex, "W1.black -- R1.hot", "W2.black -- R1.hot", "W3.black -- R1.hot") == [
        ("R1.hot", 2, False)
    ]
    assert on(duplex, "W1.black -- R1.hot-1", "W2.black -- W3.black -- R1.hot-2") == [("R1.hot", 2, False)]
    assert on(duplex, "W1.bare -- R1.ground", "W2.bare -- R1.ground") == [("R1.ground", 2, False)]
    assert on("split-receptacle", "W1.black -- R1.hot-top", "W2.black -- R1.hot-top") == [
        ("R1.hot-top", 2, False)
    ]


def test_the_wire_that_came_last_is_the_one_too_many() -> None:
    text = OUTLETS.format("duplex-receptacle") + (
        "  W1.black -- R1.hot\n  W2.black -- R1.hot\n  W3.black -- R1.hot\n"
    )
    (found,) = seen(RULE, text)
    assert text.splitlines()[found.at.span.line - 1] == "  W3.black -- R1.hot"
    assert [join.members[0].name for join in found.before] == ["W2.black"]
    assert [one.name for one in found.under] == ["W2.black", "W3.black"]


def test_a_clamp_plate_takes_two_wires() -> None:
    gfci = "gfci-receptacle"
    assert not on(gfci, "W1.black -- W2.black -- R1.line-hot")
    assert not on(gfci, "W1.white -- R1.line-neutral", "W2.white -- R1.line-neutral")
    assert on(gfci, "W1.black -- W2.black -- W3.black -- R1.load-hot") == [("R1.load-hot", 3, False)]
    assert on(gfci, "W1.bare -- W2.bare -- R1.ground") == [("R1.ground", 2, False)]
