"""What switches do to a light or an outlet: the definition, written out once more, and its limits."""

from __future__ import annotations

import itertools
from types import SimpleNamespace

import pytest
from hypothesis import given
from hypothesis import strategies as some

from tests.samples import board, fed, wired
from wirecheck.judge.case import Case
from wirecheck.judge.targets import Tried, changes, group_of, target_of, targets, tried, turned_by, turned_in

ROOM = (
    "box A device 40 cu in",
    "cable W1 14/2 NM-B 10 ft from LP to A",
    "at LP",
    "W1.black -- LP.3",
    "W1.white -- LP.neutral",
    "at A",
)


def rows(values: dict[str, tuple[str, ...]], on: dict[tuple[str, ...], bool]) -> list[Tried]:
    """The rows of a table with these switches, their positions, and whether the target is on in each."""
    circuit = SimpleNamespace(variables={name: SimpleNamespace(values=each) for name, each in values.items()})
    settled = SimpleNamespace(circuit=circuit)
    return [Tried(dict(zip(values, key, strict=True)), 0.0, lit, settled) for key, lit in on.items()]


def by_definition(
    values: dict[str, tuple[str, ...]], on: dict[tuple[str, ...], bool], named: set[str]
) -> bool:
    """Among the positions of a named switch it is on in some and off in some; of others, alike in all."""
    for index, (name, own) in enumerate(values.items()):
        for others in itertools.product(*(each for other, each in values.items() if other != name)):
            seen = {on[(*others[:index], one, *others[index:])] for one in own}
            if len(seen) != (2 if name in named else 1):
                return False
    return True


@given(some.data())
def test_any_table_of_two_switches_is_judged_by_the_definition(data: some.DataObject) -> None:
    choices = [("up", "down"), ("off", "low", "high")]
    values = {name: data.draw(some.sampled_from(choices)) for name in ("S1", "S2")}
    on = {key: data.draw(some.booleans()) for key in itertools.product(*values.values())}
    for named in (set(), {"S1"}, {"S2"}, {"S1", "S2"}):
        assert turned_by(rows(values, on), sorted(named)) == by_definition(values, on, named)


def test_two_3_way_switches_and_one_of_three_positions() -> None:
    ways = {"S1": ("up", "down"), "S2": ("up", "down")}
    parity = {key: key[0] == key[1] for key in itertools.product(*ways.values())}
    assert turned_by(rows(ways, parity), ("S1", "S2"))
    assert not turned_by(rows(ways, parity), ("S1",))
    fan = {"S1": ("off", "low", "high")}
    assert turned_by(rows(fan, {("off",): False, ("low",): True, ("high",): True}), ("S1",))
    assert not turned_by(rows(fan, {("off",): True, ("low",): True, ("high",): True}), ("S1",))
    assert not turned_by(rows(fan, {("off",): False, ("low",): False, ("high",): True}), ())


def test_a_switch_that_the_target_does_not_feel_turns_nothing() -> None:
    assert not turned_by(rows({"S1": ("on", "off")}, {("on",): True, ("off",): False}), ("S1", "S2"))


def test_positions_that_were_not_tried_are_not_held_against_a_switch() -> None:
    """Of very many switches only a sample is tried."""
    values = {"S1": ("up", "down"), "S2": ("up", "down")}
    assert turned_by(rows(values, {("up", "up"): True, ("down", "down"): True}), ("S1", "S2"))
    assert not turned_by(rows(values, {("up", "up"): True, ("down", "up"): True}), ("S1", "S2"))


def test_the_switches_that_make_a_difference() -> None:
    values = {"S1": ("on", "off"), "S2": ("up", "down"), "S3": ("up", "down")}
    on = {key: key[0] == "on" and key[1] == "up" for key in itertools.product(*values.values())}
    table = rows(values, on)
    assert [name for name in values if changes(table, name)] == ["S1", "S2"]


