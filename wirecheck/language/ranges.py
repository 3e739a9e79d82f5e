"""What each value on a board or in a part can be, by what it is used for: the one table of bounds.

A bound is there to catch a slip of the pen, and so that whatever is let in can be worked out. It is wide:
what a shop, a house or a plant below 1,000 V has lies well inside. The text of a board and that of a part
come through this same door.

Source of every bound: common practice, where its reason names nothing else.
"""

from __future__ import annotations

import functools
from typing import NamedTuple

from wirecheck.language.quantity import quantity, shortened
from wirecheck.language.syntax import Quantity, Span


class Range(NamedTuple):
    """The least and the most that a value can be, as the trade writes them.

    `what` begins the sentence that says so; `why` is the reason of both ends.
    """

    what: str
    least: str
    most: str
    why: str

    @property
    def ends(self) -> tuple[float, float]:
        """Both ends in SI.

        >>> RANGES["breaker"]["current"].ends
        (0.1, 10000.0)
        """
        return _si(self.least), _si(self.most)


@functools.cache
def _si(written: str) -> float:
    sign = -1 if written[0] == "-" else 1
    return sign * quantity(written.replace(",", "").removeprefix("-"), Span(1, 1, 1, 1)).value


_RUN = "no wire at all, and longer than any circuit of a building"
_VOLTS = {
    "voltage": Range(
        "volts that something works at are",
        "0.1 V",
        "50,000 V",
        "a thermopile gives less than 1 V, and a sign or an igniter has some 15 kV at most",
    )
}
_AMPS = "a signal relay carries some milliamperes, and the largest standard breaker is 6,000 A (NEC 240.6(A))"
_DRAWS = "less than a pilot light, and more than a whole plant"

