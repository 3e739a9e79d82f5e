"""A small hookup for the tests of calls: a thermostat, and equipment with a lamp for each call."""

from __future__ import annotations

from tests.rules.hands import case
from wirecheck.judge.case import Case

# The equipment's terminals are lettered, the thermostat's are named as its maker pleased.
BENCH = """part bench "A transformer, and a lamp for each call"
terminal L1 hot
terminal N neutral
terminal ground ground
terminal R class-2, carries power, holds 3
terminal C class-2-common, carries common, holds 3
terminal W class-2, carries heat, holds 3
terminal Y class-2, carries cool, holds 3
terminal G class-2, carries fan, holds 3
terminal X class-2, holds 3
transformer is class-2-transformer
L1 -- transformer.primary-hot
N -- transformer.primary-neutral
ground -- transformer.ground
transformer.secondary-r -- R
transformer.secondary-c -- C
load heating lamp from W to C, 5 VA at 24 V
load cooling lamp from Y to C, 5 VA at 24 V
load blowing lamp from G to C, 5 VA at 24 V
load relay coil from X to C, 5 VA at 24 V
"""
STAT = """part stat "A thermostat that is a contact and no more"
terminal Rh class-2, carries power
terminal Com class-2-common, carries common, optional
terminal W-E class-2, carries heat
terminal Y1 class-2, carries cool
terminal Fan class-2, carries fan
calls heat, cool, fan
Rh -- W-E when call heat
Rh -- Y1 when call cool
Rh -- Fan when call fan
"""
LIVE = STAT.replace("part stat", "part live") + (
    "load display electronics from Rh to Com, 1 VA at 24 V, works 18 V to 30 V, standby\n"
)
PARTS = {"bench": BENCH, "stat": STAT, "live": LIVE}

HOOKUP = """board "Three lamps"
panel LP 120/240 V, 10 kA available
breaker LP.1 15 A
F is bench
TS is stat
cable PF 14/2 NM-B 10 ft from LP to F
cable TW 18/5 CL2 10 ft from F to TS
at LP
  PF.black -- LP.1
  PF.white -- LP.neutral
  PF.bare -- LP.ground
at F
  PF.black -- F.L1
  PF.white -- F.N
  PF.bare -- F.ground
  TW.red -- F.R
  TW.blue -- F.C
  TW.white -- F.W
  TW.yellow -- F.Y
  TW.green -- F.G
at TS
  TW.red -- TS.Rh
  TW.blue -- TS.Com
  TW.white -- TS.W-E
  TW.yellow -- TS.Y1
  TW.green -- TS.Fan
expect heat runs F.heating
expect cool runs F.cooling
expect fan runs F.blowing
"""


def hooked(text: str, **parts: str) -> Case:
    """The board of a text that is made of these parts."""
    return case(text, **{**PARTS, **parts})


def made(text: str, *joins: str) -> str:
    """A hookup in which each of these joins is made in place of the one that its first member is in there."""
    lines = text.splitlines()
    for join in joins:
        place, _, said = join.partition(": ")
        first = said.split(" -- ")[0]
        begins = lines.index(f"at {place}")
        (number,) = [n for n in range(begins, len(lines)) if lines[n].startswith(f"  {first} -- ")][:1]
        lines[number] = f"  {said}"
    return "\n".join([*lines, ""])
