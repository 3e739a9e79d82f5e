"""Where a server gives tickets out, and where what is asked on them is answered."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from starlette.concurrency import run_in_threadpool
from starlette.responses import HTMLResponse, Response
from starlette.routing import Route

from wirecheck import inputs
from wirecheck.page.answering import InTurn, as_json
from wirecheck.page.giving import Step, Tickets, board_in, step_of
from wirecheck.page.ticket_views import ticket_page
from wirecheck.page.tickets import Answered

if TYPE_CHECKING:
    from starlette.requests import Request

    from wirecheck.page.hand_in import Taken


class Finding:
    """Where tickets are asked.

    Parameters
    ----------
    folder : whose boards they are of
    in_turn : works out what takes long
    secret : what tells which fault a ticket hides
    noted : is told of each answer, who got it and of what
    """

    def __init__(
        self,
        folder: str,
        in_turn: InTurn,
        secret: bytes,
        noted: Callable[[Request, Step, Answered], None],
    ) -> None:
        self._folder = folder
        self._in_turn = in_turn
        self._tickets = Tickets(secret)
        self._noted = noted

    def routes(self, taken: Taken) -> list[Route]:
        """The addresses of it."""

        async def ask(request: Request) -> Response:
            async def answer(data: bytes) -> Response:
                return await self._ask(request, step_of(data))

            return await taken(request, answer)

        return [Route("/ticket/{file:path}", self._page), Route("/ask", ask, methods=["POST"])]

    async def _page(self, request: Request) -> Response:
        """The page of a board's tickets."""
        file, faults = request.path_params["file"], request.query_params.get("faults", "")
        _, board = await run_in_threadpool(board_in, self._folder, file, faults)
        return HTMLResponse(ticket_page(file, faults, inputs.title_of(board.text)))

    async def _ask(self, request: Request, step: Step) -> Response:
        path, board = await run_in_threadpool(board_in, self._folder, step.asked.file, step.faults)
        told = await self._tickets.told(path, board, step, partial(self._in_turn, request))
        if told.done is not None:
            self._noted(request, told.step, told.done)
        return as_json(told.told)
