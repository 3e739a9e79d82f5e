"""Which switches feel each other: many rooms cost many small tables."""

from __future__ import annotations

from tests.samples import SAMPLES, fed, wired
from wirecheck.circuit.positions import MOST_STATES, Group, combinations, groups


def rooms(count: int) -> str:
    """So many rooms, each a light on a switch of its own, on one breaker."""
    lines = ["box A junction 900 cu in", "cable W1 14/2 NM-B 10 ft from LP to A"]
    for n in range(count):
        lines += [f"S{n} is single-pole-switch in A", f"L{n} is lampholder 10 W in A"]
    lines += ["at LP", "W1.black -- LP.3", "W1.white -- LP.neutral", "at A"]
    hots = " -- ".join(f"pigtail -- S{n}.line" for n in range(count))
    neutrals = " -- ".join(f"pigtail -- L{n}.neutral" for n in range(count))
    lines += [f"W1.black -- {hots}", f"W1.white -- {neutrals}"]
    lines += [f"S{n}.load -- L{n}.hot" for n in range(count)]
    return fed(*lines)


def test_each_room_is_a_group_of_its_own() -> None:
    circuit = wired(rooms(20))
    switched = [group for group in groups(circuit) if group.switches]
    assert len(switched) == 20
    assert all(len(group.switches) == len(group.loads) == 1 for group in switched)
    assert sum(len(combinations(circuit, group)[0]) for group in switched) == 40


def test_switches_of_one_light_are_one_group() -> None:
    circuit = wired((SAMPLES / "stair-light.wire").read_text())
    (group,) = groups(circuit)
    assert set(group.switches) == {"S1", "S2"} and group.loads == {"L1"}


def test_a_switch_in_the_common_feed_joins_what_it_feeds() -> None:
    text = rooms(3).replace("W1.black -- LP.3", "W1.black -- S9.load\nLP.3 -- S9.line")
    text = text.replace("box A", "S9 is single-pole-switch in LP\nbox A")
    switched = [group for group in groups(wired(text)) if group.switches]
    assert [set(group.switches) for group in switched] == [{"S9", "S0", "S1", "S2"}]


def test_beyond_the_bound_positions_are_a_sample_that_says_so() -> None:
    circuit = wired(rooms(14))
    names = tuple(f"S{n}" for n in range(14))
    group = Group(names, frozenset(), frozenset(), frozenset(), frozenset())
    states, whole = combinations(circuit, group)
    assert not whole and len(states) <= MOST_STATES
    alone = [state for state in states if list(state.values()).count("off") == 1]
    assert len(alone) == 14
    assert combinations(circuit, group) == (states, whole)
