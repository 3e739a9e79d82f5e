"""Every two screws of a box changed about on a blower of two speeds, each against a machine typed here.

The oracle shares no code with the checker. It is copper, by which screws hang together; two legs, the
neutral and the 24 V that they make; two relays, and the contactor in the outdoor unit. What it makes of
each call is held to what the right board does, with what is live while nothing runs, behind the open switch
and behind the disconnect.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

import pytest

from tests.boards.copper import exchanged, felt, joined, merged, pieces
from tests.boards.held import held
from wirecheck import files

RIGHT = (files.folder("boards") / "two-speed-blower" / "right.wire").read_text(encoding="utf-8")
# Rows of a panel take its legs in turn: breaker 5 and the first pole of breaker 6 face each other.
SOURCES: dict[str, complex] = {"TP.5": 120, "TP.6.a": 120, "TP.6.b": -120, "TP.neutral": 0}
DISCONNECT = (("D.line-1", "D.load-1"), ("D.line-2", "D.load-2"))
SWITCH = ("SW.line", "SW.load")
RATED = {"transformer": 120, "low": 120, "high": 120, "unit": 240}
POWER = {
    "transformer": ("T1.primary-hot", "T1.primary-neutral"),
    "low": ("BL.low-tap", "BL.b"),
    "high": ("BL.high-tap", "BL.b"),
    "unit": ("CU.L1", "CU.L2"),
}
CONTROL = {
    "fan relay": ("FR.coil-a", "FR.coil-b"),
    "speed relay": ("SR.coil-a", "SR.coil-b"),
    "contactor": ("CU.Y", "CU.C"),
    "display": ("TS.R", "TS.C"),
}
SECONDARY = ("T1.secondary-r", "T1.secondary-c")
CALLS = {
    "cool": (("TS.R", "TS.Y"), ("TS.R", "TS.G")),
    "fan": (("TS.R", "TS.G"),),
    "heat": (("TS.R", "TS.W"),),
}
BLOWER = ("BL.low-tap", "BL.high-tap", "BL.b")
BOXES = (
    (
        *SWITCH,
        *POWER["transformer"],
        *SECONDARY,
        *("FR.common", "FR.no", "SR.common", "SR.nc", "SR.no"),
        *CONTROL["fan relay"],
        *CONTROL["speed relay"],
        *(*BLOWER, "BL.ground"),
    ),
    (*itertools.chain(*DISCONNECT), "D.ground"),
    ("CU.L1", "CU.L2", "CU.ground", "CU.Y", "CU.C"),
    ("TS.R", "TS.C", "TS.W", "TS.Y", "TS.G"),
)


class Blower:
    """The board's copper, its transformer and its relays."""

    def __init__(self, text: str) -> None:
        self.joins = pieces(map(set, joined(text)))
        self.call = ""
        self.opened = ""
        self.on: frozenset[str] = frozenset()

    def settle(self) -> object:
        """Let the relays move until they rest: what works, what gets other volts, what is live."""
        for _ in range(6):
            piece = self._pieces()
            power = felt(piece, SOURCES, POWER | CONTROL)
            if not power or len({piece[source] for source in SOURCES}) < 4:
                return "short"
            if any(piece[source] == piece["TP.ground"] for source in SOURCES):
                return "earthed"
            secondary = [piece[side] for side in SECONDARY if side in piece]
            if len({*secondary}) < 2:
                return "24 V shorted"
            if any(piece.get(end) in secondary for end in (*SOURCES, *itertools.chain(*POWER.values()))):
                return "24 V on the power"
            works = {load for load, volts in RATED.items() if 0.9 * volts < power[load] < 1.1 * volts}
            odd = {load for load in POWER if power[load] > 5} - works | {
                load for load in CONTROL if power[load] > 5
            }
            if "transformer" in works:
                control = felt(piece, dict(zip(SECONDARY, (24, 0), strict=True)), CONTROL)
                works |= {load for load in CONTROL if control[load] > 22}
                odd |= {load for load in CONTROL if 2 < control[load] <= 22}
            if works == self.on:
                live = [end for end in BLOWER if self._hot(piece, end)]
                grounds = [piece.get(frame) == piece["TP.ground"] for frame in ("D.ground", "CU.ground")]
                frame = piece.get("BL.ground", piece["TP.ground"]) == piece["TP.ground"]
                runs = {"unit", "contactor"} <= works
                return works - {"unit"}, runs, frozenset(odd), live, grounds, frame
            self.on = frozenset(works)
        return "never rests"

    def behind(self) -> list[str]:
        """What a hot comes to on either side, as what is open leaves it."""
        piece = self._pieces()
        told = POWER | {"feed": ("FR.common",)}
        return [name for name, ends in told.items() if any(self._hot(piece, end) for end in ends)]

    def _hot(self, piece: dict[str, int], end: str) -> bool:
        return any(piece.get(end) == piece[leg] for leg in SOURCES if SOURCES[leg])

    def _pieces(self) -> dict[str, int]:
        sets = [*self.joins, *({*pair} for pair in CALLS.get(self.call, ()))]
        sets += [{*SWITCH}] if self.opened != "SW" else []
        sets += [{*pole} for pole in DISCONNECT if self.opened != "D"]
        sets += [{"FR.common", "FR.no"}] if "fan relay" in self.on else []
        sets.append({"SR.common", "SR.no" if "speed relay" in self.on else "SR.nc"})
        return merged(sets)


def does(text: str) -> Iterator[object]:
    """What it does in each call and at its end, and with what opens."""
    blower = Blower(text)
    for call in ("", "fan", "cool", "fan", "", "cool", "", "heat"):
        blower.call = call
        yield blower.settle()
    for opened in ("SW", "D"):
        blower = Blower(text)
        blower.call, blower.opened = "cool", opened
        yield blower.settle()
        yield blower.behind()


def test_the_right_board_does_what_a_blower_does() -> None:
    told = [one[:4] if isinstance(one, tuple) else one for one in does(RIGHT)]
    nothing: frozenset[str] = frozenset()
    rest = {"transformer", "display"}
    low, high = rest | {"fan relay", "low"}, rest | {"fan relay", "speed relay", "contactor", "high"}
    idle = (rest, False, nothing, [])
    fan, cool = (low, False, nothing, ["BL.low-tap"]), (high, True, nothing, ["BL.high-tap"])
    assert told == [
        *(idle, fan, cool, fan, idle, cool, idle, idle),
        *((set(), False, nothing, []), ["unit"]),
        *((high, False, nothing, ["BL.high-tap"]), ["transformer", "high", "feed"]),
    ]


EXCHANGES = list(itertools.chain(*(itertools.combinations(box, 2) for box in BOXES)))
# The transformer's two sides of 24 V the other way round: it works so, and the letters say otherwise.
TURNED = {("T1.secondary-r", "T1.secondary-c")}
# Red and green in each other's place: every call does what it should, since R and G close on each other
# whenever one of them calls. Between calls the thermostat has nothing from the transformer and lives on its
# batteries. The checker has advice on the colors, and no more.
PASSED = {("T1.secondary-r", "FR.coil-a"), ("TS.R", "TS.G")}
DOES = list(does(RIGHT))


@pytest.mark.slow
@pytest.mark.parametrize(("one", "other"), EXCHANGES)
def test_the_checker_finds_what_the_machine_feels(one: str, other: str) -> None:
    text = exchanged(RIGHT, one, other)
    same = list(does(text)) == DOES
    turned = "call-crosstalk" if (one, other) in TURNED else ""
    held(text, same, turned, passed=(one, other) in PASSED)
