"""The ranges of values: each can be read, holds what is in use, and keeps to the bounds of the solver."""

from __future__ import annotations

import itertools

import pytest

from tests.samples import board, fed
from wirecheck.circuit.phasor import LARGEST, SMALLEST
from wirecheck.language.quantity import quantity
from wirecheck.language.ranges import RANGES, astray
from wirecheck.language.reader import read
from wirecheck.language.syntax import Span

HERE = Span(1, 1, 1, 1)
EVERY = [(use, dimension) for use, listed in RANGES.items() for dimension in listed]


@pytest.mark.parametrize(("use", "dimension"), EVERY)
def test_a_range_is_of_its_dimension_and_lets_its_own_ends_in(use: str, dimension: str) -> None:
    within = RANGES[use][dimension]
    least, most = within.ends
    assert least < most
    assert within.why
    for written in (within.least, within.most):
        if written[0] == "-":
            continue
        value = quantity(written.replace(",", ""), HERE)
        assert value.dimension == dimension
        assert astray(value, use) is None
        assert astray(value._replace(value=most * 1.01), use)
        assert astray(value._replace(value=least - abs(least) * 0.01 - 1e-6), use)


def test_whatever_is_let_in_stands_within_the_bounds_of_the_solver() -> None:
    def ends(use: str) -> list[float]:
        return [end for within in RANGES[use].values() for end in within.ends]

    volts, factor = RANGES["volts"]["voltage"].ends, RANGES["power factor"]["percent"].ends
    draws, surges = RANGES["draw"], RANGES["surge"]
    watts = [end for unit in ("power", "apparent-power", "horsepower") for end in draws[unit].ends]
    drawn = [watt / share for watt, share in itertools.product(watts, factor)]
    drawn += [amps * volt for amps, volt in itertools.product(draws["current"].ends, volts)]
    started = [apparent * ratio for apparent, ratio in itertools.product(drawn, surges["ratio"].ends)]
    started += [*surges["apparent-power"].ends]
    ohms = [volt**2 / apparent for volt, apparent in itertools.product(volts, [*drawn, *started])]
    amps = [apparent / volt for volt, apparent in itertools.product(volts, drawn)]
    secondaries = [
        volt**2 / capacity * share
        for volt, capacity, share in itertools.product(ends("winding"), ends("capacity"), ends("impedance"))
    ]
    sources = [volt / available for volt, available in itertools.product((120.0, 120.0), ends("available"))]
    for value in (*ohms, *amps, *started, *secondaries, *sources):
        assert SMALLEST < value < LARGEST


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("ambient 500 C", "500 C is too much: the air around wires is between -18 C and 150 C"),
        ("breaker LP.5 0 A", "0 A is too little: a breaker is between 0.1 A and 10,000 A"),
        ("panel Q 120 V, 0.000001 A available", "0.000001 A is too little: the current that a panel has"),
        ("cable W 14/2 NM-B 0.00001 in from LP to LP", "0.00001 in is too little: a length is between"),
        ("box A device 0.001 cu in", "0.001 cu in is too little: the volume of a box is between"),
        ("X is class-2-transformer 0 VA", "0 VA is too little: the capacity of a transformer is between"),
        ("X is fuse 0 A", "0 A is too little: a fuse or a breaker is between 1 mA and 10,000 A"),
        ("X is lampholder 0.0000000000000001 W", "0.0000000000000001 W is too little: what a load draws is"),
        ("X is fused-disconnect with fuse 0 A", "0 A is too little: a fuse or a breaker is between"),
        ("X is gas-furnace with inducer 99999999 A", "99999999 A is more than any board can have"),
        ("X is gas-furnace with inducer 99999 A", "99999 A is too much: what a load draws is between"),
    ],
)
def test_a_value_out_of_its_range_is_told_with_the_range_where_it_stands(line: str, said: str) -> None:
    (problem,) = board(fed(line)).problems
    assert problem.rule == "syntax"
    assert problem.message.startswith(said)
    assert problem.span.line == 4
    assert problem.span.column > 1


def test_a_rating_is_held_to_what_its_part_uses_it_for() -> None:
    made = {
        "lamp": 'part lamp "A lamp"\nrating power 60 W or 0 W\nterminal a hot\nterminal b neutral\n'
        "load lamp lamp from a to b, power at 120 V\n",
        "pair": 'part pair "Two"\nrating power 60 W\none is lamp with power power\n',
    }
    (problem,) = board(fed("X is lamp"), made).problems
    assert problem.message.endswith("0 W is too little: what a load draws is between 0.001 W and 10,000 kW.")
    whole = made | {"lamp": made["lamp"].replace(" or 0 W", "")}
    (problem,) = board(fed("X is pair with power 0 W"), whole).problems
    assert problem.message == "0 W is too little: what a load draws is between 0.001 W and 10,000 kW."


def test_counts_begin_at_one() -> None:
    (problem,) = read('part p "x"\nterminal a hot, holds 0').problems
    assert problem.message == "0 is too few: 1 is the least here"
