"""Every two screws of a box changed about on a cooler of small parts, each against a machine typed here.

The oracle shares no code with the checker. It is copper, by which screws hang together, and a refrigerant
circuit of three lines: liquid that comes raises the suction, a compressor without liquid pumps it down, and
the low-pressure control follows. What it makes of a call, of its end and of the high pressure is held to what
the right board does.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

import pytest

from tests.boards.copper import exchanged, joined, merged
from tests.boards.held import held
from wirecheck import files

RIGHT = (files.folder("boards") / "pump-down-cooler" / "right.wire").read_text(encoding="utf-8")
# What is wired to what, where each line of the board joins: the ends that a hand may have changed about.
CONTACTS = {"TH": ("TH.a", "TH.b"), "HP": ("HP.a", "HP.b"), "LPC": ("LPC.a", "LPC.b")}
POLES = (("K.line-1", "K.load-1"), ("K.line-2", "K.load-2"))
LOADS = {
    "K": ("K.coil-a", "K.coil-b"),
    "COMP": ("COMP.a", "COMP.b"),
    "CF": ("CF.a", "CF.b"),
    "LLS": ("LLS.a", "LLS.b"),
    "EF": ("EF.a", "EF.b"),
}
ENDS = [*itertools.chain(*CONTACTS.values(), *POLES, *LOADS.values())]
AT_THE_COIL = ("LLS.a", "LLS.b", "EF.a", "EF.b")
HOTS = ("D.load-1", "D.load-2")


class Machine:
    """The board's copper and its refrigerant."""

    def __init__(self, text: str) -> None:
        self.joins = joined(text)
        self.closed = {"TH": False, "HP": True, "LPC": False}
        self.on: frozenset[str] = frozenset()

    def settle(self) -> bool:
        """Let the contactor move until it rests; whether it does, and nothing is shorted."""
        for _ in range(6):
            piece = self._pieces()
            hots = [piece[end] for end in HOTS]
            if hots[0] == hots[1]:
                return False
            on = frozenset(
                name for name, (a, b) in LOADS.items() if {piece.get(a), piece.get(b)} == set(hots)
            )
            if on == self.on:
                return True
            self.on = on
        return False

    def run(self) -> bool:
        """Let the pressure follow until it rests."""
        for _ in range(6):
            if not self.settle():
                return False
            pressure = self.closed["LPC"]
            if "LLS" in self.on:
                pressure = True
            elif "COMP" in self.on:
                pressure = False
            if pressure == self.closed["LPC"]:
                return True
            self.closed["LPC"] = pressure
        return False

    def _pieces(self) -> dict[str, int]:
        sets = [set(join) for join in self.joins]
        sets += [{*CONTACTS[name]} for name, closed in self.closed.items() if closed]
        sets += [{*pole} for pole in POLES if "K" in self.on]
        return merged(sets)


def does(text: str) -> Iterator[object]:
    """What runs at rest, with a call, once the pressure has followed, and with the high pressure open."""
    machine = Machine(text)
    for made in (False, True, False):
        machine.closed["TH"] = made
        yield machine.settle() and machine.on
        yield machine.run() and machine.on
    machine.closed["TH"] = True
    machine.run()
    machine.closed["HP"] = False
    yield machine.settle() and machine.on


def test_the_right_board_does_what_a_pump_down_does() -> None:
    assert [sorted(on) if isinstance(on, frozenset) else on for on in does(RIGHT)] == [
        ["EF"],
        ["EF"],
        ["EF", "LLS"],
        ["CF", "COMP", "EF", "K", "LLS"],
        ["CF", "COMP", "EF", "K"],
        ["EF"],
        ["EF", "LLS"],
    ]


EXCHANGES = [
    pair for pair in itertools.combinations(ENDS, 2) if len({end in AT_THE_COIL for end in pair}) == 1
]
# Two leads under one screw where one was: found, though all of it runs.
CROWDED = {("K.load-1", "COMP.a"), ("K.load-2", "COMP.b")}
DOES = list(does(RIGHT))


@pytest.mark.parametrize(
    ("one", "other"),
    [pytest.param(*pair, marks=[pytest.mark.slow] * (at > 0)) for at, pair in enumerate(EXCHANGES)],
)
def test_the_checker_finds_what_the_machine_feels(one: str, other: str) -> None:
    text = exchanged(RIGHT, one, other)
    same = list(does(text)) == DOES
    held(text, same, only="terminal-crowding" if (one, other) in CROWDED else "")
