"""A board with a receptacle, a switch and a light in places whose kind each test says."""

from __future__ import annotations

from tests.rules.hands import case, seen
from wirecheck.judge.rule import Rule


def dwelling(
    *rooms: str, breaker: str = "15 A", part: str = "duplex-receptacle 15 A", code: int = 2023
) -> str:
    """A receptacle in A, and a light in C from a switch in B, with the lines `rooms`."""
    wide = "12/2" if breaker.startswith("20") else "14/2"
    hot, neutral = ("line-hot", "line-neutral") if part.startswith("gfci") else ("hot", "neutral")
    white = "LP.5.neutral" if "fci" in breaker else "LP.neutral"
    lines = "".join(f"room {room}\n" for room in rooms)
    return f"""board "Part of a dwelling"
code nec {code}
panel LP 120/240 V, 10 kA available
breaker LP.5 {breaker}
box A device 20.3 cu in
box B device 20.3 cu in
box C octagon 15.5 cu in
{lines}cable W1 {wide} NM-B 22 ft from LP to A
cable W2 {wide} NM-B 8 ft from A to B
cable W3 {wide} NM-B 8 ft from B to C
R1 is {part} in A
S1 is single-pole-switch in B
L1 is lampholder 60 W in C
at LP
  W1.black -- LP.5
  W1.white -- {white}
  W1.bare -- LP.ground
at A
  W1.black -- W2.black -- pigtail -- R1.{hot}
  W1.white -- W2.white -- pigtail -- R1.{neutral}
  W1.bare -- W2.bare -- pigtail -- R1.ground
at B
  W2.black -- S1.line
  W3.black -- S1.load
  W2.white -- W3.white
  W2.bare -- W3.bare -- pigtail -- S1.ground
at C
  W3.black -- L1.hot
  W3.white -- L1.neutral
  W3.bare -- L1.ground
expect R1 live
expect L1 from S1
"""


def words(rule: Rule, text: str) -> str:
    """What a rule says of a board, all of it."""
    return " ".join(rule.words(problem, case(text)).message for problem in seen(rule, text))
