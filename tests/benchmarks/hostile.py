"""Small boards made to be slow: none of them is over 20 kB, parts of its own included.

Each is a text and the part files beside it, by name. What makes each slow is in its name.
"""

from __future__ import annotations

import itertools
import random
from collections.abc import Callable
from typing import NamedTuple

LARGEST = 20_000
HEAD = ['board "Slow"', "panel LP 120/240 V, 10 kA available"]


class Slow(NamedTuple):
    """A board's text, and the texts of its own parts by name."""

    text: str
    parts: dict[str, str]


BOARDS: dict[str, Slow] = {}


Made = tuple[list[str], dict[str, list[str]]]
"""The lines of a board, and of its own parts by name."""


def slow(make: Callable[[], Made]) -> None:
    """Keep a board under its function's name."""
    lines, parts = make()
    made = Slow("\n".join([*lines, ""]), {name: "\n".join([*said, ""]) for name, said in parts.items()})
    assert len(made.text) + sum(map(len, made.parts.values())) <= LARGEST, make.__name__
    BOARDS[make.__name__.replace("_", " ")] = made


def control(*lines: str) -> list[str]:
    """A panel and a 24 V transformer X that feeds these lines, all in one place."""
    return [
        *HEAD,
        "breaker LP.1 15 A",
        "box B junction 400 cu in",
        "cable W0 14/2 NM-B 10 ft from LP to B",
        "X is class-2-transformer in B",
        *lines,
        "at LP",
        "  W0.black -- LP.1",
        "  W0.white -- LP.neutral",
        "at B",
        "  W0.black -- X.primary-hot",
        "  W0.white -- X.primary-neutral",
    ]


def power(*lines: str) -> list[str]:
    """A panel, and the hot and the neutral of a cable W0 in a box B with these lines."""
    return [
        *HEAD,
        "breaker LP.1 15 A",
        "box B junction 400 cu in",
        "cable W0 14/2 NM-B 10 ft from LP to B",
        *lines,
        "at LP",
        "  W0.black -- LP.1",
        "  W0.white -- LP.neutral",
        "at B",
    ]


# ------------------------------------------------------------------ seen in a review


@slow
def a_sequencer_that_cuts_its_own_relay_and_40_thermostats() -> Made:
    return [
        *control(
            "Q is sequencer in B",
            "K is relay-spdt in B",
            *(f"T{n} is heat-only-thermostat in B" for n in range(40)),
        ),
        "  X.secondary-r -- K.common",
        "  K.nc -- Q.heater-a",
        "  Q.heater-b -- X.secondary-c",
        "  X.secondary-r -- Q.m1",
        "  Q.m2 -- K.coil-a",
        "  K.coil-b -- X.secondary-c",
    ], {}


@slow
def unwired_thermostats_120() -> Made:
    return [*HEAD, *(f"T{n} is heat-only-thermostat" for n in range(120))], {}


OSCILLATOR = [
    'part buzzer "It never rests"',
    "terminal a class-2",
    "terminal b class-2-common",
    "state s one, two",
    "s goes from one to two after 0.001 s",
    "s goes from two to one after 0.001 s",
    "a -- b when s is two",
]


def caller(calls: int) -> list[str]:
    return [
        'part caller "Many calls"',
        "terminal R class-2",
        "terminal W class-2",
        "calls " + ", ".join(f"c{n}" for n in range(calls)),
        "R -- W when call c0",
    ]


@slow
def a_part_that_oscillates_and_20_calls() -> Made:
    return [*HEAD, "B1 is buzzer", "C1 is caller"], {"buzzer": OSCILLATOR, "caller": caller(20)}


@slow
def expectations_of_combined_calls_199() -> Made:
    pairs = list(itertools.permutations(range(15), 2))[:199]
    return [
        *HEAD,
        *(f"T{n} is heat-only-thermostat" for n in range(15)),
        "L1 is lampholder",
        *(f"expect T{a}.heat and T{b}.heat runs L1" for a, b in pairs),
    ], {}


