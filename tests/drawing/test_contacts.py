"""The signs of switches: on which side of the line the blade is, and one sign for one thing in both pictures.

The convention is that of NEMA ICS 19 and IEEE 315 (from memory), as `wirecheck.drawing.contacts` tells it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from tests.drawing import geometry
from tests.drawing.geometry import Picture, Point, Shape
from tests.drawing.test_wiring import of_text
from tests.samples import shipped
from wirecheck import files
from wirecheck.circuit.circuit import Circuit, circuit
from wirecheck.circuit.settle import resting, settle
from wirecheck.drawing.picture import draw

BOARDS = sorted(files.folder("boards").glob("*/*.wire"))
RIGHT = [path for path in BOARDS if path.name == "right.wire" and path.parent.parent.name == "boards"]
QUICK = ("heat-pump", "oil-furnace")
BELOW, ABOVE = {"closes-on-rise", "opens-on-fall", "held-closed"}, {"opens-on-rise", "closes-on-fall"}
BLADE = 1.8
"""The pen of a blade."""


def strokes(picture: Picture, name: str) -> list[Shape]:
    """What a sign is drawn of."""
    own = re.compile(re.escape(name) + r"(\.stroke-\d+|-\d+)?").fullmatch
    return [shape for shape in picture.of("sign") if own(shape.id)]


def blade(picture: Picture, name: str) -> tuple[float, float] | None:
    """How far the tip of a blade is under the line, or over it (negative), and how far its foot is."""
    drawn = strokes(picture, name)
    if not drawn:
        return None
    line = min(point for shape in drawn for point in shape.points)[1]
    moved = [shape.points for shape in drawn if abs(shape.width - BLADE) < 0.01]
    if not moved:
        return None
    ends = sorted(moved[0])
    return ends[-1][1] - line, ends[0][1] - line


def senses(told: Circuit) -> Iterator[tuple[str, frozenset[str]]]:
    for contact in told.contacts:
        if contact.flags & (BELOW | ABOVE):
            yield contact.name, contact.flags


def blades_are_on_their_side(picture: Picture, told: Circuit, rests: set[str]) -> int:
    """Each blade whose part says its sense: on its side, on its terminal or off it as it stands."""
    seen = 0
    for name, flags in senses(told):
        found = blade(picture, f"contact-{name}")
        if found is None:
            continue
        seen += 1
        tip, foot = found
        assert (tip > 0) == (foot > 0) == bool(flags & BELOW), (name, flags)
        assert (abs(tip) < 4) == (name in rests), (name, tip)
    return seen


@pytest.mark.parametrize(
    "path",
    [
        pytest.param(path, marks=[pytest.mark.slow] * (path.parent.name not in QUICK))
        for path in RIGHT
    ],
    ids=lambda path: path.parent.name,
)  # fmt: skip
def test_a_blade_below_the_line_closes_on_a_rise_and_one_above_it_opens(path: Path) -> None:
    board = of_text(path.read_text("utf-8"))
    told = circuit(board)
    rests = set(settle(told, resting(told)).closed)
    seen = blades_are_on_their_side(geometry.read(draw(board, kind="ladder")), told, rests)
    assert seen >= len(set(senses(told))) / 2


FOUR = """board "Four pressures"
panel LP 120/240 V
breaker LP.3 15 A
box A junction 60 cu in
box B octagon 15 cu in
cable W1 14/2 NM-B 9 ft from LP to A
cable W2 14/2 NM-B 9 ft from A to B
HP is high-pressure in A
LOW is low-pressure in A
FAN is fan-switch in A
DOOR is door-switch in A
BELL is push-button in A
L1 is lampholder 60 W in B
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
at A
  W1.black -- HP.a
  HP.b -- LOW.a
  LOW.b -- DOOR.a
  DOOR.b -- BELL.a
  BELL.b -- FAN.a
  FAN.b -- W2.black
  W1.white -- W2.white
at B
  W2.black -- L1.hot
  W2.white -- L1.neutral
