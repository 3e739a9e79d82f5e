"""The dots along wires and tails are where Kirchhoff's current law has a current, and nowhere else.

The law: what comes to a joint goes from it. What is drawn is taken apart where it is drawn to meet, and each
piece is held to what the solver brings to one side of it.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import networkx
import pytest

from tests.drawing.test_state import RIGHT, case_of
from tests.drawing.test_wiring import of_text
from wirecheck.circuit.settle import Settled
from wirecheck.drawing.copper import currents
from wirecheck.drawing.picture import sheet
from wirecheck.drawing.sheet import Line, Point, Sheet, Spot
from wirecheck.drawing.state import State
from wirecheck.judge.case import Case

WIRES = ("conductor", "pigtail", "jumper")
# The solver is exact to less than this.
EXACT = 1e-4


def on(point: Point, path: tuple[Point, ...]) -> bool:
    """Whether a point is on a way that goes level and upright."""
    x, y = point
    return any(
        min(a[0], b[0]) - 0.01 <= x <= max(a[0], b[0]) + 0.01
        and min(a[1], b[1]) - 0.01 <= y <= max(a[1], b[1]) + 0.01
        and (abs(a[0] - b[0]) < 0.01 or abs(a[1] - b[1]) < 0.01)
        for a, b in pairwise(path)
    )


def taken_apart(wire: Line, joints: set[Point]) -> Iterator[tuple[Point, ...]]:
    """The pieces of a wire between the points at which others end on it."""
    (path,) = wire.pieces
    piece = [path[0]]
    for a, b in pairwise(path):
        between = [joint for joint in joints if joint not in (a, b) and on(joint, (a, b))]
        for joint in sorted(between, key=lambda joint: abs(joint[0] - a[0]) + abs(joint[1] - a[1])):
            yield (*piece, joint)
            piece = [joint]
        piece.append(b)
        if b in joints and b != path[-1]:
            yield tuple(piece)
            piece = [b]
    yield tuple(piece)


def drawn_net(picture: Sheet, settled: Settled) -> networkx.MultiGraph:
    """The copper that is drawn, each piece with whether it is dotted, and at each joint what is brought.

    A wire from place to place is cut: what it carries is brought to its ends.
    """
    state = State(settled)
    wires = [line for line in picture.lines if line.kind.split()[0] in WIRES]
    joints = {end for wire in wires for end in (wire.pieces[0][0], wire.pieces[0][-1])}
    screws = [mark for mark in picture.marks if isinstance(mark, Spot) and mark.kind == "terminal"]
    net = networkx.MultiGraph(brought=Counter(), dotted=Counter())

    def joint(point: Point) -> str | Point:
        for screw in screws:
            off = abs(point[0] - screw.x) - screw.width / 2, abs(point[1] - screw.y) - screw.height / 2
            if max(off) < 0.01:
                return state.behind[screw.id.removeprefix("terminal-")]
        return point

    for wire in wires:
        dots = [
            line.pieces[0]
            for line in picture.lines
            if line.kind == "flow" and line.title == f"{wire.id} carries current"
        ]
        for piece in taken_apart(wire, joints):
            middle = max(pairwise(piece), key=lambda pair: abs(sum(pair[0]) - sum(pair[1])))
            # A slope is where a wire comes out of its jacket.
            upright = abs(middle[0][0] - middle[1][0]) < 0.01
            spot = (middle[0][0] + middle[1][0]) / 2, (middle[0][1] + middle[1][1]) / 2
            dotted = any(on(spot, path) for path in dots)
            one, other = joint(piece[0]), joint(piece[-1])
            net.add_nodes_from((one, other))
            net.graph["dotted"][one] += dotted
            net.graph["dotted"][other] += dotted
            body = wire.kind.startswith("conductor") and not all(
                abs(a[0] - b[0]) < 0.01 for a, b in pairwise(piece)
            )
            lands = wire.kind.startswith("conductor") and {one, other} & set(state.behind.values())
            if body or lands:
                amps = settled.amps[wire.id.removeprefix("conductor-")]
                assert upright or dotted == (abs(amps) >= state.least), wire.id
                ends = settled.circuit.board.conductors[wire.id.removeprefix("conductor-")].ends
                ahead = wire.tail == ends[0]
                net.graph["brought"][one] += -amps if ahead else amps
                net.graph["brought"][other] += amps if ahead else -amps
            else:
                net.add_edge(one, other, wire=wire.title, dotted=dotted)
    return net


def each_piece_has_dots_where_it_carries(picture: Sheet, settled: Settled) -> int:
    """Returns how many pieces were held to the law."""
    net, given, least = drawn_net(picture, settled), State(settled).given, State(settled).least
    loops = {frozenset(pair) for pair in net.edges()} - {
        frozenset(pair) for pair in networkx.bridges(networkx.Graph(net))
    }
    loops |= {frozenset((a, b)) for a, b, number in net.edges(keys=True) if number}
    held = 0
    for one, other, piece in list(net.edges(data=True)):
        if frozenset((one, other)) in loops:
            continue
        rest = networkx.Graph(net)
        rest.remove_edge(one, other)
        sums = []
        for start in (one, other):
            side = networkx.node_connected_component(rest, start)
            known = [given.get(joint, 0) for joint in side]
            if None not in known:
                sums.append(sum(known) + sum(net.graph["brought"][joint] for joint in side))
        assert len(sums) < 2 or abs(sums[0] + sums[1]) < EXACT, (piece["wire"], sums)
        for amps in sums:
            if abs(abs(amps) - least) > EXACT:
                assert piece["dotted"] == (abs(amps) >= least), (piece["wire"], one, other, amps)
        held += bool(sums)
    for place, count in net.graph["dotted"].items():
        looped = any(place in loop for loop in loops)
        assert isinstance(place, str) or looped or count != 1, (place, "the current ends in a splice")
    return held


@pytest.mark.parametrize(
    "path",
    [pytest.param(path, marks=[pytest.mark.slow] * bool(n % 16)) for n, path in enumerate(RIGHT)],
    ids=[path.parent.name for path in RIGHT],
)
def test_what_is_dotted_keeps_kirchhoffs_law(path: Path) -> None:
    case = Case(of_text(path.read_text("utf-8")))
    for calls in [(), *((call,) for call in case.calls)]:
        settled = case.standing({}, calls)
        each_piece_has_dots_where_it_carries(sheet(case.board, state=settled), settled)


@pytest.mark.parametrize(
    ("board", "calls", "moved", "least"),
    [
        # Two jumpers on one screw; a screw beside another that is tied to it.
        ("capacitor-compressor", ["cool"], {}, 12),
        ("furnace-on-a-sequencer", ["heat"], {}, 6),
        # The wire of a light that is off, in one splice with that of one that is on.
        ("two-gang-box", [], {"S2": "off"}, 6),
    ],
)
def test_every_piece_of_a_board_is_held_to_the_law(
    board: str, calls: list[str], moved: dict[str, str], least: int
) -> None:
    case = case_of(f"{board}/right.wire")
    settled = case.standing(moved, calls)
    assert each_piece_has_dots_where_it_carries(sheet(case.board, state=settled), settled) >= least


def dotted(board: str, calls: list[str], moved: dict[str, str] | None = None) -> dict[str, bool]:
    """For each pigtail and jumper of a board, by its title, whether it has dots."""
    case = case_of(f"{board}/right.wire")
    picture = sheet(case.board, state=case.standing(moved or {}, calls))
    flowing = {line.id.removeprefix("flow-") for line in picture.lines if line.kind == "flow"}
    return {
        line.title: line.id in flowing
        for line in picture.lines
        if line.kind.split()[0] in ("pigtail", "jumper")
    }


def test_jumpers_from_screw_to_screw_have_dots_all_the_way() -> None:
    """The compressor's 13.6 A go over the relay and the start capacitor, which has none."""
    found = dotted("capacitor-compressor", ["cool"])
    for screw in ("C.load-1", "SC.a", "D.load-2", "C.line-2"):
        assert found[f"pigtail to {screw}"], screw
    for ends in ("SC.a to CP.R", "C.load-2 to PR.5", "PR.5 to CP.C"):
        one, _, other = ends.partition(" to ")
        assert found.get(f"jumper from {ends}", found.get(f"jumper from {other} to {one}")), ends
    assert not found["jumper from SC.b to PR.1"]
    assert not any(
        dotted("capacitor-compressor", []).get(f"jumper from {ends}") for ends in ("SC.a to CP.R",)
    )


