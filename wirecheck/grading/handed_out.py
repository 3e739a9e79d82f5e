"""A student's work against what was handed out, and the text that is judged of it.

What was handed out is put back where she changed it, and what is asked is put at the end. So whatever she
changes there, she is judged as everybody else is. A work that reads without a mistake is judged in one
standard order and layout, so that works that say the same have the same verdict; one that does not is judged
line by line as it stands.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from wirecheck.grading.exercise import Exercise, Heading
from wirecheck.grading.things import Run, Setting, Thing, keeps, key
from wirecheck.language import syntax
from wirecheck.language.reader import on_one_line
from wirecheck.language.saying import saying
from wirecheck.language.syntax import Span, Statement, Syntax
from wirecheck.model.board import Expectation

_SPACES = re.compile(r"\s+")
_NAMES = re.compile(r"(?<![\w.-])[A-Za-z0-9_]+(?:-[A-Za-z0-9_]+)*")
MOST_NAMES = 20

MadeUp = syntax.JoinStatement | syntax.CapStatement
# What has no name of its own: it is there, or it is not.
Whole = syntax.RoomStatement | syntax.BundleStatement | syntax.AlterStatement
# What is not a student's to say, where the exercise does not: what costs how much, how the whole board is
# judged, and what is inside of equipment. So is a supply, where it says one.
NotHers = syntax.ExerciseStatement | Setting | syntax.AlterStatement


class Altered(NamedTuple):
    """What was handed out and stands otherwise in the work: `was`, and what it has on a line, if anything.

    `name` is that of the thing, where it is one.
    """

    was: str
    line: int | None
    now: str
    name: str = ""


class Work(NamedTuple):
    """A work ready to be judged.

    Attributes
    ----------
    text : what is judged
    lines : for each of its lines the student's own, or None where there is none
    first_asked : the line of the first expectation; one follows the other
    student : who she is by her own line; nothing where she has none
    exercise : the exercise that the work says it is for; nothing where it says none
    altered : what she changed of what was handed out
    added : what she put on the board herself: the names of things, and other lines as they are
    joined : whether she joined anything
    unmeasured : whether there are cables or wires, and no end of any was measured
    named : of each line that joins something, or that cannot be read, the things that it names
    """

    text: str
    lines: tuple[int | None, ...]
    first_asked: int
    student: str
    exercise: str
    altered: tuple[Altered, ...]
    added: tuple[str, ...]
    joined: bool
    unmeasured: bool = False
    named: tuple[tuple[int, tuple[str, ...]], ...] = ()


def prepared(source: Syntax, exercise: Exercise, as_it_stands: bool = False) -> Work:
    """A work as it is judged by an exercise.

    Parameters
    ----------
    source : what the student's text says
    as_it_stands : whether its lines stay in their order; they always do where it has mistakes of the language

    Examples
    --------
    >>> from wirecheck.grading.exercise import exercise
    >>> from wirecheck.language.reader import read
    >>> given = exercise('exercise "Shed"\\nstage final 9 points\\npanel LP 120 V\\nbreaker LP.1 15 A')
    >>> work = prepared(read('board "Mine"\\nbox  A octagon\\nbreaker LP.1 20 A'), given)
    >>> print(work.text)
    board "Shed"
    panel LP 120 V
    breaker LP.1 15 A
    box A octagon
    >>> work.lines, [(one.was, one.line) for one in work.altered]
    ((None, None, 3, 2), [('panel LP 120 V', None), ('breaker LP.1 15 A', 3)])
    """
    comparing = _Comparing(source, exercise)
    in_place = as_it_stands or bool(source.problems) or comparing.unclear
    lines = comparing.in_place() if in_place else comparing.in_order()
    # What is asked stands first: no line of hers is before it that could keep it from being read.
    first_asked = 2
    lines[1:1] = [(one.text, None) for one in exercise.asked]
    student = next(
        (one.name.text for one in source.statements if isinstance(one, syntax.StudentStatement)), ""
    )
    meant = next((one.exercise.text for one in source.statements if isinstance(one, syntax.ForStatement)), "")
    return Work(
        "\n".join(text for text, _ in lines),
        tuple(line for _, line in lines),
        first_asked,
        student.strip(),
        meant.strip(),
        tuple(comparing.altered),
        tuple(comparing.name_or_line(one) for one in comparing.added),
        comparing.joined,
        _unmeasured(source),
        tuple(_named(source)),
    )


def _unmeasured(source: Syntax) -> bool:
    runs = [one for one in source.statements if isinstance(one, Run)]
    return bool(runs) and not any(end.measures for run in runs for end in run.ends)


def _named(source: Syntax) -> Iterator[tuple[int, tuple[str, ...]]]:
    """The things that the joints name, line by line, and what the lines may name that cannot be read."""
    for one in source.statements:
        if isinstance(one, syntax.CapStatement):
            yield one.span.line, one.name.path[:1]
        elif isinstance(one, syntax.JoinStatement):
            yield one.span.line, tuple(end.name.path[0] for end in one.ends if end.name)
    rows = source.text.split("\n")
    for problem in source.problems:
        yield problem.span.line, tuple(_NAMES.findall(rows[problem.span.line - 1])[:MOST_NAMES])


Lines = list[tuple[str, int | None]]


class _Comparing:
    """One work beside what was handed out."""

    def __init__(self, source: Syntax, exercise: Exercise) -> None:
        self.source = source
        self.exercise = exercise
        self.rows = source.text.split("\n")
        self.things: dict[tuple[object, ...], Statement] = {}
        self.joins: dict[str, list[tuple[frozenset[object], MadeUp]]] = {}
        self.said: set[object] = set()
        # Whether something stands twice or where it cannot: the standard order would lose it.
        self.unclear = False
        for place, one in with_places(source.statements):
            about = key(one)
            if about is not None:
                self.unclear |= self.things.setdefault(about, one) is not one
            elif isinstance(one, MadeUp):
                self.unclear |= not place
                self.joins.setdefault(place, []).append((_ends(one), one))
            elif isinstance(one, Whole):
                self.said.add(saying(one))
            else:
                self.unclear |= isinstance(one, syntax.PartStatement)
        handed_out = with_places(exercise.handed_out)
        given = {(place, _ends(one)) for place, one in handed_out if isinstance(one, MadeUp)}
        # A cap joins nothing: whoever only capped what was handed out has not begun.
        made_up = (
            (place, ends)
            for place, joints in self.joins.items()
            for ends, one in joints
            if not isinstance(one, syntax.CapStatement)
        )
        self.joined = any(one not in given for one in made_up)
        self.altered: list[Altered] = []
        # What was handed out and is not in the work, by the place in which it is made up.
        self.missing: dict[str, list[str]] = {}
        # What takes the place of a statement of hers.
        self.instead: dict[Span, str] = {}
        self._compare()
        known = {key(one) for one in exercise.handed_out} - {None}
        told = {saying(one) for one in exercise.source.statements if isinstance(one, Whole | NotHers)}
        supplied = any(_supplies(one) for one in exercise.handed_out)
        not_hers = [
            one
            for one in source.statements
            if (isinstance(one, NotHers) and key(one) not in known and saying(one) not in told)
            or (supplied and _supplies(one) and key(one) not in known)
        ]
        spans = {one.span for one in not_hers}
        self.added = [
            one
            for one in source.statements
            if (isinstance(one, Thing) and key(one) not in known and one.span not in spans)
            or (isinstance(one, Whole) and not isinstance(one, NotHers) and saying(one) not in told)
        ]
        for one in not_hers:
            self.altered.append(Altered("", one.span.line, self._line(one)))
            self.instead[one.span] = ""

    def _compare(self) -> None:
        for place, given in with_places(self.exercise.handed_out):
            was = self.exercise.line(given)
            mine = self.things.get(key(given) or ())
            if isinstance(given, syntax.AtStatement) or self._has(place, given, mine):
                continue
            if mine is None:
                self.missing.setdefault(place, []).append(was)
                self.altered.append(Altered(was, None, ""))
            else:
                self.instead[mine.span] = was
                name = given.name.text if isinstance(given, Thing) else ""
                self.altered.append(Altered(was, mine.span.line, self._line(mine), name))

    def _has(self, place: str, given: Statement, mine: Statement | None) -> bool:
        """Whether a work has what was handed out; a splice may have more in it."""
        if key(given) is not None:
            return mine is not None and (self._line(mine) == self.exercise.line(given) or keeps(given, mine))
        if isinstance(given, MadeUp):
            return any(_ends(given) <= ends for ends, _ in self.joins.get(place, ()))
        return saying(given) in self.said

    def name_or_line(self, one: Statement) -> str:
        """What a statement of hers is known by: the name of a thing, or else all that it says."""
        return one.name.text if isinstance(one, Thing) else self._line(one)

    def _line(self, one: Statement) -> str:
        """What a statement of hers says, on one line and with one space between its words."""
        return _SPACES.sub(" ", on_one_line(self.source.text, one.span))

    def _title(self) -> tuple[str, None]:
        return f'board "{self.exercise.title}"', None

    # ------------------------------------------------------------ as it stands

    def in_place(self) -> Lines:
        """Her lines in their order, what was changed put back in its place, what is missing beside them.

        Before them stands what a line that she does not end could take in; a line with `at` ends one.
        """
        lines: Lines = [(row, number) for number, row in enumerate(self.rows, 1)]
        for one in self.source.statements:
            if isinstance(one, Heading | Expectation) or one.span in self.instead:
                for number in range(one.span.line, one.span.end_line + 1):
                    lines[number - 1] = ("", number)
                lines[one.span.line - 1] = (self.instead.get(one.span, ""), one.span.line)
        for place, missing in self.missing.items():
            if place:
                lines += [(f"at {place}", None), *((was, None) for was in missing)]
        return [self._title(), *((was, None) for was in self.missing.get("", ())), *lines]

    # ---------------------------------------------------------------- in order

    def in_order(self) -> Lines:
        """What the work says in one standard order and layout."""
        lines: Lines = [self._title()]
        for given in self.exercise.handed_out:
            if isinstance(given, syntax.AtStatement | MadeUp):
                continue
            mine = self.things.get(key(given) or ())
            was = self.exercise.line(given)
            text = self._line(mine) if mine is not None and mine.span not in self.instead else was
            lines.append((text, mine.span.line if mine is not None else None))
        lines += sorted((self._line(one), one.span.line) for one in self.added)
        places = dict.fromkeys(one.place.text for _, one in self._ats())
        for place in (*places, *(place for place in self.missing if place and place not in places)):
            made_up = sorted((self._sorted(one), one.span.line) for _, one in self.joins.get(place, ()))
            lines.append((f"at {place}", None))
            lines += made_up
            lines += [(was, None) for was in self.missing.get(place, ())]
        return lines

    def _ats(self) -> list[tuple[str, syntax.AtStatement]]:
        """Where places are made up, in order of their names."""
        ats = [one for one in self.source.statements if isinstance(one, syntax.AtStatement)]
        return sorted(((one.place.text, one) for one in ats), key=lambda pair: pair[0])

    def _sorted(self, one: MadeUp) -> str:
        """A joint with its members in order of their names; what comes from a pigtail on stays in place."""
        line = self._line(one)
        if isinstance(one, syntax.CapStatement) or one.span.line != one.span.end_line or one.when is not None:
            return line
        ends = [self._slice(end.span) for end in one.ends]
        pigtail = next((number for number, end in enumerate(one.ends) if end.name is None), len(ends))
        tail = _SPACES.sub(" ", self._slice(one.span._replace(column=one.ends[-1].span.end_column)))
        return " -- ".join((*sorted(ends[:pigtail]), *ends[pigtail:])) + tail

    def _slice(self, span: Span) -> str:
        return self.rows[span.line - 1][span.column - 1 : span.end_column - 1]


def with_places(statements: tuple[Statement, ...]) -> Iterator[tuple[str, Statement]]:
    """Each statement with the place in which it is made up: nothing, where it is not."""
    place = ""
    for one in statements:
        if isinstance(one, syntax.AtStatement):
            place = one.place.text
        yield (place if isinstance(one, MadeUp | syntax.AtStatement) else ""), one


def _supplies(one: Statement) -> bool:
    """Whether it is a panel that stands for the supply."""
    return isinstance(one, syntax.PanelStatement) and not one.fed


def _ends(one: MadeUp) -> frozenset[object]:
    """What a joint joins, whatever the order."""
    if isinstance(one, syntax.CapStatement):
        return frozenset([saying(one)])
    return frozenset(saying(end) for end in one.ends)
