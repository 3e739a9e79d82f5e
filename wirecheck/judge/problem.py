"""A problem: what a rule sees on a board, as data and without a word."""

from __future__ import annotations

from typing import NamedTuple, Protocol

from wirecheck.judge.finding import Note, Severity, Stage
from wirecheck.judge.record import Record
from wirecheck.language.syntax import Span

LOOK_AGAIN = "Look again, with the power off,"
"""How it is said where to look."""


class Thing(Protocol):
    """Something of the board with a name: a device, a screw, a conductor, a breaker, a load."""

    @property
    def name(self) -> str:
        """How the board calls it."""


class Spanned(Protocol):
    """Something of the board that a line of the text declares."""

    @property
    def span(self) -> Span:
        """Where it is written."""


class Spot(NamedTuple):
    """A place in the text, and what of the board stands there: a join, a conductor, a device."""

    span: Span
    of: object


def spot(thing: Spanned) -> Spot:
    """The line that declares a thing."""
    return Spot(thing.span, thing)


class Problem(Record):
    """The base of every rule's own record, which adds the objects and numbers that its words need.

    `at` is what the hand would change, and the line that says it; `about` what it is about,
    None for the text itself. `copper` holds the pieces (`Uses.piece`) that it concerns, for
    `wirecheck.causes` to see which problems lie on the same copper.
    """

    at: Spot
    about: Thing | None
    severity: Severity
    stage: Stage
    copper: frozenset[int] = frozenset()

    @property
    def subject(self) -> str:
        """The name of what it is about."""
        return self.about.name if self.about is not None else f"line {self.at.span.line}"


class Words(NamedTuple):
    """A problem put into words: what is wrong, what to do, by which source, the number and its limit.

    `stands` is whether `help` says what belongs there, however the wires get there, and no single move: it is
    then said where no mend was found, since it cannot be the wrong one.
    `guess` is what the rule takes for the cause, where it names one: it ends the message, and gives way to a
    mend that was tried. `look` is said where no mend was found: where to look, or what is not there at all,
    in whole sentences, where the rule knows it better than what the problem is about tells.
    `value`, `limit` and `unit` are the trade's, in full: whoever shows them rounds them.
    """

    message: str
    help: str | None = None
    source: str | None = None
    value: float | None = None
    limit: float | None = None
    unit: str | None = None
    also: tuple[Note, ...] = ()
    guess: str = ""
    look: str | None = None
    stands: bool = False
