"""Devices as they are seen: receptacles with their tabs, switches with their blades, what makes a spark."""

from __future__ import annotations

import math
from itertools import product
from pathlib import Path

import pytest

from tests.drawing.test_wiring import of_text
from wirecheck import files
from wirecheck.circuit.circuit import circuit
from wirecheck.circuit.rungs import ladder
from wirecheck.drawing.captions import Captions
from wirecheck.drawing.colors import PAPER
from wirecheck.drawing.contacts import BRIDGE
from wirecheck.drawing.faces import face_of, slots_of, two_hots
from wirecheck.drawing.grid import grids
from wirecheck.drawing.hand import POLE, THROW
from wirecheck.drawing.loads import SMALL, Signs, outlet_sign
from wirecheck.drawing.picture import sheet
from wirecheck.drawing.sheet import Line, Point, Sheet, Words
from wirecheck.judge.case import Case
from wirecheck.model.board import Board, Device

BOARDS = files.folder("boards")


def board_with(part: str, values: str = "") -> str:
    return f'board "One"\nbox A device 40 cu in 2-gang\nX is {part} {values} in A\n'


def device(part: str, values: str = "") -> Device:
    return of_text(board_with(part, values)).devices["X"]


def strokes(drawn: Sheet, name: str) -> list[Line]:
    """The strokes of a sign, one line for each pen."""
    return [line for line in drawn.lines if line.id == name or line.id.startswith(f"{name}-")]


def points(lines: list[Line]) -> list[Point]:
    return [point for line in lines for piece in line.pieces for point in piece]


# ---------------------------------------------------------------- receptacles


@pytest.mark.parametrize(
    ("part", "plugs", "hot_tab", "neutral_tab"),
    [
        ("duplex-receptacle", 2, True, True),
        ("split-receptacle", 2, False, True),
        ("split-receptacle-two-neutrals", 2, False, False),
        ("gfci-receptacle", 2, None, None),
        ("single-receptacle", 1, None, None),
        ("single-receptacle-240", 1, None, None),
        ("dryer-receptacle", 1, None, None),
        ("range-receptacle", 1, None, None),
    ],
)
def test_a_face_for_each_plug_and_the_tabs_as_they_are(
    part: str, plugs: int, hot_tab: bool | None, neutral_tab: bool | None
) -> None:
    face = face_of(device(part))
    assert face is not None
    assert (len(face.plugs), face.hot_tab, face.neutral_tab) == (plugs, hot_tab, neutral_tab)
    drawn = sheet(of_text(board_with(part)))
    frame = next(each for each in drawn.frames if each.id == "device-X")
    xs = [x for x, _ in points(strokes(drawn, "sign-X-face"))]
    ys = [y for _, y in points(strokes(drawn, "sign-X-face"))]
    assert frame.x < min(xs) and max(xs) < frame.x + frame.width
    assert frame.y < min(ys) and max(ys) < frame.y + frame.height
    middle = (min(ys) + max(ys)) / 2
    bridges = [
        piece[0][0] - frame.x - frame.width / 2
        for line in strokes(drawn, "sign-X-face")
        for piece in line.pieces
        if line.pen == 3 and min(y for _, y in piece) < middle < max(y for _, y in piece)
    ]
    assert sorted(x > 0 for x in bridges) == [False] * bool(neutral_tab) + [True] * bool(hot_tab)


def test_every_outlet_has_a_face() -> None:
    for name in files.part_names():
        text = files.part_text(name) or ""
        if "\noutlet " in text:
            face = face_of(device(name))
            assert face is not None
            assert {outlet.name for plug in face.plugs for outlet in plug} == {
                outlet.name for outlet in device(name).part.outlets
            }


def test_the_neutral_of_30_amperes_is_l_shaped_and_of_50_straight() -> None:
    """NEMA 14-30R and 14-50R."""
    arms = {}
    for part in ("dryer-receptacle", "range-receptacle"):
        drawn = sheet(of_text(board_with(part)))
        (slots,) = [line.pieces for line in strokes(drawn, "sign-X-face") if line.pen == 2.6]
        arms[part] = sum(abs(piece[0][0] - piece[-1][0]) > 1 for piece in slots)
    assert arms == {"dryer-receptacle": 1, "range-receptacle": 0}


