"""The wiring diagram, judged from the geometry of its SVG alone."""

from __future__ import annotations

from collections import Counter
from itertools import combinations, pairwise
from pathlib import Path

import networkx
import pytest

import wirecheck
from tests import samples
from tests.drawing import generated, geometry
from tests.drawing.geometry import Picture, Shape
from tests.samples import shipped
from wirecheck import files
from wirecheck.drawing.colors import CAP, SCREWS, insulation
from wirecheck.drawing.flags import flags
from wirecheck.drawing.picture import draw, sheet
from wirecheck.drawing.rooms import rooms_of
from wirecheck.drawing.sheet import Words
from wirecheck.drawing.wiring import ONE_OF_THESE
from wirecheck.judge.finding import SEVERITIES, Finding, Mend, Severity
from wirecheck.judge.problem import Problem, Spot, Thing
from wirecheck.language.reader import read
from wirecheck.language.syntax import Span
from wirecheck.model.board import Board
from wirecheck.model.build import build

BOARDS = sorted([*files.folder("boards").glob("*.wire"), *files.folder("boards").glob("*/*.wire")])
SOUND = ("demo", "right")
QUICKLY = [path for path in BOARDS if path.stem in SOUND][::6]
QUICK, SEEDS = 20, 200
WIRES = ("conductor", "pigtail", "jumper")


def of_text(text: str) -> Board:
    return build(read(text, "board.wire"), wirecheck.shipped_parts())


def test_a_motor_of_several_speeds_says_what_it_draws_at_each() -> None:
    """At 4.6 A beside "3.1 A" alone it would look overloaded."""
    drawn = sheet(
        of_text('board "Speeds"\nB is two-speed-motor with low 3.1 A, high 4.6 A\nM is motor 5 A\n')
    )
    said = {mark.id: mark.text for mark in drawn.marks if isinstance(mark, Words)}
    assert said["label-part-B"] == "two-speed-motor low 3.1 A, high 4.6 A"
    assert said["label-part-M"] == "motor 5 A"


def some_findings(board: Board) -> list[Finding]:
    """Findings on every sort of spot, so that flags stand everywhere they can."""
    things = [
        *list(board.conductors.values())[::3],
        *list(board.terminals.values())[::2],
        *list(board.devices.values())[::2],
        *board.runs.values(),
        *board.boxes.values(),
        *board.breakers.values(),
        None,
    ]
    found = [about(thing, SEVERITIES[number % 4]) for number, thing in enumerate(things)]
    # Every other one is a mistake on other spots, from which more follows.
    return [
        one._replace(mends=mends(board, number), follows=tuple(found[-number - 3 : -number : 2]))
        if number % 2
        else one
        for number, one in enumerate(found)
    ]


