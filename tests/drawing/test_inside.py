"""What is inside equipment, judged from the geometry of its SVG alone, and held to its part files."""

from __future__ import annotations

import html
import math
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import networkx
import pytest

import wirecheck
from tests.drawing import geometry
from tests.drawing.geometry import Picture, Point
from tests.drawing.test_ladder import on, pins, signs, words_stay_on_the_page
from tests.drawing.test_wiring import of_text
from tests.samples import shipped
from wirecheck import files
from wirecheck.arguments import WrongArgument
from wirecheck.circuit.circuit import circuit
from wirecheck.circuit.machine import as_wound
from wirecheck.circuit.settle import resting, settle
from wirecheck.drawing.inner import nets
from wirecheck.drawing.inside import inside_sheet
from wirecheck.drawing.picture import draw
from wirecheck.drawing.state import State
from wirecheck.model.board import Board, Device
from wirecheck.model.devices import every_device
from wirecheck.parts.part import TerminalSpec

BOARDS = sorted(files.folder("boards").glob("*/right.wire"))
QUICK = ("condensing-furnace", "walk-in-freezer")


def judge(board: Board, device: Device) -> Picture:
    """Hold the inside of a device to every rule."""
    svg = draw(board, inside=device.name)
    picture = geometry.read(svg)
    words_and_wires_keep_clear(picture)
    every_part_is_there(picture, board, device)
    every_wire_is_there(picture, svg, board, device)
    screws_are_at_the_edge(picture, device)
    return picture


def words_and_wires_keep_clear(picture: Picture) -> None:
    words_stay_on_the_page(picture)
    texts = [text for text in picture.texts if "letter" not in text.classes]
    for place, one in enumerate(texts):
        for other in texts[place + 1 :]:
            assert not geometry.overlap(one.box, other.box, 0.3), (one.text, other.text)
    boxes = [(text.text, text.box) for text in texts] + list(signs(picture).items())
    for wire in picture.of("wire"):
        for name, (x0, y0, x1, y1) in boxes:
            assert not geometry.crosses(wire, (x0 + 1, y0 + 1, x1 - 1, y1 - 1)), (wire.id, name)
    for halo in picture.of("lit"):
        for text in texts:
            assert not geometry.overlap(halo.box, text.box, -0.5), (halo.id, text.text)


def inside(device: Device) -> list[Device]:
    return list(every_device({device.name: device}))


def every_part_is_there(picture: Picture, board: Board, device: Device) -> None:
    # Of a motor with a winding on a lead of its own the windings are there, and no contact for its rotor.
    told, own = as_wound(circuit(board)), {each.name for each in inside(device)}
    expected = [f"load-{name}" for name, _, _ in told.drawn if told.load_of[name].device in own]
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
    # A lead goes on to its winding, whatever its rotor does.
    wound, own = {one.name for one in as_wound(circuit(board)).contacts}, {one.name for one in inside(device)}
    rotors = [one for one in circuit(board).contacts if one.name not in wound and one.scope in own]
    truth.add_edges_from((one.a, one.b) for one in rotors)
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
            for point in html.unescape(titles[html.escape(wire.id)]).split(", "):
                assert found.setdefault(point, net[number]) == net[number], point
    used, screws = set(ends_of(board, device)), screws_of(device)
    for screw in picture.of("terminal"):
        at, name = geometry.middle(screw), screw.id.removeprefix("terminal-")
        behind = {net[n] for n, wire in enumerate(wires) if ends_at(wire.points, at)}
        whole = networkx.node_connected_component(truth, name)
        wired = whole & used or len(whole & set(screws)) > 1 or screws[name].role == "ground"
        assert bool(behind) == bool(wired), name
        found[name] = behind.pop() if behind else -1 - len(found)
    for group in networkx.connected_components(truth):
        assert len({found[point] for point in group if point in found}) <= 1, group
    whole = {
        point: number for number, group in enumerate(networkx.connected_components(truth)) for point in group
    }
    pairs = {(whole[point], number) for point, number in found.items()}
    assert len(pairs) == len({one for one, _ in pairs}) == len({other for _, other in pairs})
    nets = [frozenset(networkx.node_connected_component(truth, end)) for end in ends_of(board, device)]
    alone = sum(count == 1 and not net & set(screws) for net, count in Counter(nets).items())
    leads = [pin for pair in pins(picture).values() for pin in pair]
    bare = [pin for pin in leads if not any(on(pin, (one.points[0], one.points[-1])) for one in wires)]
    assert len(bare) == alone


def screws_of(device: Device) -> dict[str, TerminalSpec]:
    return {f"{device.name}.{name}": spec for name, spec in device.part.terminals.items()}


