"""Where a path stops: each kind of end, on boards where it can be seen by eye."""

from __future__ import annotations

import pytest

from tests.rules.hands import COOLING, LIGHT, case, changed, own
from tests.samples import board, fed
from wirecheck import files
from wirecheck.circuit.circuit import Contact
from wirecheck.circuit.opening import Opening
from wirecheck.circuit.settle import Settled
from wirecheck.judge.case import Case
from wirecheck.judge.continuity import (
    HeldOpen,
    NoneOfItsKind,
    NoPower,
    NoSource,
    NotJoined,
    NoWire,
    Opened,
    Standing,
    Stop,
    TooLittle,
    Wanted,
    of_load,
    why_no_volts,
    why_not,
)
from wirecheck.judge.stop_words import remedy, said
from wirecheck.judge.unfed import supplied
from wirecheck.language.syntax import AllOf, Called, Negation
from wirecheck.model.board import Conductor, Device, Join


def why(text: str, load: str, moved: dict[str, str] | None = None, *calls: str) -> tuple[Stop, Case]:
    """Why a load does not run with some switches moved and some calls standing."""
    told = case(text)
    settled = told.standing(moved or {}, calls) if calls else told.settled(moved or {})
    return why_not(told, settled, told.circuit.load[load]), told


def named(stop: Stop) -> tuple[str, str]:
    """The two ends of a joint that is missing."""
    assert isinstance(stop.end, NotJoined)
    return stop.end.here.name, stop.end.on.name


# -------------------------------------------------------------------- a joint


@pytest.mark.parametrize(
    ("change", "joint", "at"),
    [
        # The hot of the lamp, and its neutral.
        (("  W2.black -- L1.hot\n", ""), ("W2.black@B", "L1.hot"), "W2.black -- S1.load"),
        (("  W2.white -- L1.neutral\n", ""), ("W2.white@B", "L1.neutral"), None),
        # Between two cables.
        (("  W1.white -- W2.white\n", ""), ("W1.white@A", "W2.white@A"), None),
        # At the switch, and at the breaker.
        (("  W2.black -- S1.load\n", ""), ("S1.load", "W2.black@A"), None),
        (("  W1.black -- LP.3\n", ""), ("LP.3", "W1.black@LP"), None),
    ],
)
def test_the_joint_that_is_missing(change: tuple[str, str], joint: tuple[str, str], at: str | None) -> None:
    stop, _ = why(changed(LIGHT, change), "L1")
    assert named(stop) == joint
    assert (stop.steps, stop.through, stop.wanted.of.name) == (0, (), "L1")


def test_the_line_that_a_missing_joint_points_at() -> None:
    """Where one of its ends is capped; else where one is joined to something; else the wire's own line."""
    capped = changed(LIGHT, ("W2.black -- L1.hot", "cap W2.black"))
    stop, _ = why(capped, "L1")
    assert stop.at is not None and isinstance(stop.at.of, Conductor)
    assert capped.splitlines()[stop.at.span.line - 1].strip() == "cap W2.black"
    loose = changed(LIGHT, ("  W2.black -- L1.hot\n", ""))
    stop, _ = why(loose, "L1")
    assert stop.at is not None and isinstance(stop.at.of, Conductor)
    assert loose.splitlines()[stop.at.span.line - 1].startswith("cable W2")
    joined = changed(
        LIGHT,
        ("  W2.black -- L1.hot\n", ""),
        ("box A", "L2 is lampholder 60 W in B\nbox A"),
        ("W2.bare -- L1.ground", "W2.black -- L2.hot\n  W2.bare -- L1.ground"),
    )
    stop, _ = why(joined, "L1")
    assert stop.at is not None and isinstance(stop.at.of, Join)
    assert joined.splitlines()[stop.at.span.line - 1].strip() == "W2.black -- L2.hot"


