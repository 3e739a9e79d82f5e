"""Every kind of mend in words, in one text: each edit in each way that it is said, each value of a line."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple, get_args

from wirecheck.assembly import assemble
from wirecheck.mend.edits import (
    Abreast,
    Behind,
    Cap,
    Change,
    Divide,
    Edit,
    Exchange,
    ExchangeAll,
    ExchangeSides,
    ExchangeThroughout,
    Gather,
    IntoHot,
    IntoWire,
    Jumper,
    Land,
    Mark,
    MarkThroughout,
    Meet,
    Move,
    OnScrews,
    Part,
    Pigtail,
    Protect,
    Refit,
    Renew,
    Restore,
    Rotate,
    Tail,
    TakeOver,
    Together,
    ToSpace,
    TwoPole,
    Unbridge,
)
from wirecheck.mend.sheet import sheet
from wirecheck.mend.words import told

FILE = Path(__file__).with_name("mends.txt")

BOARD = """board "A box of each joint"
panel LP 120/240 V, 10 kA available
breaker LP.1 20 A
breaker LP.3 20 A
box A device 34 cu in metal clamps
box B octagon 4 x 1-1/2 in
cable W1 14/3 NM-B 20 ft from LP to A
cable W2 14/3 NM-B 20 ft from A to B
cable W3 14/3 NM-B 20 ft from A to B
raceway R1 EMT 1/2 in 20 ft from LP to A
wire N1 14 THHN black 20 ft from LP to A in R1
S1 is 3-way-switch in A
S2 is single-pole-switch in A
G1 is gfci-receptacle in B
L1 is lampholder 60 W in B
at LP
  W1.black -- LP.1
  W1.white -- LP.neutral
  W1.bare -- W1.red -- N1 -- LP.ground
at A
  W1.black -- W2.black -- pigtail -- S1.common
  W2.red -- S1.traveler-1
  W3.red -- W3.black -- S2.line
  W1.white -- W2.white -- W3.white
  W1.red -- S2.load
  S1.traveler-2 -- S1.ground
  W1.bare -- W2.bare -- pigtail -- A.ground
  cap W3.bare
  cap N1
at B
  W2.black -- G1.line-hot -- L1.hot
  W2.white -- W3.white -- L1.neutral
  W2.bare -- W3.bare
