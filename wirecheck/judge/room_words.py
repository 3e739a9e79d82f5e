"""How a kind of room is said: what it is called, and where something is that is in it."""

from __future__ import annotations

from collections.abc import Mapping

# Where something is that is in a room of these kinds, of which nobody says that it is in one.
WHERE: Mapping[str, str] = {"outdoors": "outdoors", "roof": "on a roof", "stairs": "over stairs"}


def called(kind: str) -> str:
    """A kind of room in words.

    >>> called("living-room")
    'living room'
    """
    return kind.replace("-", " ")


def where(kind: str) -> str:
    """Where something is that is in a room of that kind.

    >>> where("living-room"), where("roof")
    ('in a living room', 'on a roof')
    """
    return WHERE.get(kind, f"in a {called(kind)}")
