"""Metal without a ground, grounds that lead nowhere, and where the way home was left open."""

from __future__ import annotations

import pytest

from tests.rules.hands import COOLING, LIGHT, STAIR, at, case, changed, own, reported, said, seen
from tests.samples import fed
from wirecheck import check, files
from wirecheck.rules.open_ground import (
    RULE,
    CappedGround,
    FlexibleGround,
    LeadsNowhere,
    OpenGround,
    SwitchedGround,
)


@pytest.mark.parametrize("text", [STAIR, COOLING, LIGHT])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_a_ground_left_out_of_the_splice_is_at_the_cable_that_was_left() -> None:
    text = own("open-ground", "left-in-the-box")
    (lost,) = seen(RULE, text)
    assert isinstance(lost, OpenGround)
    assert (lost.severity, lost.stage, lost.subject) == ("hazard", "trim", "L1")
    assert at(text, lost).startswith("cable W2")
    conductor, end = lost.left
    assert (conductor.name, end.place) == ("W2.bare", "A")
    assert lost.copper == {case(text).uses.piece["L1.ground"]}
    assert reported(text) == ["open-ground"]


def test_each_open_ground_is_found_once_with_all_that_is_on_it() -> None:
    text = own("open-ground", "left-in-the-panel")
    (lost,) = seen(RULE, text)
    assert [one.name for one in lost.terminals] == ["S1.ground", "L1.ground"]
    assert lost.left[1].place == "LP"
    assert at(text, lost).startswith("cable W1")
    assert reported(text) == ["open-ground"]


def test_where_nothing_was_left_it_is_at_the_screw_or_at_the_device() -> None:
    """A capped ground was not forgotten: it was decided so."""
    capped = changed(
        STAIR, ("  W2.bare -- W3.bare -- pigtail -- S2.ground\n", "  W3.bare -- S2.ground\n  cap W2.bare\n")
    )
    (lost,) = seen(RULE, capped)
    assert at(capped, lost) == "W3.bare -- S2.ground"
    # W2.bare, capped in C, is still on the ground of the panel.
    assert lost.left is None
    off = changed(STAIR, ("  W3.bare -- L1.ground\n", "  cap W3.bare\n"))
    (lost,) = seen(RULE, off)
    assert at(off, lost).startswith("L1 is lampholder")


def test_a_loose_ground_of_another_piece_was_not_left_out() -> None:
    text = changed(own("open-ground", "left-in-the-panel"), ("  W2.bare -- L1.ground\n", ""))
    assert {lost.subject: lost.left and lost.left[0].name for lost in seen(RULE, text)} == {
        "S1": "W1.bare",
        "L1": None,
    }


METAL = (
    "box B junction 21 cu in metal",
    "raceway R1 {} 1/2 in 10 ft from LP to B",
    "wire H1 14 THHN black 12 ft from LP to B in R1",
    "wire N1 14 THHN white 12 ft from LP to B in R1",
    "at LP",
    "H1 -- LP.3",
    "N1 -- LP.neutral",
)


@pytest.mark.parametrize(
    ("kind", "grounds"),
    [("EMT", True), ("RMC", True), ("IMC", True), ("FMC", False), ("LFNC", False), ("PVC", False)],
)
def test_a_metal_box_is_grounded_by_metal_conduit(kind: str, grounds: bool) -> None:
    """NEC 2023 250.118(A): EMT, RMC and IMC are grounding conductors."""
    text = fed(*(each.format(kind) for each in METAL))
    found = seen(RULE, text)
    assert [(lost.subject, lost.stage) for lost in found] == ([] if grounds else [("B", "rough-in")])
    assert check(text, stage="rough-in").findings == () or not grounds


def test_a_plastic_box_has_nothing_to_ground() -> None:
    assert not seen(RULE, fed(*(each.format("PVC") for each in METAL)).replace(" metal", ""))


