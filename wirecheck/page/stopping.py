"""How a server ends: what is on its way has a time, and then its answer is that the server stops."""

from __future__ import annotations

import asyncio
import socket

from uvicorn import Server
from uvicorn.protocols.http.h11_impl import H11Protocol

LAST_SECONDS = 2.0
"""How long a stop waits for answers that are on their way."""
LEAVING = 0.3
"""How long it waits then until it is told to who asked."""


class Stopping(Server):
    """A server whose stop ends what it works on, and says nothing of it in the terminal."""

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        """Stop."""
        ending = asyncio.create_task(self._end())
        await super().shutdown(sockets)
        ending.cancel()

    async def _end(self) -> None:
        """End what does not come to its end by itself."""
        await asyncio.sleep(LAST_SECONDS)
        for task in list(self.server_state.tasks):
            task.cancel()
        await asyncio.sleep(LEAVING)
        for one in list(self.server_state.connections):
            if isinstance(one, H11Protocol):
                one.transport.abort()
