"""The report for build servers: JUnit XML, a suite for each file, a case for each finding."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING
from xml.etree import ElementTree

from wirecheck.judge.finding import NOT_CHECKED, Finding
from wirecheck.report.mended import cause, sentences
from wirecheck.report.numbers import quantity
from wirecheck.report.plain import plain
from wirecheck.report.report import Report
from wirecheck.report.verdict import clean, not_judged, own_parts, passed_by

if TYPE_CHECKING:
    from wirecheck.judge.rule import Manual


def render(reports: Sequence[Report], manuals: Mapping[str, Manual], skipped: Sequence[str] = ()) -> str:
    """A finding fails its case; advice passes with its words; a clean file has one passing case.

    A file that was not checked is an error. What was not judged, and which parts do not ship, is in the words
    of the suite. A file of a folder that holds a part has a suite with one case that is skipped.
    """
    root = ElementTree.Element("testsuites", name="wirecheck")
    for report in reports:
        _suite(root, report)
    for file in skipped:
        counted = {"name": plain(file), "tests": "1", "failures": "0", "errors": "0", "skipped": "1"}
        suite = ElementTree.SubElement(root, "testsuite", counted)
        case = ElementTree.SubElement(suite, "testcase", classname=plain(file), name="a part, and no board")
        ElementTree.SubElement(case, "skipped", message=plain(passed_by([file])))
    for name in ("tests", "failures", "errors"):
        root.set(name, str(sum(int(suite.get(name, "0")) for suite in root)))
    ElementTree.indent(root)
    text: bytes = ElementTree.tostring(root, "us-ascii", xml_declaration=False)
    return f'<?xml version="1.0" encoding="utf-8"?>\n{text.decode()}\n'


def _suite(root: ElementTree.Element, report: Report) -> None:
    errors = sum(finding.rule == NOT_CHECKED for finding in report.findings)
    failures = sum(finding.severity != "advice" for finding in report.findings) - errors
    suite = ElementTree.SubElement(
        root,
        "testsuite",
        name=plain(report.file),
        tests=str(len(report.findings) or 1),
        failures=str(failures),
        errors=str(errors),
        skipped="0",
    )
    if not report.findings:
        ElementTree.SubElement(suite, "testcase", classname=plain(report.file), name=clean(report))
    for finding in report.findings:
        _case(suite, finding, plain(report.file))
    said = [plain(words) for words in (not_judged(report), own_parts(report)) if words]
    if said:
        ElementTree.SubElement(suite, "system-out").text = "\n".join(said)


def _case(suite: ElementTree.Element, finding: Finding, file: str) -> None:
    name = f"{finding.rule} at line {finding.span.line} column {finding.span.column}"
    case = ElementTree.SubElement(suite, "testcase", classname=file, name=f"{name}: {plain(finding.subject)}")
    if finding.severity == "advice":
        ElementTree.SubElement(case, "system-out").text = _words(finding)
    else:
        kind = "error" if finding.rule == NOT_CHECKED else "failure"
        message = plain(f"{cause(finding)} {finding.message}".strip())
        failure = ElementTree.SubElement(case, kind, type=finding.severity, message=message)
        failure.text = _words(finding)


def _words(finding: Finding) -> str:
    lines = [*sentences(finding)]
    if finding.value is not None and finding.limit is not None:
        lines.append(
            f"{quantity(finding.value, finding.unit, finding.limit)} against "
            f"{quantity(finding.limit, finding.unit, finding.value)}"
        )
    lines.extend([finding.source] if finding.source else [])
    lines.extend(f"line {note.span.line}: {note.message}" for note in finding.also)
    return "\n".join(plain(line) for line in lines)