"""


def test_high_and_low_pressure_do_not_look_alike_though_both_rest_closed() -> None:
    picture = geometry.read(draw(of_text(FOUR), kind="ladder"))
    found = {name: blade(picture, f"contact-{name}.a--b") for name in ("HP", "LOW", "FAN", "DOOR")}
    tips = {name: round(each[0], 1) for name, each in found.items() if each}
    assert tips == {"HP": -2.2, "LOW": 2.2, "FAN": 9.5, "DOOR": 2.2}
    said = {text.text for text in picture.texts}
    assert {"opens on rise", "opens on fall", "closes on rise", "held closed"} <= said


def test_a_push_button_has_a_bridge_over_its_terminals_and_closes_onto_them() -> None:
    board = of_text(FOUR)
    told = circuit(board)
    heights = []
    for pressed in ("released", "pressed"):
        picture = geometry.read(
            draw(board, kind="ladder", state=settle(told, {**resting(told), "BELL": pressed}))
        )
        (bridge,) = (s for s in strokes(picture, "contact-BELL.a--b") if abs(s.width - BLADE) < 0.01)
        line = min(p for s in strokes(picture, "contact-BELL.a--b") for p in s.points)[1]
        assert abs(bridge.box[1] - bridge.box[3]) < 0.01
        assert bridge.box[2] - bridge.box[0] > 20
        heights.append(line - bridge.box[1])
    assert heights[0] > 5 and 0 < heights[1] < 4


BUTTONS = """board "Start and stop"
panel LP 120/240 V
breaker LP.3 15 A
box A junction 60 cu in
cable W1 14/2 NM-B 9 ft from LP to A
STOP is stop-button in A
START is start-button in A
K is coil in A
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
at A
  W1.black -- STOP.a
  STOP.b -- START.a
  START.b -- K.a
  K.b -- W1.white
"""


@pytest.mark.parametrize("kind", ["ladder", "wiring"])
def test_a_push_button_is_its_bridge_in_both_pictures_open_or_closed_at_rest(kind: str) -> None:
    """Over its rings where it rests open, under them where it rests closed, on them where it is closed."""
    board = of_text(BUTTONS)
    told = circuit(board)
    heights = {}
    for name, pressed in (("START", False), ("START", True), ("STOP", False), ("STOP", True)):
        position = "pressed" if pressed else "released"
        state = settle(told, {**resting(told), name: position})
        drawn = strokes(geometry.read(draw(board, kind=kind, state=state)), f"contact-{name}.a--b")
        (bridge,) = (shape for shape in drawn if abs(shape.width - BLADE) < 0.01)
        rings = max(shape.points[-1][1] for shape in drawn if abs(shape.width - 1.3) < 0.01)
        assert abs(bridge.box[1] - bridge.box[3]) < 0.01
        heights[name, pressed] = rings - bridge.box[1]
    assert heights["START", False] > 5 and 1 < heights["START", True] < 4
    assert heights["STOP", True] < -4 and -4 < heights["STOP", False] < -1


def normal(drawn: list[Shape]) -> list[tuple[float, list[Point]]]:
    """Strokes without place, size and turn: from the left lead's end, in widths of the sign."""
    drawn = [
        replace(shape, points=tuple((y, -x) for x, y in shape.points))
        if "upright" in shape.classes
        else shape
        for shape in drawn
    ]
    points = [point for shape in drawn for point in shape.points]
    x, y = min(points)
    wide = max(points)[0] - x
    return [(shape.width, [((px - x) / wide, (py - y) / wide) for px, py in shape.points]) for shape in drawn]


ONE = {
    "load-F.burner-motor": "sign-F.burner-motor.motor",
    "load-F.call-relay": "sign-F.call-relay.coil",
    "load-F.oil-valve": "sign-F.oil-valve.valve",
    "load-F.ignition": "sign-F.ignition.spark",
    "contact-F.limit.a--b": "sign-F.limit.contact",
    "contact-F.fan-switch.a--b": "sign-F.fan-switch.contact",
    "contact-F.cad-cell.a--b": "sign-F.cad-cell.contact",
    "contact-TP.19": "sign-TP.19",
}
"""The sign on the ladder, and the one on the wiring diagram."""


