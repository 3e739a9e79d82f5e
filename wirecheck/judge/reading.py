"""What could not be made out of the text: the base of the problems that report it, and their words."""

from __future__ import annotations

from wirecheck.judge.case import Case
from wirecheck.judge.problem import Problem, Words
from wirecheck.language.syntax import Problem as Said


class Reading(Problem):
    """`said` is what the reader, or the builder of the board, said of the line."""

    said: Said


def words(problem: Reading, case: Case) -> Words:
    """The reader's own words: only it knows what it looked for there."""
    return Words(message=problem.said.message, help=problem.said.help)