def holes(lines: list[Line]) -> int:
    """How many ground holes a face has: arches, open to below."""
    pieces = [piece for line in lines for piece in line.pieces if len(piece) == 4]
    return sum(a[1] == d[1] > max(b[1], c[1]) and a[0] == b[0] and c[0] == d[0] for a, b, c, d in pieces)


def slots(lines: list[Line], width: float) -> str:
    """The slots of a face: each upright, level or leaning one, from the left."""
    pieces = [line.pieces for line in lines if line.pen == width]
    moves = [(p[0][0], p[-1][0] - p[0][0], p[-1][1] - p[0][1]) for each in pieces for p in each]
    return "".join(
        "|" if abs(x) < 0.1 else "-" if abs(y) < 0.1 else "/" if x * y < 0 else "\\"
        for _, x, y in sorted(moves)
    )


@pytest.mark.parametrize(
    ("part", "values", "seen", "ground"),
    [
        ("single-receptacle", "15 A", "||", 1),
        ("single-receptacle", "20 A", "-||", 1),
        ("single-receptacle", "30 A", "-||", 1),
        ("single-receptacle-240", "15 A", "--", 1),
        ("single-receptacle-240", "20 A", "-|-", 1),
        ("single-receptacle-240", "30 A", "|-|", 1),
        ("single-receptacle-240", "50 A", "||", 1),
        ("dryer-receptacle-3-wire", "", "/-|\\", 0),
        ("range-receptacle-3-wire", "", "/|\\", 0),
        ("vehicle-receptacle", "", "|||", 1),
    ],
)
def test_the_slots_are_those_of_its_volts_and_amperes(part: str, values: str, seen: str, ground: int) -> None:
    """NEMA WD 6, from memory where `faces` does not name what it was checked against."""
    lines = strokes(sheet(of_text(board_with(part, values))), "sign-X-face")
    width = 2.6 if len(device(part).part.outlets) > 1 else 2.4
    assert sorted(slots(lines, width)) == sorted(seen)
    assert holes(lines) == ground


def faces_are_for_their_volts(board: Board) -> int:
    """Each face has a ground hole where its outlets have a ground, and says what is not 120 V; how many."""
    drawn = sheet(board)
    said = {mark.id: mark.text for mark in drawn.marks if isinstance(mark, Words)}
    faces = {name: each for name, each in board.devices.items() if each.part.outlets}
    made = {each.name: each for each in circuit(board).outlets}
    for name, each in faces.items():
        own = [made[f"{name}.{outlet.name}"] for outlet in each.part.outlets]
        assert (holes(strokes(drawn, f"sign-{name}-face")) > 0) == all(one.ground is not None for one in own)
        told = said.get(f"label-{name}-sign", "120 V").removesuffix(" V").split("/")
        assert [float(volts) for volts in told] == sorted({one.volts for one in own}), name
    ladder = sheet(board, kind="ladder")
    for one in made.values():
        pens = [line.pieces for line in strokes(ladder, f"outlet-{one.name}") if line.pen == 2]
        level = {abs(piece[0][1] - piece[-1][1]) < 0.1 for pieces in pens for piece in pieces}
        assert level <= {one.volts > 200}, one.name
    return len(faces)


def test_faces_of_a_range_and_a_duplex_are_for_their_volts() -> None:
    assert faces_are_for_their_volts(of_text((BOARDS / "old-range-outlet/right.wire").read_text("utf-8")))


@pytest.mark.slow
def test_faces_of_every_board_are_for_their_volts() -> None:
    boards = [of_text(path.read_text("utf-8")) for path in BOARDS.rglob("*.wire")]
    assert sum(map(faces_are_for_their_volts, boards)) > 100