def ends_of(board: Board, device: Device) -> Iterator[str]:
    """Both ends of each thing that lies between two wires inside."""
    # Of a motor with a winding on a lead of its own the windings are there, and no contact for its rotor.
    told, own = as_wound(circuit(board)), {each.name for each in inside(device)}
    for protection in told.protections:
        if protection.device in own:
            for pair in protection.pairs:
                yield from pair
    for contact in told.contacts:
        if contact.scope in own:
            yield from (contact.a, contact.b)
    for name, *pair in told.drawn:
        if told.load_of[name].device in own:
            yield from pair
    for outlet in told.outlets:
        if outlet.device in own:
            yield from (outlet.hot, outlet.neutral)
    for winding in told.windings:
        if winding.device in own:
            yield from (*winding.primary, *winding.secondary)
    for pair in told.inputs:
        if all(end in told.point and told.point[end].owner in own for end in pair):
            yield from pair


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


CALLED = {"heat-pump": "heat", "condensing-furnace": "heat", "walk-in-freezer": "cool"}


def places(picture: Picture) -> dict[str, tuple[list[int], str]]:
    """Where everything is that is no state's, in tenths of a point, but for what a blade does."""
    state = {"volts", "flow", "live", "lit", "legend", "sign", "caution"}
    return {
        shape.id: ([round(10 * side) for side in shape.box], shape.text)
        for shape in picture.shapes
        if not shape.classes & state and shape.id not in ("page", "state")
    }


@pytest.mark.parametrize(
    "name",
    [pytest.param(name, marks=[pytest.mark.slow] * (name != "heat-pump")) for name in CALLED],
)
def test_an_inside_shows_a_state_and_nothing_moves(name: str) -> None:
    board = shipped(name)
    told = circuit(board)
    states = [settle(told, resting(told), frozenset(calls)) for calls in ((), (CALLED[name],))]
    for device in (each for each in board.devices.values() if each.part.children):
        plain = places(geometry.read(draw(board, inside=device.name)))
        for settled in states:
            picture = geometry.read(draw(board, inside=device.name, state=settled))
            assert places(picture) == plain
            words_and_wires_keep_clear(picture)
            it_shows_the_state(picture, State(settled), device)


def it_shows_the_state(picture: Picture, state: State, device: Device) -> None:
    lit = {shape.id.removeprefix("lit-load-") for shape in picture.of("lit")}
    own = {each.name for each in inside(device)}
    loads = [(name, load) for name, load in state.circuit.load_of.items() if load.device in own]
    assert lit == {name for name, load in loads if state.on(load.name)}
    for shape in picture.of("volts"):
        assert shape.text == state.reading(shape.id.removeprefix("volts-"))
    flows_are_what_the_parts_carry(picture, state)


def flows_are_what_the_parts_carry(picture: Picture, state: State) -> None:
    """A part's leads are thick where it carries current, and no thick wire ends but at a lead or a screw."""
    flows = picture.of("flow")
    pinned = [pin for pair in pins(picture).values() for pin in pair]
    screws = [geometry.middle(shape) for shape in picture.of("terminal")]
    for name, pair in pins(picture).items():
        kind, _, part = name.partition("-")
        if kind in ("load", "contact", "pole"):
            thick = [any(ends_at(flow.points, pin) for flow in flows) for pin in pair]
            carries = any(state.carries(one) for one in (part, *state.again.get(part, ())))
            assert all(thick) == any(thick) == carries, name
    for flow in flows:
        for end in (flow.points[0], flow.points[-1]):
            others = [one for one in flows if one is not flow and geometry.near(one.points, end, 0.3)]
            at = [spot for spot in (*pinned, *screws) if math.dist(spot, end) < 0.3]
            assert others or at, flow.id


def flowing(name: str, device: str, calls: tuple[str, ...], **moved: str) -> set[str]:
    """The screws of a device on a board with a thick wire behind them in a state."""
    told = circuit(shipped(name))
    settled = settle(told, resting(told) | moved, frozenset(calls))
    picture = geometry.read(draw(told.board, inside=device, state=settled))
    flows_are_what_the_parts_carry(picture, State(settled))
    return {
        screw.id.removeprefix(f"terminal-{device}.")
        for screw in picture.of("terminal")
        if any(ends_at(flow.points, geometry.middle(screw)) for flow in picture.of("flow"))
    }


def test_a_screw_has_what_its_pigtail_brings() -> None:
    """E.R has the sensor's feed by a pigtail, which goes on to OA-1 inside; the sensor sends it to OA-2."""
    assert flowing("economizer", "E", ("OT.free-cooling",)) == {"R", "OA-1", "OA-2", "C"}
    assert flowing("economizer", "E", ()) == set()


@pytest.mark.parametrize("rotor", ["standing", "turning"])
def test_the_lead_of_a_run_winding_goes_on_to_it_and_has_its_current(rotor: str) -> None:
    assert {"C", "R"} <= flowing("reach-in-cooler", "CP", ("TH.cool",), **{"CP.rotor": rotor})