def test_a_ground_that_waits_to_be_landed_leaves_the_rough_in_whole() -> None:
    text = """\
board "A metal box, roughed in"
panel LP 120/240 V, 10 kA available
breaker LP.3 15 A
box A square 30.3 cu in metal
box B square 30.3 cu in metal
cable W1 14/2 NM-B 11 ft from LP to A
cable W2 14/2 NM-B 12 ft from A to B
at A
  W1.bare -- W2.bare -- pigtail -- A.ground
at B
  W2.bare -- pigtail -- B.ground
"""
    (lost,) = seen(RULE, text)
    assert ([one.name for one in lost.terminals], lost.stage) == (["A.ground", "B.ground"], "trim")
    cut = changed(
        text, ("  W1.bare -- W2.bare -- pigtail -- A.ground\n", "  W1.bare -- pigtail -- A.ground\n")
    )
    assert {lost.subject: lost.stage for lost in seen(RULE, cut)} == {"A": "trim", "B": "rough-in"}


def test_grounds_that_lead_nowhere() -> None:
    text = own("open-ground", "leading-nowhere")
    (lost,) = seen(RULE, text)
    assert isinstance(lost, LeadsNowhere)
    assert (lost.severity, lost.stage, lost.subject) == ("hazard", "trim", "W2.bare")
    assert at(text, lost).startswith("cable W2")
    several = own("open-ground", "several-leading-nowhere")
    (lost,) = seen(RULE, several)
    assert [one.name for one in lost.conductors] == ["W2.bare", "W3.bare"]
    assert at(several, lost) == "W2.bare -- W3.bare"
    assert lost.copper == {case(several).uses.piece["W2.bare@A"]}


def test_where_they_lead_nowhere_because_an_end_is_loose_the_end_is_the_mistake() -> None:
    text = changed(own("open-ground", "leading-nowhere"), ("  cap W2.bare\nat B", "at B"))
    assert [type(one) for one in seen(RULE, text)] == [LeadsNowhere]
    assert reported(text) == ["loose-conductor"]


def test_a_ground_that_is_a_hot_or_on_a_screw_leads_somewhere() -> None:
    text = own("open-ground", "leading-nowhere")
    hot = changed(
        text,
        ("W1.black -- W2.black -- pigtail", "W1.black -- W2.black -- W2.bare -- pigtail"),
        ("  cap W2.bare\nat B", "at B"),
    )
    assert not seen(RULE, hot)


def test_the_fan_call_is_no_ground() -> None:
    """Green in a thermostat's cable."""
    assert not seen(
        RULE,
        changed(
            COOLING, ("  TW.green -- F.G\n", "  cap TW.green\n"), ("  TW.green -- TS.G\n", "  cap TW.green\n")
        ),
    )


def test_what_is_worse_on_the_same_metal_is_reported_instead() -> None:
    live = changed(
        STAIR,
        ("  W3.bare -- L1.ground\n", "  cap W3.bare\n"),
        ("W3.black -- L1.hot", "W3.black -- L1.hot -- L1.ground"),
    )
    assert [lost.subject for lost in seen(RULE, live)] == ["L1"]
    assert "open-ground" not in reported(live)
    neutral = changed(
        STAIR,
        ("  W3.bare -- L1.ground\n", "  cap W3.bare\n"),
        ("W3.white -- L1.neutral", "W3.white -- L1.neutral -- L1.ground"),
    )
    assert [lost.subject for lost in seen(RULE, neutral)] == ["L1"]
    assert "open-ground" not in reported(neutral)
    assert "ground-as-neutral" in reported(neutral)


FLEX = """\
board "A box at the end of flexible conduit"
panel LP 120/240 V, 10 kA available
breaker LP.3 {amps} A
box B square 30.3 cu in metal
raceway E1 {first} from LP to B
wire H1 6 THHN black 12 ft from LP to B in E1
wire N1 6 THHN white 12 ft from LP to B in E1
at LP
  H1 -- LP.3
  N1 -- LP.neutral
"""


def refused(text: str) -> list[tuple[str, str]]:
    """The conduits that are no ground by themselves, and why."""
    return [
        (one.refused.flexible.raceway.name, one.refused.reason)
        for one in seen(RULE, text)
        if isinstance(one, FlexibleGround)
    ]


