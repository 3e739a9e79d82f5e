"""What a name may be: the grammar gives its letters, and this how long it is and what else it must not be.

A dot leads from a thing into it (`W1.black`, `LP.3`, `F.limit.a`), so no name that is given has one of its
own. Some names the language gives itself, to what has none: the second winding of a part is `winding-2`.
"""

from __future__ import annotations

import re
from string import digits
from typing import NamedTuple

MOST_LETTERS = 100
"""The longest name, with all that leads to it."""

_GIVEN = re.compile(r"(?:winding|protection|leg)-\w+")


HALVES = "AB"
"""The letters of the two breakers of a tandem."""

_SPACE = re.compile(r"(\d{1,3})([AB]?)", re.ASCII)


NEXT = 2
"""From a space to the next one of its side: these are numbered odd or even."""


class Position(NamedTuple):
    """A space of a panel, and which half of it: `A` or `B` for the two of a tandem breaker."""

    space: int
    half: str

    @property
    def other_half(self) -> str:
        """The other of the two of a tandem.

        >>> Position(5, "A").other_half
        'B'
        """
        return HALVES[1 - HALVES.index(self.half)]

    def spaces(self, poles: int) -> tuple[int, ...]:
        """The spaces that a breaker of so many poles fills, one after the other on its side.

        >>> Position(2, "").spaces(2), Position(5, "A").spaces(1)
        ((2, 4), (5,))
        """
        return tuple(range(self.space, self.space + NEXT * poles, NEXT))


def position(name: str) -> Position | None:
    """The position in a panel that a breaker's name says, or None where it says none.

    >>> position("3"), position("5B"), position("main")
    (Position(space=3, half=''), Position(space=5, half='B'), None)
    """
    match = _SPACE.fullmatch(name)
    return Position(int(match[1]), match[2]) if match and int(match[1]) else None


_SECOND = "'"


def second_end(name: str) -> str:
    """The name of the second end of a wire that has both its ends in one place; the first has the wire's.

    >>> second_end("N5")
    "N5'"
    """
    return name + _SECOND


def of_end(name: str) -> str:
    """The wire that an end is of, by its name; any other name is as it is.

    >>> of_end("N5'"), of_end("N5")
    ('N5', 'N5')
    """
    return name.removesuffix(_SECOND)


def alike(one: str, other: str) -> bool:
    """Whether the last words of two names bear the same number, or are the same letters: hands go by that.

    A word such as `common` is on many a device, and brings none to another.

    >>> alike("ZC", "AQ.ZC"), alike("A1", "D.line-1"), alike("C.T1", "M.T1"), alike("C.T1", "M.T2")
    (True, True, True, False)
    """
    last, of_other = (of_end(name).rpartition(".")[2] for name in (one, other))
    if (number := _number(last)) and number == _number(of_other):
        return True
    return last == of_other and len(last) > 1 and not last.islower()


def _number(word: str) -> str:
    """The number that a word ends in; nothing where it ends in a letter."""
    return word[len(word.rstrip(digits)) :]


class Fault(NamedTuple):
    """Why a name cannot be given, and what would do."""

    message: str
    advice: str


def fault(name: str) -> Fault | None:
    """Why a thing cannot bear a name, or None where it can.

    >>> fault("W1.black").message
    'W1.black has a dot, and a dot leads into a thing.'
    >>> fault("winding-2").message
    'winding-2 is a name that is given to what has none of its own.'
    >>> fault("S1") is None
    True
    """
    if "." in name:
        return Fault(
            f"{name} has a dot, and a dot leads into a thing.",
            "Write a plain name, with hyphens between its words.",
        )
    if _GIVEN.fullmatch(name):
        return Fault(
            f"{name} is a name that is given to what has none of its own.", "Write another name for it."
        )
    return None
