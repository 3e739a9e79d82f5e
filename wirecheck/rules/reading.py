"""Rules about the text itself: what could not be read, and names that name nothing."""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge.case import Case
from wirecheck.judge.finding import Finding
from wirecheck.judge.rule import rule


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

    Wrong:
        board "A length without its unit"
        panel LP 120/240 V, 10 kA available
        breaker LP.3 15 A
        box B octagon 15.5 cu in
        cable W1 14/2 NM-B 11 from LP to B

    Right:
        board "A length with its unit"
        panel LP 120/240 V, 10 kA available
        breaker LP.3 15 A
        box B octagon 15.5 cu in
    """
    return _problems(case, "syntax")


@rule("rough-in", "trim")
def unknown_name(case: Case) -> Iterator[Finding]:
    """A name is used that nothing on the board bears, or not in that place.

    Most often a slip of the pen. It can also be a wire that is joined in a box
    it never comes to.

    Source: the board language

    Wrong:
        board "A wire that is not there"
        panel LP 120/240 V, 10 kA available
        breaker LP.3 15 A
        box B octagon 15.5 cu in
        cable W1 14/2 NM-B 11 ft from LP to B
        L1 is lampholder 60 W in B
        at LP
          W1.black -- LP.3
          W1.white -- LP.neutral
          W1.bare -- LP.ground
        at B
          W1.blakc -- L1.hot
          W1.white -- L1.neutral
          W1.bare -- L1.ground

    Right:
        board "Every name is one that was given"
        panel LP 120/240 V, 10 kA available
        breaker LP.3 15 A
        box B octagon 15.5 cu in
        cable W1 14/2 NM-B 11 ft from LP to B
        L1 is lampholder 60 W in B
        at LP
          W1.black -- LP.3
          W1.white -- LP.neutral
          W1.bare -- LP.ground
        at B
          W1.black -- L1.hot
          W1.white -- L1.neutral
          W1.bare -- L1.ground
    """
    return _problems(case, "unknown-name")


@rule("rough-in")
def unknown_part(case: Case) -> Iterator[Finding]:
    """A device is of a part that the library does not have.

    Without its part nothing is known of its screws, so what is joined to it
    cannot be checked.

    Source: the board language

    Wrong:
        board "A part by a name of its own"
        panel LP 120/240 V, 10 kA available
        breaker LP.3 15 A
        box B octagon 15.5 cu in
        L1 is lampholdr 60 W in B

    Right:
        board "A part by its name in the library"
        panel LP 120/240 V, 10 kA available
        breaker LP.3 15 A
        box B octagon 15.5 cu in
    """
    return _problems(case, "unknown-part")
