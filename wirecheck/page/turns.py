"""Turns of work: who comes first, and how much of it one machine has at once."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from typing import NamedTuple


class _One(NamedTuple):
    """Who asks, whether it can wait until nobody else does, and when it begins."""

    asker: str
    patient: bool
    begins: asyncio.Future[None]


class Turns:
    """Places to work in, given to those who wait: first to who has the fewest, then to who came first.

    One machine never has the last place, so that what it asks holds up no other; nor do those who are patient
    have the last two, so that who asks meanwhile has one at once. Where there are fewer places, each has one.
    """

    def __init__(self, places: int) -> None:
        self._places = places
        self._waiting: list[_One] = []
        self._working: list[_One] = []

    @asynccontextmanager
    async def turn(self, asker: str, patient: bool = False) -> AsyncIterator[None]:
        """A place, when it is its turn. Who is cancelled while waiting has none."""
        one = _One(asker, patient, asyncio.get_running_loop().create_future())
        self._waiting.append(one)
        self._begin()
        try:
            await one.begins
            yield
        finally:
            (self._working if one in self._working else self._waiting).remove(one)
            self._begin()

    def _begin(self) -> None:
        """Give out the places that are free."""
        while ready := [one for one in self._waiting if self._may_begin(one)]:
            first = min(ready, key=lambda one: (one.patient, self._places_of(one.asker)))
            self._waiting.remove(first)
            self._working.append(first)
            if not first.begins.done():
                first.begins.set_result(None)

    def _may_begin(self, one: _One) -> bool:
        patient = sum(each.patient for each in self._working)
        return (
            len(self._working) < self._places
            and self._places_of(one.asker) < max(1, self._places - 1)
            and not (one.patient and patient >= max(1, self._places - 2))
        )

    def _places_of(self, asker: str) -> int:
        return sum(each.asker == asker for each in self._working)