RANGES: dict[str, dict[str, Range]] = {
    "ambient": {
        "temperature": Range(
            "the air around wires is",
            "-18 C",
            "150 C",
            "0 F, the least that can be written, and what the hottest wire in common use is made for",
        )
    },
    "available": {
        "current": Range(
            "the current that a panel has available is",
            "1 A",
            "300 kA",
            "a small bench transformer, and the highest interrupting rating of a fuse (from memory)",
        )
    },
    "bus": {
        "current": Range(
            "the bus of a panel is rated",
            "1 A",
            "10,000 A",
            "a small bench panel, and above the largest switchboard (from memory)",
        )
    },
    "breaker": {
        "current": Range(
            "a breaker is",
            "0.1 A",
            "10,000 A",
            "the smallest that is made, and above the largest standard rating, 6,000 A (NEC 240.6(A))",
        )
    },
    "fuse": {
        "current": Range(
            "a fuse or a breaker is",
            "1 mA",
            "10,000 A",
            "the fuse of an instrument, and above the largest standard rating, 6,000 A (NEC 240.6(A))",
        )
    },
    "trip": {
        "current": Range(
            "the difference that a ground-fault device trips at is",
            "1 mA",
            "1,200 A",
            "below 4 mA to 6 mA for people, and the most that a service is set to (NEC 230.95(A))",
        )
    },
    "volume": {
        "volume": Range(
            "the volume of a box is", "1 cu in", "100,000 cu in", "a thimble, and a cabinet to stand in"
        )
    },
    "length": {"length": Range("a length is", "0.01 in", "328,000 ft", _RUN)},
    "trade size": {
        "length": Range(
            "the trade size of a raceway is",
            "1/8 in",
            "24 in",
            "thinner than any tubing, and wider than any duct for wires",
        )
    },
    "measure": {
        "length": Range(
            "a measure at a cable's end is", "0 in", "1,000 ft", "nothing at all, and longer than any room"
        )
    },
    "terminal": {
        "temperature": Range(
            "the temperature that a terminal is rated for is",
            "20 C",
            "300 C",
            "a room, and above every listed terminal",
        )
    },
    "time": {
        "time": Range("a time is", "1 ms", "2,400 h", "shorter than a contact moves, and a hundred days")
    },
    "draw": {
        "current": Range("what a load draws is", "0.01 mA", "10 kA", _DRAWS),
        "power": Range("what a load draws is", "0.001 W", "10,000 kW", _DRAWS),
        "apparent-power": Range("what a load draws is", "0.001 VA", "10,000 kVA", _DRAWS),
        "horsepower": Range("what a motor is made for is", "0.001 hp", "10,000 hp", _DRAWS),
        "resistance": Range("the resistance of a load is", "0.001 ohm", "10 Mohm", _DRAWS),
        "capacitance": Range(
            "a capacitor is", "0.001 uF", "100,000 uF", "one that stops noise, and a bank of a plant"
        ),
    },
    "surge": {
        "current": Range("what a load draws as it starts is", "0.01 mA", "100 kA", _DRAWS),
        "apparent-power": Range("what a load draws as it starts is", "0.001 VA", "100,000 kVA", _DRAWS),
        "ratio": Range(
            "what a load draws as it starts is",
            "0.01 x",
            "100 x",
            "a soft start, and above every locked rotor: six times is usual",
        ),
    },
    "motor power": {"horsepower": Range("what a motor is made for is", "0.001 hp", "10,000 hp", _DRAWS)},
    "service factor": {
        "number": Range(
            "a service factor is",
            "1",
            "2",
            "what its nameplate says, and twice that",
        )
    },
    "lamps": {"number": Range("the lamps of a light are", "1", "100", "one, and a sign full of them")},
    "rise": {
        "temperature": Range(
            "the rise of a motor's temperature is", "1 C", "200 C", "a cool one, and above every insulation"
        )
    },
    "power factor": {
        "number": Range("a power factor is", "0.01", "1", "a part of a whole"),
        "percent": Range("a power factor is", "1 %", "100 %", "a part of a whole"),
    },
    "volts": _VOLTS,
    "share of volts": {
        **_VOLTS,
        "percent": Range("a share of its rated volts is", "1 %", "200 %", "next to nothing, and double"),
    },
    "winding": {
        "voltage": Range(
            "the volts of a winding are", "1 V", "50,000 V", "a bell's winding, and that of a sign"
        )
    },
    "capacity": {
        "apparent-power": Range(
            "the capacity of a transformer is",
            "0.1 VA",
            "10,000 kVA",
            "one on a circuit board, and that of a substation",
        )
    },
    "impedance": {
        "percent": Range(
            "the impedance of a transformer is",
            "0.1 %",
            "100 %",
            "2 % to 15 % is usual; at 100 % a short draws no more than full load",
        )
    },
    "contact": {"current": Range("what a contact carries is", "1 mA", "10,000 A", _AMPS)},
    "outlet": {
        "current": Range(
            "the rating of an outlet is",
            "0.1 A",
            "1,000 A",
            "the largest pin-and-sleeve device is some 400 A",
        )
    },
    "outlet volts": {
        "voltage": Range("the volts of an outlet are", "1 V", "1,000 V", "what premises wiring has")
    },
    "nameplate": {
        "current": Range("the current on a nameplate is", "1 mA", "10 kA", "a doorbell, and a whole plant")
    },
    "reading": {
        "voltage": Range("what a meter reads is", "0 V", "1,000 V", "nothing, and the most it is made for"),
        "current": Range("what a meter reads is", "0 A", "10 kA", "nothing, and above every clamp"),
        "resistance": Range("what a meter reads is", "0 ohm", "100 Mohm", "nothing, and more than it shows"),
    },
    "moment": {
        "time": Range("a moment is", "0 s", "6 h", "that of the call, and as long as a call is played")
    },
    "fault": {
        "resistance": Range(
            "the ohms of a fault are",
            "0.001 ohm",
            "10 Mohm",
            "metal on metal, and what a meter takes for open",
        )
    },
    "fills": {"number": Range("what a device fills of a box is", "0", "24", "nothing, and a row of gangs")},
}
"""The range of each kind of value, by what it is used for and by its dimension."""

NAMED = {"mca": "nameplate", "mocp": "nameplate", "rla": "nameplate", "voltage": "volts"}
"""The ratings that have a use by their name alone."""


_ROUNDING = 1e-9
"""What is written in another unit than the bound may miss it by this."""

SLIP = "Is there a slip in the number or in its unit?"
"""What to look at where a value is out of its range."""


def astray(value: Quantity, *uses: str) -> str | None:
    """Why a value cannot be meant for one of its uses, or None where it can be meant for all of them.

    Examples
    --------
    >>> astray(quantity("0 A", Span(1, 1, 1, 4)), "breaker")
    '0 A is too little: a breaker is between 0.1 A and 10,000 A'
    >>> astray(quantity("15 A", Span(1, 1, 1, 5)), "breaker", "contact") is None
    True
    """
    for use in uses:
        within = RANGES[use].get(value.dimension)
        if within is None:
            continue
        least, most = within.ends
        if not least * (1 - _ROUNDING * (least > 0)) <= value.value <= most * (1 + _ROUNDING):
            side = "little" if value.value < least else "much"
            ends = f"between {within.least} and {within.most}"
            return f"{shortened(value.text)} is too {side}: {within.what} {ends}"
    return None
