"""What a name may be: the grammar gives its letters, and this how long it is and what else it must not be.

A dot leads from a thing into it (`W1.black`, `LP.3`, `F.limit.a`), so no name that is given has one of its
own. Some names the language gives itself, to what has none: the second winding of a part is `winding-2`.
"""

from __future__ import annotations

import re
from typing import NamedTuple

MOST_LETTERS = 100
"""The longest name, with all that leads to it."""

_GIVEN = re.compile(r"(?:winding|protection|leg)-\w+")


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
