"""Findings with the mistake behind them: one for each mistake, what follows from it, and its mends."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from wirecheck.judge.case import Case
from wirecheck.judge.finding import SEVERITIES, Finding, Mend, Stage
from wirecheck.language.syntax import Syntax
from wirecheck.mend import search
from wirecheck.mend.edits import Change, edited
from wirecheck.mend.sheet import sheet
from wirecheck.mend.words import told
from wirecheck.model.draft import Parts


class Explained(NamedTuple):
    """`ended` says that the effort ended the search, and more might be found with more."""

    findings: tuple[Finding, ...]
    ended: bool


def explained(
    findings: Sequence[Finding],
    case: Case,
    syntax: Syntax,
    library: Parts,
    stage: Stage,
    effort: int,
) -> Explained:
    """The findings of a board, those of one mistake under one of them, with the edits that put it right.

    Parameters
    ----------
    findings : what is reported of the board
    effort : how many edits are tried at most; each try is a check of the whole board
    """
    if case.all_left():
        return Explained(tuple(findings), True)
    if case.board.problems or all(finding.severity == "advice" for finding in findings):
        return Explained(tuple(findings), False)
    result = search.search(syntax, case, library, stage, effort)
    left = list(findings)
    heads: list[Finding] = []
    original = sheet(syntax)
    for mends in result.mistakes:
        clears = mends[0].clears
        covered = [one for one in left if (one.rule, one.subject) in clears and one.severity != "advice"]
        if not covered:
            continue
        offered = []
        for mend in mends:
            alone = edited(original, mend.edit)
            changed = mend.sheet if alone is None else alone
            words = told(mend.edit, original, case.board)
            offered.append(Mend(words.mistake, words.remedy, changed.edits()))
        lines = {edit.span.line for edit in offered[0].edits}
        head = min(
            covered,
            key=lambda one: (SEVERITIES.index(one.severity), one.span.line not in lines, one.span),
        )
        follows = tuple(one for one in covered if one is not head)
        left = [one for one in left if one not in covered]
        said = (isinstance(mend.edit, Change) and mend.edit.subject == head.subject for mend in mends)
        told_of = tuple(one._replace(is_said=is_said) for one, is_said in zip(offered, said, strict=True))
        heads.append(head._replace(help=None, mends=told_of, follows=follows))
    # A remedy that nobody tried is not given: only what was not read, or is advice, keeps its help.
    left = [one if one.severity == "advice" else one._replace(help=None) for one in left]
    ordered = sorted([*heads, *left], key=lambda one: (one.span, SEVERITIES.index(one.severity), one.rule))
    return Explained(tuple(ordered), result.ended and bool(result.left))