def mends(board: Board, number: int) -> tuple[Mend, ...]:
    """One mend or two: of a wire's end and a screw, or of a thing."""
    ends = [end for conductor in board.conductors.values() for end in conductor.ends]
    named = [*board.runs, *board.breakers, *board.devices, *board.boxes, "nothing"]
    screws = list(board.terminals)
    at = [*ends[number : number + 1], *screws[number : number + 1]] or [named[number % len(named)]]
    mistake = "At HEAD, W1.black-and-a-name-that-is-long and W2.white are swapped, and it is said at length."
    mend = Mend(mistake, "Swap them.", (), at=tuple(at))
    return (mend, mend._replace(mistake="W1.black belongs elsewhere."))[: 1 + number // 2 % 2]


def about(thing: Thing | None, severity: Severity = "fault", changed: object = None) -> Finding:
    """A finding about a thing of a board; `changed` is what the hand would change."""
    span = Span(3, 1, 3, 9)
    problem = Problem(at=Spot(span, changed), about=thing, severity=severity, stage="final")
    message = "W1.white is a hot here and is not marked as one, and this is said at length, so that it wraps."
    return Finding("conductor-color", severity, message, span, problem.subject, problem=problem)


def judge(board: Board, findings: list[Finding], colors: str = "paper") -> Picture:
    """Hold a picture to every rule of clear drawing."""
    picture = geometry.read(draw(board, findings, colors=colors))
    labels_keep_apart(picture)
    labels_stay_in_their_frames(picture)
    rooms_stand_apart(picture)
    wires_keep_clear_of_devices(picture, board)
    wires_do_not_lie_on_one_another(picture)
    loose_ends_lie_on_no_wire(picture)
    everything_is_there_once(picture, board)
    it_says_what_the_board_says(picture, board)
    wires_stand_out(picture)
    flags_are_numbered(picture, findings)
    flags_stand_on_their_cause(picture, board, findings)
    return picture


def labels_keep_apart(picture: Picture) -> None:
    texts = sorted(picture.texts, key=lambda shape: shape.box[0])
    for place, one in enumerate(texts):
        for other in texts[place + 1 :]:
            if other.box[0] > one.box[2]:
                break
            assert not geometry.overlap(one.box, other.box, 0.3), (one.id, one.text, other.id, other.text)
    flags = sorted(picture.of("flag"), key=lambda shape: shape.box[0])
    for place, flag in enumerate(flags):
        for text in texts:
            if text.box[0] > flag.box[2]:
                break
            if text.id != f"{flag.id}-number":
                assert not geometry.overlap(flag.box, text.box, 0.3), (flag.id, text.text)
        for other in flags[place + 1 :]:
            if other.box[0] > flag.box[2]:
                break
            assert not geometry.overlap(flag.box, other.box, 0.3), (flag.id, other.id)


def labels_stay_in_their_frames(picture: Picture) -> None:
    page = next(shape for shape in picture.shapes if shape.id == "page")
    frames = [*picture.of("room"), *picture.of("device")]
    for text in picture.texts:
        assert geometry.inside(text.box, page.box), (text.id, text.text)
        for frame in frames:
            if frame.box[0] < geometry.middle(text)[0] < frame.box[2] and geometry.overlap(
                text.box, frame.box, 1
            ):
                assert geometry.inside(text.box, frame.box, 0.5), (text.id, text.text, frame.id)


def rooms_stand_apart(picture: Picture) -> None:
    """No frame of a room touches another's."""
    rooms = [shape.box for shape in picture.of("room")]
    wider = [(left - 6, top - 6, right + 6, low + 6) for left, top, right, low in rooms]
    for place, one in enumerate(wider):
        assert not any(geometry.overlap(one, other) for other in rooms[place + 1 :]), rooms[place]


def wires_keep_clear_of_devices(picture: Picture, board: Board) -> None:
    rooms = picture.of("room")
    devices, terminals, texts = picture.of("device"), picture.of("terminal"), picture.texts
    for kind in WIRES:
        for wire in picture.of(kind):
            for room in rooms:
                if not serves(wire, room, board):
                    assert not geometry.crosses(wire, room.box), (wire.id, room.id)
            for device in devices:
                assert not geometry.crosses(wire, device.box), (wire.id, device.id)
            for text in texts:
                own = "inline" in text.classes and wire.id == geometry.stands_on(text)
                if "number" not in text.classes and not own and geometry.overlap(wire.box, text.box):
                    box = (text.box[0], text.box[1] + 1, text.box[2], text.box[3] - 1)
                    assert not geometry.crosses(wire, box), (wire.id, text.id, text.text)
            ends = (wire.points[0], wire.points[-1])
            for terminal in terminals:
                if not any(at_screw(terminal, end) for end in ends):
                    assert not geometry.crosses(wire, terminal.box), (wire.id, terminal.id)

    wires = [wire for kind in WIRES for wire in picture.of(kind)]
    for flag in picture.of("flag"):
        under = [wire.id for wire in wires if geometry.crosses(wire, flag.box)]
        assert len(under) <= 1, (flag.id, under)  # a flag stands on the one wire that it is about


def serves(wire: Shape, room: Shape, board: Board) -> bool:
    """Whether a wire has an end in that room; a pigtail or a jumper stays in its own."""
    conductor = board.conductors.get(wire.id.removeprefix("conductor-"))
    if conductor is None:
        return geometry.inside(wire.box, room.box)
    return room.id.removeprefix("room-") in conductor.places


def wires_do_not_lie_on_one_another(picture: Picture) -> None:
    """Two wires may cross; along one another they keep a wire's width at least."""
    upright: list[tuple[float, float, float, str]] = []
    level: list[tuple[float, float, float, str]] = []
    for kind in WIRES:
        for wire in picture.of(kind):
            for (x0, y0), (x1, y1) in zip(wire.points, wire.points[1:], strict=False):
                if abs(x0 - x1) < 0.01 and abs(y0 - y1) > 0.01:
                    upright.append((x0, min(y0, y1), max(y0, y1), wire.id))
                elif abs(y0 - y1) < 0.01 and abs(x0 - x1) > 0.01:
                    level.append((y0, min(x0, x1), max(x0, x1), wire.id))
    for pieces in (upright, level):
        pieces.sort()
        for place, (at, start, end, name) in enumerate(pieces):
            for other_at, other_start, other_end, other in pieces[place + 1 :]:
                if other_at - at > 2.4:
                    break
                if name != other:
                    assert min(end, other_end) - max(start, other_start) < 0.5, (name, other)


def loose_ends_lie_on_no_wire(picture: Picture) -> None:
    """A cap on another wire would read as that wire's."""
    for mark in (*picture.of("cap"), *picture.of("loose")):
        own = mark.id.split("-", 1)[1].rpartition("@")[0]
        for wire in (wire for kind in WIRES for wire in picture.of(kind)):
            if own and wire.id != f"conductor-{own}":
                assert not geometry.crosses(wire, mark.box), (mark.id, wire.id)


def everything_is_there_once(picture: Picture, board: Board) -> None:
    conductors = Counter(shape.id for shape in picture.of("conductor"))
    assert conductors == Counter(f"conductor-{name}" for name in board.conductors)
    terminals = Counter(shape.id for shape in picture.of("terminal"))
    assert terminals == Counter(f"terminal-{name}" for name in board.terminals)
    frames = Counter(shape.id for shape in picture.of("device"))
    assert frames == Counter(f"device-{name}" for name in (*board.devices, *board.breakers))


def it_says_what_the_board_says(picture: Picture, board: Board) -> None:
    """Follow the drawn wires from screw to dot to screw: what is joined is what is joined on the board."""
    said, drawn = networkx.Graph(), networkx.Graph()
    for graph in (said, drawn):
        graph.add_nodes_from((*board.conductors, *board.terminals))
    for join in board.joins:
        names = [member.name for member in join.members if member.kind != "pigtail"]
        networkx.add_path(said, names)
    wires = [shape for kind in WIRES for shape in picture.of(kind)]
    spots = {shape.id.removeprefix("terminal-"): shape for shape in picture.of("terminal")}
    for wire in wires:
        name = wire.id.removeprefix("conductor-")
        for end in (wire.points[0], wire.points[-1]):
            for terminal, spot in spots.items():
                if at_screw(spot, end):
                    drawn.add_edge(name, terminal)
    for dot in picture.of("splice"):
        spot = geometry.middle(dot)
        here = [wire.id.removeprefix("conductor-") for wire in wires if geometry.near(wire.points, spot, 2.4)]
        networkx.add_path(drawn, here)
    ends = [(wire.points[at], wire) for wire in wires for at in (0, -1)]
    for (one, wire), (other, on) in combinations(ends, 2):
        # Two of one color that end at one point are one wire to the eye, with a bend.
        if wire.stroke == on.stroke and geometry.near((one, one), other, 0.5):
            drawn.add_edge(wire.id.removeprefix("conductor-"), on.id.removeprefix("conductor-"))
    kept = set(said)

    def groups(graph: networkx.Graph) -> set[frozenset[str]]:
        return {frozenset(group & kept) for group in networkx.connected_components(graph)}

    assert groups(said) == groups(drawn)


def at_screw(terminal: Shape, end: tuple[float, float]) -> bool:
    """At its upper end, or (where its device stands over the wires) at its lower one."""
    x0, y0, x1, y1 = terminal.box
    return x0 - 0.1 <= end[0] <= x1 + 0.1 and min(abs(end[1] - y0), abs(end[1] - y1)) < 0.1


def wires_stand_out(picture: Picture) -> None:
    """A wire or its casing has a contrast of 3:1 at least to room and page (WCAG 2.2, 1.4.11)."""
    casing = {shape.id.removeprefix("casing-"): shape for shape in picture.of("casing")}
    grounds = {shape.fill for shape in (*picture.of("room"), picture.shapes[0])}
    for kind in WIRES:
        for wire in picture.of(kind):
            assert casing[wire.id].points == wire.points
            assert casing[wire.id].width > wire.width + 1.5
            for ground in grounds:
                best = max(
                    geometry.contrast(wire.stroke, ground), geometry.contrast(casing[wire.id].stroke, ground)
                )
                assert best >= 3, (wire.id, ground)
    page = picture.shapes[0].fill
    for text in picture.texts:
        if "label" in text.classes:
            assert geometry.contrast(text.fill if text.fill != "none" else "black", page) >= 4.5, text.id


def flags_are_numbered(picture: Picture, findings: list[Finding]) -> None:
    """Each finding has a flag and a place in the list; what a mistake brings has small ones of its number."""
    flags = Counter(shape.id for shape in picture.of("flag"))
    assert set(flags.values()) <= {1}
    wanted = {f"{kind}-{number}" for number in range(1, len(findings) + 1) for kind in ("finding", "listed")}
    assert wanted <= set(flags)
    small = {shape.id for shape in picture.of("small")}
    numbers = {
        shape.id.removesuffix("-number"): shape for shape in picture.texts if "number" in shape.classes
    }
    for name in set(flags) - wanted:
        kind, number, count = name.split("-")
        # Without a mend there is one full flag, and a small one on what suffers.
        assert (findings[int(number) - 1].mends or kind == "suffers") and int(count) >= 1
        assert (kind == "suffers") == (name in small) and kind in ("suffers", "finding")
    for flag in picture.of("flag"):
        number = numbers[flag.id]
        assert number.text == flag.id.split("-")[1]
        assert geometry.inside(number.box, flag.box, 1.5)
        assert ((flag.box[2] - flag.box[0]) < 11) == (flag.id in small)
        assert geometry.contrast(number.fill, flag.fill) >= 4.5
    for number, finding in enumerate(findings, 1):
        first = next(shape.text for shape in picture.texts if shape.id == f"listed-{number}-line-1")
        told = finding.mistakes or (f"{finding.rule} ({finding.severity}), line",)
        begins = told[0] if len(told) == 1 else ONE_OF_THESE
        assert begins.startswith(first) or first.startswith(begins)


NEAR = 34.0
"""How far a flag may be from its screw or its words, in points; each flag beside it adds its width."""


def flags_stand_on_their_cause(picture: Picture, board: Board, findings: list[Finding]) -> None:
    """On the wire's own end, under the screw, in the frame of the device or room, or beside the words."""
    flags_of = {shape.id: shape for shape in picture.of("flag")}
    shapes = {shape.id: shape for shape in picture.shapes if not shape.text}
    words = {shape.id: shape for shape in picture.texts}
    wires = {end: wire.name for wire in board.conductors.values() for end in wire.ends}
    for spot, here in flags(board, rooms_of(board), findings).at.items():
        room = NEAR + 13 * (len(here) - 1)
        for flag in here:
            drawn = flags_of[flag.name]
            middle = geometry.middle(drawn)
            conductor = board.conductors.get(wires.get(spot, ""))
            if conductor is not None and conductor.places[0] == conductor.places[1]:
                (path,) = (
                    shape for shape in picture.of("conductor") if shape.id == f"conductor-{wires[spot]}"
                )
                assert geometry.near(path.points, middle, 1.0), (flag.name, spot)
            elif spot in wires:
                paths = [shape for shape in picture.of("conductor") if shape.id == f"conductor-{wires[spot]}"]
                assert any(geometry.near(path.points, middle, 1.0) for path in paths), (flag.name, spot)
                assert apart(words[f"label-{spot}"].box, middle) < room, (flag.name, spot)
            elif f"device-{spot}" in shapes or f"room-{spot}" in shapes:
                frame = shapes.get(f"device-{spot}") or shapes[f"room-{spot}"]
                assert geometry.inside(drawn.box, frame.box, 1), (flag.name, spot)
            elif f"terminal-{spot}" in shapes:
                assert apart(shapes[f"terminal-{spot}"].box, middle) < room, (flag.name, spot)
            elif spot in shapes:
                # Over a short jumper they stand on its upper edge, so that it is seen.
                assert geometry.near(shapes[spot].points, middle, 6.7), (flag.name, spot)
            elif f"label-{spot}" in words:
                assert apart(words[f"label-{spot}"].box, middle) < room, (flag.name, spot)
            else:
                assert apart(words["board-title"].box, middle) < room, (flag.name, spot)


def apart(box: geometry.Box, point: geometry.Point) -> float:
    """How far a point is from a box; nothing inside it."""
    across = max(box[0] - point[0], 0.0, point[0] - box[2])
    down = max(box[1] - point[1], 0.0, point[1] - box[3])
    return float((across**2 + down**2) ** 0.5)


@pytest.mark.parametrize(
    "path",
    [pytest.param(path, marks=[pytest.mark.slow] * (path not in QUICKLY)) for path in BOARDS],
    ids=lambda path: f"{path.parent.name}/{path.stem}",
)
def test_boards(path: Path) -> None:
    board = of_text(path.read_text("utf-8"))
    if path.stem in SOUND:
        judge(board, [])
    judge(board, some_findings(board), "dark")


@pytest.mark.parametrize(
    "tens", [pytest.param(tens, marks=[pytest.mark.slow] * (tens >= QUICK)) for tens in range(0, SEEDS, 10)]
)
def test_generated_boards(tens: int) -> None:
    for seed in range(tens, tens + 10):
        board = of_text(generated.board(seed, 5 if seed % 10 == 0 else 2))
        judge(board, some_findings(board) if seed % 2 else [], "paper" if seed % 4 else "dark")


@pytest.mark.parametrize(
    "seed", [pytest.param(seed, marks=[pytest.mark.slow] * (seed != 381)) for seed in (361, 381, 389)]
)
def test_flags_beside_a_screw_with_many_wires_keep_to_their_room(seed: int) -> None:
    """Three flags right of five wires that come down on one screw, in a column that is wide."""
    board = of_text(generated.board(seed, 2))
    judge(board, some_findings(board), "dark")


def test_the_same_board_gives_the_same_bytes() -> None:
    board = of_text(generated.board(7))
    assert draw(board, some_findings(board)) == draw(of_text(generated.board(7)), some_findings(board))


def test_a_pigtail_that_leads_to_no_screw_is_drawn() -> None:
    board = of_text(
        """board "Tails"
panel LP 120 V
breaker LP.1 15 A
box A square 21 cu in
cable W1 14/2 NM-B 10 ft from LP to A
S1 is single-pole-switch in A
at LP
  W1.black -- LP.1
at A
  W1.black -- pigtail -- S1.line
  W1.white -- pigtail
  W1.bare -- pigtail -- S1.ground
  W1.bare -- pigtail
"""
    )
    picture = judge(board, [])
    assert len(picture.of("pigtail")) == 4
    assert sum("pigtail" in shape.id for shape in picture.of("loose")) == 2
    assert {"W1 10 ft", "14/2 NM-B"} <= {shape.text for shape in picture.texts}


def test_a_pigtail_between_a_screw_and_a_wire_leads_to_that_screw() -> None:
    """Two pigtails come down onto one screw, and none is left open."""
    board = of_text(
        'board "Back"\npanel LP 120 V\nbox A square 21 cu in\n'
        "cable W1 14/2 NM-B 10 ft from LP to A\ncable W2 14/2 NM-B 10 ft from LP to A\n"
        "S1 is single-pole-switch in A\nat A\n  W1.black -- pigtail -- S1.line -- pigtail -- W2.black\n"
    )
    picture = judge(board, [])
    assert len(picture.of("pigtail")) == 2
    assert not any("pigtail" in shape.id for shape in picture.of("loose"))


@pytest.mark.parametrize(("side", "first"), [("left", "S1"), ("right", "S2")])
def test_the_wires_of_a_splice_go_down_to_the_first_screw_that_they_come_to(side: str, first: str) -> None:
    ends = "from TP to A" if side == "left" else "from A to B"
    text = f"""board "Two switches"
panel TP 120/240 V
breaker TP.1 15 A
box A device 18 cu in
box B octagon 15 cu in
cable W0 14/2 NM-B 10 ft from TP to A
cable W1 14/2 NM-B 10 ft {ends}
S1 is single-pole-switch in A
S2 is single-pole-switch in A
at A
  W1.bare -- pigtail -- S1.ground -- pigtail -- S2.ground
"""
    picture = geometry.read(draw(of_text(text)))
    shapes = {shape.id: shape for shape in picture.shapes}
    (wire,) = (shape for shape in picture.of("conductor") if shape.id == "conductor-W1.bare")
    screw = geometry.middle(shapes[f"terminal-{first}.ground"])
    assert min(abs(x - screw[0]) for x, _ in wire.points) < 0.1
    other = geometry.middle(shapes[f"terminal-{'S2' if first == 'S1' else 'S1'}.ground"])
    assert all((x - screw[0]) * (other[0] - screw[0]) <= 0.1 for x, _ in wire.points)


def test_a_jumper_to_a_ground_is_not_black() -> None:
    board = of_text(
        'board "Jumped"\npanel LP 120 V\nbox B octagon\n'
        "L1 is lampholder 60 W in B\nD1 is gfci-receptacle in B\n"
        "at B\n  L1.neutral -- L1.ground\n  D1.line-neutral -- D1.load-neutral\n  L1.hot -- D1.line-hot\n"
    )
    drawn = [shape.stroke for shape in geometry.read(draw(board)).of("jumper")]
    assert drawn == [insulation(color) for color in ("green", "white", "black")]


def test_a_jumper_and_a_pigtail_have_the_color_of_the_wires_that_they_go_on_from() -> None:
    board = of_text(
        'board "On"\npanel LP 120/240 V\nbreaker LP.2 15 A\nbreaker LP.4 15 A\nbox B octagon metal\n'
        "cable W1 14/2 NM-B 9 ft from LP to B\ncable W2 14/2 NM-B 9 ft from LP to B\n"
        "M1 is run-capacitor 5 uF in B\nM2 is run-capacitor 5 uF in B\nM3 is run-capacitor 5 uF in B\n"
        "at B\n  M1.a -- W1.white\n  M2.a -- M1.a\n  M3.a -- M2.a\n  M1.b -- W1.black\n  M2.b -- M1.b\n"
        "  W2.white marked red -- pigtail -- M3.b -- pigtail -- B.ground\n"
    )
    picture = geometry.read(draw(board))
    assert [shape.stroke for shape in picture.of("jumper")] == [
        insulation(color) for color in ("white", "white", "black")
    ]
    assert {shape.stroke for shape in picture.of("pigtail")} == {insulation("red")}


LEADS = """board "Leads"
panel LP 120/240 V
box B octagon metal
cable W1 14/2 NM-B 9 ft from LP to B
cable W2 14/2 NM-B 9 ft from LP to B
M1 is fan-motor 1 A in B
M2 is fan-motor 1 A in B
C1 is run-capacitor 5 uF in B
B1 is push-button in B
at B
"""


@pytest.mark.parametrize(
    ("joins", "spliced", "on"),
    [
        # Wires and leads are in one connector, and each lead comes to its device as one wire.
        (["W1.black -- W2.black -- M1.a -- M2.a"], True, {"M1.a": 1, "M2.a": 1}),
        (["W1.black -- M1.a", "M1.a -- M2.a"], True, {"M1.a": 1, "M2.a": 1}),
        (["M1.a -- M2.a -- M2.b"], True, {"M1.a": 1, "M2.a": 1, "M2.b": 1}),
        # A screw for three takes the wires and the lead; one for one wire has what comes from a connector.
        (["W1.black -- W2.black -- M1.a -- C1.a"], False, {"M1.a": 1, "C1.a": 3}),
        (["W1.black -- M1.a -- M2.a -- C1.a"], False, {"M1.a": 1, "M2.a": 1, "C1.a": 3}),
        (["W1.black -- M1.a -- B1.a"], True, {"M1.a": 1, "B1.a": 1}),
        (["W1.black -- W2.black -- M1.a -- C1.a", "C1.a -- M2.a"], True, {"M1.a": 1, "C1.a": 2, "M2.a": 1}),
        # A pigtail is from a connector, whatever the screw takes.
        (["W1.black -- M1.a -- pigtail -- C1.a"], True, {"M1.a": 1, "C1.a": 1}),
        (["B1.a -- M1.a -- pigtail -- C1.a"], True, {"M1.a": 1, "B1.a": 1, "C1.a": 1}),
        # One wire or one lead needs no dot of its own.
        (["W1.black -- M1.a", "M1.b -- M2.b"], False, {"M1.a": 1, "M1.b": 1, "M2.b": 1}),
    ],
)
def test_what_meets_at_a_lead_is_spliced_or_under_the_screw_that_it_comes_to(
    joins: list[str], spliced: bool, on: dict[str, int]
) -> None:
    """A lead is a wire, and no screw that holds many."""
    picture = judge(of_text(LEADS + "".join(f"  {join}\n" for join in joins)), [])
    assert bool(picture.of("splice")) == spliced
    ends = [end for kind in WIRES for wire in picture.of(kind) for end in (wire.points[0], wire.points[-1])]
    found = {
        shape.id.removeprefix("terminal-"): sum(at_screw(shape, end) for end in ends)
        for shape in picture.of("terminal")
    }
    assert {screw: count for screw, count in found.items() if count} == on


def test_no_lead_on_a_board_that_ships_is_drawn_with_two_wires() -> None:
    """And where a screw of a furnace has room for the field's wires, they are on it."""
    of: dict[str, set[str]] = {}
    for path in BOARDS:
        if path.stem not in SOUND:
            continue
        board = of_text(path.read_text("utf-8"))
        for slot in [slot for room in rooms_of(board) for body in room.bodies for slot in body.slots]:
            assert "lead" not in slot.terminal.spec.flags or len(slot.tails) < 2, (path, slot.terminal.name)
            wires = {tail.pin.conductor.name for tail in slot.tails if tail.pin is not None}
            of[f"{path.parent.name} {slot.terminal.name}"] = wires
    assert of["common-wire-kit F.R"] == {"TW.red"}
    assert of["common-wire-kit F.C"] == {"TW.green", "OW.white"}
    assert of["economizer P.R"] == {"TW.red"}
    assert of["economizer P.C"] == {"TW.blue"}


def test_a_board_with_nothing_on_it() -> None:
    judge(of_text(""), [])
    judge(of_text('board "<b>&amp; \\"N\\" \\\\l"'), [])


KEYED = """board "Keyed"
panel LP 120 V
breaker LP.1 15 A
box A square 21 cu in
cable W1 14/3 NM-B 10 ft from LP to A
S1 is single-pole-switch in A
at LP
  W1.black -- LP.1
  W1.white -- LP.neutral
  cap W1.red
at A
  W1.black -- S1.line
"""


def keyed(text: str) -> set[str]:
    """What the key under a board's wiring explains."""
    marks = {mark.id: mark for mark in sheet(of_text(text)).marks}
    for name in [name for name in marks if name.startswith("key-") and f"{name}-spot" in marks]:
        assert marks[f"{name}-spot"].x < marks[name].x
    return {name.removeprefix("key-") for name, mark in marks.items() if mark.kind == "label key"}


def test_the_key_has_the_marks_that_are_on_the_picture_and_no_other() -> None:
    there = {
        "brass-screw",
        "green-screw",
        "other-screw",
        "neutral-bar",
        "grounding-bar",
        "plate",
        "cap",
        "loose",
    }
    assert keyed(KEYED) == there
    assert keyed(KEYED.replace("S1 is single-pole-switch", "S1 is duplex-receptacle")) >= {"tab"}
    pressed = keyed(KEYED.replace("S1 is single-pole-switch", "S1 is push-button"))
    assert pressed & {"plate", "button"} == {"button"}
    assert keyed(f"{KEYED}  W1.white marked black -- pigtail -- S1.load\n") == there | {"splice", "band"}


def test_the_size_of_a_wire_in_a_raceway_is_in_the_label_of_that() -> None:
    """What is too thin is seen; a wire by itself has its size in its own label."""
    text = (
        'board "Sizes"\npanel LP 120 V\nbox A square 21 cu in\nraceway R1 EMT 1/2 in 9 ft from LP to A\n'
        "wire H1 8 THHN black 10 ft from LP to A in R1\nwire H2 10 THHN red 10 ft from LP to A\n"
    )
    words = {mark.id: getattr(mark, "text", "") for mark in sheet(of_text(text)).marks}
    assert words["label-R1-wires"] == "1 #8"
    assert (words["label-H2@A"], words["label-H2-kind"]) == ("H2 red", "10 THHN")


def test_a_cap_has_the_color_of_no_screw() -> None:
    assert CAP not in SCREWS.values()


@pytest.mark.slow
@pytest.mark.parametrize("name", ["motor-starter", "motor-control-transformer"])
def test_a_wire_that_stays_in_its_room_runs_level_from_one_end_to_the_other(name: str) -> None:
    """And turns twice: it goes no farther to either side than its ends are."""
    path = next(path for path in BOARDS if path.parent.name == name and path.stem == "right")
    board = of_text(path.read_text("utf-8"))
    lines = {line.id: line.pieces[0] for line in sheet(board).lines}
    inner = [each.name for each in board.conductors.values() if each.places[0] == each.places[1]]
    assert inner
    for wire in inner:
        way = lines[f"conductor-{wire}"]
        ends = sorted((way[0][0], way[-1][0]))
        assert all(ends[0] <= x <= ends[1] for x, _ in way), wire
        level = {round(y, 3) for (_, y), (_, other) in pairwise(way) if abs(y - other) < 0.001}
        assert len(level) == 1, wire


def test_a_raceway_says_what_wires_are_in_it() -> None:
    path = next(
        path for path in BOARDS if (path.parent.name, path.stem) == ("garage-panel", "wrong-feeder-too-thin")
    )
    right = path.with_name("right.wire")
    told = [
        {
            mark.id: mark.text
            for mark in sheet(of_text(each.read_text("utf-8"))).marks
            if isinstance(mark, Words)
        }
        for each in (right, path)
    ]
    assert [words["label-UG-wires"] for words in told] == ["3 #6", "3 #8"]
    assert [words["label-UG-wires-2"] for words in told] == ["1 #10", "1 #10"]


def test_a_splice_of_one_color_has_no_dot_on_a_mere_bend() -> None:
    """Its red and its white each go to two screws: each is one joint, and so are yellow and red at P1."""
    board = of_text((files.folder("boards") / "two-units-one-thermostat" / "right.wire").read_text())
    assert len([mark for mark in sheet(board).marks if mark.kind == "splice"]) == 3


def test_the_words_of_a_device_keep_off_its_sides() -> None:
    for name in ("arc-fault-outlet", "oil-furnace", "pump-down-cooler"):
        drawn = sheet(shipped(name))
        frames = {frame.id.removeprefix("device-"): frame for frame in drawn.frames}
        told = [mark for mark in drawn.marks if mark.id.startswith(("label-part-", "label-ratings-"))]
        for words in told:
            frame = frames[words.id.removeprefix("label-part-").removeprefix("label-ratings-")]
            left, right = words.x - words.width / 2, words.x + words.width / 2
            assert min(left - frame.x, frame.x + frame.width - right) > 7.9, words.id
        assert told


@pytest.mark.parametrize("part", ["class-2-transformer", "fused-class-2-transformer"])
def test_the_lead_of_a_transformer_that_is_a_neutral_at_120_volts_says_where_it_is_a_hot(part: str) -> None:
    """At 240 V both leads of a primary are hots of 120/240 V: who reads neutral there may touch it."""
    for primary, said in (("120 V", ""), ("208 V", " (hot)"), ("240 V", " (hot)")):
        drawn = sheet(of_text(f'board "T"\nX is {part} with primary {primary}\n'))
        words = {mark.id: mark.text for mark in drawn.marks if isinstance(mark, Words)}
        assert words["label-X.primary-neutral-screw"] == f"primary-neutral{said}"
        assert words["label-X.primary-hot-screw"] == "primary-hot"


def test_the_neutral_of_a_tap_for_277_volts_is_no_hot() -> None:
    """It is from a hot to the neutral of 480Y/277 V: two hots on it would be 480 V."""
    own = files.part_text("class-2-transformer")
    assert own is not None
    parts = {"lighting-transformer": own.replace("part class-2-", "part lighting-").replace("240 V", "277 V")}
    drawn = sheet(samples.board('board "T"\nX is lighting-transformer with primary 277 V\n', parts))
    assert {mark.text for mark in drawn.marks if isinstance(mark, Words)} >= {
        "primary-neutral",
        "primary-hot",
    }


def test_a_wire_within_its_room_turns_toward_its_other_end() -> None:
    """At the bend of its splice the other wire goes on toward that, and not as if its end were open."""
    text = (files.folder("boards") / "motor-starter" / "right.wire").read_text("utf-8")
    text = text.replace("wire K3 14 THHN red", "wire K4 14 THHN blue 1 ft from E to E\nwire K3 14 THHN blue")
    board = of_text(text.replace("C3 -- K3 -- C.14", "C3 -- K3 -- K4\n  K4 -- C.14"))
    picture = geometry.read(draw(board))
    it_says_what_the_board_says(picture, board)
    ends = {shape.id: (shape.points[0], shape.points[-1]) for shape in picture.of("conductor")}
    ways = {shape.id: shape.points for shape in picture.of("conductor")}
    # Where one wire ends the other one goes on, and neither lies on the other.
    met = [(a, b) for a, b in combinations(("conductor-C3", "conductor-K3", "conductor-K4"), 2)]
    joints = [(a, b, joint) for a, b in met for joint in set(ends[a]) & set(ends[b])]
    assert joints
    for one, other, joint in joints:
        for name, beside in ((one, other), (other, one)):
            along = ways[name] if ways[name][0] == joint else ways[name][::-1]
            assert not geometry.near(ways[beside], along[1], 0.5), name


@pytest.mark.parametrize(
    ("name", "words"),
    [
        # What sizes its circuit, and not the transformer inside it.
        ("heating-call", "gas-furnace MCA 12.2 A"),
        ("electric-furnace", "electric-furnace MCA 53.8 A"),
        # What its contacts carry, and not what its coil draws.
        ("heater-contactor", "contactor-2-pole 30 A"),
        # A time is that of a delay, and not how long a plenum takes to cool.
        ("two-units-one-thermostat", "delay-on-make 10 s"),
        ("dual-fuel", "dual-fuel-kit"),
        # Of a transformer alone its volt-amperes: its volts stand below.
        ("motor-control-transformer", "control-transformer 100 VA"),
        ("doorbell", "doorbell-transformer 30 VA"),
    ],
)
def test_the_size_under_a_device_is_what_it_is_chosen_by(name: str, words: str) -> None:
    board = of_text((files.folder("boards") / name / "right.wire").read_text("utf-8"))
    assert words in {text.text for text in geometry.read(draw(board)).texts}


def test_a_motor_with_its_electronics_is_one_sign_and_has_the_amperes_of_its_speed() -> None:
    path = files.folder("boards") / "variable-speed-furnace" / "right.wire"
    board = of_text(path.read_text("utf-8"))
    words = [text.text for text in geometry.read(draw(board)).texts]
    assert words.count("blower") == 1 and not any("low-speed" in each for each in words)
    shown = geometry.read(wirecheck.draw(path, calls=["cool"]).svg)
    assert "lit-F.blower.low-speed" in {frame.id for frame in shown.of("lit")}
    assert "6.99 A" in {text.text for text in shown.texts}
