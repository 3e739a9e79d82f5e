"""Part files and boards with one of their numbers spoiled, and small boards on which a part stands."""

from __future__ import annotations

import re
from collections.abc import Iterator

from tests.parts.hookups import HOOKUPS, SUPPLY
from tests.parts.shelf import SHIPPED
from wirecheck import files
from wirecheck.model.places import WRITTEN
from wirecheck.parts.library import Library
from wirecheck.parts.part import Part

BAD = ("0", "0.000000000000001", "99999999", "-1", "1" + "0" * 300, "nan")
"""What a number is replaced by."""

_NUMBER = re.compile(r"(?<![\w.\"/-])\d+(?:\.\d+)?(?![\w./-])(?=[^\"]*(?:\"[^\"]*\"[^\"]*)*$)")


def spoiled(text: str) -> Iterator[tuple[int, str, str]]:
    """A text with each number of its statements replaced in turn: (line, what by, text)."""
    lines = text.split("\n")
    for row, line in enumerate(lines):
        code = line.partition("#")[0]
        for match in _NUMBER.finditer(code):
            for bad in BAD:
                changed = line[: match.start()] + bad + line[match.end() :]
                yield row + 1, bad, "\n".join([*lines[:row], changed, *lines[row + 1 :]])


def with_part(name: str, text: str) -> Library:
    """The shipped parts, one of them by another text."""

    def text_of(wanted: str) -> str | None:
        return text if wanted == name else files.part_text(wanted)

    return Library(text_of, files.part_names)


def board_of(name: str) -> str:
    """A small board on which a shipped part stands, fed on every terminal as its role asks."""
    if name in HOOKUPS:
        return SUPPLY + HOOKUPS[name]
    part = SHIPPED.part(name)
    if part is None or name in WRITTEN:
        return (
            SUPPLY + "breaker LP.1 15 A\nbreaker LP.3 15 A gfci\nbreaker LP.5 15 A afci\n"
            "box B square 30.3 cu in metal\ncable W1 14/2 NM-B 9 ft from LP to B\nX is lampholder in B\n"
            "at LP\n  W1.black -- LP.1\n  W1.white -- LP.neutral\n  W1.bare -- LP.ground\n"
            "at B\n  W1.black -- X.hot\n  W1.white -- X.neutral\n  W1.bare -- X.ground -- B.ground\n"
        )
    return "".join(_hooked_up(name, part))


def _hooked_up(name: str, part: Part) -> Iterator[str]:
    yield SUPPLY + "breaker LP.1 20 A 2-pole\nbreaker LP.2 15 A\n"
    yield f"X is {name}\nT is class-2-transformer\n"
    yield "wire H 14 THHN black 9 ft from LP to T\nwire N 14 THHN white 9 ft from LP to T\n"
    yield "at LP\n  H -- LP.2\n  N -- LP.neutral\nat T\n  H -- T.primary-hot\n  N -- T.primary-neutral\n"
    hots = 0
    for number, (screw, spec) in enumerate(part.terminals.items()):
        start, there = "LP", "LP.neutral"
        if spec.role in ("hot", "line") or (spec.role == "contact" and hots < 2):
            there = f"LP.1.{'ab'[hots % 2]}"
            hots += 1
        elif spec.role == "ground":
            there = "LP.ground"
        elif spec.role == "switched":
            # A lamp on the switched leg.
            yield f"L{number} is lampholder\n"
            yield f"wire W{number} 14 THHN black 9 ft from X to L{number}\n"
            yield f"wire V{number} 14 THHN white 9 ft from LP to L{number}\n"
            yield f"at X\n  W{number} -- X.{screw}\nat L{number}\n  W{number} -- L{number}.hot\n"
            yield f"  V{number} -- L{number}.neutral\nat LP\n  V{number} -- LP.neutral\n"
            continue
        elif spec.role.startswith("class-2"):
            start, there = "T", "T.secondary-c" if spec.role.endswith("common") else "T.secondary-r"
        yield f"wire W{number} 14 THHN black 9 ft from {start} to X\n"
        yield f"at {start}\n  W{number} -- {there}\nat X\n  W{number} -- X.{screw}\n"