@pytest.mark.parametrize("wrong", ["evaporator-fan-behind-the-thermostat", "protector-jumpered"])
def test_a_row_of_screws_is_drawn_without_a_wire_that_nobody_put_there(wrong: str) -> None:
    """A screw in a row that its pigtail leaves from is no further wire back to the first of the row."""
    case = case_of(f"reach-in-cooler/wrong-{wrong}.wire")
    settled = case.standing({})
    net = drawn_net(sheet(case.board, state=settled), settled)
    assert not networkx.cycle_basis(networkx.Graph(net))
    assert net.number_of_edges() == networkx.Graph(net).number_of_edges() >= 9


ROW = """board "A row of screws"
panel TP 120/240 V
breaker TP.1 15 A
box A junction 42 cu in
cable W1 14/2 NM-B 10 ft from TP to A
L1 is lampholder 60 W in A
L2 is lampholder 60 W in A
L3 is lampholder 60 W in A
L4 is lampholder 60 W in A
at TP
  W1.black -- TP.1
  W1.white -- TP.neutral
at A
  W1.white -- L1.neutral -- pigtail -- L2.neutral -- pigtail -- L3.neutral -- pigtail -- L4.neutral
  W1.black -- L1.hot
  L1.hot -- pigtail -- L2.hot -- pigtail -- L3.hot -- pigtail -- L4.hot
"""


