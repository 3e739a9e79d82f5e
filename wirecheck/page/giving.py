"""Tickets given out and asked on, whoever asks: with a server for a class, and without one.

A browser has a ticket's number, its seal and what was asked, and none of it tells which fault it is: that is
made of the number and a secret. So a ticket goes on after a reload, and when the server is started again.
"""

from __future__ import annotations

import asyncio
import json
import secrets
from collections.abc import Awaitable, Callable
from hashlib import sha256
from typing import Any, NamedTuple

from wirecheck import inputs
from wirecheck.language.asking import MOST_LETTERS
from wirecheck.page.in_folder import NotInFolder, text_in
from wirecheck.page.names import number, same, seal
from wirecheck.page.question import NotAQuestion, Question, question
from wirecheck.page.tickets import (
    Answered,
    Board,
    Groups,
    Hidden,
    NoTicketHere,
    Portion,
    answered,
    hidden,
    portion,
    showing,
)

Work = Callable[..., Awaitable[Any]]
"""Works out what a function makes of its arguments."""

MOST_STEPS = 300
"""The most that is asked on one ticket."""
MOST_READINGS = 50
MOST_KEPT = 100
"""The most tickets of which it is kept what they hide: of others it is worked out again."""
MOST_BOARDS = 50
"""The most boards of which it is kept which faults show."""
PATIENCE = 2.0
"""The seconds after which it is told how far the trying of a board's faults is, instead of a ticket."""
NO_TICKETS = "There are no such tickets in this folder."
NOT_KNOWN = (
    "This ticket is not known any more: its board has changed, or another server gave it out. Begin another."
)


class Step(NamedTuple):
    """What a browser has of a ticket; `number` is nothing where it asks for a new one."""

    asked: Question
    faults: str
    readings: int | None
    number: str
    seal: str
    lines: tuple[str, ...]
    first: bool


class _Trying(NamedTuple):
    """The trying of a board's faults: what it will come to, and how many are tried of how many."""

    groups: asyncio.Future[Groups | NoTicketHere]
    far: list[int]


class Told(NamedTuple):
    """What is told to who asks on a ticket; `step` and `done` only where there is a ticket."""

    told: dict[str, Any]
    step: Step
    done: Answered | None = None


class Tickets:
    """The tickets of a folder's boards.

    Parameters
    ----------
    secret : what tells which fault a ticket hides
    """

    def __init__(self, secret: bytes) -> None:
        self._secret = secret
        self._hidden: dict[str, Hidden] = {}
        self._tryings: dict[tuple[str, str], _Trying] = {}

    async def told(self, path: str, board: Board, step: Step, work: Work) -> Told:
        """What comes of a step: the ticket as far as it was asked, or how far the trying of its board is.

        Parameters
        ----------
        path, board : where the board's file is, and what is in it
        work : works out what takes long
        """
        given = step.number or secrets.token_hex(8)
        what = (given, str(step.readings), step.asked.file, _digest(board.text), _digest(board.faults))
        known = seal(self._secret, "ticket", *what)
        if step.number and not same(known, step.seal):
            return Told({"refused": NOT_KNOWN, "gone": True}, step)
        fault = self._hidden.get(known)
        if fault is None:
            trying = self._trying(path, board, work)
            # Who leaves ends it for nobody else.
            if not trying.groups.done():
                await asyncio.wait([trying.groups], timeout=PATIENCE)
            if not trying.groups.done():
                return Told({"trying": trying.far}, step)
            groups = trying.groups.result()
            seed = number(self._secret, "fault", *what)
            made: Hidden | NoTicketHere = (
                groups
                if isinstance(groups, NoTicketHere)
                else await work(hidden, path, board, groups, seed, step.readings)
            )
            if isinstance(made, NoTicketHere):
                return Told({"refused": made.why, "gone": True}, step)
            while len(self._hidden) >= MOST_KEPT:
                del self._hidden[next(iter(self._hidden))]
            fault = self._hidden[known] = made
        picture = step.asked if step.first else None
        done: Answered = await work(answered, path, board, fault, step.lines, picture)
        return Told({**done.told, "number": given, "seal": known}, step._replace(number=given), done)

    def _trying(self, path: str, board: Board, work: Work) -> _Trying:
        """The trying of a board's faults. It is most of the work, so a whole class waits for it once."""
        key = (path, _digest(board.text))
        begun = self._tryings.get(key)
        if begun is None:
            while len(self._tryings) >= MOST_BOARDS:
                del self._tryings[next(iter(self._tryings))]
            far = [0, 0]
            groups = asyncio.ensure_future(_groups(path, board, far, work))
            begun = self._tryings[key] = _Trying(groups, far)

            def forget(done: asyncio.Future[Groups | NoTicketHere]) -> None:
                if done.cancelled() or done.exception() is not None:
                    self._tryings.pop(key, None)

            groups.add_done_callback(forget)
        return begun


async def _groups(path: str, board: Board, far: list[int], work: Work) -> Groups | NoTicketHere:
    """The faults of a board that show, tried portion by portion; `far` says meanwhile how far it is."""
    portions: list[Portion] = []
    while not portions or far[0] < far[1]:
        one: Portion | NoTicketHere = await work(portion, path, board, far[0])
        if isinstance(one, NoTicketHere):
            return one
        portions.append(one)
        far[:] = [far[0] + len(one.tried), one.of]
    return showing(portions)


def board_in(folder: str, file: str, faults: str) -> tuple[str, Board]:
    """Where the board of tickets is in a folder, and what is in it and in the list of faults.

    Raises
    ------
    NotInFolder
        There are none.
    """
    path, text = text_in(folder, file, file, NO_TICKETS)
    listed = text_in(folder, faults, faults, NO_TICKETS)[1] if faults else None
    if inputs.is_beside_boards(text) or (listed is not None and not inputs.is_of_troubles(listed)):
        raise NotInFolder(NO_TICKETS)
    return path, Board(file, text, listed)


def _digest(text: bytes | None) -> str:
    return "" if text is None else sha256(text).hexdigest()


def step_of(data: bytes) -> Step:
    """What was sent, as what a browser has of a ticket.

    Raises
    ------
    NotAQuestion
        It is none.
    """
    asked = question(data)
    sent: dict[str, Any] = json.loads(data)
    texts = [sent.get(each) or "" for each in ("faults", "number", "seal")]
    if not all(isinstance(one, str) and len(one) <= inputs.MOST_NAME for one in texts):
        raise NotAQuestion("faults, number or seal is no text, or too long a one")
    faults, given, sealed = map(inputs.as_text, texts)
    lines, readings = sent.get("lines", []), sent.get("readings")
    if not isinstance(lines, list) or len(lines) > MOST_STEPS:
        raise NotAQuestion(f"more was asked than the {MOST_STEPS} things of one ticket")
    if not all(isinstance(one, str) and len(one) <= MOST_LETTERS for one in lines):
        raise NotAQuestion(f"what is asked has {MOST_LETTERS} letters at most")
    if readings is not None and not (type(readings) is int and 0 <= readings <= MOST_READINGS):
        raise NotAQuestion("readings is no number, or too large a one")
    first = sent.get("first") is True
    return Step(asked, faults, readings, given, sealed, tuple(map(inputs.as_text, lines)), first)
