"""Names and sentences as a text has them: one, two or many, or no more than it has room for."""

from __future__ import annotations

from collections.abc import Iterable, Sequence


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


def either(names: Sequence[str]) -> str:
    """Names of which a sentence means any one.

    >>> either(["S1"]), either(["S1", "S2"]), either(["S1", "S2", "S3"])
    ('S1', 'S1 or S2', 'S1, S2 or S3')
    """
    return " or ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)


def first_sentence(text: str) -> str:
    """The first sentence of some.

    >>> first_sentence("L1 never comes on. Its path ends at 2.5 A."), first_sentence("R1 is live")
    ('L1 never comes on.', 'R1 is live')
    """
    first, stop, _ = text.partition(". ")
    return first + stop.strip()
