"""Whose turn it is, and that nobody has all places."""

import asyncio

import pytest

from wirecheck.page.turns import Turns


class Waiting:
    """Questions that wait and work, by name, in the order in which they began."""

    def __init__(self, places):
        self.turns = Turns(places)
        self.begun = []
        self.tasks = {}

    async def ask(self, name, asker, patient=False):
        ends = asyncio.Event()

        async def asked():
            async with self.turns.turn(asker, patient):
                self.begun.append(name)
                await ends.wait()

        self.tasks[name] = asyncio.create_task(asked()), ends
        await settled()

    async def end(self, name):
        self.tasks[name][1].set()
        await settled()

    async def leave(self, name):
        self.tasks[name][0].cancel()
        await settled()

    async def all_end(self):
        for task, ends in self.tasks.values():
            ends.set()
            await asyncio.wait([task])
        assert self.turns._working == self.turns._waiting == []


async def settled():
    for _ in range(5):
        await asyncio.sleep(0)


def test_who_came_first_begins_first_and_one_machine_leaves_a_place():
    async def tried():
        those = Waiting(3)
        for number in range(4):
            await those.ask(f"a{number}", "a")
        assert those.begun == ["a0", "a1"]
        await those.ask("b0", "b")
        await those.ask("c0", "c")
        assert those.begun == ["a0", "a1", "b0"]
        await those.end("a0")  # c has none yet, and comes before a, which asked sooner.
        assert those.begun[3:] == ["c0"]
        await those.end("a1")
        assert those.begun[4:] == ["a2"]
        await those.all_end()

    asyncio.run(tried())


def test_who_is_patient_waits_for_all_others_and_leaves_two_places():
    async def tried():
        those = Waiting(3)
        await those.ask("a search", "a", patient=True)
        await those.ask("b search", "b", patient=True)
        assert those.begun == ["a search"]
        for name in "cde":
            await those.ask(name, name)
        assert those.begun == ["a search", "c", "d"]
        await those.end("a search")
        assert those.begun[3:] == ["e"]
        await those.end("c")
        assert those.begun[4:] == ["b search"]
        await those.all_end()

    asyncio.run(tried())


def test_who_leaves_has_no_turn_and_gives_the_place_on():
    async def tried():
        those = Waiting(2)
        for name in ("a", "b", "c", "d"):
            await those.ask(name, name)
        await those.leave("c")
        await those.leave("a")
        assert those.begun == ["a", "b", "d"]
        await those.all_end()

    asyncio.run(tried())


@pytest.mark.parametrize("places", [1, 2])
def test_with_few_places_each_kind_has_one(places):
    async def tried():
        those = Waiting(places)
        await those.ask("a search", "a", patient=True)
        assert those.begun == ["a search"]
        await those.end("a search")
        await those.ask("b", "b")
        assert those.begun[1:] == ["b"]
        await those.all_end()

    asyncio.run(tried())


def test_work_that_is_long_gives_its_place_to_a_machine_that_has_none():
    async def tried():
        turns = Turns(3, long=0.01)
        begun, free = [], asyncio.Event()

        def work(name, held=True):
            async def worked():
                begun.append(name)
                if held:
                    await free.wait()
                return name

            return worked

        async def ask(name, asker):
            return asyncio.create_task(turns.done(asker, work(name)))

        long = [await ask(name, name[0]) for name in ("a0", "a1", "b0")]
        await asyncio.sleep(0.05)
        assert begun == ["a0", "a1", "b0"]  # Nobody waits: none is moved.
        waiting = await ask("b1", "b")
        await asyncio.sleep(0.3)
        assert begun == ["a0", "a1", "b0"]  # b has a place, and all that it is due.
        assert await asyncio.wait_for(turns.done("c", work("c", held=False)), 5) == "c"
        assert begun[3] == "c"
        free.set()
        assert await asyncio.gather(*long, waiting) == ["a0", "a1", "b0", "b1"]
        assert sorted(begun[4:])[1:] == ["b1"] and turns._working == turns._waiting == []

    asyncio.run(tried())


def test_long_work_that_is_cancelled_or_fails_gives_its_place_on():
    async def tried():
        turns = Turns(1, long=0.01)

        async def held():
            await asyncio.Event().wait()

        async def fails():
            raise ValueError

        first = asyncio.create_task(turns.done("a", held))
        await settled()
        first.cancel()
        with pytest.raises(ValueError):
            await turns.done("b", fails)
        assert turns._working == turns._waiting == []

    asyncio.run(tried())