def test_the_lead_of_a_winding_is_live_as_its_screw_is() -> None:
    """R is at the neutral: so is its lead, while the rotor stands and no volts are told on its far side."""
    told = circuit(shipped("reach-in-cooler"))
    settled = settle(told, resting(told) | {"CP.rotor": "standing"}, frozenset(("TH.cool",)))
    picture = geometry.read(draw(told.board, inside="CP", state=settled))
    (screw,) = (geometry.middle(each) for each in picture.of("terminal") if each.id == "terminal-CP.R")
    (lead,) = (each for each in picture.of("wire") if ends_at(each.points, screw))
    glowing = [each.points for each in picture.of("live")]
    assert glowing and not any(geometry.near(lead.points, end, 0.3) for path in glowing for end in path)


def test_an_input_says_whose_screw_it_looks_at() -> None:
    board = of_text('board "Heat"\nF is gas-furnace')
    said = [text.text for text in geometry.read(draw(board, inside="F")).texts]
    whole = " ".join(said)
    assert "control senses rollout" in whole and "control senses W" in whole
    assert not any(text.startswith("F.") for text in said)


def test_what_nothing_is_wired_to_says_so() -> None:
    freezer, pump = (of_text(f'board "Inside"\nX is {name}') for name in ("walk-in-freezer", "heat-pump"))
    assert "not used" in {text.text for text in geometry.read(draw(freezer, inside="X")).texts}
    assert "read by the control" in {text.text for text in geometry.read(draw(pump, inside="X")).texts}


def test_an_inside_that_is_not_there_is_said() -> None:
    board = of_text('board "Heat"\nF is gas-furnace')
    with pytest.raises(WrongArgument, match="there is no device 'G': there are F"):
        draw(board, inside="G")


@pytest.mark.parametrize(
    ("line", "one_wire"),
    [
        ("jumper F.limit.a -- F.limit.b", True),
        ("lift F.limit.b", False),
        ("lift F.inducer.a", False),
        ("swap F.limit.a, F.blower.a", False),
    ],
)
def test_what_somebody_did_inside_is_drawn(line: str, one_wire: bool) -> None:
    text = files.rule_board("altered-equipment", "right")
    board = wirecheck.assemble(f"{text}{line}\n")[1]
    net = nets(circuit(board), board.devices["F"])
    assert (net["F.limit.a"] == net["F.limit.b"]) == one_wire
    whole, drawn = inside_sheet(board._replace(altered=()), "F"), inside_sheet(board, "F")
    assert [each.pieces for each in drawn.lines] != [each.pieces for each in whole.lines]
    picture = geometry.read(draw(board, inside="F"))
    words_and_wires_keep_clear(picture)
    every_part_is_there(picture, board, board.devices["F"])


@pytest.mark.parametrize("name", ["capacitor-compressor", "reach-in-cooler"])
def test_a_compressor_has_no_control_in_it_that_senses_its_volts(name: str) -> None:
    """That its rotor turns with volts on it is no input: a meter finds three terminals and two windings."""
    board = shipped(name)
    device = next(each.name for each in board.devices.values() if each.part.name.endswith("compressor"))
    picture = geometry.read(draw(board, inside=device))
    assert [sign for sign in signs(picture) if sign.startswith("load-")]
    assert not [sign for sign in signs(picture) if sign.startswith("input-")]


def test_what_closes_an_end_switch_is_told_whole_inside_too() -> None:
    """No line has a number there, and what would say it goes, with nothing else of the words."""
    picture = geometry.read(draw(shipped("boiler-two-zones"), inside="B"))
    words = " ".join(text.text for text in picture.texts)
    assert "closes when damper is open" in words and " line " not in words.replace("Line", "")


@pytest.mark.parametrize(("name", "device"), [("timer-defrost", "TM"), ("rack-compressor", "COMP")])
def test_nothing_inside_says_where_its_device_is(name: str, device: str) -> None:
    board = shipped(name)
    picture = geometry.read(draw(board, inside=device))
    assert f"in {board.devices[device].place}" not in [text.text for text in picture.texts]


def test_one_motor_of_two_speeds_is_told_without_lines_inside() -> None:
    picture = geometry.read(draw(shipped("two-stage-furnace"), inside="F"))
    assert [text.text for text in picture.texts].count("one motor") == 4
    assert not [text.text for text in picture.texts if text.text.startswith("lines")]


def test_one_outlet_of_two_voltages_is_told_without_lines_inside() -> None:
    picture = geometry.read(draw(shipped("range-outlet"), inside="RR"))
    words = [text.text for text in picture.texts]
    assert words.count("one outlet") == 2 and not [each for each in words if each.startswith("lines")]


def test_an_overload_relay_names_no_line_inside_where_none_has_a_number() -> None:
    board = of_text((files.folder("boards") / "motor-starter" / "right.wire").read_text("utf-8"))
    words = [text.text for text in geometry.read(draw(board, inside="OL")).texts]
    assert words and not any("line" in each for each in words)
