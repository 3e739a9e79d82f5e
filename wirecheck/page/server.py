"""What the server gives out: the list of a folder's boards, each board's page, and answers to its questions.

It only reads the folder. A question is worked out elsewhere, in a process with limits, so that a board made
to be slow holds up nobody for long. How many may wait is bounded, in all and of one machine; and nothing is
worked out for who is gone.
"""

from __future__ import annotations

import asyncio
import os
import time
from collections.abc import Awaitable, Callable, Coroutine
from ipaddress import ip_address
from typing import TYPE_CHECKING, Any, TypeVar
from urllib.parse import quote

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import ClientDisconnect
from starlette.responses import HTMLResponse, RedirectResponse, Response
from starlette.routing import Route

from wirecheck import files, inputs
from wirecheck.page.answering import Kept, NotAnswered, Work, as_json
from wirecheck.page.answers import Checked, checked_board, of_exercise
from wirecheck.page.asking import ASKED, NO_BOARD, Asking, not_understood
from wirecheck.page.classroom import Classroom
from wirecheck.page.exercise_views import exercise_items
from wirecheck.page.finding import Finding
from wirecheck.page.giving import Step
from wirecheck.page.hand_in import HandIns
from wirecheck.page.in_folder import NotInFolder
from wirecheck.page.listing import inside
from wirecheck.page.names import is_hers
from wirecheck.page.question import MOST_BYTES, NotAQuestion, Question, question
from wirecheck.page.seen import Seen
from wirecheck.page.ticket_views import ticket_items
from wirecheck.page.tickets import Answered
from wirecheck.page.turns import Turns
from wirecheck.page.views import Listed, board_page, list_page, wrong_page
from wirecheck.policy import served

if TYPE_CHECKING:
    from starlette.requests import Request
    from starlette.types import ASGIApp, Message, Receive, Scope, Send

Value = TypeVar("Value")

NOTHING_KEPT = Kept(None, b"", b"", "")
MOST_WAITING, MOST_OF_ONE = 60, 6
"""The most questions that wait or are worked on, in all and of one machine."""
SENDING = 10.0
"""The seconds in which a question must have come."""
KINDS = {".js": "text/javascript", ".css": "text/css"}
CLOSING = {"connection": "close"}
"""What is said where the rest of a question is not read."""
HEADERS = {
    "content-security-policy": served(),
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "cross-origin-resource-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cache-control": "no-store",
}


def application(
    folder: str,
    work: Work,
    names: frozenset[str] = frozenset(),
    kept: Kept = NOTHING_KEPT,
    places: int = MOST_WAITING,
) -> ASGIApp:
    """The server's part that speaks of boards, to be run by any server of ASGI.

    Parameters
    ----------
    folder : whose boards it shows
    work : works a question out
    names : what this machine is called, beside its addresses and `localhost`
    kept : what it has beside the folder
    places : on how many questions it works at once
    """
    seen = Seen(time.monotonic)
    desk = _Desk(folder, work, seen, kept.codes, Turns(places))
    hand_ins = HandIns(folder, desk.in_turn, kept.record, kept.codes, seen)
    finding = Finding(folder, desk.in_turn, kept.tickets, desk.asked_on_ticket)
    classroom = Classroom(
        folder, desk.in_turn, kept, seen, lambda: inside(folder).exercises, hand_ins.address
    )
    routes = [
        Route("/", desk.boards),
        Route("/board/{file:path}", desk.board),
        Route("/check", desk.check, methods=["POST"]),
        # A check is noted for the instructor; all else is answered and forgotten.
        *(
            Route(address, desk.asked(asking), methods=["POST"])
            for address, asking in ASKED.items()
            if address != "/check"
        ),
        *hand_ins.routes(desk.taken),
        *finding.routes(desk.taken),
        *classroom.routes(),
        Route("/page/{name}", _shown),
        Route("/favicon.ico", _no_icon),
    ]
    return _Guard(Starlette(routes=routes, exception_handlers=REFUSALS), names)


