"""What the server has seen of who works on what, for the instructor: kept in memory alone, and bounded."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import NamedTuple

MOST_SEEN = 300
"""The most students and machines that are kept: of more, who asked longest ago is left out."""
MOST_FOUND = 50
"""The most findings of one board that are kept."""
FORGOTTEN = 2 * 3600.0
"""The seconds after which it does not matter any more where somebody was."""
STAYS = 120.0
"""The seconds for which a finding is on a board that somebody works on before she counts as stuck."""


class Noted(NamedTuple):
    """A finding: its rule, what it is about, and what it says."""

    rule: str
    subject: str
    says: str


class Where(NamedTuple):
    """Where somebody is.

    Attributes
    ----------
    who : her name, or the address of a machine from which nobody has handed in
    doing : "board", "exercise" or "ticket"
    file, title : of what
    since, at : when she began with it, and when she last asked something
    found : what is found in it, and since when
    last : how her ticket stands, or what was last handed in
    """

    who: str
    doing: str
    file: str
    title: str
    since: float
    at: float
    found: dict[Noted, float]
    last: str = ""


class Stuck(NamedTuple):
    """A rule on which somebody is stuck: who, on what, and for how many seconds."""

    rule: str
    who: tuple[tuple[str, Noted, float], ...]


class Seen:
    """Where everybody is.

    Parameters
    ----------
    clock : tells the seconds
    """

    def __init__(self, clock: Callable[[], float]) -> None:
        self._clock = clock
        self._where: dict[str, Where] = {}
        self._ended: dict[str, str] = {}

    def board(self, who: str, doing: str, file: str, title: str, found: Iterable[Noted]) -> None:
        """Somebody's board was checked: what is found again is there since it was first found."""
        before = self._of(who, doing, file, title)
        noted = dict.fromkeys(found, before.at)
        kept = list(noted)[:MOST_FOUND]
        self._where[who] = before._replace(
            title=title, found={one: before.found.get(one, before.at) for one in kept}
        )

    def ticket(self, who: str, file: str, number: str, steps: int, points: int | None) -> None:
        """Something was asked on a ticket. As it ended first, so it stands."""
        told = f"{steps} asked so far" if points is None else f"{points} points, {steps} asked"
        if points is not None:
            while len(self._ended) >= MOST_SEEN:
                del self._ended[next(iter(self._ended))]
            told = self._ended.setdefault(number, told)
        self._where[who] = self._of(who, "ticket", file, file)._replace(last=told)

    def handed_in(self, who: str, file: str, title: str, score: str, machine: str = "") -> None:
        """Somebody handed in: what was seen of her machine while she had no name is hers."""
        nameless = self._where.get(machine)
        mine = nameless is not None and (nameless.doing, nameless.file) == ("exercise", file)
        if nameless is not None and mine and who not in self._where:
            del self._where[machine]
            self._where[who] = nameless._replace(who=who)
        self._where[who] = self._of(who, "exercise", file, title)._replace(last=f"handed in: {score}")

    def now(self) -> tuple[Where, ...]:
        """Where everybody is, by name."""
        known = (one for one in self._where.values() if self._clock() - one.at < FORGOTTEN)
        return tuple(sorted(known, key=lambda one: one.who.casefold()))

    def stuck(self) -> tuple[Stuck, ...]:
        """What stays on boards that are worked on, that of most first."""
        rules: dict[str, list[tuple[str, Noted, float]]] = {}
        for one in self.now():
            longest: dict[str, tuple[str, Noted, float]] = {}
            for noted, since in one.found.items():
                stays = one.at - since
                if stays >= STAYS and stays > longest.get(noted.rule, ("", noted, 0.0))[2]:
                    longest[noted.rule] = (one.who, noted, stays)
            for rule, who in longest.items():
                rules.setdefault(rule, []).append(who)
        order = sorted(rules, key=lambda rule: (-len(rules[rule]), rule))
        return tuple(Stuck(rule, tuple(rules[rule])) for rule in order)

    def clock(self) -> float:
        """The seconds now."""
        return self._clock()

    def _of(self, who: str, doing: str, file: str, title: str) -> Where:
        """Where somebody was, if it is there still; as the newest of all."""
        now = self._clock()
        known = self._where.pop(who, None)
        while len(self._where) >= MOST_SEEN:
            del self._where[next(iter(self._where))]
        if known is None or (known.doing, known.file) != (doing, file):
            return Where(who, doing, file, title, now, now, {})
        return known._replace(at=now)
