"""Time: delays start anew after a break, bounds hold, and the same acts give the same steps."""

from __future__ import annotations

import functools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.parts.hookups import hookup
from tests.samples import wired
from wirecheck.circuit.call import STANDS_ON, play_call
from wirecheck.circuit.circuit import Circuit
from wirecheck.circuit.play import MOST_EVENTS, MOST_SECONDS, Act, Play, play

LAMP = """part {name} "A lamp on a control"
terminal hot hot "the hot"
terminal neutral neutral "the neutral"
calls go, hold
state control {states}
load lamp lamp from inner.b to neutral, 60 W at 120 V
inner is single
hot -- inner.a
{moves}
inner goes from open to closed when control is {lit}
inner goes from closed to open when not control is {lit}
"""
SINGLE = """part single "A contact"
terminal a contact "one"
terminal b contact "other"
positions open, closed
moved by time
a -- b when closed
"""


def controlled(states: str, lit: str, *moves: str) -> Circuit:
    """A lamp that a control lights in one of its states."""
    text = LAMP.format(name="controlled", states=states, lit=lit, moves="\n".join(moves))
    board = """board "A control"
panel LP 120/240 V, 10 kA available
breaker LP.1 15 A
X is controlled
cable W 14/2 NM-B 20 ft from LP to X
at LP
  W.black -- LP.1
  W.white -- LP.neutral
  W.bare -- LP.ground
at X
  W.black -- X.hot
  W.white -- X.neutral
  cap W.bare
"""
    return wired(board, {"controlled": text, "single": SINGLE})


DELAY = functools.cache(
    lambda: controlled(
        "off, on",
        "on",
        "control goes from off to on after 10 s when call go",
        "control goes from on to off after 4 s when not call go",
    )
)
GO = frozenset(("go",))


def lit(played: Play) -> list[tuple[float, str]]:
    return [
        (step.time, change.kind)
        for step in played.steps
        for change in step.changes
        if change.name == "X" and change.kind in ("runs", "stops")
    ]


def test_a_delay_runs_from_the_moment_its_condition_holds() -> None:
    assert lit(play(DELAY(), [Act(GO), Act()])) == [(10.0, "runs"), (14.0, "stops")]


@pytest.mark.parametrize("first", [0.5, 5.0, 9.999])
def test_a_delay_starts_anew_after_a_break(first: float) -> None:
    acts = [Act(GO, (), first), Act(frozenset(), (), 1.0), Act(GO)]
    assert lit(play(DELAY(), acts)) == [(first + 1.0 + 10.0, "runs")]


def test_a_delay_that_is_met_when_the_call_ends_has_been_met() -> None:
    assert lit(play(DELAY(), [Act(GO, (), 10.0), Act()])) == [(10.0, "runs"), (14.0, "stops")]


@given(st.floats(0.1, 60.0), st.floats(0.1, 60.0))
@settings(max_examples=25, deadline=None)
def test_a_call_in_two_parts_is_the_call(one: float, other: float) -> None:
    whole = play(DELAY(), [Act(GO, (), one + other), Act()])
    parts = play(DELAY(), [Act(GO, (), one), Act(GO, (), other), Act()])
    assert [kind for _, kind in lit(whole)] == [kind for _, kind in lit(parts)]
    assert [time for time, _ in lit(parts)] == pytest.approx([time for time, _ in lit(whole)])


def test_a_control_that_finds_no_rest_is_stopped_and_it_is_said() -> None:
    blinks = controlled(
        "dark, bright",
        "bright",
        "control goes from dark to bright after 1 s when call go",
        "control goes from bright to dark after 1 s",
    )
    played = play(blinks, [Act(GO)])
    assert played.bounded
    assert len(played.steps) <= MOST_EVENTS + 1
    told = play_call(blinks, ["go"])
    assert told.bound == "events"
    assert told.period == pytest.approx(2.0)
    assert told.ends is None
    assert len(told.steps) < 10


def test_a_control_that_turns_without_a_delay_is_stopped_too() -> None:
    buzzes = controlled(
        "a, b",
        "b",
        "control goes from a to b when call go",
        "control goes from b to a when call go",
    )
    played = play(buzzes, [Act(GO)])
    assert played.bounded and played.steps[-1].time == 0.0
    assert play_call(buzzes, ["go"]).bound == "events"


def test_what_would_come_after_the_bound_of_time_is_not_played() -> None:
    slow = controlled("off, on", "on", "control goes from off to on after 7 h when call go")
    assert MOST_SECONDS < 7 * 3600
    played = play(slow, [Act(GO)])
    assert played.bounded and lit(played) == []
    assert play_call(slow, ["go"]).bound == "time"
    assert not play(slow, [Act(GO, (), 60.0)]).bounded