class _Desk:
    """Where questions are taken."""

    def __init__(self, folder: str, work: Work, seen: Seen, codes: bytes, turns: Turns) -> None:
        self._folder = folder
        self._seen = seen
        self._codes = codes
        self._work = work
        self._turns = turns
        self._waiting: dict[str, int] = {}

    async def boards(self, request: Request) -> Response:
        """The list of the folder's boards."""
        found = await run_in_threadpool(inside, self._folder)
        tickets = ticket_items(found.boards, found.faults)
        return HTMLResponse(list_page(found.boards, found.left, exercise_items(found.exercises), tickets))

    async def board(self, request: Request) -> Response:
        """The page of one board."""
        name = request.path_params["file"]
        path = inputs.path_in(self._folder, name)
        if path is None:
            raise HTTPException(404, NO_BOARD)
        try:
            data = await run_in_threadpool(inputs.read_board, path)
        except OSError as error:
            raise HTTPException(404, f"The board cannot be read: {inputs.reason(error)}.") from error
        if inputs.is_exercise(data):
            return RedirectResponse(f"/exercise/{quote(name)}")
        if inputs.is_of_troubles(data):
            raise HTTPException(404, NO_BOARD)
        if len(data) > MOST_BYTES // 2:
            raise HTTPException(413, "The board is too large for a page.")
        return HTMLResponse(
            board_page(Listed(name, inputs.title_of(data)), data.decode("utf-8-sig", "replace"))
        )

    async def check(self, request: Request) -> Response:
        """The verdict on a board, and its picture."""

        async def answer(data: bytes) -> Response:
            asked = question(data)
            path = inputs.path_in(self._folder, asked.file)
            if path is None:
                return as_json({"refused": NO_BOARD}, 404)
            told: Checked = await self.in_turn(request, checked_board, path, asked)
            doing = "exercise" if await run_in_threadpool(of_exercise, path) else "board"
            self._seen.board(self._who(request, asked), doing, asked.file, told.title, told.found)
            return Response(told.answer, media_type="application/json")

        return await self._taken_while_there(request, answer)

    def asked(self, asking: Asking) -> Callable[[Request], Awaitable[Response]]:
        """Answers one thing that is asked."""

        async def answered(request: Request) -> Response:
            async def answer(data: bytes) -> Response:
                asked = asking.question(data)
                path = inputs.path_in(self._folder, asked.file)
                if path is None:
                    return as_json({"refused": NO_BOARD}, 404)
                told: str = await self.in_turn(request, asking.answer, path, asked, patient=asking.patient)
                return Response(told, media_type="application/json")

            return await self._taken_while_there(request, answer)

        return answered

    async def _taken_while_there(
        self, request: Request, answer: Callable[[bytes], Coroutine[Any, Any, Response]]
    ) -> Response:
        async def while_there(data: bytes) -> Response:
            return await _unless_gone(request, answer(data))

        return await self.taken(request, while_there)

    async def in_turn(
        self, request: Request, function: Callable[..., Any], *args: Any, patient: bool = False
    ) -> Any:
        """What a function makes of its arguments, when it is the turn of the machine that asks."""

        async def work() -> Any:
            return await self._work(function, *args)

        doing = self._turns.done(_asker(request), work, patient)
        # Of what is sent, all is read before, and it is told elsewhere when to give it up.
        return await (doing if request.method == "POST" else _unless_gone(request, doing))

    def asked_on_ticket(self, request: Request, step: Step, done: Answered) -> None:
        """Something was asked on a ticket."""
        who = self._who(request, step.asked)
        self._seen.ticket(who, step.asked.file, step.number, done.steps, done.points)

    def _who(self, request: Request, asked: Question) -> str:
        """Who asks: her name, where she has its code, or else the address of the machine."""
        if asked.code and is_hers(self._codes, asked.name, asked.code):
            return asked.name
        return _asker(request)

    async def taken(self, request: Request, answer: Callable[[bytes], Awaitable[Response]]) -> Response:
        """What is answered to what was sent, where nobody has more than a share of what is worked on."""
        asker = _asker(request)
        if sum(self._waiting.values()) >= MOST_WAITING or self._waiting.get(asker, 0) >= MOST_OF_ONE:
            return as_json({"busy": "Too many questions at once."}, 503)
        self._waiting[asker] = self._waiting.get(asker, 0) + 1
        try:
            return await answer(await _body(request))
        except NotAQuestion as error:
            return as_json({"refused": not_understood(error)}, 400)
        except NotAnswered as error:
            return as_json({"refused": str(error)})
        except TimeoutError:
            return as_json({"refused": "The question did not come to its end."}, 408, CLOSING)
        except ClientDisconnect:
            return Response(status_code=400)
        finally:
            self._waiting[asker] -= 1
            if not self._waiting[asker]:
                del self._waiting[asker]


