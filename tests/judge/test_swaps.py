"""The move or the swap of wires that puts every call right: each is tried."""

from __future__ import annotations

import pytest

from tests.rules.hands import changed
from tests.rules.hookups import BENCH, HOOKUP, STAT, hooked, made
from wirecheck.judge.calls import all_right
from wirecheck.judge.control_wires import crossings
from wirecheck.judge.swaps import Misplaced, Swap, Swapped, mending_swap, tells, uncrossed
from wirecheck.judge.swaps import made as swapped


def read(swap: Swap | None) -> tuple[str, ...] | None:
    """What is swapped with what, or moved where; and where that is."""
    match swap:
        case Swapped(one, other, join):
            return one.name, other.name, join.place
        case Misplaced(here, meant, join, member):
            return member.name, here.name, meant.name, join.place
    return None


def mended(text: str, **parts: str) -> tuple[str, ...] | None:
    return read(mending_swap(hooked(text, **parts)))


@pytest.mark.parametrize(
    ("joins", "swap"),
    [
        # Two wires on each other's terminals, at either end.
        (("F: TW.white -- F.Y", "F: TW.yellow -- F.W"), ("TW.white", "TW.yellow", "F")),
        (("TS: TW.white -- TS.Y1", "TS: TW.yellow -- TS.W-E"), ("TW.white", "TW.yellow", "TS")),
        (("F: TW.red -- F.W", "F: TW.white -- F.R"), ("TW.red", "TW.white", "F")),
        # One wire on another's terminal, with the other or in its place.
        (("F: TW.white -- F.Y",), ("TW.white", "F.Y", "F.W", "F")),
        (("TS: TW.red -- TS.Com", "TS: TW.blue -- TS.Rh"), ("TW.red", "TW.blue", "TS")),
    ],
)
def test_wires_that_are_crossed(joins: tuple[str, ...], swap: tuple[str, ...]) -> None:
    assert mended(made(HOOKUP, *joins)) == swap


def test_a_right_board_needs_nothing_and_is_right_as_it_is() -> None:
    told = hooked(HOOKUP)
    assert list(crossings(told)) == []


COLORS = ("red", "blue", "white", "yellow", "green")
SPLICED = changed(
    HOOKUP,
    ("at LP\n", "box B junction 42 cu in\ncable BW 18/5 CL2 10 ft from B to TS\nat LP\n"),
    ("cable TW 18/5 CL2 10 ft from F to TS", "cable TW 18/5 CL2 10 ft from F to B"),
    (
        "at TS\n",
        "at B\n" + "".join(f"  TW.{one} -- BW.{one}\n" for one in COLORS) + "at TS\n",
    ),
).replace("-- TS.", "-> TS.")
SPLICED = (
    "\n".join(
        line.replace("TW.", "BW.").replace("->", "--") if "->" in line else line
        for line in SPLICED.splitlines()
    )
    + "\n"
)


def test_two_wires_that_are_spliced_end_to_end_are_one() -> None:
    wrong = made(SPLICED, "TS: BW.white -- TS.Y1", "TS: BW.yellow -- TS.W-E")
    assert mended(wrong) == ("BW.white", "BW.yellow", "TS")


# A third wire in a splice may go anywhere: then no wire tells where its other end is.
BRANCHED = SPLICED.replace("at LP\n", "cable SP 18/5 CL2 10 ft from B to TS\nat LP\n").replace(
    "at TS\n", "at TS\n" + "".join(f"  cap SP.{one}\n" for one in COLORS)
)
for _color in COLORS:
    BRANCHED = BRANCHED.replace(f"-- BW.{_color}\n", f"-- BW.{_color} -- SP.{_color}\n")


def test_with_a_splice_on_the_way_two_screws_of_the_thermostat_are_tried() -> None:
    assert mended(made(BRANCHED, "TS: BW.white -- TS.Y1", "TS: BW.yellow -- TS.W-E")) == (
        "TS.W-E",
        "TS.Y1",
        "TS",
    )
    empty = changed(
        made(BRANCHED, "TS: BW.white -- TS.Y1"), ("  BW.yellow -- TS.Y1\n", "  cap BW.yellow\n")
    ).replace("expect cool runs F.cooling\n", "")
    assert mended(empty) == ("TS.Y1", "TS.Y1", "TS.W-E", "TS")
    # The same with the empty screw before the other.
    assert mended(
        changed(
            made(BRANCHED, "TS: BW.yellow -- TS.W-E"), ("  BW.white -- TS.W-E\n", "  cap BW.white\n")
        ).replace("expect heat runs F.heating\n", "")
    ) == ("TS.W-E", "TS.W-E", "TS.Y1", "TS")