def test_a_wire_that_is_joined_to_what_it_does_not_belong_to_comes_before_one_in_its_place() -> None:
    """W2.black, tied to the bare wire, and W3.black, on the lamp beside it, could both feed L1."""
    lines = (
        "box A device 40 cu in",
        "cable W1 14/2 NM-B 20 ft from LP to A",
        "cable W2 14/2 NM-B 20 ft from LP to A",
        "L1 is lampholder 60 W in A",
        "L2 is lampholder 60 W in A",
        "at LP",
        "W1.black -- LP.3 -- W2.black",
        "W1.white -- LP.neutral",
        "at A",
        "W1.black -- L2.hot",
        "W2.bare -- W2.black",
        "W1.white -- L1.neutral -- L2.neutral",
    )
    stop, _ = why(fed(*lines), "L1")
    assert named(stop) == ("W2.black@A", "L1.hot")
    # And a wire that waits before either.
    stop, _ = why(fed(*lines[:-2], "W1.white -- L1.neutral -- L2.neutral"), "L1")
    assert named(stop) == ("W2.black@A", "L1.hot") and stop.steps == 0


@pytest.mark.parametrize(("joined", "steps"), [("cap W1.bare", 1), ("L1.hot -- L3.hot", 50)])
def test_a_joint_of_two_ends_that_are_both_in_use_is_no_sure_open_place(joined: str, steps: int) -> None:
    lines = (
        "box A device 40 cu in",
        "cable W1 14/2 NM-B 20 ft from LP to A",
        *(f"L{number} is lampholder 60 W in A" for number in (1, 2, 3)),
        "at LP",
        "W1.black -- LP.3",
        "W1.white -- LP.neutral",
        "at A",
        "W1.black -- L2.hot",
        joined,
        "W1.white -- L1.neutral -- L2.neutral -- L3.neutral",
    )
    stop, _ = why(fed(*lines), "L1")
    assert (named(stop)[0], stop.steps) == ("W1.black@A", steps)


def test_no_joint_is_made_between_two_wires_of_one_cable_or_with_a_ground() -> None:
    """The white of W1 is cut off at the panel: its black, which waits beside it, is not what it lacks."""
    lines = (
        "box A device 40 cu in",
        "cable W1 14/2 NM-B 20 ft from LP to A",
        "L1 is lampholder 60 W in A",
        "at LP",
        "W1.black -- LP.3",
        "cap W1.white",
        "cap W1.bare",
        "at A",
        "W1.black -- L1.hot",
        "W1.white -- L1.neutral",
    )
    stop, _ = why(fed(*lines), "L1")
    assert named(stop) == ("LP.neutral", "W1.white@LP")


@pytest.mark.parametrize(
    ("changes", "joint", "off"),
    [
        # Nothing is in the way of a wire that waits.
        ((("  W2.black -- L1.hot\n", ""),), ("W2.black@B", "L1.hot"), []),
        # The wire was put on the green screw, and the bare one on the brass screw: both come off first.
        (
            (("W2.black -- L1.hot", "W2.black -- L1.ground"), ("W2.bare -- L1.ground", "W2.bare -- L1.hot")),
            ("W2.black@B", "L1.hot"),
            ["W2.black", "W2.bare"],
        ),
        # The black was put with the whites, which lead to the neutral.
        (
            (("W1.white -- W2.white", "W1.white -- W2.white -- W2.black"), ("  W2.black -- S1.load\n", "")),
            ("S1.load", "W2.black@A"),
            ["W2.black"],
        ),
    ],
)
def test_what_must_come_off_before_a_joint_is_made(
    changes: tuple[tuple[str, str], ...], joint: tuple[str, str], off: list[str]
) -> None:
    told = case(changed(LIGHT, *changes))
    stop = why_not(told, (told.states[0].first or told.states[0]), told.circuit.load["L1"])
    assert named(stop) == joint and isinstance(stop.end, NotJoined)
    assert [wire.name for wire in stop.end.off] == off


LEGS = (
    "breaker LP.2 15 A 2-pole",
    "box A device 40 cu in",
    "cable W1 12/3 NM-B 20 ft from LP to A",
    "cable W2 12/2 NM-B 20 ft from LP to A",
    "H1 is heater 1500 W, 240 V in A",
    "at LP",
    "W1.black -- LP.2.a",
    "at A",
)


def test_a_wire_on_the_other_leg_comes_off_before_it_is_joined() -> None:
    """Both hots of the heater are on one leg: the red comes off before it goes on the other breaker pole."""
    lines = (*LEGS[:-2], "W1.black -- W1.red -- LP.2.a", *LEGS[-1:], "W1.black -- H1.a", "W1.red -- H1.b")
    stop, _ = why(changed(fed(*lines), ("breaker LP.3 15 A\n", "")), "H1")
    assert named(stop) == ("LP.2.b", "W1.red@LP") and isinstance(stop.end, NotJoined)
    assert [wire.name for wire in stop.end.off] == ["W1.red"]


