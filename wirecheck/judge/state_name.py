"""What a state is called: which switches are moved in it, and which calls are made."""

from __future__ import annotations

from typing import NamedTuple

from wirecheck.language.quantity import shown


class StateName(NamedTuple):
    """The switches that do not stand where they rest, each with its position, and the calls made.

    `after` are the seconds since the last call was made; None for when all of it has had its time.
    """

    moved: tuple[tuple[str, str], ...] = ()
    calls: tuple[str, ...] = ()
    after: float | None = None

    def words(self, most: int | None = None) -> str:
        """The state in words; of more than `most` and one more that are moved, only the first are named.

        >>> StateName().words(), StateName((("S1", "down"),), ("heat",)).words()
        ('at rest', 'S1 down and heat called')
        >>> StateName(calls=("heat",), after=35.0).words()
        'heat called, after 35 s'
        >>> StateName(tuple((f"S{number}", "off") for number in range(1, 6))).words(most=3)
        'S1 off and S2 off and S3 off and 2 more moved'
        """
        told = [f"{name} {position}" for name, position in self.moved]
        if most is not None and len(told) > most + 1:
            told = [*told[:most], f"{len(told) - most} more moved"]
        told += (f"{call} called" for call in self.calls)
        moment = "" if self.after is None else f", after {shown(self.after, 'time')}"
        return f"{' and '.join(told) or 'at rest'}{moment}"

    def when(self) -> str:
        """The state as a sentence has it.

        >>> StateName().when(), StateName(calls=("heat",)).when()
        ('at rest', 'with heat called')
        """
        return f"with {self.words()}" if self.moved or self.calls else self.words()
