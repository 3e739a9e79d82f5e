"""The verdict on a work's text, in plain values: what several works that say the same have in common."""

from __future__ import annotations

from collections.abc import Iterator, MutableMapping
from dataclasses import replace
from typing import NamedTuple

from wirecheck.findings import problems
from wirecheck.grading.board_drawn import NOT_DRAWN, Drawn, drawn
from wirecheck.grading.questions import question
from wirecheck.judge.case import Case
from wirecheck.judge.finding import SEVERITIES, STAGES, Finding, Stage, in_plain_values
from wirecheck.judge.problem import Problem
from wirecheck.judge.purpose import of_conductor
from wirecheck.language import reader
from wirecheck.language.syntax import AtStatement, Shown, Syntax
from wirecheck.model.board import Board, Expectation
from wirecheck.model.build import build
from wirecheck.model.expectations import words_of
from wirecheck.parts.library import Library
from wirecheck.rules.open_splice import find as open_splices

MOST_KEPT = 4096
"""The most verdicts that are kept for works that say the same."""


class Verdict(NamedTuple):
    """What the check of a text came to.

    Attributes
    ----------
    findings : one for each mistake, without the board's own objects
    questions : for each of them where to look again; nothing where that is not known
    asked : for each of them the lines of the expectations that it is about, and that what follows is about
    untouched : the places to which wires come, and in which nothing is joined
    unwired : the devices of which something is asked, and on which no screw but a ground has a wire
    unspliced : the boxes in which something belongs in one splice, and no splice is made
    spliced : whether grounds or neutrals are spliced in any box
    unjudged : what was not judged, and by which parts that do not ship the rest was, in sentences
    ended : whether the effort ended the search for the mistakes
    failed : why it could not be judged; nothing where it was
    picture : the board with its flags, where one was asked for
    """

    findings: tuple[Finding, ...] = ()
    questions: tuple[str, ...] = ()
    asked: tuple[tuple[int, ...], ...] = ()
    untouched: tuple[str, ...] = ()
    unwired: tuple[str, ...] = ()
    unspliced: tuple[str, ...] = ()
    spliced: bool = True
    unjudged: str = ""
    ended: bool = False
    failed: str = ""
    picture: Drawn = NOT_DRAWN


class Judging(NamedTuple):
    """How works are judged, and what is known of them already.

    Attributes
    ----------
    library : where parts are looked up
    stage : the one up to which the works are built; None is the last
    effort : how many changes are tried on each at most
    picture : how much the flags of a picture tell of the mends; None is no picture
    kept : verdicts by what was judged
    known : of what was seen, whether some of it could not be read
    """

    library: Library
    stage: Stage | None
    effort: int
    picture: Shown | None
    kept: MutableMapping[str, Verdict]
    known: MutableMapping[str, bool]

    def unread(self, text: str) -> bool:
        """Whether some of a text cannot be read or built, as where a name is of nothing."""
        if len(self.known) >= MOST_KEPT:
            self.known.clear()
        if text not in self.known:
            self.known[text] = bool(build(reader.read(text), self.library).problems)
        return self.known[text]

    def verdict(self, text: str) -> Verdict:
        """What the check of a text comes to; a text that was judged before is not judged again."""
        known = self.kept.get(text)
        if known is None:
            known = _verdict(text, self)
            if len(self.kept) >= MOST_KEPT:
                self.kept.clear()
            self.kept[text] = known
        return known