def tripped_ones_say_so(case: Case) -> int:
    """A face says `tripped` where what watches behind it has opened, and its button is dark; how many do."""
    settled = case.standing({})
    drawn, at_rest = sheet(case.board, state=settled), sheet(case.board)
    opened = {opening.name for opening in settled.opened}
    watched = {name for name, each in case.board.devices.items() if (face := face_of(each)) and face.buttons}
    said = {mark.id.removeprefix("word-"): mark for mark in drawn.marks if mark.id.startswith("word-")}
    for name in watched:
        dark = [line.pen for line in strokes(drawn, f"sign-{name}-face") if line.pen > 5]
        assert (name in said, bool(dark)) == (name in opened, name in opened)
        frame = next(each for each in drawn.frames if each.id == f"device-{name}")
        assert frame in at_rest.frames
        if name in said:
            face = points(strokes(drawn, f"sign-{name}-face"))
            assert max(y for _, y in face) < said[name].y - 3 and said[name].y < frame.y + frame.height - 20
    return len(watched & opened)


def test_a_ground_fault_receptacle_that_has_tripped_says_so_on_its_face() -> None:
    path = BOARDS / "bathroom" / "wrong-bare-as-neutral.wire"
    assert tripped_ones_say_so(Case(of_text(path.read_text("utf-8")))) == 1


@pytest.mark.slow
def test_every_receptacle_that_has_tripped_says_so_on_its_face() -> None:
    texts = [path.read_text("utf-8") for path in BOARDS.rglob("*.wire")]
    cases = [Case(of_text(text)) for text in texts if "fci-receptacle" in text]
    assert sum(map(tripped_ones_say_so, cases)) >= 1


def test_the_half_that_is_switched_is_lit_by_itself() -> None:
    case = Case(of_text((BOARDS / "half-switched-receptacles" / "right.wire").read_text("utf-8")))
    for position, live in (("on", {"lit-R1.top", "lit-R1.bottom"}), ("off", {"lit-R1.bottom"})):
        drawn = sheet(case.board, state=case.standing({"S1": position}))
        assert {frame.id for frame in drawn.frames if frame.id.startswith("lit-R1")} == live


# ------------------------------------------------------------------- switches


def ends(drawn: Sheet, name: str) -> tuple[Point, Point, float, str]:
    (line,) = strokes(drawn, f"contact-{name}")
    (piece,) = line.pieces
    return piece[0], piece[-1], line.pen, line.dash


@pytest.mark.parametrize(("position", "on", "off"), [("up", 1, 2), ("down", 2, 1)])
def test_a_3_way_switch_is_a_blade_from_the_common_to_the_traveler_that_it_is_on(
    position: str, on: int, off: int
) -> None:
    case = Case(of_text((BOARDS / "stair-light" / "right.wire").read_text("utf-8")))
    drawn = sheet(case.board, state=case.standing({"S1": position}))
    screw = {mark.id: mark.x for mark in drawn.marks if mark.kind == "terminal"}
    pole, tip, width, style = ends(drawn, f"S1.common--traveler-{on}")
    assert (pole[0], tip[0]) == pytest.approx(
        (screw["terminal-S1.common"], screw[f"terminal-S1.traveler-{on}"])
    )
    assert pole[1] - tip[1] == pytest.approx(POLE - THROW)
    assert (width > 2, style) == (True, "solid")
    _, _, width, style = ends(drawn, f"S1.common--traveler-{off}")
    assert (width < 1, style) == (True, "dashed")


@pytest.mark.parametrize(("position", "touches"), [("on", True), ("off", False)])
def test_a_switch_that_is_off_has_its_blade_off_its_dot(position: str, touches: bool) -> None:
    case = Case(of_text((BOARDS / "half-switched-receptacles" / "right.wire").read_text("utf-8")))
    drawn = sheet(case.board, state=case.standing({"S1": position}))
    load = next(mark.x for mark in drawn.marks if mark.id == "terminal-S1.load")
    _, tip, width, style = ends(drawn, "S1.line--load")
    assert (abs(tip[0] - load) < 0.01) == touches
    assert (width > 2, style) == (True, "solid")


