"""A finding: what is wrong, where, the number against its limit, the source, the help."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Literal, NamedTuple

from wirecheck.language.rewriting import TextEdit
from wirecheck.language.syntax import Span

if TYPE_CHECKING:
    from wirecheck.judge.problem import Problem

Severity = Literal["hazard", "violation", "fault", "advice"]
Stage = Literal["rough-in", "trim", "final"]

SEVERITIES: tuple[Severity, ...] = ("hazard", "violation", "fault", "advice")
STAGES: tuple[Stage, ...] = ("rough-in", "trim", "final")

NOT_CHECKED = "not-checked"
"""The name of the finding about a file whose check did not come to its end: see `judge/not_checked.py`."""


class Note(NamedTuple):
    """Another line that has to do with a finding."""

    message: str
    span: Span


class Mend(NamedTuple):
    """A change that was tried: with it the finding and all that follows from it go, and nothing new comes.

    `mistake` says what is wrong, `remedy` what to do; `edits` do it in the board's text. `is_said` is
    whether the finding's message says the mistake already, as of a breaker that is too large. `at` is what
    the hand changes: points of the board (`W1.black@A`, `S1.common`) and names of its things (`LP.3`).
    """

    mistake: str
    remedy: str
    edits: tuple[TextEdit, ...]
    is_said: bool = False
    at: tuple[str, ...] = ()


class Finding(NamedTuple):
    """One thing to mend, in words. `value`, `limit` and `unit` are the trade's, as shown to people.

    `problem` is what the words were made of, with the board's own objects in it. `mends` are the
    changes any one of which puts it right, the likeliest first; `follows` what comes of the same mistake.
    `seen` is the message without what the rule takes for the cause, `look` where to look by the rule itself.
    """

    rule: str
    severity: Severity
    message: str
    span: Span
    subject: str
    value: float | None = None
    limit: float | None = None
    unit: str | None = None
    source: str | None = None
    help: str | None = None
    also: tuple[Note, ...] = ()
    stage: Stage = "final"
    problem: Problem | None = None
    mends: tuple[Mend, ...] = ()
    follows: tuple[Finding, ...] = ()
    seen: str = ""
    look: str | None = None

    @property
    def line(self) -> int:
        """The line of the text that it points at, from 1."""
        return self.span.line

    @property
    def to_change(self) -> Span:
        """The line that the hand would change: that of the one mend where it rewrites another than this.

        Of several lines it is the one that something is taken from, which gets shorter.

        >>> found = Finding("switching", "fault", "L1 is always on.", Span(9, 1, 9, 20), "L1")
        >>> move = Mend("W1.black is with W2.black.", "Take it out.", (TextEdit(Span(4, 3, 4, 30), ""),))
        >>> found.to_change.line, found._replace(mends=(move,)).to_change.line
        (9, 4)
        """
        if len(self.mends) != 1:
            return self.span
        edits = [edit for edit in self.mends[0].edits if edit.span[:2] != edit.span[2:]]
        if not edits or self.line in {edit.span.line for edit in edits}:
            return self.span
        return min(edits, key=_longer).span

    @property
    def mistakes(self) -> tuple[str, ...]:
        """What hands did wrong, one of these where they are several; nothing where the message says it."""
        told = tuple(dict.fromkeys(mend.mistake for mend in self.mends))
        return () if len(told) == 1 and self.mends[0].is_said else told

    @property
    def as_seen(self) -> Finding:
        """What is seen alone, without the rule's own cause and remedy: a mend gives both."""
        return self._replace(message=self.seen or self.message, help=None)


def _longer(edit: TextEdit) -> tuple[bool, int]:
    """By how many characters a line gets longer. One that goes whole, with an end in the next, is first."""
    whole = edit.span.end_line > edit.span.line
    return not whole, len(edit.text) - (0 if whole else edit.span.end_column - edit.span.column)


def in_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings in order of place, at one place the gravest first; advice after all that is wrong."""
    return tuple(
        sorted(
            findings,
            key=lambda one: (one.severity == "advice", one.span, SEVERITIES.index(one.severity), one.rule),
        )
    )


def in_plain_values(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings without the board's own objects, as they go to another process."""
    return tuple(
        finding._replace(problem=None, follows=in_plain_values(finding.follows)) for finding in findings
    )
