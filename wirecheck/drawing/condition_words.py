"""A condition in as few words as stand under a contact, as one says them at the machine."""

from __future__ import annotations

from collections.abc import Sequence

from wirecheck.language.listing import either
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
    Runs,
    WasState,
    Word,
)
from wirecheck.parts.part import Part

FEW = 2
"""So many values of a state are named where it has them; else those are which it has not."""
COIL = "coil"
"""What the load of a contactor or a relay is called by its part."""
POWER = 15.0
"""From so many volts on a terminal has power; what is less is a sign between two boards."""


def short_words(condition: Condition, part: Part) -> str:
    """A condition of a part, in as few words as stand under a contact.

    That its own electronics have power is a matter of course, and goes unsaid.

    >>> from wirecheck.assembly import shipped_parts
    >>> parts = shipped_parts()
    >>> for name, at in (("gas-furnace", 0), ("powered-thermostat", -1), ("variable-speed-furnace", 5)):
    ...     conditions = [each.when for each in parts.part(name).contacts if each.when is not None]
    ...     print(short_words(conditions[at], parts.part(name)))
    control neither idle nor locked-out
    cool or fan call
    fan heating; or fan calling, power on Y, no power on DH
    >>> indoor = parts.part("ductless-indoor")
    >>> [short_words(one.when, indoor) for one in indoor.contacts if isinstance(one.when, AnyOf)]
    ['link found, and cool, heat or fan call']
    >>> short_words(parts.part("common-wire-receiver").contacts[0].when, parts.part("common-wire-receiver"))
    'power on YG, under 4 V from R to YG'
    """
    match condition:
        case AnyOf(facts):
            return _any([_alone(fact, part) for fact in facts], part)
        case AllOf(facts):
            alone = _alone(condition, part)
            if not isinstance(alone, AllOf):
                return short_words(alone, part)
            said = _together(alone.facts, part)
            return (", " if any(isinstance(fact, HasVoltage | Negation) for fact in facts) else " and ").join(
                said
            )
        case IsState(name, state):
            return f"{name.text} {state.text}"
        case InPosition(position):
            return position.text
        case Runs(load) | Negation(Runs(load)):
            return _running(load, isinstance(condition, Runs))
        case HasVoltage(terminal, volts, reference):
            if _is_power(condition):
                return f"power on {terminal.within or terminal.text}"
            return f"{volts.text} or more from {terminal.text} to {reference.text}"
        case Carries(terminal, amps, other):
            return f"{terminal.text} carries {amps.text} to {other.text}"
        case WasState(name, state, times):
            return f"{name.text} {state.text} {times} times"
        case Called(call):
            return f"{call.text} call"
        case Negation(IsState(name, state)):
            return f"{name.text} {_but([state.text], name.text, part)}"
        case Negation(HasVoltage(terminal, volts, reference) as fact):
            if _is_power(fact):
                return f"no {short_words(fact, part)}"
            return f"under {volts.text} from {terminal.text} to {reference.text}"
        case Negation(fact):
            inner = short_words(fact, part)
            return f"not ({inner})" if isinstance(fact, AllOf | AnyOf) else f"not {inner}"


def _is_power(fact: HasVoltage) -> bool:
    return bool(getattr(fact.volts, "value", POWER) >= POWER)


def _any(facts: Sequence[Condition], part: Part) -> str:
    """Each of several ways in words; calls are said together, and what all ways ask for besides them."""
    calls = [fact.call.text for fact in facts if isinstance(fact, Called)]
    if len(calls) == len(facts):
        return f"{either(calls)} call"
    pairs = [fact.facts for fact in facts if isinstance(fact, AllOf) and len(fact.facts) == 2]
    besides = {short_words(first, part) for first, _ in pairs}
    calls = [call.call.text for _, call in pairs if isinstance(call, Called)]
    if len(calls) == len(facts) and len(besides) == 1:
        return f"{besides.pop()}, and {either(calls)} call"
    said = _together(facts, part)
    return ("; or " if any(", " in words for words in said) else " or ").join(said)


def _running(load: Word, runs: bool) -> str:
    """That a load runs, or does not: a coil has pulled in its contacts, or let them drop out."""
    if load.path[1:] == (COIL,):
        return f"{load.within} {'pulled in' if runs else 'dropped out'}"
    return f"{load.text} runs" if runs else f"not {load.text} runs"


def _together(facts: Sequence[Condition], part: Part) -> list[str]:
    """Each fact in words; the values of one state are said together, and so are calls that do alike."""
    values: dict[tuple[str, bool], list[str]] = {}
    for fact in facts:
        match fact:
            case IsState(name, state):
                values.setdefault((name.text, True), []).append(state.text)
            case Negation(IsState(name, state)):
                values.setdefault((name.text, False), []).append(state.text)
    said: list[str] = []
    for fact in facts:
        match fact:
            case IsState(name):
                said.append(f"{name.text} {either(values[name.text, True])}")
            case Negation(IsState(name)):
                said.append(f"{name.text} {_but(values[name.text, False], name.text, part)}")
            case AnyOf():
                said.append(f"({short_words(fact, part)})")
            case _:
                said.append(short_words(fact, part))
    return list(dict.fromkeys(said))


def _nor(words: Sequence[str]) -> str:
    """None of these: "not idle or locked-out" could be read as locked out, which is what must stop it."""
    return f"neither {', '.join(words[:-1])} nor {words[-1]}" if words[1:] else f"not {words[0]}"


def _but(values: Sequence[str], state: str, part: Part) -> str:
    """Any value of a state but these: the others by name where they are few."""
    others = [
        value for each in part.states if each.name == state for value in each.values if value not in values
    ]
    return either(others) if 0 < len(others) <= FEW else _nor(values)


def _alone(condition: Condition, part: Part) -> Condition:
    """A condition without the fact that the part's own electronics have power, where it looks at more."""
    if not isinstance(condition, AllOf):
        return condition
    powered = {load.name for load in part.loads if load.kind == "electronics"}
    facts = [fact for fact in condition.facts if not (isinstance(fact, Runs) and fact.load.text in powered)]
    if not facts:
        return condition
    return facts[0] if len(facts) == 1 else AllOf(tuple(facts))
