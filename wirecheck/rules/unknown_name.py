"""A name is used that nothing on the board has, or not in that place.

Most often it is a typing mistake. It can also be a wire that is joined in a box that it never
comes to.

Source: the board language
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge.case import Case
from wirecheck.judge.finding import Stage
from wirecheck.judge.problem import spot
from wirecheck.judge.reading import Reading, words
from wirecheck.judge.rule import rule


class UnknownName(Reading):
    """A word that names nothing there."""


def find(case: Case) -> Iterator[UnknownName]:
    """Each such name; one that a device may have that is still to come is no matter of the rough-in."""
    for said in case.board.problems:
        if said.rule == "unknown-name":
            stage: Stage = "trim" if said.later else "rough-in"
            yield UnknownName(at=spot(said), about=None, severity="fault", stage=stage, said=said)


RULE = rule(__name__, "rough-in", "trim", severities=("fault",), find=find, words=words)