@slow
def switches_12_and_61_buzzing_relays() -> Made:
    return [
        *control(
            *(f"S{n} is single-pole-switch in B" for n in range(12)),
            *(f"K{n} is relay-spdt in B" for n in range(61)),
        ),
        "  X.secondary-r -- "
        + " -- ".join(f"S{n}.line" for n in range(12))
        + " -- "
        + " -- ".join(f"K{n}.common" for n in range(61)),
        *(f"  K{n}.nc -- K{n}.coil-a" for n in range(61)),
        "  X.secondary-c -- " + " -- ".join(f"K{n}.coil-b" for n in range(61)),
        *(f"  S{n}.load -- K{n}.coil-a" for n in range(12)),
    ], {}


def nest(name: str, inner: str, copies: int) -> list[str]:
    return [
        f'part {name} "Nested"',
        "terminal a contact",
        "terminal b contact",
        *(f"p{n} is {inner}" for n in range(copies)),
        *(f"a -- p{n}.a" for n in range(copies)),
    ]


@slow
def nested_parts_in_300_devices() -> Made:
    return [*HEAD, *(f"D{n} is nest3" for n in range(300))], {
        "nest3": nest("nest3", "nest2", 7),
        "nest2": nest("nest2", "nest1", 7),
        "nest1": nest("nest1", "junction", 8),
    }


@slow
def plain_switches_12_in_one_group() -> Made:
    return [
        *power(
            *(f"S{n} is single-pole-switch in B" for n in range(12)),
            *(f"L{n} is lampholder in B" for n in range(12)),
        ),
        "  W0.black -- " + " -- ".join(f"S{n}.line" for n in range(12)),
        *(f"  S{n}.load -- L{n}.hot" for n in range(12)),
        *(f"  S{n}.load -- S{(n + 1) % 12}.load" for n in range(11)),
        "  W0.white -- " + " -- ".join(f"L{n}.neutral" for n in range(12)),
    ], {}


# ------------------------------------------------------------------ switches


@slow
def plain_switches_12_in_a_ladder_of_lamps() -> Made:
    return [
        *power(
            *(f"S{n} is single-pole-switch in B" for n in range(12)),
            *(f"L{n} is lampholder in B" for n in range(12)),
        ),
        "  W0.black -- S0.line",
        *(f"  S{n}.load -- L{n}.hot -- S{n + 1}.line" for n in range(11)),
        "  S11.load -- L11.hot",
        "  W0.white -- " + " -- ".join(f"L{n}.neutral" for n in range(12)),
    ], {}


def grid(rows: int, columns: int) -> list[str]:
    """A mesh of switches from a hot corner to a lamp, joint by joint."""
    names: list[str] = []
    meet: dict[tuple[int, int], list[str]] = {}
    for row, column in itertools.product(range(rows), range(columns)):
        for down, right in ((1, 0), (0, 1)):
            if row + down < rows and column + right < columns:
                name = f"S{len(names)}"
                names.append(name)
                meet.setdefault((row, column), []).append(f"{name}.line")
                meet.setdefault((row + down, column + right), []).append(f"{name}.load")
    meet[0, 0].append("W0.black")
    meet[rows - 1, columns - 1].append("L1.hot")
    return [
        *power(*(f"{name} is single-pole-switch in B" for name in names), "L1 is lampholder in B"),
        *("  " + " -- ".join(screws) for screws in meet.values()),
        "  W0.white -- L1.neutral",
        "expect L1 from S0",
    ]


@slow
def mesh_of_84_switches() -> Made:
    return grid(7, 7), {}


@slow
def mesh_of_12_switches() -> Made:
    return grid(3, 3), {}


@slow
def mesh_of_220_switches() -> Made:
    return grid(11, 11), {}


@slow
def all_pairs_of_16_points_joined_by_switches() -> Made:
    pairs = list(itertools.combinations(range(16), 2))
    meet: dict[int, list[str]] = {}
    for number, (a, b) in enumerate(pairs):
        meet.setdefault(a, []).append(f"S{number}.line")
        meet.setdefault(b, []).append(f"S{number}.load")
    meet[0].append("W0.black")
    meet[15].append("L1.hot")
    return [
        *power(*(f"S{n} is single-pole-switch in B" for n in range(len(pairs))), "L1 is lampholder in B"),
        *("  " + " -- ".join(screws) for screws in meet.values()),
        "  W0.white -- L1.neutral",
    ], {}