def test_a_wire_that_waits_and_leads_to_the_neutral_is_not_joined_to_a_hot() -> None:
    """W2.black is capped at A; at the panel it is on the neutral bar, so that to join it would be a short."""
    lines = (
        *LEGS[:4],
        "L1 is lampholder 60 W in A",
        *LEGS[5:7],
        "W2.black -- LP.neutral",
        "W1.white -- LP.neutral",
        "at A",
        "W1.white -- L1.neutral",
        "cap W2.black",
        "cap W1.black",
    )
    stop, _ = why(fed(*lines), "L1")
    assert named(stop) == ("W1.black@A", "L1.hot")
    only = [line for line in lines if "W1.black" not in line]
    stop, _ = why(fed(*only), "L1")
    assert "W2.black@A" not in named(stop)


def test_a_hot_that_comes_among_neutrals_finds_no_wire_of_its_kind() -> None:
    """Whites alone lead to the lamp's box: none of those that are joined there goes on to its hot screw."""
    lines = (
        "box B device 40 cu in",
        "raceway RW EMT 1/2 in 20 ft from LP to B",
        "wire H1 14 THHN white 20 ft from LP to B in RW",
        "wire H2 14 THHN white 20 ft from LP to B in RW",
        "wire H3 14 THHN white 20 ft from LP to B in RW",
        "L1 is lampholder 60 W in B",
        "at LP",
        "H1 -- LP.3",
        "H2 -- LP.neutral",
        "at B",
        "H1 -- H3",
        "H2 -- L1.neutral",
    )
    stop, _ = why(fed(*lines), "L1")
    assert isinstance(stop.end, NoneOfItsKind)
    assert (stop.end.here.name, stop.steps) == ("H1@B", 50)
    assert stop.at is not None and isinstance(stop.at.of, Join) and stop.at.of.place == "B"


# ------------------------------------------------------------------ a contact


def test_a_switch_that_is_off() -> None:
    stop, _ = why(LIGHT, "L1", {"S1": "off"})
    assert isinstance(stop.end, HeldOpen) and stop.end.contact.scope == "S1"
    assert stop.at is not None and isinstance(stop.at.of, Device)
    assert stop.steps == 50


def test_a_way_around_a_switch_is_no_joint() -> None:
    """The white is missing too; the switch is off, and W1.black could be joined to W2.black past it."""
    stop, _ = why(changed(LIGHT, ("  W2.white -- L1.neutral\n", "")), "L1", {"S1": "off"})
    assert isinstance(stop.end, HeldOpen)


def test_a_breaker_that_has_opened() -> None:
    told = case(LIGHT)
    settled = told.settled({})
    opened = settled._replace(
        opened=(Opening("LP.3", "overload", 100.0, 15.0),), volts=tuple(0j for _ in settled.volts)
    )
    stop = why_not(told, opened, told.circuit.load["L1"])
    assert isinstance(stop.end, Opened) and stop.end.protection.name == "LP.3"
    assert stop.at is not None and stop.at.of is stop.end.protection


# -------------------------------------------------------------------- sources


def test_too_little_of_its_volts() -> None:
    """Two equal lamps in series get half each (Kirchhoff's voltage law)."""
    text = changed(
        LIGHT, ("L1 is lampholder 60 W in B", "L1 is lampholder 60 W in B\nL2 is lampholder 60 W in B"),
        ("W2.white -- L1.neutral", "L1.neutral -- L2.hot\n  W2.white -- L2.neutral"),
    )  # fmt: skip
    stop, _ = why(text, "L1")
    assert isinstance(stop.end, TooLittle)
    assert stop.end.present == pytest.approx(60, abs=0.5)
    assert stop.at is None


