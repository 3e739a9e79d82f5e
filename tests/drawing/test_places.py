"""What stands where: a part looks alike on every board, a mistake moves a wire alone, a state nothing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import combinations, pairwise
from pathlib import Path

import pytest

import wirecheck
from tests.drawing import generated, geometry
from tests.drawing.test_wiring import BOARDS, of_text
from tests.samples import shipped
from wirecheck.circuit.settle import Settled
from wirecheck.drawing.area import Area
from wirecheck.drawing.hand import between_screws
from wirecheck.drawing.picture import sheet
from wirecheck.drawing.sheet import Sheet
from wirecheck.drawing.wiring import wiring_sheet
from wirecheck.judge.case import Case
from wirecheck.model.board import Board

RIGHT = [path for path in BOARDS if path.stem == "right"]
PAIRS = [
    (right, wrong)
    for right in RIGHT
    for wrong in sorted(right.parent.glob("wrong*.wire"))
    if right.parent.parent.name != "rules"
]
WIRES = ("conductor", "pigtail", "jumper")

Place = tuple[object, ...]


def places(drawn: Sheet) -> dict[str, Place]:
    """Where each frame, mark, word and wire of a drawing is, by its name."""
    found: dict[str, Place] = {each.id: (each.x, each.y, each.width, each.height) for each in drawn.frames}
    for mark in drawn.marks:
        found[mark.id] = (mark.x, mark.y, mark.width, getattr(mark, "text", ""))
    for line in drawn.lines:
        if not line.id.startswith(("sign-", "contact-", "toggle-", "live-", "flow-", "legend-")):
            found[line.id] = line.pieces
    return found


def screws_as_the_part_has_them(board: Board) -> None:
    """From left to right the screws are in the order of their part, and the devices in that of the board.

    Of two rows of devices the upper one is read first.
    """
    marks = {
        mark.id.removeprefix("terminal-"): mark for mark in sheet(board).marks if mark.kind == "terminal"
    }
    ends: dict[str, tuple[float, float]] = {}
    for device in board.devices.values():
        names = [f"{device.name}.{screw}" for screw in device.part.terminals]
        spots = [marks[name] for name in names if name in marks]
        assert all(one.x < other.x and one.y == other.y for one, other in pairwise(spots)), device.name
        if spots and device.place != device.name:
            assert (spots[0].y, spots[0].x) > ends.get(device.place, (0.0, 0.0)), device.name
            ends[device.place] = (spots[-1].y, spots[-1].x)


@pytest.mark.parametrize(
    "path",
    [pytest.param(path, marks=[pytest.mark.slow] * (path not in RIGHT[::8])) for path in BOARDS],
    ids=lambda path: f"{path.parent.name}/{path.stem}",
)
def test_one_order_of_screws(path: Path) -> None:
    screws_as_the_part_has_them(of_text(path.read_text("utf-8")))


@pytest.mark.slow
def test_one_order_of_screws_on_generated_boards() -> None:
    for seed in range(200):
        screws_as_the_part_has_them(of_text(generated.board(seed)))


def test_exchanged_wires_look_exchanged() -> None:
    """W and Y exchanged on the thermostat: the screws stand as they did, and the two wires cross."""
    folder = next(path.parent for path in RIGHT if path.parent.name == "heat-cool-hookup")
    right, wrong = (
        places(sheet(of_text((folder / name).read_text("utf-8"))))
        for name in ("right.wire", "wrong-y-and-w-exchanged.wire")
    )
    moved = {name for name in right.keys() | wrong.keys() if right.get(name) != wrong.get(name)}
    assert {name for name in moved if "casing" not in name} == {
        "board-title",
        "conductor-TW.white",
        "conductor-TW.yellow",
    } - ({"board-title"} if right["board-title"] == wrong["board-title"] else set())


def tails(board: Board) -> dict[str, Counter[str]]:
    """What is under each screw: conductors' ends, pigtails of a splice, other screws."""
    under: dict[str, Counter[str]] = {}
    for join in board.joins:
        splice = " ".join(sorted(member.point for member in join.splice if member.kind == "end"))
        for screw, members in join.under.items():
            under.setdefault(screw, Counter()).update(
                splice if member.kind == "pigtail" else member.point for member in members
            )
    return under


