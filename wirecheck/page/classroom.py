"""Where the instructor sees the class: at an address that only the terminal tells."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from typing import TYPE_CHECKING, NamedTuple

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.responses import HTMLResponse, Response
from starlette.routing import Route

from wirecheck import inputs
from wirecheck.grading.marks import Attempt, ByEye, alike
from wirecheck.grading.pages import STYLE
from wirecheck.judge.finding import STAGES, Stage
from wirecheck.page.answering import InTurn, Kept, NotAnswered
from wirecheck.page.class_views import class_view, now_part
from wirecheck.page.exercises import class_sheet
from wirecheck.page.hand_in import exercise_in
from wirecheck.page.names import code_of, same
from wirecheck.page.seen import Seen
from wirecheck.page.views import Listed
from wirecheck.policy import given_out
from wirecheck.record import NoRecord

if TYPE_CHECKING:
    from starlette.requests import Request


class _Recorded(NamedTuple):
    """What the record has, for the view of the class."""

    counts: Counter[tuple[str, str]]
    names: tuple[str, ...]


class Classroom:
    """The instructor's view.

    Parameters
    ----------
    folder : whose exercises were handed out
    in_turn : works out what takes long
    kept : the record, the secret of codes, and the token of the address
    seen : where everybody is
    exercises : lists those of the folder
    address : where the sheet of a run is read
    """

    def __init__(
        self,
        folder: str,
        in_turn: InTurn,
        kept: Kept,
        seen: Seen,
        exercises: Callable[[], list[Listed]],
        address: Callable[[int], str],
    ) -> None:
        self._folder = folder
        self._in_turn = in_turn
        self._kept = kept
        self._seen = seen
        self._exercises = exercises
        self._address = address

    def routes(self) -> list[Route]:
        """The addresses of it."""
        return [
            Route("/class/{token}", self._class),
            Route("/class/{token}/now", self._now),
            Route("/class/{token}/sheet/{file:path}", self._sheet),
        ]

    def _admit(self, request: Request) -> None:
        if not self._kept.token or not same(self._kept.token, request.path_params["token"]):
            raise HTTPException(404, "There is no such page.")

    async def _class(self, request: Request) -> Response:
        """All of it."""
        self._admit(request)
        exercises = await run_in_threadpool(self._exercises)
        try:
            known = await run_in_threadpool(self._recorded)
        except NoRecord as error:
            raise HTTPException(503, f"{error}") from error
        codes = [(name, code_of(self._kept.codes, name)) for name in known.names]
        recorded = self._kept.record is not None
        page = class_view(self._seen, exercises, known.counts, codes, self._kept.token, recorded)
        return HTMLResponse(page)

    async def _now(self, request: Request) -> Response:
        """What changes by the minute."""
        self._admit(request)
        return HTMLResponse(now_part(self._seen))

    def _recorded(self) -> _Recorded:
        if self._kept.record is None:
            return _Recorded(Counter(), ())
        with self._kept.record() as record:
            counts = Counter((title, stage) for title, stage, _ in record.tried())
            return _Recorded(counts, record.students())

    async def _sheet(self, request: Request) -> Response:
        """The class's sheet of an exercise, as `grade --pages` writes it: of each student the newest work."""
        self._admit(request)
        asked = request.query_params.get("stage", "")
        stage = next((one for one in STAGES if one == asked), None)
        if asked and stage is None:
            raise HTTPException(404, "There is no such stage.")
        path, text = await run_in_threadpool(exercise_in, self._folder, request.path_params["file"])
        try:
            newest, handed_in, by_eye = await run_in_threadpool(self._newest, inputs.title_of(text), stage)
            pages = {one.sheet.file: self._address(one.run) for one in newest if one.run in handed_in}
            sheets = [one.sheet for one in newest]
            page: str = await self._in_turn(request, class_sheet, path, text, stage, sheets, pages, by_eye)
        except (NoRecord, NotAnswered) as error:
            raise HTTPException(503, f"{error}") from error
        return HTMLResponse(page, headers={"content-security-policy": given_out(STYLE)})

    def _newest(
        self, title: str, stage: Stage | None
    ) -> tuple[list[Attempt], frozenset[int], tuple[ByEye, ...]]:
        """Of each student the newest attempt at an exercise, in order of their names."""
        if self._kept.record is None:
            raise HTTPException(404, "There is no record.")
        found: dict[str, Attempt] = {}
        with self._kept.record() as record:
            for one in record.attempts():
                if alike(one.sheet.exercise) == alike(title) and one.stage == stage:
                    found[alike(one.sheet.student)] = one
            order = [found[name] for name in sorted(found)]
            return order, record.runs_handed_in(), record.judged_by_eye()
