"""From a key to what is wrong, and to what may come next, in an editor: what who types waits for."""

from __future__ import annotations

import asyncio
import sys
import time
from statistics import median

import pytest

from tests.editor.client import started
from wirecheck import files

KEYS = 25
MOST = 0.1
"""The most seconds that the answers to a key may take, in the middle of many, with the rest of the keys."""


@pytest.mark.slow
@pytest.mark.parametrize("name", ["stair-light/right"])
def test_from_a_key_to_its_answers(benchmark, name: str) -> None:
    text = (files.folder("boards") / f"{name}.wire").read_text()
    times: dict[str, list[float]] = {"offers": [], "found": []}

    async def typed() -> None:
        async with started() as editor:
            editor.open(text)
            await editor.said()
            for number in range(KEYS):
                editor.type(text + "\n" * (number + 1))
                begun = time.perf_counter()
                await editor.offers(len(text.split("\n")) - 1, 0)
                times["offers"].append(time.perf_counter() - begun)
                await editor.said()
                times["found"].append(time.perf_counter() - begun)

    benchmark.pedantic(lambda: asyncio.run(typed()), rounds=1)
    for what, taken in times.items():
        sys.stdout.write(f"{name}: {1000 * median(taken):.0f} ms from a key to what is {what}\n")
    if benchmark.enabled:
        assert median(times["offers"]) < MOST
        assert median(times["found"]) < MOST
