"""The report for pull requests on GitHub: workflow commands that put each finding on its line."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from wirecheck.judge.finding import Finding
from wirecheck.report.mended import sentences
from wirecheck.report.plain import plain
from wirecheck.report.report import Report
from wirecheck.report.verdict import not_judged, own_parts, passed_by

if TYPE_CHECKING:
    from wirecheck.judge.rule import Manual


def render(reports: Sequence[Report], manuals: Mapping[str, Manual], skipped: Sequence[str] = ()) -> str:
    """One command a finding, and notices of what was not judged, of parts that do not ship and of files that
    were skipped; nothing for a board that is all right.
    """
    lines = [line for report in reports for line in _commands(report)]
    lines += (_notice(file, "skipped", passed_by([file])) for file in skipped)
    return "".join(lines)


def _commands(report: Report) -> Iterator[str]:
    yield from (_command(finding, report.file) for finding in report.findings)
    for title, words in (("not judged", not_judged(report)), ("own parts", own_parts(report))):
        if words:
            yield _notice(report.file, title, words)


def _notice(file: str, title: str, words: str) -> str:
    return f"::notice file={_property(file)},title={title}::{_data(words)}\n"


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
