"""The rules, as a list and as pages of a manual."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping

from wirecheck.judge.rule import Manual
from wirecheck.report.looks import Paint, unpainted
from wirecheck.report.paragraphs import columns, wrapped


def listing(manuals: Mapping[str, Manual]) -> str:
    """Every rule with its first line, the names in one column."""
    rows = [(name, manuals[name].summary) for name in sorted(manuals)]
    return columns(rows) + "\nFor one of them: wirecheck rules RULE\n"


def page(manual: Manual, wrong: str, right: str, paint: Paint = unpainted) -> str:
    """What a rule checks, why, by which source, and two boards: one that breaks it, one that keeps it."""
    blocks = [
        paint(manual.name, "heading") + f" (from the stage: {', '.join(manual.stages)})",
        wrapped(manual.summary, ""),
        *(wrapped(paragraph, "") for paragraph in manual.why.split("\n\n") if paragraph.strip()),
        wrapped(f"Source: {manual.source}", ""),
    ]
    for heading, board in (("Wrong:", wrong), ("Right:", right)):
        if board.strip():
            blocks.append(paint(heading, "heading") + "\n" + textwrap.indent(board.rstrip(), "    "))
    return "\n\n".join(blocks) + "\n"
