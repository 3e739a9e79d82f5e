"""The report that is read at the bench: what is wrong, where, by how much, why, and what to do.

Whoever shows it may give its headings and severities a look, by a `Paint`. Nothing of the
user's file reaches it but through `plain`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import accumulate
from typing import TYPE_CHECKING

from wirecheck.caution import CAUTION
from wirecheck.judge.finding import NOT_CHECKED, Finding, Note
from wirecheck.report.looks import Paint, unpainted
from wirecheck.report.measured import measured
from wirecheck.report.mended import ANY_ONE, cause, follows, remedies
from wirecheck.report.numbers import counted
from wirecheck.report.paragraphs import headline, one_line, wrapped
from wirecheck.report.plain import excerpt, plain
from wirecheck.report.report import Report, counts
from wirecheck.report.verdict import clean, not_judged, own_parts, passed_by, tally

if TYPE_CHECKING:
    from wirecheck.judge.rule import Manual


def render(
    reports: Sequence[Report],
    manuals: Mapping[str, Manual],
    skipped: Sequence[str] = (),
    paint: Paint = unpainted,
) -> str:
    """Every report, a summary with the files that were skipped, and the caution.

    The reason for a rule is given with its first finding only.
    """
    known = dict(manuals)
    blocks = [_board(report, known, paint) for report in reports]
    last = [*_how_to_see(reports), summary(reports), *_skipped(skipped), wrapped(CAUTION, "")]
    return "\n".join([*blocks, *last]) + "\n"


def findings_only(
    reports: Sequence[Report],
    manuals: Mapping[str, Manual],
    skipped: Sequence[str] = (),
    paint: Paint = unpainted,
) -> str:
    """What is left when asked to be quiet: boards with findings, and the caution with them.

    A board with parts from beside it is shown too, and a file that was skipped is named: that nothing was
    found may be the work of whoever wrote them.
    """
    known = dict(manuals)
    blocks = [
        _board(report, known, paint)
        for report in reports
        if report.findings or any(one.beside for one in report.parts)
    ]
    blocks += [*_how_to_see(reports), *_skipped(skipped)]
    return "\n".join([*blocks, wrapped(CAUTION, "")]) + "\n" if blocks else ""


def summary(reports: Sequence[Report]) -> str:
    """One line: how many boards, how many findings of each severity, and how much was not judged."""
    left = sum(len(report.unjudged) for report in reports)
    own = sum(bool(report.parts) for report in reports)
    told = [tally(counts(reports)) or "no problem found", *([f"{left} not judged"] if left else [])]
    told += [f"{own} with parts that do not ship"] if own else []
    checked = sum(report.checked for report in reports)
    without = f", {len(reports) - checked} not" if checked < len(reports) else ""
    return f"{counted(checked, 'board')} checked{without}: {'; '.join(told)}.\n"


def _how_to_see(reports: Sequence[Report]) -> list[str]:
    """How to see a board as it is with a mend made, where one is offered."""
    most = max((len(report.mends) for report in reports), default=0)
    number = "1" if most == 1 else "N, by the number of the mend"
    return [f"See the board with a mend made: wirecheck check FILE --try {number}.\n"] if most else []


def _skipped(skipped: Sequence[str]) -> list[str]:
    return [f"{wrapped(passed_by(skipped), '')}\n"] if skipped else []


def _board(report: Report, manuals: dict[str, Manual], paint: Paint) -> str:
    untitled = "A board without a title" if report.checked else "Not checked"
    title = paint(headline(report.board) or untitled, "heading")
    heading = f"{title} ({one_line(report.file)})\n"
    last = "".join(
        f"\n{wrapped(words, '  ')}\n" for words in (not_judged(report), own_parts(report)) if words
    )
    if not report.findings:
        return f"{heading}\n  {clean(report)}\n{last}"
    # Mends are numbered through the report, where there are several.
    many = len(report.mends) > 1
    firsts = accumulate((len(finding.mends) for finding in report.findings), initial=1)
    blocks = (
        "\n".join(_finding(number, first if many else None, finding, report.text, manuals, paint)).rstrip()
        for number, (first, finding) in enumerate(zip(firsts, report.findings, strict=False), 1)
    )
    return heading + "".join(f"\n{block}\n" for block in blocks) + last


def _finding(
    number: int, first: int | None, finding: Finding, text: str, manuals: dict[str, Manual], paint: Paint
) -> Iterator[str]:
    """One finding; the manual of its rule is taken out of `manuals`, so that its reason is given once."""
    word = paint(finding.severity.upper(), finding.severity)
    yield f"{number}. {word}: {finding.rule}" + (f", {plain(finding.subject)}" if finding.subject else "")
    if cause(finding):
        yield wrapped(cause(finding), "   ")
    yield wrapped(finding.message, "   ")
    yield from _shown(text, finding, paint)
    against = measured(finding)
    if against:
        yield wrapped(against, "   ")
    manual = manuals.pop(finding.rule, None)
    if manual is not None:
        yield wrapped(f"Why: {manual.why}", "   ")
    if finding.source:
        yield wrapped(f"Source: {finding.source}", "   ")
    yield from _to_do(finding, first)
    listed = follows(finding)
    if listed:
        yield "   From the same mistake:"
        yield from (wrapped(f"- {one}", "     ") for one in listed)
    elsewhere = (Note("it shows here", finding.span),) if finding.to_change != finding.span else ()
    for note in (*elsewhere, *finding.also):
        yield wrapped(f"With line {note.span.line}: {note.message}", "   ")
        shown = excerpt(text, note.span)
        if shown:
            yield f"     {note.span.line} | {shown.line}"


def _to_do(finding: Finding, first: int | None) -> Iterator[str]:
    """What to do; changes that were tried have the numbers that `--try` takes."""
    todo = remedies(finding)
    if len(finding.mends) > 1:
        yield wrapped(f"{ANY_ONE}:", "   ")
        numbered = enumerate(todo, first or 1)
        yield from (wrapped(f"- {one} (mend {number})", "     ") for number, one in numbered)
        return
    which = "" if first is None else f" (mend {first})"
    head = f"To do, with the power off{which}" if finding.mends else "To do"
    yield from (wrapped(f"{head}: {one}", "   ") for one in todo)


def _shown(text: str, finding: Finding, paint: Paint) -> Iterator[str]:
    span = finding.to_change
    shown = None if finding.rule == NOT_CHECKED else excerpt(text, span)
    if shown is None:
        return
    gutter = f"     line {span.line} | "
    yield ""
    yield gutter + shown.line
    yield " " * (len(gutter) - 2) + "| " + paint(shown.marks, finding.severity)
    yield ""