@pytest.mark.parametrize("position", ["up", "down"])
def test_both_positions_of_a_4_way_switch_are_seen(position: str) -> None:
    """Side by side and crossed: the blades that cross do so in the middle of the sign, and steeply."""
    case = Case(of_text((BOARDS / "three-switch-hall" / "right.wire").read_text("utf-8")))
    drawn = sheet(case.board, state=case.standing({"S2": position}))
    ways = {(one, other): ends(drawn, f"S2.in-{one}--out-{other}") for one in (1, 2) for other in (1, 2)}
    assert {way for way, (_, _, _, dash) in ways.items() if dash == "solid"} == (
        {(1, 1), (2, 2)} if position == "up" else {(1, 2), (2, 1)}
    )
    slopes = {way: (pole[1] - tip[1]) / (tip[0] - pole[0]) for way, (pole, tip, _, _) in ways.items()}
    turned = sorted(math.degrees(math.atan(slope)) for slope in slopes.values())
    assert min(turned) > 20 and turned[1] - turned[0] > 6 and turned[3] - turned[2] > 6
    # Where those of one position cross is far from every dot.
    (x0, y0), (x1, _) = ways[1, 2][0], ways[2, 1][0]
    x = (slopes[2, 1] * x1 - slopes[1, 2] * x0) / (slopes[2, 1] - slopes[1, 2])
    y = y0 - slopes[1, 2] * (x - x0)
    for pole, tip, _, _ in ways.values():
        assert min(math.dist((x, y), pole), math.dist((x, y), tip)) > 20


def test_blades_of_one_handle_are_linked() -> None:
    linked = {"4-way-switch": 0, "double-pole-switch": 1, "fused-disconnect": 1, "3-way-switch": 0}
    for part, links in linked.items():
        drawn = sheet(of_text(board_with(part)))
        assert len([line for line in drawn.lines if line.id == "link-X"]) == links, part


@pytest.mark.parametrize(
    ("part", "poles"),
    [
        ("disconnect-3-pole", 3), ("fused-disconnect-3-pole", 3), ("disconnect-2-pole", 2),
        ("fused-disconnect", 2), ("double-pole-switch", 2),
    ],
)  # fmt: skip
def test_blades_of_several_poles_cross_nothing(part: str, poles: int) -> None:
    """Each stands by itself, its screws named under it, and one handle links them."""
    drawn = sheet(of_text(board_with(part)))
    named = [mark for mark in drawn.marks if isinstance(mark, Words) and mark.text.startswith("line-")]
    said = {mark.text: mark.x for mark in named}
    assert sum(" to load-" in text for text in said) == poles
    ends: list[float] = []
    for pole in range(1, poles + 1):
        blade = [line for line in drawn.lines if line.id.startswith(f"sign-X.line-{pole}--")]
        xs = [x for x, _ in points(blade)]
        assert min(xs) < said[f"line-{pole} to load-{pole}"] < max(xs)
        ends += [min(xs), max(xs)]
    assert ends == sorted(ends)
    assert len(strokes(drawn, "link-X")) == 1


# --------------------------------------------------------------------- sparks


@pytest.mark.parametrize("kind", ["wiring", "ladder"])
def test_what_makes_a_spark_is_told_from_what_glows(kind: str) -> None:
    """A gap between two points, in both pictures; an element that glows has a zigzag, as a heater."""

    def shape(path: Path, name: str) -> set[tuple[int, ...]]:
        drawn = sheet(of_text(path.read_text("utf-8")), kind=kind)
        lines = strokes(drawn, f"sign-{name}") if kind == "wiring" else strokes(drawn, f"load-{name}")
        return {tuple(len(piece) for piece in line.pieces) for line in lines}

    own = kind == "wiring"
    electronic = shape(BOARDS / "boiler-two-zones" / "right.wire", "B.spark.spark" if own else "B.spark")
    iron = shape(BOARDS / "oil-furnace" / "right.wire", "F.ignition.spark" if own else "F.ignition")
    glows = shape(BOARDS / "heating-call" / "right.wire", "F.igniter.igniter" if own else "F.igniter")
    assert electronic and iron and glows
    assert electronic != iron != glows != electronic


