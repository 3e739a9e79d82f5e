"""Boards on which the systems of other boards stand again and again, each on breakers of its own."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from tests.samples import board
from wirecheck.model.devices import callers

# The highest position that a panel has, and how many follow before a leg comes again.
LAST, LEGS = 999, 4
HEAD = ("board", "code", "ambient", "panel", "#")
IDLE = "expect idle runs "


def repeated(texts: Sequence[str], times: int) -> str:
    """So many systems, in turn those of some boards of one panel; as many panels as have the places.

    What the k-th copy owns has `-k` behind its name, and its calls are made by its own thermostat.
    """
    panels, used = 0, LAST
    head, lines = ['board "Again and again"'], []
    idle: dict[str, None] = {}
    known = [(text.splitlines(), *_names(text)) for text in texts]
    for number in range(1, times + 1):
        written, names, calls, places = known[(number - 1) % len(texts)]
        room = max(places.values())
        room += -room % LEGS
        if used + room > LAST:
            panels, used = panels + 1, 0
            head.append(f"panel P{panels} 120/240 V, 10 kA available")
        panel = f"P{panels}"
        becomes = {name: f"{name}-{number}" for name in names}
        becomes |= {name: f"{panel}.{place + used}" for name, place in places.items()}
        becomes |= {name.rpartition(".")[0]: panel for name in places}
        used += room
        for line in written:
            text = line.partition("#")[0].strip()
            if text.startswith(IDLE):
                idle[_renamed(text[len(IDLE) :], becomes)] = None
            elif text and not text.startswith(HEAD):
                lines.append(_renamed(_with_own_calls(text, calls), becomes))
    if idle:
        lines.append(IDLE + (", ".join(name for name in idle if name != "nothing") or "nothing"))
    return "\n".join([*head, *lines, ""])


def _names(text: str) -> tuple[list[str], Mapping[str, str], Mapping[str, int]]:
    """What a board declares, who makes each of its calls, and the position of each breaker."""
    made = board(text)
    names = [*made.devices, *made.boxes, *made.runs, *made.raceways]
    calls = {call: f"{makers[0]}.{call}" for call, makers in callers(made).items() if "." not in call}
    return names, calls, {name: int(name.rpartition(".")[2]) for name in made.breakers}


def _with_own_calls(line: str, calls: Mapping[str, str]) -> str:
    """`expect heat runs F.blower` as `expect TS.heat runs F.blower`."""
    for verb in (" runs ", " stops "):
        called, does, loads = line.partition(verb)
        if does and called.startswith("expect "):
            return " ".join(calls.get(word, word) for word in called.split()) + does + loads
    return line


def _renamed(line: str, becomes: Mapping[str, str]) -> str:
    """A line with other names; what stands behind a number is a unit."""
    names = "|".join(re.escape(name) for name in sorted(becomes, key=len, reverse=True))
    return re.sub(rf"(?<![\w.-])(?<!\d )({names})(?![\w-])", lambda found: becomes[found[1]], line)
