"""Every two screws of a box changed about on an electric furnace, each against a machine typed here.

The oracle shares no code with the checker. It is copper, by which screws hang together; two legs and the 24
V that they make; and a sequencer whose small heater closes one contact and then the other, and opens them
in the other order. What it makes of each call, of its end and of each limit is held to what the right board
does.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

import pytest

from tests.boards.copper import exchanged, felt, joined, merged, pieces
from tests.boards.held import held
from wirecheck import files

RIGHT = (files.folder("boards") / "furnace-on-a-sequencer" / "right.wire").read_text(encoding="utf-8")
LEGS: dict[str, complex] = {"TP.4.a": 120, "TP.4.b": -120, "TP.ground": 0}
DISCONNECT = (("D.line-1", "D.load-1"), ("D.line-2", "D.load-2"))
LIMITS = {"LS1": ("LS1.a", "LS1.b"), "LS2": ("LS2.a", "LS2.b")}
SEQUENCER = {"first": ("SQ.m1", "SQ.m2"), "second": ("SQ.m3", "SQ.m4")}
RELAY = ("FR.common", "FR.no", "FR.nc")
AT_240 = {
    "transformer": ("T1.primary-hot", "T1.primary-neutral"),
    "low": ("BL.low-tap", "BL.b"),
    "high": ("BL.high-tap", "BL.b"),
    "H1": ("H1.a", "H1.b"),
    "H2": ("H2.a", "H2.b"),
}
AT_24 = {
    "warmer": ("SQ.heater-a", "SQ.heater-b"),
    "relay": ("FR.coil-a", "FR.coil-b"),
    "display": ("TS.R", "TS.C"),
}
SECONDARY = ("T1.secondary-r", "T1.secondary-c")
CALLS = {"heat": ("TS.R", "TS.W"), "fan": ("TS.R", "TS.G")}
IN_THE_PANEL = tuple(
    dict.fromkeys(
        itertools.chain(
            *DISCONNECT,
            *LIMITS.values(),
            *SEQUENCER.values(),
            RELAY,
            *AT_240.values(),
            SECONDARY,
            *tuple(AT_24.values())[:2],
        )
    )
)
AT_THE_THERMOSTAT = ("TS.R", "TS.C", "TS.W", "TS.Y", "TS.G")


class Furnace:
    """The board's copper, its transformer and its sequencer."""

    def __init__(self, text: str) -> None:
        self.joins = pieces(map(set, joined(text)))
        self.closed = dict.fromkeys((*LIMITS, "D"), True) | dict.fromkeys((*SEQUENCER, *CALLS), False)
        self.on: frozenset[str] = frozenset()

    def settle(self) -> object:
        """Let the relay move until it rests: what works, and what gets volts that it is not made for."""
        for _ in range(6):
            piece = self._pieces()
            power = felt(piece, LEGS, AT_240 | AT_24)
            secondary = [piece[side] for side in SECONDARY if side in piece]
            if not power or len({*secondary}) < 2:
                return "short"
            if any(piece.get(end) in secondary for end in (*LEGS, *itertools.chain(*AT_240.values()))):
                return "24 V on the power"
            fed = power["transformer"] > 230
            control: dict[str, float] = dict.fromkeys(AT_24, 0.0)
            if fed:
                control = felt(piece, dict(zip(SECONDARY, (24, 0), strict=True)), AT_24)
            works = {load for load in AT_240 if power[load] > 230} | {
                load for load in AT_24 if control[load] > 22
            }
            odd = {load for load in AT_240 if 5 < power[load] <= 230} | {
                load for load in AT_24 if power[load] > 5
            }
            odd |= {load for load in AT_24 if 2 < control[load] <= 22}
            on = frozenset(works)
            if on == self.on:
                return on, frozenset(odd)
            self.on = on
        return "never rests"

    def run(self) -> Iterator[object]:
        """What works as each contact of the sequencer follows its heater."""
        yield self.settle()
        order = tuple(SEQUENCER) if "warmer" in self.on else tuple(SEQUENCER)[::-1]
        for contact in order:
            self.closed[contact] = "warmer" in self.on
            yield self.settle()

    def _pieces(self) -> dict[str, int]:
        closed = LIMITS | SEQUENCER | CALLS
        sets = [*self.joins, *({*closed[name]} for name in closed if self.closed[name])]
        sets += [{*pole} for pole in DISCONNECT if self.closed["D"]]
        sets.append({"FR.common", "FR.no" if "relay" in self.on else "FR.nc"})
        return merged(sets)


def does(text: str) -> Iterator[object]:
    """What it does in turn: at rest, in each call and at its end, in both, and with what opens."""
    furnace = Furnace(text)
    for called in ((), ("heat",), (), ("fan",), ("heat", "fan"), ("heat",), ("heat", "fan"), ("fan",), ()):
        furnace.closed |= {call: call in called for call in CALLS}
        yield from furnace.run()
    for opened in ("LS1", "LS2", "D"):
        furnace = Furnace(text)
        furnace.closed["heat"] = True
        list(furnace.run())
        furnace.closed[opened] = False
        yield furnace.settle()


def test_the_right_board_does_what_a_furnace_does() -> None:
    told = list(does(RIGHT))
    assert not any(one[1] for one in told if isinstance(one, tuple))
    rest, heats = {"display", "transformer"}, {"display", "transformer", "warmer"}
    fan = rest | {"relay", "high"}
    both = heats | {"relay", "high"}
    assert [one[0] if isinstance(one, tuple) else one for one in told] == [
        *(rest, rest, rest),
        *(heats, heats | {"low"}, heats | {"low", "H1", "H2"}),
        *(rest | {"low", "H1", "H2"}, rest | {"low"}, rest),
        *(fan, fan, fan),
        *(both, both, both | {"H1", "H2"}),
        *([heats | {"low", "H1", "H2"}] * 3),
        *([both | {"H1", "H2"}] * 3),
        *(fan | {"H1", "H2"}, fan, fan),
        *(rest, rest, rest),
        heats | {"low", "H2"},
        heats | {"low", "H1"},
        set(),
    ]


EXCHANGES = [*itertools.combinations(IN_THE_PANEL, 2), *itertools.combinations(AT_THE_THERMOSTAT, 2)]
# Two leads under one screw where one was: found, though all of it runs.
CROWDED = {("D.load-2", "BL.b"), ("FR.common", "BL.b"), ("BL.b", "H1.b"), ("BL.b", "H2.b")}
# The transformer's two sides of 24 V the other way round: it works so, and the letters say otherwise.
TURNED = {("T1.secondary-r", "T1.secondary-c")}
FOUND = dict.fromkeys(CROWDED, "terminal-crowding") | dict.fromkeys(TURNED, "call-crosstalk")
# One element behind both limits, the other behind its own: each limit stops what its line asks for, and one
# of them the other element too, which no line of the board forbids.
PASSED = {("SQ.m4", "H1.a"), ("SQ.m4", "H2.a")}
DOES = list(does(RIGHT))


@pytest.mark.slow
@pytest.mark.parametrize(("one", "other"), EXCHANGES)
def test_the_checker_finds_what_the_machine_feels(one: str, other: str) -> None:
    text = exchanged(RIGHT, one, other)
    same = list(does(text)) == DOES
    held(text, same, FOUND.get((one, other), ""), passed=(one, other) in PASSED)
