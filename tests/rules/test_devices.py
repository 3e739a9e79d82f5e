"""Devices on their wires: the mistakes of the trim, and the line that is blamed for each."""

from __future__ import annotations

import itertools

import pytest

import wirecheck
from tests.rules.hands import CHAIN, COOLING, LIGHT, LOOP, STAIR, case, changed, line, said
from wirecheck.rules.devices import (
    dead_outlet,
    line_load_reversed,
)

RULES = (line_load_reversed, dead_outlet)


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


# ---------------------------------------------------------- line and load


def test_line_and_load_exchanged() -> None:
    text = CHAIN.replace("G1.line", "G1.x").replace("G1.load", "G1.line").replace("G1.x", "G1.load")
    (found,) = said(line_load_reversed, text)
    assert (found.subject, found.stage) == ("G1", "trim")
    assert line(text, found) == "W1.black -- G1.load-hot"


def test_half_of_the_feed_on_the_load_side() -> None:
    text = changed(
        CHAIN,
        ("W1.white -- G1.line-neutral", "W2.white -- G1.line-neutral"),
        ("W2.white -- G1.load-neutral", "W1.white -- G1.load-neutral"),
    )
    (found,) = said(line_load_reversed, text)
    assert line(text, found) == "W1.white -- G1.load-neutral"


def test_a_neutral_that_goes_around_the_device() -> None:
    text = changed(
        CHAIN,
        ("  W1.white -- G1.line-neutral\n  W2.black -- G1.load-hot\n  W2.white -- G1.load-neutral\n",
         "  W1.white -- W2.white -- pigtail -- G1.line-neutral -- pigtail -- G1.load-neutral\n"
         "  W2.black -- G1.load-hot\n"),
    )  # fmt: skip
    (found,) = said(line_load_reversed, text)
    assert "around" in found.message


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
