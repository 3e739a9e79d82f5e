"""A board with a subpanel that is right, for the tests to change: a workshop with its own panel."""

from __future__ import annotations

WORKSHOP = """board "A workshop's subpanel"
panel LP 120/240 V, 10 kA available, 200 A main, 200 A bus
breaker LP.2 60 A 2-pole
subpanel SP 120/240 V, 60 A main, 100 A bus
breaker SP.1 15 A
breaker SP.3 20 A
breaker SP.2 30 A 2-pole
box A device 20.3 cu in
box B octagon 15.5 cu in
box C device 20.3 cu in
box H junction 40 cu in
cable FD 6/3 NM-B 60 ft from LP to SP
cable W1 14/2 NM-B 22 ft from SP to A
cable W2 14/2 NM-B 12 ft from A to B
cable W3 12/2 NM-B 30 ft from SP to C
cable W4 10/2 NM-B 20 ft from SP to H
S1 is single-pole-switch in A
L1 is lampholder 60 W in B
R1 is duplex-receptacle 20 A in C
X1 is heater with power 4000 W, voltage 240 V in H
at LP
  FD.black -- LP.2.a
  FD.red -- LP.2.b
  FD.white -- LP.neutral
  FD.bare -- LP.ground
at SP
  FD.black -- SP.a
  FD.red -- SP.b
  FD.white -- SP.neutral
  FD.bare -- SP.ground
  W1.black -- SP.1
  W1.white -- SP.neutral
  W1.bare -- SP.ground
  W3.black -- SP.3
  W3.white -- SP.neutral
  W3.bare -- SP.ground
  W4.black -- SP.2.a
  W4.white marked red -- SP.2.b
  W4.bare -- SP.ground
at A
  W1.black -- S1.line
  W2.black -- S1.load
  W1.white -- W2.white
  W1.bare -- W2.bare -- pigtail -- S1.ground
at B
  W2.black -- L1.hot
  W2.white -- L1.neutral
  W2.bare -- L1.ground
at C
  W3.black -- R1.hot
  W3.white -- R1.neutral
  W3.bare -- R1.ground
at H
  W4.black -- X1.a
  W4.white marked red -- X1.b
  W4.bare -- X1.ground
expect L1 from S1
expect R1 live
"""


def workshop(*changes: tuple[str, str]) -> str:
    """The board with some of its text in other words, each once."""
    text = WORKSHOP
    for was, now in changes:
        assert text.count(was) == 1, was
        text = text.replace(was, now)
    return text


BONDED = ("100 A bus", "100 A bus, bonded")
NO_MAIN = ("60 A main, ", "")
NO_GROUND = ("  FD.bare -- SP.ground\n", "")
NO_NEUTRAL = ("  FD.white -- SP.neutral\n", "")
