"""Where the names of a part file are made, and where they are used.

A rating and a load may have one name: of which of them a word speaks, its place in the statement says.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Literal, NamedTuple

from wirecheck.language import syntax
from wirecheck.language.mentions import stands
from wirecheck.language.syntax import Condition, Span, Statement, Syntax, Word

Kind = Literal["terminal", "rating", "load", "outlet", "state", "call", "position", "device"]
Use = tuple[object, tuple[Kind, ...]]

_SCREW: tuple[Kind, ...] = ("terminal", "device")
_VALUE: tuple[Kind, ...] = ("rating",)
_RUNS: tuple[Kind, ...] = ("load", "device")
_MOVES: tuple[Kind, ...] = ("state", "device")
_STANDS: tuple[Kind, ...] = ("position",)
_CALLED: tuple[Kind, ...] = ("call",)


class PartMention(NamedTuple):
    """A place where something of a part is called by its name; `makes` is whether that line brings it."""

    name: str
    kind: Kind
    span: Span
    makes: bool


def part_mentions(source: Syntax) -> tuple[PartMention, ...]:
    """Every mention of every thing that a part file makes, in order of place.

    Examples
    --------
    >>> from wirecheck.language.reader import read
    >>> text = 'part fan "A fan"\\nterminal a hot\\nterminal b neutral\\nrating power 60 W\\n'
    >>> found = part_mentions(read(text + "load motor motor from a to b, power at 120 V"))
    >>> [(one.name, one.kind, one.span.column) for one in found if one.span.line == 5]
    [('motor', 'load', 6), ('a', 'terminal', 23), ('b', 'terminal', 28), ('power', 'rating', 31)]
    """
    lines = source.text.split("\n")
    made = [
        (word, kind)
        for statement in source.statements
        for word, kind in _made(statement)
        if stands(word, lines)
    ]
    known = {(word.text, kind) for word, kind in made}
    found = {PartMention(word.text, kind, word.span, True) for word, kind in made}
    for statement in source.statements:
        for word, kinds in _used(statement):
            if isinstance(word, Word) and stands(word, lines):
                found.update(_meant(word, kinds, known))
    return tuple(sorted(found, key=lambda one: one.span))


def _meant(word: Word, kinds: Iterable[Kind], known: set[tuple[str, Kind]]) -> Iterator[PartMention]:
    """What a word means: the first of these kinds that has such a name; what is inside by its first name."""
    head = word.path[0]
    for kind in kinds:
        name = head if kind == "device" else word.text
        if (name, kind) in known:
            line, column = word.span.line, word.span.column
            yield PartMention(name, kind, Span(line, column, line, column + len(name)), False)
            return


def _made(statement: Statement) -> Iterator[tuple[Word, Kind]]:
    match statement:
        case syntax.TerminalStatement():
            yield statement.name, "terminal"
        case syntax.RatingStatement():
            yield statement.name, "rating"
        case syntax.LoadStatement():
            yield statement.name, "load"
        case syntax.OutletStatement():
            yield statement.name, "outlet"
        case syntax.StateStatement():
            yield statement.name, "state"
        case syntax.DeviceStatement():
            yield statement.name, "device"
        case syntax.CallsStatement():
            for name in statement.names:
                yield name, "call"
        case syntax.PositionsStatement():
            for name in statement.names:
                yield name, "position"


def _used(statement: Statement) -> Iterator[Use]:
    """The words that a statement uses, each with the kinds of things that it may mean there."""
    match statement:
        case syntax.JoinStatement():
            yield from ((end.name, _SCREW) for end in statement.ends)
            yield from _values(statement.options)
            yield from _of_condition(statement.when)
        case syntax.LoadStatement():
            yield from ((word, _SCREW) for word in (statement.origin, statement.target, statement.third))
            yield from ((word, _VALUE) for word in (statement.draws, statement.volts))
            yield from _values(statement.options)
        case syntax.TransformsStatement():
            yield from ((word, _SCREW) for word in (*statement.primary, *statement.secondary))
            yield from ((word, _VALUE) for word in (statement.primary_volts, statement.secondary_volts))
            yield from _values(statement.options)
        case syntax.ProtectsStatement():
            yield from ((word, _SCREW) for pair in statement.pairs for word in pair)
            yield statement.rating, _VALUE
            yield from _values(statement.options)
        case syntax.OutletStatement():
            yield from ((word, _SCREW) for word in (statement.hot, statement.neutral))
            for option in statement.options:
                yield option.value, ("terminal", "rating")
        case syntax.GoesStatement():
            yield statement.name, _MOVES
            yield from ((word, _STANDS) for word in (*statement.origins, statement.target))
            yield statement.after, _VALUE
            yield from _of_condition(statement.when)
        case syntax.EndsStatement():
            yield statement.call, _CALLED
            yield statement.after, _VALUE
            yield from _of_condition(statement.when)
        case syntax.DeviceStatement():
            yield from ((setting.value, _VALUE) for setting in statement.settings)


def _values(options: Iterable[syntax.Option]) -> Iterator[Use]:
    for option in options:
        yield option.value, _VALUE
        yield option.upper, _VALUE


def _of_condition(condition: Condition | None) -> Iterator[Use]:
    match condition:
        case syntax.AnyOf(facts) | syntax.AllOf(facts):
            for fact in facts:
                yield from _of_condition(fact)
        case syntax.Negation(fact):
            yield from _of_condition(fact)
        case syntax.IsState() | syntax.WasState():
            yield condition.name, _MOVES
        case syntax.InPosition(position):
            yield position, _STANDS
        case syntax.Runs():
            yield condition.load, _RUNS
        case syntax.HasVoltage(one, volts, other) | syntax.Carries(one, volts, other):
            yield from ((one, _SCREW), (volts, _VALUE), (other, _SCREW))
        case syntax.Called(call):
            yield call, _CALLED
