"""A report of what was found is read whole, and each mistake in it has its line."""

from __future__ import annotations

import pytest

from tests.samples import board
from tests.troubles.shed import SHED
from wirecheck.circuit.meter import Reading
from wirecheck.judge.case import Case
from wirecheck.judge.state_name import StateName
from wirecheck.troubles.found import found
from wirecheck.troubles.observed import Look, Read, like

OFF = StateName((("S1", "off"),))


def test_all_that_can_be_found_is_understood() -> None:
    told = found(
        'found on "Shed"\n'
        "with S1 off\n"
        "saw L1 not run\n"
        "read 120 V from W1.black to W1.white at A\n"
        "with nothing\n"
        "saw LP.3 trip\n"
        "saw L1 run\n"
        "saw L1 not stop\n"
        "saw L1 stop\n"
        "read OL from S1.line to S1.load, power off, W2.black off at A\n"
        "read 0.5 A in W1.black\n",
        Case(board(SHED)),
    )
    rest = StateName()
    assert told.problems == ()
    assert told.observations == (
        Look(OFF, "L1", "ran", False),
        Read(OFF, "volts", ("W1.black@A", "W1.white@A"), 120.0),
        Look(rest, "LP.3", "opens", True),
        Look(rest, "L1", "ran", True),
        Look(rest, "L1", "ran", True),
        Look(rest, "L1", "runs", True),
        Look(rest, "L1", "ran", True),
        Look(rest, "L1", "runs", False),
        Read(rest, "ohms", ("S1.line", "S1.load"), None, "off", ("W2.black@A",)),
        Read(rest, "amps", ("W1.black",), 0.5),
    )
    assert told.lines == (3, 4, 6, 7, 8, 8, 9, 9, 10, 11)


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("with S9 off", "there is nothing called S9 to set"),
        ("with heat", "nothing on this board makes that call"),
        ("saw L9 run", "there is nothing called L9 that runs. There are: L1"),
        ("saw L1 trip", "there is nothing called L1 that trips"),
        ("read 5 V from L1.hot to L1.cold", "L1.cold is no screw"),
        ("read 5 V from W1.black to W1.white at L1", "W1.black does not come to L1"),
        ("read 5 V from W1.black to L1.hot", "W1.black has two ends"),
        ("read 5 A from L1.hot to L1.neutral", "amperes are read in one thing"),
        ("read 5 ft from L1.hot to L1.neutral", "give"),
        ("read 120 V from L1.hot to L1.neutral, W9 off at A", "there is no wire W9"),
        ("box B octagon", "belongs in no report"),
    ],
)
def test_each_mistake_is_told(line: str, said: str) -> None:
    told = found(f'found on "Shed"\n{line}\n', Case(board(SHED)))
    assert [problem.span.line for problem in told.problems] == [2]
    assert said in told.problems[0].message


def test_a_report_is_for_its_board() -> None:
    told = found('found on "Barn"', Case(board(SHED)))
    assert "found on Barn" in told.problems[0].message


@pytest.mark.parametrize(
    ("told", "value", "agrees"),
    [
        (Reading(120.0, "V"), 114.0, True),
        (Reading(120.0, "V"), 96.0, False),
        (Reading(0.0, "V"), 0.9, True),
        (Reading(0.0, "V"), 24.0, False),
        (Reading(40.0, "V", phantom=True), 12.0, True),
        (Reading(40.0, "V", phantom=True), 120.0, False),
        (Reading(9.0, "A"), 7.5, True),
        (Reading(9.0, "A"), 2.0, False),
        (Reading(None, "ohm"), None, True),
        (Reading(0.2, "ohm"), None, False),
        (Reading(None, "ohm"), 12.0, False),
        (Reading(None, "ohm", through=("L1",)), 12.0, True),
        (Reading(None, "ohm", through=("L1",)), None, False),
        (Reading(None, "ohm", between=(4.0, 16.0)), 10.0, True),
        (Reading(None, "ohm", between=(4.0, 16.0)), 40.0, False),
    ],
)
def test_a_real_meter_may_be_a_little_off(told: Reading, value: float | None, agrees: bool) -> None:
    assert like(told, value) is agrees


def test_what_is_asked_at_a_bench_is_told_as_a_report_says_it() -> None:
    told = found('found on "Shed"\nset S1 off\nvolts L1.hot L1.neutral\n', Case(board(SHED)))
    helped = [one.help for one in told.problems]
    assert "with heat; with S1 down" in helped[0] and "read 26.2 V from F.R to F.C" in helped[1]
