"""Equipment with its supply and its controls, wired, for playing calls."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from tests.parts.shelf import SHIPPED
from wirecheck.circuit.circuit import Circuit, circuit
from wirecheck.circuit.play import Act, Play, play
from wirecheck.language.reader import read
from wirecheck.model.build import build

SUPPLY = """board "Hookup"
panel LP 120/240 V, 10 kA available
"""


def supply(name: str, number: int, hot: str, other: str, amps: int = 20, size: str = "12") -> str:
    """A breaker and a cable to one piece of equipment; 240 V where `other` is a second hot."""
    two = other in ("L2", "line-2")
    place, black = ("LP." + str(number), f"LP.{number}.a") if two else ("LP." + str(number), f"LP.{number}")
    back = f"W{number}.white marked red -- LP.{number}.b" if two else f"W{number}.white -- LP.neutral"
    mark = " marked red" if two else ""
    return f"""breaker {place} {amps} A{" 2-pole" if two else ""}
cable W{number} {size}/2 NM-B 30 ft from LP to {name}
at LP
  W{number}.black -- {black}
  {back}
  W{number}.bare -- LP.ground
at {name}
  W{number}.black -- {name}.{hot}
  W{number}.white{mark} -- {name}.{other}
  W{number}.bare -- {name}.ground
"""


def control(name: str, number: int, start: tuple[str, str], end: tuple[str, str], pairs: str) -> str:
    """A thermostat cable between two places: `pairs` is `R>R W>W`, at most eight."""
    colors = ("red", "white", "green", "yellow", "blue", "brown", "orange", "black")
    landed = [pair.split(">") for pair in pairs.split()]
    here = "\n".join(
        f"  T{number}.{color} -- {start[1]}.{a}" for color, (a, _) in zip(colors, landed, strict=False)
    )
    there = "\n".join(
        f"  T{number}.{color} -- {end[1]}.{b}" for color, (_, b) in zip(colors, landed, strict=False)
    )
    cable = f"cable T{number} 18/8 CL2 30 ft from {start[0]} to {end[0]}"
    return f"{cable}\nat {start[0]}\n{here}\nat {end[0]}\n{there}\n"


HOOKUPS = {
    "gas-furnace": "F is gas-furnace\nTS is heat-cool-thermostat\n"
    + supply("F", 1, "L1", "N")
    + control("T", 1, ("F", "F"), ("TS", "TS"), "R>R W>W Y>Y G>G C>C"),
    "oil-furnace": "F is oil-furnace\nTS is heat-only-thermostat\n"
    + supply("F", 1, "L1", "N")
    + control("T", 1, ("F", "F"), ("TS", "TS"), "T-1>R T-2>W"),
    "condensing-unit": "F is gas-furnace\nCU is condensing-unit\nTS is heat-cool-thermostat\n"
    + supply("F", 1, "L1", "N")
    + supply("CU", 2, "L1", "L2", 30, "10")
    + control("T", 1, ("F", "F"), ("TS", "TS"), "R>R W>W Y>Y G>G C>C")
    + control("T", 2, ("F", "F"), ("CU", "CU"), "Y>Y C>C"),
    "heat-pump": "A is air-handler\nHP is heat-pump\nTS is heat-pump-thermostat\n"
    + supply("A", 1, "L1", "L2", 30, "10")
    + supply("HP", 2, "L1", "L2", 30, "10")
    + control("T", 1, ("A", "A"), ("TS", "TS"), "R>R C>C G>G W2>W2")
    + control("T", 2, ("A", "A"), ("HP", "HP"), "R>R C>C W2>W2")
    + control("T", 3, ("TS", "TS"), ("HP", "HP"), "Y>Y O>O"),
    "packaged-unit": "P is packaged-unit\nTS is heat-cool-thermostat\n"
    + supply("P", 1, "L1", "L2", 40, "8")
    + control("T", 1, ("P", "P"), ("TS", "TS"), "R>R W>W Y>Y G>G C>C"),
    "boiler": "B is boiler\nP is circulator\nX is class-2-transformer\nZV1 is zone-valve\nZV2 is zone-valve\n"
    "Z1 is heat-only-thermostat\nZ2 is heat-only-thermostat\n"
    + supply("B", 1, "L1", "N")
    + supply("X", 2, "primary-hot", "primary-neutral")
    + """cable WP 14/2 NM-B 6 ft from B to P
at B
  WP.black -- B.pump-hot
  WP.white -- B.pump-neutral
at P
  WP.black -- P.hot
  WP.white -- P.neutral
"""
    + control("T", 1, ("X", "X"), ("Z1", "Z1"), "secondary-r>R")
    + control("T", 2, ("X", "X"), ("Z2", "Z2"), "secondary-r>R")
    + control("T", 3, ("Z1", "Z1"), ("ZV1", "ZV1"), "W>motor-1")
    + control("T", 4, ("Z2", "Z2"), ("ZV2", "ZV2"), "W>motor-1")
    + control("T", 5, ("X", "X"), ("ZV1", "ZV1"), "secondary-c>motor-2")
    + control("T", 6, ("X", "X"), ("ZV2", "ZV2"), "secondary-c>motor-2")
    + control("T", 7, ("B", "B"), ("ZV1", "ZV1"), "T-1>end-1 T-2>end-2")
    + control("T", 8, ("B", "B"), ("ZV2", "ZV2"), "T-1>end-1 T-2>end-2"),
    "walk-in-cooler": "W is walk-in-cooler\nTS is cooling-thermostat\n"
    + supply("W", 1, "L1", "L2", 20)
    + control("T", 1, ("W", "W"), ("TS", "TS"), "T-1>a T-2>b"),
    "walk-in-freezer": "W is walk-in-freezer\nTS is cooling-thermostat\n"
    + supply("W", 1, "L1", "L2", 30, "10")
    + control("T", 1, ("W", "W"), ("TS", "TS"), "T-1>a T-2>b"),
    "ice-machine": "M is ice-machine\n" + supply("M", 1, "L1", "N", 15, "14"),
}


def hookup(name: str) -> Circuit:
    """The circuit of one piece of equipment, wired."""
    board = build(read(SUPPLY + HOOKUPS[name], f"{name}.wire"), SHIPPED)
    assert board.problems == (), board.problems
    return circuit(board)


def played(
    wired: Circuit, *calls: Iterable[str], lasts: float = 1800.0, fixed: Mapping[str, str] | None = None
) -> Play:
    """The calls played one after another, `lasts` seconds each."""
    return play(wired, [Act(frozenset(made), (), lasts) for made in calls], fixed)
