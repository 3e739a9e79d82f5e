"""Rules about the text itself: what could not be read, and names that name nothing."""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge.case import Case
from wirecheck.judge.finding import Finding
from wirecheck.rules.old import rule


def _problems(case: Case, name: str) -> Iterator[Finding]:
    for problem in (*case.board.problems, *case.board.remarks):
        if problem.rule == name:
            yield Finding(
                rule=name,
                severity="advice" if problem in case.board.remarks else "fault",
                message=problem.message,
                span=problem.span,
                subject=f"line {problem.span.line}",
                help=problem.help,
                stage="trim" if problem.later else "rough-in",
            )


@rule("rough-in")
def syntax(case: Case) -> Iterator[Finding]:
    """A line says something that cannot be read, or that cannot be so.

    What the line was to say is left out of every check, so nothing else is
    known to be right until it can be read.

    Source: the board language
    """
    return _problems(case, "syntax")


@rule("rough-in", "trim")
def unknown_name(case: Case) -> Iterator[Finding]:
    """A name is used that nothing on the board bears, or not in that place.

    Most often a slip of the pen. It can also be a wire that is joined in a box
    it never comes to.

    Source: the board language
    """
    return _problems(case, "unknown-name")


@rule("rough-in")
def unknown_part(case: Case) -> Iterator[Finding]:
    """A device is of a part that the library does not have.

    Without its part nothing is known of its screws, so what is joined to it
    cannot be checked.

    Source: the board language
    """
    return _problems(case, "unknown-part")
