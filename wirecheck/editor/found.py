"""What is wrong with a text, as an editor marks it: plain values, which go from process to process."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from wirecheck.assembly import MOST_STATEMENTS, library_beside, shipped_parts
from wirecheck.judge.finding import Finding, Severity
from wirecheck.language.reader import read
from wirecheck.language.rewriting import TextEdit
from wirecheck.language.syntax import (
    ExerciseTitle,
    FaultsTitle,
    FoundTitle,
    PartTitle,
    Problem,
    Span,
    Syntax,
)
from wirecheck.parts.library import Library

MOST_RELATED = 20
"""The most lines that one finding names beside its own."""


class Related(NamedTuple):
    """Another line that has to do with it."""

    says: str
    span: Span


class Change(NamedTuple):
    """A change of the text that was tried and puts it right."""

    says: str
    edits: tuple[TextEdit, ...]


class Found(NamedTuple):
    """One thing that is wrong, in the words of the report."""

    rule: str
    severity: Severity
    says: str
    span: Span
    related: tuple[Related, ...] = ()
    mends: tuple[Change, ...] = ()


def found(path: str | None, text: str, file: str, effort: int) -> tuple[Found, ...]:
    """What is wrong with a text that is open in an editor.

    Parameters
    ----------
    path : where its file is, beside which its own parts may lie; None where it is in no file yet
    effort : how many changes are tried to find the mistakes behind the findings, as by `wirecheck.check`

    Examples
    --------
    >>> one = found(None, 'board "Shed"\\npanel LP 120 V\\nbox A device 2', "-", 0)[0]
    >>> one.rule, one.severity, one.span.line
    ('syntax', 'fault', 3)
    """
    library = library_of(path)
    syntax = read(text, file)
    first = syntax.statements[0] if syntax.statements else None
    if not syntax.statements and not syntax.problems:
        return ()
    if isinstance(first, PartTitle):
        return _of_text(_part_problems(syntax, library))
    if (
        isinstance(first, ExerciseTitle | FaultsTitle | FoundTitle)
        or len(syntax.statements) > MOST_STATEMENTS
    ):
        return _of_text(syntax.problems)
    return _of_board(syntax, library, effort)


def library_of(path: str | None) -> Library:
    """Where the parts of a text are looked up."""
    return library_beside(path) if path is not None else shipped_parts()


def _of_board(syntax: Syntax, library: Library, effort: int) -> tuple[Found, ...]:
    from wirecheck.judge.case import Case
    from wirecheck.model.build import build
    from wirecheck.report.checked import checked

    report = checked(Case(build(syntax, library)), syntax, library, "final", effort)
    return tuple(_found(one) for one in report.findings)


def _found(finding: Finding) -> Found:
    from wirecheck.report.measured import measured
    from wirecheck.report.mended import cause, remedies

    says = [words for words in (cause(finding), finding.message, measured(finding)) if words]
    says += [f"To do: {words}" for words in remedies(finding)]
    says += [f"By: {finding.source}"] if finding.source else []
    related = [Related(note.message, note.span) for note in finding.also]
    related += [Related(f"{one.rule}: {one.message}", one.span) for one in finding.follows]
    mends = tuple(Change(mend.remedy, mend.edits) for mend in finding.mends)
    return Found(
        finding.rule,
        finding.severity,
        "\n".join(says),
        finding.span,
        tuple(related[:MOST_RELATED]),
        mends,
    )


def _of_text(problems: Iterable[Problem]) -> tuple[Found, ...]:
    return tuple(
        Found(one.rule, "fault", f"{one.message}\n{one.help}" if one.help else one.message, one.span)
        for one in problems
    )


def _part_problems(syntax: Syntax, library: Library) -> tuple[Problem, ...]:
    """The mistakes of a part's file, those of the parts inside it apart."""
    from wirecheck.language.syntax import DeviceStatement
    from wirecheck.parts.read import part

    inside = {
        one.part.text: library.part(one.part.text)
        for one in syntax.statements
        if isinstance(one, DeviceStatement)
    }
    return part(syntax, inside).problems