# NEC 2023 250.118(A)(5), (6): the limits as tests/tables has them from public texts.
@pytest.mark.parametrize(
    ("conduit", "amps", "why"),
    [
        ("FMC 1/2 in 6 ft", 20, []),
        ("FMC 1/2 in 73 in", 20, ["length"]),
        ("FMC 1/2 in 6 ft", 25, ["amps"]),
        ("FMC 1-1/4 in 6 ft", 20, []),
        ("FMC 1-1/2 in 6 ft", 20, ["size"]),
        ("LFMC 3/8 in 6 ft", 20, []),
        ("LFMC 1/2 in 6 ft", 25, ["amps"]),
        ("LFMC 3/4 in 6 ft", 60, []),
        ("LFMC 3/4 in 6 ft", 70, ["amps"]),
        ("LFMC 1-1/4 in 6 ft", 60, []),
        ("LFMC 1-1/2 in 6 ft", 20, ["size"]),
        ("LFMC 1 in 7 ft", 20, ["length"]),
    ],
)
def test_flexible_metal_conduit_is_a_ground_within_its_limits(
    conduit: str, amps: int, why: list[str]
) -> None:
    text = FLEX.format(first=conduit, amps=amps)
    found = seen(RULE, text)
    assert refused(text) == [("E1", reason) for reason in why]
    assert len(found) == len(why)
    for one in found:
        assert (one.severity, one.stage, one.subject) == ("violation", "rough-in", "B")
        assert at(text, one).startswith("raceway E1")


SECOND = """\
box C square 30.3 cu in metal
raceway E2 {second} from B to C
wire H2 12 THHN black 12 ft from B to C in E2
wire N2 12 THHN white 12 ft from B to C in E2
at B
  H1 -- H2
  N1 -- N2
"""


@pytest.mark.parametrize(
    ("first", "second", "found"),
    [
        ("EMT 1/2 in 60 ft", "FMC 1/2 in 6 ft", []),
        ("FMC 1/2 in 3 ft", "FMC 1/2 in 3 ft", []),
        ("FMC 1/2 in 3 ft", "LFMC 1/2 in 4 ft", [("E2", "length")]),
        ("FMC 1/2 in 3 ft", "EMT 1/2 in 40 ft", []),
        # What lies beyond a conduit that is no ground is not grounded through it.
        ("FMC 2 in 3 ft", "FMC 1/2 in 2 ft", [("E1", "size"), ("E1", "size")]),
        ("FMC 2 in 3 ft", "EMT 1/2 in 2 ft", [("E1", "size")]),
        ("EMT 1/2 in 5 ft", "PVC 1/2 in 2 ft", []),
    ],
)
def test_flexible_conduits_on_one_way_add_up(first: str, second: str, found: list[tuple[str, str]]) -> None:
    text = FLEX.format(first=first, amps=20) + SECOND.format(second=second)
    assert refused(text) == found


def test_the_shorter_of_two_ways_is_the_way() -> None:
    """Both boxes hang on the panel by 5 ft of their own, and on each other by 4 ft."""
    text = FLEX.format(first="FMC 1/2 in 5 ft", amps=20) + SECOND.format(second="FMC 1/2 in 4 ft")
    assert refused(text) == [("E2", "length")]
    assert not refused(text + "raceway E3 FMC 1/2 in 5 ft from LP to C\n")
    assert refused(text + "raceway E3 FMC 1/2 in 7 ft from LP to C\n") == [("E3", "length")]


def test_a_green_wire_makes_it_no_matter() -> None:
    text = FLEX.format(first="FMC 1/2 in 9 ft", amps=20)
    green = "wire G1 10 THHN green 12 ft from LP to B in E1\n"
    assert not seen(RULE, text + green + "at LP\n  G1 -- LP.ground\nat B\n  G1 -- B.ground\n")


@pytest.mark.parametrize(
    ("joined", "place", "stage"),
    [("at LP\n  G1 -- LP.ground\n", "B", "rough-in"), ("at B\n  G1 -- B.ground\n", "LP", "trim")],
)
def test_a_green_wire_that_is_joined_to_nothing_at_an_end_is_what_was_left(
    joined: str, place: str, stage: str
) -> None:
    """One is pulled already: what is asked for is its joint, and at the panel it may wait for the trim."""
    text = FLEX.format(first="FMC 1/2 in 9 ft", amps=20)
    (lost,) = seen(RULE, text + "wire G1 10 THHN green 12 ft from LP to B in E1\n" + joined)
    assert (type(lost), lost.subject, lost.stage) == (OpenGround, "B", stage)
    assert (lost.left[0].name, lost.left[1].place) == ("G1", place)