def make_up(board: Board) -> Counter[tuple[object, ...]]:
    """The splices with the number of their pigtails, the wires that branch, the marks, and the jumpers."""
    found: Counter[tuple[object, ...]] = Counter()
    for join in board.joins:
        ends = [member.point for member in join.members if member.kind == "end"]
        pigtails = sum(member.kind == "pigtail" for member in join.members)
        landed = sum(len(under) for under in join.under.values())
        if len(join.splice) > 1 or pigtails or landed > 1:
            found["splice", frozenset(ends), pigtails, landed] += 1
        found.update((member.point, member.marked) for member in join.members if member.marked)
    return found


def shapes_that_stay(right: Board, wrong: Board) -> Iterator[str]:
    """Hold two boards that differ in where wires are landed to that alone.

    A word within a room goes with its own wire. That of another may give way to the one that is landed
    elsewhere there, but moves nowhere else.
    """
    one, other = places(sheet(right)), places(sheet(wrong))
    before, after = tails(right), tails(wrong)
    changed = {screw for screw in before.keys() | after.keys() if before.get(screw) != after.get(screw)}
    points = {point for screw in changed for under in (before, after) for point in under.get(screw, ())}
    wires = {
        conductor.name
        for board in (right, wrong)
        for conductor in board.conductors.values()
        if points.intersection(conductor.ends)
    }
    where: dict[str, str] = {}
    for board in (right, wrong):
        where |= {screw: each.place for screw, each in board.terminals.items()}
        for conductor in board.conductors.values():
            where |= dict(zip(conductor.ends, conductor.places, strict=True))
    touched = {where[point] for point in (*points, *changed) if point in where}
    loose = {f"{kind}-{point}" for kind in ("loose", "cap") for point in points}
    ties = [{f"tie-{each.name}": each.tied for each in board.breakers.values()} for board in (right, wrong)]
    said = [
        {
            word.format(each.name): each.bonded
            for each in board.panels.values()
            for word in ("label-kind-{}", "label-bond-{}", "leader-bond-{}", "bond-{}", "bond-{}-edge")
        }
        for board in (right, wrong)
    ]

    def may_change(point: str) -> bool:
        own = point in changed or point.partition("@")[0] in wires
        # A row of pigtails has its height among the jumpers of its room, and its word goes with it.
        gives_way = "@" not in point or f"within-{point}" not in one.keys() & other.keys()
        return own or (where[point] in touched and gives_way)

    for name in one.keys() | other.keys():
        if ties[0].get(name) != ties[1].get(name) or said[0].get(name) != said[1].get(name):
            continue
        wire = name.removeprefix("casing-")
        if (
            wire.startswith(("pigtail-", "jumper-", "splice-", "key-untold", "key-loose"))
            or name in loose
            or (name.startswith("within-") and may_change(name.removeprefix("within-").removesuffix("-gap")))
            or name in ("board-title", "board-title-2", "page")
        ):
            continue
        if wire.removeprefix("conductor-") in wires or name.removeprefix("terminal-") in changed:
            continue
        assert one.get(name) == other.get(name), name
        yield name


@pytest.mark.parametrize(
    ("right", "wrong"),
    [pytest.param(*pair, marks=[pytest.mark.slow] * bool(n % 5)) for n, pair in enumerate(PAIRS)],
    ids=[f"{wrong.parent.name}-{wrong.stem}" for _, wrong in PAIRS],
)
def test_a_wrong_board_differs_in_the_wrong_wire_alone(right: Path, wrong: Path) -> None:
    one, other = (of_text(path.read_text("utf-8")) for path in (right, wrong))
    if make_up(one) == make_up(other) and things(one) == things(other):
        assert list(shapes_that_stay(one, other))


TOO_WIDE = {
    "motor-starter/wrong-holding-contact-left-off": "with a splice more it could not be read on a screen",
}
"""Where another layout is taken, since the board as it is could not be read in that of the right one."""


def marked(board: Board) -> set[tuple[str, str]]:
    """The ends of wires that are marked, each with its color."""
    return {(member.point, member.marked) for join in board.joins for member in join.members if member.marked}


def beside(drawn: Sheet) -> dict[tuple[str, str], int]:
    """Of each two rooms whether one is left of the other (-1), right of it (1), or over or under it."""
    rooms = sorted(
        (frame for frame in drawn.frames if frame.kind.startswith("room")), key=lambda room: room.id
    )
    return {
        (one.id, other.id): (other.x + other.width <= one.x) - (one.x + one.width <= other.x)
        for one, other in combinations(rooms, 2)
    }