"""

EDITS: tuple[Edit, ...] = (
    Exchange("A", "W2.red", "W1.red"),
    Exchange("A", "W1.black", "W1.white"),
    Exchange("A", "W3.bare", "W2.bare"),
    Exchange("A", "S1.traveler-1", "S2.load"),
    Exchange("A", "S2.line", "S2.ground"),
    Exchange("A", "S1.traveler-2", "S2.ground"),
    ExchangeThroughout("W2.black", "W2.red", ("A", "B")),
    ExchangeThroughout("W2.white", "W2.red", ("A", "B"), "black"),
    MarkThroughout("W2.white", ("A", "B"), "black"),
    Protect("LP.1", "LP", ("gfci",), (), ("W1.white",)),
    Protect("LP.1", "LP", ("gfci", "afci"), (), ()),
    Abreast("B", "L1.hot", "L1.neutral", "W3.white", "W2.bare"),
    Behind("A", ("S2.line", "S2.load"), "S1.common", "S1.traveler-1"),
    Rotate("A", ("W2.red", "W1.red", "W1.white")),
    TwoPole("LP.1", "LP.3", "LP", "20 A", (), (), 3),
    ToSpace("LP.5", 3, "b", "", "", ()),
    ToSpace("LP.5", 3, "b", "LP.1", "", ()),
    ToSpace("LP.5", 3, "b", "", "LP.1", ()),
    TwoPole("LP.1", "LP.3", "LP", "20 A", ("gfci",), (), 3),
    Renew(
        "R1",
        "dryer-receptacle-3-wire",
        "dryer-receptacle",
        (),
        "W1",
        "10/3 NM-B",
        (("LP", ("LP.ground",)), ("A", ("R1.ground", "A.ground"))),
    ),
    OnScrews("S1", ()),
    Restore(0, "F", "jumper", ("F.limit.a", "F.limit.b")),
    Restore(0, "F", "lift", ("F.limit.b",)),
    Restore(0, "F", "swap", ("F.limit.b", "F.blower.a")),
    Refit("L1", "duplex-receptacle", "split-receptacle", (), ("hot",), ()),
    Refit("L1", "split-receptacle", "split-receptacle-two-neutrals", (), ("neutral",), ()),
    Refit("L1", "duplex-receptacle", "split-receptacle-two-neutrals", (), ("hot", "neutral"), ()),
    Refit("L1", "split-receptacle", "duplex-receptacle", (), (), ("hot",)),
    ExchangeSides("G1", "B", (("G1.line-hot", "G1.load-hot"), ("G1.line-neutral", "G1.load-neutral"))),
    ExchangeSides("S1", "A", (("S1.common", "S2.line"), ("S1.traveler-1", "S2.load")), poles=True),
    ExchangeAll("A", (("W1.black", "W1.white"), ("W2.black", "W2.white"))),
    ExchangeAll("B", (("G1.line-hot", "G1.load-hot"), ("L1.neutral", "G1.load-neutral"))),
    Move("A", "W1.red", "W2.red"),
    Move("A", "W1.red", "S2.ground"),
    Move("A", "W1.red", "W1.white"),
    Move("A", "W1.white", "W1.black", marked="black"),
    Move("A", "W2.red", "S2.load", pigtail=True),
    Move("LP", "W1.black", "LP.neutral", fresh=True),
    Move("A", "W1.red", "S2.ground", capped="W3.white"),
    Move("LP", "W1.white", "LP.3", marked="black", far="A"),
    Move("A", "W3.bare", "W1.bare"),
    Move("A", "W3.bare", "N1"),
    Move("B", "W3.black", "W3.red"),
    Move("B", "W3.black", "G1.load-hot"),
    Gather("B", ("W3.red",), ("G1.load-hot",)),
    Gather("A", ("W3.bare",), ("S1.ground", "S2.ground")),
    Gather("B", ("W2.red", "W3.red", "W3.black"), ()),
    Gather("A", ("W3.bare", "N1"), ("S1.ground",)),
    Land("B", (("W3.black", "G1.load-hot"), ("W3.red", "G1.load-neutral"))),
    Meet("A", "W1.red", "W2.red"),
    Divide("A", ("W1.white", "W2.white")),
    Divide("A", ("W3.red", "S2.line")),
    Divide("B", ("G1.line-hot", "L1.hot")),
    IntoWire("A", "W1.red", "W2.red", "W3.red"),
    IntoWire("A", "W1.white", "W2.white", "W1.red"),
    IntoWire("A", "W2.red", "W1.white", "W3.red", across=True),
    Unbridge("LP", "W1.red", "N1", ("W1.bare",)),
    IntoHot("A", "S1.traveler-1", "S2.load", "W1.red", "W1.black"),
    TakeOver("A", "W3.bare", "W2.red", "S1.traveler-1", "S2.ground"),
    TakeOver("A", "W3.bare", "W2.red", "S1.traveler-2", "S1.ground"),
    Tail("A", "W1.white", "S2.load"),
    Tail("A", "W1.black", "S1.traveler-2", leaves="S1.ground"),
    Tail("A", "W3.bare", "S1.traveler-2", leaves="S1.ground"),
    Tail("A", "S2.load", "S1.traveler-2", leaves="S1.ground"),
    Tail("B", "G1.load-hot", "G1.line-hot", leaves="L1.hot"),
    Tail("A", "S1.common", "S2.load", leaves="W1.red", lead=True),
    Tail("A", "S2.line", "S2.load", leaves="W1.red", lead=True),
    Tail("A", "W1.red", "S2.ground"),
    Jumper("A", "S2.line", "S1.common"),
    Pigtail("A", "S2.line"),
    Pigtail("B", "G1.line-hot"),
    Part("A", "S1.ground", "S1.traveler-2"),
    Part("A", "A.ground", "W1.bare"),
    Part("A", "S2.line", "W3.red"),
    Part("B", "L1.hot", "G1.line-hot"),
    Cap("A", "W1.white"),
    Cap("B", "W3.red"),
    Mark("A", "W1.white", "black"),
    Mark("A", "W1.white", None),
)


class Value(NamedTuple):
    """A value of a line, as the changes of `wirecheck.mend.values` have it."""

    name: str
    what: str
    was: str
    now: str
    place: str = ""


VALUES = (
    Value("LP.1", "rating", "20 A", "15 A"),
    Value("LP", "main", "100 A", "60 A"),
    Value("LP", "bonded", "bonded", ""),
    Value("L1", "shutters", "none", "tamper-resistant"),
    Value("L1", "weather", "indoor", "weather-resistant"),
    Value("L1", "label", "dry", "wet-rated"),
    Value("LP.1", "leg", "a", "b"),
    Value("LP.1", "own leg", "leg a", ""),
    Value("LP.1", "tie", "", "tied to LP.3"),
    Value("W1", "cores", "14/3", "12/3"),
    Value("W1", "length", "9000 ft", "90 ft"),
    Value("W1", "kind", "NM-B", "UF-B"),
    Value("W1", "aluminum", "aluminum", ""),
    Value("W1", "free", "5 in", "7 in", "A"),
    Value("W1", "jacket", "1/8 in", "1/2 in", "A"),
    Value("W1", "secured", "14 in", "8 in", "A"),
    Value("W1", "every", "72 in", "48 in", "A"),
    Value("W1", "bend", "1 in", "2 in", "A"),
    Value("N1", "gauge", "14", "12"),
    Value("S1", "pigtail", "14", "12"),
    Value("W1", "connector", "SMALL", "LARGE", "A"),
    Value("W1", "metals", "", ", connector AL-CU", "A"),
    Value("N1", "color", "black", "white"),
    Value("R1", "conduit", "1/2 in", "3/4 in"),
    Value("A", "volume", "14 cu in", "18 cu in"),
    Value("A", "clamps", "clamps", ""),
    Value("A", "extension", "", "an extension of 4 x 1-1/2 in"),
    Value("B", "trade size", "4 x 1-1/2 in", "4 x 2-1/8 in"),
    Value("L1", "power", "100 W", "60 W"),
    Value("S1", "overload", "25 A", "20.1 A"),
    Value("L1", "voltage", "120 V", "240 V"),
    Value("L1", "primary", "208 V", "240 V"),
    Value("S1", "current", "15 A", "20 A"),
    Value("S1", "fuse", "40 A", "35 A"),
    Value("S1", "capacity", "10 VA", "30 VA"),
)

KINDS = get_args(Edit)


def mends() -> Iterator[str]:
    """Each edit, and each value of a line: what is wrong, and what to do."""
    syntax, board = assemble(BOARD)
    assert not syntax.problems and not board.problems, (syntax.problems, board.problems)
    now = sheet(syntax)
    declared: dict[str, int] = {}
    for number, statement in enumerate(syntax.statements):
        if hasattr(statement, "name"):
            declared.setdefault(statement.name.text, number)
    changes = [
        Change(declared[one.name], one.name, one.what, one.was, one.now, "", one.place) for one in VALUES
    ]
    by_what = {each.what: each for each in changes}
    both = Together(tuple(by_what["kind"]._replace(subject=name) for name in ("W1", "W2")))
    fit = Together(tuple(by_what["shutters"]._replace(subject=name) for name in ("R1", "R2")))
    for edit in (*EDITS, *changes, both, fit):
        name = edit.what if isinstance(edit, Change) else type(edit).__name__
        said = told(edit, now, board)
        yield from (f"{name}:", f"  {said.mistake}", f"  to do: {said.remedy}")


def printed() -> str:
    """All of it as one text."""
    return "\n".join([*mends(), ""])
