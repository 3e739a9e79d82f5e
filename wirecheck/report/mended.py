"""What a finding says to do: the mends that were tried, or the help of its rule; and what follows from it."""

from __future__ import annotations

from wirecheck.judge.finding import Finding


def cause(finding: Finding) -> str:
    """What hands did wrong, where one change puts it right; nothing where none was found."""
    if not finding.mends:
        return ""
    if len(finding.mends) == 1:
        return finding.mends[0].mistake
    return "One change puts this right; which one, the board does not tell."


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
    """What else the same mistake brings, a line each."""
    return tuple(f"{one.rule}, line {one.line}: {one.message}" for one in finding.follows)


def sentences(finding: Finding) -> tuple[str, ...]:
    """The whole of it for a format that has no places of its own for its parts."""
    todo = remedies(finding)
    listed = (
        [f"To do, any one of these: {' Or: '.join(todo)}"]
        if len(todo) > 1
        else [f"To do: {one}" for one in todo]
    )
    return (
        *([cause(finding)] if finding.mends else []),
        finding.message,
        *listed,
        *(f"From the same mistake: {one}" for one in follows(finding)),
    )
