"""What shows beside what runs, in sentences: a lamp that is dim, a motor that hums."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from wirecheck.language.listing import listed
from wirecheck.troubles.signs import Sign


class Phrase(NamedTuple):
    """A sign as a sentence has it, of one thing and of several, and after "would"."""

    one: str
    several: str
    would: str


PHRASES = {
    "dim": Phrase("is dim", "are dim", "be dim"),
    "bright": Phrase("is too bright", "are too bright", "be too bright"),
    "flicker": Phrase("flickers", "flicker", "flicker"),
    "weak": Phrase("is weak", "are weak", "be weak"),
    "hum": Phrase("hums", "hum", "hum"),
    "slow": Phrase("runs slow", "run slow", "run slow"),
    "low": Phrase("gives low power", "give low power", "give low power"),
    "buzz": Phrase("buzzes", "buzz", "buzz"),
    "warm": Phrase("is warm where wires join", "are warm where wires join", "be warm where wires join"),
    "locked-out": Phrase("shows a lockout", "show a lockout", "show a lockout"),
}


def shown(signs: Iterable[Sign]) -> list[str]:
    """All signs, those that are alike in one clause.

    >>> shown([Sign("L2", "dim"), Sign("B", "hum"), Sign("L1", "dim")])
    ['L1 and L2 are dim', 'B hums']
    """
    names: dict[str, list[str]] = {}
    for sign in sorted(signs):
        names.setdefault(sign.word, []).append(sign.name)
    told = []
    for word, phrase in PHRASES.items():
        if word in names:
            verb = phrase.one if len(names[word]) == 1 else phrase.several
            told.append(f"{listed(names[word])} {verb}")
    return told
