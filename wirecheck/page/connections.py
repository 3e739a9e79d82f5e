"""Connections to the server, of which nobody has more than a share, and none is held without a question."""

from __future__ import annotations

from collections import Counter
from typing import Any, ClassVar

from uvicorn.protocols.http.h11_impl import H11Protocol

MOST, MOST_OF_ONE = 500, 100
"""The most connections in all, and of one machine: a browser has six at most."""
UNHEARD = 10.0
"""The seconds after which a connection is closed on which no whole question came."""


class Connection(H11Protocol):
    """A connection as uvicorn serves it, within these bounds."""

    held: ClassVar[Counter[str]] = Counter()

    def connection_made(self, transport: Any) -> None:
        """Take a connection, or close it at once where there are too many."""
        super().connection_made(transport)
        self._asker = str((transport.get_extra_info("peername") or ("",))[0])
        self.held[self._asker] += 1
        if self.held[self._asker] > MOST_OF_ONE or self.held.total() > MOST:
            transport.abort()
        self._unheard = self.loop.call_later(UNHEARD, self._give_up)

    def connection_lost(self, exc: Exception | None) -> None:
        """Its place is free again."""
        super().connection_lost(exc)
        self._unheard.cancel()
        self.held[self._asker] -= 1
        if not self.held[self._asker]:
            del self.held[self._asker]

    def _give_up(self) -> None:
        if self.cycle is None:
            self.transport.close()