@pytest.mark.parametrize(("ohms", "little"), [(100.0, True), (2000.0, False)])
def test_a_fifth_of_its_volts_is_too_little_and_less_is_none(ohms: float, little: bool) -> None:
    """A heater of 240 ohm at 120 V behind 100 ohm gets 84 V; behind 2000 ohm 13 V, which are 11 %."""
    part = (
        'part stopper "A resistor"\nterminal a line\nterminal b line\n'
        f"load ohms heater from a to b, {ohms:g} ohm at 120 V\n"
    )
    text = fed(
        "box A device 40 cu in", "cable W1 14/2 NM-B 20 ft from LP to A",
        "X is stopper in A", "H is heater 60 W, 120 V in A",
        "at LP", "W1.black -- LP.3", "W1.white -- LP.neutral",
        "at A", "W1.black -- X.a", "X.b -- H.a", "W1.white -- H.b",
    )  # fmt: skip
    made = board(text, {"stopper": part})
    told = Case(made)
    stop = why_not(told, told.settled({}), told.circuit.load["H"])
    assert isinstance(stop.end, TooLittle) == little


def test_no_source_of_such_volts_and_no_wire_of_one() -> None:
    lines = ("box A device 40 cu in", "H1 is heater 1500 W, 240 V in A", "L1 is lampholder 60 W in A")
    text = fed(*lines)
    stop, _ = why(text.replace("120/240 V", "120 V"), "H1")
    assert isinstance(stop.end, NoSource) and stop.at is None and stop.steps == 100
    stop, _ = why(text, "L1")
    assert isinstance(stop.end, NoWire) and stop.at is None and stop.steps == 100


def test_a_transformer_without_power_is_followed_to_its_primary() -> None:
    stop, told = why(changed(COOLING, ("  PF.black -- LP.1\n", "")), "F.control-board")
    assert [one.name for one in stop.through] == ["F.transformer"]
    assert named(stop) == ("LP.1", "PF.black@LP")
    assert stop.wanted.of is told.circuit.windings[0] and stop.steps == 1


def test_a_path_that_is_whole_and_dead() -> None:
    """The leg itself without a volt, as a short leaves it."""
    told = case(LIGHT)
    settled = told.settled({})
    dead = settled._replace(volts=tuple(0j for _ in settled.volts))
    stop = why_no_volts(told, dead, of_load(told.circuit.load["L1"]))
    assert isinstance(stop.end, NoPower) and stop.at is None and stop.steps == 0


# ------------------------------------------------------------ what waits for what


def test_a_call_is_followed_to_the_wire_that_is_off() -> None:
    text = changed(COOLING, ("  OW.red -- CU.Y\n", ""))
    stop, _ = why(text, "CU.compressor", None, "cool")
    assert named(stop) == ("OW.red@CU", "CU.Y")
    assert stop.through and stop.wanted.of.name != "CU.compressor"
    assert stop.steps == len(stop.through)


def test_without_a_call_it_waits_for_the_call() -> None:
    stop, _ = why(COOLING, "CU.compressor")
    assert isinstance(stop.end, HeldOpen) and stop.end.contact.scope == "TS"
    assert stop.steps >= 100


def test_every_stop_can_be_said() -> None:
    """Whole sentences, each with what it is about; and a remedy."""
    for text, load, moved, calls in (
        (LIGHT, "L1", {"S1": "off"}, ()),
        (COOLING, "CU.compressor", {}, ()),
        (changed(COOLING, ("  OW.red -- CU.Y\n", "")), "CU.compressor", {}, ("cool",)),
        (changed(COOLING, ("  PF.black -- LP.1\n", "")), "F.control-board", {}, ()),
    ):
        stop, told = why(text, load, moved, *calls)
        told_of = said(stop, told)
        assert told_of.endswith(".") and ".." not in told_of and not told_of.startswith(" ")
        assert remedy(stop).endswith(".")


SLOW = """\
part slow-contact "A contact that a control closes"
terminal a contact
terminal b contact
calls go
state control waiting, ready
control goes from waiting to ready when call go and not b has 18 V to a
a -- b when control is ready
"""