def _verdict(text: str, judging: Judging) -> Verdict:
    from wirecheck.assembly import NotABoard, assemble
    from wirecheck.report.checked import checked
    from wirecheck.report.verdict import not_judged, own_parts

    stage = judging.stage or STAGES[-1]
    try:
        syntax, board = assemble(text, library=judging.library)
    except NotABoard as error:
        return Verdict(failed=f"It is not a board: {error}.")
    case = Case(board)
    report = checked(case, syntax, judging.library, stage, judging.effort)
    if report.unfinished:
        # What was not judged could hide any mistake.
        _, *left = report.unfinished
        return Verdict(failed=" ".join(["It takes more work than is spent on one board.", *left]))
    untouched, unwired = _untouched(board), tuple(_unwired(board))
    return Verdict(
        in_plain_values(report.findings),
        tuple(question(finding.mends, board) for finding in report.findings),
        _asked(report.findings, case, stage),
        untouched,
        unwired,
        tuple(dict.fromkeys(_unspliced(case, syntax, bool(untouched or unwired)))),
        _spliced(board),
        " ".join(filter(None, (not_judged(replace(report, ended=False)), own_parts(report)))),
        report.ended,
        "",
        drawn(board, report.findings, judging.picture) if judging.picture else NOT_DRAWN,
    )


def _asked(findings: tuple[Finding, ...], case: Case, stage: Stage) -> tuple[tuple[int, ...], ...]:
    """For each finding the lines of the expectations that are not met because of it.

    Those that nothing reports, since they follow from something, are of the gravest finding.
    """
    lines = [
        {line for one in (finding, *finding.follows) for line in _of_problem(one.problem)}
        for finding in findings
    ]
    worse = [number for number, one in enumerate(findings) if one.severity != "advice"]
    if worse:
        told = (one for system in case.systems for _, one in problems(system, stage))
        seen = {line for one in told if one.severity != "advice" for line in _of_problem(one)}
        gravest = min(worse, key=lambda number: SEVERITIES.index(findings[number].severity))
        lines[gravest] |= seen.difference(*lines)
    return tuple(tuple(sorted(each)) for each in lines)


def _of_problem(problem: Problem | None) -> Iterator[int]:
    """The lines of the expectations that a problem holds."""
    for name in problem.fields if problem is not None else ():
        value = getattr(problem, name)
        for each in value if isinstance(value, tuple) else (value,):
            if isinstance(each, Expectation):
                yield each.span.line


def _untouched(board: Board) -> tuple[str, ...]:
    joined = {join.place for join in board.joins}
    comes = dict.fromkeys(place for wire in board.conductors.values() for place in wire.places)
    return tuple(place for place in comes if place not in joined)


def _unspliced(case: Case, syntax: Syntax, undone: bool) -> Iterator[str]:
    """The boxes in which something belongs in one splice and no wires are joined, by what the rough-in asks.

    Of a board that is not done, also those in which what belongs there is joined to nothing. A box with a
    line that cannot be read is none of them: the splice may be what that line says.
    """
    board = case.board
    unread = frozenset(_place_of(syntax, said.span.line) for said in board.problems)
    ends = {end for conductor in board.conductors.values() for end in conductor.ends}
    made = {one.place for one in board.joins if sum(member.point in ends for member in one.members) > 1}
    for open_splice in (one for each in case.systems for one in open_splices(each)):
        box = open_splice.box.name
        bare = undone and len(open_splice.loose) == len(open_splice.whole)
        if (bare or box not in made) and box not in unread:
            yield box


def _place_of(syntax: Syntax, line: int) -> str:
    """The place in which a line of a text makes up joints; no place above the first of them."""
    before = [one for one in syntax.statements if isinstance(one, AtStatement) and one.span.line <= line]
    return before[-1].place.text if before else ""


def _spliced(board: Board) -> bool:
    """Whether two grounds, or two neutrals, are joined in any box."""
    means = {end: of_conductor(one) for one in board.conductors.values() for end in one.ends}
    for join in board.joins:
        there = [means.get(member.point) for member in join.members]
        if join.place in board.boxes and max(there.count("ground"), there.count("neutral")) > 1:
            return True
    return False


def _unwired(board: Board) -> Iterator[str]:
    joined = {member.name for join in board.joins for member in join.members}
    asked = dict.fromkeys(word.path[0] for one in board.expectations for word in words_of(one).all)
    for name in asked:
        device = board.devices.get(name)
        terminals = device.part.terminals.items() if device else ()
        screws = [f"{name}.{screw}" for screw, spec in terminals if spec.role != "ground"]
        if screws and joined.isdisjoint(screws):
            yield name