# --------------------------------------------------------------------- relays


def shape_of(lines: list[Line]) -> tuple[int, int, int]:
    """How many circles, bars and strokes aslant a sign has."""
    pieces = [piece for line in lines for piece in line.pieces]
    round_ones = [piece for piece in pieces if len(piece) == 13 and piece[0] == piece[-1]]
    moves = [(abs(piece[0][0] - piece[-1][0]), abs(piece[0][1] - piece[-1][1])) for piece in pieces]
    return len(round_ones), sum(x < 1 and y > 10 for x, y in moves), sum(x > 5 and y > 5 for x, y in moves)


@pytest.mark.parametrize(
    ("part", "coil", "opens", "closes"),
    [
        ("current-relay", "L--M", ["L--S"], []),
        ("potential-relay", "coil", [], ["1--2"]),
        ("relay-spdt", "coil", ["common--no"], ["common--nc"]),
        ("contactor", "coil", ["line-1--load-1", "line-2--load-2"], []),
        ("contactor-3-pole", "coil", ["L1--T1", "L2--T2", "L3--T3", "13--14"], ["21--22"]),
    ],
)
def test_a_relay_shows_its_coil_and_each_contact(
    part: str, coil: str, opens: list[str], closes: list[str]
) -> None:
    """A coil is a circle, a contact two bars with a stroke across where it rests closed (NEMA ICS 19)."""
    drawn = sheet(of_text(board_with(part)))
    assert shape_of(strokes(drawn, f"sign-X.{coil}"))[0] == 1
    assert all(shape_of(strokes(drawn, f"sign-X.{each}")) == (0, 2, 0) for each in opens)
    assert all(shape_of(strokes(drawn, f"sign-X.{each}")) == (0, 2, 1) for each in closes)


def test_the_coil_of_a_start_relay_is_that_of_any_relay() -> None:
    """A circle (NEMA ICS 19, from memory): it hears no signal, as an input of a control does."""

    def forms(part: str, load: str) -> list[list[tuple[int, int]]]:
        lines = strokes(sheet(of_text(board_with(part))), f"sign-X.{load}")
        x, y = (min(point[axis] for point in points(lines)) for axis in (0, 1))
        return [[(round(a - x), round(b - y)) for a, b in piece] for line in lines for piece in line.pieces]

    assert forms("potential-relay", "coil") == forms("contactor", "coil")
    assert forms("common-wire-receiver", "detector") != forms("contactor", "coil")


@pytest.mark.parametrize(
    ("part", "throws"),
    [
        ("termination-thermostat", {"common to cold-side": True, "common to warm-side": False}),
        ("overflow-switch", {"COM to NC": True, "COM to NO": False}),
    ],
)
def test_a_changeover_contact_shows_both_its_throws_and_which_is_closed(
    part: str, throws: dict[str, bool]
) -> None:
    """One blade over three screws did not say which two it joins."""
    board = of_text(board_with(part))
    other = board.devices["X"].part.positions[1]
    for settled, turned in ((None, False), (Case(board).standing({"X": other}), True)):
        drawn = sheet(board, state=settled)
        said = {mark.text for mark in drawn.marks if isinstance(mark, Words) and mark.id.endswith("-sign")}
        assert said == set(throws)
        for text, closed in throws.items():
            name = f"X.{'--'.join(text.split(' to '))}"
            (blade,) = [
                piece for line in strokes(drawn, f"sign-{name}") for piece in line.pieces if line.pen > 1.7
            ]
            level = abs(blade[0][1] - blade[-1][1]) < 5
            assert level == (closed != turned), (text, turned)
    assert not strokes(sheet(board), "link-X")


