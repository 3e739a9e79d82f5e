"""Processes that stand ready for work which comes bit by bit, each bit within its time and its memory."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from contextlib import ExitStack
from typing import Any, TypeVar

from pebble import ProcessPool

from wirecheck.cli._attempts import MEGABYTES, SECONDS, Limits, Outcome
from wirecheck.cli._sources import Unreadable
from wirecheck.cli._workers import BROKEN, came_to, memory_limit, pool_of, processors, worked

Value = TypeVar("Value")

RENEWED = 1000
"""How many bits of work a process does before another takes its place, so that its memory stays bounded."""
TRIES = 3
"""How often a bit of work is tried where the processes broke down, which may be by what others asked."""


class Standing:
    """The processes, as many as there are processors where the limits name no number.

    Where the system cannot limit the memory of a process, only the time is limited.

    Raises
    ------
    Unreadable
        No process can be started.
    """

    def __init__(self, limits: Limits) -> None:
        self._limits = limits if memory_limit() else limits._replace(megabytes=None)
        self._held = ExitStack()
        self._pool = self._begun()

    def _begun(self) -> ProcessPool:
        most = self._limits.jobs or processors()
        return self._held.enter_context(pool_of(self._limits, most, b"", RENEWED))

    async def outcome(self, function: Callable[..., Value], *args: Any) -> Outcome[Value]:
        """What the function makes of its arguments in one of the processes, when it is its turn.

        Where the wait for it is cancelled, so is the work.
        """
        outcome: Outcome[Value] = BROKEN
        for _ in range(TRIES):
            outcome = await self._tried(function, args)
            if outcome is not BROKEN:
                break
        return outcome

    async def _tried(self, function: Callable[..., Value], args: tuple[Any, ...]) -> Outcome[Value]:
        seconds, megabytes = self._limits.seconds or SECONDS, self._limits.megabytes or MEGABYTES
        try:
            if not self._pool.active:
                self.close()
                self._pool = self._begun()
            pool = self._pool
            future = pool.schedule(worked, (function, args), timeout=seconds)
        except (RuntimeError, Unreadable):  # The first is how a pool says that it broke.
            return BROKEN
        done = asyncio.wrap_future(future)
        try:
            while not done.done():
                await asyncio.wait([done], timeout=1)
                if not pool.active and not done.done():
                    return BROKEN
        except asyncio.CancelledError:
            # Nobody waits for it any more: its process is free for what comes next.
            done.cancel()
            raise
        if done.cancelled():
            return BROKEN
        done.exception()  # `came_to` tells of it, and asyncio need not say that nobody did.
        try:
            return came_to(future, seconds, megabytes)
        except RuntimeError:
            return BROKEN

    def close(self) -> None:
        """End the processes."""
        self._held.close()
