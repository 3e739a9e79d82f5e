"""Devices on their wires: the mistakes of the trim, and the line that is blamed for each."""

from __future__ import annotations

import itertools

import pytest

import wirecheck
from tests.rules.hands import CHAIN, COOLING, LIGHT, LOOP, STAIR, case, changed, line, said
from wirecheck.rules.devices import (
    dead_outlet,
)

RULES = (dead_outlet,)


def worse_than_advice(text: str) -> list[tuple[str, str]]:
    """Rule and line of everything that every rule finds."""
    return [
        (found.rule, line(text, found))
        for found in wirecheck.check(text).findings
        if found.severity != "advice"
    ]


@pytest.mark.parametrize("text", [STAIR, COOLING, LOOP, CHAIN, LIGHT])
def test_right_boards_are_right(text: str) -> None:
    board = case(text)
    assert not list(itertools.chain.from_iterable(rule(board) for rule in RULES))
    assert not worse_than_advice(text)


# ------------------------------------------------------------------- dead


def test_a_load_that_nothing_feeds() -> None:
    text = changed(LIGHT, ("W2.black -- L1.hot", "cap W2.black"))
    (found,) = said(dead_outlet, text)
    assert (found.severity, found.subject, found.stage) == ("fault", "L1", "final")


def test_a_loose_wire_explains_what_is_dead() -> None:
    text = changed(LIGHT, ("  W2.black -- L1.hot\n", ""))
    assert [rule for rule, _ in worse_than_advice(text)] == ["loose-conductor"]


def test_what_an_expectation_names_is_told_by_it() -> None:
    text = changed(LIGHT, ("W2.black -- L1.hot", "cap W2.black")) + "expect L1 from S1\n"
    assert not said(dead_outlet, text)


def test_a_switched_light_is_not_dead() -> None:
    assert not said(dead_outlet, LIGHT)
