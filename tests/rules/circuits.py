"""Small boards for the tests of what conductors carry, what protects them and what transformers feed."""

from __future__ import annotations

PANEL = "panel LP 120/240 V, 10 kA available\n"
HEATER = ("L1", "L2")
LAMP = ("hot", "neutral")
MOTOR = ("a", "b")


def one_load(
    cable: str = "14/2 NM-B 20 ft",
    part: str = "baseboard-heater 1200 W 120 V",
    breaker: str = "15 A",
    ambient: float = 30,
    screws: tuple[str, str] = HEATER,
) -> str:
    """A load on a single cable, between a hot and the neutral."""
    return f"""board "One load"
ambient {ambient} C
{PANEL}breaker LP.3 {breaker}
box B junction 42 cu in
H1 is {part} in B
cable W1 {cable} from LP to B
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at B
  W1.black -- H1.{screws[0]}
  W1.white -- H1.{screws[1]}
  cap W1.bare
"""


def two_loads(one: str, other: str, cable: str = "14/2 NM-B", breaker: str = "15 A", feet: int = 20) -> str:
    """Two heaters in a row on two cables of one kind, each of so many feet."""
    return f"""board "Two loads"
{PANEL}breaker LP.3 {breaker}
box A junction 42 cu in
box B junction 42 cu in
H1 is {one} in A
H2 is {other} in B
cable W1 {cable} {feet} ft from LP to A
cable W2 {cable} {feet} ft from A to B
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at A
  W1.black -- W2.black -- pigtail -- H1.L1
  W1.white -- W2.white -- pigtail -- H1.L2
  W1.bare -- W2.bare -- pigtail -- H1.ground
at B
  W2.black -- H2.L1
  W2.white -- H2.L2
  W2.bare -- H2.ground
"""


def outlet(part: str, breaker: str, cable: str = "14/2 NM-B 20 ft") -> str:
    """A receptacle on a single cable."""
    return f"""board "Receptacle"
{PANEL}breaker LP.3 {breaker}
box B junction 60 cu in
R1 is {part} in B
cable W1 {cable} from LP to B
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at B
  W1.black -- R1.hot
  W1.white -- R1.neutral
  W1.bare -- R1.ground
"""


def outdoor_unit(breaker: int, cable: str = "10/2 NM-B", mca: float = 18.2, mocp: int = 30) -> str:
    """A condensing unit on a breaker of its own."""
    return f"""board "Outdoor unit"
{PANEL}breaker LP.2 {breaker} A 2-pole
CU is condensing-unit with mca {mca} A, mocp {mocp} A
cable PC {cable} 38 ft from LP to CU
at LP
  PC.black -- LP.2.a
  PC.white marked red -- LP.2.b
  PC.bare -- LP.ground
at CU
  PC.black -- CU.L1
  PC.white marked red -- CU.L2
  PC.bare -- CU.ground
"""


def feeder(hot: str, ground: str, breaker: int, conduit: str = "2 in", kind: str = "THWN-2") -> str:
    """A heater of 70 % of its breaker on single wires in a conduit."""
    return f"""board "A large heater"
{PANEL}breaker LP.1 {breaker} A 2-pole
H1 is heater with power {breaker * 240 * 0.7:.0f} W, voltage 240 V
raceway R1 PVC {conduit} 100 ft from LP to H1
wire A1 {hot} {kind} black 100 ft from LP to H1 in R1
wire A2 {hot} {kind} red 100 ft from LP to H1 in R1
wire G {ground} {kind} green 100 ft from LP to H1 in R1
at LP
  A1 -- LP.1.a
  A2 -- LP.1.b
  G -- LP.ground
at H1
  A1 -- H1.a
  A2 -- H1.b
  cap G
"""


def bunched(circuits: int, ambient: float = 30) -> str:
    """A raceway with that many circuits of 12 AWG THHN, each with its own neutral."""
    lines = ['board "Many in one raceway"', f"ambient {ambient} C", PANEL, "box B junction 100 cu in"]
    lines.append("raceway R1 EMT 1 in 30 ft from LP to B")
    at_panel, at_box = [], []
    for number in range(1, circuits + 1):
        lines.append(f"breaker LP.{number} 20 A")
        lines.append(f"L{number} is lampholder 60 W in B")
        lines.append(f"wire H{number} 12 THHN black 30 ft from LP to B in R1")
        lines.append(f"wire N{number} 12 THHN white 30 ft from LP to B in R1")
        at_panel += [f"H{number} -- LP.{number}", f"N{number} -- LP.neutral"]
        at_box += [f"H{number} -- L{number}.hot", f"N{number} -- L{number}.neutral"]
    return "\n".join([*lines, "at LP", *at_panel, "at B", *at_box]) + "\n"


def valves(transformer: str, *capacities: float, breaker: str = "15 A", feet: int = 5) -> str:
    """A transformer with valves in parallel, straight at its screws."""
    lines = ['board "Valves"', PANEL + f"breaker LP.3 {breaker}", "box B junction 60 cu in"]
    lines += [f"T1 is {transformer}", "cable W1 12/2 NM-B 11 ft from LP to T1"]
    lines += ["at LP", "W1.black -- LP.3", "W1.white -- LP.neutral", "W1.bare -- LP.ground", "at T1"]
    lines += ["W1.black -- T1.primary-hot", "W1.white -- T1.primary-neutral", "W1.bare -- T1.ground"]
    for number, capacity in enumerate(capacities):
        lines.insert(3, f"V{number} is solenoid-valve with capacity {capacity} VA")
        lines.insert(4, f"cable C{number} 18/2 CL2 {feet} ft from T1 to V{number}")
        lines += ["at T1", f"C{number}.red -- T1.secondary-r", f"C{number}.white -- T1.secondary-c"]
        lines += [f"at V{number}", f"C{number}.red -- V{number}.a", f"C{number}.white -- V{number}.b"]
    return "\n".join(lines) + "\n"


MULTIWIRE = f"""board "Two heaters on one neutral"
{PANEL}breaker LP.1 20 A 2-pole
box B junction 42 cu in
H1 is baseboard-heater 1200 W 120 V in B
H2 is baseboard-heater 1200 W 120 V in B
cable W1 14/3 NM-B 150 ft from LP to B
at LP
  W1.black -- LP.1.a
  W1.red -- LP.1.b
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at B
  W1.black -- H1.L1
  W1.red -- H2.L1
  W1.white -- pigtail -- H1.L2
  W1.white -- pigtail -- H2.L2
  W1.bare -- pigtail -- H1.ground
  W1.bare -- pigtail -- H2.ground
"""