@pytest.mark.parametrize(
    ("right", "wrong"),
    [pytest.param(*pair, marks=[pytest.mark.slow] * bool(n % 41)) for n, pair in enumerate(PAIRS)],
    ids=[f"{wrong.parent.name}-{wrong.stem}" for _, wrong in PAIRS],
)
def test_a_wire_that_is_landed_elsewhere_or_left_off_moves_no_room_to_another_side(
    right: Path, wrong: Path
) -> None:
    """Where the same is put up, and the same wires are marked: for these their words take room."""
    one, other = (of_text(path.read_text("utf-8")) for path in (right, wrong))
    if put_up(one) == put_up(other) and marked(one) == marked(other):
        there = beside(sheet(one)) == beside(sheet(other))
        assert there != (f"{wrong.parent.name}/{wrong.stem}" in TOO_WIDE)


@pytest.mark.parametrize(
    "wrong",
    [pytest.param(wrong, marks=[pytest.mark.slow] * bool(n % 120)) for n, (_, wrong) in enumerate(PAIRS)],
    ids=[f"{wrong.parent.name}-{wrong.stem}" for _, wrong in PAIRS],
)
def test_flags_move_nothing(wrong: Path) -> None:
    """A board with its flags lies over the same one without, but for the open end of a wire behind a flag."""
    text = wrong.read_text("utf-8")
    board = of_text(text)
    drawn = sheet(board, wirecheck.check(text, effort=400).findings)
    bare, flagged = places(sheet(board)), places(drawn)
    moved = {name for name, place in bare.items() if flagged.get(name) != place}
    behind = {name for name in moved if name.startswith(("loose-", "cap-"))}
    points = {name.partition("-")[2] for name in behind}
    wires = {each.name for each in board.conductors.values() if points.intersection(each.ends)}
    assert {name.removeprefix("casing-").removeprefix("conductor-") for name in moved - behind} <= wires
    assert any(mark.kind == "flag" for mark in drawn.marks)


def things(board: Board) -> list[tuple[object, ...]]:
    """The cables, devices and breakers as they are said on the picture, and what is capped."""
    return [*put_up(board), tuple(sorted(board.capped))]


def put_up(board: Board) -> list[tuple[object, ...]]:
    """The cables, devices, boxes and breakers as they are said on the picture."""
    runs = [
        (
            run.name,
            run.kind,
            run.length,
            *(wire.size for wire in run.conductors),
            *(end.place for end in run.ends),
        )
        for run in board.runs.values()
    ]
    values = {
        name: [getattr(v, "text", "") for v in each.values.values()] for name, each in board.devices.items()
    }
    devices = [(name, each.part.name, each.place, *values[name]) for name, each in board.devices.items()]
    boxes = [(box.name, box.kind, box.metal) for box in board.boxes.values()]
    return [
        *runs,
        *devices,
        *boxes,
        *((each.name, each.amps, each.flags) for each in board.breakers.values()),
    ]


def still(board: Board, states: list[Settled]) -> None:
    """What a drawing has without a state, it has in the same place in every state; and so has the ladder.

    The dashes from blade to blade of a hand switch go with these.
    """
    blades = {f"link-{each.name}" for each in board.devices.values() if between_screws(each)}
    for kind in ("wiring", "ladder"):
        off = places(sheet(board, kind=kind))
        for state in states:
            on = places(sheet(board, kind=kind, state=state))
            for name, place in off.items():
                if name not in ("kind", "page", *blades):
                    assert on.get(name) == place, (kind, name)


@pytest.mark.parametrize(
    "path",
    [pytest.param(path, marks=[pytest.mark.slow] * (path not in RIGHT[::12])) for path in BOARDS],
    ids=lambda path: f"{path.parent.name}/{path.stem}",
)
def test_a_state_moves_nothing(path: Path) -> None:
    case = Case(of_text(path.read_text("utf-8")))
    states = [case.standing({}), *(case.standing({}, (call,)) for call in case.calls[:2])]
    still(case.board, states)


@pytest.mark.slow
def test_a_step_moves_nothing() -> None:
    for path in RIGHT:
        case = Case(wirecheck.assemble(path.read_text("utf-8"))[1])
        for call in case.calls[:1]:
            still(case.board, [step.settled for step in case.played([call]).steps][::3])


def no_cable_goes_around(board: Board) -> None:
    """From wall to wall a cable turns twice at most, and no two rooms are one over the other."""
    drawn = sheet(board)
    for line in drawn.lines:
        if line.kind.startswith("jacket"):
            assert all(len(piece) <= 4 for piece in line.pieces), line.id
    rooms = [frame for frame in drawn.frames if frame.kind.startswith("room")]
    boxes = [(room.x, room.y, room.x + room.width, room.y + room.height) for room in rooms]
    assert not any(geometry.overlap(one, other) for one, other in combinations(boxes, 2))


