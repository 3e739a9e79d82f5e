"""Houses of many like circuits, for what must stay quick on large boards."""

from __future__ import annotations

MEASURED = "free 7 in, secured 8 in"


def stairs(count: int) -> str:
    """So many lights, each on a breaker of its own, between two 3-way switches."""
    lines = ['board "Stairs"', "panel LP 120/240 V, 10 kA available"]
    for n in range(count):
        lines += (
            f"breaker LP.{n + 1} 15 A",
            f"box A{n} device 20.3 cu in",
            f"box B{n} octagon 15.5 cu in",
            f"box C{n} device 20.3 cu in",
            f"cable V{n} 14/2 NM-B 22 ft from LP (free 8 in) to A{n} ({MEASURED})",
            f"cable W{n} 14/3 NM-B 16 ft from A{n} ({MEASURED}) to C{n} ({MEASURED})",
            f"cable X{n} 14/2 NM-B 11 ft from C{n} ({MEASURED}) to B{n} ({MEASURED})",
            f"S{n} is 3-way-switch in A{n}",
            f"T{n} is 3-way-switch in C{n}",
            f"L{n} is lampholder 60 W in B{n}",
            "at LP",
            f"V{n}.black -- LP.{n + 1}",
            f"V{n}.white -- LP.neutral",
            f"V{n}.bare -- LP.ground",
            f"at A{n}",
            f"V{n}.black -- S{n}.common",
            f"W{n}.black -- S{n}.traveler-1",
            f"W{n}.red -- S{n}.traveler-2",
            f"V{n}.white -- W{n}.white",
            f"V{n}.bare -- W{n}.bare -- pigtail -- S{n}.ground",
            f"at C{n}",
            f"W{n}.black -- T{n}.traveler-1",
            f"W{n}.red -- T{n}.traveler-2",
            f"X{n}.black -- T{n}.common",
            f"W{n}.white -- X{n}.white",
            f"W{n}.bare -- X{n}.bare -- pigtail -- T{n}.ground",
            f"at B{n}",
            f"X{n}.black -- L{n}.hot",
            f"X{n}.white -- L{n}.neutral",
            f"X{n}.bare -- L{n}.ground",
            f"expect L{n} from S{n}, T{n}",
        )
    return "\n".join(lines) + "\n"


def rooms(count: int) -> str:
    """So many lights on one breaker, each with a switch of its own."""
    lines = ['board "Rooms"', "panel LP 120/240 V, 10 kA available", "breaker LP.3 15 A"]
    lines += ["box A junction 900 cu in", "cable W1 14/2 NM-B 10 ft from LP to A"]
    for n in range(count):
        lines += [f"S{n} is single-pole-switch in A", f"L{n} is lampholder 10 W in A"]
    lines += ["at LP", "W1.black -- LP.3", "W1.white -- LP.neutral", "at A"]
    hots = " -- ".join(f"pigtail -- S{n}.line" for n in range(count))
    neutrals = " -- ".join(f"pigtail -- L{n}.neutral" for n in range(count))
    lines += [f"W1.black -- {hots}", f"W1.white -- {neutrals}"]
    lines += [f"S{n}.load -- L{n}.hot" for n in range(count)]
    return "\n".join(lines) + "\n"


def hall(switches: int) -> str:
    """One light from so many places: two 3-way switches with 4-way switches between, all in one box."""
    lines = ['board "Hall"', "panel LP 120/240 V, 10 kA available", "breaker LP.3 15 A"]
    lines += ["box A junction 200 cu in", "cable W1 14/2 NM-B 10 ft from LP to A"]
    lines += ["L1 is lampholder 60 W in A", "S1 is 3-way-switch in A", f"S{switches} is 3-way-switch in A"]
    lines += [f"S{n} is 4-way-switch in A" for n in range(2, switches)]
    lines += ["at LP", "W1.black -- LP.3", "W1.white -- LP.neutral", "at A", "W1.black -- S1.common"]
    one, other = "S1.traveler-1", "S1.traveler-2"
    for n in range(2, switches):
        lines += [f"{one} -- S{n}.in-1", f"{other} -- S{n}.in-2"]
        one, other = f"S{n}.out-1", f"S{n}.out-2"
    lines += [f"{one} -- S{switches}.traveler-1", f"{other} -- S{switches}.traveler-2"]
    lines += [f"S{switches}.common -- L1.hot", "W1.white -- L1.neutral"]
    every = ", ".join(f"S{n}" for n in range(1, switches + 1))
    return "\n".join(lines) + f"\nexpect L1 from {every}\n"
