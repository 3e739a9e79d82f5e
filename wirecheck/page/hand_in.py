"""Where exercises are shown and handed in, and where the sheets that come back are read.

What is handed in goes into the record and nowhere else. No name is made into the name of a file, and a sheet
has an address that nobody can guess. A name is its first user's: from then on it takes its code.
"""

from __future__ import annotations

import json
from collections.abc import Awaitable, Callable
from contextlib import AbstractContextManager
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any, NamedTuple

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.responses import HTMLResponse, Response
from starlette.routing import Route

from wirecheck import inputs
from wirecheck.grading.board_drawn import NOT_DRAWN, Drawn
from wirecheck.grading.marks import Attempt, alike
from wirecheck.grading.pages import STYLE, student_page
from wirecheck.grading.sheet import points
from wirecheck.judge.finding import STAGES, Stage
from wirecheck.page.answering import InTurn, NotAnswered, as_json
from wirecheck.page.exercise_views import exercise_part
from wirecheck.page.exercises import Begun, Told, begun, told
from wirecheck.page.exercises import Work as Handed
from wirecheck.page.in_folder import MOST_TEXT, NotInFolder, text_in
from wirecheck.page.names import MOST_LETTERS, NotAName, code_of, is_hers, name, same, seal
from wirecheck.page.question import NotAQuestion
from wirecheck.page.seen import Seen
from wirecheck.page.views import Listed, board_page, wrong_page
from wirecheck.policy import given_out
from wirecheck.record import HandedIn, NameTaken, NoRecord, Record, Task

if TYPE_CHECKING:
    from starlette.requests import Request

Opened = Callable[[], AbstractContextManager[Record]]
"""Opens the record anew."""
Taken = Callable[["Request", Callable[[bytes], Awaitable[Response]]], Awaitable[Response]]
"""Answers what was sent, within the share of who sent it."""

NO_EXERCISE = "There is no such exercise in this folder."
MOST_NAMES, MOST_OF_ONE = 500, 300
"""The most names in a record, and the most works under one."""
MOST_DRAWN = 40
"""The most pictures that are kept for sheets that are read again."""


class Sent(NamedTuple):
    """A work as a browser hands it in; `code` is nothing where the name is said to be new."""

    file: str
    text: str
    name: Any
    code: str
    stage: Stage | None


