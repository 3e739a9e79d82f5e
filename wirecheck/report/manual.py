"""The rules, as a list and as pages of a manual."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping

import click

from wirecheck.report.text import WIDTH, wrapped
from wirecheck.rules.rule import Manual


def listing(manuals: Mapping[str, Manual]) -> str:
    """Every rule with its first line, the names in one column."""
    room = max((len(name) for name in manuals), default=0) + 2
    lines = [_row(name, manuals[name].summary, room) for name in sorted(manuals)]
    return "\n".join([*lines, "", "For one of them: wirecheck rules RULE"]) + "\n"


def page(manual: Manual) -> str:
    """What a rule checks, why, by which source, and two boards: one that breaks it, one that keeps it."""
    blocks = [
        click.style(manual.name, bold=True) + f" (from the stage: {', '.join(manual.stages)})",
        wrapped(manual.summary, ""),
        *(wrapped(paragraph, "") for paragraph in manual.why.split("\n\n") if paragraph.strip()),
        wrapped(f"Source: {manual.source}", ""),
    ]
    for heading, board in (("Wrong:", manual.wrong), ("Right:", manual.right)):
        if board.strip():
            blocks.append(click.style(heading, bold=True) + "\n" + textwrap.indent(board.rstrip(), "    "))
    return "\n\n".join(blocks) + "\n"


def _row(name: str, text: str, room: int) -> str:
    return textwrap.fill(
        text, WIDTH, initial_indent=name.ljust(room), subsequent_indent=" " * room, break_on_hyphens=False
    )
