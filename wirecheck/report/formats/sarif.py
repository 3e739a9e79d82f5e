"""The report for code-scanning pages: SARIF 2.1.0 (OASIS Standard, 27 March 2020)."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from pathlib import PurePath
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

from wirecheck.caution import CAUTION
from wirecheck.judge.finding import Finding, Mend
from wirecheck.language.syntax import Span
from wirecheck.report.mended import sentences
from wirecheck.report.report import Report
from wirecheck.report.verdict import not_judged, own_parts, passed_by
from wirecheck.version import __version__

if TYPE_CHECKING:
    from wirecheck.judge.rule import Manual

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
"""Where the standard keeps its schema."""


def render(reports: Sequence[Report], manuals: Mapping[str, Manual], skipped: Sequence[str] = ()) -> str:
    """One run with every file; each rule that was met comes with its manual.

    What was not judged, which parts do not ship and which files were skipped are no results: they are
    notifications of the run (3.20.21). A file that was not checked is one, and the run is then no success
    (`executionSuccessful`).
    """
    met = sorted({finding.rule for report in reports for finding in report.findings})
    driver = {
        "name": "wirecheck",
        "semanticVersion": __version__,
        "fullDescription": {"text": CAUTION},
        "rules": [_rule(name, manuals.get(name)) for name in met],
    }
    run = {
        "tool": {"driver": driver},
        "invocations": [
            {
                "executionSuccessful": all(report.checked for report in reports),
                "toolExecutionNotifications": [
                    *(each for report in reports for each in _notifications(report)),
                    *(_notification(file, passed_by([file]), {"skipped": True}) for file in skipped),
                ],
            }
        ],
        "columnKind": "unicodeCodePoints",
        # Each once (3.14.15), though files whose names cannot be told apart in text may be shown alike.
        "artifacts": [
            {"location": {"uri": uri}} for uri in dict.fromkeys(_uri(each.file) for each in reports)
        ],
        "results": [
            _result(finding, report.file, met.index(finding.rule))
            for report in reports
            for finding in report.findings
        ],
    }
    return (
        json.dumps({"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}, indent=1, allow_nan=False) + "\n"
    )


def _rule(name: str, manual: Manual | None) -> dict[str, Any]:
    if manual is None:
        return {"id": name}
    return {
        "id": name,
        "shortDescription": {"text": manual.summary},
        "fullDescription": {"text": manual.why},
        "help": {"text": f"{manual.why}\n\nSource: {manual.source}"},
    }


def _result(finding: Finding, file: str, index: int) -> dict[str, Any]:
    result = {
        "ruleId": finding.rule,
        "ruleIndex": index,
        "level": "note" if finding.severity == "advice" else "error",
        "message": {"text": " ".join(sentences(finding))},
        "locations": [_location(file, finding.span)],
        "properties": {
            name: value
            for name, value in {
                "severity": finding.severity,
                "stage": finding.stage,
                "subject": finding.subject,
                "value": finding.value,
                "limit": finding.limit,
                "unit": finding.unit,
                "source": finding.source,
            }.items()
            if value is not None
        },
    }
    related = [(note.message, note.span) for note in finding.also]
    related += [(f"{one.rule}: {one.message}", one.span) for one in finding.follows]
    if related:
        result["relatedLocations"] = [
            {"id": number, "message": {"text": message}, **_location(file, span)}
            for number, (message, span) in enumerate(related, 1)
        ]
    if finding.mends:
        result["fixes"] = [_fix(mend, file) for mend in finding.mends]
    return result


def _fix(mend: Mend, file: str) -> dict[str, Any]:
    """A change that was tried (3.55), as what goes in place of what."""
    return {
        "description": {"text": f"{mend.mistake} {mend.remedy}"},
        "artifactChanges": [
            {
                "artifactLocation": {"uri": _uri(file)},
                "replacements": [
                    {"deletedRegion": _region(edit.span), "insertedContent": {"text": edit.text}}
                    for edit in mend.edits
                ],
            }
        ],
    }


def _notifications(report: Report) -> Iterator[dict[str, Any]]:
    """What was not judged in a file, and which of its parts do not ship."""
    if not_judged(report):
        judged = {
            "unjudged": list(report.unjudged),
            "sampled": report.sampled,
            "unfinished": list(report.unfinished),
            "unplaced": list(report.unplaced),
        }
        yield _notification(report.file, not_judged(report), judged)
    if report.parts:
        yield _notification(
            report.file, own_parts(report), {"parts": [one._asdict() for one in report.parts]}
        )


def _notification(file: str, words: str, data: dict[str, Any]) -> dict[str, Any]:
    """What there is to know of a file, in words, and as data."""
    return {
        "level": "note",
        "message": {"text": words},
        "locations": [{"physicalLocation": {"artifactLocation": {"uri": _uri(file)}}}],
        "properties": data,
    }


def _location(file: str, span: Span) -> dict[str, Any]:
    return {"physicalLocation": {"artifactLocation": {"uri": _uri(file)}, "region": _region(span)}}


def _region(span: Span) -> dict[str, int]:
    return {
        "startLine": span.line,
        "startColumn": span.column,
        "endLine": span.end_line,
        "endColumn": span.end_column,
    }


def _uri(file: str) -> str:
    r"""A path as a URI reference (RFC 3986); standard input has a name of its own.

    >>> _uri("boards/stair light.wire"), _uri("-")
    ('boards/stair%20light.wire', 'stdin')
    """
    if file == "-":
        return "stdin"
    path = PurePath(file)
    return path.as_uri() if path.is_absolute() else quote(path.as_posix())
