"""The run itself, in a process of its own: the engine watches which branches of the code each text reaches.

What is wrong is written into a folder, and the run goes on. `python -m tests.fuzz` starts it.
"""

from __future__ import annotations

import gc
import importlib
import json
import os
import pkgutil
import sys
import time
from pathlib import Path
from random import Random
from typing import NamedTuple
from zlib import crc32

from tests.fuzz import targets, texts
from tests.fuzz.trouble import MOST_SECONDS, armed, trouble

WATCHED = 1.5
"""How much longer a text takes while it is watched, about."""
KEPT = 3
"""So many texts of one trouble are kept; they are made small and compared later."""
REMEMBERED = 1 << 27
"""Texts are told from those before by this many bits, so that few are tried twice."""


class Plan(NamedTuple):
    """What to run: targets by name, for so long, from that seed, with what was kept in a folder."""

    names: tuple[str, ...]
    seconds: float
    seed: int
    kept: str
    found: str


def load(rooms: set[str]) -> None:
    """Import rooms, whole: the house loads late, and what is imported later would not be watched."""
    import wirecheck

    for info in pkgutil.walk_packages(wirecheck.__path__, "wirecheck."):
        name = info.name.split(".")
        if name[1] in rooms and name[-1] != "compile":
            importlib.import_module(info.name)


class Run:
    """One run: its counts, and the texts that were tried."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.tried = dict.fromkeys(plan.names, 0)
        self.times = dict.fromkeys(plan.names, 0.0)
        self.again = 0
        self.places: dict[str, int] = {}
        self.seen = bytearray(REMEMBERED // 8)
        self.end = time.monotonic() + plan.seconds
        self.told = 0.0

    def one(self, data: bytes) -> None:
        """Try one text on its target."""
        now = time.monotonic()
        if now > self.told + 5 or now > self.end:
            self.tell(now)
        names = self.plan.names
        bit = hash(data) % REMEMBERED
        if self.seen[bit >> 3] >> (bit & 7) & 1:
            self.again += 1
            return
        self.seen[bit >> 3] |= 1 << (bit & 7)
        name = names[crc32(data) % len(names)]
        begun = time.process_time()
        wrong = trouble(targets.TARGETS[name], data, MOST_SECONDS * WATCHED)
        self.times[name] += time.process_time() - begun
        self.tried[name] += 1
        if wrong:
            key = f"{name}: {wrong.place}"
            self.places[key] = self.places.get(key, 0) + 1
            if self.places[key] <= KEPT:
                path = Path(self.plan.found, f"{name}-{crc32(data):08x}.wire")
                path.write_bytes(data)

    def tell(self, now: float) -> None:
        """Write the counts, and end when it is time."""
        self.told = now
        told = {"tried": self.tried, "times": self.times, "again": self.again, "places": self.places}
        Path(self.plan.found, "counts.json").write_text(json.dumps(told), "utf-8")
        if now > self.end:
            os._exit(0)


def run(plan: Plan) -> None:
    """Run a plan; the process ends with it."""
    import atheris
    from atheris.import_hook import HookManager

    chosen = [targets.TARGETS[name] for name in plan.names]
    # As atheris.instrument_imports, less the tracing of comparisons: words are changed by one who knows the
    # language and needs no hints of it, and with it a text took twice as long.
    with HookManager({"wirecheck"}, set(), True, trace_dataflow=False):
        load({room for target in chosen for room in target.rooms})
    targets.strict()
    armed()
    judging = [target for target in chosen if target.rooms != targets.READING]
    longest = min(target.longest for target in judging or chosen)
    begin = texts.seeds(chosen[0].parts)
    if not judging:
        begin = texts.pieces(begin, longest)
    begin = [text for text in begin if len(text) <= 3 * longest]
    random = Random(plan.seed)
    writer = texts.Writer(begin, random)
    for text in begin:
        if len(text.encode()) <= longest:
            Path(plan.kept, f"{crc32(text.encode()):08x}").write_text(text, "utf-8")

    def change(data: bytes, most: int, _seed: int) -> bytes:
        if random.random() < 0.1:
            return bytes(atheris.Mutate(data, most))
        return writer.changed(data.decode("utf-8", "replace"), most).encode()[:most]

    watched = Run(plan)
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000, 10, 10)
    arguments = [
        *(
            sys.argv[0],
            plan.kept,
            f"-max_len={longest}",
            f"-seed={plan.seed}",
            "-timeout=100000",
            "-reload=0",
        ),
        *("-rss_limit_mb=2048", "-len_control=0", "-prefer_small=1", f"-artifact_prefix={plan.found}/ended-"),
    ]
    atheris.Setup(arguments, watched.one, custom_mutator=change)
    atheris.Fuzz()


if __name__ == "__main__":
    asked = json.loads(sys.argv[1])
    run(Plan(tuple(asked[0]), *asked[1:]))
