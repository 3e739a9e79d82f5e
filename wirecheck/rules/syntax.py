"""A line says something that cannot be read, or that cannot be so.

What the line was to say is left out of every check, so nothing else is known to be right until
it can be read.

Source: the board language
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge.case import Case
from wirecheck.judge.problem import spot
from wirecheck.judge.reading import Reading, words
from wirecheck.judge.rule import rule


class Unreadable(Reading):
    """A line of which something is left out of the board."""


class Remark(Reading):
    """A line that was made out, and of which there is still something to know."""


def find(case: Case) -> Iterator[Unreadable | Remark]:
    """Each mistake in the text, and each remark about it."""
    for said in case.board.problems:
        if said.rule == "syntax":
            yield Unreadable(at=spot(said), about=None, severity="fault", stage="rough-in", said=said)
    for said in case.board.remarks:
        if said.rule == "syntax":
            yield Remark(at=spot(said), about=None, severity="advice", stage="rough-in", said=said)


RULE = rule(__name__, "rough-in", severities=("fault", "advice"), find=find, words=words)