@pytest.mark.parametrize(
    "path",
    [pytest.param(path, marks=[pytest.mark.slow] * (path not in RIGHT[::10])) for path in BOARDS],
    ids=lambda path: f"{path.parent.name}/{path.stem}",
)
def test_no_cable_goes_around_the_page(path: Path) -> None:
    no_cable_goes_around(of_text(path.read_text("utf-8")))


@pytest.mark.slow
def test_no_cable_goes_around_the_page_of_generated_boards() -> None:
    for seed in range(200):
        no_cable_goes_around(of_text(generated.board(seed, 5 if seed % 10 == 0 else 2)))


def test_a_board_that_runs_back_has_its_boxes_under_each_other() -> None:
    """The second landing's box is under the first one's, and its cable comes in on the same side."""
    folder = next(path.parent for path in RIGHT if path.parent.name == "stair-light")
    drawn = sheet(of_text((folder / "right.wire").read_text("utf-8")))
    rooms = {frame.id: frame for frame in drawn.frames if frame.kind.startswith("room")}
    foot, head = rooms["room-FOOT"], rooms["room-HEAD"]
    assert foot.x + foot.width == pytest.approx(head.x + head.width)
    assert head.y > foot.y + foot.height
    (jacket,) = (line.pieces[0] for line in drawn.lines if line.id == "jacket-W2")
    assert min(x for x, _ in jacket) > foot.x and len(jacket) == 4
    wires = [line.pieces[0] for line in drawn.lines if line.id.startswith("conductor-W2")]
    heights = [[y for x, y in wire if abs(x - foot.x - foot.width) < 1] for wire in wires]
    assert all(list(at) == sorted(at) for at in zip(*heights, strict=True))


def test_wires_of_a_long_run_are_named_again() -> None:
    """A cable that runs far upright has its colors in the middle, each beside its own wire."""
    folder = next(path.parent for path in RIGHT if path.parent.name == "stair-light")
    drawn = sheet(of_text((folder / "right.wire").read_text("utf-8")))
    wires = {line.id: line.pieces[0] for line in drawn.lines if line.kind.startswith("conductor")}
    marks = {mark.id: mark for mark in drawn.marks}
    named = {
        name.removeprefix("again-") for name in marks if name.startswith("again-W2") and "dot" not in name
    }
    assert named == {"W2.white", "W2.bare", "W2.black", "W2.red"}
    for name in named:
        dot, text = marks[f"again-{name}-dot"], marks[f"again-{name}"]
        assert geometry.near(wires[f"conductor-{name}"], (dot.x, dot.y), 0.1) and text.y == dot.y
    assert not any(name.startswith(("again-W1", "again-W3")) for name in marks)


@pytest.mark.slow
def test_every_long_run_of_boards_that_ship_is_named_again() -> None:
    for path in RIGHT:
        drawn = sheet(of_text(path.read_text("utf-8")))
        told = {mark.id for mark in drawn.marks if mark.kind == "again"}
        wires = {line.id: line.pieces[0] for line in drawn.lines if line.kind.startswith("conductor")}
        for line in drawn.lines:
            if line.kind.startswith("jacket") and not line.id.endswith("-edge"):
                turns = line.pieces[0][1:-1]
                far = abs(turns[0][1] - turns[1][1]) if turns else 0.0
                near = [
                    name for name, way in wires.items() if turns and geometry.near(way, turns[0], line.pen)
                ]
                names = [f"again-{name.removeprefix('conductor-')}-dot" for name in near]
                assert far < 300 or any(name in told for name in names), (path, line.id)


def test_cables_to_the_next_band_do_not_cross() -> None:
    """Two from one panel lie in one another: the upper one outside, to the lower room."""
    folder = next(path.parent for path in RIGHT if path.parent.name == "heat-pump")
    drawn = wiring_sheet(of_text((folder / "right.wire").read_text("utf-8")), fit=Area(900.0, 4000.0))
    ways = {line.id: line.pieces[0] for line in drawn.lines if line.id in ("jacket-PA", "jacket-PH")}
    (_, (track, top), (_, low), _), (_, (other, upper), (_, lower), _) = ways["jacket-PA"], ways["jacket-PH"]
    assert (other < track, upper < top, lower > low) == (True, True, True)


