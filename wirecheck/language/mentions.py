"""Where the names of a text's things are made, and where they are used.

A name with dots is taken apart: `W1.black` mentions W1, and `LP.3` the panel LP and the breaker LP.3. A line
that cannot be read mentions what its words call by name, so that a slip of the pen loses nothing else.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Literal, NamedTuple, Protocol, TypeVar

from wirecheck.language import syntax
from wirecheck.language.grammar import keywords
from wirecheck.language.reader import comment_begins
from wirecheck.language.syntax import Span, Statement, Syntax, Word

Kind = Literal["panel", "breaker", "box", "connector", "cable", "wire", "raceway", "device"]

_KINDS: dict[type, Kind] = {
    syntax.PanelStatement: "panel",
    syntax.BreakerStatement: "breaker",
    syntax.BoxStatement: "box",
    syntax.ConnectorStatement: "connector",
    syntax.CableStatement: "cable",
    syntax.WireStatement: "wire",
    syntax.RacewayStatement: "raceway",
    syntax.DeviceStatement: "device",
}
_BEGUN: dict[str, Kind] = {
    "panel": "panel",
    "subpanel": "panel",
    "breaker": "breaker",
    "box": "box",
    "connector": "connector",
    "cable": "cable",
    "wire": "wire",
    "raceway": "raceway",
}
_NAME = re.compile(r"[A-Za-z0-9_]+(?:-[A-Za-z0-9_]+)*(?:\.[A-Za-z0-9_]+(?:-[A-Za-z0-9_]+)*)*")
_PLAIN_NAME = re.compile(r"[A-Za-z0-9_]+(?:-[A-Za-z0-9_]+)*")
_QUOTED = re.compile(r'"[^"]*"?')


class _Spanned(Protocol):
    @property
    def span(self) -> Span: ...


Spanned = TypeVar("Spanned", bound=_Spanned)


class Mention(NamedTuple):
    """A place where a thing is called by its name; `makes` is whether that line brings it."""

    name: str
    kind: Kind
    span: Span
    makes: bool


def rows(text: str) -> list[str]:
    r"""The rows of a text as the reader counts them, each with its own characters.

    >>> rows("one\r\ntwo\x0b\rthree")
    ['one', 'two\x0b', 'three']
    """
    return text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")


def is_plain_name(text: str) -> bool:
    """Whether a text is a name that a thing can be given, by its letters.

    >>> is_plain_name("S1"), is_plain_name("S1.common"), is_plain_name("at"), is_plain_name("a b")
    (True, False, False, False)
    """
    return _PLAIN_NAME.fullmatch(text) is not None and text not in keywords().values()


def mentions(source: Syntax) -> tuple[Mention, ...]:
    """Every mention of every thing that the text makes, in order of place.

    Examples
    --------
    >>> from wirecheck.language.reader import read
    >>> found = mentions(read("panel LP 120 V\\nbreaker LP.1 15 A\\nat LP\\n  LP.1 -- LP.neutral"))
    >>> [(one.name, one.kind, one.span.line, one.span.column, one.makes) for one in found][:3]
    [('LP', 'panel', 1, 7, True), ('LP', 'panel', 2, 9, False), ('LP.1', 'breaker', 2, 12, True)]
    """
    lines = source.text.split("\n")
    whole = [one for one in source.statements if _is_whole(one, lines)]
    read = {row for one in whole for row in range(one.span.line, one.span.end_line + 1)}
    unread = [
        (number, words)
        for number, line in enumerate(lines, 1)
        if number not in read and (words := list(_words_of_row(number, line)))
    ]
    kinds: dict[str, Kind] = {}
    makers: set[Span] = set()
    for statement in whole:
        kind = _KINDS.get(type(statement))
        name = getattr(statement, "name", None)
        if kind is not None and isinstance(name, Word):
            makers.add(name.span)
            kinds.setdefault(name.text, kind)
    for _, words in unread:
        made, kind = _made_by(words)
        if made is not None and kind is not None:
            makers.add(made.span)
            kinds.setdefault(made.text, kind)
    known = keywords().values()
    found = [
        one
        for statement in whole
        for word in _words(statement)
        if stands(word, lines)
        for one in _of(word, kinds, makers)
    ]
    found += [
        one
        for _, words in unread
        for word in words
        if word.text not in known or word.span in makers
        for one in _of(word, kinds, makers)
    ]
    return tuple(sorted(set(found), key=lambda one: one.span))


def mentioned(found: tuple[Spanned, ...], line: int, column: int) -> Spanned | None:
    """The mention at a place, its end included; of two that touch, the one that begins there."""
    there = [
        one for one in found if one.span.line == line and one.span.column <= column <= one.span.end_column
    ]
    return there[-1] if there else None


def word_at(text: str, line: int, column: int) -> Word | None:
    """The whole word at a place of a text's rows, with all its dots; none in a comment or a quote."""
    lines = text.split("\n")
    if not 1 <= line <= len(lines):
        return None
    words = _words_of_row(line, lines[line - 1])
    there = [one for one in words if one.span.column <= column <= one.span.end_column]
    return there[-1] if there else None


