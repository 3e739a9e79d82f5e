"""How often the mend that is offered is the mistake that was made, or its equal by the oracle.

Each mistake that hands can make is made on a right board, and the search is asked what it was.
A mend does when the board with it made is right by the oracle, which knows nothing of the rules.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from difflib import SequenceMatcher
from itertools import pairwise
from random import Random

from tests.boards.hookups import hookup_judge, hookup_mutants
from tests.boards.mutations import Mutant, mutants
from tests.boards.oracle import Verdict, judge
from tests.boards.proof import KINDS
from tests.boards.work import Work, work
from wirecheck import check
from wirecheck.judge.finding import Finding
from wirecheck.report.report import Report

EFFORT = 400
COUNTS = ("mistakes", "first", "among three", "fails", "findings")


@dataclass
class MendProof:
    """By kind of mistake: how many were found, how many named first and among three, how many mends fail."""

    counts: Counter[tuple[str, str]] = field(default_factory=Counter)
    missed: list[str] = field(default_factory=list)
    failing: list[str] = field(default_factory=list)

    def count(self, name: str, mutant: Mutant, right: Callable[[Work], Verdict]) -> None:
        """Ask for the mends of one mistake, and have each judged."""
        text = mutant.work.text()
        if not worse(check(text, file=name)):
            return
        report = check(text, file=name, effort=EFFORT)
        found = worse(report)
        whole = len(found) == 1 and bool(found[0].mends)
        does = [
            right(work(report.mended(number))).kind == KINDS[2]
            for number in range(1, len(report.mends) + 1 if whole else 1)
        ]
        self.counts[mutant.kind, "mistakes"] += 1
        self.counts[mutant.kind, "findings"] += len(found)
        self.counts[mutant.kind, "first"] += bool(does[:1] == [True])
        self.counts[mutant.kind, "among three"] += any(does)
        self.counts[mutant.kind, "fails"] += does.count(False)
        told = f"{name}: {mutant.words}: " + "; ".join(f"{one.mistake} {one.remedy}" for one in report.mends)
        if not any(does):
            self.missed.append(told)
        if False in does:
            self.failing.append(told)

    def share(self, what: str) -> float:
        """How many of all mistakes, as a share of one."""
        return self._of(what) / max(1, self._of("mistakes"))

    def _of(self, what: str) -> int:
        return sum(count for (_, one), count in self.counts.items() if one == what)

    def table(self) -> str:
        """A line for each kind of mistake, as the README has it."""
        lines = [
            "| mistake | found | named first | among three | mends that fail |",
            "|---|---|---|---|---|",
        ]
        for kind in [*sorted({kind for kind, _ in self.counts}), "all"]:
            figures = [self._of(what) if kind == "all" else self.counts[kind, what] for what in COUNTS[:-1]]
            lines.append(f"| {kind} | " + " | ".join(map(str, figures)) + " |")
        return "\n".join(lines)

    def figures(self) -> str:
        """The counts as text, so that a worker's can be added to the others'."""
        return json.dumps([[*key, count] for key, count in self.counts.items()])

    def add(self, figures: str) -> None:
        """Take in the counts of another."""
        for kind, what, count in json.loads(figures):
            self.counts[kind, what] += count


def worse(report: Report) -> list[Finding]:
    return [finding for finding in report.findings if finding.severity != "advice"]


Chosen = Callable[[int], bool]
"""Which mistakes are asked of, by number."""


def named(boards: Iterable[tuple[str, str]], chosen: Chosen) -> MendProof:
    """The mistakes of some right boards that the oracle condemns, those that `chosen` takes."""
    return _named(boards, chosen, mutants, lambda right: judge)


def named_hookups(boards: Iterable[tuple[str, str]], chosen: Chosen) -> MendProof:
    """The same for the thermostat's wires of some hookup boards."""
    return _named(boards, chosen, hookup_mutants, hookup_judge)


def _named(
    boards: Iterable[tuple[str, str]],
    chosen: Chosen,
    mistakes: Callable[[Work], Iterable[Mutant]],
    judging: Callable[[Work], Callable[[Work], Verdict]],
) -> MendProof:
    proof = MendProof()
    number = 0
    for name, text in boards:
        right = work(text)
        verdict = judging(right)
        for mutant in mistakes(right):
            number += 1
            if chosen(number) and verdict(mutant.work).kind != KINDS[2]:
                proof.count(name, mutant, verdict)
    return proof


@dataclass
class TwoMistakes:
    """Boards with two mistakes that have nothing to do with each other: on how many both are named."""

    boards: int = 0
    named: int = 0
    missed: list[str] = field(default_factory=list)


def two_mistakes(boards: Iterable[tuple[str, str]], chance: Random, each: int) -> TwoMistakes:
    """Two mistakes on each of some right boards, in so many pairs a board, drawn by chance.

    They have nothing to do with each other where together they are found to be what each is alone.
    Both are named when two findings have mends, and the board with the first mend of each is right.
    """
    told = TwoMistakes()
    for name, text in boards:
        right = work(text)
        known = [one for one in mutants(right) if judge(one.work).kind != KINDS[2]]
        drawn = 0
        for _ in range(each * 20):
            first, second = chance.sample(known, 2)
            both = _together(right, first, second)
            if drawn == each or both is None:
                continue
            drawn += 1
            report = check(both, file=name, effort=EFFORT)
            heads = [one for one in worse(report) if one.mends]
            told.boards += 1
            if len(heads) == 2 == len(worse(report)) and _right_with_all(report):
                told.named += 1
            else:
                told.missed.append(f"{name}: {first.words}; {second.words}\n{report.render()[:600]}")
    return told


def _together(right: Work, first: Mutant, second: Mutant) -> str | None:
    """The text with both mistakes, where neither touches what the other does."""
    lines = right.text().splitlines()
    changed = [set(lines) - set(one.work.text().splitlines()) for one in (first, second)]
    if not all(changed) or changed[0] & changed[1]:
        return None
    text = _merged(lines, first.work.text().splitlines(), second.work.text().splitlines())
    if text is None:
        return None
    keys = [
        {(one.rule, one.subject) for one in worse(check(one_text))}
        for one_text in (first.work.text(), second.work.text(), text)
    ]
    if not keys[0] or not keys[1] or keys[0] & keys[1] or keys[2] != keys[0] | keys[1]:
        return None
    return text


def _merged(base: list[str], one: list[str], other: list[str]) -> str | None:
    """Two changes of a text in one, as far as they touch different lines of it."""
    edits: list[tuple[int, int, list[str]]] = []
    for changed in (one, other):
        matcher = SequenceMatcher(None, base, changed, autojunk=False)
        edits += [
            (begin, end, changed[start:stop])
            for kind, begin, end, start, stop in matcher.get_opcodes()
            if kind != "equal"
        ]
    edits.sort(key=lambda edit: edit[:2])
    if any(before[1] > after[0] for before, after in pairwise(edits)):
        return None
    merged, at = [], 0
    for begin, end, new in edits:
        merged += [*base[at:begin], *new]
        at = end
    return "\n".join([*merged, *base[at:], ""])


def _right_with_all(report: Report) -> bool:
    """Whether the board is right by the oracle, once the first mend of each of its mistakes is made."""
    for _ in range(2):
        text = report.mended(1)
        report = check(text, effort=EFFORT)
        if not report.mends:
            break
    return judge(work(report.text)).kind == KINDS[2]
