"""A way through copper in words."""

from __future__ import annotations

import itertools

from wirecheck.judge.case import Case
from wirecheck.judge.ways import Way


def named(way: Way, case: Case) -> str:
    """The way screw by screw, each wire once: "LP.3 to W1.black to S1.line"."""
    points = (case.circuit.point[name] for name in way.points)
    names = (point.owner if point.kind == "end" else point.name for point in points)
    return " to ".join(name for name, _ in itertools.groupby(names))
