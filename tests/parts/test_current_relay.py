"""A small compressor on a current relay: what is in as it starts, and what happens where it does not turn."""

from __future__ import annotations

import pytest

from tests.rules.hands import case, changed, seen
from wirecheck import files
from wirecheck.judge.case import Case
from wirecheck.judge.motor_limit import motor_limit
from wirecheck.language.reader import read
from wirecheck.parts.read import part
from wirecheck.rules import breaker_trips, start_capacitor

RIGHT = (files.folder("boards") / "reach-in-cooler" / "right.wire").read_text(encoding="utf-8")
NO_START = ("  SC.b -- CP.S\n", "")
RELAY = "CR is current-relay in E"
JUMPERED = (
    "  TH.2 -- CF.a -- pigtail -- OP.1\n  OP.3 -- CP.C\n",
    "  TH.2 -- CF.a -- CP.C -- pigtail -- OP.1 -- pigtail -- OP.3\n",
)
STRAIGHT = ("  W1.black -- EF.a -- pigtail -- TH.1\n  TH.2 -- CF.a", "  W1.black -- EF.a -- CF.a")


def events(board: Case) -> list[tuple[float, str, str]]:
    """When the relay, the start capacitor, the protector and the compressor do what, from a call on."""
    names = ("CR.contact", "SC", "OP", "CP.compressor")
    steps = board.played(["cool"]).steps
    return [
        (step.time, change.name, change.now)
        for step in steps
        for change in step.changes
        if change.name in names
    ]


def test_the_capacitor_is_in_until_it_turns() -> None:
    assert events(case(RIGHT)) == [
        (0.0, "CR.contact", "closed"),
        (0.0, "SC", "on"),
        (0.5, "CP.compressor", "on"),
        (0.5, "CR.contact", "open"),
        (0.5, "SC", "off"),
    ]


@pytest.mark.parametrize(("setting", "turns"), [("pick-up 33 A", True), ("pick-up 35 A", False)])
def test_the_relay_closes_on_the_current_of_a_rotor_that_stands(setting: str, turns: bool) -> None:
    """34.2 A go through its coil then: 35 A at 120 V, less what the wires lose."""
    board = case(changed(RIGHT, (RELAY, f"CR is current-relay with {setting} in E")))
    assert ("CP.compressor" in [name for _, name, _ in events(board)]) is turns


@pytest.mark.parametrize(("setting", "stays"), [("drop-out 6.9 A", True), ("drop-out 7.1 A", False)])
def test_it_opens_above_what_the_motor_runs_on(setting: str, stays: bool) -> None:
    found = seen(start_capacitor.RULE, changed(RIGHT, (RELAY, f"CR is current-relay with {setting} in E")))
    assert bool(found) is stays


def test_without_start_the_protector_opens_and_closes() -> None:
    told = [one for one in events(case(changed(RIGHT, NO_START))) if one[1] == "OP"]
    assert told[:2] == [(15.0, "OP", "open"), (135.0, "OP", "closed")]


def test_a_breaker_holds_through_a_start_and_not_for_ever() -> None:
    """35 A on a breaker of 20 A: it takes more than 8 s to open."""
    assert seen(breaker_trips.RULE, RIGHT) == []
    assert seen(breaker_trips.RULE, changed(RIGHT, NO_START)) == []
    (trips,) = seen(breaker_trips.RULE, changed(RIGHT, NO_START, JUMPERED))
    assert trips.flows > 30


@pytest.mark.slow
def test_one_without_a_thermostat_starts_too() -> None:
    told = case(changed(RIGHT, STRAIGHT, ("expect cool runs CP.compressor, CF\n", "")))
    assert told.at_rest.starts and not told.heaviest.starts
    assert "CP.compressor" in told.heaviest.running
    assert seen(breaker_trips.RULE, changed(RIGHT, STRAIGHT)) == []


def test_what_is_in_only_at_a_start_is_not_counted_for_its_breaker() -> None:
    board = case(RIGHT)
    assert board.circuit.windings_at_start == {"CP.run", "CP.start"}
    (zone,) = [one for one in board.zones if one.protection.name == "LP.5"]
    limit = motor_limit(board, (*zone.loads, *zone.windings), fuse=False)
    assert limit is not None and (limit.first, limit.most) == (15, pytest.approx(2.25 * 7 + 1.4))


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("contact goes from open to closed when a carries 5 A to b", None),
        ("contact goes from open to closed when a carries 5 V to b", "5 V is"),
        ("contact goes from open to closed when a carries 5 A to c", "There is no terminal called c"),
        ("contact goes from open to closed when a carries 5 A to d", "No contact is between a and d"),
    ],
)
def test_what_a_condition_on_current_may_name(line: str, said: str | None) -> None:
    text = (
        'part relay "Relay"\nterminal a contact\nterminal b contact\nterminal d contact\n'
        f"state contact open, closed\na -- b when contact is open or contact is closed\n{line}\n"
    )
    told = [problem.message for problem in part(read(text, "relay.wire")).problems]
    assert told == [] if said is None else said in told[0]
