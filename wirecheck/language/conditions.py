"""Conditions in words, as one would say them at the bench."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from wirecheck.language.syntax import (
    AllOf,
    AnyOf,
    Called,
    Carries,
    Condition,
    HasVoltage,
    InPosition,
    IsState,
    Negation,
    Quantity,
    Runs,
    WasState,
    Word,
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
        case Runs():
            return f"{condition.named(of)} runs"
        case HasVoltage(terminal, least, reference):
            return f"{inside}{terminal.text} has {least.text} or more to {inside}{reference.text}"
        case Carries(terminal, least, other):
            return f"{inside}{terminal.text} carries {least.text} or more to {inside}{other.text}"
        case WasState(name, state, times):
            return f"{inside}{name.text} was {state.text} {times} times"
        case Called(call):
            return f"{call.text} is called for"


def filled(condition: Condition, values: Mapping[str, Quantity | Word]) -> Condition:
    """A condition with the value of each rating that it names in place of the name.

    >>> from wirecheck.language.quantity import quantity
    >>> from wirecheck.language.syntax import Span
    >>> here = Span(1, 1, 1, 1)
    >>> coil = Carries(Word("L", here), Word("pick-up", here), Word("M", here))
    >>> words(filled(coil, {"pick-up": quantity("16 A", here)}))
    'L carries 16 A or more to M'
    """
    match condition:
        case AnyOf(facts):
            return AnyOf(tuple([filled(fact, values) for fact in facts]))
        case AllOf(facts):
            return AllOf(tuple([filled(fact, values) for fact in facts]))
        case Negation(fact):
            return Negation(filled(fact, values))
        case HasVoltage(_, Word() as rating, _):
            return condition._replace(volts=values.get(rating.text, rating))
        case Carries(_, Word() as rating, _):
            return condition._replace(amps=values.get(rating.text, rating))
    return condition


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
        case Runs():
            return f"{fact.named(of)} does not run"
        case HasVoltage(terminal, least, reference):
            return f"{inside}{terminal.text} has less than {least.text} to {inside}{reference.text}"
        case Carries(terminal, least, other):
            return f"{inside}{terminal.text} carries less than {least.text} to {inside}{other.text}"
        case WasState(name, state, times):
            return f"{inside}{name.text} was {state.text} fewer than {times} times"
        case Called(call):
            return f"{call.text} is not called for"
        case AnyOf() | AllOf():
            return f"it is not so that {words(fact, of)}"


def each_fact(condition: Condition) -> Iterator[Condition]:
    """The facts that a condition is made of, whether they are asked for or denied.

    >>> from wirecheck.language.syntax import Span, Word
    >>> here = Span(1, 1, 1, 1)
    >>> door = IsState(Word("door", here), Word("open", here))
    >>> [type(fact).__name__ for fact in each_fact(AllOf((Called(Word("cool", here)), Negation(door))))]
    ['Called', 'IsState']
    """
    match condition:
        case Negation(fact):
            yield from each_fact(fact)
        case AllOf(several) | AnyOf(several):
            for fact in several:
                yield from each_fact(fact)
        case _:
            yield condition


def named(condition: Condition) -> Iterator[str]:
    """The loads and the states that a condition looks at, by name.

    >>> from wirecheck.language.syntax import Span, Word
    >>> here = Span(1, 1, 1, 1)
    >>> door = IsState(Word("door", here), Word("open", here))
    >>> list(named(AllOf((Runs(Word("fan", here)), Negation(door)))))
    ['fan', 'door']
    """
    for fact in each_fact(condition):
        if isinstance(fact, Runs):
            yield fact.load.text
        elif isinstance(fact, IsState):
            yield fact.name.text


def facts(condition: Condition) -> int:
    """How many facts a condition is made of.

    >>> from wirecheck.language.syntax import Span, Word
    >>> here = Span(1, 1, 1, 1)
    >>> facts(AllOf((Called(Word("cool", here)), Negation(Called(Word("heat", here))))))
    2
    """
    return sum(1 for _ in each_fact(condition))