def _asker(request: Request) -> str:
    """The machine that asks."""
    return request.client.host if request.client else ""


async def _unless_gone(request: Request, answer: Coroutine[Any, Any, Value]) -> Value:
    """The answer, which is given up where who asked for it goes."""
    answering = asyncio.create_task(answer)
    going = asyncio.create_task(_gone(request))
    try:
        await asyncio.wait([answering, going], return_when=asyncio.FIRST_COMPLETED)
        if not answering.done():
            raise ClientDisconnect
        return answering.result()
    finally:
        answering.cancel()
        going.cancel()


async def _gone(request: Request) -> None:
    """Wait until who asked is gone: all that was asked is read."""
    while (await request.receive())["type"] != "http.disconnect":
        pass


async def _body(request: Request) -> bytes:
    """What was sent, no more of it than a question has."""
    if request.headers.get("content-type") != "application/json":
        raise NotAQuestion("it is not sent as JSON")
    length = request.headers.get("content-length", "0")
    if not length.isdecimal() or len(length) > 12 or int(length) > MOST_BYTES:
        raise HTTPException(413, "The question is too large.")
    data = bytearray()
    async with asyncio.timeout(SENDING):
        async for piece in request.stream():
            data += piece
            if len(data) > MOST_BYTES:
                raise HTTPException(413, "The question is too large.")
    return bytes(data)


async def _shown(request: Request) -> Response:
    """A file of the page."""
    name = request.path_params["name"]
    if name not in files.page_files():
        raise HTTPException(404, "There is no such file.")
    return Response(files.page_file(name), media_type=KINDS[os.path.splitext(name)[1]])


async def _no_icon(request: Request) -> Response:
    """Browsers ask for a picture of the page without being told of one."""
    return Response(status_code=204)


async def _refused(request: Request, error: Exception) -> Response:
    """What cannot be given out."""
    assert isinstance(error, HTTPException)
    return _not_here(request, error.detail, error.status_code)


async def _absent(request: Request, error: Exception) -> Response:
    """What is not there."""
    return _not_here(request, str(error), 404)


def _not_here(request: Request, why: str, status: int) -> Response:
    """A refusal in a sentence: as data to who sent data, else as a page."""
    if request.method == "POST":
        return as_json({"refused": why}, status, CLOSING)
    return HTMLResponse(wrong_page("Not here", why), status)


async def _left(request: Request, error: Exception) -> Response:
    """Who asked for a page is gone: nobody reads this."""
    return Response(status_code=400)


REFUSALS = {HTTPException: _refused, NotInFolder: _absent, ClientDisconnect: _left}


class _Guard:
    """Lets in who asks for this machine by an address or by its own name, and gives all answers the headers.

    Some other page could have its own name lead to this machine's address, and read through a visitor's
    browser what is meant for the classroom; it cannot have an address for its name.
    """

    def __init__(self, app: ASGIApp, names: frozenset[str]) -> None:
        self._app = app
        self._names = names | {"localhost"}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        begun = False

        async def with_headers(message: Message) -> None:
            nonlocal begun
            if message["type"] == "http.response.start":
                begun = True
                # A page that is whole in itself has a policy of its own.
                given = dict(message.get("headers", ()))
                usual = {name.encode(): value.encode() for name, value in HEADERS.items()}
                message["headers"] = [*(usual | given).items()]
            await send(message)

        if scope["type"] != "http":
            return
        app = self._app if self._is_own(_host(scope)) else _STRANGE
        try:
            await app(scope, receive, with_headers)
        except asyncio.CancelledError:  # The server stops.
            if not begun:
                await as_json({"refused": "The server was stopped."}, 503)(scope, receive, with_headers)

    def _is_own(self, host: str) -> bool:
        if host.lower() in self._names:
            return True
        try:
            ip_address(host)
        except ValueError:
            return False
        return True


_STRANGE = Response("This server has another name.\n", 421, media_type="text/plain")


def _host(scope: Scope) -> str:
    """The name or address by which this server is asked, without the port."""
    from urllib.parse import urlsplit

    named = next((value for name, value in scope["headers"] if name == b"host"), b"")
    try:
        return urlsplit(f"//{named.decode('ascii')}").hostname or ""
    except ValueError:
        return ""
