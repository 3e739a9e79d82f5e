"""What a finding says to do: the mends that were tried, or the help of its rule; and what follows from it."""

from __future__ import annotations

from wirecheck.judge.finding import Finding
from wirecheck.language.listing import first_sentence

ANY_ONE = (
    "The board does not tell which of these is the mistake. Any one of the mends puts it right, with the "
    "power off"
)


def cause(finding: Finding) -> str:
    """What hands did wrong, where one change puts it right and the message does not say it already."""
    if len(finding.mends) != 1 or finding.mends[0].is_said:
        return ""
    return finding.mends[0].mistake


def remedies(finding: Finding) -> tuple[str, ...]:
    """What to do, each way in some sentences: any one of them does.

    >>> from wirecheck.judge.finding import Mend
    >>> from wirecheck.language.syntax import Span
    >>> swapped = Mend("At A, W1.black and W1.white are swapped.", "Swap them.", ())
    >>> bare = Finding("short-circuit", "hazard", "A short.", Span(1, 1, 1, 2), "W1", help="Look.")
    >>> remedies(bare), remedies(bare._replace(mends=(swapped,)))
    (('Look.',), ('Swap them.',))
    """
    if len(finding.mends) > 1:
        return tuple(f"{mend.mistake} {mend.remedy}" for mend in finding.mends)
    if finding.mends:
        return (finding.mends[0].remedy,)
    return (finding.help,) if finding.help else ()


def follows(finding: Finding) -> tuple[str, ...]:
    """What else the same mistake brings: the rule, the line and what is wrong, in a line each."""
    return tuple(f"{one.rule}, line {one.line}: {first_sentence(one.message)}" for one in finding.follows)


def sentences(finding: Finding) -> tuple[str, ...]:
    """The whole of it for a format that has no places of its own for its parts."""
    todo = remedies(finding)
    listed = [f"{ANY_ONE}: {' Or: '.join(todo)}"] if len(todo) > 1 else [f"To do: {one}" for one in todo]
    return (
        *([cause(finding)] if cause(finding) else []),
        finding.message,
        *listed,
        *(f"From the same mistake: {one}" for one in follows(finding)),
    )
