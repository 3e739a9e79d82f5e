"""The copper of a board by its text alone, and two ends of it changed about."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import numpy


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


def pieces(sets: Iterable[set[str]]) -> list[set[str]]:
    """What hangs together, where all of a set do."""
    told: list[set[str]] = []
    for one in sets:
        apart = []
        for other in told:
            if one & other:
                one = one | other
            else:
                apart.append(other)
        told = [*apart, one]
    return told


def merged(sets: Iterable[set[str]]) -> dict[str, int]:
    """The number of the piece that each end is of, where all of a set hang together."""
    return {name: at for at, one in enumerate(pieces(sets)) for name in one}


def felt(
    piece: Mapping[str, int], sources: Mapping[str, complex], loads: Mapping[str, tuple[str, str]]
) -> dict[str, float]:
    """The volts that come to each load, all of them taken for alike; empty where two sources meet.

    Loads that hang in a row without a source between them share the volts of what feeds them.
    """
    held: dict[int, complex] = {}
    for name, volts in sources.items():
        if name in piece and held.setdefault(piece[name], volts) != volts:
            return {}
    ends = {load: (piece.get(one, -1), piece.get(other, -1)) for load, (one, other) in loads.items()}
    count = max(piece.values()) + 1
    # A piece that nothing holds leans on the earth by almost nothing.
    weights, draws = numpy.eye(count) * 1e-9, numpy.zeros(count, dtype=complex)
    for one, other in ends.values():
        if one != other and min(one, other) >= 0:
            weights[[one, other], [one, other]] += 1
            weights[[one, other], [other, one]] -= 1
    for at, volts in held.items():
        weights[at], draws[at] = 0, volts
        weights[at, at] = 1
    stands = numpy.linalg.solve(weights, draws)
    return {
        load: float(abs(stands[one] - stands[other])) if min(one, other) >= 0 else 0.0
        for load, (one, other) in ends.items()
    }
