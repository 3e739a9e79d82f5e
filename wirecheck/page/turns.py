"""Turns of work: who comes first, and how much of it one machine has at once."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable, Coroutine
from contextlib import asynccontextmanager
from typing import Any, NamedTuple, TypeVar

Value = TypeVar("Value")

LONG = 3.0
"""The seconds after which work gives its place to a machine that has none."""
LOOKED = 0.2
"""The seconds from look to look at who waits while work is long."""


class _One(NamedTuple):
    """Who asks, whether it can wait until nobody else does, and when it begins."""

    asker: str
    patient: bool
    begins: asyncio.Future[None]


class Turns:
    """Places to work in, given to those who wait: first to who has the fewest, then to who came first.

    One machine never has the last place, so that what it asks holds up no other; nor do those who are patient
    have the last two, so that who asks meanwhile has one at once. Where there are fewer places, each has one.
    Work that is long while a machine waits that has no place is ended, and begun again as work that can wait.
    """

    def __init__(self, places: int, long: float = LONG) -> None:
        self._places = places
        self._long = long
        self._waiting: list[_One] = []
        self._working: list[_One] = []

    async def done(
        self, asker: str, work: Callable[[], Coroutine[Any, Any, Value]], patient: bool = False
    ) -> Value:
        """What work comes to, when it is its turn.

        Parameters
        ----------
        asker : the machine for which it is done
        work : begins it, and may be asked to twice; where it is cancelled, the work is ended
        patient : whether it can wait until nobody else does
        """
        if not patient:
            async with self.turn(asker):
                doing = asyncio.create_task(work())
                try:
                    if await self._has_time(doing):
                        return doing.result()
                finally:
                    doing.cancel()
        async with self.turn(asker, patient=True):
            return await work()

    async def _has_time(self, doing: asyncio.Task[Value]) -> bool:
        """Whether work comes to its end before it holds up for long a machine that has no place."""
        await asyncio.wait([doing], timeout=self._long)
        while not doing.done() and not any(
            not one.patient and not self._places_of(one.asker) for one in self._waiting
        ):
            await asyncio.wait([doing], timeout=LOOKED)
        return doing.done()

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
