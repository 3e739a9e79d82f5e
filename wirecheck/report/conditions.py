"""Conditions of a part in words, as one would say them at the bench."""

from __future__ import annotations

from wirecheck.language.syntax import (
    AllOf,
    AnyOf,
    Called,
    Condition,
    HasVoltage,
    InPosition,
    IsState,
    Negation,
    Runs,
    WasState,
)


def words(condition: Condition) -> str:
    """A condition in words.

    >>> from wirecheck.language.syntax import Span, Word
    >>> here = Span(1, 1, 1, 1)
    >>> closed = IsState(Word("limit", here), Word("closed", here))
    >>> words(AllOf((closed, Negation(Runs(Word("blower", here))))))
    'limit is closed and blower does not run'
    """
    match condition:
        case AnyOf(facts):
            return " or ".join(words(fact) for fact in facts)
        case AllOf(facts):
            return " and ".join(_grouped(fact) for fact in facts)
        case Negation(fact):
            return _denied(fact)
        case IsState(name, state):
            return f"{name.text} is {state.text}"
        case InPosition(position):
            return f"it stands at {position.text}"
        case Runs(load):
            return f"{load.text} runs"
        case HasVoltage(terminal, volts, reference):
            return f"{terminal.text} has {volts.text} or more to {reference.text}"
        case WasState(name, state, times):
            return f"{name.text} was {state.text} {times} times"
        case Called(call):
            return f"{call.text} is called for"


def _grouped(fact: Condition) -> str:
    return f"({words(fact)})" if isinstance(fact, AnyOf) else words(fact)


def _denied(fact: Condition) -> str:
    match fact:
        case IsState(name, state):
            return f"{name.text} is not {state.text}"
        case InPosition(position):
            return f"it does not stand at {position.text}"
        case Runs(load):
            return f"{load.text} does not run"
        case HasVoltage(terminal, volts, reference):
            return f"{terminal.text} has less than {volts.text} to {reference.text}"
        case Called(call):
            return f"{call.text} is not called for"
        case _:
            return f"not ({words(fact)})"
