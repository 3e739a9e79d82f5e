"""What one file came to: the value that every report is made of."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from wirecheck.judge.finding import SEVERITIES, STAGES, Finding, Severity, Stage


@dataclass(frozen=True, slots=True)
class Report:
    """One file's findings, in order of place; `text` is kept for the lines they point at."""

    file: str
    board: str
    text: str
    findings: tuple[Finding, ...]


def up_to(report: Report, stage: Stage) -> Report:
    """The report of a board built as far as a stage: findings of later stages are left out.

    >>> from wirecheck.language.syntax import Span
    >>> late = Finding("switching", "fault", "L1 stays dark.", Span(3, 1, 3, 4), "L1", stage="final")
    >>> up_to(Report("a.wire", "Stair", "", (late,)), "trim").findings
    ()
    """
    last = STAGES.index(stage)
    return replace(
        report, findings=tuple(each for each in report.findings if STAGES.index(each.stage) <= last)
    )


def counts(reports: Iterable[Report]) -> dict[Severity, int]:
    """How many findings of each severity, the gravest first, with none left out.

    >>> counts([])
    {'hazard': 0, 'violation': 0, 'fault': 0, 'advice': 0}
    """
    told: dict[Severity, int] = dict.fromkeys(SEVERITIES, 0)
    for report in reports:
        for finding in report.findings:
            told[finding.severity] += 1
    return told


def passes(report: Report) -> bool:
    """Whether nothing in it is worse than advice."""
    return all(finding.severity == "advice" for finding in report.findings)