def test_what_a_name_means() -> None:
    circuit = wired(
        fed(
            "L1 is lampholder 60 W",
            "R1 is duplex-receptacle 15 A",
            "R2 is split-receptacle 15 A",
            "BF is bath-fan",
        )
    )
    assert [target.name for target in targets(circuit, "L1")] == ["L1"]
    assert [target.name for target in targets(circuit, "BF.motor")] == ["BF"]
    # The two halves of a receptacle with its tabs in place are one.
    assert [target.name for target in targets(circuit, "R1")] == ["R1.top"]
    assert [target.name for target in targets(circuit, "R1.bottom")] == ["R1.bottom"]
    assert [target.name for target in targets(circuit, "R2")] == ["R2.top", "R2.bottom"]
    assert targets(circuit, "S9") == ()


def test_what_a_lamp_and_an_outlet_need_to_be_on() -> None:
    """A lamp what its part says, an outlet 85 % of its volts; ANSI C84.1 range B ends near it."""
    circuit = wired(fed("L1 is lampholder 60 W", "R1 is single-receptacle 15 A"))
    (lamp,), (outlet,) = targets(circuit, "L1"), targets(circuit, "R1")
    assert (lamp.a, lamp.b, lamp.rated, lamp.needs) == ("L1.hot", "L1.neutral", 120.0, 100.0)
    assert (outlet.a, outlet.b, outlet.rated, outlet.needs) == ("R1.hot", "R1.neutral", 120.0, 102.0)
    assert [lamp.glows(volts) for volts in (12.0, 12.1, 99.9, 100.0)] == [False, True, True, False]
    assert lamp == target_of(circuit.load["L1"])


def test_a_target_in_each_position_of_its_switches() -> None:
    lines = ("S1 is single-pole-switch in A", "L1 is lampholder 60 W in A", "L2 is lampholder 60 W in A")
    joins = ("W1.black -- S1.line", "S1.load -- L1.hot", "L1.neutral -- W1.white")
    case = Case(board(fed(*lines, *ROOM, *joins)))
    (lamp,), (other,) = targets(case.circuit, "L1"), targets(case.circuit, "L2")
    group = group_of(case, lamp)
    assert group is not None and group.switches == ("S1",)
    told = {tuple(row.positions.values()): (row.on, round(row.volts)) for row in tried(case, lamp, group)}
    assert told == {("on",): (True, 120), ("off",): (False, 0)}
    assert turned_in(case.circuit, lamp, group, ["S1"]) and not turned_in(case.circuit, lamp, group, [])
    exactly = tried(case, lamp, group)[0].volts
    assert [row.on for row in tried(case, lamp._replace(needs=exactly), group)] == [True, False]
    alone = group_of(case, other)
    assert alone is not None and alone.switches == ()
    assert [row.on for row in tried(case, other, alone)] == [False]


@pytest.mark.parametrize(("volts", "on"), [(138, True), (141, False)])
def test_an_outlet_is_tried_before_anything_trips(volts: int, on: bool) -> None:
    """A heater of 30 A on a 15 A breaker opens it; until then the outlet beside it has nearly 120 V."""
    receptacle = (
        'part face "A receptacle"\nterminal hot hot\nterminal neutral neutral\n'
        f"outlet plug from hot to neutral, rated 15 A, volts {volts} V\n"
    )
    text = fed(
        "R1 is face in A",
        "H1 is heater 3600 W, 120 V in A",
        *ROOM,
        "W1.black -- R1.hot -- H1.a",
        "R1.neutral -- H1.b -- W1.white",
    )
    case = Case(board(text, {"face": receptacle}))
    assert not case.board.problems
    (outlet,) = targets(case.circuit, "R1")
    group = group_of(case, outlet)
    assert group is not None
    (row,) = tried(case, outlet, group)
    assert (row.on, [opening.name for opening in row.opened]) == (on, ["LP.3"])
    assert row.settled.opened == ()


def test_where_there_is_no_switch_none_turns_it() -> None:
    assert turned_by(rows({}, {(): True}), ())
    assert not turned_by(rows({}, {(): True}), ("S1",))
