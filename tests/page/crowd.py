"""A class at work: students who each edit a board, and wait for what the server says of each edit.

    python -m tests.page.crowd 300

has thirty of them edit for so many seconds, and prints how long they waited and what it took.
"""

from __future__ import annotations

import asyncio
import os
import random
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from statistics import median, quantiles
from typing import Any, NamedTuple

import httpx

from tests.page.served import served
from wirecheck import files

STAIR, PUMP = "stair-light/right.wire", "heat-pump/right.wire"
STUDENTS, WITH_PUMP = 30, 4
EVERY = 2.0
"""Seconds from edit to edit of a student, more or less."""
QUIET = 0.7
"""Seconds after an answer until a page asks for mends, where nothing is typed, as in `board.js`."""
LOOKED = 5.0
"""Seconds from look to look at the memory."""
TICKS = os.sysconf("SC_CLK_TCK")


class Went(NamedTuple):
    """How it went: the seconds of each wait, what was refused, how many searches for mends came to an end.

    Then the seconds of the processor that the server took, and its megabytes from look to look.
    """

    waits: list[float]
    refused: list[str]
    searched: list[float]
    megabytes: list[float]
    processor: float = 0.0

    @property
    def nearly_all(self) -> float:
        """What 95 % of the waits are below."""
        return quantiles(self.waits, n=20, method="inclusive")[-1]

    def __str__(self) -> str:
        searched = f", the median in {median(self.searched):.2f} s" if self.searched else ""
        return (
            f"{len(self.waits)} edits were answered in {median(self.waits):.2f} s at the median, in "
            f"{self.nearly_all:.2f} s at 95 %, in {max(self.waits):.2f} s at most, and {len(self.refused)} "
            f"were not. {len(self.searched)} searches for mends came to their end{searched}.\n"
            f"The processors worked {1000 * self.processor / len(self.waits):.0f} ms for each edit, in all."
            f" The memory was {self.megabytes[0]:.0f} MB at first, {self.megabytes[-1]:.0f} MB at last.\n"
        )


def edits(text: str, dice: random.Random) -> Iterator[str]:
    """A board as it is wired by hand: each text has one line changed, or put right; three at most wrong."""
    right = text.split("\n")
    wired = [number for number, line in enumerate(right) if " -- " in line]
    now = list(right)
    for count in range(sys.maxsize):
        wrong = [number for number in wired if now[number] != right[number]]
        number = dice.choice(wrong if len(wrong) >= 3 else wired)
        kept, last = right[number].rsplit(" -- ", 1)
        other = right[dice.choice(wired)].rsplit(" -- ", 1)[1]
        ways = ("", f"{kept} --", f"{kept} -- {other}", f"{kept} -- {last}  # see {count}")
        now[number] = right[number] if number in wrong else dice.choice(ways)
        yield "\n".join(now)


async def at_work(address: str, server: int, seconds: float) -> Went:
    """Thirty students edit for so many seconds."""
    went = Went([], [], [], [])
    before = _processor(server)
    looking = asyncio.create_task(_look(server, went.megabytes))
    until = time.monotonic() + seconds
    await asyncio.gather(*(_student(address, number, until, went) for number in range(STUDENTS)))
    looking.cancel()
    went.megabytes.append(_megabytes(server))
    return went._replace(processor=_processor(server) - before)


async def _student(address: str, number: int, until: float, went: Went) -> None:
    """One of them, at a machine of their own."""
    dice = random.Random(number)
    file = PUMP if number < WITH_PUMP else STAIR
    text = (files.folder("boards") / file).read_text("utf-8")
    transport = httpx.AsyncHTTPTransport(local_address=f"127.0.1.{number + 1}")
    next_at = time.monotonic() + dice.uniform(0, EVERY)
    async with httpx.AsyncClient(base_url=address, transport=transport, timeout=60) as client:
        for edited in edits(text, dice):
            await asyncio.sleep(next_at - time.monotonic())
            begun = next_at
            if begun > until:
                return
            next_at += dice.uniform(0.5, 1.5) * EVERY
            question = {"file": file, "text": edited}
            told = await _asked(client, "/check", question, went)
            went.waits.append(time.monotonic() - begun)
            if told.get("findings") and next_at - time.monotonic() > QUIET:
                await asyncio.sleep(QUIET)
                await _searched(client, question, next_at, went)


async def _searched(client: httpx.AsyncClient, question: dict[str, Any], until: float, went: Went) -> None:
    """A search for mends, until there is something newer to ask."""
    begun = time.monotonic()
    search = asyncio.create_task(_asked(client, "/mends", question, went))
    _, left = await asyncio.wait([search], timeout=max(0.0, until - begun))
    if left:
        search.cancel()
        await asyncio.wait(left)
    else:
        search.result()
        went.searched.append(time.monotonic() - begun)


async def _asked(
    client: httpx.AsyncClient, address: str, question: dict[str, Any], went: Went
) -> dict[str, Any]:
    answer = await client.post(address, json=question)
    told: dict[str, Any] = answer.json()
    if answer.status_code != 200 or "picture" not in told:
        went.refused.append(f"{answer.status_code} {told}")
    return told


async def _look(server: int, megabytes: list[float]) -> None:
    while True:
        await asyncio.sleep(LOOKED)
        megabytes.append(_megabytes(server))


def _megabytes(server: int) -> float:
    """The memory of a process and of those it made; what they share is counted once."""
    total = 0
    for process in (server, *children(server)):
        for line in Path(f"/proc/{process}/smaps_rollup").read_text().splitlines():
            if line.startswith("Pss:"):
                total += int(line.split()[1])
    return total / 1024


def _processor(server: int) -> float:
    """The seconds of the processor that a process took, with those it made, whether or not they ended."""
    ticks = 0
    for process in (server, *children(server)):
        fields = Path(f"/proc/{process}/stat").read_text().rsplit(")", 1)[1].split()
        ticks += sum(map(int, fields[11 : 15 if process == server else 13]))
    return ticks / TICKS


def children(process: int) -> list[int]:
    """The processes that one made, and that have not ended."""
    tasks = Path(f"/proc/{process}/task").iterdir()
    return [int(child) for task in tasks for child in (task / "children").read_text().split()]


def main() -> None:
    """Have them at work for so many seconds, and say how it went."""
    with served(files.folder("boards")) as (address, server):
        went = asyncio.run(at_work(address, server.pid, float(sys.argv[1])))
    sys.stdout.write(str(went))
    sys.stdout.write("".join(f"{one}\n" for one in went.refused[:5]))
    sys.stdout.write(" ".join(f"{one:.0f}" for one in went.megabytes) + " MB\n")


if __name__ == "__main__":
    main()