def test_a_wire_that_belongs_in_a_splice_is_swapped_with_one_of_its_cable() -> None:
    """The equipment has no terminal for the cooling call, which goes on to another machine there."""
    bench = "".join(line for line in BENCH.splitlines(keepends=True) if " Y " not in line)
    cooler = """part cooler "A lamp for cooling"
terminal Y class-2, carries cool
terminal C class-2-common, carries common
load cooling lamp from Y to C, 5 VA at 24 V
"""
    text = changed(
        HOOKUP,
        ("TS is stat\n", "TS is stat\nK is cooler\n"),
        ("at LP\n", "cable KW 18/2 CL2 10 ft from F to K\nat LP\n"),
        ("  TW.yellow -- F.Y\n", "  TW.yellow -- KW.red\n"),
        ("  TW.blue -- F.C\n", "  TW.blue -- KW.white -- F.C\n"),
        ("at TS\n", "at K\n  KW.red -- K.Y\n  KW.white -- K.C\nat TS\n"),
        ("expect cool runs F.cooling", "expect cool runs K.cooling"),
    )
    assert crossings(hooked(text, bench=bench, cooler=cooler)) == ()
    wrong = made(text, "F: TW.yellow -- F.W", "F: TW.white -- KW.red")
    assert mended(wrong, bench=bench, cooler=cooler) == ("TW.yellow", "TW.white", "F")


# ----------------------------------------------------------- what is not tried


def test_line_voltage_is_never_swapped_to_see_what_it_does() -> None:
    """The equipment makes its call itself; its neutral would come back over a ground just as well."""
    machine = """part machine "A machine that calls for itself"
terminal L1 hot
terminal N neutral
terminal ground ground
terminal a contact
terminal b contact
calls run
load lamp lamp from L1 to N, 60 W at 120 V
"""
    text = """board "A machine"
panel LP 120/240 V, 10 kA available
breaker LP.1 15 A
M is machine
cable PF 14/2 NM-B 10 ft from LP to M
at LP
  PF.black -- LP.1
  PF.white -- LP.neutral
  PF.bare -- LP.ground
at M
  PF.black -- M.L1
  PF.bare -- M.ground
  cap PF.white
expect run runs M.lamp
"""
    assert mended(text, machine=machine) is None


def test_a_wire_is_not_moved_from_where_its_other_end_says_that_it_belongs() -> None:
    """A wire that no line wants would go anywhere; both of its ends are on the fan, and it stays."""
    assert mended(changed(HOOKUP, ("expect fan runs F.blowing", "expect fan runs nothing"))) is None


def test_what_carries_the_same_may_change_places() -> None:
    """Two feeds of a thermostat, of two transformers: both wires come from power."""
    stat = STAT.replace("terminal Com", "terminal Rc class-2, carries power\nterminal Com").replace(
        "Rh -- Y1", "Rc -- Y1"
    )
    text = changed(
        HOOKUP,
        ("TS is stat\n", "TS is stat\nT is class-2-transformer\n"),
        ("at LP\n", "cable PT 14/2 NM-B 10 ft from LP to T\ncable RW 18/2 CL2 10 ft from T to TS\nat LP\n"),
        ("  PF.black -- LP.1\n", "  PF.black -- PT.black -- pigtail -- LP.1\n"),
        ("  PF.white -- LP.neutral\n", "  PF.white -- LP.neutral\n  PT.white -- LP.neutral\n"),
        ("  PF.bare -- LP.ground\n", "  PF.bare -- LP.ground\n  PT.bare -- LP.ground\n"),
        (
            "at TS\n",
            "at T\n  PT.black -- T.primary-hot\n  PT.white -- T.primary-neutral\n  PT.bare -- T.ground\n"
            "  RW.red -- T.secondary-r\n  RW.white -- T.secondary-c\nat TS\n  RW.red -- TS.Rh\n",
        ),
        ("  TW.red -- TS.Rh\n", "  TW.red -- TS.Rc\n  cap RW.white\n"),
        (
            "expect heat runs F.heating\nexpect cool runs F.cooling\nexpect fan runs F.blowing\n",
            "expect heat runs F.heating\n",
        ),
    )
    assert mended(text, stat=stat) == ("TS.Rh", "TS.Rc", "TS")


# --------------------------------------------------------------- the hand's work

# Two wires come from the heat terminal of the thermostat, and one of them is where it belongs.
KEPT = changed(
    HOOKUP,
    ("18/5", "18/8"),
    ("  TW.white -- F.W\n", "  TW.white -- F.Y\n  TW.black -- F.W\n"),
    ("  TW.yellow -- F.Y\n", "  cap TW.yellow\n"),
    ("  TW.white -- TS.W-E\n", "  TW.white -- TW.black -- pigtail -- TS.W-E\n"),
)


