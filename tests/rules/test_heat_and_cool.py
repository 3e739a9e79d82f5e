"""Two calls of different thermostats by which one machine heats and cools at once."""

from __future__ import annotations

import pytest

from tests.rules.hands import at, changed, reported, seen
from tests.rules.hookups import BENCH, HOOKUP, hooked
from wirecheck import files
from wirecheck.judge.case import Case
from wirecheck.rules import heat_and_cool
from wirecheck.rules.heat_and_cool import RULE, AtOnce

BOARDS = files.folder("boards") / "rules" / "heat-and-cool"
RIGHT = (BOARDS / "right.wire").read_text(encoding="utf-8")
WRONG = (BOARDS / "wrong.wire").read_text(encoding="utf-8")


def test_one_thermostat_makes_one_of_the_two_calls() -> None:
    assert not seen(RULE, RIGHT)


def test_of_two_each_can_make_one() -> None:
    (found,) = seen(RULE, WRONG)
    assert isinstance(found, AtOnce)
    assert (found.machine.name, found.heat.name, found.cool.name) == ("F", "F.W", "F.Y")
    assert [one.name for one in found.callers] == ["TD", "TU"]
    assert found.state.calls == {"TD.heat", "TU.cool"}
    assert (found.severity, found.stage, found.subject) == ("fault", "final", "F")
    assert at(WRONG, found).startswith("TU is heat-cool-thermostat")
    assert len(found.copper) == 2
    assert reported(WRONG) == ["heat-and-cool"]


@pytest.mark.parametrize(
    ("joined", "capped"),
    [("  UW.yellow -- TU.Y\n", "  cap UW.yellow\n"), ("  UW.white -- TU.W\n", "  cap UW.white\n")],
)
def test_a_second_thermostat_for_one_of_the_two_can_still_meet_the_other(joined: str, capped: str) -> None:
    assert len(seen(RULE, changed(WRONG, (joined, capped)))) == 1


def test_two_thermostats_that_make_the_same_call_agree() -> None:
    agree = changed(
        WRONG,
        ("  UW.yellow -- TU.Y\n", "  cap UW.yellow\n"),
        ("  DW.yellow -- TD.Y\n", "  cap DW.yellow\n"),
    )
    assert not seen(RULE, agree)


TWO = changed(
    HOOKUP,
    ("TS is stat\n", "TS is stat\nTT is stat\ncable TX 18/5 CL2 10 ft from F to TT\n"),
    ("  TW.red -- F.R\n", "  TW.red -- TX.red -- F.R\n"),
    ("  TW.yellow -- F.Y\n", "  TW.yellow -- TX.yellow -- F.Y\n"),
    ("at TS\n", "at TT\n  TX.red -- TT.Rh\n  TX.yellow -- TT.Y1\nat TS\n"),
)


def found(text: str, **parts: str) -> list[AtOnce]:
    return list(RULE.find(hooked(text, **parts)))


def test_a_machine_is_told_once_and_by_its_terminals() -> None:
    (one,) = found(TWO)
    assert (one.machine.name, one.heat.name, one.cool.name) == ("F", "F.W", "F.Y")
    assert [caller.name for caller in one.callers] == ["TS", "TT"]


@pytest.mark.parametrize("what", ["heat", "cool", "common"])
def test_a_machine_that_hears_only_one_of_them_cannot_be_at_odds(what: str) -> None:
    bench = "\n".join(
        line.replace(f", carries {what}", "") if line.startswith("terminal") else line
        for line in BENCH.splitlines()
    )
    assert not found(TWO, bench=bench + "\n")


def test_what_one_call_does_alone_is_no_matter_of_two() -> None:
    """A jumper between heat and cooling makes each call both: other rules tell it."""
    assert not found(changed(TWO, ("  TW.white -- F.W\n", "  TW.white -- F.W\n  F.W -- F.Y\n")))


@pytest.mark.parametrize(("volts", "told"), [(18.0, 1), (24.0, 1), (30.0, 0)])
def test_a_call_is_heard_from_some_volts_on(monkeypatch, volts: float, told: int) -> None:
    monkeypatch.setattr(heat_and_cool, "HEARD", volts)
    assert len(found(TWO)) == told


def test_a_thermostat_is_no_machine() -> None:
    """A thermostat has the same terminals, with the volts of both calls on them."""
    board: Case = hooked(TWO)
    assert {one.machine.name for one in RULE.find(board)} == {"F"}
