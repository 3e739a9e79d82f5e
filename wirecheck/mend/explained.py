"""Findings with the mistake behind them: one for each mistake, what follows from it, and its mends."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from wirecheck.judge.case import Case
from wirecheck.judge.finding import SEVERITIES, Finding, Mend, Stage, in_order
from wirecheck.judge.reading import Reading
from wirecheck.language.listing import listed
from wirecheck.language.syntax import Syntax
from wirecheck.parts.library import Library
from wirecheck.rules.terminal_crowding import Crowded

# With more findings than this that are worse than advice no few mistakes are behind them.
MOST_FOUND = 40
# A board that takes more of its work than this part to be judged once is not judged over and over. What
# says why something is wrong is no part of that: the search asks only whether it is.
MOST_SPENT = 0.5
# Of the lines that could not be read so many are named where another finding waits for them.
MOST_LINES = 3


class Explained(NamedTuple):
    """`ended` says that the effort ended the search, and more might be found with more."""

    findings: tuple[Finding, ...]
    ended: bool


def explained(
    findings: Sequence[Finding],
    case: Case,
    syntax: Syntax,
    library: Library,
    stage: Stage,
    effort: int,
) -> Explained:
    """The findings of a board, those of one mistake under one of them, with the edits that put it right.

    Parameters
    ----------
    findings : what is reported of the board
    effort : how many edits are tried at most; each try is a check of the whole board; none where it is 0
    """
    if case.board.problems:
        return Explained(_read_first(findings), False)
    wrong = sum(finding.severity != "advice" for finding in findings)
    if not effort or not wrong:
        return Explained(tuple(findings), False)
    judging = case.work.spent - case.work.on_reasons
    if wrong > MOST_FOUND or judging > MOST_SPENT * case.work.whole or case.all_left():
        return Explained(tuple(findings), True)
    # A right board waits for nothing that only a wrong one needs.
    from wirecheck.mend import search
    from wirecheck.mend.edits import Change, Edit, edited
    from wirecheck.mend.looks import where_to_look
    from wirecheck.mend.sheet import sheet
    from wirecheck.mend.spots import spots
    from wirecheck.mend.words import told

    result = search.search(syntax, case, library, stage, effort)
    left = list(findings)
    heads: list[Finding] = []
    mended: list[Syntax] = []
    original = sheet(syntax)
    for mends in result.mistakes:
        clears = mends[0].clears
        covered = [one for one in left if (one.rule, one.subject) in clears and one.severity != "advice"]
        if not covered:
            continue
        offered: list[tuple[Edit, Mend]] = []
        for mend in mends:
            alone = edited(original, mend.edit) if not mend.waits else None
            edits = (mend.sheet if alone is None else alone).edits()
            # A jumper that is taken off one screw is off the other.
            if all(edits != before.edits for _, before in offered):
                words = told(mend.edit, original, case.board)
                at = spots(mend.edit, case.board)
                remedy = f"{_first(result.mistakes)}{words.remedy}" if mend.waits else words.remedy
                offered.append((mend.edit, Mend(words.mistake, remedy, edits, at=at)))
        lines = {edit.span.line for edit in offered[0][1].edits}
        # What crowds a screw and does something else besides is told by that: it does not belong there.
        head = min(
            covered,
            key=lambda one: (
                isinstance(one.problem, Crowded),
                SEVERITIES.index(one.severity),
                one.span.line not in lines,
                one.span,
            ),
        )
        others = sorted(covered, key=lambda one: SEVERITIES.index(one.severity))
        follows = tuple(one.as_seen for one in others if one is not head)
        left = [one for one in left if one not in covered]
        told_of = tuple(
            one._replace(is_said=isinstance(edit, Change) and edit.subject == head.subject)
            for edit, one in offered
        )
        heads.append(head.as_seen._replace(mends=told_of, follows=follows))
        mended.append(mends[0].sheet.now)
    gone = _advice_gone(left, result.mistakes[-1][0].sheet.now, library, stage) if heads else []
    left = [one for one in left if one not in gone]
    for place, now in enumerate(mended):
        # Each is mended on top of those before it: what goes with the first of them follows from that one.
        here = _advice_gone(gone, now, library, stage) if place < len(mended) - 1 else gone
        heads[place] = heads[place]._replace(follows=(*heads[place].follows, *here))
        gone = [one for one in gone if one not in here]
    # A remedy that nobody tried is not given: only what was not read, or is advice, keeps its help.
    left = [one if one.severity == "advice" else one._replace(help=where_to_look(one)) for one in left]
    return Explained(in_order([*heads, *left]), result.ended and bool(result.left))


def _first(mistakes: Sequence[object]) -> str:
    """What is done before a mend that lets something work which another mistake makes unsafe."""
    others = "mistake" if len(mistakes) == 2 else "mistakes"
    return f"First put the other {others} right. "


def _read_first(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """The findings of a board of which a line could not be read: that line first, and no remedy for others.

    What seems to be missing may stand in that line, and what is done for it would be done twice, or harm.
    """
    unread = [one for one in findings if isinstance(one.problem, Reading)]
    lines = dict.fromkeys(str(one.line) for one in unread if one.severity != "advice")
    if not lines:
        return tuple(findings)
    some = listed(lines, MOST_LINES)
    first = (
        f"First put line {some} right: it could not be read."
        if len(lines) == 1
        else f"First put lines {some} right: they could not be read."
    )
    rest = [one for one in findings if not isinstance(one.problem, Reading)]
    return (*unread, *(one if one.severity == "advice" else one._replace(help=first) for one in rest))


def _advice_gone(given: Sequence[Finding], mended: Syntax, library: Library, stage: Stage) -> list[Finding]:
    """The advice that is not given any more on the board with its mistakes put right."""
    from wirecheck.findings import findings
    from wirecheck.model.build import build

    advice = [one for one in given if one.severity == "advice"]
    if not advice:
        return []
    case = Case(build(mended, library))
    still = {(one.rule, one.subject) for one in findings(case, stage)}
    return [] if case.all_left() else [one for one in advice if (one.rule, one.subject) not in still]