@slow
def four_way_switches_40_in_a_row() -> Made:
    return [
        *power(
            "A is 3-way-switch in B",
            "Z is 3-way-switch in B",
            "L1 is lampholder in B",
            *(f"S{n} is 4-way-switch in B" for n in range(40)),
        ),
        "  W0.black -- A.common",
        "  A.traveler-1 -- S0.in-1",
        "  A.traveler-2 -- S0.in-2",
        *(f"  S{n}.out-{k} -- S{n + 1}.in-{k}" for n in range(39) for k in (1, 2)),
        "  S39.out-1 -- Z.traveler-1",
        "  S39.out-2 -- Z.traveler-2",
        "  Z.common -- L1.hot",
        "  W0.white -- L1.neutral",
        "expect L1 from A, Z, " + ", ".join(f"S{n}" for n in range(40)),
    ], {}


@slow
def expect_a_lamp_from_each_pair_of_40_switches() -> Made:
    return [
        *power(
            *(f"S{n} is single-pole-switch in B" for n in range(40)),
            *(f"L{n} is lampholder in B" for n in range(40)),
        ),
        "  W0.black -- " + " -- ".join(f"S{n}.line" for n in range(40)),
        *(f"  S{n}.load -- L{n}.hot" for n in range(40)),
        "  W0.white -- " + " -- ".join(f"L{n}.neutral" for n in range(40)),
        *(f"expect L{a} from S{a}, S{b}" for a, b in list(itertools.combinations(range(40), 2))[:550]),
    ], {}


@slow
def switch_of_500_positions() -> Made:
    names = [f"p{n}" for n in range(500)]
    rows = [", ".join(names[first : first + 50]) for first in range(0, 500, 50)]
    part = [
        'part dial "A dial"',
        "terminal c contact",
        "positions " + ",\n ".join(rows),
        "terminal d contact",
    ]
    return [
        *power("D1 is dial in B", "D2 is dial in B", "L1 is lampholder in B"),
        "  W0.black -- D1.c",
        "  D1.d -- D2.c",
        "  D2.d -- L1.hot",
        "  W0.white -- L1.neutral",
    ], {"dial": [*part, "c -- d when " + " or ".join(names[::2])]}


# ------------------------------------------------------------------ relays and time


@slow
def relays_61_in_a_ring() -> Made:
    return [
        *control(*(f"K{n} is relay-spdt in B" for n in range(61))),
        "  X.secondary-r -- " + " -- ".join(f"K{n}.common" for n in range(61)),
        "  X.secondary-c -- " + " -- ".join(f"K{n}.coil-b" for n in range(61)),
        *(f"  K{n}.nc -- K{(n + 1) % 61}.coil-a" for n in range(61)),
    ], {}


@slow
def relays_in_a_ring_of_open_contacts_with_thermostats() -> Made:
    return [
        *control(
            *(f"K{n} is relay-spst in B" for n in range(60)),
            *(f"T{n} is heat-only-thermostat in B" for n in range(20)),
        ),
        "  X.secondary-r -- "
        + " -- ".join(f"K{n}.common" for n in range(60))
        + " -- "
        + " -- ".join(f"T{n}.R" for n in range(20)),
        "  X.secondary-c -- " + " -- ".join(f"K{n}.coil-b" for n in range(60)),
        *(f"  K{n}.no -- K{n + 1}.coil-a" for n in range(59)),
        *(f"  T{n}.W -- K{3 * n}.coil-a" for n in range(20)),
    ], {}


@slow
def a_load_on_each_of_20_letters() -> Made:
    stat = [
        'part stat "Twenty letters"',
        "terminal R class-2",
        *(f"terminal W{n} class-2" for n in range(20)),
        "calls " + ", ".join(f"c{n}" for n in range(20)),
        *(f"R -- W{n} when call c{n}" for n in range(20)),
    ]
    return [
        *control("T1 is stat in B", "T2 is stat in B", *(f"K{n} is relay-spst in B" for n in range(20))),
        "  X.secondary-r -- T1.R -- T2.R",
        "  X.secondary-c -- " + " -- ".join(f"K{n}.coil-b" for n in range(20)),
        *(f"  T1.W{n} -- T2.W{n} -- K{n}.coil-a" for n in range(20)),
        *(
            f"expect T1.c{a} and T2.c{b} runs K{a}.coil, K{b}.coil"
            for a, b in list(itertools.permutations(range(20), 2))[:350]
        ),
    ], {"stat": stat}