@pytest.mark.parametrize(("call", "lacking"), [((), [Called, Negation]), (("go",), [Negation])])
def test_a_state_that_stands_until_something_is_so(call: tuple[str, ...], lacking: list[type]) -> None:
    """Of facts that must all be so, those that are not are told."""
    made = board(
        fed(
            "box A device 40 cu in", "cable W1 14/2 NM-B 20 ft from LP to A", "X is slow-contact in A",
            "L1 is lampholder 60 W in A", "at LP", "W1.black -- LP.3", "W1.white -- LP.neutral",
            "at A", "W1.black -- X.a", "X.b -- L1.hot", "W1.white -- L1.neutral",
        ),
        {"slow-contact": SLOW},
    )  # fmt: skip
    told = Case(made)
    stop = why_not(told, told.settled({}, call), told.circuit.load["L1"])
    assert isinstance(stop.end, Standing)
    assert (stop.end.variable, stop.end.value, stop.end.scope) == ("X.control", "waiting", "X")
    until = stop.end.until.facts if isinstance(stop.end.until, AllOf) else (stop.end.until,)
    assert [type(fact) for fact in until] == lacking
    assert stop.steps == 51 and [type(one) for one in stop.through] == [Contact]


def test_a_state_is_followed_to_the_wire_that_it_waits_for() -> None:
    """The furnace's control stays idle until its heat terminal has 24 V, and the wire for that is off."""
    stop, _ = why(changed(COOLING, ("  TW.white -- TS.W\n", "")), "F.inducer", None, "heat")
    assert named(stop) == ("TS.W", "TW.white@TS")
    assert any(isinstance(one, Standing) and one.variable == "F.control" for one in stop.through)
    assert stop.steps == len(stop.through)


ROOM = (
    "box A device 40 cu in", "cable W1 14/2 NM-B 20 ft from LP to A", "L1 is lampholder 60 W in A",
    "at LP", "W1.black -- LP.3", "W1.white -- LP.neutral", "at A", "W1.white -- L1.neutral",
)  # fmt: skip


def test_what_waits_for_itself_is_followed_once() -> None:
    """A relay whose coil is fed through its own contact alone."""
    relay = (
        'part latch "A relay"\nterminal a contact\nterminal b contact\nterminal n line\n'
        "load coil coil from b to n, 5 VA at 120 V\na -- b when coil runs\n"
    )
    text = fed(*ROOM, "W1.black -- X.a", "X.b -- L1.hot").replace("L1 is", "X is latch in A\nL1 is")
    told = Case(board(text.replace("-- L1.neutral", "-- L1.neutral -- X.n"), {"latch": relay}))
    stop = why_not(told, told.settled({}), told.circuit.load["L1"])
    assert isinstance(stop.end, HeldOpen) and stop.end.contact.scope == "X"
    assert len(stop.through) == 1


def test_of_facts_that_must_all_be_so_those_that_are_so_are_passed_over() -> None:
    """It has its 120 V and waits for its second wire."""
    part = (
        'part watcher "A contact"\nterminal a line\nterminal n line\nterminal s line\nterminal b contact\n'
        "a -- b when a has 90 V to n and s has 90 V to n\n"
    )
    text = fed(*ROOM, "W1.black -- X.a", "X.b -- L1.hot").replace("L1 is", "X is watcher in A\nL1 is")
    told = Case(board(text.replace("-- L1.neutral", "-- L1.neutral -- X.n"), {"watcher": part}))
    stop = why_not(told, told.settled({}), told.circuit.load["L1"])
    assert stop.wanted.of.name == "X.s" and [type(one) for one in stop.through] == [Contact]


def test_a_way_through_a_call_that_is_not_made_is_no_way() -> None:
    """Heat would light the lamp; cooling is called, and its wire is missing."""
    part = (
        'part stat "A thermostat"\nterminal R contact\nterminal W contact\nterminal Y contact\n'
        "calls heat, cool\nR -- W when call heat\nR -- Y when call cool\n"
    )
    text = fed(*ROOM, "W1.black -- X.R", "X.W -- L1.hot").replace("L1 is", "X is stat in A\nL1 is")
    told = Case(board(text, {"stat": part}))
    lamp = told.circuit.load["L1"]
    assert named(why_not(told, told.settled({}, ["cool"]), lamp)) == ("X.Y", "L1.hot")
    # With nothing called neither way is better than the other.
    stop = why_not(told, told.settled({}), lamp)
    assert isinstance(stop.end, HeldOpen) and (stop.end.contact.b, stop.steps) == ("X.W", 100)


