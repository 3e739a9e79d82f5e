"""From text to `Syntax`: every statement of a file, and every mistake in it.

A file is split into statements, and each is parsed by itself, so that one
mistake never hides the next. Reading cannot fail: whatever the bytes, the answer
is the statements that could be read and a problem for each that could not.
"""

from __future__ import annotations

import gc
import re
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import islice
from typing import Any

from lark.exceptions import UnexpectedCharacters, UnexpectedInput, UnexpectedToken

from wirecheck.inputs import MOST_BYTES
from wirecheck.language.grammar import keywords, parser
from wirecheck.language.quantity import SYMBOLS, shortened
from wirecheck.language.statements import Maker
from wirecheck.language.syntax import AtStatement, Problem, Span, Statement, Syntax, Word
from wirecheck.language.words import (
    ASKED,
    FORMS,
    NAMED_FORMS,
    OF_TROUBLES,
    TROUBLE_WORDS,
    expected,
    nearest,
)

MOST_ROWS = 250_000
"""The most lines of a file that are read."""

MOST_COLUMNS = 2_000
"""The longest line that is read, in characters."""

MOST_LINES = 200
"""The most lines that one statement may go over."""

MOST_PROBLEMS = 100
"""The most mistakes that are reported of one file; reading stops there."""

# Control characters, marks that turn the direction of text, and U+FFFD itself,
# which stands for bytes that are no UTF-8: none belongs in a board, and some
# would play tricks on the terminal that shows a message.
_UNPRINTABLE = re.compile(
    "[\x00-\x08\x0b\x0e-\x1f\x7f-\x9f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ud800-\udfff\ufeff\ufffd]"
)

_WORD = re.compile(r"[\w.-]+")
_LAST_WORD = re.compile(r"[A-Za-z]{3,}(?=[ \t]*$)")
_LIKE_A_CABLE = re.compile(r"\bwire[ \t]+\S+[ \t]+\d+/\d")
_ONLY_CABLE = re.compile(r"[ \t]*cable[ \t]+\d+[ \t]*")
_INCHES_OR_IN = re.compile(r"[\d./-]+[ \t]+in[ \t]*$")
_BARE_NUMBER = re.compile(r"(?:^|[\s(])(?:\d+[ -])?\d+(?:[./]\d+)?[ \t]*$")
_PIGTAIL = re.compile(r"\bpigtail(?:[ \t]+\d+)?[ \t]*$")
_BEGINS = re.compile(rf"[ \t]*(?:{'|'.join(FORMS)})[ \t]+[\w\"]")
_TWO_WORDS = re.compile(r"(?<![\w./-])([A-Za-z]{3,}(?:-\d)?)/([A-Za-z]{3,}(?:-\d)?)(?![\w./-])")
_COMMENT_OR_QUOTE = re.compile(r'"[^"]*"?|#')

# Statements that declare the name after their first word.
_DECLARING = {
    *("panel", "breaker", "box", "connector", "cable", "wire", "raceway"),
    *("part", "rating", "terminal", "state", "load", "outlet"),
}

# Characters that word processors and telephones put in place of plain ones.
_MEANT = {
    "\u2013": "two hyphens, --",
    "\u2014": "two hyphens, --",
    "\u2212": "a hyphen",
    "-": "two hyphens, --, between the things that are joined",
    "\u201c": 'a plain quote, "',
    "\u201d": 'a plain quote, "',
    "\u00bd": "1/2",
    "\u00bc": "1/4",
    "\u00be": "3/4",
    "\u00d7": "x",
    "\u00b2": "mm2",
    "\u2032": "ft",
    "'": "ft",
    "\u00a0": "a plain space",
    ";": "nothing: a statement ends with its line",
    "=": 'a space, or "is"',
    ":": "a space",
}


def read(text: str | bytes, file: str = "-") -> Syntax:
    """Read a board or a part file.

    Parameters
    ----------
    text : what the file holds; bytes are taken as UTF-8.
    file : its name, for messages.

    Returns
    -------
    The statements in order and every mistake with its place. Never raises for what the text holds.

    Examples
    --------
    >>> read('board "Hall"\\nbraeker LP.3 15 A').problems[0].help
    'did you mean "breaker"? It is written: breaker LP.3 15 A'
    >>> read("W1.black -- S1.common").statements[0].ends[1].name
    Word(text='S1.common', span=Span(line=1, column=13, end_line=1, end_column=22))
    """
    size = f"{MOST_BYTES // 1024**2} MiB" if len(text) > MOST_BYTES else ""
    clean, unreadable = ("", {}) if size else _clean(text)
    if clean.count("\n") > MOST_ROWS:
        size = f"{MOST_ROWS} lines"
    if size:
        message = f"the file is larger than {size}, which no board is"
        return Syntax(file, "", (), (Problem("syntax", message, Span(1, 1, 1, 1)),))
    reading = _Reading(clean.split("\n"), unreadable)
    with _collector_at_rest():
        reading.run()
    problems = tuple(sorted(reading.problems, key=lambda problem: problem.span))
    return Syntax(file, clean, tuple(reading.statements), problems, frozenset(reading.broken))


