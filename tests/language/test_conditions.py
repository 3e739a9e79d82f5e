"""Conditions of a part, said as a person would."""

from __future__ import annotations

import pytest

from wirecheck.language.conditions import words
from wirecheck.language.reader import read
from wirecheck.language.syntax import AllOf, AnyOf, Condition, JoinStatement, Negation


def condition(text: str) -> Condition:
    """What a line of a part says after `when`."""
    (join,) = read(f"a -- b when {text}\n", "test.wire").statements
    assert isinstance(join, JoinStatement) and join.when is not None
    return join.when


@pytest.mark.parametrize(
    ("text", "said", "denied"),
    [
        ("up", "it is up", "it is not up"),
        ("limit is open", "limit is open", "limit is not open"),
        ("fan runs", "fan runs", "fan does not run"),
        ("call heat", "heat is called for", "heat is not called for"),
        ("W has 18 V to C", "W has 18 V or more to C", "W has less than 18 V to C"),
        ("W has least to C", "W has least or more to C", "W has less than least to C"),
        ("L carries 16 A to M", "L carries 16 A or more to M", "L carries less than 16 A to M"),
        (
            "control was lighting 3 times",
            "control was lighting 3 times",
            "control was lighting fewer than 3 times",
        ),
        ("not fan runs", "fan does not run", "fan runs"),
    ],
)
def test_each_fact_and_its_denial(text: str, said: str, denied: str) -> None:
    fact = condition(text)
    assert (words(fact), words(Negation(fact))) == (said, denied)


@pytest.mark.parametrize(
    ("text", "said", "denied"),
    [
        ("up", "F is up", "F is not up"),
        ("limit is open", "F.limit is open", "F.limit is not open"),
        ("fan runs", "F.fan runs", "F.fan does not run"),
        ("call heat", "heat is called for", "heat is not called for"),
        ("W has 18 V to C", "F.W has 18 V or more to F.C", "F.W has less than 18 V to F.C"),
        (
            "control was lighting 3 times",
            "F.control was lighting 3 times",
            "F.control was lighting fewer than 3 times",
        ),
        ("not fan runs", "F.fan does not run", "F.fan runs"),
    ],
)
def test_of_a_device_the_names_are_told_in_full(text: str, said: str, denied: str) -> None:
    fact = condition(text)
    assert (words(fact, "F"), words(Negation(fact), "F")) == (said, denied)


def test_several_facts() -> None:
    assert words(condition("up and call heat or fan runs"), "F") == (
        "F is up and heat is called for or F.fan runs"
    )
    facts = (condition("up"), condition("fan runs"))
    assert words(Negation(AnyOf(facts)), "F") == "it is not so that F is up or F.fan runs"
    assert words(Negation(AllOf(facts)), "F") == "it is not so that F is up and F.fan runs"