def test_a_state_that_begins_anew_forgets_its_tries() -> None:
    tries = controlled(
        "idle, trying, resting, locked",
        "trying",
        "control goes from idle to trying when call go",
        "control goes to idle when not call go",
        "control goes from trying to locked after 5 s when control was trying 3 times",
        "control goes from trying to resting after 5 s",
        "control goes from resting to trying after 10 s",
    )
    stays = play(tries, [Act(GO)])
    assert [time for time, kind in lit(stays) if kind == "runs"] == [0.0, 15.0, 30.0]
    assert stays.rest.positions["X.control"] == "locked"
    # A hand that takes the call away and makes it again has three tries once more (common practice).
    again = play(tries, [Act(GO, (), 20.0), Act(frozenset(), (), 1.0), Act(GO)])
    assert [time for time, kind in lit(again) if kind == "runs"] == [0.0, 15.0, 21.0, 36.0, 51.0]


FURNACE = functools.cache(lambda: hookup("gas-furnace"))
ACTS = st.lists(
    st.builds(
        lambda calls, lasts: Act(frozenset(calls), (), lasts),
        st.sets(st.sampled_from(["heat", "cool", "fan"])),
        st.sampled_from([1.0, 3.0, 20.0, 40.0, 90.0, 400.0]),
    ),
    min_size=1,
    max_size=4,
)


@given(ACTS, st.sampled_from([None, ("F.limit", "open"), ("F.flame", "off"), ("F.pressure-switch", "open")]))
@settings(max_examples=12, deadline=None)
def test_whatever_is_done_to_a_furnace_is_done_in_order_and_the_same_again(
    acts: list[Act], held: tuple[str, str] | None
) -> None:
    circuit = FURNACE()
    fixed = dict([held] if held else [])
    played = play(circuit, acts, fixed)
    times = [step.time for step in played.steps]
    assert times == sorted(times)
    assert times[-1] <= sum(act.lasts or 0.0 for act in acts)
    for step in played.steps:
        for name, value in step.settled.positions.items():
            assert value in circuit.variables[name].values
        assert all(step.settled.positions[name] == value for name, value in fixed.items())
        # Gas without the inducer, or with an open limit, is what the controls are there to prevent.
        if "F.gas-valve" in step.settled.running:
            assert "F.inducer" in step.settled.running
            assert held in (None, ("F.flame", "off"))
    again = play(circuit, acts, fixed)
    assert [(s.time, s.changes, s.settled.volts) for s in played.steps] == [
        (s.time, s.changes, s.settled.volts) for s in again.steps
    ]


def test_a_call_is_told_from_its_making_to_rest() -> None:
    told = play_call(FURNACE(), ["heat"])
    starts = [s.time for s in told.steps for c in s.changes if c.kind == "runs" and c.name == "F.blower"]
    assert starts == [68.0]
    assert told.ends == 68.0 + STANDS_ON
    assert told.rest.running == told.before.running
    assert not told.bound and told.period is None
    # Common practice: post-purge of 15 s, and the blower off 90 s after the flame.
    stops = {c.name: s.time for s in told.steps for c in s.changes if c.kind == "stops"}
    assert stops["F.inducer"] == told.ends + 15 and stops["F.blower"] == told.ends + 90


def test_a_call_that_is_taken_away_early_ends_early() -> None:
    told = play_call(FURNACE(), ["heat"], off_after=20.0)
    assert "F.gas-valve" not in {c.name for s in told.steps for c in s.changes if c.kind == "runs"}
    assert told.rest.running == told.before.running


def test_a_lockout_comes_round_every_hour_and_four_minutes() -> None:
    # Common practice: three trials for ignition, then an hour of lockout, as long as the call stands.
    told = play_call(FURNACE(), ["heat"], {"F.flame": "off"})
    # 18 s to the igniter, 17 s of it, 7 s of trial; 60 s of rest and 39 s to each further trial's end.
    assert told.period == pytest.approx(3600 + 42 + 2 * 99)
    assert told.bound == "time" and told.ends is None


def test_the_call_of_another_device_comes_when_the_first_has_come_to_rest() -> None:
    # Common practice: a defrost that begins while cooling runs waits until the compressor has pumped down.
    told = play_call(hookup("walk-in-freezer"), ["cool", "defrost"], off_after=120.0)
    began = {c.name: s.time for s in told.steps for c in s.changes if c.kind == "call" and c.now == "on"}
    assert began == {"cool": 0.0, "defrost": 10.0}
    runs = {c.name: s.time for s in told.steps for c in s.changes if c.kind == "runs"}
    assert (runs["W.compressor"], runs["W.heater"]) == (10.0, 70.0)
    assert told.ends == 130.0
    whole = play_call(hookup("walk-in-freezer"), ["cool", "defrost"])
    assert whole.ends == max(s.time for s in whole.steps if s.settled.calls) + STANDS_ON
