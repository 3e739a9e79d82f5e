"""Every two screws of a box changed about on a freezer of small parts, each against a machine typed here.

The oracle shares no code with the checker. It is copper, by which screws hang together; a refrigerant
circuit of which liquid raises the suction and a compressor without it pumps it down; a coil that the heater
warms and the compressor chills again; and a clock. What it makes of a call, of its end, of a defrost and of
each safety is held to what the right board does, with what is live once the disconnect is off.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

import pytest

from tests.boards.copper import exchanged, felt, joined, merged, pieces
from tests.boards.held import held
from wirecheck import files

RIGHT = (files.folder("boards") / "timer-defrost" / "right.wire").read_text(encoding="utf-8")
LEGS: dict[str, complex] = {"TP.2.a": 120, "TP.2.b": -120}
DISCONNECT = (("D.line-1", "D.load-1"), ("D.line-2", "D.load-2"))
POLES = (("K.line-1", "K.load-1"), ("K.line-2", "K.load-2"))
CONTACTS = {name: (f"{name}.a", f"{name}.b") for name in ("TH", "HP", "LPC", "HS")}
LOADS = {
    "K": ("K.coil-a", "K.coil-b"),
    "release": ("TM.release", "TM.common"),
    "clock": ("TM.feed", "TM.common"),
    **{name: (f"{name}.a", f"{name}.b") for name in ("COMP", "CF", "LLS", "EF", "HT")},
}
CLOCK = ("TM.feed", "TM.cool", "TM.defrost")
COIL = tuple(f"{name}.{screw}" for name in ("DT", "FD") for screw in ("common", "warm-side", "cold-side"))
ENDS = (*itertools.chain(*DISCONNECT, *POLES, *CONTACTS.values(), *LOADS.values()), *CLOCK, *COIL)
AT_THE_COIL = ("DT", "FD", "HS", "HT", "EF")


class Freezer:
    """The board's copper, its refrigerant, its coil and its clock."""

    def __init__(self, text: str) -> None:
        self.joins = pieces(map(set, joined(text)))
        self.closed = {"TH": False, "HP": True, "LPC": False, "HS": True, "D": True}
        self.defrosts = self.warm = False
        self.on: frozenset[str] = frozenset()

    def settle(self) -> object:
        """Let the contactor move until it rests: the loads at 240 V, and those that get less."""
        for _ in range(6):
            volts = felt(self._pieces(), LEGS, LOADS)
            if not volts:
                return "short"
            on = frozenset(name for name, each in volts.items() if each > 230)
            if on == self.on:
                return on, frozenset(name for name, each in volts.items() if 5 < each <= 230)
            self.on = on
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
            elif "COMP" in self.on:
                pressure = False
            if pressure == self.closed["LPC"]:
                return told
            self.closed["LPC"] = pressure
        return "never rests"

    def live(self) -> frozenset[str]:
        """Every screw that a leg comes to, but for the disconnect's: either side of a pole may be fed."""
        piece = self._pieces()
        legs = {piece[leg] for leg in LEGS}
        return frozenset(end for end in ENDS if piece.get(end) in legs and end[:2] != "D.")

    def _pieces(self) -> dict[str, int]:
        sets = [*self.joins]
        sets += [{*CONTACTS[name]} for name, closed in self.closed.items() if closed and name in CONTACTS]
        sets += [{*pole} for pole in POLES if "K" in self.on]
        sets += [{*pole} for pole in DISCONNECT if self.closed["D"]]
        sets.append({"TM.feed", "TM.defrost" if self.defrosts else "TM.cool"})
        sets += [
            {f"{name}.common", f"{name}.{'warm' if self.warm else 'cold'}-side"} for name in ("DT", "FD")
        ]
        return merged(sets)


def does(text: str) -> Iterator[object]:
    """What it does in turn: at rest, in a call, at its end, in a defrost, after it, and with what opens."""
    freezer = Freezer(text)
    for called in (False, True, False):
        freezer.closed["TH"] = called
        yield freezer.settle()
        yield freezer.run()
    for called in (False, True):
        # The defrost begins, the ice is gone and the clock is told so, the coil is cold again.
        freezer = Freezer(text)
        freezer.closed["TH"] = called
        freezer.run()
        freezer.defrosts = True
        yield freezer.settle()
        yield freezer.run()
        freezer.warm = True
        yield freezer.settle()
        freezer.defrosts = "release" not in freezer.on
        yield freezer.defrosts
        freezer.defrosts = False
        yield freezer.settle()
        yield freezer.run()
        freezer.warm = False
        yield freezer.run()
    for opened, defrosts in (("HP", False), ("HS", True)):
        freezer = Freezer(text)
        freezer.closed["TH"] = True
        freezer.run()
        freezer.defrosts = defrosts
        freezer.run()
        freezer.closed[opened] = False
        yield freezer.settle()
    freezer = Freezer(text)
    freezer.closed["D"] = False
    yield freezer.settle()
    yield freezer.live()


def test_the_right_board_does_what_a_freezer_does() -> None:
    *told, live = does(RIGHT)
    assert live == set()
    # The clock's motor turns it all the time, but with the disconnect open.
    assert ["clock" in one[0] for one in told if isinstance(one, tuple)].count(False) == 1
    assert [sorted(one[0] - {"clock"}) if isinstance(one, tuple) else one for one in told] == [
        ["EF"],
        ["EF"],
        ["EF", "LLS"],
        ["CF", "COMP", "EF", "K", "LLS"],
        ["CF", "COMP", "EF", "K"],
        ["EF"],
        *(["HT"], ["HT"], ["HT", "release"], False, [], [], ["EF"]),
        *(["CF", "COMP", "HT", "K"], ["HT"], ["HT", "release"], False, ["LLS"]),
        *(["CF", "COMP", "K", "LLS"], ["CF", "COMP", "EF", "K", "LLS"]),
        ["EF", "LLS"],
        [],
        [],
    ]
    assert not any(one[1] for one in told if isinstance(one, tuple))


EXCHANGES = [
    pair
    for pair in itertools.combinations(ENDS, 2)
    if len({end.partition(".")[0] in AT_THE_COIL for end in pair}) == 1
]


# Two under one screw where one was: found, though all of it runs.
CROWDED = {("K.load-1", "COMP.a"), ("K.load-2", "COMP.b"), ("EF.b", "HT.b")}
# The clock's coil is fed through the compressor and its fan, whose windings leave it all but a few volts: it
# works, and the checker passes it. A hand would not wire it so.
PASSED = {("TM.common", "CF.b")}
DOES = list(does(RIGHT))


@pytest.mark.slow
@pytest.mark.parametrize(("one", "other"), EXCHANGES)
def test_the_checker_finds_what_the_machine_feels(one: str, other: str) -> None:
    text = exchanged(RIGHT, one, other)
    same = list(does(text)) == DOES
    crowded = "terminal-crowding" if (one, other) in CROWDED else ""
    held(text, same, crowded, passed=(one, other) in PASSED)