@slow
def timers_of_a_millisecond_in_20_devices_with_calls_and_safeties() -> Made:
    safe = [
        'part safe "A safety"',
        "terminal a contact",
        "terminal b contact",
        "positions closed, open",
        "moved by temperature, safety",
        "a -- b when closed",
    ]
    return [
        *control(
            "C1 is caller in B",
            *(f"B{n} is buzzer in B" for n in range(20)),
            *(f"F{n} is safe in B" for n in range(20)),
            *(f"K{n} is relay-spst in B" for n in range(20)),
        ),
        "  X.secondary-r -- " + " -- ".join(f"B{n}.a" for n in range(20)),
        *(f"  B{n}.b -- F{n}.a" for n in range(20)),
        *(f"  F{n}.b -- K{n}.coil-a" for n in range(20)),
        "  X.secondary-c -- " + " -- ".join(f"K{n}.coil-b" for n in range(20)),
        *(f"expect F{n} stops K{n}.coil" for n in range(20)),
    ], {"buzzer": OSCILLATOR, "caller": caller(10), "safe": safe}


@slow
def timers_of_different_primes() -> Made:
    primes = [2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43]
    parts = {
        f"t{p}": [
            f'part t{p} "A timer"',
            "terminal a class-2",
            "terminal b class-2",
            "state s one, two",
            f"s goes from one to two after {p} ms",
            f"s goes from two to one after {p} ms",
            "a -- b when s is two",
        ]
        for p in primes
    }
    return [
        *control(
            "C1 is caller in B",
            *(f"B{p} is t{p} in B" for p in primes),
            *(f"K{p} is relay-spst in B" for p in primes),
        ),
        "  X.secondary-r -- " + " -- ".join(f"B{p}.a" for p in primes),
        *(f"  B{p}.b -- K{p}.coil-a" for p in primes),
        "  X.secondary-c -- " + " -- ".join(f"K{p}.coil-b" for p in primes),
    ], {**parts, "caller": caller(30)}


@slow
def counters_of_what_was_so_many_times() -> Made:
    states = [f"s{n}" for n in range(30)]
    part = ['part counter "It counts"', "terminal a contact", "terminal b contact"]
    for name in states:
        part += [
            f"state {name} one, two, three",
            f"{name} goes from one to two after 1 ms",
            f"{name} goes from two to three after 1 ms when {name} was two 999 times",
            f"{name} goes from two to one after 1 ms when not {name} was two 999 times",
        ]
    return [*HEAD, *(f"D{n} is counter" for n in range(40)), "C1 is caller"], {
        "counter": part,
        "caller": caller(20),
    }


@slow
def ripple_counter_of_60_timers() -> Made:
    part = [
        'part ripple "Each turns the next"',
        "terminal a contact",
        "terminal b contact",
        "state s0 off, on",
        "s0 goes from off to on after 1 s",
        "s0 goes from on to off after 1 s",
    ]
    for n in range(1, 60):
        part += [
            f"state s{n} off, up, on, down",
            f"s{n} goes from off to up when s{n - 1} is on",
            f"s{n} goes from up to on when s{n - 1} is off",
            f"s{n} goes from on to down when s{n - 1} is on",
            f"s{n} goes from down to off when s{n - 1} is off",
        ]
    return [*HEAD, "R1 is ripple", "R2 is ripple", "C1 is caller"], {"ripple": part, "caller": caller(60)}


@slow
def conditions_of_1200_facts() -> Made:
    part = ['part wordy "It thinks long"', "terminal a contact", "terminal b contact", "state s one, two"]
    term = " or ".join(["s is one and not s is two"] * 60)
    return [*HEAD, *(f"D{n} is wordy" for n in range(30)), "C1 is caller"], {
        "wordy": [
            *part,
            *(f"terminal c{n} contact" for n in range(10)),
            *(f"a -- c{n} when {term}" for n in range(10)),
        ],
        "caller": caller(20),
    }


