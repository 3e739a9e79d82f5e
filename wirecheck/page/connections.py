"""Connections to the server, of which nobody has more than a share, and none is held without a question."""

from __future__ import annotations

from asyncio import TimerHandle
from typing import Any, ClassVar

from h11 import SEND_BODY
from uvicorn.protocols.http.h11_impl import H11Protocol

from wirecheck.page.question import MOST_BYTES

MOST, MOST_OF_ONE = 500, 100
"""The most connections in all, and of one machine: a browser has six at most."""
UNHEARD = 10.0
"""The seconds after which a connection is closed on which no whole question came, or none after an answer."""
MOST_UNREAD = 2 * MOST_BYTES
"""The most bytes of a question that are let go by after it was refused; then its connection is closed."""
UNTAKEN = 60.0
"""The seconds after which an answer is given up that nobody takes."""


class Connection(H11Protocol):
    """A connection as uvicorn serves it, within these bounds."""

    held: ClassVar[dict[str, list[Connection]]] = {}
    """Those of each machine, the oldest first."""

    def connection_made(self, transport: Any) -> None:
        """Take a connection, or close it at once where there are too many.

        Where they are too many in all, the machine with the most gives one up.
        """
        super().connection_made(transport)
        self._asker = str((transport.get_extra_info("peername") or ("",))[0])
        self._unheard = self.loop.call_later(UNHEARD, self._give_up)
        self._untaken: TimerHandle | None = None
        self._unread = 0
        own = self.held.setdefault(self._asker, [])
        own.append(self)
        if len(own) > MOST_OF_ONE:
            self._drop()
        elif sum(map(len, self.held.values())) > MOST:
            most = max(self.held.values(), key=len)
            (next(filter(Connection._is_at_rest, most), most[0]) if len(most) > len(own) else self)._drop()

    def connection_lost(self, exc: Exception | None) -> None:
        """Its place is free again."""
        super().connection_lost(exc)
        self._unheard.cancel()
        self._taken()
        self._let_go()

    def data_received(self, data: bytes) -> None:
        """What comes after the answer is read by nobody: who goes on sending is no browser."""
        super().data_received(data)
        if self._is_at_rest() and self.conn.their_state is SEND_BODY:
            self._unread += len(data)
            if self._unread > MOST_UNREAD:
                self._drop()

    def on_response_complete(self) -> None:
        """The next question has its time, and so has the rest of this one, which nobody reads any more."""
        self._unread = 0
        super().on_response_complete()
        self._unheard.cancel()
        self._unheard = self.loop.call_later(UNHEARD, self._give_up)

    def pause_writing(self) -> None:
        """More of an answer waits than is sent ahead."""
        super().pause_writing()
        self._drop_where_untaken()

    def resume_writing(self) -> None:
        """It was taken."""
        super().resume_writing()
        self._taken()

    def _give_up(self) -> None:
        if self._is_at_rest():
            self.transport.close()
            self._drop_where_untaken()

    def _is_at_rest(self) -> bool:
        """Whether no question is being answered."""
        return self.cycle is None or self.cycle.response_complete

    def _drop(self) -> None:
        self._let_go()
        self.transport.abort()

    def _let_go(self) -> None:
        own = self.held.get(self._asker, [])
        if self in own:
            own.remove(self)
        if not own:
            self.held.pop(self._asker, None)

    def _drop_where_untaken(self) -> None:
        if self._untaken is None:
            self._untaken = self.loop.call_later(UNTAKEN, self.transport.abort)

    def _taken(self) -> None:
        if self._untaken is not None:
            self._untaken.cancel()
            self._untaken = None