def test_a_plastic_box_ends_it() -> None:
    text = FLEX.format(first="FMC 1/2 in 3 ft", amps=20) + SECOND.format(second="FMC 1/2 in 2 ft")
    plastic = text.replace("box B square 30.3 cu in metal", "box B square 30.3 cu in")
    (lost,) = seen(RULE, plastic)
    assert (type(lost), lost.subject) == (OpenGround, "C")


UNIT = """\
board "An outdoor unit at the end of flexible conduit"
panel LP 120/240 V, 10 kA available
breaker LP.3 20 A 2-pole
raceway E1 {} 1/2 in 5 ft from LP to {}
wire H1 12 THHN black 12 ft from LP to {} in E1
wire H2 12 THHN red 12 ft from LP to {} in E1
at LP
  H1 -- LP.3.a
  H2 -- LP.3.b
"""


def test_where_a_motor_shakes_it_a_wire_is_asked_for() -> None:
    """250.118(A)(5)(e), (6)(e): flexibility after installation."""
    unit = UNIT.format("LFMC", *["CU"] * 3) + "CU is condensing-unit\n"
    assert refused(unit) == [("E1", "motion")]
    assert not refused(unit.replace("LFMC", "EMT"))
    still = UNIT.format("FMC", *["H"] * 3) + "H is baseboard-heater\n"
    assert not seen(RULE, still)


ARMOR = """\
board "Armored cable"
panel LP 120/240 V, 10 kA available
breaker LP.3 15 A
box B octagon 15.5 cu in{}
cable W1 14/2 AC 11 ft from LP to B
L1 is lampholder 60 W in B
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
at B
  W1.black -- L1.hot
  W1.white -- L1.neutral
"""


def test_the_armor_of_ac_is_the_ground_of_metal_boxes() -> None:
    """250.118(A)(8)."""
    assert not seen(RULE, ARMOR.format(" metal"))
    (lost,) = seen(RULE, ARMOR.format(""))
    assert (type(lost), lost.subject, lost.severity) == (OpenGround, "L1", "hazard")
    mc = ARMOR.format(" metal").replace("AC 11 ft", "MC 11 ft")
    assert [one.subject for one in seen(RULE, mc)] == ["B", "W1.green"]
    green = mc + "  W1.green -- B.ground -- L1.ground\nat LP\n  W1.green -- LP.ground\n"
    assert not seen(RULE, green)


MOTOR = """\
board "A motor on a breaker"
panel LP 120/240 V, 10 kA available
breaker LP.3 15 A
cable W1 14/2 NM-B 11 ft from LP to {place}
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
"""
ON_LINE = "  W1.black -- M.a\n  W1.white -- M.b\n"


@pytest.mark.parametrize(
    "part",
    [
        *("motor", "fan-motor with voltage 120 V", "small-compressor", "heater with voltage 120 V"),
        *("solenoid-valve with voltage 120 V", "low-water-cutoff", "flow-switch", "ignition-transformer"),
        *("low-pressure-control", "oil-pressure-control"),
    ],
)
def test_every_frame_on_line_voltage_has_a_ground(part: str) -> None:
    text = MOTOR.format(place="M") + f"M is {part}\nat M\n" + ON_LINE
    (lost,) = seen(RULE, text)
    assert (lost.subject, [one.name for one in lost.terminals]) == ("M", ["M.ground"])
    assert not seen(RULE, text + "  W1.bare -- M.ground\n")


@pytest.mark.parametrize("part", ["contactor", "contactor-1-pole", "line-contactor"])
def test_a_contactor_by_itself_has_a_ground(part: str) -> None:
    text = MOTOR.format(place="M") + f"M is {part}\nat M\n  W1.black -- M.line-1\n"
    assert [one.subject for one in seen(RULE, text)] == ["M"]


