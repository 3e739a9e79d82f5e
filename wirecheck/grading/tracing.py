"""What a work has in common with others beside being right: what it says, whatever its names and order."""

from __future__ import annotations

import re
from hashlib import sha256
from typing import Any

from wirecheck.grading.exercise import Exercise, Heading
from wirecheck.grading.handed_out import with_places
from wirecheck.grading.sheet import Trace
from wirecheck.grading.starting import NAME_HERE
from wirecheck.grading.things import Thing, key
from wirecheck.language import syntax
from wirecheck.language.reader import comment_begins
from wirecheck.language.saying import saying
from wirecheck.language.syntax import Syntax, Word
from wirecheck.model.board import Expectation

MOST_COMMENTS = 20
# What the file that a student begins with lists in each place.
_LISTED = re.compile(r"(?:wires|screws): ")


def traced(source: Syntax, exercise: Exercise) -> Trace:
    """The trace of a work: two that have the same one say the same.

    Parameters
    ----------
    source : what the work says
    exercise : what was handed out, which is everybody's

    Examples
    --------
    >>> from wirecheck.grading.exercise import exercise
    >>> from wirecheck.language.reader import read
    >>> shed = exercise('exercise "Shed"\\nstage final 9 points\\npanel LP 120 V')
    >>> one = traced(read("panel LP 120 V\\nbox A octagon\\nbox B octagon # mine"), shed)
    >>> other = traced(read("box X octagon\\npanel LP 120 V\\n  box  Y octagon"), shed)
    >>> one.same == other.same, one.comments, one.names
    (True, ('mine',), ('A', 'B'))
    """
    known = {key(one) for one in exercise.handed_out}
    own = [one for one in source.statements if isinstance(one, Thing) and key(one) not in known]
    # Things of her own are known by what they are, and then by their order.
    names: dict[str, str] = {}
    by_kind = sorted(own, key=lambda one: (repr(_without_name(one)), one.span))
    for number, thing in enumerate(by_kind, 1):
        names.setdefault(thing.name.text, f"own {number}")

    def renamed(word: Word) -> str:
        first, *rest = word.path
        return ".".join((names.get(first, first), *rest))

    skipped = Heading | Expectation | syntax.AtStatement
    said = [
        repr((names.get(place, place), _ordered(saying(one, renamed))))
        for place, one in with_places(source.statements)
        if not isinstance(one, skipped)
    ]
    return Trace(
        sha256("\n".join(sorted(said)).encode()).hexdigest(),
        _comments(source.text, exercise.source.text),
        tuple(names),
    )


def _without_name(one: Thing) -> Any:
    """What a thing of a work is, whatever its name."""
    if isinstance(one, syntax.CableStatement):
        return saying((one.size, one.count, one.kind, one.aluminum, one.length, one.ends))
    return saying(tuple(value for value in one if value is not one.name))


def _ordered(said: Any) -> Any:
    """The same with the ends of a joint in one order."""
    if said and said[0] == "JoinStatement":
        return (said[0], tuple(sorted(map(repr, said[1][1:]))), *said[2:])
    return said


def _comments(text: str, given: str) -> tuple[str, ...]:
    """The comments that are the student's own, each once."""
    theirs = {*_all_comments(given), NAME_HERE}
    own = (one for one in _all_comments(text) if one not in theirs and not _LISTED.match(one))
    found = dict.fromkeys(own)
    return tuple(found)[:MOST_COMMENTS]


def _all_comments(text: str) -> list[str]:
    lines = text.split("\n") if "#" in text else ()
    found = (line[comment_begins(line) :].strip("# \t") for line in lines)
    return [comment for comment in found if comment]
