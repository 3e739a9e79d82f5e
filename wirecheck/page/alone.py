"""A page without a server: it answers itself, in the Python of its browser, by what answers on a server."""

from __future__ import annotations

import asyncio
import json
from collections.abc import Callable
from typing import Any

from wirecheck.inputs import path_in
from wirecheck.page.asking import ASKED, NO_BOARD, not_understood
from wirecheck.page.giving import Tickets, board_in, step_of
from wirecheck.page.in_folder import NotInFolder
from wirecheck.page.question import NotAQuestion

TICKET = "/ask"
"""The address at which something is asked on a ticket."""
NOT_HERE = "The board takes more than this page has. Check it with wirecheck itself."
NO_SECRET = b""
"""Nothing can be kept from who has the program: whoever looks for a fault there looks into no secret."""


class Alone:
    """What answers a page.

    Parameters
    ----------
    folder : where its boards are, and what lies beside them

    Examples
    --------
    >>> asyncio.run(Alone("boards").answered("/measure", '{"file": "../demo.wire", "text": ""}'))
    '{"refused": "There is no such board in this folder."}'
    """

    def __init__(self, folder: str) -> None:
        self._folder = folder
        self._tickets = Tickets(NO_SECRET)

    async def answered(self, address: str, sent: str) -> str:
        """What is answered to what was sent, both as JSON."""
        try:
            if address == TICKET:
                step = step_of(sent.encode())
                path, board = board_in(self._folder, step.asked.file, step.faults)
                return json.dumps((await self._tickets.told(path, board, step, _worked_out)).told)
            asking = ASKED[address]
            asked = asking.question(sent.encode())
            found = path_in(self._folder, asked.file)
            return asking.answer(found, asked) if found is not None else _refused(NO_BOARD)
        except NotAQuestion as error:
            return _refused(not_understood(error))
        except NotInFolder as error:
            return _refused(str(error))
        except ModuleNotFoundError:
            # What few boards need has no place in a browser: SciPy, for a dense network.
            return _refused(NOT_HERE)


async def _worked_out(function: Callable[..., Any], *args: Any) -> Any:
    """What a function makes of its arguments; before, whoever asks meanwhile is heard."""
    await asyncio.sleep(0)
    return function(*args)


def _refused(why: str) -> str:
    return json.dumps({"refused": why})
