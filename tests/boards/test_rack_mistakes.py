"""Every two screws of a box changed about on a rack's compressor, each against a machine typed here.

The oracle shares no code with the checker. It is copper, by which screws hang together, three legs and a
neutral, and a refrigerant circuit of which liquid raises the suction and a compressor without it pumps it
down. What it makes of a call, of its end and of each safety is held to what the right board does, with
which way the compressor turns, what the fuses have in them, and what is live while nothing runs.
"""

from __future__ import annotations

import cmath
import itertools
from collections.abc import Iterator

import pytest

from tests.boards.copper import exchanged, felt, joined, merged, pieces
from tests.boards.held import held
from wirecheck import files

RIGHT = (files.folder("boards") / "rack-compressor" / "right.wire").read_text(encoding="utf-8")
LEGS = {f"SP.1.{leg}": cmath.rect(120, -turn * 2 * cmath.pi / 3) for turn, leg in enumerate("abc")}
SOURCES = {**LEGS, "SP.neutral": 0j, "SP.ground": 0j}
CONTACTS = {name: (f"{name}.a", f"{name}.b") for name in ("TH", "HP", "LPC", "OP")}
CONTACTS["F1"] = ("F1.line", "F1.load")
FUSES = tuple((f"D.line-{pole}", f"D.load-{pole}") for pole in "123")
POLES = tuple((f"C.L{pole}", f"C.T{pole}") for pole in "123")
SPARE = (("C.13", "C.14"), ("C.21", "C.22"))
LINES = ("COMP.T1", "COMP.T2", "COMP.T3")
LOADS = {"C": ("C.A1", "C.A2"), "LLS": ("LLS.a", "LLS.b")}
FRAMES = ("COMP.ground", "LLS.ground")
ENDS = (*itertools.chain(*CONTACTS.values(), *POLES, *SPARE, *LOADS.values()), *LINES, *FRAMES)
AT_THE_DISCONNECT = (*itertools.chain(*FUSES), "D.ground")
# In this order and in these two others it turns forward.
FORWARD = ((0, 1, 2), (1, 2, 0), (2, 0, 1))


class Rack:
    """The board's copper and its refrigerant."""

    def __init__(self, text: str) -> None:
        self.joins = pieces(map(set, joined(text)))
        self.closed = {"TH": False, "HP": True, "LPC": False, "OP": True, "F1": True, "D": True}
        self.pulled = False
        self.on: frozenset[str] = frozenset()
        self.turns = "stands"

    def settle(self, pressed: bool = False) -> object:
        """Let the contactor move until it rests, or hold it in: what runs, and what gets too few volts."""
        for _ in range(6):
            piece = self.pieces()
            if len({piece[leg] for leg in LEGS} | {piece["SP.neutral"]}) < 4:
                return "short"
            if any(piece[leg] == piece["SP.ground"] for leg in LEGS):
                return "earthed"
            legs = [piece[leg] for leg in LEGS]
            lines = [piece.get(line) for line in LINES]
            there = [legs.index(one) if one in legs else None for one in lines]
            volts = felt(piece, SOURCES, LOADS | {line: (line, "its middle") for line in LINES})
            self.turns = ("stands", "stands", "hums", "forward")[len({*there} - {None})]
            if self.turns == "forward" and tuple(there) not in FORWARD:
                self.turns = "backward"
            self.on = frozenset(load for load in LOADS if 110 < volts[load] < 130)
            if pressed or self.pulled == ("C" in self.on):
                odd = frozenset(load for load in LOADS if volts[load] > 5 and load not in self.on)
                return self.on, self.turns, odd, self._live(piece)
            self.pulled = "C" in self.on
        return "never rests"

    def run(self) -> object:
        """Let the pressure follow until it rests."""
        for _ in range(6):
            told = self.settle()
            pressure = self.closed["LPC"]
            if isinstance(told, str):
                return told
            if "LLS" in self.on:
                pressure = True
            elif self.turns == "forward":
                pressure = False
            if pressure == self.closed["LPC"]:
                return told
            self.closed["LPC"] = pressure
        return "never rests"

    def earthed(self) -> bool:
        """Each frame, by its fasteners in the metal box where no wire is on it; no neutral on the ground."""
        piece = self.pieces()
        ground = piece["SP.ground"]
        frames = {piece.get(frame, ground) for frame in FRAMES} | {piece.get("D.ground")}
        return frames == {ground} and ground != piece["SP.neutral"]

    def _live(self, piece: dict[str, int]) -> frozenset[str]:
        """Loads of one leg that it comes to. A line of the compressor may stay live (430.84)."""
        legs = {piece[leg] for leg in LEGS}
        return frozenset(load for load, ends in LOADS.items() if any(piece.get(end) in legs for end in ends))

    def pieces(self) -> dict[str, int]:
        sets = [*self.joins, {"its middle"}]
        sets += [{*CONTACTS[name]} for name, closed in self.closed.items() if closed and name in CONTACTS]
        sets += [{*pole} for pole in (*POLES, SPARE[0]) if self.pulled] or [{*SPARE[1]}]
        sets += [{*fuse} for fuse in FUSES if self.closed["D"]]
        return merged(sets)


def does(text: str) -> Iterator[object]:
    """What it does in turn: at rest, in a call, at its end, and with what opens."""
    rack = Rack(text)
    yield rack.earthed()
    for called in (False, True, False):
        rack.closed["TH"] = called
        yield rack.settle()
        yield rack.run()
    for opened in ("HP", "OP", "F1"):
        rack = Rack(text)
        rack.closed["TH"] = True
        rack.run()
        rack.closed[opened] = False
        yield rack.settle()
    # Of the compressor nothing comes through the control's fuse, nor do its lines through another contact.
    for opened in ("F1", "HP", "OP", "LPC", "TH"):
        rack = Rack(text)
        rack.closed.update({"TH": True, "LPC": True, opened: False})
        rack.pulled = True
        told = rack.settle(pressed=True)
        yield told[1] if isinstance(told, tuple) else told
    # With its fuses out the board is dead. The fuses come after the blades: their side is the load's.
    rack = Rack(text)
    rack.closed["D"] = False
    yield rack.settle()
    piece = rack.pieces()
    yield [piece.get(f"D.line-{pole}") in {piece[leg] for leg in LEGS} for pole in "123"]


def test_the_right_board_does_what_a_rack_does() -> None:
    earthed, *told, fed = does(RIGHT)
    assert earthed is True
    assert fed == [True, True, True]
    assert [(sorted(one[0]), one[1]) if isinstance(one, tuple) else one for one in told] == [
        ([], "stands"),
        ([], "stands"),
        (["LLS"], "stands"),
        (["C", "LLS"], "forward"),
        (["C"], "forward"),
        ([], "stands"),
        (["LLS"], "stands"),
        (["LLS"], "stands"),
        ([], "stands"),
        *(["forward"] * 5),
        ([], "stands"),
    ]
    assert not any(one[2] for one in told if isinstance(one, tuple))


EXCHANGES = [*itertools.combinations(ENDS, 2), *itertools.combinations(AT_THE_DISCONNECT, 2)]
DOES = list(does(RIGHT))


@pytest.mark.slow
@pytest.mark.parametrize(("one", "other"), EXCHANGES)
def test_the_checker_finds_what_the_machine_feels(one: str, other: str) -> None:
    text = exchanged(RIGHT, one, other)
    same = list(does(text)) == DOES
    held(text, same)
