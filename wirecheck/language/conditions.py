"""Conditions in words, as one would say them at the bench."""

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


def words(condition: Condition, of: str = "") -> str:
    """A condition as the end of a sentence that begins with "when" or "until".

    Parameters
    ----------
    of : the device whose part states it; its names are then told in full. Without it they are
        told as the part's file has them.

    Examples
    --------
    >>> from wirecheck.language.syntax import Span, Word
    >>> here = Span(1, 1, 1, 1)
    >>> limit = IsState(Word("limit", here), Word("open", here))
    >>> cooling = AllOf((Called(Word("cool", here)), Negation(limit)))
    >>> words(cooling)
    'cool is called for and limit is not open'
    >>> words(cooling, "F")
    'cool is called for and F.limit is not open'
    """
    inside = f"{of}." if of else ""
    match condition:
        case AnyOf(facts):
            return " or ".join(words(fact, of) for fact in facts)
        case AllOf(facts):
            return " and ".join(words(fact, of) for fact in facts)
        case Negation(fact):
            return _denied(fact, of)
        case IsState(name, state):
            return f"{inside}{name.text} is {state.text}"
        case InPosition(position):
            return f"{of or 'it'} is {position.text}"
        case Runs(load):
            return f"{inside}{load.text} runs"
        case HasVoltage(terminal, least, reference):
            return f"{inside}{terminal.text} has {least.text} or more to {inside}{reference.text}"
        case WasState(name, state, times):
            return f"{inside}{name.text} was {state.text} {times} times"
        case Called(call):
            return f"{call.text} is called for"


def _denied(fact: Condition, of: str) -> str:
    """That something is not so."""
    inside = f"{of}." if of else ""
    match fact:
        case Negation(denied):
            return words(denied, of)
        case IsState(name, state):
            return f"{inside}{name.text} is not {state.text}"
        case InPosition(position):
            return f"{of or 'it'} is not {position.text}"
        case Runs(load):
            return f"{inside}{load.text} does not run"
        case HasVoltage(terminal, least, reference):
            return f"{inside}{terminal.text} has less than {least.text} to {inside}{reference.text}"
        case WasState(name, state, times):
            return f"{inside}{name.text} was {state.text} fewer than {times} times"
        case Called(call):
            return f"{call.text} is not called for"
        case AnyOf() | AllOf():
            return f"it is not so that {words(fact, of)}"


def facts(condition: Condition) -> int:
    """How many facts a condition is made of.

    >>> from wirecheck.language.syntax import Span, Word
    >>> here = Span(1, 1, 1, 1)
    >>> facts(AllOf((Called(Word("cool", here)), Negation(Called(Word("heat", here))))))
    2
    """
    match condition:
        case Negation(fact):
            return facts(fact)
        case AllOf(several) | AnyOf(several):
            return sum(map(facts, several))
    return 1
