"""A ticket on which one thing is asked after another, till the fault is found: by whoever asks, anywhere."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from wirecheck.judge.case import Case
from wirecheck.report import bench as words
from wirecheck.report.tickets import judged_words
from wirecheck.troubles.bench import Bench
from wirecheck.troubles.ticket import Ticket
from wirecheck.troubles.verdict import Score, score, verdict

if TYPE_CHECKING:
    from wirecheck.circuit.fault import Fault
    from wirecheck.language.asking import Asked


class Search:
    """What was asked on a ticket, and what came of it.

    Attributes
    ----------
    given : the ticket
    bench : the board with its fault
    answers : to all that was asked, as plain data
    taken : the effort of all that was done, without what was named
    found : whether the fault was named
    """

    def __init__(self, given: Ticket) -> None:
        self.given = given
        self.bench = Bench(Case(given.shop.board, None, (given.truth.fault,)))
        self.answers: list[dict[str, Any]] = []
        self.taken = 0.0
        self.found = False
        self._named: list[Fault] = []

    def answer(self, one: Asked) -> str:
        """What comes of one thing that is asked for, in words.

        Raises
        ------
        WrongArgument
            The board lacks what it names.
        """
        if one.verb == "diagnose":
            return self._judged(one)
        told = self.bench.do(one)
        self.taken += told.effort
        self.answers.append(told.as_data())
        return words.answered(told)

    def _judged(self, one: Asked) -> str:
        from wirecheck.arguments import named_faults

        good = self.given.shop.good
        (fault,) = named_faults(good.case, (" ".join(one.words),))
        judged = verdict(self.given, fault)
        self.found = judged == "right"
        if not self.found:
            self._named.append(fault)
        self.answers.append({"asked": [one.verb, *one.words], "right": self.found, "verdict": judged})
        return judged_words(judged, fault, good.circuit)

    def score(self) -> Score:
        """What finding it is worth, or would be."""
        return score(self.given, self.taken, self._named, self.bench.taken)