def test_an_overload_relay_shows_its_heaters_and_the_contacts_that_they_move() -> None:
    """A heater is two hooks back to back (IEEE 315), a contact as that of any relay (NEMA ICS 19)."""
    drawn = sheet(of_text(board_with("overload-relay")))
    heaters = [f"sign-X.L{line}--T{line}" for line in (1, 2, 3)]
    for name in heaters:
        pieces = [piece for line in strokes(drawn, name) for piece in line.pieces]
        middle = sum(y for piece in pieces for _, y in piece) / sum(map(len, pieces))
        hooks = [piece for piece in pieces if max(abs(y - piece[0][1]) for _, y in piece) > 5]
        assert sorted(piece[1][1] < middle for piece in hooks) == [False, True]
    assert shape_of(strokes(drawn, "sign-X.95--96")) == (0, 2, 1)
    assert shape_of(strokes(drawn, "sign-X.97--98")) == (0, 2, 0)


@pytest.mark.slow
def test_each_contact_of_every_overload_relay_stands_as_it_does_in_the_state() -> None:
    found = 0
    for path in BOARDS.rglob("*.wire"):
        case = Case(of_text(path.read_text("utf-8")))
        relays = [d for d in case.board.devices.values() if any(c.overload for c in d.part.contacts)]
        for relay, position in product(relays, ("closed", "tripped")):
            settled = case.standing({relay.name: position})
            drawn = sheet(case.board, state=settled)
            for contact in relay.part.contacts:
                name = f"{relay.name}.{contact.a}--{contact.b}"
                bridged = any(line.pen == BRIDGE for line in strokes(drawn, f"sign-{name}"))
                assert bridged == (name in settled.closed and contact.overload is None), (path, name)
                found += 1
    assert found > 100


def test_a_relay_inside_equipment_is_its_coil_with_a_contact() -> None:
    drawn = sheet(of_text('board "One"\nX is condensing-unit\n'))
    assert shape_of(strokes(drawn, "sign-X.contactor.coil")) == (1, 2, 0)
    # Its contacts may be those of what it is in.
    drawn = sheet(of_text('board "One"\nX is aquastat-relay\n'))
    assert any(
        shape_of(strokes(drawn, line.id)) == (1, 2, 0) for line in drawn.lines if "call-relay" in line.id
    )


@pytest.mark.parametrize(
    ("volts", "amps", "hots", "kind"),
    [
        (120, 15, 1, "outlet-120-15"),
        (120, 20, 1, "outlet-120-20"),
        (240, 15, 1, "outlet-240-15"),
        (240, 20, 1, "outlet-240-20"),
        (240, 30, 1, "outlet-240-30"),
        (240, 50, 2, "outlet-both-50"),
    ],
)
def test_the_slots_on_a_ladder_are_those_of_the_face(volts: float, amps: float, hots: int, kind: str) -> None:
    assert outlet_sign(volts, amps, True, hots) == kind
    pen = Signs(Sheet("", "white"), PAPER)
    with pen.at(0, 0):
        pen.load(kind)
    drawn = [stroke for (wide, _), strokes in pen.strokes.items() if wide == 1.5 for stroke in strokes]
    strips = two_hots(amps, True) if hots > 1 else slots_of(amps, volts > 200)
    ends = [(stroke[0], stroke[-1]) for stroke in drawn]
    assert ends == [tuple((SMALL * x, SMALL * y) for x, y in strip) for strip in strips]
    assert all(math.hypot(x, y) < 11.5 for stroke in drawn for x, y in stroke)


def test_a_ladder_shows_a_receptacle_by_its_volts_and_amperes() -> None:
    signs = {}
    for name in ("workshop-outlets", "dryer-outlet", "old-range-outlet"):
        board = of_text((BOARDS / name / "right.wire").read_text("utf-8"))
        told = ladder(circuit(board))
        captions = Captions(told, grids(told))
        for grid in grids(told):
            signs |= {
                c.element.name: captions.of(c).sign
                for c in grid.cells
                if c.element and c.element.kind == "outlet"
            }
    assert signs == {
        "R1.face": "outlet-240-20",
        "R2.top": "outlet-120-20",
        "R2.bottom": "outlet-120-20",
        "DR.heat": "outlet-both-30",
        "DR.motor": "outlet-both-30",
        "WR.face": "outlet-120-20",
        "R1.oven": "outlet-both-50-ungrounded",
        "R1.controls": "outlet-both-50-ungrounded",
    }