@contextmanager
def _collector_at_rest() -> Iterator[None]:
    """Python's collector of reference cycles at rest: a long file is all new values and no cycles,
    and looking through them over and over made a line of it half as dear again.
    """
    active = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if active:
            gc.enable()


def _clean(text: str | bytes) -> tuple[str, dict[int, str]]:
    """Text with plain newlines and nothing unprintable; what each such line held, by line from 0."""
    if isinstance(text, bytes):
        text = text.decode("utf-8", errors="replace")
    text = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    if _UNPRINTABLE.search(text) is None:
        return text, {}
    unreadable = {}
    for number, line in enumerate(text.split("\n")):
        if match := _UNPRINTABLE.search(line):
            unreadable[number] = match[0]
    return _UNPRINTABLE.sub("\ufffd", text), unreadable


class _Reading:
    """The reading of one file: what it has found so far."""

    def __init__(self, lines: list[str], unreadable: dict[int, str]) -> None:
        self.lines = lines
        self.unreadable = unreadable
        self.parser = parser()
        self.maker = Maker()
        self.problems = self.maker.problems
        self.statements: list[Statement] = []
        self.broken: set[str] = set()

    def run(self) -> None:
        """Read all lines, or as many as hold `MOST_PROBLEMS` mistakes."""
        number, end = 0, len(self.lines)
        while number < end:
            line = self.lines[number]
            code = line.strip()
            if not code or code[0] == "#":
                if not self._readable(number):
                    self._unreadable(number)
                number += 1
            else:
                number = self._statement(number, line, code)
            if len(self.problems) >= MOST_PROBLEMS:
                self._stop(number)
                return

    def _stop(self, number: int) -> None:
        del self.problems[MOST_PROBLEMS:]
        if number < len(self.lines):
            self.problems.append(
                Problem(
                    "syntax",
                    f"{MOST_PROBLEMS} mistakes so far: the file was read no further than line {number}",
                    Span(number + 1, 1, number + 1, 1),
                    "mend the first ones and run it again",
                )
            )

    def _statement(self, first: int, line: str, code: str) -> int:
        """Read the statement that begins on a line; the number of the line after it."""
        if (self.unreadable or len(line) > MOST_COLUMNS) and not self._readable(first):
            self._unreadable(first)
            self._note_broken(code[:MOST_COLUMNS])
            return first + 1
        if "#" in code:
            code = _without_comment(code)
        last = first
        end_column = line.index(code) + len(code) + 1 if code else 1
        if code.endswith((",", "--")):
            last, end_column = self._continued(first, end_column)
            text = "\n".join(self.lines[first : last + 1])
        else:
            text = line
        column = len(line) - len(line.lstrip()) + 1
        span = Span(first + 1, column, last + 1, end_column)
        self.maker.shift = first
        known = len(self.problems)
        try:
            tree = self.parser.parse(text)
        except UnexpectedInput as error:
            again = self._restart(first, last)
            self._explain(error, text, span, again)
            self._note_broken(text)
            return again
        statement = self.maker.make(tree, span)
        if len(self.problems) == known:
            self.statements.append(statement)
        else:
            self._note_broken(text)
        return last + 1

    def _readable(self, number: int) -> bool:
        return number not in self.unreadable and len(self.lines[number]) <= MOST_COLUMNS

    def _unreadable(self, number: int) -> None:
        """Tell what is in a line that cannot be read."""
        place = Span(number + 1, 1, number + 1, MOST_COLUMNS + 1)
        if number not in self.unreadable:
            self.maker.mistake(
                f"this line has {len(self.lines[number])} characters, and {MOST_COLUMNS} are the most",
                place,
                'a line that ends in "--" or "," goes on to the next',
            )
            return
        column = self.lines[number].find("\ufffd") + 1
        place = Span(number + 1, column, number + 1, column + 1)
        character = self.unreadable[number]
        if character == "\ufffd":
            self.maker.mistake("there are bytes here that are no text", place, "save the file as UTF-8")
        else:
            self.maker.mistake(
                f"there is a character here that cannot be seen (U+{ord(character):04X})",
                place,
                "delete it, or type the line again",
            )

    def _continued(self, first: int, end_column: int) -> tuple[int, int]:
        """The last line of a statement that goes on after its first, and its end column."""
        last = first
        for number in range(first + 1, min(first + MOST_LINES, len(self.lines))):
            line = self.lines[number]
            code = _without_comment(line.strip())
            if not code and "#" in line:
                continue
            if not code or not self._readable(number):
                break
            last, end_column = number, line.index(code) + len(code) + 1
            if not code.endswith((",", "--")):
                break
        return last, end_column

    def _restart(self, first: int, last: int) -> int:
        """Where to go on after a mistake: a line that surely begins a statement, or the line after all."""
        for number in range(first + 1, last + 1):
            if _BEGINS.match(self.lines[number]):
                return number
        return last + 1

    def _note_broken(self, text: str) -> None:
        """Keep what others need of a statement with mistakes: the name it declares, the place it goes to."""
        begin, *rest = [match[0] for match in islice(_WORD.finditer(text), 3)] or [""]
        second = rest[0] if rest else ""
        if begin not in FORMS and second not in NAMED_FORMS:
            begin = nearest(begin, FORMS) or begin
        if begin == "at":
            place = self.problems[-1].span
            if second in _DECLARING and len(rest) > 1:
                second = rest[1]  # `at box B` is at B.
            self.statements.append(AtStatement(Word(second, place), place))
            if not second:
                self.broken.add(second)
        elif begin in _DECLARING:
            self.broken.add(second)
        elif second == "is":
            self.broken.add(begin)

    # ----------------------------------------------------------------- words

    def _explain(self, error: UnexpectedInput, text: str, span: Span, again: int) -> None:
        """Say in plain words why a statement cannot be read."""
        got, place = self._found(error, text, span)
        first, second = (*text.split(maxsplit=2), "", "")[:2]
        begin = first if first in FORMS else second if second in NAMED_FORMS else ""
        form = FORMS.get(begin) or NAMED_FORMS.get(begin)
        written = f"it is written: {form}" if form else None
        if place.line > again:
            # The line before promised to go on, and a new statement began instead.
            end = self._end_before(again)
            self.maker.mistake("the line ends too soon: nothing follows what it ends in", end, written)
        elif got.startswith('"') and isinstance(error, UnexpectedCharacters):
            self.maker.mistake("a quote begins here and does not end on this line", place, 'end it with "')
        elif got == "'" and not _BARE_NUMBER.search(self.lines[place.line - 1][: place.column - 1]):
            self.maker.mistake('"\'" has no meaning here', place, 'write a plain quote, "')
        elif got in _MEANT:
            self.maker.mistake(f'"{got}" has no meaning here', place, f"write {_MEANT[got]}")
        elif got and not got[0].isascii():
            advice = 'names are made of the letters a to z, digits, "-" and "_"'
            self.maker.mistake(f'"{got}" cannot be in a name', place, advice)
        elif got == "/" and (two := _slashed(self.lines[place.line - 1], place.column - 1)):
            both = Span(place.line, two.start() + 1, place.line, two.end() + 1)
            one, other = two.groups()
            # Two colors of one wire are one word; two kinds of wire are what is printed on the same wire.
            advice = f"write {one}-{other}" if two[0].islower() else f"write one of the two: {one} or {other}"
            self.maker.mistake(f'"/" cannot be in a word, as in {two[0]}', both, advice)
        elif not begin and _is_beside(text, place, self.maker.shift):
            self._explain_beginning(first, got, place)
        else:
            self._explain_inside(error, got, place, begin, written)

    def _explain_beginning(self, first: str, got: str, place: Span) -> None:
        """The first word begins no statement, and what follows it makes it none."""
        column = self.lines[place.line - 1].find(first) + 1
        named = Span(place.line, column, place.line, column + len(first))
        meant, form = nearest(got, NAMED_FORMS) if got else None, ""
        if near := nearest(first, FORMS):
            advice = f'did you mean "{near}"? It is written: {FORMS[near]}'
            self.maker.mistake(f'"{shortened(first)}" begins no statement', named, advice)
            return
        if first in ASKED:
            form = f"what was found is written: {FORMS[ASKED[first]]}"
        elif meant:
            form = f'did you mean "{meant}"? It is written: {NAMED_FORMS[meant]}'
        said = f'"{shortened(got)}" cannot stand here' if got else "the line ends too soon"
        self.maker.mistake(
            f'{said}: after "{shortened(first)}" comes "--" or "is"',
            place,
            form or f"a join is written: {NAMED_FORMS['--']}; a device: {NAMED_FORMS['is']}",
        )

    def _explain_inside(
        self, error: UnexpectedInput, got: str, place: Span, begin: str, written: str | None
    ) -> None:
        """Something else was expected within a statement."""
        accepts = _accepted(error)
        known = keywords()
        wanted = expected(accepts, known, begin)
        before = self.lines[place.line - 1][: place.column - 1]
        near = nearest(got, [known[token] for token in accepts if token in known]) if got else None
        message = f'"{shortened(got)}" cannot stand here: expected {wanted}'
        advice = written
        if not got:
            message = f"the line ends too soon: expected {wanted}"
        elif begin == "at" and before.split()[-1] in _DECLARING:
            advice = f"it is written: at {shortened(got)}"
        elif (tail := _PIGTAIL.search(before)) and got.isalpha() and not nearest(got, SYMBOLS):
            message = f'"{shortened(got)}" cannot stand here: a pigtail has its size, and no color'
            size = " ".join(tail[0].split())
            advice = f"write: {size if size != 'pigtail' else 'pigtail, or with a size, pigtail 12'}"
        elif near:
            advice = f'did you mean "{near}"?' + (f" I{written[1:]}" if written else "")
        elif begin == "cable" and "." not in got and _ONLY_CABLE.fullmatch(before):
            message = f'"{shortened(got)}" cannot stand here: a name comes after "cable"'
        elif begin == "wire" and _LIKE_A_CABLE.search(before):
            message = "this is written as a cable is, and a wire is one conductor in a raceway"
            advice = f'did you mean "cable"? It is written: {FORMS["cable"]}'
        elif got[0].isalpha() and got not in SYMBOLS and _BARE_NUMBER.search(before):
            message = f'"{shortened(got)}" is no unit known here'
            near = nearest(got, SYMBOLS)
            advice = f'did you mean "{near}"?' if near else f"units are {', '.join(SYMBOLS)}"
        elif "IN" in accepts and (match := _INCHES_OR_IN.search(before)):
            message = f'"{match[0].strip()}" is so many inches, and then "{shortened(got)}" cannot stand here'
            advice = "give the number its own unit before the place, as 60 W in B"
        elif (match := _LAST_WORD.search(before)) and match[0] not in known.values():
            words = [word for word in known.values() if begin in OF_TROUBLES or word not in TROUBLE_WORDS]
            near = nearest(match[0], words)
            advice = f'did you mean "{near}" before it?' if near else written
        self.maker.mistake(message, place, advice)

    def _found(self, error: UnexpectedInput, text: str, span: Span) -> tuple[str, Span]:
        """What stands where the parser stopped, and its place; nothing at the end of the statement."""
        shift = self.maker.shift
        if isinstance(error, UnexpectedToken):
            token = error.token
            if token.type == "$END":
                return "", Span(span.end_line, span.end_column, span.end_line, span.end_column)
            return token.value, Span(
                token.line + shift, token.column, token.end_line + shift, token.end_column
            )
        line, column = error.line, error.column
        rest = text.split("\n")[line - 1][column - 1 :]
        length = len(rest.rstrip()) if rest[0] == '"' else 1
        return rest[:length], Span(line + shift, column, line + shift, column + length)

    def _end_before(self, number: int) -> Span:
        """The end of the last statement's text above a line."""
        while True:
            number -= 1
            code = _without_comment(self.lines[number].strip())
            if code:
                column = self.lines[number].index(code) + len(code) + 1
                return Span(number + 1, column, number + 1, column)


