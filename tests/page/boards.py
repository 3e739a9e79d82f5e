"""A board small enough to be asked about in no time, right and wrong."""

RIGHT = """\
board "Shed <light>"
panel LP 120 V, 10 kA available
breaker LP.1 15 A
box A device 20 cu in
box B octagon 20 cu in
cable W1 14/2 NM-B 9 ft from LP to A
cable W2 14/2 NM-B 9 ft from A to B
S1 is single-pole-switch in A
L1 is lampholder 60 W in B
at LP
  W1.black -- LP.1
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at A
  W1.black -- S1.line
  W2.black -- S1.load
  W1.white -- W2.white
  W1.bare -- W2.bare -- pigtail -- S1.ground
at B
  W2.black -- L1.hot
  W2.white -- L1.neutral
  W2.bare -- L1.ground
expect L1 from S1
"""
WRONG = RIGHT.replace("W2.black -- L1.hot", "W2.black -- L1.ground").replace(
    "W2.bare -- L1.ground", "W2.bare -- L1.hot"
)
WRONG_LINE = 20
