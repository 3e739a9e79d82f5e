"""The proof: every mutant judged by the checker and by the oracle, counted in a table."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from tests.boards.hookups import hookup_judge, hookup_mutants
from tests.boards.mutations import Mutant, mutants
from tests.boards.oracle import Verdict, judge
from tests.boards.starters import starter_judge, starter_mutants
from tests.boards.work import Work, work
from wirecheck import check
from wirecheck.judge.finding import Finding

READING = {"syntax", "unknown-name", "unknown-part"}
KINDS = ("dangerous or against the code", "does not work", "works the same and is legal")


@dataclass
class Proof:
    """How many mutants of each verdict and mistake the checker found, and where the two disagree."""

    boards: int = 0
    found: Counter[tuple[str, str]] = field(default_factory=Counter)
    silent: Counter[tuple[str, str]] = field(default_factory=Counter)
    unsure: int = 0
    disagreements: list[str] = field(default_factory=list)

    def count(self, name: str, mutant: Mutant, verdict: Verdict, findings: Iterable[Finding]) -> None:
        worse = [finding for finding in findings if finding.severity != "advice"]
        if any(finding.rule in READING for finding in worse):
            raise AssertionError(f"{name}: {mutant.words}: is no board: {worse[0].message}")
        if verdict.unsure and verdict.kind == KINDS[2]:
            self.unsure += 1
            return
        (self.found if worse else self.silent)[verdict.kind, mutant.kind] += 1
        if bool(worse) != (verdict.kind != KINDS[2]):
            said = "; ".join(f"{one.rule}: {one.message}" for one in worse) or "nothing"
            ought = "; ".join(sorted(verdict.hazards | verdict.faults)) or "right"
            board = mutant.work.text()
            self.disagreements.append(
                f"{name}: {mutant.words}\n  oracle: {ought}\n  checker: {said}\n{board}"
            )

    def table(self) -> str:
        """The figures, a line a verdict and then a line a mistake."""
        lines = [
            f"{self.boards} right boards, {self.total()} single mistakes ({self.unsure} too near to say)"
        ]
        lines.append(f"{'verdict of the oracle':32}{'mutants':>9}{'found':>9}{'silent':>9}")
        for kind in KINDS:
            found = sum(number for (one, _), number in self.found.items() if one == kind)
            silent = sum(number for (one, _), number in self.silent.items() if one == kind)
            lines.append(f"{kind:32}{found + silent:9}{found:9}{silent:9}")
        lines.append("")
        lines.append(
            f"{'mistake':24}{'dangerous':>14}{'does not work':>16}{'works, legal':>15}   found/mutants"
        )
        for mistake in sorted({mistake for _, mistake in self.found | self.silent}):
            cells = []
            for kind in KINDS:
                found, silent = self.found[kind, mistake], self.silent[kind, mistake]
                cells.append(f"{found}/{found + silent}")
            lines.append(f"{mistake:24}{cells[0]:>14}{cells[1]:>16}{cells[2]:>15}")
        return "\n".join(lines)

    def figures(self) -> str:
        """The counts as text, so that a worker's can be added to the others'."""
        rows = [[kind, mistake, number, 0] for (kind, mistake), number in self.found.items()]
        rows += [[kind, mistake, 0, number] for (kind, mistake), number in self.silent.items()]
        return json.dumps({"boards": self.boards, "unsure": self.unsure, "rows": rows})

    def add(self, figures: str) -> None:
        """Take in the counts of another."""
        other = json.loads(figures)
        self.boards += other["boards"]
        self.unsure += other["unsure"]
        for kind, mistake, found, silent in other["rows"]:
            self.found[kind, mistake] += found
            self.silent[kind, mistake] += silent

    def total(self) -> int:
        return self.found.total() + self.silent.total() + self.unsure


def prove_hookups(boards: Iterable[tuple[str, str]], chosen: Callable[[int], bool]) -> Proof:
    """The same for the thermostat's wires of some hookup boards."""
    return _compared(boards, chosen, hookup_judge, hookup_mutants)


def prove_starters(boards: Iterable[tuple[str, str]], chosen: Callable[[int], bool]) -> Proof:
    """The same for the hots of motors on three phases, and of what starts and stops them."""
    return _compared(boards, chosen, starter_judge, starter_mutants)


def _compared(
    boards: Iterable[tuple[str, str]],
    chosen: Callable[[int], bool],
    judging: Callable[[Work], Callable[[Work], Verdict]],
    mistakes: Callable[[Work], Iterable[Mutant]],
) -> Proof:
    """Each mutant against what its own right board does."""
    proof = Proof()
    number = 0
    for name, text in boards:
        right = work(text)
        verdict = judging(right)
        if verdict(right).kind != KINDS[2]:
            raise AssertionError(f"{name} is not right")
        proof.boards += 1
        for mutant in mistakes(right):
            number += 1
            if chosen(number):
                findings = check(mutant.work.text(), file=name).findings
                proof.count(name, mutant, verdict(mutant.work), findings)
    return proof


def prove(boards: Iterable[tuple[str, str]], chosen: Callable[[int], bool] = lambda number: True) -> Proof:
    """Make the mutants of some right boards, all of them or those that `chosen` takes by number."""
    proof = Proof()
    number = 0
    for name, text in boards:
        right = work(text)
        verdict = judge(right)
        if verdict.kind != KINDS[2]:
            raise AssertionError(f"{name} is not right: {verdict.hazards | verdict.faults}\n{text}")
        proof.boards += 1
        for mutant in mutants(right):
            number += 1
            if chosen(number):
                proof.count(name, mutant, judge(mutant.work), check(mutant.work.text(), file=name).findings)
    return proof