def comment_begins(line: str) -> int:
    """Where a line's comment begins, counted from 0; its length, where it has none.

    >>> comment_begins('board "Lamp #1"  # the hall'), comment_begins("at A")
    (17, 4)
    """
    if "#" in line:
        for match in _COMMENT_OR_QUOTE.finditer(line):
            if match[0] == "#":
                return match.start()
    return len(line)


def on_one_line(text: str, span: Span) -> str:
    r"""What the lines of a statement say, on one line and without their comments.

    >>> on_one_line("expect L1 from S1,  # below\n  S2\n", Span(1, 1, 2, 5))
    'expect L1 from S1, S2'
    """
    lines = text.split("\n")[span.line - 1 : span.end_line]
    return " ".join(_without_comment(line).strip() for line in lines)


def _slashed(line: str, at: int) -> re.Match[str] | None:
    """The two words of a line between which a slash stands, if it does.

    >>> _slashed("wire G 12 THHN green/yellow 9 ft", 20).groups()
    ('green', 'yellow')
    """
    return next((two for two in _TWO_WORDS.finditer(line) if two.start() < at < two.end()), None)


def _without_comment(code: str) -> str:
    """A line up to its comment, without spaces at its end."""
    return code[: comment_begins(code)].rstrip()


def _accepted(error: UnexpectedInput) -> set[str]:
    """The names of the tokens that the parser would have taken."""
    interactive: Any = getattr(error, "interactive_parser", None)
    return set(interactive.accepts()) if interactive is not None else set()


def _is_beside(text: str, place: Span, shift: int) -> bool:
    """Whether a place is the first word of a statement or the one after it."""
    words = text.split(maxsplit=1)
    rest = text.find(words[1]) if len(words) > 1 else len(text)
    return place.line == shift + 1 and place.column - 1 <= rest