def test_a_move_takes_the_wire_from_one_screw_to_the_other() -> None:
    told = hooked(made(HOOKUP, "F: TW.white -- F.Y"))
    (crossed,) = crossings(told)
    (swap,) = uncrossed(told, crossed)
    joins = {tuple(one.name for one in join.members) for join in swapped(told, swap).board.joins}
    assert ("F.Y",) in joins and ("TW.white", "F.W") in joins
    # The board itself is as it was.
    assert ("TW.white", "F.Y") in {tuple(one.name for one in join.members) for join in told.board.joins}


def test_a_move_to_a_screw_that_has_a_wire_puts_it_beside() -> None:
    told = hooked(KEPT)
    (crossed,) = crossings(told)
    (swap,) = uncrossed(told, crossed)
    joins = {tuple(one.name for one in join.members) for join in swapped(told, swap).board.joins}
    assert ("TW.black", "F.W", "TW.white") in joins and ("F.Y",) in joins


def test_the_likeliest_comes_first() -> None:
    """Where the right terminal has a wire that does not come from its like, the two are swapped."""
    told = hooked(made(HOOKUP, "F: TW.white -- F.Y", "F: TW.yellow -- F.W"))
    assert [read(swap) for swap in uncrossed(told, crossings(told)[0])] == [
        ("TW.white", "TW.yellow", "F"),
        ("TW.white", "F.Y", "F.W", "F"),
    ]


def test_a_wire_that_comes_from_its_like_keeps_its_place() -> None:
    told = hooked(KEPT)
    assert [read(swap) for swap in uncrossed(told, crossings(told)[0])] == [("TW.white", "F.Y", "F.W", "F")]


# -------------------------------------------------------------------- tells


def told_by(text: str, **parts: str) -> bool:
    told = hooked(text, **parts)
    return any(tells(told, next(uncrossed(told, one))) for one in crossings(told))


def test_a_swap_that_changes_what_runs_tells() -> None:
    assert told_by(made(HOOKUP, "F: TW.white -- F.Y", "F: TW.yellow -- F.W"))


def test_a_swap_of_the_ends_of_a_coil_tells_nothing() -> None:
    lamp = """part lamp-24 "A lamp between two terminals"
terminal W class-2, carries heat
terminal C class-2-common, carries common
load heating lamp from W to C, 5 VA at 24 V
"""
    text = changed(
        HOOKUP,
        ("TS is stat\n", "TS is stat\nK is lamp-24\n"),
        ("at LP\n", "cable KW 18/2 CL2 10 ft from F to K\nat LP\n"),
        ("  TW.white -- F.W\n", "  TW.white -- KW.white -- F.W\n"),
        ("  TW.blue -- F.C\n", "  TW.blue -- KW.red -- F.C\n"),
        ("at TS\n", "at K\n  KW.red -- K.W\n  KW.white -- K.C\nat TS\n"),
    )
    assert crossings(hooked(text, **{"lamp-24": lamp}))
    assert not told_by(text, **{"lamp-24": lamp})


RELAYED = (
    made(HOOKUP, "F: TW.green -- KW.green")
    .replace("cable TW", "K is relay-dpdt\ncable KW 18/5 CL2 5 ft from F to K\ncable TW")
    .replace("  TW.red -- F.R\n", "  TW.red -- pigtail -- KW.red -- F.R\n")
    .replace("  TW.blue -- F.C\n", "  TW.blue -- pigtail -- KW.blue -- F.C\n")
    .replace("at TS\n", "  KW.white -- F.G\nat K\n  KW.red -- K.common-1\n  KW.white -- K.no-1\nat TS\n")
    .replace("at TS\n", "  KW.green -- K.coil-a\n  KW.blue -- K.coil-b\nat TS\n")
) + "expect idle runs nothing\n"
RESTING = ("KW.white -- K.no-1", "KW.white -- K.nc-1")


def test_a_load_on_a_relays_resting_screw_belongs_on_the_other() -> None:
    assert mended(changed(RELAYED, RESTING)) == ("K.nc-1", "K.nc-1", "K.no-1", "K")


def test_two_loads_on_the_screws_of_a_relay_are_swapped() -> None:
    yellow = ("  KW.white -- F.G\n", "  KW.white -- F.G\n  KW.yellow -- F.X\n")
    text = changed(RELAYED, RESTING, yellow).replace(
        "  KW.green -- K.coil-a\n", "  KW.green -- K.coil-a\n  KW.yellow -- K.no-1\n"
    )
    assert mended(text) == ("K.nc-1", "K.no-1", "K")


def test_the_screws_of_two_contacts_of_a_relay_are_not_each_others() -> None:
    # The way in is on the first contact, and the way out on the second.
    assert mended(changed(RELAYED, (RESTING[0], "KW.white -- K.nc-2"))) is None


def test_a_relay_as_it_should_be_runs_what_it_should() -> None:
    assert all_right(hooked(RELAYED))
