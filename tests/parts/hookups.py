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
    "two-stage-furnace": "F is two-stage-furnace\nTS is two-stage-thermostat\n"
    + supply("F", 1, "L1", "N")
    + control("T", 1, ("F", "F"), ("TS", "TS"), "R>R W1>W1 W2>W2 Y>Y1 G>G C>C"),
    "electric-furnace": "F is electric-furnace\nTS is two-stage-thermostat\n"
    + supply("F", 1, "L1", "L2", 60, "6")
    + control("T", 1, ("F", "F"), ("TS", "TS"), "R>R W1>W1 W2>W2 G>G C>C"),
    "humidifier": "F is variable-speed-furnace\nTS is heat-cool-thermostat\n"
    "HS is humidistat\nH is humidifier\n"
    + supply("F", 1, "L1", "N")
    + control("T", 1, ("F", "F"), ("TS", "TS"), "R>R W>W Y>Y G>G C>C")
    + control("T", 2, ("F", "F"), ("HS", "HS"), "HUM>a")
    + control("T", 3, ("HS", "HS"), ("H", "H"), "b>a")
    + control("T", 4, ("F", "F"), ("H", "H"), "C>b"),
    "dehumidifier": "F is gas-furnace\nTS is heat-cool-thermostat\n"
    "D is dehumidifier\nHC is dehumidifier-control\n"
    + supply("F", 1, "L1", "N")
    + supply("D", 2, "L1", "N", 15, "14")
    + control("T", 1, ("F", "F"), ("TS", "TS"), "R>R W>W C>C")
    + control("T", 2, ("TS", "TS"), ("D", "D"), "G>G-in")
    + control("T", 3, ("D", "D"), ("F", "F"), "R-fan>R G-out>G")
    + control("T", 4, ("D", "D"), ("HC", "HC"), "R>a DH>b"),
    "fresh-air-control": "F is gas-furnace\nTS is heat-cool-thermostat\n"
    "FA is fresh-air-control\nFD is fresh-air-damper\n"
    + supply("F", 1, "L1", "N")
    + control("T", 1, ("F", "F"), ("TS", "TS"), "R>R W>W C>C")
    + control("T", 2, ("TS", "TS"), ("FA", "FA"), "G>G-in")
    + control("T", 3, ("F", "F"), ("FA", "FA"), "R>R C>C G>G-out")
    + control("T", 4, ("FA", "FA"), ("FD", "FD"), "DAMPER>a C>b"),
    "common-wire-receiver": "F is gas-furnace\nCU is condensing-unit\nTS is powered-thermostat\n"
    "K is common-wire-receiver\nS is common-wire-sender\n"
    + supply("F", 1, "L1", "N")
    + supply("CU", 2, "L1", "L2", 30, "10")
    + control("T", 1, ("F", "F"), ("TS", "TS"), "R>R W>W C>C")
    + control("T", 2, ("TS", "TS"), ("S", "S"), "Y>Y G>G")
    + control("T", 3, ("F", "F"), ("K", "K"), "R>R C>C G>G Y>Y")
    + control("T", 4, ("S", "S"), ("K", "K"), "YG>YG")
    + control("T", 5, ("K", "K"), ("CU", "CU"), "Y>Y C>C"),
    "ductless-outdoor": "O is ductless-outdoor\nI is ductless-indoor\n"
    + supply("O", 1, "L1", "L2", 15, "14")
    + """cable WI 14/3 NM-B 20 ft from O to I
at O
  WI.black -- O.1
  WI.red -- O.2
  WI.white marked blue -- O.3
  WI.bare -- O.ground
at I
  WI.black -- I.1
  WI.red -- I.2
  WI.white marked blue -- I.3
  WI.bare -- I.ground
""",
    "variable-speed-furnace": "F is variable-speed-furnace\nTS is heat-cool-thermostat\nDS is dehumidistat\n"
    + supply("F", 1, "L1", "N")
    + control("T", 1, ("F", "F"), ("TS", "TS"), "R>R W>W Y>Y G>G C>C")
    + control("T", 2, ("F", "F"), ("DS", "DS"), "R>a DH>b"),
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
    "heat-pump-b": "A is air-handler\nHP is heat-pump-b\nTS is heat-pump-thermostat\n"
    + supply("A", 1, "L1", "L2", 30, "10")
    + supply("HP", 2, "L1", "L2", 30, "10")
    + control("T", 1, ("A", "A"), ("TS", "TS"), "R>R C>C G>G W2>W2")
    + control("T", 2, ("A", "A"), ("HP", "HP"), "R>R C>C W2>W2")
    + control("T", 3, ("TS", "TS"), ("HP", "HP"), "Y>Y B>B"),
    "dual-fuel-kit": "F is gas-furnace\nHP is heat-pump\nK is dual-fuel-kit\nTS is heat-pump-thermostat\n"
    + supply("F", 1, "L1", "N")
    + supply("HP", 2, "L1", "L2", 30, "10")
    + control("T", 1, ("F", "F"), ("TS", "TS"), "R>R C>C G>G")
    + control("T", 2, ("TS", "TS"), ("K", "K"), "W2>W2-in Y>Y-in")
    + control("T", 3, ("F", "F"), ("K", "K"), "R>R C>C W>W-out")
    + control("T", 4, ("K", "K"), ("HP", "HP"), "R>R C>C Y-out>Y W-out>W2")
    + control("T", 5, ("TS", "TS"), ("HP", "HP"), "O>O"),
    "packaged-unit": "P is packaged-unit\nTS is heat-cool-thermostat\n"
    + supply("P", 1, "L1", "L2", 40, "8")
    + control("T", 1, ("P", "P"), ("TS", "TS"), "R>R W>W Y>Y G>G C>C"),
    "economizer": "P is packaged-unit\nTS is two-stage-thermostat\n"
    "E is economizer\nOT is outdoor-thermostat\n"
    + supply("P", 1, "L1", "L2", 40, "8")
    + control("T", 1, ("P", "P"), ("TS", "TS"), "R>R W>W1 G>G C>C")
    + control("T", 2, ("TS", "TS"), ("E", "E"), "Y1>Y1-in Y2>Y2-in")
    + control("T", 3, ("P", "P"), ("E", "E"), "R>R C>C Y>Y1-out")
    + control("T", 4, ("E", "E"), ("OT", "OT"), "OA-1>a OA-2>b"),
    "rooftop-unit": "P is rooftop-unit with voltage 208 V\nTS is heat-cool-thermostat\n"
    "panel TP 208Y/120 V, 22 kA available\nbreaker TP.1 60 A 3-pole\ncable W1 6/3 NM-B 30 ft from TP to P\n"
    "at TP\n  W1.black -- TP.1.a\n  W1.red -- TP.1.b\n  W1.white marked blue -- TP.1.c\n"
    "  W1.bare -- TP.ground\nat P\n  W1.black -- P.L1\n  W1.red -- P.L2\n  W1.white marked blue -- P.L3\n"
    "  W1.bare -- P.ground\n" + control("T", 1, ("P", "P"), ("TS", "TS"), "R>R W>W Y>Y G>G C>C"),
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
    "aquastat-boiler": "AQ is aquastat-relay\nOB is oil-burner\nP is circulator\nTS is heat-only-thermostat\n"
    + supply("AQ", 1, "L1", "L2")
    + """cable WB 14/2 NM-B 6 ft from AQ to OB
cable WP 14/2 NM-B 6 ft from AQ to P
at AQ
  WB.black -- AQ.B1
  WB.white -- AQ.B2
  WP.black -- AQ.C1
  WP.white -- AQ.C2
at OB
  WB.black -- OB.hot
  WB.white -- OB.neutral
at P
  WP.black -- P.hot
  WP.white -- P.neutral
"""
    + control("T", 1, ("AQ", "AQ"), ("TS", "TS"), "T-1>R T-2>W"),
    "primary-secondary-boiler": "B is primary-secondary-boiler\nP1 is circulator\nP2 is circulator\n"
    "TS is heat-only-thermostat\n"
    + supply("B", 1, "L1", "N")
    + """cable WP 14/2 NM-B 6 ft from B to P1
cable WS 14/2 NM-B 6 ft from B to P2
at B
  WP.black -- B.boiler-pump-hot
  WP.white -- B.boiler-pump-neutral
  WS.black -- B.system-pump-hot
  WS.white -- B.system-pump-neutral
at P1
  WP.black -- P1.hot
  WP.white -- P1.neutral
at P2
  WS.black -- P2.hot
  WS.white -- P2.neutral
"""
    + control("T", 1, ("B", "B"), ("TS", "TS"), "T-1>R T-2>W"),
    "power-vent-water-heater": "WH is power-vent-water-heater\n" + supply("WH", 1, "L1", "N", 15, "14"),
    "walk-in-cooler": "W is walk-in-cooler\nTS is cooling-thermostat\n"
    + supply("W", 1, "L1", "L2", 20)
    + control("T", 1, ("W", "W"), ("TS", "TS"), "T-1>a T-2>b"),
    "walk-in-freezer": "W is walk-in-freezer\nTS is cooling-thermostat\n"
    + supply("W", 1, "L1", "L2", 30, "10")
    + control("T", 1, ("W", "W"), ("TS", "TS"), "T-1>a T-2>b"),
    "ice-machine": "M is ice-machine\n" + supply("M", 1, "L1", "N", 15, "14"),
}


def hookup(name: str, *changes: tuple[str, str]) -> Circuit:
    """The circuit of one piece of equipment, wired, with changes of its text."""
    text = SUPPLY + HOOKUPS[name]
    for before, after in changes:
        assert text.count(before) == 1, before
        text = text.replace(before, after)
    board = build(read(text, f"{name}.wire"), SHIPPED)
    assert board.problems == (), board.problems
    return circuit(board)


def played(
    wired: Circuit, *calls: Iterable[str], lasts: float = 1800.0, fixed: Mapping[str, str] | None = None
) -> Play:
    """The calls played one after another, `lasts` seconds each."""
    return play(wired, [Act(frozenset(made), (), lasts) for made in calls], fixed)
