"""A device is of a part that the library does not have.

Without its part nothing is known of its screws, so what is joined to it cannot be checked.

Source: the board language
"""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.judge.case import Case
from wirecheck.judge.problem import spot
from wirecheck.judge.reading import Reading, words
from wirecheck.judge.rule import rule


class UnknownPart(Reading):
    """A word that should name a part."""


def find(case: Case) -> Iterator[UnknownPart]:
    """Each such word."""
    for said in case.board.problems:
        if said.rule == "unknown-part":
            yield UnknownPart(at=spot(said), about=None, severity="fault", stage="rough-in", said=said)


RULE = rule(__name__, "rough-in", find=find, words=words)