def test_one_thing_has_one_sign_in_both_pictures() -> None:
    board = shipped("oil-furnace")
    ladder, wiring = (geometry.read(draw(board, kind=kind)) for kind in ("ladder", "wiring"))
    for rung, device in ONE.items():
        one, other = normal(strokes(ladder, rung)), normal(strokes(wiring, device))
        assert one and [pen for pen, _ in one] == [pen for pen, _ in other], rung
        for (_, mine), (_, theirs) in zip(one, other, strict=True):
            assert len(mine) == len(theirs)
            for here, there in zip(mine, theirs, strict=True):
                assert here == pytest.approx(there, abs=0.01), rung


def test_a_clock_has_the_motor_that_turns_it() -> None:
    """A defrost clock has one beside its release coil, and lies between the two hots all the time."""
    board = shipped("timer-defrost")
    told = circuit(board)
    motor = told.load["TM.clock-motor"]
    assert {told.node[motor.a], told.node[motor.b]} == {told.node["TM.feed"], told.node["TM.common"]}
    picture = geometry.read(draw(board, kind="ladder"))
    motors = {shape.id for shape in picture.texts if shape.text == "M"}
    assert {"load-TM.clock-motor.letter", "load-COMP.letter"} <= motors
    assert "load-TM.release-coil.letter" not in motors


def test_what_gives_light_is_a_lamp_and_a_winding_has_turns_in_both_pictures() -> None:
    for name, rung, device in (
        ("attic-fan", "load-PS", "sign-PS.pilot"),
        ("two-gang-box", "load-L2", "sign-L2.lamp"),
        ("capacitor-compressor", "load-CP.start", "sign-CP.start"),
        ("reach-in-cooler", "load-CP.start", "sign-CP.start"),
    ):
        board = shipped(name)
        ladder, wiring = (geometry.read(draw(board, kind=kind)) for kind in ("ladder", "wiring"))
        drawn = strokes(ladder, rung)
        assert [pen for pen, _ in normal(drawn)] == [pen for pen, _ in normal(strokes(wiring, device))]
        high = max(shape.box[3] for shape in drawn) - min(shape.box[1] for shape in drawn)
        # The circle of a lamp is 22 points high, the turns of a winding 6, the box of a circuit board 18.
        assert high == pytest.approx(6 if rung == "load-CP.start" else 22, abs=0.5), (name, high)


@pytest.mark.parametrize(
    ("name", "device"),
    [
        ("dimmer-and-fan-control", "DM"),
        ("dimmer-and-fan-control", "FC"),
        ("porch-light-photocell", "PC"),
        ("bath-sensor-and-timer", "OS"),
        ("bath-sensor-and-timer", "TM"),
    ],
)
def test_what_follows_positions_is_a_blade_and_not_the_contact_of_a_coil(name: str, device: str) -> None:
    """With several positions that close it, or power that it needs beside: no coil moves it."""
    board = shipped(name)
    drawn = strokes(geometry.read(draw(board, kind="ladder")), f"contact-{device}.line--load")
    assert any(abs(shape.width - BLADE) < 0.01 for shape in drawn)