@slow
def sensors_250_that_move_by_themselves() -> Made:
    return [
        *control(
            "T1 is heat-only-thermostat in B",
            *(f"P{n} is limit-switch in B" for n in range(250)),
            "K1 is relay-spst in B",
        ),
        "  X.secondary-r -- T1.R",
        "  T1.W -- " + " -- ".join(f"P{n}.a" for n in range(250)).replace(" -- P125", " --\n    P125"),
        "  "
        + " -- ".join(f"P{n}.b" for n in range(250)).replace(" -- P125", " --\n    P125")
        + " -- K1.coil-a",
        "  K1.coil-b -- X.secondary-c",
    ], {}


@slow
def furnaces_60_unwired() -> Made:
    return [*HEAD, *(f"F{n} is gas-furnace" for n in range(60)), "T1 is heat-cool-thermostat"], {}


@slow
def packaged_units_300_unwired() -> Made:
    return [*HEAD, *(f"F{n} is packaged-unit" for n in range(300)), "T1 is heat-cool-thermostat"], {}


@slow
def thermostats_30_with_a_relay_each() -> Made:
    return [
        *control(
            *(f"T{n} is two-stage-thermostat in B" for n in range(30)),
            *(f"K{n} is relay-spst in B" for n in range(30)),
        ),
        "  X.secondary-r -- " + " -- ".join(f"T{n}.R" for n in range(30)),
        *(f"  T{n}.W1 -- K{n}.coil-a" for n in range(30)),
        "  X.secondary-c -- " + " -- ".join(f"K{n}.coil-b" for n in range(30)),
    ], {}


# ------------------------------------------------------------------ loads and sources


@slow
def motors_and_supplies_that_starve_300() -> Made:
    return [
        *power(*(f"M{n} is fan-motor in B" for n in range(300))),
        "  W0.black -- " + " -- ".join(f"M{n}.a" for n in range(300)),
        *(f"  M{n}.b -- M{n + 1}.b" for n in range(299)),
        "  M299.b -- W0.white",
    ], {}


@slow
def transformers_150_in_a_chain() -> Made:
    return [
        *power(*(f"X{n} is class-2-transformer in B" for n in range(150))),
        "  W0.black -- X0.primary-hot",
        "  W0.white -- X0.primary-neutral",
        *(f"  X{n}.secondary-r -- X{n + 1}.primary-hot" for n in range(149)),
        *(f"  X{n}.secondary-c -- X{n + 1}.primary-neutral" for n in range(149)),
    ], {}


@slow
def fuses_300_each_shorted() -> Made:
    return [
        *HEAD,
        *(f"breaker LP.{n} 15 A" for n in range(1, 300)),
        "at LP",
        *(f"  LP.{n} -- LP.neutral" for n in range(1, 300)),
    ], {}


@slow
def breakers_150_that_trip_one_after_the_other() -> Made:
    return [
        *HEAD,
        "box B junction 400 cu in",
        *(f"breaker LP.{n} {15 + 5 * (n % 3)} A" for n in range(1, 150)),
        *(f"wire W{n} {10 + 2 * (n % 3)} THHN black {10 + n} ft from LP to B" for n in range(1, 151)),
        "at LP",
        *(f"  W{n} -- LP.{n}" for n in range(1, 150)),
        "at B",
        "  " + " -- ".join(f"W{n}" for n in range(1, 150)) + " -- W150",
        "at LP",
        "  W150 -- LP.neutral",
    ], {}


@slow
def lamps_300_in_series() -> Made:
    return [
        *power(*(f"L{n} is lampholder in B" for n in range(300))),
        "  W0.black -- L0.hot",
        *(f"  L{n}.neutral -- L{n + 1}.hot" for n in range(299)),
        "  W0.white -- L299.neutral",
    ], {}


# ------------------------------------------------------------------ copper and places


@slow
def one_splice_of_390_wires() -> Made:
    return [
        *HEAD,
        "box B junction 400 cu in",
        *(f"cable W{n} 14/2 NM-B 9 ft from LP to B" for n in range(300)),
        "at B",
        "  " + " --\n".join(f"W{n}.black -- W{n}.white -- W{n}.bare" for n in range(130)),
    ], {}


