"""Things by what they have in common."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeVar

Key = TypeVar("Key")
Thing = TypeVar("Thing")


def grouped(pairs: Iterable[tuple[Key, Thing]]) -> dict[Key, tuple[Thing, ...]]:
    """The things of each key, both in order of appearance.

    >>> grouped([("W1", "black"), ("W2", "red"), ("W1", "white")])
    {'W1': ('black', 'white'), 'W2': ('red',)}
    """
    together: dict[Key, list[Thing]] = {}
    for key, thing in pairs:
        together.setdefault(key, []).append(thing)
    return {key: tuple(things) for key, things in together.items()}