def test_no_wire_is_led_past_what_waits_for_heat() -> None:
    """The fan switch is cold; the feed could be joined to the lamp beside it, and must not be."""
    text = fed(*ROOM, "W1.black -- FS.a").replace("L1 is", "FS is fan-switch in A\nL1 is")
    stop, _ = why(text, "L1")
    assert isinstance(stop.end, HeldOpen) and stop.end.contact.scope == "FS"


def test_a_ground_is_never_what_something_should_be_joined_to() -> None:
    """The bare wire waits beside the lamp's neutral; its white is cut off at the panel."""
    lines = [line.replace("W1.white -- LP.neutral", "W1.bare -- LP.ground") for line in ROOM]
    stop, _ = why(fed(*lines, "W1.black -- L1.hot"), "L1")
    assert named(stop) == ("LP.neutral", "W1.white@LP")


@pytest.mark.parametrize(("given", "source"), [(16, False), (18, True), (33, True), (34, False)])
def test_which_source_is_meant_for_a_load_of_24_volts(given: int, source: bool) -> None:
    """One within 30 % below and 40 % above: 16.8 V to 33.6 V."""
    parts = {
        "source": 'part source "A transformer"\nterminal h hot\nterminal n neutral\nterminal r contact\n'
        f"terminal c contact\ntransforms 120 V from h to n into {given} V from r to c, capacity 40 VA, "
        "impedance 5 %\n",
        "lamp-24": 'part lamp-24 "A lamp"\nterminal a contact\nterminal b contact\n'
        "load lamp lamp from a to b, 5 W at 24 V\n",
    }
    text = fed("box A device 40 cu in", "T is source in A", "L is lamp-24 in A", "at A", "T.c -- L.b")
    told = Case(board(text, parts))
    stop = why_not(told, told.settled({}), told.circuit.load["L"])
    assert isinstance(stop.end, NoSource) != source
    if source:
        assert named(stop)[0] in ("T.r", "T.c")


def test_a_transformer_that_is_fed_and_gives_nothing_is_not_followed_to_its_primary() -> None:
    told = case(COOLING)
    settled = told.settled({})
    (winding,) = told.circuit.windings
    dead = {told.circuit.node[end] for end in winding.secondary}
    volts = tuple(0j if node in dead else value for node, value in enumerate(settled.volts))
    stop = why_not(told, settled._replace(volts=volts), told.circuit.load["F.control-board"])
    assert isinstance(stop.end, NoPower) and stop.through == ()


def test_of_all_that_is_on_a_screw_only_what_does_not_belong_there_comes_off() -> None:
    """A black that leads nowhere may stay on the brass screw; the white goes."""
    lines = (
        *ROOM[:2],
        "cable W2 14/2 NM-B 20 ft from LP to A",
        *ROOM[2:-1],
        "W2.black -- L1.hot",
        "W2.white -- L1.hot",
        "cap W1.black",
        ROOM[-1],
    )
    stop, _ = why(fed(*lines), "L1")
    assert named(stop) == ("W1.black@A", "L1.hot") and isinstance(stop.end, NotJoined)
    assert [wire.name for wire in stop.end.off] == ["W2.white"]


def test_a_hot_is_not_joined_to_a_screw_that_leads_to_the_neutral() -> None:
    """Both sides of a heater are on whites; its screws do not say which is for the hot."""
    lines = [line.replace("L1 is lampholder 60 W", "H1 is heater 1500 W, 120 V") for line in ROOM[:-1]]
    stop, _ = why(fed(*lines, "W1.white -- H1.a -- H1.b", "cap W1.black"), "H1")
    assert isinstance(stop.end, NoneOfItsKind) and stop.end.here.name == "W1.black@A"


def moving(*moves: str) -> Case:
    """A lamp behind a contact that a control of three states closes when it is ready."""
    part = (
        'part slow "A contact"\nterminal a contact\nterminal b contact\ncalls one, two\n'
        "state control waiting, other, ready\n" + "".join(f"control goes from {move}\n" for move in moves)
    )
    text = fed(*ROOM, "W1.black -- X.a", "X.b -- L1.hot").replace("L1 is", "X is slow in A\nL1 is")
    return Case(board(text, {"slow": f"{part}a -- b when control is ready\n"}))


def test_the_first_move_is_one_on_the_way_to_where_a_state_is_wanted() -> None:
    told = moving("waiting to other when call one", "waiting to ready when call two")
    stop = why_not(told, told.settled({}), told.circuit.load["L1"])
    assert isinstance(stop.end, Standing) and isinstance(stop.end.until, Called)
    assert stop.end.until.call.text == "two"


