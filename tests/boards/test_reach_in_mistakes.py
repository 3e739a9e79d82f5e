"""Every two screws of a reach-in cooler changed about, each screw left off: against a machine typed here.

The oracle shares no code with the checker. It is copper, by which screws hang together, and a compressor of
three leads: its main winding draws through the start relay and the relay closes, its start winding then turns
the rotor, and the relay lets go. What it makes of a call, of its end and of the open protector is held to
what the right board does, with what is live while nothing runs.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

import pytest

from tests.boards.copper import exchanged, joined, merged
from tests.boards.held import held
from wirecheck import files

RIGHT = (files.folder("boards") / "reach-in-cooler" / "right.wire").read_text(encoding="utf-8")
FANS = {"CF": ("CF.a", "CF.b"), "EF": ("EF.a", "EF.b")}
ENDS = (
    *("TH.1", "TH.2", "OP.1", "OP.3", "CR.L", "CR.M", "CR.S", "SC.a", "SC.b"),
    *("CP.C", "CP.R", "CP.S", "CF.a", "CF.b", "EF.a", "EF.b"),
)
HOT, NEUTRAL = "LP.5", "LP.neutral"
# Two sides that are alike: of a fan, of a contact, of a capacitor.
LEADS = ("CP.", "CF.", "EF.")


class Cooler:
    """The copper of a board, and its compressor."""

    def __init__(self, text: str) -> None:
        # A wire's name stands for both of its ends: there is one cable, from the panel to the cabinet.
        self.joins = joined(text)

    def pieces(self, pairs: list[tuple[str, str]]) -> dict[str, int]:
        return merged([*map(set, self.joins), *map(set, pairs)])

    def run(self, called: bool, protected: bool = True) -> tuple[object, ...]:
        """What runs in the end, what the start winding does, and which screws are live."""
        closed = [("TH.1", "TH.2")] if called else []
        closed += [("OP.1", "OP.3")] if protected else []
        relay: list[tuple[str, str]] = [("CR.L", "CR.M")]
        standing = self.pieces([*closed, *relay])
        # The main winding draws through the relay's coil: the relay closes on that.
        main = self._between(standing, "CP.C", "CP.R")
        coil = self.pieces(closed)
        by_coil = main and not self._between(coil, "CP.C", "CP.R")
        starting = self.pieces([*closed, *relay, *([("CR.L", "CR.S")] if by_coil else []), ("SC.a", "SC.b")])
        helped = self._between(starting, "CP.C", "CP.S")
        bare = self._between(self.pieces([*closed, *relay, ("CR.L", "CR.S")]), "CP.C", "CP.S")
        after = self.pieces([*closed, *relay, ("SC.a", "SC.b")])
        stays = self._between(after, "CP.C", "CP.S")
        fans = tuple(name for name, ends in FANS.items() if self._between(after, *ends))
        live = frozenset(end for end in ENDS if after.get(end, -1) == after[HOT])
        shorted = any(one[HOT] == one[NEUTRAL] for one in (standing, starting, after) if HOT in one)
        earthed = any(one[HOT] == one["LP.ground"] for one in (standing, starting, after))
        return fans, main, by_coil, helped, bare, stays, len(live & {"CP.C", "CP.R"}), shorted or earthed

    def _between(self, piece: dict[str, int], a: str, b: str) -> bool:
        return {piece.get(a, -1), piece.get(b, -2)} == {piece[HOT], piece[NEUTRAL]}


def does(text: str) -> Iterator[object]:
    """What it does at rest, with a call, and with the protector open."""
    cooler = Cooler(text)
    yield cooler.run(called=False)
    yield cooler.run(called=True)
    # Whether the fan stops with it is nobody's matter.
    yield cooler.run(called=True, protected=False)[1:]


def test_the_right_board_does_what_a_reach_in_does() -> None:
    rest, called, opened = does(RIGHT)
    assert rest == (("EF",), False, False, False, False, False, 0, False)
    assert called == (("CF", "EF"), True, True, True, False, False, 1, False)
    assert opened == (False, False, False, False, False, 0, False)


def left_off(text: str, screw: str) -> str:
    """The board with nothing on one screw."""
    lines = []
    for line in text.splitlines():
        members = [one for one in line.strip().split(" -- ") if one != screw]
        if " -- " in line and "#" not in line and len(members) < len(line.strip().split(" -- ")):
            while members and members[-1] == "pigtail":
                members.pop()
            line = "  " + " -- ".join(members) if len(members) > 1 else ""
        lines.append(line)
    return "\n".join(lines) + "\n"


MISTAKES = [
    *((f"{one} and {other}", exchanged(RIGHT, one, other)) for one, other in itertools.combinations(ENDS, 2)),
    *((f"no {one}", left_off(RIGHT, one)) for one in ENDS),
]
# A wire and a tail under one screw where one was: found, though all of it runs.
CROWDED = {"TH.1 and EF.a", "TH.2 and CF.a", "OP.1 and CF.a"}
DOES = list(does(RIGHT))


@pytest.mark.slow
@pytest.mark.parametrize(("words", "text"), MISTAKES, ids=[words for words, _ in MISTAKES])
def test_the_checker_finds_what_the_cooler_feels(words: str, text: str) -> None:
    same = list(does(text)) == DOES
    held(text, same, "terminal-crowding" if words in CROWDED else "")
