"""Several names in one sentence: commas between them, and "and" before the last."""

from __future__ import annotations

from collections.abc import Iterable


def listed(names: Iterable[str], most: int | None = None) -> str:
    """Names as a sentence lists them.

    Parameters
    ----------
    names : what is listed, in order.
    most : after so many only how many more there are. Where that is one, its name takes no more room.

    Examples
    --------
    >>> listed(["S1"]), listed(["S1", "S2"]), listed(["S1", "S2", "S3"])
    ('S1', 'S1 and S2', 'S1, S2 and S3')
    >>> listed(["S1", "S2", "S3", "S4"], most=3), listed(["S1", "S2", "S3", "S4"], most=2)
    ('S1, S2, S3 and S4', 'S1, S2 and 2 more')
    """
    said = list(names)
    if most is not None and len(said) > most + 1:
        said = [*said[:most], f"{len(said) - most} more"]
    return " and ".join([", ".join(said[:-1]), said[-1]]) if len(said) > 1 else "".join(said)
