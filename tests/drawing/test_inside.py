"""What is inside equipment, judged from the geometry of its SVG alone, and held to its part files."""

from __future__ import annotations

import html
import re
from pathlib import Path

import networkx
import pytest

import wirecheck
from tests.drawing import geometry
from tests.drawing.geometry import Picture, Point
from tests.drawing.test_ladder import of_text, on, pins, signs, words_stay_on_the_page
from wirecheck import files
from wirecheck.arguments import WrongArgument
from wirecheck.circuit.circuit import circuit
from wirecheck.drawing.picture import draw
from wirecheck.model.board import Board, Device
from wirecheck.model.devices import every_device

BOARDS = sorted(files.folder("boards").glob("*/right.wire"))
QUICK = ("condensing-furnace", "walk-in-freezer")


def judge(board: Board, device: Device) -> Picture:
    """Hold the inside of a device to every rule."""
    svg = draw(board, inside=device.name)
    picture = geometry.read(svg)
    words_stay_on_the_page(picture)
    texts = [text for text in picture.texts if "letter" not in text.classes]
    for place, one in enumerate(texts):
        for other in texts[place + 1 :]:
            assert not geometry.overlap(one.box, other.box, 0.3), (one.text, other.text)
    boxes = [(text.text, text.box) for text in texts] + list(signs(picture).items())
    for wire in picture.of("wire"):
        for name, (x0, y0, x1, y1) in boxes:
            assert not geometry.crosses(wire, (x0 + 1, y0 + 1, x1 - 1, y1 - 1)), (wire.id, name)
    every_part_is_there(picture, board, device)
    every_wire_is_there(picture, svg, board, device)
    screws_are_at_the_edge(picture, device)
    return picture


def inside(device: Device) -> list[Device]:
    return list(every_device({device.name: device}))


def every_part_is_there(picture: Picture, board: Board, device: Device) -> None:
    told, own = circuit(board), {each.name for each in inside(device)}
    expected = [f"load-{each.name}" for each in told.loads if each.device in own]
    expected += [f"contact-{each.name}" for each in told.contacts if each.scope in own]
    expected += [f"outlet-{each.name}" for each in told.outlets if each.device in own]
    for each in told.windings:
        expected += [f"{side}-{each.name}" for side in ("primary", "secondary") if each.device in own]
    for protection in told.protections:
        if protection.device in own:
            expected += [f"pole-{protection.pole(pole)}" for pole in range(len(protection.pairs))]
    drawn = [name for name in signs(picture) if not name.startswith("input-")]
    assert sorted(drawn) == sorted(expected)


def every_wire_is_there(picture: Picture, svg: str, board: Board, device: Device) -> None:
    """What the strokes tie together is what the wires inside tie together, and nothing else."""
    truth = networkx.Graph()
    for each in inside(device):
        truth.add_nodes_from(f"{each.name}.{terminal}" for terminal in each.part.terminals)
        truth.add_edges_from(
            (f"{each.name}.{one.a}", f"{each.name}.{one.b}") for one in each.part.contacts if one.when is None
        )
    wires = picture.of("wire")
    drawn = networkx.Graph()
    drawn.add_nodes_from(range(len(wires)))
    for number, wire in enumerate(wires):
        for other, path in enumerate(wires[:number]):
            ends = (wire.points[0], wire.points[-1]), (path.points[0], path.points[-1])
            touch = any(geometry.near(path.points, end, 0.2) for end in ends[0])
            if touch or any(geometry.near(wire.points, end, 0.2) for end in ends[1]):
                drawn.add_edge(number, other)
    net = {wire: place for place, group in enumerate(networkx.connected_components(drawn)) for wire in group}
    titles = dict(re.findall(r'<g id="([^"]*)" class="[^"]*">\n<title>([^<]*)</title>', svg))
    found: dict[str, int] = {}
    for number, wire in enumerate(wires):
        if wire.id.endswith(("-left", "-right")):
            point = html.unescape(titles[html.escape(wire.id)])
            assert found.setdefault(point, net[number]) == net[number], point
    for screw in picture.of("terminal"):
        at = geometry.middle(screw)
        (number,) = {net[n] for n, wire in enumerate(wires) if ends_at(wire.points, at)}
        found[screw.id.removeprefix("terminal-")] = number
    for group in networkx.connected_components(truth):
        assert len({found[point] for point in group if point in found}) <= 1, group
    whole = {
        point: number for number, group in enumerate(networkx.connected_components(truth)) for point in group
    }
    pairs = {(whole[point], number) for point, number in found.items()}
    assert len(pairs) == len({one for one, _ in pairs}) == len({other for _, other in pairs})
    leads = [pin for pair in pins(picture).values() for pin in pair]
    for pin in leads:
        assert any(on(pin, (wire.points[0], wire.points[-1])) for wire in wires), pin


def ends_at(points: tuple[Point, ...], at: Point) -> bool:
    return any(abs(x - at[0]) + abs(y - at[1]) < 0.3 for x, y in (points[0], points[-1]))


def screws_are_at_the_edge(picture: Picture, device: Device) -> None:
    """Each screw on the frame, those of 24 V on the lower edge where there is line voltage too."""
    (frame,) = (shape for shape in picture.of("device") if shape.box[2] - shape.box[0] > 60)
    edges = {shape.id.rpartition(".")[2]: geometry.middle(shape)[1] for shape in picture.of("terminal")}
    assert set(edges) == set(device.part.terminals)
    for name, y in edges.items():
        assert min(abs(y - frame.box[1]), abs(y - frame.box[3])) < 0.5, name
    parted = picture.of("apart")
    if parted:
        height = parted[0].box[1]
        for wire in picture.of("wire"):
            assert (wire.box[1] < height) == (wire.box[3] < height), wire.id
        for name, y in edges.items():
            low = device.part.terminals[name].role in ("class-2", "class-2-common")
            if low:
                assert y > height, name


@pytest.mark.parametrize(
    "path",
    [pytest.param(path, marks=[pytest.mark.slow] * (path.parent.name not in QUICK)) for path in BOARDS],
    ids=lambda path: path.parent.name,
)
def test_boards(path: Path) -> None:
    board = of_text(path.read_text("utf-8"))
    for device in board.devices.values():
        judge(board, device)


@pytest.mark.slow
def test_every_part_that_ships() -> None:
    library = wirecheck.shipped_parts()
    for name in library.names():
        part = library.part(name)
        if not part.terminals:
            continue
        board = of_text(f'board "Inside"\nX is {name}')
        if board.devices:
            judge(board, board.devices["X"])


def test_an_inside_that_is_not_there_is_said() -> None:
    board = of_text('board "Heat"\nF is gas-furnace')
    with pytest.raises(WrongArgument, match="there is no device 'G': there are F"):
        draw(board, inside="G")