def up_to(word: Word, column: int) -> str:
    """A word's names up to the one at a column.

    >>> limit = Word("F.limit.a", Span(1, 1, 1, 10))
    >>> up_to(limit, 1), up_to(limit, 4), up_to(limit, 9)
    ('F', 'F.limit', 'F.limit.a')
    """
    end = word.text.find(".", max(column - word.span.column, 0))
    return word.text if end < 0 else word.text[:end]


def stands(word: Word, lines: list[str]) -> bool:
    """Whether a word stands in the text where it says; one that a reader put in does not."""
    line, column, end_line, end_column = word.span
    return (
        line == end_line and line <= len(lines) and lines[line - 1][column - 1 : end_column - 1] == word.text
    )


def _is_whole(statement: Statement, lines: list[str]) -> bool:
    """Whether it was read; of a line with a mistake the reader keeps the place that it goes to."""
    return not isinstance(statement, syntax.AtStatement) or stands(statement.place, lines)


def _words_of_row(number: int, line: str) -> Iterator[Word]:
    code = _QUOTED.sub(lambda quoted: " " * len(quoted[0]), line[: comment_begins(line)])
    for match in _NAME.finditer(code):
        yield Word(match[0], Span(number, match.start() + 1, number, match.end() + 1))


def _made_by(words: list[Word]) -> tuple[Word | None, Kind | None]:
    """The name that a line with a mistake would have made, and of what kind."""
    if len(words) > 1 and words[0].text in _BEGUN:
        return words[1], _BEGUN[words[0].text]
    if len(words) > 1 and words[1].text == "is":
        return words[0], "device"
    return None, None


def _of(word: Word, kinds: dict[str, Kind], makers: set[Span]) -> Iterator[Mention]:
    """What a word mentions: the thing before its first dot, and the breaker that it is or leads into."""
    path, span = word.path, word.span
    head = path[0]
    if head in kinds:
        named = Span(span.line, span.column, span.line, span.column + len(head))
        yield Mention(head, kinds[head], named, span in makers and len(path) == 1)
    if len(path) > 1:
        breaker = ".".join(path[:2])
        if kinds.get(breaker) == "breaker":
            begin = span.column + len(head) + 1
            named = Span(span.line, begin, span.line, begin + len(path[1]))
            yield Mention(breaker, "breaker", named, span in makers and len(path) == 2)


def _words(statement: Statement) -> Iterator[Word]:
    """The words of a statement that call a thing by its name."""
    match statement:
        case syntax.PanelStatement() | syntax.BoxStatement() | syntax.ConnectorStatement():
            yield statement.name
        case syntax.BreakerStatement():
            yield statement.name
            yield from [statement.tied] if statement.tied else []
            yield from (sight.of for sight in statement.sights)
        case syntax.CableStatement() | syntax.WireStatement() | syntax.RacewayStatement():
            yield statement.name
            yield from (end.place for end in statement.ends)
            yield from [statement.raceway] if statement.raceway else []
        case syntax.RoomStatement():
            yield from statement.places
        case syntax.BundleStatement():
            yield from statement.runs
        case syntax.DeviceStatement():
            yield statement.name
            yield from [statement.place] if statement.place else []
            yield from (sight.of for sight in statement.sights)
        case syntax.AtStatement():
            yield statement.place
        case syntax.JoinStatement():
            yield from (end.name for end in statement.ends if end.name is not None)
            for option in statement.options:
                if option.name.text == "connector" and isinstance(option.value, Word):
                    yield option.value
        case syntax.CapStatement():
            yield statement.name
        case syntax.AlterStatement():
            yield from statement.points
        case syntax.SensesStatement():
            yield statement.name
            yield from statement.things
        case _:
            yield from _words_expected(statement)


def _words_expected(statement: Statement) -> Iterator[Word]:
    """The words of an expectation that call a thing by its name; a call of no device is none."""
    match statement:
        case syntax.ExpectFrom():
            yield statement.load
            yield from statement.switches
        case syntax.ExpectLive():
            yield statement.outlet
        case syntax.ExpectRuns() | syntax.ExpectEnd():
            yield from (call for call in statement.calls if len(call.path) > 1)
            yield from (step for step, _ in statement.steps)
        case syntax.ExpectStops():
            yield statement.safety
            yield from statement.loads
        case syntax.ExpectStarts():
            yield statement.button
            yield from statement.loads
        case _:
            pass
