"""Every message that the rules can print, in one text: each rule's wrong boards, and what it says of them.

`python -m tests.words.printed RULE...` prints those of some rules; `--write` writes the file that the test
compares with, and that of the mends. A board of its own for a way of saying it lies in
`tests/rules/boards/RULE/`.
"""

from __future__ import annotations

import functools
import sys
from collections.abc import Iterator
from pathlib import Path

from tests.words import mends
from tests.words.made import of_own_parts, stops
from wirecheck import check, files
from wirecheck.judge.finding import Finding
from wirecheck.rules import rules

FILE = Path(__file__).with_name("messages.txt")
OWN = Path(__file__).parent.parent / "rules" / "boards"


def boards(name: str) -> list[Path]:
    """The boards that a rule finds something on."""
    return [files.folder("boards") / "rules" / name / "wrong.wire", *sorted((OWN / name).glob("*.wire"))]


@functools.cache
def reports(name: str) -> tuple[tuple[Path, tuple[Finding, ...]], ...]:
    """Those boards, with all that is found on each."""
    stage = next(rule.until for rule in rules() if rule.name == name)
    return tuple((path, check(path.read_bytes(), stage=stage).findings) for path in boards(name))


def printed(only: frozenset[str] = frozenset()) -> str:
    """What each rule says of each of its boards."""
    lines: list[str] = []
    for rule in rules():
        if not only or rule.name in only:
            lines += [rule.name, "=" * len(rule.name), ""]
            for path, findings in reports(rule.name):
                lines.append(f"[{path.stem}]")
                for finding in findings:
                    lines += said(finding) if finding.rule == rule.name else ()
                lines.append("")
    if not only:
        lines += ["where a path stops", "==================", "", *stops(), ""]
        lines += ["of parts of one's own", "=====================", "", *of_own_parts(), ""]
    return "\n".join(lines)


def said(finding: Finding) -> Iterator[str]:
    """A finding, a line for each thing that it says."""
    yield f"{finding.severity}, {finding.stage}, line {finding.span.line}, {finding.subject}:"
    yield f"  {finding.message}"
    if finding.value is not None or finding.limit is not None:
        yield f"  {finding.value} against {finding.limit} {finding.unit}"
    yield f"  source: {finding.source}"
    yield f"  to do: {finding.help}"
    yield from (f"  line {note.span.line}: {note.message}" for note in finding.also)


if __name__ == "__main__":
    names = frozenset(sys.argv[1:]) - {"--write"}
    if "--write" in sys.argv:
        FILE.write_text(printed(), encoding="utf-8")
        mends.FILE.write_text(mends.printed(), encoding="utf-8")
    else:
        sys.stdout.write(printed(names))
