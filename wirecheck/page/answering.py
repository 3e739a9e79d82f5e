"""What all who answer share: where work is done, how an answer is sent, and what is kept from run to run."""

from __future__ import annotations

import json
from collections.abc import Awaitable, Callable
from contextlib import AbstractContextManager
from typing import Any, NamedTuple

from starlette.responses import Response

from wirecheck.record import Record

Work = Callable[..., Awaitable[Any]]
"""Works out elsewhere what a function makes of its arguments; raises `NotAnswered` where that was ended."""

InTurn = Callable[..., Awaitable[Any]]
"""The same for a request, which comes before the function, when it is the turn of the machine that asks."""


class NotAnswered(Exception):
    """The work on a question was ended; the message says by what."""


class Kept(NamedTuple):
    """What a server has beside the folder.

    Attributes
    ----------
    record : opens the record anew; None where there is none
    codes : the secret that names' codes and the addresses of sheets are made with
    tickets : the secret that tells which fault a ticket hides
    token : what the address of the instructor's view ends in
    """

    record: Callable[[], AbstractContextManager[Record]] | None
    codes: bytes
    tickets: bytes
    token: str


def as_json(told: dict[str, Any], status: int = 200, headers: dict[str, str] | None = None) -> Response:
    """An answer as data."""
    return Response(json.dumps(told), status, headers, "application/json")
