"""The copper of a board by its text alone, and two ends of it changed about."""

from __future__ import annotations

from collections.abc import Iterable


def joined(text: str) -> list[list[str]]:
    """What the lines of the board join, without pigtails and marks."""
    told = []
    for line in text.splitlines():
        if " -- " in line and "#" not in line:
            names = [each.split()[0] for each in line.strip().split(" -- ")]
            told.append([each for each in names if each != "pigtail"])
    return told


def exchanged(text: str, one: str, other: str) -> str:
    """The board with two ends in each other's place."""
    lines = text.splitlines()
    for at, line in enumerate(lines):
        if " -- " in line:
            words = line.split(" ")
            swap = {one: other, other: one}
            lines[at] = " ".join(swap.get(word, word) for word in words)
    return "\n".join(lines) + "\n"


def merged(sets: Iterable[set[str]]) -> dict[str, int]:
    """The number of the piece that each end is of, where all of a set hang together."""
    told: list[set[str]] = []
    for one in sets:
        apart = []
        for other in told:
            if one & other:
                one = one | other
            else:
                apart.append(other)
        told = [*apart, one]
    return {name: at for at, one in enumerate(told) for name in one}
