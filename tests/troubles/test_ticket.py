"""A ticket hides one fault that shows, and is worth what finding it took."""

from __future__ import annotations

import pytest

from tests.samples import board
from tests.troubles.shed import SHED
from wirecheck.arguments import WrongArgument
from wirecheck.faults.listed import fault
from wirecheck.judge.case import Case
from wirecheck.language.asking import NotUnderstood, asked
from wirecheck.troubles.bench import Bench
from wirecheck.troubles.course import complaints
from wirecheck.troubles.diagnosis import Shop
from wirecheck.troubles.ticket import NoTicket, score, sheet, shown, ticket

SHOP = Shop(board(SHED))


@pytest.mark.slow
def test_the_same_seed_gives_the_same_ticket_and_every_one_shows() -> None:
    truths = {ticket(SHOP, seed).truth for seed in range(40)}
    assert len(truths) > 5
    assert truths == {ticket(Shop(board(SHED)), seed).truth for seed in range(40)}
    for truth in truths:
        assert complaints(SHOP, (truth,))


def test_a_ticket_is_as_hard_as_it_is_asked_to_be() -> None:
    for readings in (0, 1, 2, 3):
        try:
            one = ticket(SHOP, 7, readings)
        except NoTicket:
            continue
        assert len(one.course.readings) == readings
    with pytest.raises(NoTicket, match="no fault of this board takes 40 readings"):
        ticket(SHOP, 7, 40)


def test_a_ticket_can_be_one_of_a_list() -> None:
    burnt = fault("L1 burnt out", SHOP.good.circuit)
    short = fault("short W1.black to W1.white at A through 2 ohm", SHOP.good.circuit)
    assert ticket(SHOP, 3, among=[burnt]).truth.fault == burnt
    assert ticket(SHOP, 3, among=[short]).truth.fault == short
    ground = fault("open W1.bare at A", SHOP.good.circuit)
    with pytest.raises(NoTicket, match="none of these faults shows"):
        ticket(SHOP, 3, among=[ground])


def test_points_are_the_least_effort_against_what_was_taken() -> None:
    one = ticket(SHOP, 1)
    least = score(one, 0, 0)
    assert least.points == 100
    assert score(one, 2 * least.least, 0).points == 50
    # A part that is changed for nothing costs eight readings.
    assert score(one, least.least, 1).taken == least.least + 8


def test_the_sheet_has_every_fault_that_shows() -> None:
    rows = sheet(SHOP)
    assert {row.suspect for row in rows} == set(shown(SHOP))
    assert all(row.complaints == complaints(SHOP, (row.suspect,)) for row in rows)


def test_a_bench_counts_what_each_thing_takes() -> None:
    bench = Bench(Case(board(SHED)))
    far = bench.do(asked("volts L1.hot L1.neutral"))
    near = bench.do(asked("volts L1.hot L1.ground"))
    assert (far.effort, near.effort) == (3, 1)
    assert bench.do(asked("look")).effort == 0
    live = bench.do(asked("ohms S1.line S1.ground"))
    assert live.effort > 5 and "de-energize" in live.unsafe
    off = bench.do(asked("power off"))
    assert off.state == "power off"
    assert not bench.do(asked("ohms S1.line S1.load")).unsafe
    assert bench.do(asked("lift W2.black@A")).unsafe == ""
    assert bench.do(asked("ohms W2.black@A S1.load")).reading.text == "OL"
    assert bench.do(asked("land W2.black@A")).state == "power off"
    assert bench.do(asked("look")).seen.runs == frozenset()
    with pytest.raises(WrongArgument):
        bench.do(asked("land W2.black@A"))
    with pytest.raises(WrongArgument):
        bench.do(asked("call heat"))
    bench.do(asked("power on"))
    assert "proved dead" in bench.do(asked("lift W2.black@A")).unsafe


@pytest.mark.parametrize("line", ["volt A B", "volts A", "power", "set S1", "look here", "x" * 600])
def test_what_is_not_understood_is_said(line: str) -> None:
    with pytest.raises(NotUnderstood):
        asked(line)