def test_a_frame_in_a_metal_box_is_bonded_by_its_mounting() -> None:
    """250.109, 404.9(B)(1); a receptacle has a wire of its own (250.146)."""
    metal = MOTOR.format(place="B") + "box B junction 30 cu in metal\nM is motor in B\nat B\n" + ON_LINE
    grounded = metal + "  W1.bare -- B.ground\n"
    assert not seen(RULE, grounded)
    assert [[one.name for one in lost.terminals] for lost in seen(RULE, metal)] == [
        ["B.ground", "M.ground"],
    ]
    plastic = grounded.replace(" metal", "").replace("B.ground", "W1.bare")
    assert [one.subject for one in seen(RULE, plastic)] == ["M"]
    # With a wire on its screw the frame is where the wire leads.
    wired = (
        metal + "cable W2 14/2 NM-B 9 ft from B to B\nat B\n  W1.bare -- B.ground\n  W2.bare -- M.ground\n"
    )
    assert [one.subject for one in seen(RULE, wired)] == ["M"]


@pytest.mark.parametrize(
    ("part", "lost"),
    [
        ("single-pole-switch", []),
        ("lampholder", []),
        ("single-receptacle", ["X"]),
        ("luminaire", ["X"]),
        ("motor", []),
    ],
)
def test_what_is_fastened_to_a_metal_box(part: str, lost: list[str]) -> None:
    text = MOTOR.format(place="B") + f"box B square 30 cu in metal\nX is {part} in B\nat B\n"
    assert [one.subject for one in seen(RULE, text + "  W1.bare -- B.ground\n")] == lost


LOW = """\
board "A switch in 24 V wiring"
panel LP 120/240 V, 10 kA available
breaker LP.3 15 A
box T junction 30 cu in
box A device 20.3 cu in{}
X is class-2-transformer in T
S is single-pole-switch in A
cable W1 14/2 NM-B 11 ft from LP to T
cable C1 18/2 CL2 12 ft from T to A
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at T
  W1.black -- X.primary-hot
  W1.white -- X.primary-neutral
  W1.bare -- X.ground
  C1.red -- X.secondary-r
  C1.white -- X.secondary-c
at A
  C1.red -- S.line
"""


POWER = "wire H1 14 THHN black 9 ft from LP to A\nat LP\n  H1 -- LP.3\nat A\n"


def test_no_ground_is_asked_of_what_carries_class_2_alone() -> None:
    assert not seen(RULE, LOW.format(""))
    assert not seen(RULE, LOW.format(" metal"))
    assert not seen(RULE, LOW.format("") + "  C1.white -- S.load\n")
    assert [one.subject for one in seen(RULE, LOW.format("") + POWER + "  H1 -- S.load\n")] == ["S"]
    assert not seen(RULE, LOW.format("") + POWER + "  cap H1\n")
    # A switch that nothing is joined to may be meant for anything.
    assert [one.subject for one in seen(RULE, LOW.format("").replace("  C1.red -- S.line\n", ""))] == ["S"]


def test_a_ground_is_asked_of_a_metal_box_with_line_voltage_in_it() -> None:
    metal = LOW.format(" metal") + POWER
    (lost,) = seen(RULE, metal + "  H1 -- S.load\n")
    assert [one.name for one in lost.terminals] == ["A.ground", "S.ground"]
    # The switch itself carries 24 V alone.
    (lost,) = seen(RULE, metal + "  cap H1\n")
    assert [one.name for one in lost.terminals] == ["A.ground"]


# ------------------------------------------------------- a switch in the ground


@pytest.mark.parametrize(
    ("part", "toward"),
    [("fault-switch", ("a", "b")), ("fault-switch", ("b", "a")), ("fuse", ("line", "load"))],
)
def test_nothing_that_opens_stands_in_a_ground(part: str, toward: tuple[str, str]) -> None:
    lost_side, home = toward
    text = changed(
        own("open-ground", "switched"),
        ("X is fault-switch", f"X is {part}"),
        ("W1.bare -- X.b", f"W1.bare -- X.{home}"),
        ("W2.bare -- X.a", f"W2.bare -- X.{lost_side}"),
    )
    (cut,) = seen(RULE, text)
    assert isinstance(cut, SwitchedGround)
    assert (cut.severity, cut.stage, cut.subject, cut.device.name) == ("hazard", "trim", "L1", "X")
    assert at(text, cut) == f"W2.bare -- X.{lost_side}"
    pieces = case(text).uses.piece
    assert cut.copper == {pieces["L1.ground"], pieces["W1.bare@A"]}
    # The switch that turns nothing on and off is the same mistake.
    assert reported(text).count("open-ground") == 1 and "switch-without-effect" not in reported(text)