@slow
def splices_by_hundreds_in_one_box() -> Made:
    return [
        *HEAD,
        "box B junction 400 cu in",
        *(f"cable W{n} 14/3 NM-B 9 ft from LP to B" for n in range(220)),
        "at B",
        *(f"  W{n}.black -- W{n + 1}.red" for n in range(219)),
    ], {}


@slow
def cables_of_many_conductors() -> Made:
    return [
        *HEAD,
        "box B junction 400 cu in",
        *(f"cable W{n} 18/{(2, 3, 4, 5, 7, 8)[n % 6]} CL2 9 ft from LP to B" for n in range(380)),
    ], {}


@slow
def raceway_of_380_wires() -> Made:
    return [
        *HEAD,
        "breaker LP.1 15 A",
        "box B junction 400 cu in",
        "raceway R EMT 4 in 30 ft from LP to B",
        *(f"wire W{n} 14 THHN black 30 ft from LP to B in R" for n in range(380)),
    ], {}


@slow
def raceways_of_120_boxes() -> Made:
    return [
        *HEAD,
        *(f"box B{n} junction 40 cu in" for n in range(120)),
        *(f"raceway R{n} EMT 1/2 in 30 ft from B{n} to B{n + 1}" for n in range(119)),
        *(f"wire W{n} 14 THHN black 30 ft from B{n} to B{n + 1} in R{n}" for n in range(119)),
    ], {}


@slow
def bundles_of_cables_between_two_boxes() -> Made:
    return [
        *HEAD,
        "box A junction 400 cu in",
        "box B junction 400 cu in",
        "breaker LP.1 15 A",
        "cable V 14/2 NM-B 9 ft from LP to A",
        *(f"cable W{n} 14/2 NM-B 90 ft from A to B" for n in range(240)),
        "at LP",
        "  V.black -- LP.1",
        "at A",
        *(f"  V.black -- W{n}.black" for n in range(240)),
    ], {}


@slow
def receptacles_in_a_chain_of_90() -> Made:
    lines, joins = [*HEAD, "breaker LP.1 20 A"], ["at LP", "W0.black -- LP.1", "W0.white -- LP.neutral"]
    for n in range(90):
        lines += [
            f"R{n} is duplex-receptacle",
            f"cable W{n} 12/2 NM-B 9 ft from {f'R{n - 1}' if n else 'LP'} to R{n}",
        ]
        joins += [f"at R{n}", f"W{n}.black -- R{n}.hot", f"W{n}.white -- R{n}.neutral"]
        if n < 89:
            joins += [f"W{n + 1}.black -- R{n}.hot", f"W{n + 1}.white -- R{n}.neutral"]
    return [*lines, *joins, *(f"expect R{n} live" for n in range(90))], {}


@slow
def gfci_feed_through_70_deep() -> Made:
    lines, joins = [*HEAD, "breaker LP.1 20 A"], ["at LP", "W0.black -- LP.1", "W0.white -- LP.neutral"]
    for n in range(70):
        lines += [
            f"R{n} is gfci-receptacle",
            f"cable W{n} 12/2 NM-B 9 ft from {f'R{n - 1}' if n else 'LP'} to R{n}",
        ]
        joins += [f"at R{n}", f"W{n}.black -- R{n}.line-hot", f"W{n}.white -- R{n}.line-neutral"]
        if n < 69:
            joins += [f"W{n + 1}.black -- R{n}.load-hot", f"W{n + 1}.white -- R{n}.load-neutral"]
    return [*lines, *joins], {}


@slow
def panels_200() -> Made:
    return [
        'board "Slow"',
        *(f"panel P{n} 120/240 V, 10 kA available" for n in range(200)),
        *(f"cable W{n} 14/2 NM-B 9 ft from P{n} to P{n + 1}" for n in range(199)),
    ], {}


@slow
def spares_and_loose_wires_by_hundreds() -> Made:
    chance = random.Random(1)
    names = [f"W{n}.{color}" for n in range(200) for color in ("black", "white")]
    chance.shuffle(names)
    return [
        *power(*(f"cable W{n} 14/2 NM-B 9 ft from B to LP" for n in range(1, 200)), "L1 is lampholder in B"),
        *(f"  {a} -- {b}" for a, b in zip(names[:180:2], names[1:180:2], strict=True)),
        "expect L1 live",
    ], {}


