"""The report for programs: one JSON object, whose shape is kept from version to version."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from wirecheck.judge.finding import Finding, Mend
from wirecheck.report.report import Report, counts

if TYPE_CHECKING:
    from wirecheck.judge.rule import Manual

VERSION = 1


def render(reports: Sequence[Report], manuals: Mapping[str, Manual], skipped: Sequence[str] = ()) -> str:
    """One object with every file, its findings, and the counts; characters beyond ASCII are escaped."""
    data = {
        "version": VERSION,
        "files": [file_record(report) for report in reports],
        "skipped": list(skipped),
        "summary": counts(reports),
    }
    return json.dumps(data, indent=1, allow_nan=False) + "\n"


def file_record(report: Report) -> dict[str, Any]:
    """One file as plain data."""
    return {
        "file": report.file,
        "board": report.board,
        "findings": [record(finding) for finding in report.findings],
        "unjudged": list(report.unjudged),
        "sampled": report.sampled,
        **({"left-out": list(report.left_out)} if report.left_out else {}),
        "parts": [one._asdict() for one in report.parts],
        "unfinished": list(report.unfinished),
        "unplaced": list(report.unplaced),
    }


def _mend(mend: Mend) -> dict[str, Any]:
    """A change that was tried: what it says, and the text that it puts where."""
    return {
        "mistake": mend.mistake,
        "says": mend.remedy,
        "edits": [
            {
                "line": edit.span.line,
                "column": edit.span.column,
                "end_line": edit.span.end_line,
                "end_column": edit.span.end_column,
                "text": edit.text,
            }
            for edit in mend.edits
        ],
    }


def record(finding: Finding) -> dict[str, Any]:
    """One finding as plain data; what it does not have is left out."""
    data = {
        "rule": finding.rule,
        "severity": finding.severity,
        "stage": finding.stage,
        "message": finding.message,
        "line": finding.span.line,
        "column": finding.span.column,
        "end_line": finding.span.end_line,
        "end_column": finding.span.end_column,
        "subject": finding.subject,
        "value": finding.value,
        "limit": finding.limit,
        "unit": finding.unit,
        "source": finding.source,
        "help": finding.help,
        "also": [{"line": note.span.line, "message": note.message} for note in finding.also] or None,
        "mend": _mend(finding.mends[0]) if finding.mends else None,
        "other_mends": [_mend(one) for one in finding.mends[1:]] or None,
        "follows": [record(one) for one in finding.follows] or None,
    }
    return {name: value for name, value in data.items() if value is not None}
