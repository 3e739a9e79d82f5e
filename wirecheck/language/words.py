"""Plain words for what the parser expected, and the nearest name to a misspelt one."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from wirecheck.language.listing import either

# How each statement is written, by the word that begins it.
FORMS = {
    "board": 'board "Stair light"',
    "code": "code nec 2023",
    "ambient": "ambient 30 C",
    "panel": "panel LP 120/240 V, 10 kA available",
    "breaker": "breaker LP.3 15 A",
    "box": "box A device 20.3 cu in",
    "room": "room kitchen K1, K2",
    "bundle": "bundle W1, W2, W3 4 ft",
    "connector": "connector RED 2 to 5 of 14 AWG, 2 to 4 of 12 AWG",
    "cable": "cable W1 14/2 NM-B 22 ft from LP to A",
    "wire": "wire H1 12 THHN black 30 ft from LP to D in R1",
    "raceway": "raceway R1 EMT 1/2 in 30 ft from LP to D",
    "at": "at A",
    "cap": "cap W2.red",
    "jumper": "jumper F.limit.a -- F.limit.b",
    "lift": "lift F.limit.b",
    "swap": "swap F.limit.b, F.rollout.a",
    "expect": "expect L1 from S1, S2; expect R1 live; expect cool runs CU.fan, F.blower; "
    "expect F.limit stops F.gas-valve; expect START starts M; "
    "expect end of cool stops LLS, then COMP; expect defrost stops EF",
    "exercise": 'exercise "Stair light from two landings"',
    "stage": "stage rough-in 30 points",
    "show": "show mends as questions",
    "student": 'student "Ana Ruiz"',
    "for": 'for "Stair light from two landings"',
    "faults": 'faults for "Gas furnace in the shop"',
    "fault": "fault 1 open TW.white at TS; fault 2 short F.R to F.C through 0.5 ohm; "
    "fault 3 poor W1.black at A, 8 ohm; fault 4 F.limit stuck open; fault 5 F.blower burnt out; "
    "fault 6 F.fuse blown; fault 7 TW.yellow and TW.green swapped at F",
    "found": 'found on "Gas furnace in the shop"',
    "with": "with heat; with S1 down, cool; with nothing",
    "saw": "saw F.inducer run; saw F.blower not run; saw F.gas-valve stop; saw L1 not stop; saw LP.3 trip",
    "read": "read 26.2 V from F.R to F.C; read 120 V from W1.black to W1.white at A; read 9.2 A in PG.black; "
    "read OL from F.fuse.line to F.fuse.load, power off",
    "part": 'part 3-way-switch "A switch that sends one wire to either of two"',
    "source": 'source "where this is published"',
    "rating": 'rating current 15 A or 20 A "what the contacts carry"',
    "terminal": 'terminal common hot, black screw, holds 1, sizes 14 to 12, rated 60 C "feed or lamp"; '
    'terminal W class-2, carries heat "the heat call"',
    "positions": "positions up, down",
    "moved": "moved by temperature",
    "senses": "senses compressor, valve",
    "stands": "stands outdoors",
    "serves": "serves vehicle-charging",
    "calls": "calls heat, cool",
    "state": "state control idle, purging, running",
    "load": "load lamp lamp from hot to neutral, 60 W at 120 V",
    "transforms": "transforms 120 V from h to n into 24 V from r to c, capacity 40 VA",
    "protects": "protects line to load at 15 A, fuse",
    "outlet": "outlet top from hot-top to neutral, ground ground, rated 15 A",
    "fills": "fills 1 yoke",
}

A_FAULT = "; ".join(form.split(" ", 2)[2] for form in FORMS["fault"].split("; "))
"""How a fault is written without the number that it has in a list."""

OF_TROUBLES = ("faults", "fault", "found", "with", "saw", "read")
"""What begins a statement of a list of faults, and of a report of what was found."""

TROUBLE_WORDS = frozenset(
    (
        *("faults", "fault", "found", "saw", "read", "open", "short", "through", "poor", "stuck", "burnt"),
        *("blown", "swapped", "stop", "trip", "power", "off", "OL"),
    )
)
"""The words that those alone have: on a board they are what nobody meant."""

ASKED = {"set": "with", "call": "with", "volts": "read", "ohms": "read", "amps": "read", "look": "saw"}
"""What is asked at a bench, and how a report of what was found says the same."""

# Statements that begin with a name of the writer's own, by their second word.
NAMED_FORMS = {
    "--": "W1.black -- S1.common",
    "is": "S1 is 3-way-switch in A",
    "senses": "LPC senses COMP, LLS",
    "ends": "cool ends after 20 min when compressor runs",
    "goes": "control goes from idle to running after 15 s",
    "costs": "box-fill costs 3 points",
}

# What the parser may expect, in plain words. Other tokens are words of the language.
_PLAIN = {
    "NAME": "a name",
    "AMOUNT": "a value with its unit, as 15 A or 22 ft",
    "TEXT": 'words in quotes, as "Stair light"',
    "CORES": "a cable's size and count of wires, as 14/2",
    "VOLTAGES": "the panel's voltages, as 120/240 V",
    "DIMENSIONS": "the trade size of a box, as 4 x 1-1/2 in",
    "$END": "the end of the line",
    "COMMA": "a comma",
}

# The value that each statement asks for first.
_VALUES = {
    "code": "the year of an edition, as 2023",
    "ambient": "a temperature, as 30 C",
    "panel": "a voltage, as 120 V or 120/240 V",
    "breaker": "a current, as 15 A",
    "box": "a volume, as 20.3 cu in",
    "cable": "a length, as 22 ft or 7 m",
    "bundle": "a length, as 4 ft",
    "raceway": "a size and a length, as 1/2 in 30 ft",
    "protects": "a current, as 15 A",
    "fills": "a number, as 1",
    "stage": "a number of points, as 30 points",
}


def nearest(name: str, candidates: Iterable[str]) -> str | None:
    """The candidate that a misspelt name most likely meant, or None.

    Capitals count for nothing, and letters may change places: `ta` is near `at`. Of those that are as near,
    it is the one in which the fewest letters are others.

    >>> nearest("brekaer", FORMS)
    'breaker'
    >>> nearest("S1.comon", ["S1.common", "S1.traveler-1"])
    'S1.common'
    >>> nearest("TTHN", ["THWN", "THHN"])
    'THHN'
    >>> nearest("xyz", FORMS) is None
    True
    """
    from difflib import SequenceMatcher, get_close_matches

    written = name[:100].casefold()
    folded = {candidate.casefold(): candidate for candidate in candidates}
    letters = sorted(written)
    for candidate in folded:
        # Letters that changed places are the commonest slip in a short word.
        if len(candidate) == len(written) and sorted(candidate) == letters:
            return folded[candidate]
    near = get_close_matches(written, folded, n=3, cutoff=0.65)
    if len(near) < 2:
        return folded[near[0]] if near else None
    shared = SequenceMatcher(None, b=written)

    def likeness(candidate: str) -> tuple[float, int]:
        shared.set_seq1(candidate)
        same = sum(a == b for a, b in zip(candidate, written, strict=False))
        return shared.ratio(), same - max(len(candidate), len(written))

    return folded[max(near, key=likeness)]


def shortened_to(letters: str, candidates: Iterable[str]) -> str | None:
    """The candidate whose words begin with these letters, or None.

    >>> shortened_to("TR", ["none", "tamper-resistant"])
    'tamper-resistant'
    """
    for candidate in candidates:
        if "".join(part[:1] for part in candidate.split("-")).casefold() == letters.casefold():
            return candidate
    return None


def expected(tokens: Collection[str], keywords: dict[str, str], begin: str) -> str:
    """What the parser would have taken, as `"from", a comma or the end of the line`.

    Parameters
    ----------
    tokens : names of the parser's tokens.
    keywords : the words of the language by the names of their tokens.
    begin : the word that begins the statement.
    """
    if begin in FORMS and begin not in ("load", "source", "cap"):
        tokens = set(tokens) - {"IS", "GOES", "SENSES", "ENDS", "_JOINED"} if begin != "--" else tokens
    order = ["NAME", "AMOUNT", "CORES", "VOLTAGES", "DIMENSIONS", "TEXT"]
    ranked = sorted(
        tokens, key=lambda token: (order.index(token) if token in order else 9, token == "$END", token)
    )
    words = []
    for token in ranked:
        if token == "AMOUNT" and begin in _VALUES:
            words.append(_VALUES[begin])
        elif token in _PLAIN:
            words.append(_PLAIN[token])
        else:
            words.append(f'"{keywords.get(token, token)}"')
    return either(words)