class HandIns:
    """Where works are handed in.

    Parameters
    ----------
    folder : whose exercises they are for
    in_turn : works out what takes long
    record : opens the record; None where there is none
    secret : what codes and the addresses of sheets are made with
    seen : is told of what is handed in
    """

    def __init__(
        self, folder: str, in_turn: InTurn, record: Opened | None, secret: bytes, seen: Seen
    ) -> None:
        self._seen = seen
        self._folder = folder
        self._in_turn = in_turn
        self._record = record
        self._secret = secret
        self._grading: set[str] = set()
        self._drawn: dict[int, Drawn] = {}

    def routes(self, taken: Taken) -> list[Route]:
        """The addresses of it."""

        async def hand_in(request: Request) -> Response:
            async def answer(data: bytes) -> Response:
                return await self._hand_in(request, data)

            return await taken(request, answer)

        return [
            Route("/exercise/{file:path}", self._exercise),
            Route("/hand-in", hand_in, methods=["POST"]),
            Route("/sheet/{run:int}/{seal}", self._sheet),
        ]

    async def _exercise(self, request: Request) -> Response:
        """The page of an exercise."""
        file = request.path_params["file"]
        path, text = await run_in_threadpool(exercise_in, self._folder, file)
        try:
            one: Begun = await self._in_turn(request, begun, path, text)
        except NotAnswered as error:
            return HTMLResponse(wrong_page("Not here", str(error)), 503)
        if one.wrong:
            return HTMLResponse(wrong_page("This exercise has a mistake", f"{file}: {one.wrong}"), 404)
        above = exercise_part(one, self._record is not None)
        return HTMLResponse(board_page(Listed(file, one.title), one.start, above))

    async def _hand_in(self, request: Request, data: bytes) -> Response:
        """The sheet of what is handed in."""
        asked = _sent(data)
        if self._record is None:
            return _refused("This server keeps no record, and nothing is handed in here.")
        try:
            whose = name(asked.name)
        except NotAName as error:
            return _refused(str(error))
        if len(asked.text) > MOST_TEXT:
            return _refused(f"A work has {MOST_TEXT} letters at most.")
        if asked.code and not is_hers(self._secret, whose, asked.code):
            return _refused(
                f"That is not the code of {whose}. Your instructor can tell you yours.", code=True
            )
        if alike(whose) in self._grading:
            return _refused(f"A work of {whose} is being graded now. Wait for its sheet.")
        self._grading.add(alike(whose))
        try:
            return await self._graded(request, asked, whose)
        except NameTaken:
            return _refused(
                f"Somebody has handed in as {whose} before. If that was you, write your code: it is on the "
                "page where you handed in first, and your instructor can tell it. If not, write your name in "
                "full.",
                code=True,
            )
        except NoRecord:
            return _refused("The record cannot be written now. Try again, and tell your instructor.")
        finally:
            self._grading.discard(alike(whose))

    async def _graded(self, request: Request, asked: Sent, whose: str) -> Response:
        path, exercise = await run_in_threadpool(exercise_in, self._folder, asked.file)
        full = await run_in_threadpool(self._in_the_way, whose, new=not asked.code)
        if full:
            return _refused(full)
        work = asked.text.encode()
        done: Told = await self._in_turn(request, told, path, Handed(exercise, work, whose, asked.stage))
        sheet = done.graded.sheet
        if alike(sheet.student) != alike(whose):
            return _refused(
                f"Your text is of another student: its line says {sheet.student[:MOST_LETTERS]}, and you "
                f"hand in as {whose}. Nothing was handed in."
            )
        one = HandedIn(whose, asked.file, work)
        run, at = await run_in_threadpool(self._keep, done.task, one, sheet, new=not asked.code)
        self._keep_drawn(run, done.graded.picture)
        score = f"{points(sheet.score)} of {points(sheet.points)} points"
        machine = request.client.host if request.client else ""
        self._seen.handed_in(whose, asked.file, sheet.exercise, score, machine)
        return as_json(
            {
                "name": whose,
                "code": code_of(self._secret, whose),
                "sheet": self.address(run),
                "score": score,
                "stage": asked.stage or "all stages",
                "refused_work": sheet.refused,
                "at": at,
            }
        )

    def _in_the_way(self, whose: str, new: bool) -> str:
        """Why no more is taken under a name; nothing where it is.

        Raises
        ------
        NameTaken
            It is no new name.
        """
        with self._opened() as record:
            known = record.handed_in_by(whose)
            if known and new:
                raise NameTaken
            if known >= MOST_OF_ONE:
                return f"{whose} has handed in {known} works, and that is the most. Ask your instructor."
            if not known and record.names() >= MOST_NAMES:
                return f"{MOST_NAMES} names are in the record, and that is the most. Ask your instructor."
        return ""

    def _keep(self, task: Task, one: HandedIn, sheet: Any, new: bool) -> tuple[int, str]:
        now = datetime.now(UTC)
        with self._opened() as record:
            run = record.hand_in(task, one, sheet, now, new=new)
        return run, now.isoformat(timespec="seconds")

    def _opened(self) -> AbstractContextManager[Record]:
        assert self._record is not None
        return self._record()

    def address(self, run: int) -> str:
        """Where the sheet of a work is read: whoever has the address may."""
        return f"/sheet/{run}/{seal(self._secret, 'sheet', str(run))}"

    async def _sheet(self, request: Request) -> Response:
        """A sheet that came back."""
        run = request.path_params["run"]
        known = seal(self._secret, "sheet", str(run))
        if self._record is None or not same(known, request.path_params["seal"]):
            raise HTTPException(404, "There is no such sheet.")
        try:
            found = await run_in_threadpool(self._found, run)
        except NoRecord as error:
            raise HTTPException(503, "The record cannot be read now. Try again.") from error
        if found is None:
            raise HTTPException(404, "There is no such sheet.")
        one, attempt = found
        picture = self._drawn.get(run)
        if picture is None:
            picture = await self._draw(request, one, attempt)
            self._keep_drawn(run, picture)
        page = student_page(attempt.sheet, picture)
        return HTMLResponse(page, headers={"content-security-policy": given_out(STYLE)})

    def _found(self, run: int) -> tuple[HandedIn, Attempt] | None:
        with self._opened() as record:
            return record.handed_in(run)

    async def _draw(self, request: Request, one: HandedIn, attempt: Attempt) -> Drawn:
        """The picture of a work, where the exercise is still what it was graded by."""
        try:
            path, exercise = await run_in_threadpool(exercise_in, self._folder, one.exercise_file)
            work = Handed(exercise, one.work, attempt.sheet.student, attempt.stage)
            done: Told = await self._in_turn(request, told, path, work)
        except (NotInFolder, NotAnswered):
            return NOT_DRAWN
        return done.graded.picture if done.task.exercise_digest == attempt.exercise_digest else NOT_DRAWN

    def _keep_drawn(self, run: int, picture: Drawn) -> None:
        while len(self._drawn) >= MOST_DRAWN:
            del self._drawn[next(iter(self._drawn))]
        self._drawn[run] = picture


def exercise_in(folder: str, file: str) -> tuple[str, bytes]:
    """Where an exercise of a folder is, and what is in it."""
    path, text = text_in(folder, file, "The exercise", NO_EXERCISE)
    if not inputs.is_exercise(text):
        raise NotInFolder(NO_EXERCISE)
    return path, text


def _sent(data: bytes) -> Sent:
    """What was sent, as a work.

    Raises
    ------
    NotAQuestion
        It is none.
    """
    try:
        sent = json.loads(data)
    except (ValueError, RecursionError) as error:
        raise NotAQuestion("what was sent is no JSON") from error
    if not isinstance(sent, dict):
        raise NotAQuestion("what was sent is no object")
    file, text, code, stage = (sent.get(each) or "" for each in ("file", "text", "code", "stage"))
    if not all(isinstance(one, str) for one in (file, text, code)):
        raise NotAQuestion("file, text or code is no text")
    known = next((one for one in STAGES if one == stage), None)
    if stage and known is None:
        raise NotAQuestion("there is no such stage")
    return Sent(inputs.as_text(file), inputs.as_text(text), sent.get("name"), code, known)


def _refused(why: str, code: bool = False) -> Response:
    """Why nothing was handed in, and whether a code would help."""
    return as_json({"refused": why, "code": code})
