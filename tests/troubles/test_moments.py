"""A look and a reading at a moment of a call: an igniter has power for seconds only."""

from __future__ import annotations

import pytest

from tests.samples import board
from tests.troubles.test_faulted import FURNACE
from wirecheck.arguments import WrongArgument
from wirecheck.faults.listed import fault
from wirecheck.judge.case import Case
from wirecheck.judge.state_name import StateName
from wirecheck.language.asking import asked
from wirecheck.report.bench import answered
from wirecheck.troubles.bench import Answer, Bench
from wirecheck.troubles.found import found
from wirecheck.troubles.moments import later, moments
from wirecheck.troubles.next_reading import columns, outcomes
from wirecheck.troubles.observed import Look, Read, shows
from wirecheck.troubles.trials import Tried

MADE = board(FURNACE)
GOOD = Case(MADE)
IGNITER = "volts F.igniter.a F.N"


def does(bench: Bench, line: str) -> Answer:
    one = asked(line)
    assert one is not None
    return bench.do(one)


def volts(bench: Bench) -> float | None:
    reading = does(bench, IGNITER).reading
    assert reading is not None
    return reading.value


def test_an_igniter_has_power_from_eighteen_to_thirty_five_seconds_of_a_call() -> None:
    """By its part: the pressure switch proves in 3 s, it purges for 15 s, and warms for 17 s and a second."""
    bench = Bench(Case(MADE))
    does(bench, "call heat")
    assert volts(bench) == pytest.approx(0, abs=0.1)
    for wait, live in (("17 s", False), ("2 s", True), ("15 s", True), ("10 s", False)):
        does(bench, f"wait {wait}")
        assert volts(bench) == pytest.approx(120 if live else 0, abs=2), wait
    assert bench.words() == "heat called, after 44 s"
    assert answered(does(bench, "look")) == "On: F.gas-valve and F.inducer. Ran and stopped: F.igniter.\n"
    does(bench, "wait")
    assert bench.words() == "heat called"
    assert "F.blower" in answered(does(bench, "look"))


def test_what_opens_later_is_whole_until_then_and_open_after() -> None:
    """A valve that is shorted blows the fuse as it opens, 35 s after the call."""
    shorted = fault("short F.gas-valve.a to F.gas-valve.b", GOOD.circuit)
    bench = Bench(Case(MADE, None, (shorted,)))
    does(bench, "call heat")
    assert bench.opened == ("F.fuse",)
    assert answered(does(bench, "wait 20 s")) == "Now: heat called, after 20 s.\n"
    assert answered(does(bench, "look")) == "On: F.igniter and F.inducer.\n"
    does(bench, "wait 20 s")
    assert "Open by itself: F.fuse." in answered(does(bench, "look"))
    does(bench, "call nothing")
    assert bench.opened == ("F.fuse",)


@pytest.mark.parametrize("line", ["wait 20", "wait 20 V", "wait 9 h", "wait soon"])
def test_a_wait_is_a_time(line: str) -> None:
    bench = Bench(Case(MADE))
    with pytest.raises(WrongArgument):
        does(bench, line)
    assert bench.after is None


def test_nothing_happens_while_one_waits_with_the_power_off() -> None:
    bench = Bench(Case(MADE))
    does(bench, "power off")
    with pytest.raises(WrongArgument, match="power is off"):
        does(bench, "wait 20 s")


def test_a_moment_stands_in_a_report_and_tells_what_the_end_does_not() -> None:
    told = found(
        f'found on "{MADE.title}"\nwith heat, after 20 s\nsaw F.igniter run\n'
        "read 120 V from F.igniter.a to F.N\n",
        GOOD,
    )
    state = StateName((), ("heat",), 20.0)
    assert not told.problems
    assert told.observations[0] == Look(state, "F.igniter", "runs", True)
    assert told.observations[-1] == Read(state, "volts", ("F.igniter.a", "F.N"), 120.0)
    burnt = Tried(MADE, (fault("F.igniter burnt out", GOOD.circuit),))
    stuck = Tried(MADE, (fault("F.door.b to F.igniter.a stuck open", GOOD.circuit),))
    assert [shows(burnt, told.observations[-1]), shows(stuck, told.observations[-1])] == [True, False]
    end = told.observations[-1]._replace(state=StateName((), ("heat",)), value=0.0)
    assert shows(burnt, end) and shows(stuck, end)


@pytest.mark.parametrize(
    "line", ["with heat, after 20 V", "with heat, after 7 h", "with heat, after 5 s, after 6 s"]
)
def test_a_moment_that_cannot_be_is_told(line: str) -> None:
    assert found(f'found on "{MADE.title}"\n{line}\n', GOOD).problems


def test_what_ran_before_a_moment_is_not_said_to_run_in_it() -> None:
    told = found(f'found on "{MADE.title}"\nwith heat, after 55 s\nsaw F.igniter not run\n', GOOD)
    assert [shows(Tried(MADE), one) for one in told.observations] == [True]


def test_what_goes_round_for_ever_has_each_of_its_moments() -> None:
    """Without a flame it tries three times, locks out for an hour, and begins again."""
    bad = Case(MADE, None, (fault("F.igniter burnt out", GOOD.circuit),))
    whole = bad.played(["heat"])
    assert whole.bounded
    late = whole.steps[-1].time + 600.0
    for after in (20.0, late):
        one = bad.standing({}, ["heat"], after)
        again = bad.until(["heat"], None, after)
        assert one is again.rest and all(step.time <= after + 1e-6 for step in again.steps)
    assert bad.until(["heat"], None, late).steps[-1].time > whole.steps[-1].time - 1


def test_a_reading_of_a_moment_tells_what_none_in_the_end_does() -> None:
    wrong = ("poor PF.black at SB, 15 ohm", "poor PF.white at SB, 15 ohm")
    tried = [Tried(MADE, (fault(each, GOOD.circuit),)) for each in wrong]
    good, heat = Tried(MADE), StateName((), ("heat",))
    table = columns(tried, good, [heat])
    (one,) = later(table, tried, good, [heat])
    assert one.state.after is not None and len(outcomes(one.volts)) == 2
    assert not later((*table, one), tried, good, [heat])
    assert not later(table, tried, good, [StateName(), heat._replace(after=20.0)])


def test_moments_are_those_that_last() -> None:
    """By its part: purged at 18 s, the surface hot at 33 s and cold at 48 s, the blower at 68 s."""
    times = [one.after for one in moments(Tried(MADE), StateName((), ("heat",)))]
    assert times == [10.0, 25.0, 43.0, 58.0]
    assert moments(Tried(MADE), StateName()) == ()