def test_a_row_of_nothing_but_screws_is_one_wire_with_a_pigtail_to_each() -> None:
    """They are under one connector: so no screw of the row has more than one of them on it."""
    settled = Case(of_text(ROW)).standing({})
    picture = sheet(of_text(ROW), state=settled)
    assert not [line for line in picture.lines if line.kind.startswith("jumper ")]
    rows = {line.title: line for line in picture.lines if line.kind.startswith("pigtail ")}
    hots = [rows[f"pigtail to L{n}.hot"] for n in (1, 2, 3, 4)]
    level = {max(hots[0].pieces[0], key=lambda point: -point[1])[1]}
    assert all({min(y for _, y in line.pieces[0])} == level for line in hots)
    dots = [mark for mark in picture.marks if mark.kind == "splice" and {mark.y} == level]
    assert len(dots) == 2
    flows = {line.title for line in picture.lines if line.kind == "flow"}
    assert all(f"{line.id} carries current" in flows for line in hots)
    each_piece_has_dots_where_it_carries(picture, settled)


def test_the_wire_of_a_light_that_is_off_has_no_dots_on_the_way_to_its_splice() -> None:
    case = case_of("two-gang-box/right.wire")
    for moved, upright in (({}, True), ({"S2": "off"}, False)):
        picture = sheet(case.board, state=case.standing(moved, []))
        lines = {line.id: line.pieces[0] for line in picture.lines}
        off = lines["conductor-W3.white"]
        splice = next(
            end for end in (off[0], off[-1]) if any(on(end, lines[f"conductor-W{n}.white"]) for n in (1, 2))
        )
        on_it = [
            line
            for line in picture.lines
            if line.kind == "flow"
            and line.title.split()[0] != "conductor-W3.white"
            and on(splice, line.pieces[0])
        ]
        assert bool(on_it) == upright


@pytest.mark.parametrize("seed", range(40))
def test_the_currents_of_a_tree_come_out_of_what_is_brought_to_it(seed: int) -> None:
    """The other way round: what flows in each edge is chosen, and what that takes at each joint is told."""
    chance = random.Random(seed)
    count = chance.randint(2, 12)
    chosen: dict[int, complex] = {}
    edges, brought = {}, dict.fromkeys(range(count), 0j)
    for joint in range(1, count):
        other = chance.randrange(joint)
        edges[joint] = (joint, other) if chance.random() < 0.5 else (other, joint)
        chosen[joint] = complex(chance.uniform(-9, 9), chance.uniform(-9, 9))
        one, last = edges[joint]
        brought[one] += chosen[joint]
        brought[last] -= chosen[joint]
    unknown: dict[int, complex | None] = {**brought, chance.randrange(count): None}
    for given in (brought, unknown):
        found = currents(edges, given)
        assert {key: pytest.approx(amps) for key, amps in chosen.items()} == found
    doubled = edges | {count: edges[1][::-1]}
    assert currents(doubled, brought)[1] is None is currents(doubled, brought)[count]