def test_a_switch_that_leads_to_no_ground_is_not_in_it() -> None:
    text = changed(own("open-ground", "switched"), ("  W1.bare -- X.b\n", "  cap W1.bare\n"))
    assert not any(isinstance(one, SwitchedGround) for one in seen(RULE, text))


def test_a_green_wire_that_is_capped_though_the_conduit_is_a_ground() -> None:
    text = own("open-ground", "capped-in-a-conduit")
    (found,) = seen(RULE, text)
    assert isinstance(found, CappedGround)
    assert (found.conductor.name, found.end.place, found.severity) == ("G", "LP", "violation")
    assert at(text, found).startswith("cap G")
    assert reported(text) == ["open-ground"]
    # In the box it is the same; joined at both ends, or with nothing in use beside it, all is well.
    landed = ("  cap G  # finds: open-ground\n", "  G -- LP.ground\n")
    box = changed(
        text,
        landed,
        ("  G -- pigtail -- R.ground -- pigtail -- B.ground\n", "  R.ground -- B.ground\n  cap G\n"),
    )
    (found,) = seen(RULE, box)
    assert isinstance(found, CappedGround)
    assert found.end.place == "B"
    assert not seen(RULE, changed(text, landed))
    spare = changed(
        text,
        ("  H -- LP.3\n  N -- LP.neutral\n", "  cap H\n  cap N\n"),
    )
    assert not seen(RULE, spare)


def test_a_green_wire_under_an_idle_screw_though_the_conduit_is_a_ground() -> None:
    right = (files.folder("boards") / "motor-starter" / "right.wire").read_text(encoding="utf-8")
    assert not seen(RULE, right)
    text = changed(
        right,
        ("  AG -- MG -- CG -- D.ground", "  AG -- MG -- D.ground"),
        ("  C3 -- K3 -- C.14\n", "  C3 -- K3 -- C.14\n  CG -- C.21\n"),
    )
    (found,) = seen(RULE, text)
    assert isinstance(found, CappedGround)
    assert found.idle is not None
    assert (found.conductor.name, found.idle.name) == ("CG", "C.21")
    assert at(text, found) == "CG -- C.21"
    assert "under C.21 in E" in said(RULE, text)[0].message


def test_a_box_that_is_not_said_to_be_metal_is_where_conduit_ends_as_a_ground() -> None:
    """NEC 2023 250.118(A): the conduit is a ground as far as metal goes, and a plastic box is none."""
    lines = (
        "breaker LP.1 20 A",
        "box A device 20.3 cu in{}",
        "raceway R1 EMT 1/2 in 9 ft from LP to A",
        "wire H 12 THHN black 9 ft from LP to A in R1",
        "wire N 12 THHN white 9 ft from LP to A in R1",
        "S is duplex-receptacle 15 A in A",
        "at LP",
        "H -- LP.1",
        "N -- LP.neutral",
        "at A",
        "H -- S.hot",
        "N -- S.neutral",
    )
    text = fed(*lines)
    (found,) = said(RULE, text.replace("{}", ""))
    assert found.look == found.help
    assert found.help == (
        "Look again, with the power off, at A. R1 is EMT, a ground by itself, and no line says that A is "
        "metal. If it is, write metal at the end of its line, and join S.ground to A.ground. If not, a green "
        "wire goes through R1."
    )
    metal = text.replace("{}", " metal")
    (found,) = said(RULE, metal)
    assert found.look is None
    assert not seen(RULE, metal + "S.ground -- A.ground\n")
    # Plastic conduit without a green wire: no join mends that, and it is said whatever mends are looked for.
    (found,) = said(RULE, text.replace("{}", "").replace("R1 EMT", "R1 PVC"))
    assert found.look == found.help
    assert found.help is not None
    assert found.help.startswith("No ground wire comes to A. Run one with the wires of the circuit")