def test_a_box_of_many_devices_has_them_over_its_wires_and_under_them() -> None:
    """Both rows are read from left to right, with one order of screws, and the wires run between them."""
    folder = next(path.parent for path in RIGHT if path.parent.name == "capacitor-compressor")
    board = of_text((folder / "right.wire").read_text("utf-8"))
    screws_as_the_part_has_them(board)
    drawn = sheet(board)
    (box,) = (frame for frame in drawn.frames if frame.id == "room-E")
    assert 0.6 < box.width / box.height < 1.7
    devices = {frame.id.removeprefix("device-"): frame for frame in drawn.frames if frame.kind == "device"}
    over = [name for name in board.devices if devices[name].y < box.y + box.height / 2]
    assert over == ["D", "TH", "C"] == list(board.devices)[:3]
    marks = {mark.id: mark for mark in drawn.marks}
    for name, device in board.devices.items():
        edge = devices[name].y + (devices[name].height if name in over else 0.0)
        assert {marks[f"terminal-{name}.{screw}"].y for screw in device.part.terminals} == {edge}


def test_devices_behind_one_plate_are_side_by_side() -> None:
    """However many: seven switches in a box of seven gangs."""
    names = [f"S{number}" for number in range(1, 8)]
    lines = ['board "Seven"', "box A device 90 cu in 7-gang", *(f"{n} is 4-way-switch in A" for n in names)]
    drawn = sheet(of_text("\n".join(lines)))
    assert len({frame.y for frame in drawn.frames if frame.kind == "device"}) == 1
    of_square = sheet(of_text("\n".join(lines).replace("device", "square").replace(" 7-gang", "")))
    assert len({frame.y for frame in of_square.frames if frame.kind == "device"}) == 2


def test_a_room_at_the_end_stands_under_the_panel_where_there_is_room() -> None:
    """The freezer's thermostat is not beyond the freezer; its cable comes in on the side of the panel's."""
    folder = next(path.parent for path in RIGHT if path.parent.name == "walk-in-freezer")
    drawn = sheet(of_text((folder / "right.wire").read_text("utf-8")))
    rooms = {frame.id: frame for frame in drawn.frames if frame.kind.startswith("room")}
    panel, box, end = rooms["room-TP"], rooms["room-W"], rooms["room-TS"]
    assert end.x == panel.x and end.y > panel.y + panel.height
    assert end.x + end.width < box.x


@pytest.mark.parametrize(
    ("name", "least"), [("garage-panel", 1.1), ("workshop-subpanel", 1.1), ("kitchen-appliances", 1.0)]
)
def test_rooms_stand_where_the_sheet_is_free(name: str, least: float) -> None:
    """What a panel feeds is beside it and under it: the picture is as wide as a screen."""
    path = next(path for path in RIGHT if path.parent.name == name)
    drawn = sheet(of_text(path.read_text("utf-8")))
    assert drawn.width / drawn.height > least


@pytest.mark.slow
def test_no_picture_is_a_strip() -> None:
    for path in RIGHT:
        drawn = sheet(of_text(path.read_text("utf-8")))
        assert 0.6 < drawn.width / drawn.height < 4.0, path


@pytest.mark.slow
@pytest.mark.parametrize("wrong", [wrong for _, wrong in PAIRS if wrong.parent.name == "garage-panel"])
def test_a_wrong_board_has_its_rooms_where_the_right_one_has_them(wrong: Path) -> None:
    """Also where the mistake is a breaker, a feeder or a rod that is not there."""
    right = next(path for path in RIGHT if path.parent == wrong.parent)
    one, other = (beside(sheet(of_text(path.read_text("utf-8")))) for path in (right, wrong))
    assert all(one[pair] == side for pair, side in other.items())


@pytest.mark.parametrize(
    "name", ["dead-end-three-way", "hall-fed-at-light", "stair-light-fed-at-light", "stair-light"]
)
def test_the_dot_of_wires_that_go_on_level_is_clear_of_what_crosses_them(name: str) -> None:
    """Close beside a crossing it reads as the joint of the wires that cross."""
    drawn = sheet(shipped(name))
    ways = [line.pieces[0] for line in drawn.lines if line.kind.startswith(("conductor ", "pigtail "))]
    uprights = [
        (x0, min(y0, y1), max(y0, y1))
        for way in ways
        for (x0, y0), (x1, y1) in pairwise(way)
        if abs(x0 - x1) < 0.01
    ]
    level = 0
    for dot in (mark for mark in drawn.marks if mark.kind == "splice"):
        if any(abs(x - dot.x) < 0.01 and low - 0.01 <= dot.y <= high + 0.01 for x, low, high in uprights):
            continue
        level += 1
        for x, low, high in uprights:
            assert abs(x - dot.x) > 22 or not low < dot.y < high, (dot.x, dot.y, x)
    assert level
