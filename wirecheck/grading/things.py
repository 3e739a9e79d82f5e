"""What statements are about, and whether one says all that another does."""

from __future__ import annotations

from collections.abc import Hashable
from typing import Any

from wirecheck.language import syntax
from wirecheck.language.saying import saying
from wirecheck.language.syntax import Statement

Thing = (
    syntax.PanelStatement
    | syntax.BreakerStatement
    | syntax.BoxStatement
    | syntax.ConnectorStatement
    | syntax.CableStatement
    | syntax.WireStatement
    | syntax.RacewayStatement
    | syntax.DeviceStatement
)
Flagged = syntax.PanelStatement | syntax.BreakerStatement | syntax.BoxStatement
Run = syntax.CableStatement | syntax.WireStatement | syntax.RacewayStatement
# Lines of which a board has one, and which change how all of it is judged.
Setting = syntax.Code | syntax.Ambient


def unordered(words: tuple[Any, ...]) -> frozenset[Any]:
    """What words say that may stand in any order."""
    return frozenset(saying(word) for word in words)


def key(statement: Statement) -> tuple[Hashable, ...] | None:
    """What a statement is about, of which a board has one: a thing by its name, or a setting; else None."""
    if isinstance(statement, Thing):
        return ("thing", statement.name.text)
    if isinstance(statement, Setting):
        return (type(statement).__name__,)
    return None


def keeps(given: Statement, own: Statement) -> bool:
    """Whether a statement says all that the one handed out does, and no more than a tape measure adds.

    Whoever builds a board measures the ends of its runs, so a line may say more of them.
    """
    if type(given) is not type(own):
        return False
    if isinstance(given, Run) and isinstance(own, Run):
        return _without_measures(given) == _without_measures(own) and all(
            unordered(mine.measures) >= unordered(theirs.measures)
            for theirs, mine in zip(given.ends, own.ends, strict=True)
        )
    if isinstance(given, Flagged) and isinstance(own, Flagged):
        same = saying(given._replace(flags=())) == saying(own._replace(flags=()))
        return bool(same) and unordered(given.flags) == unordered(own.flags)
    return bool(saying(given) == saying(own))


def _without_measures(run: Run) -> tuple[Any, ...]:
    """What a run is, and where it goes."""
    said = saying(run)
    measured = saying(run.ends)
    bare = saying(tuple(end._replace(measures=(), span=run.span) for end in run.ends))
    return tuple(bare if one == measured else one for one in said)
