"""Every word of a part file, on one page: the statements, and what may stand in each.

The words come from the tables that read a part file, and the forms of the statements from the comments of
the grammar. What a word means is written here; the tests hold both to each other.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from wirecheck.language.quantity import wanted
from wirecheck.language.ranges import RANGES
from wirecheck.parts import part, read
from wirecheck.report.looks import Paint, unpainted
from wirecheck.report.paragraphs import columns, wrapped


class Table(NamedTuple):
    """Words of one kind: `use` says of each what its value is used for, and is empty where it takes none."""

    title: str
    use: Mapping[str, str]
    meanings: Mapping[str, str]


def _plain(title: str, words: Iterable[str], meanings: Mapping[str, str]) -> Table:
    return Table(title, dict.fromkeys(words, ""), meanings)


TABLES: tuple[Table, ...] = (
    _plain(
        "What belongs on a terminal (terminal NAME ROLE)",
        part.ROLES,
        {
            "hot": "the ungrounded conductor of a line-voltage circuit, switched or not",
            "neutral": "the grounded conductor: white or gray, never switched",
            "ground": "the equipment grounding conductor: bare or green",
            "switched": "what leaves a switch: a traveler or a switched leg, never a neutral",
            "line": "either side of a line-voltage circuit: a hot, or the neutral",
            "class-2": "24 V power-limited control wiring: R, W, Y, G and the like",
            "class-2-common": "the common side of that wiring: C",
            "contact": "either side of a coil, contact or fuse that takes whatever it is wired for",
            "signal": "only its like on other devices: the interconnect of smoke alarms",
        },
    ),
    _plain(
        "What a terminal of thermostat wiring carries (carries WORD)",
        part.CARRIES,
        {
            "power": "24 V from the transformer",
            "common": "the other side of the transformer",
            "heat": "the call for heat, its first stage",
            "second-heat": "its second stage, and the auxiliary heat of a heat pump",
            "cool": "the call for the compressor: cooling, its first stage, and heat from a heat pump",
            "second-cool": "its second stage",
            "fan": "the call for the blower alone",
            "changeover-cool": "the reversing valve of a heat pump, energized to cool",
            "changeover-heat": "the reversing valve of a heat pump, energized to heat",
        },
    ),
    _plain(
        "More of a terminal, after a comma",
        part.TERMINAL_FLAGS,
        {
            "lead": "a wire lead, to splice: no screw",
            "copper": "for copper wire only",
            "bar": "many screws: each join takes one of its own",
            "spare": "wired to nothing inside",
            "optional": "the part works with nothing on it",
            "electrode": "what it belongs to stands in the earth",
            "push-in": "beside each screw a hole that a wire is pushed into, for a device of 15 A",
        },
    ),
    _plain(
        "What moves the positions (moved by WORD; with safety: moved by temperature, safety)",
        (*part.MOVERS, "safety"),
        {
            "hand": "a hand, as a switch; so it is where nothing is said",
            "motion": "whoever is in the room, as an occupancy sensor",
            "daylight": "day and night, as a photocell",
            "temperature": "heat or cold, as a limit",
            "pressure": "air, refrigerant or oil, as a pressure switch",
            "water": "its level, as a float switch",
            "flow": "air or water on its way",
            "door": "a door or a panel, as a door switch",
            "smoke": "smoke",
            "light": "the light of a flame, as a cad cell",
            "time": "a clock",
            "machine": "another part of the machine, as the end switch of a valve",
            "safety": "it is a safety: what it guards must stop when it opens",
        },
    ),
    Table(
        "A contact (a -- b when CONDITION), after a comma",
        read.CONTACT_OPTIONS,
        {
            "rated": "what it carries without end",
            "overload": "the current in this heater of an overload relay that makes it trip in the end",
            "waits": "how long what opens it must last before it does, as of an oil failure control",
            "snap-switch": "a wall switch of general use: it carries motors up to 80 % of its rating",
            "disconnect": "what a motor is cut off with",
            "momentary": "closed or open only while a hand presses it",
            "dims-lights": "it lowers the volts of lights that are wired in",
            "slows-fans": "it lowers the volts of a fan",
            "electronic": "for what is wired in, not for what is plugged in",
            "timed": "a clock opens and closes it, as well as a hand",
            "in-electronics": "electronics in what it feeds switch it: the line to them is always on",
            "opens-once": "it opens once for all, and is then replaced, as a thermal link",
            "hand-reset": "once it has opened it stays open until a hand resets it",
            "opens-on-rise": "it opens as what moves it rises, as a high limit",
            "closes-on-rise": "it closes as what moves it rises, as a cooling thermostat",
            "opens-on-fall": "it opens as what moves it falls, as a low-pressure switch",
            "closes-on-fall": "it closes as what moves it falls, as a heating thermostat",
            "held-closed": "what moves it holds it closed against its spring, as a shut door",
            "held-open": "what moves it holds it open against its spring",
        },
    ),
    _plain(
        "Kinds of load (load NAME KIND from A to B, what it draws at its volts)",
        part.KINDS,
        {
            "lamp": "a lamp: it lights",
            "heater": "a heating element",
            "igniter": "a hot-surface igniter, or the spark of one",
            "motor": "a motor: it runs",
            "coil": "it only moves contacts: that it has pulled in is no work done for a call",
            "valve": "a valve: gas, water or refrigerant flows",
            "bell": "a bell or a chime",
            "electronics": "a control, a display or another electronic supply",
            "capacitor": "a capacitor: its current leads its volts, and it does no work",
        },
    ),
    Table(
        "More of a load, after a comma",
        read.LOAD_OPTIONS,
        {
            "works": "the least volts that it works at, and with to the most: works 20 V to 30 V",
            "inrush": "what it draws until it has pulled in or warmed up",
            "locked-rotor": "what a motor draws as it starts",
            "power-factor": "the power factor as it runs",
            "inrush-power-factor": "the power factor of its inrush",
            "pulls-in": "the volts at which a coil pulls in",
            "drops-out": "the volts at which a coil lets go",
            "horsepower": "the horsepower on a motor's nameplate",
            "service-factor": "the service factor on a motor's nameplate",
            "rise": "the rise of temperature on a motor's nameplate",
            "times": "so many of it come on together, as the lamps of a light",
            "continuous": "it runs for three hours or more at a time",
            "standby": "it runs whenever there is power, call or none",
            "unswitched": "it must have power in every position of the switches",
            "light": "it gives light, though its kind is not lamp, as an LED light with its driver",
            "pilot": "a small light that tells whether something is on",
            "damper": "it is the motor of a damper, whatever kind it draws as",
            "clock": "it is the motor that turns a clock, whatever kind it draws as",
            "winding": "a winding of a motor, which a relay looks at as at a coil",
            "auxiliary": "a start winding: it stands the line for seconds, or behind a run capacitor",
            "hermetic": "a compressor sealed with its motor",
            "starting": "a capacitor or a winding that may be in for seconds only, as its motor starts",
            "senses": "a coil that waits for the right volts and takes no harm from less",
            "in-series": "it stands in the wire of what it feeds, and takes a part of its volts",
            "spark": "an igniter that makes a spark, with electronics",
            "spark-transformer": "an igniter that makes a spark, with an ignition transformer",
            "constant-impedance": "it draws less at low volts, as a heater does",
            "constant-current": "it draws the same current at low volts, as a motor does",
            "constant-power": "it draws more current at low volts, as an electronic supply does",
        },
    ),
    Table(
        "A transformer (transforms ... into ...), after a comma",
        read.TRANSFORMER_OPTIONS,
        {
            "capacity": "what it can feed without end; it must be said",
            "impedance": "how far its volts fall at that; it must be said",
            "inherently-limited": "a short on the secondary cannot burn it",
        },
    ),
    Table(
        "A protection (protects A to B at AMPS), after a comma",
        read.PROTECTION_OPTIONS,
        {
            "trips": "the difference of currents at which one with gfci or afci opens",
            "fuse": "a fuse",
            "breaker": "a breaker",
            "slow": "it holds through a start",
            "gfci": "it opens on a ground fault",
            "afci": "it opens on an arc",
            "supplementary": "it protects this part and is no branch breaker",
            "thermal": "it opens on heat, as the overload in a motor",
        },
    ),
    Table(
        "An outlet (outlet NAME from HOT to NEUTRAL), after a comma",
        read.OUTLET_OPTIONS,
        {
            "ground": "the terminal of its ground hole: ground NAME",
            "rated": "what a plug in it may draw",
            "volts": "its volts, where they are not 120 V",
        },
    ),
    _plain(
        "What of its board may act on it (senses WORD), where a line there names it (LPC senses COMP, LLS)",
        part.SENSED,
        {
            "compressor": "a compressor, sealed with its motor",
            "valve": "a solenoid or a gas valve",
            "heater": "a heating element that is not on all the time",
            "motor": "the motor of a fan or of a pump",
        },
    ),
    _plain(
        "Where it stands (stands WORD)",
        part.WHERE,
        {"outdoors": "in the weather: the wires that come to it are in a wet place"},
    ),
    _plain(
        "What it serves (serves WORD), where the code asks something of just that",
        part.SERVES,
        {
            "water-heating": "hot water",
            "dishwashing": "a dishwasher",
            "microwave-cooking": "a microwave oven",
            "water-pumping": "a well pump or the like",
            "sump-pumping": "a sump pump",
            "bathing": "a spa, a hot tub or the like",
            "vehicle-charging": "an electric vehicle",
            "motor-control": "the control circuit of a motor",
            "three-wire-cooking-or-drying": "a range or a dryer of old work, whose frame is on the neutral",
        },
    ),
    _plain(
        "How it fills a box (fills NUMBER WORD)",
        part.FILLINGS,
        {
            "yoke": "a strap that holds a device: two conductors each",
            "fitting": "a stud or a hickey: one conductor each",
        },
    ),
)

CONDITIONS: Mapping[str, str] = {
    "call heat": "the thermostat, or whatever makes the call, makes it",
    "on": "it stands in this position",
    "door is open": "a state, or a part inside, stands so",
    "coil runs": "a load has its power: a coil has pulled in, a motor runs, a valve is open",
    "compressor runs": "the same of what the part senses: one of those that its board names runs",
    "valve is missing": "its board names none of this kind among what the part senses",
    "R has 18 V to C": "there are so many volts or more between two terminals",
    "L carries 16 A to M": "so much current or more flows in the contact between two terminals",
    "control was lighting 3 times": "it has stood so this often since it last came to rest",
    "not coil runs": "the contrary",
    "call heat and coil runs": "both",
    "call heat or call cool and coil runs": "one of them; what and joins belongs together",
}
"""Forms of a condition, after `when`, each with what it says."""


SHARED: tuple[tuple[str, str], ...] = (
    ("limit is limit-switch", "a smaller part inside: its terminals are limit.a and limit.b"),
    ("blower is motor with current 9.2 A", "the same, with a value of its own; or with the name of a rating"),
    ("R -- limit.a", "inner wiring"),
    ("line -- load when on, rated 15 A", "a contact: closed while the condition holds"),
)
"""The statements that a part shares with a board."""


def page(grammar: str, paint: Paint = unpainted) -> str:
    """The statements of a part file by the grammar's own text, then every word that may stand in one."""
    statements = "".join(
        f"  {form}\n" + (f"{wrapped(note, '      ')}\n" if note else "")
        for form, note in (*forms(grammar), *SHARED)
    )
    blocks = [
        ("Statements, one on a line", statements),
        *((table.title, columns(list(_rows(table)), "  ")) for table in TABLES),
        ("Conditions, after when", columns(list(CONDITIONS.items()), "  ")),
    ]
    told = wrapped(
        "A part of your own is in the file of its name: chime is in chime.wire, beside the board. "
        "Values may be the names of its ratings, so that a board can set them. How it reads, with its "
        "mistakes: wirecheck parts NAME. The README writes a thermostat from nothing.",
        "",
    )
    listed = (f"{paint(title, 'heading')}\n{rows}" for title, rows in blocks)
    return "\n".join([f"Words of a part file\n\n{told}\n", *listed])


def _rows(table: Table) -> Iterator[tuple[str, str]]:
    """Each word with what it means and the value that it takes."""
    for word, use in table.use.items():
        value = f" ({wanted(tuple(RANGES[use]))})" if use else ""
        yield word, f"{table.meanings.get(word, '')}{value}"


# The rules for parts in the grammar, and a comment there that is a statement, with what is said beside it.
_ROOM = re.compile(r"(?s)-- parts\n.*?-- conditions\n")
_FORM = re.compile(r"// ([a-z][^\n]*?)(?:   \(([^\n]*)\))?")


def forms(grammar: str) -> Iterator[tuple[str, str]]:
    """The forms of a part's statements with what is said beside them, from the comments of the grammar.

    >>> from wirecheck import files
    >>> next(forms(files.grammar_text()))
    ('part 3-way-switch "A switch that sends one wire to either of two"', '')
    """
    room = _ROOM.search(grammar)
    for line in room[0].splitlines() if room else ():
        found = _FORM.fullmatch(line)
        if found is not None:
            yield found[1], found[2] or ""