@pytest.mark.slow
@pytest.mark.parametrize(("name", "device"), [("three-switch-hall", "S2")])
def test_a_blade_passes_clear_of_the_poles_beside_its_own(name: str, device: str) -> None:
    """Where it would cross the wire of another pole, the ground shows on both sides of it."""
    board = shipped(name)
    picture = geometry.read(draw(board))
    posts = [shape for shape in picture.of("sign") if re.fullmatch(rf"sign-{device}(-\d+)?", shape.id)]
    passed = 0
    for blade in [shape for shape in picture.of("sign") if shape.id.startswith(f"contact-{device}.")]:
        if abs(blade.width - 2.4) > 0.01:
            continue
        crosses = any(
            blade.box[0] + 3 < x < blade.box[2] - 3 and top < blade.box[3] and low > blade.box[1]
            for post in posts
            if abs(post.width - 2.0) > 0.01
            for x in {round(px, 1) for px, _ in post.points}
            for top, low in [
                (
                    min(y for px, y in post.points if round(px, 1) == x),
                    max(y for px, y in post.points if round(px, 1) == x),
                )
            ]
        )
        clear = picture.of("clear")
        if crosses:
            passed += 1
            assert any(
                one.box[0] < blade.box[2] and one.box[2] > blade.box[0] and one.width > blade.width + 2
                for one in clear
            ), blade.id
    assert passed


@pytest.mark.slow
def test_under_a_control_stands_what_it_senses() -> None:
    said = [each.text for each in geometry.read(draw(shipped("pump-down-cooler"), kind="ladder")).texts]
    whole = " ".join(said)
    assert whole.count("COMP and LLS act on it") == 2 and whole.count("COMP and CF act on it") == 1


@pytest.mark.slow
def test_a_screw_that_is_called_by_a_word_is_marked_as_a_screw() -> None:
    """That a delay "senses in" could be read as a sentence cut off before the place."""
    said = [each.text for each in geometry.read(draw(shipped("condenser-fan-cycling"), kind="ladder")).texts]
    assert 'senses screw "in"' in said and "senses G" in said


@pytest.mark.parametrize(
    ("name", "contact", "words"),
    [
        # Without its delay no compressor would start: at rest there is no oil pressure.
        ("rack-compressor", "OP.a--b", "opens on fall, after 2 min, manual reset"),
        ("walk-in-cooler", "W.oil-pressure.a--b", "opens on fall, after 2 min, manual reset"),
        ("heating-call", "F.rollout.a--b", "opens on rise, manual reset"),
    ],
)
def test_under_a_safety_stands_how_long_it_waits_and_that_a_hand_resets_it(
    name: str, contact: str, words: str
) -> None:
    picture = geometry.read(draw(shipped(name), kind="ladder"))
    assert words in " ".join(each.text for each in picture.words(f"contact-{contact}"))


def test_what_opens_on_both_faults_says_so() -> None:
    board = shipped("laundry-dual-function")
    told = {text.text for text in geometry.read(draw(board, kind="ladder")).texts}
    assert {"DF", "ground or arc fault"} <= told and "GF" not in told


def test_a_float_that_calls_for_a_pump_is_a_float_in_both_pictures() -> None:
    """Its ball hangs under a blade that is pushed closed, as it does where no call is made."""
    board = shipped("sump-pump")
    ladder, wiring = (geometry.read(draw(board, kind=kind)) for kind in ("ladder", "wiring"))
    rung, device = strokes(ladder, "contact-FS.line--load"), strokes(wiring, "sign-FS.contact")
    assert rung and [pen for pen, _ in normal(rung)] == [pen for pen, _ in normal(device)]
    tip, _ = blade(ladder, "contact-FS.line--load") or (0.0, 0.0)
    assert tip > 5


def test_each_blade_that_a_clock_moves_has_the_face_of_one_under_it() -> None:
    """A timer that a hand winds, one with a program, and both poles of a time clock: one sign."""
    faces = []
    for name, contact in (
        ("attic-fan", "TM.line--load"),
        ("bath-sensor-and-timer", "TM.line--load"),
        ("water-heater-on-time-clock", "TC.line-1--load-1"),
        ("water-heater-on-time-clock", "TC.line-2--load-2"),
    ):
        drawn = strokes(geometry.read(draw(shipped(name), kind="ladder")), f"contact-{contact}")
        line = min(point for shape in drawn for point in shape.points)[1]
        faces.append(sorted(len(shape.points) for shape in drawn if shape.box[1] > line + 5))
    assert faces[0] and all(face == faces[0] for face in faces), faces