@slow
def cables_200_in_parallel() -> Made:
    return [
        *HEAD,
        "breaker LP.1 15 A",
        "box A device 99 cu in",
        *(f"cable W{n} 14/3 NM-B 9 ft from LP to A" for n in range(200)),
        "at LP",
        *(f"W{n}.black -- LP.1" for n in range(200)),
        "at A",
        *(f"W{n}.black -- W{n + 1}.black" for n in range(199)),
    ], {}


@slow
def dead_lamps_230_in_one_box() -> Made:
    return [
        *power(*(f"L{n} is lampholder in B" for n in range(230))),
        "  W0.black -- L0.hot",
        *(f"expect L{n} live" for n in range(230)),
    ], {}


@slow
def dead_switched_lamps_100_in_one_box() -> Made:
    return [
        *power(
            *(f"S{n} is single-pole-switch in B" for n in range(100)),
            *(f"L{n} is lampholder in B" for n in range(100)),
        ),
        *(f"  S{n}.load -- L{n}.hot" for n in range(100)),
        *(f"expect L{n} from S{n}" for n in range(100)),
    ], {}


@slow
def joins_of_a_mesh_at_random() -> Made:
    chance = random.Random(2)
    screws = [f"S{n}.{screw}" for n in range(150) for screw in ("line", "load")] + [
        f"L{n}.{screw}" for n in range(60) for screw in ("hot", "neutral")
    ]
    return [
        *power(
            *(f"S{n} is single-pole-switch in B" for n in range(150)),
            *(f"L{n} is lampholder in B" for n in range(60)),
        ),
        *("  " + " -- ".join(chance.sample(screws, 2)) for _ in range(330)),
        "  W0.black -- S0.line",
        "  W0.white -- L0.neutral",
    ], {}


# ------------------------------------------------------------------ text


@slow
def part_of_600_terminals() -> Made:
    return [*power(*(f"H{n} is huge in B" for n in range(40)))], {
        "huge": ['part huge "Huge"', *(f"terminal t{n} contact" for n in range(600))]
    }


@slow
def part_of_600_terminals_all_joined() -> Made:
    return [*power(*(f"H{n} is huge in B" for n in range(40)))], {
        "huge": [
            'part huge "Huge"',
            *(f"terminal t{n} hot" for n in range(500)),
            *(f"t{n} -- t{n + 1}" for n in range(400)),
        ]
    }


@slow
def part_of_380_loads_in_40_devices() -> Made:
    return [
        *power(*(f"H{n} is huge in B" for n in range(40))),
        "  " + " -- ".join(f"H{n}.a" for n in range(40)),
    ], {
        "huge": [
            'part huge "Huge"',
            "terminal a hot",
            "terminal b neutral",
            *(f"load m{n} motor from a to b, 5 W at 120 V" for n in range(380)),
        ]
    }


@slow
def part_of_100_states_in_100_devices() -> Made:
    return [*HEAD, *(f"H{n} is huge" for n in range(100)), "C1 is caller"], {
        "huge": [
            'part huge "Huge"',
            *(f"terminal t{n} contact" for n in range(101)),
            *(f"state s{n} one, two" for n in range(100)),
            *(f"s{n} goes to two after {n + 1} s" for n in range(100)),
            *(f"t{n} -- t{n + 1} when s{n} is two" for n in range(100)),
        ],
        "caller": caller(30),
    }


@slow
def names_of_1900_letters() -> Made:
    name = "N" * 1900
    return [*HEAD, f"{name} is lampholder", *(f"expect {name} live" for _ in range(8))], {}


@slow
def tiny_statements_3000() -> Made:
    return [*HEAD, *("cap x" for _ in range(3000))], {}


@slow
def joins_of_150_pigtails() -> Made:
    return [*HEAD, "at LP", *("pigtail -- " * 150 + "pigtail" for _ in range(11))], {}


@slow
def misspelled_names_by_hundreds() -> Made:
    return [
        *power(*(f"Lamp{n} is lampholder in B" for n in range(250))),
        *(f"  Lmap{n}.hto -- Lamq{n}.hot" for n in range(350)),
    ], {}


@slow
def unknown_parts_by_hundreds() -> Made:
    return [*HEAD, *(f"L{n} is lampholdr-{n}" for n in range(800))], {}
