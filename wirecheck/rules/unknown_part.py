"""A device is of a part that the library does not have, or has from elsewhere than the board's folder.

Without its part nothing is known of its screws, so what is joined to it cannot be checked. A file beside the
board cannot take the place of a part that ships: it could hide a mistake.

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


class PassedOver(Reading):
    """A word that names a part, and a file beside the board with that name that is not used."""


def find(case: Case) -> Iterator[UnknownPart | PassedOver]:
    """Each such word; a file that is not used once, where its name is first asked for."""
    for said in case.board.problems:
        if said.rule == "unknown-part":
            yield UnknownPart(at=spot(said), about=None, severity="fault", stage="rough-in", said=said)
    for said in case.board.remarks:
        if said.rule == "unknown-part":
            yield PassedOver(at=spot(said), about=None, severity="advice", stage="rough-in", said=said)


RULE = rule(__name__, "rough-in", severities=("fault", "advice"), find=find, words=words)
