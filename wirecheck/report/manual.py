"""The rules, as a list and as pages of a manual."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping, Sequence

from wirecheck.judge.rule import Manual
from wirecheck.language.listing import listed
from wirecheck.report.looks import Paint, unpainted
from wirecheck.report.paragraphs import columns, wrapped
from wirecheck.tables.code import EDITIONS
from wirecheck.tables.editions import ASKED, Difference


def listing(manuals: Mapping[str, Manual]) -> str:
    """Every rule with its first line and what its findings can be, the names in one column."""
    rows = [(name, _with_severities(manuals[name])) for name in sorted(manuals)]
    return columns(rows) + "\nFor one of them: wirecheck rules RULE\n"


def _with_severities(manual: Manual) -> str:
    can_be = f" ({', '.join(manual.severities)})" if manual.severities else ""
    return f"{manual.summary}{can_be}"


def page(
    manual: Manual,
    wrong: str,
    right: str,
    paint: Paint = unpainted,
    differences: Sequence[Difference] | None = None,
) -> str:
    """What a rule checks, why, by which source, and two boards: one that breaks it, one that keeps it.

    Parameters
    ----------
    differences : where the editions of the code differ in what the rule asks; None where it asks nothing of
        the code.
    """
    blocks = [
        paint(manual.name, "heading") + f" (from the stage: {', '.join(manual.stages)})",
        *([wrapped(f"Can be: {', '.join(manual.severities)}", "")] if manual.severities else []),
        wrapped(manual.summary, ""),
        *(wrapped(paragraph, "") for paragraph in manual.why.split("\n\n") if paragraph.strip()),
        wrapped(f"Source: {manual.source}", ""),
        *_editions(differences, paint),
    ]
    for heading, board in (("Wrong:", wrong), ("Right:", right)):
        if board.strip():
            blocks.append(paint(heading, "heading") + "\n" + textwrap.indent(board.rstrip(), "    "))
    return "\n\n".join(blocks) + "\n"


def _editions(differences: Sequence[Difference] | None, paint: Paint) -> Iterator[str]:
    """What is said of the editions, a paragraph for each heading."""
    for heading, lines in editions(differences):
        if heading:
            said = (wrapped(f"- {line}", "  ") for line in lines)
            yield "\n".join((paint(f"{heading}:", "heading"), *said))
        else:
            yield from (wrapped(line, "") for line in lines)


def editions(differences: Sequence[Difference] | None) -> Iterator[tuple[str, list[str]]]:
    """What older editions ask otherwise, and what they say elsewhere, a matter on a line.

    Each has a heading; where all editions are alike, there is a line without one.
    """
    if differences is None:
        return
    if not differences:
        years = listed([str(year) for year in EDITIONS], len(EDITIONS))
        yield "", [f"Editions: in NEC {years} it is the same, as far as it is held here."]
    for heading, moved in (("Editions differ", False), ("In another section by edition", True)):
        lines = [_said(one) for one in differences if one.moved is moved]
        if lines:
            yield heading, lines


def _said(difference: Difference) -> str:
    """A matter, and what each edition says of it."""
    sayings = []
    for one in difference.said:
        years = f"NEC {listed([str(year) for year in one.years], len(one.years))}"
        what = "" if difference.moved or one.what == ASKED else f"{one.what} "
        where = f"({one.section})" if what else one.section
        sayings.append(f"{years}: {what}{where}" if one.what else f"{years}: nothing of it")
    return f"{difference.matter[:1].upper()}{difference.matter[1:]}. {'; '.join(sayings)}."
