"""The report for pull requests on GitHub: workflow commands that put each finding on its line."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from wirecheck.judge.finding import Finding
from wirecheck.report.mended import sentences
from wirecheck.report.plain import plain
from wirecheck.report.report import Report
from wirecheck.report.verdict import not_judged

if TYPE_CHECKING:
    from wirecheck.judge.rule import Manual


def render(reports: Sequence[Report], manuals: Mapping[str, Manual]) -> str:
    """One command a finding, and a notice of what was not judged; nothing for a board that is all right."""
    return "".join(line for report in reports for line in _commands(report))


def _commands(report: Report) -> Iterator[str]:
    yield from (_command(finding, report.file) for finding in report.findings)
    left = not_judged(report)
    if left:
        yield f"::notice file={_property(report.file)},title=not judged::{_data(left)}\n"


def _command(finding: Finding, file: str) -> str:
    level = "notice" if finding.severity == "advice" else "error"
    span = finding.span
    values = {
        "file": file,
        "line": str(span.line),
        "endLine": str(span.end_line),
        "col": str(span.column),
        "endColumn": str(span.end_column),
        "title": f"{finding.severity}: {finding.rule}",
    }
    properties = ",".join(f"{name}={_property(value)}" for name, value in values.items())
    parts = [*sentences(finding), finding.source and f"Source: {finding.source}"]
    return f"::{level} {properties}::{_data(chr(10).join(part for part in parts if part))}\n"


def _data(text: str) -> str:
    r"""A message as the workflow reads it back: per cent, line feed and return are escaped.

    >>> _data("80 % of it\n::error::not this")
    '80 %25 of it%0A::error::not this'
    """
    return "%0A".join(plain(line).replace("%", "%25") for line in text.splitlines())


def _property(text: str) -> str:
    """A property's value: the colon and the comma are escaped too.

    >>> _property("a,b: c")
    'a%2Cb%3A c'
    """
    return _data(text).replace(":", "%3A").replace(",", "%2C")