@pytest.mark.parametrize(
    ("when", "steps"), [("call one or call two", 100), ("call one or b has 90 V to a", 50)]
)
def test_of_alternatives_one_that_needs_no_call_is_a_way(when: str, steps: int) -> None:
    part = (
        'part either "A contact"\nterminal a contact\nterminal b contact\ncalls one, two\n'
        f"a -- b when {when}\n"
    )
    text = fed(*ROOM, "W1.black -- X.a", "X.b -- L1.hot").replace("L1 is", "X is either in A\nL1 is")
    told = Case(board(text, {"either": part}))
    settled = told.settled({})
    dead = settled._replace(volts=tuple(0j for _ in settled.volts))
    stop = why_not(told, dead, told.circuit.load["L1"])
    assert stop.steps - stop.steps % 50 == steps


@pytest.mark.parametrize(("least", "nominal"), [(24, 24), (25, 120), (121, 240)])
def test_what_a_control_waits_for_is_the_least_source_that_would_do(least: int, nominal: float) -> None:
    """Of a transformer's 24 V, a leg's 120 V and the 240 V between the two."""
    parts = {
        "source": 'part source "A transformer"\nterminal h hot\nterminal n neutral\nterminal r contact\n'
        "terminal c contact\ntransforms 120 V from h to n into 24 V from r to c, capacity 40 VA, "
        "impedance 5 %\n",
        "watcher": 'part watcher "A contact"\nterminal a contact\nterminal b contact\n'
        f"terminal s contact\nterminal c contact\na -- b when s has {least} V to c\n",
    }
    lines = (*ROOM, "W1.black -- X.a", "X.b -- L1.hot", "T.c -- X.c")
    text = fed(*lines).replace("L1 is", "T is source in A\nX is watcher in A\nL1 is")
    told = Case(board(text, parts))
    stop = why_not(told, told.settled({}), told.circuit.load["L1"])
    assert (stop.wanted.of.name, stop.wanted.volts) == ("X.s", nominal)


def test_a_fifth_of_its_volts_is_none() -> None:
    told = case(LIGHT)
    settled, lamp = told.settled({"S1": "off"}), told.circuit.load["L1"]
    hot, neutral = told.circuit.legs[0].point, "LP.neutral"
    assert settled.across(hot, neutral) == 120
    for volts, little in ((599.0, True), (600.0, False)):
        stop = why_no_volts(told, settled, Wanted(lamp, hot, neutral, volts))
        assert isinstance(stop.end, TooLittle) == little


# ------------------------------------------------------- what nobody should join


def test_power_is_not_joined_to_class_2() -> None:
    stop = why_no_volts(*_dead_primary())
    assert isinstance(stop.end, NoneOfItsKind)


def _dead_primary() -> tuple[Case, Settled, Wanted]:
    """A transformer whose primary nothing feeds, in a box with power in a Class 2 cable and its own 24 V."""
    told = case(own("class-2-supply", "on-power"))
    winding = told.circuit.windings[0]
    rest = told.states[0]
    return told, rest.first or rest, Wanted(winding, *winding.primary, winding.primary_volts)


# -------------------------------------------------------------- in a signal's wire

PAIR = (files.folder("boards") / "ductless-pair" / "right.wire").read_text(encoding="utf-8")
KIT = (files.folder("boards") / "common-wire-kit" / "right.wire").read_text(encoding="utf-8")


def test_a_way_goes_on_through_what_stands_in_series() -> None:
    """The fan call goes through the sender's diode: where the receiver has no common, that is told."""
    text = changed(KIT, ("OW.white -- K.C -- F.C", "OW.white -- F.C"))
    stop, _ = why(text, "F.blower", None, "fan")
    assert "K.C" in named(stop)
    # And the diode itself is no load that has no power.
    assert "S" not in {one.wanted.of.name for one in supplied(case(KIT))}


def test_what_listens_on_a_wire_is_no_load_that_has_no_power() -> None:
    pair = {one.wanted.of.name for one in supplied(case(PAIR))}
    assert "I.board" in pair and pair.isdisjoint(("I.listener", "I.sends-cool", "O.listener-1"))
