"""Every two screws of a water chiller changed about, each against a machine typed here.

The oracle shares no code with the checker. It is copper, by which screws hang together, three legs and a
neutral, and water that runs while the pump does and closes the flow switch. What it makes of a call, its end
and each safety is held to what the right board does, with which way the compressor turns.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

import pytest

from tests.boards.copper import exchanged, joined
from tests.boards.held import held
from wirecheck import files

RIGHT = (files.folder("boards") / "water-chiller" / "right.wire").read_text(encoding="utf-8")
CONTACTS = {"TH": ("TH.a", "TH.b"), "FS": ("FS.a", "FS.b"), "HP": ("HP.a", "HP.b"), "LP": ("LP.a", "LP.b")}
FUSE = ("F1.line", "F1.load")
POLES = tuple((f"C.L{pole}", f"C.T{pole}") for pole in "123")
LINES = ("COMP.T1", "COMP.T2", "COMP.T3")
PUMP, COIL = ("P1.hot", "P1.neutral"), ("C.A1", "C.A2")
LEGS = ("D.load-1", "D.load-2", "D.load-3")
NEUTRAL = "AN"
ENDS = (*itertools.chain(*CONTACTS.values(), *POLES), *FUSE, *LINES, *PUMP, *COIL)
# In this order and in these two others it turns forward.
FORWARD = ((0, 1, 2), (1, 2, 0), (2, 0, 1))


class Chiller:
    """The board's copper, and its water."""

    def __init__(self, text: str) -> None:
        self.joins = joined(text)
        self.closed = {"TH": False, "FS": False, "HP": True, "LP": True}
        self.pulled = False

    def settle(self, called: bool, opened: str = "") -> object:
        """What runs once contactor and water rest, what is live, and whether the fuse has the compressor.

        `opened` is a safety that is held open. A short, where two legs or a leg and the neutral meet. A line
        of the compressor may stay live: a contactor need not open every hot (430.84).
        """
        for _ in range(8):
            self.closed["TH"] = called
            piece = self._pieces(opened)
            sources = [piece[one] for one in (*LEGS, NEUTRAL)]
            if len(set(sources)) < len(sources):
                return "short"
            pump, coil = (self._volts(piece, *ends) for ends in (PUMP, COIL))
            lines = tuple(sources.index(piece[end]) if piece[end] in sources else None for end in LINES)
            stood = (self.pulled, self.closed["FS"])
            self.pulled = coil == "120 V"
            self.closed["FS"] = pump == "120 V"
            if stood == (self.pulled, self.closed["FS"]):
                live = [piece[end] in sources[:3] for end in PUMP]
                live.append(any(piece[end] in sources[:3] for end in COIL))
                there = sum(line is not None for line in lines)
                turns = ("stands", "stands", "hums", "forward")[there]
                if turns == "forward" and lines not in FORWARD:
                    turns = "backward"
                bare = self._pieces(opened, fused=False)
                blows = [bare[end] for end in LEGS] + [bare[NEUTRAL]]
                through = any(
                    line is not None and bare[end] not in blows
                    for line, end in zip(lines, LINES, strict=True)
                )
                return pump, coil, turns, live, through
        return "never rests"

    def _volts(self, piece: dict[str, int], hot: str, neutral: str) -> str:
        legs = [piece[one] for one in LEGS]
        ends = (piece[hot], piece[neutral])
        if ends[0] == ends[1] or not set(ends) <= {*legs, piece[NEUTRAL]}:
            return "0 V"
        return "120 V" if piece[NEUTRAL] in ends else "208 V"

    def _pieces(self, opened: str, fused: bool = True) -> dict[str, int]:
        sets = [set(join) for join in self.joins]
        sets += [{*CONTACTS[name]} for name, closed in self.closed.items() if closed and name != opened]
        sets += [*([{*FUSE}] if fused else []), *({*pole} for pole in POLES if self.pulled)]
        merged: list[set[str]] = []
        for one in sets:
            apart = []
            for other in merged:
                if one & other:
                    one = one | other
                else:
                    apart.append(other)
            merged = [*apart, one]
        return {name: at for at, one in enumerate(merged) for name in one}


def does(text: str) -> Iterator[object]:
    """What it does at rest, with a call, once that ends, and with a call and each safety open."""
    machine = Chiller(text)
    for called in (False, True, False):
        yield machine.settle(called)
    for safety in ("FS", "HP", "LP"):
        machine = Chiller(text)
        machine.settle(True)
        yield machine.settle(True, safety)


def test_the_right_board_does_what_a_chiller_does() -> None:
    told = [one[:3] if isinstance(one, tuple) else one for one in does(RIGHT)]
    off, waits = ("0 V", "0 V", "stands"), ("120 V", "0 V", "stands")
    assert told == [off, ("120 V", "120 V", "forward"), off, waits, waits, waits]


EXCHANGES = list(itertools.combinations(ENDS, 2))
DOES = list(does(RIGHT))


@pytest.mark.parametrize(
    ("one", "other"),
    [pytest.param(*pair, marks=[pytest.mark.slow] * (at > 0)) for at, pair in enumerate(EXCHANGES)],
)
def test_the_checker_finds_what_the_machine_feels(one: str, other: str) -> None:
    text = exchanged(RIGHT, one, other)
    same = list(does(text)) == DOES
    held(text, same)
