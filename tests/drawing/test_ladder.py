"""The ladder diagram, judged from the geometry of its SVG alone, and held to the circuit.

What it must show is common practice for ladder diagrams: two rails, a rung a
load, contacts in their order. That it tells the truth is checked by reading
the wires back from their strokes: what the picture ties together, with the
contacts set in any way, must be what the circuit ties together.
"""

from __future__ import annotations

import html
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from itertools import combinations, pairwise
from pathlib import Path
from random import Random

import networkx
import pytest

from tests.drawing import generated, geometry
from tests.drawing.geometry import Box, Picture, Point, Shape
from tests.drawing.test_wiring import of_text
from tests.samples import board, fed, shipped
from wirecheck import files
from wirecheck.circuit.around import less_directly
from wirecheck.circuit.circuit import Circuit, circuit
from wirecheck.circuit.ladder import Ladder, rung_elements
from wirecheck.circuit.reduction import reduced
from wirecheck.circuit.rungs import ladder
from wirecheck.circuit.settle import Settled, resting, settle
from wirecheck.circuit.structure import Chain, Element, Fork, Mesh, Step, Structure, elements
from wirecheck.drawing.area import SCREEN
from wirecheck.drawing.grid import grids
from wirecheck.drawing.ladder import ladder_sheet
from wirecheck.drawing.picture import KINDS, draw, sheet
from wirecheck.drawing.sheet import Words
from wirecheck.drawing.state import State
from wirecheck.judge.case import Case
from wirecheck.language.syntax import IsState, Negation, Runs
from wirecheck.model.board import Board

BOARDS = sorted([*files.folder("boards").glob("*.wire"), *files.folder("boards").glob("*/*.wire")])
RIGHT = [path for path in BOARDS if path.name == "right.wire"]
SHOWN = ("stair-light", "heat-pump", "boiler-two-zones", "walk-in-freezer")
SEEDS = [pytest.param(seed, marks=[pytest.mark.slow] * (seed >= 30)) for seed in range(80)]


def judge(board: Board, seed: int = 0) -> Picture:
    """Hold a ladder to every rule."""
    svg = draw(board, kind="ladder")
    picture = geometry.read(svg)
    told = ladder(circuit(board))
    words_keep_apart(picture)
    words_beside_one_another_are_apart(picture)
    words_stay_on_the_page(picture)
    rails_have_names_of_the_trade(picture)
    wires_keep_clear_of_signs_and_words(picture)
    links_lie_apart(picture)
    names_of_a_row_stand_on_one_line(picture)
    the_key_tells_what_is_there(picture)
    every_load_is_on_one_rung(told, picture)
    every_row_has_its_number(picture)
    rails_run_the_full_height(picture)
    it_conducts_as_the_circuit_does(told, picture, titles(svg), seed)
    what_no_load_is_on_is_told(told, picture)
    every_piece_of_wire_has_its_number(told, picture, titles(svg))
    a_load_that_hangs_on_one_wire_says_so(told, picture)
    return picture


# ---------------------------------------------------------------- geometry


def words_keep_apart(picture: Picture) -> None:
    texts = sorted(
        (shape for shape in picture.texts if "letter" not in shape.classes), key=lambda s: s.box[0]
    )
    for place, one in enumerate(texts):
        for other in texts[place + 1 :]:
            if other.box[0] > one.box[2]:
                break
            assert not geometry.overlap(one.box, other.box, 0.3), (one.id, one.text, other.id, other.text)


def words_beside_one_another_are_apart(picture: Picture) -> None:
    """Words that share most of a line have half a letter between them, and do not read as one word."""
    texts = sorted((shape for shape in picture.texts if "letter" not in shape.classes), key=lambda s: s.box)
    for place, one in enumerate(texts):
        for other in texts[place + 1 :]:
            if other.box[0] > one.box[2] + 2:
                break
            shared = min(one.box[3], other.box[3]) - max(one.box[1], other.box[1])
            assert shared < 3, (one.id, one.text, other.id, other.text)


def names_of_a_row_stand_on_one_line(picture: Picture) -> None:
    """The lowest lines of the names over signs on one wire: none is a little higher than the one beside."""
    names = [shape for shape in picture.texts if shape.id.endswith(".name-1")]
    placed = signs(picture)
    leads: dict[tuple[str, float], set[float]] = {}
    for name in names:
        sign = name.id.removesuffix(".name-1")
        if sign in placed and not any("upright" in s.classes for s in picture.shapes if s.id == sign):
            line = next(shape for shape in picture.shapes if shape.id == sign).points[0][1]
            x = placed[sign][0]
            rail = max((r.box[0] for r in picture.of("rail") if r.box[0] < x), default=0.0)
            leads.setdefault((f"{rail:.0f}", round(line)), set()).add(round(name.points[0][1], 1))
    assert all(
        max(heights) - min(heights) < 0.3 or max(heights) - min(heights) > 8 for heights in leads.values()
    )


def the_key_tells_what_is_there(picture: Picture) -> None:
    told = " ".join(shape.text for shape in picture.texts if re.fullmatch(r"key(-\d+)?", shape.id))
    assert ("underlined" in told) == bool(picture.of("underline"))
    assert ("wire numbers" in told) == any("wire-number" in shape.classes for shape in picture.texts)
    listed = any(
        re.match(r"((\S+ )?contacts|(\S+ )?end switch|by \S+): \d", shape.text)
        for shape in picture.of("note")
    )
    assert ("Beside a coil" in told) == listed


def words_stay_on_the_page(picture: Picture) -> None:
    page = next(shape for shape in picture.shapes if shape.id == "page")
    for shape in picture.shapes:
        assert geometry.inside(shape.box, page.box, 1.0), (shape.id, shape.text)


def rails_have_names_of_the_trade(picture: Picture) -> None:
    """A leg, N, volts, or letters on screws: never the name of a point inside a part (common practice)."""
    for shape in picture.of("rail-name"):
        for name in shape.text.split(" ")[-1].split("/"):
            assert len(name) <= 4, shape.text


def signs(picture: Picture) -> dict[str, Box]:
    """The box of every sign, from all its strokes."""
    told: dict[str, Box] = {}
    for shape in picture.of("sign"):
        name = re.sub(r"\.stroke-\d+$", "", shape.id)
        one, box = told.get(name, shape.box), shape.box
        told[name] = (min(one[0], box[0]), min(one[1], box[1]), max(one[2], box[2]), max(one[3], box[3]))
    return told


def meant(sign: str) -> tuple[str, str]:
    """The kind and the name of what a sign stands for."""
    kind, _, name = re.sub(r"\.again-\d+$", "", sign).partition("-")
    return kind, name


def wires_keep_clear_of_signs_and_words(picture: Picture) -> None:
    wires = [*picture.of("wire"), *picture.of("rail"), *picture.of("lead")]
    boxes = [(name, (x0 + 1, y0 + 1, x1 - 1, y1 - 1)) for name, (x0, y0, x1, y1) in signs(picture).items()]
    texts = [text for text in picture.texts if "letter" not in text.classes]
    boxes += [(t.text, (t.box[0] + 0.3, t.box[1] + 0.6, t.box[2] - 0.3, t.box[3] - 0.6)) for t in texts]
    links = picture.of("link")
    for wire in (*wires, *links):
        for name, box in boxes:
            assert not geometry.crosses(wire, box), (name, wire.id)
    placed, whole = list(signs(picture).items()), thrown(picture)
    for place, (name, box) in enumerate(placed):
        for other, another in placed[place + 1 :]:
            if name in whole and other in whole and scope(name) == scope(other):
                continue
            assert not geometry.overlap(box, another, 0.3), (name, other)
        for text in texts:
            assert not geometry.overlap(box, text.box, 0.3), (name, text.text)


def scope(sign: str) -> str:
    """The device that a contact belongs to, by the name of its sign."""
    return sign.rpartition("--")[0].rpartition(".")[0]


def thrown(picture: Picture) -> dict[str, tuple[Point, Point]]:
    """The ways of switches that are drawn whole: contacts that share a lead with another of their switch."""
    found = {name: ends for name, ends in pins(picture).items() if "--" in name}
    taken: dict[tuple[str, int, Point], list[str]] = {}
    for name, ends in found.items():
        for side, end in enumerate(ends):
            taken.setdefault((scope(name), side, (round(end[0], 1), round(end[1], 1))), []).append(name)
    return {name: found[name] for names in taken.values() if len(names) > 1 for name in names}


# ------------------------------------------------------------------- rungs


def links_lie_apart(picture: Picture) -> None:
    """No dashes lie on others: it is seen which contacts each line of them links."""
    links = [link.box for link in picture.of("link")]
    for place, (left, top, right, _) in enumerate(links):
        for start, height, end, _ in links[:place]:
            assert abs(top - height) > 3 or right < start + 0.1 or end < left + 0.1


def every_load_is_on_one_rung(told: Ladder, picture: Picture) -> None:
    board = told.circuit
    expected = Counter(each.name for each in (*board.outlets, *board.windings))
    # One on three phases stands at the end of its three lines, or else between each two that follow.
    expected += Counter(load.winding(place) for load in board.loads for place, _ in enumerate(load.pairs[:2]))
    assert (
        Counter(each.name for rung in told.rungs for each in rung.loads if each.kind != "input") == expected
    )
    drawn = [name for kind, name in map(meant, signs(picture)) if kind == "load"]
    drawn += [f"{meant(motor)[1]}/2" for motor in leads_of_motors(picture)]
    assert Counter(drawn) == expected


def whole(notes: Iterable[Shape]) -> list[str]:
    """What stands beside each row, its lines as one."""
    rows: dict[str, list[str]] = {}
    for note in sorted(notes, key=lambda note: note.box[1]):
        rows.setdefault("-".join(note.id.split("-")[:2]), []).append(note.text)
    return [" ".join(lines) for lines in rows.values()]


def noted(picture: Picture) -> list[str]:
    return whole(picture.of("note"))


def what_no_load_is_on_is_told(told: Ladder, picture: Picture) -> None:
    """A row for a short circuit, one for each contact that is wired around, one for each secondary.

    Of contacts in parallel that one wire goes around, that is told at the one that it is on.
    """
    copper = Copper(told.circuit)
    said = noted(picture)
    notes = [words for words in said if "no load" in words]
    placed = Counter(map(meant, signs(picture)))
    feeding = copper.rails | {copper.node[end] for pair in copper.loads.values() for end in pair}
    around = [name for name, (a, b) in copper.switches.items() if a == b and a in feeding]
    assert all(placed["contact", name] == 1 for name in around)
    assert sum("wired around" in words for words in said) == sum(
        placed["contact", name] for name, (a, b) in copper.switches.items() if a == b
    ) - len(less_directly(told))
    shorted = copper.joined(dict.fromkeys(copper.switches, True))
    assert bool(notes) <= bool(shorted)
    apart = {name for name, (a, b) in copper.switches.items() if a != b and {a, b} <= copper.rails}
    assert all(placed["contact", name] for name in apart)
    windings = told.circuit.windings
    assert all(placed["secondary", winding.name] == 1 for winding in windings)


def a_load_that_hangs_on_one_wire_says_so(told: Ladder, picture: Picture) -> None:
    """Where nothing else is on one end of a load, the row that it is on says that this end leads nowhere.

    Or that it leads to the ground of a device.
    """
    copper = Copper(told.circuit)
    terminals = told.circuit.board.terminals.values()
    grounds = [terminal.name for terminal in terminals if terminal.spec.role == "ground"]
    pairs = [*copper.switches.values(), *((copper.node[a], copper.node[b]) for a, b in copper.loads.values())]
    on_it = Counter(end for pair in pairs for end in pair)
    motors = leads_of_motors(picture)
    for sign, box in signs(picture).items():
        kind, name = meant(sign)
        if kind == "load" and sign not in motors and name in copper.loads:
            a, b = (copper.node[end] for end in copper.loads[name])
            if a != b and any(on_it[end] == 1 and end not in copper.rails for end in (a, b)):
                middle = (box[1] + box[3]) / 2
                # Four lines stand there where both its ends are odd.
                notes = [n for n in picture.of("note") if abs(geometry.middle(n)[1] - middle) < 18]
                said = [
                    "neither end leads to a source",
                    *(f"leads to {end}" for end in ("no source", *grounds)),
                ]
                assert any(words in note for words in said for note in whole(notes)), name


@pytest.mark.slow
def test_what_is_wrong_with_a_relay_moves_no_breaker_into_a_rung() -> None:
    """The coil left off hangs on its wire: breaker and disconnect stand in the rails, as on its siblings."""
    for path in BOARDS:
        if path.parent.name == "capacitor-compressor":
            picture = geometry.read(draw(of_text(path.read_text("utf-8")), kind="ladder"))
            poles = {name for name in signs(picture) if re.match(r"contact-(LP\.2|D)(/|\.|$)", name)}
            assert poles and poles <= upright(picture), path


GAPS = {
    "motor-control-transformer/wrong-feed-left-off": "F3 | STOP.a--b",
    "one-transformer/wrong-jumper-left-out": "F.fuse | TS.RH--W",
    "one-transformer/wrong-red-on-rh-alone": "F.fuse | TS.RC--Y",
    "split-air-conditioner/wrong-24-volts-on-one-leg": "CU.contactor.line-2--load-2 | D.line-2--load-2",
    "split-air-conditioner/wrong-yellow-left-off": "TS.R--Y | CU.high-pressure.a--b",
    "walk-in-cooler/wrong-one-hot-left-off": "W.contactor.line-2--load-2 | TP.30/2",
    "walk-in-cooler/wrong-thermostat-wire-left-off": "TS.a--b | W.solenoid",
    "walk-in-freezer/wrong-thermostat-wire-left-off": "TS.a--b | W.solenoid",
    "condensing-furnace/wrong-white-left-off": "TS.R--W | F.W",
    "oil-furnace/wrong-thermostat-wire-loose": "TS.R--W | F.call-relay",
    "hall-fed-at-light/wrong-return-not-spliced": "S3.common--traveler-2 | L1",
    "heat-cool-hookup/wrong-c-left-off": "F.fuse TS |",
    "pump-down-cooler/wrong-condenser-fan-left-off": "CF | K.line-2--load-2",
}


ON_ONE_SCREW = {
    "motor-starter/wrong-holding-contact-left-off": "STOP.a--b C.13--14 | START.a--b C",
    # A lead on which equipment feeds something leads to that, or nowhere: no control listens there.
    "primary-secondary-boiler/wrong-system-circulator-left-off": "B.L1--system-pump-hot | P2",
    "primary-secondary-boiler/wrong-circulator-on-l1": "B.L1--boiler-pump-hot |",
    "two-transformers/wrong-pump-unfed": "B.L1--pump-hot |",
    "reversing-starter/wrong-holding-contact-left-off": "STOP.a--b R.13--14 | REV.a--b",
    "bathroom/wrong-light-in-the-wire-of-the-fan": "G1 S2.line--load |",
    "condenser-fan-cycling/wrong-both-on-the-line-side": "D.fuse-1 K.line-1--load-1 |",
    "water-heater-on-time-clock/wrong-crossed-at-the-clock": "| TC.line-2--load-2 TP.24/2",
    # So does one with a wire on it that is capped further on: that wire is the mistake.
    "aquastat-boiler/wrong-zone-2-does-not-fire": "SR.5--6 |",
    # Of a changeover the throw that is fed ends at its capped common, and does not go on through the other.
    "dehumidifier/wrong-fan-call-around-it": "D.blower-relay.common--no |",
    "economizer/wrong-y2-left-off": "TS.R--Y2 |",
    "dual-fuel/wrong-w2-straight-to-the-furnace": "K.relay.common-1--no-1 |",
    # So does one of those that share a screw, where nothing hangs on any; a current relay's coil is none.
    "two-units-one-thermostat/wrong-delay-skipped": "TS.R--Y DM.in--out |",
    "two-units-one-thermostat/wrong-fan-left-off": "P2.fuse RL.common-2--no-2 |",
    "two-speed-blower/wrong-both-taps-joined": "FR.common--no SR.common--no |",
    "reach-in-cooler/wrong-capacitor-past-the-relay": "| CR.L--S",
    # So does one whose letter is on a wire elsewhere, and has none here.
    "common-wire-kit/wrong-yellow-straight-to-y": "F.fuse K.R--Y |",
    "heat-pump-b/wrong-valve-on-o-of-the-thermostat": "A.fuse TS.R--B |",
    "heat-pump/wrong-o-left-off": "A.fuse TS.R--O |",
    # What ties two wires of a rung together is on it, though its relay's other contact is then open.
    "dehumidifier/wrong-in-and-out-swapped": "D.blower-relay.common--no TS.R--G D.blower-relay.common--nc",
    "fresh-air-damper/wrong-in-and-out-swapped": "FA.relay.common-2--no-2 TS.R--G FA.relay.common-2--nc-2",
    # A letter has a row though a coil is on its wire, or R itself, and so has a delay's own power.
    "one-transformer/wrong-jumper-to-w": "F.fuse TS.RH--W F.W$",
    "two-stage-furnace/right": "TS.R--Y1 F.Y$",
    "two-units-one-thermostat/right": "TS.R--Y DM.in$",
}


@pytest.mark.parametrize(
    ("name", "there"),
    [
        pytest.param(*each, marks=[pytest.mark.slow] * (number not in (0, 1, 8)))
        for number, each in enumerate(ON_ONE_SCREW.items())
    ],
)
def test_a_contact_on_one_screw_and_a_letter_on_a_wire_with_others_are_drawn(name: str, there: str) -> None:
    text = (files.folder("boards") / f"{name}.wire").read_text("utf-8")
    found = in_order(ladder(circuit(of_text(text))))
    assert any(there in " ".join(rung) + "$" for rung in found), found


@pytest.mark.parametrize(
    ("name", "contact", "beyond"),
    [
        ("two-speed-blower/wrong-second-relay-fed-ahead", "FR.common--no", "right"),
        pytest.param(
            "condenser-fan-cycling/wrong-both-on-the-line-side",
            "K.line-1--load-1",
            "right",
            marks=pytest.mark.slow,
        ),
        pytest.param(
            "water-chiller/wrong-past-both-pressure-switches", "LP.a--b", "right", marks=pytest.mark.slow
        ),
        ("aquastat-boiler/wrong-burner-past-the-high-limit", "AQ.high-limit.a--b", "right"),
        pytest.param("timer-defrost/wrong-heater-past-its-limit", "HS.a--b", "right", marks=pytest.mark.slow),
        pytest.param(
            "water-heater-on-time-clock/wrong-crossed-at-the-clock",
            "TC.line-2--load-2",
            "left",
            marks=pytest.mark.slow,
        ),
    ],
)
def test_a_contact_that_leads_nowhere_ends_there_among_the_rungs_of_its_breaker(
    name: str, contact: str, beyond: str
) -> None:
    """Nothing is drawn from it to the other rail, so that nobody takes it for a rung that works."""
    folder = files.folder("boards")
    right, wrong = (
        geometry.read(draw(of_text(path.read_text("utf-8")), kind="ladder"))
        for path in (folder / name.partition("/")[0] / "right.wire", folder / f"{name}.wire")
    )
    assert [s.text for s in wrong.texts if s.id.endswith("-heading")] == [
        s.text for s in right.texts if s.id.endswith("-heading")
    ]
    assert "leads nowhere" in noted(wrong) and "leads nowhere" not in noted(right)
    box = signs(wrong)[f"contact-{contact}"]
    (ring,) = [end.box for end in wrong.of("open-end") if box[1] - 3 < geometry.middle(end)[1] < box[3] + 3]
    level = [wire.points for wire in wrong.of("wire") if wire.points[0][1] == wire.points[-1][1]]
    here = [x for points in level for x, y in points if abs(y - (ring[1] + ring[3]) / 2) < 1]
    near = [x for x in here if box[0] - 200 < x < box[2] + 200]
    assert max(near) < ring[2] if beyond == "right" else min(near) > ring[0]
    # What leads there is drawn once, and beside its end it is said that it has one.
    if beyond == "right":
        (words,) = [text.box for text in wrong.texts if text.text == "leads nowhere"]
        assert ring[2] < words[0] < ring[2] + 20
    assert not [name for name in signs(wrong) if ".again-" in name and name not in signs(right)]


@pytest.mark.parametrize(
    ("name", "signal", "words"),
    [
        ("ductless-pair/right", ["signal 3"], {"listens: 1 to 3", "listens: 3 to 2", "sends a signal"}),
        ("ductless-pair/wrong-3-left-off", ["signal 3", "signal 3"], {"listens: 3 to 2", "sends a signal"}),
        # A motor's winding, which its relay senses, hears no signal, nor does a coil that looks at its volts.
        ("reach-in-cooler/wrong-start-left-off", [], set()),
        # Another letter's call stands on that wire, too.
        ("common-wire-kit/right", [], {"listens: YG to C"}),
    ],
)
def test_what_hears_and_sends_on_a_signal_wire_is_told_as_that_and_as_no_load(
    name: str, signal: list[str], words: set[str]
) -> None:
    """The wire on 3 between two units feeds nothing: that is said on it, and no rating of what is on it."""
    text = (files.folder("boards") / f"{name}.wire").read_text("utf-8")
    picture = geometry.read(draw(of_text(text), kind="ladder"))
    assert [shape.text for shape in picture.of("letters") if "signal" in shape.text] == signal
    said = {shape.text for shape in picture.texts}
    assert words <= said
    assert not {"240 V 24 VA", "240 V 6 VA", "240 V 48 VA", "24 V 0.5 VA"} & said


@pytest.mark.parametrize(
    ("name", "contact", "words"),
    [
        (
            "timer-defrost",
            "DT.common--warm-side",
            ["warm: to warm-side", "closes on rise", "cold: not used"],
        ),
        ("aquastat-boiler", "AQ.low-limit.R--W", ["above: to W", "opens on fall", "below: line 4"]),
        # The upper thermostat of a water heater sends the power on to the lower one.
        (
            "water-heater-on-time-clock",
            "WH.upper-thermostat.common--upper",
            ["cold: to upper", "opens on rise", "hot: line 3"],
        ),
        (
            "water-heater-on-time-clock",
            "WH.upper-thermostat.common--lower",
            ["hot: to lower", "closes on rise", "cold: line 2"],
        ),
    ],
)
def test_a_changeover_shows_both_its_throws(name: str, contact: str, words: list[str]) -> None:
    """IEEE 315, 4.3 (from memory): one common, two terminals, and the blade stands on one of them."""
    built = shipped(name)
    sign = f"contact-{contact}"
    picture = geometry.read(draw(built, kind="ladder"))
    said = [shape.text for shape in picture.words(sign)]
    assert said[: len(words)] == words
    rings = [shape for shape in picture.shapes if shape.id.startswith(f"{sign}.stroke-") or shape.id == sign]
    round_ones = [
        s.box for s in rings if abs((s.box[2] - s.box[0]) - 3) < 0.7 and abs((s.box[3] - s.box[1]) - 3) < 0.7
    ]
    assert len(round_ones) == 3


def in_order(told: Ladder) -> list[list[str]]:
    """The names on each rung from left to right, a gap as a stroke."""
    return [["|" if each.kind == "gap" else each.name for each in rung_elements(rung)] for rung in told.rungs]


@pytest.mark.parametrize(
    ("name", "around"),
    [
        pytest.param(*gap, marks=[pytest.mark.slow] * (number not in (1, 4)))
        for number, gap in enumerate(GAPS.items())
    ],
)
def test_a_missing_wire_is_a_gap_in_the_rung_of_the_right_board(name: str, around: str) -> None:
    wrong, right = (
        in_order(ladder(circuit(of_text(path.read_text("utf-8")))))
        for path in (
            files.folder("boards") / f"{name}.wire",
            files.folder("boards") / name.partition("/")[0] / "right.wire",
        )
    )
    assert any(around in " ".join(rung) for rung in wrong)
    # Nothing of the right board is lost, and but for the gap each rung holds what it does there.
    whole = Counter(frozenset(rung) for rung in right)
    assert Counter(frozenset(rung) - {"|"} for rung in wrong) == whole


@pytest.mark.slow
def test_a_right_board_has_no_gap() -> None:
    for path in RIGHT:
        told = ladder(circuit(of_text(path.read_text("utf-8"))))
        assert not any("|" in rung for rung in in_order(told)), path


def test_a_board_without_one_of_its_cables_has_a_ladder() -> None:
    """What is left of the switches then leads nowhere, not even to a contact."""
    text = (files.folder("boards") / "stair-light-fed-at-light" / "right.wire").read_text("utf-8")
    left = of_text(text.replace("cable W2 ", "cable of two "))
    assert geometry.read(draw(left, kind="ladder")).texts


def test_a_gap_is_drawn_as_two_ends_apart_and_conducts_nothing() -> None:
    text = (files.folder("boards") / "oil-furnace" / "wrong-thermostat-wire-loose.wire").read_text("utf-8")
    whole = of_text(text)
    picture = judge(whole)
    (gap,) = (name for name in signs(picture) if name.startswith("gap-"))
    strokes = sorted(shape.box for shape in picture.of("sign") if shape.id.startswith(gap))
    assert len(strokes) == 2 and strokes[1][0] - strokes[0][2] > 13
    assert [text.text for text in picture.texts if text.id.startswith(gap)] in ([], ["no wire"])
    rings = sorted(geometry.middle(shape)[0] for shape in picture.of("open-end"))
    assert [round(ring) for ring in rings] == [round(strokes[0][0]), round(strokes[1][2])]
    called = geometry.read(draw(whole, kind="ladder", state=settle(circuit(whole), {}, ["heat"])))
    ends = pins(called)[gap]
    assert not any(geometry.near(flow.points, end, 0.2) for flow in called.of("flow") for end in ends)


@pytest.mark.parametrize(
    "name",
    [
        "humidifier/wrong-humidifier-back-to-r",
        pytest.param("fresh-air-damper/wrong-damper-back-to-r", marks=pytest.mark.slow),
        pytest.param("common-wire-kit/wrong-green-left-on-g", marks=pytest.mark.slow),
    ],
)
def test_what_one_rail_alone_leads_to_is_told(name: str) -> None:
    folder = files.folder("boards")
    paths = (folder / f"{name}.wire", folder / name.partition("/")[0] / "right.wire")
    pictures = [geometry.read(draw(of_text(path.read_text("utf-8")), kind="ladder")) for path in paths]
    assert ["both ends lead to 24 V" in noted(picture) for picture in pictures] == [True, False]


def test_of_two_contacts_in_parallel_that_one_jumper_closes_wire_goes_around_the_one_that_it_is_on() -> None:
    text = (files.folder("boards") / "boiler-two-zones" / "wrong-end-switch-jumpered.wire").read_text("utf-8")
    told = grids(ladder(circuit(of_text(text))))
    cells = [cell for grid in told for cell in grid.cells if grid.passes(cell)]
    assert [cell.element.name for cell in cells if cell.element] == ["ZV1.end.a--b"]
    picture = geometry.read(draw(of_text(text), kind="ladder"))
    assert [words.text for words in picture.texts].count("wired around") == 1


@pytest.mark.parametrize(
    ("name", "contact"),
    [
        pytest.param(*each, marks=[pytest.mark.slow] * (number > 0))
        for number, each in enumerate(
            {
                "walk-in-freezer/wrong-thermostat-jumpered": "TS.a--b",
                "float-switch-in-y/wrong-wired-around": "FS.a--b",
                "one-transformer/wrong-jumper-to-w": "TS.RH--W",
                "power-vent-water-heater/wrong-pressure-switch-jumpered": "WH.pressure-switch.a--b",
                "doorbell/wrong-button-passed-by": "PF.a--b",
                "economizer/wrong-jumper-for-the-outdoor-thermostat": "OT.a--b",
                "rack-compressor/wrong-oil-control-jumpered": "OP.a--b",
            }.items()
        )
    ],
)
def test_what_is_wired_around_stands_where_it_does_on_the_right_board(name: str, contact: str) -> None:
    """Its rungs are those of the right board, and its wire leads around it from one side to the other."""
    folder, wrong = (
        (files.folder("boards") / f"{name}.wire").parent,
        of_text((files.folder("boards") / f"{name}.wire").read_text("utf-8")),
    )
    right = of_text((folder / "right.wire").read_text("utf-8"))
    one, other = (Counter(map(frozenset, in_order(ladder(circuit(each))))) for each in (right, wrong))
    assert one == other and any(contact in rung for rung in other)
    picture = geometry.read(draw(wrong, kind="ladder"))
    (box,) = (box for sign, box in signs(picture).items() if meant(sign) == ("contact", contact))
    under = [
        wire.box
        for wire in picture.of("wire")
        if wire.box[0] < box[0] and box[2] < wire.box[2] and 0 < wire.box[1] - box[3] < 10
    ]
    assert len(under) == 1
    assert any("wired around" in words for words in noted(picture))


SHORTS = {
    "baseboard-heater/wrong-line-and-load-exchanged": "TH.line-1--load-1",
    "cooling-call/wrong-r-to-c-short": "F.fuse",
    "fan-and-light/wrong-hot-into-the-neutral-splice": "S2.line--load",
    "float-switch-in-r/wrong-across-r-and-c": "FS.a--b",
    "heat-pump-b/wrong-common-on-b": "TS.R--B",
    "heating-call/wrong-white-on-common": "TS.R--W",
    "humidifier/wrong-humidistat-across-the-humidifier": "HS.a--b",
    "packaged-unit/wrong-r-to-c": "P.fuse",
    "rules/short-circuit/wrong": "LP.3",
    "stair-light-fed-in-the-middle/wrong-hot-on-neutral": "TP.3",
    "sump-pump/wrong-float-across-the-pump": "FS.line--load",
    "variable-speed-furnace/wrong-dehumidistat-across-r-and-c": "DS.a--b",
}


@pytest.mark.parametrize(
    "name", [pytest.param(n, marks=[pytest.mark.slow] * (i > 1)) for i, n in enumerate(SHORTS)]
)
def test_a_short_circuit_is_drawn_once_and_says_what_it_is(name: str) -> None:
    picture = geometry.read(
        draw(of_text((files.folder("boards") / f"{name}.wire").read_text("utf-8")), kind="ladder")
    )
    (sign,) = [box for sign, box in signs(picture).items() if meant(sign) == ("contact", SHORTS[name])]
    (note,) = [shape for shape in picture.of("note") if shape.text.startswith("no load")]
    assert note.text == "no load: a short circuit"
    assert sign[1] < geometry.middle(note)[1] < sign[3] and sign[2] < note.box[0]


@pytest.mark.parametrize(
    "name", ["dehumidifier/wrong-transformers-tied", "two-transformers/wrong-jumper-left-in"]
)
def test_a_tie_of_two_transformers_says_what_it_is(name: str) -> None:
    picture = geometry.read(
        draw(of_text((files.folder("boards") / f"{name}.wire").read_text("utf-8")), kind="ladder")
    )
    assert [n.text for n in picture.of("note") if "no load" in n.text] == ["no load: ties two sources"]


@pytest.mark.slow
def test_rungs_between_two_transformers_say_so() -> None:
    """They look closed, and no source is between their rails."""
    path = files.folder("boards") / "two-transformers" / "wrong-rc-and-rh-exchanged.wire"
    picture = geometry.read(draw(of_text(path.read_text("utf-8")), kind="ladder"))
    said = [words for words in noted(picture) if "between two sources" in words]
    headings = [text.text for text in picture.texts if text.id.endswith("-heading")]
    assert len(said) == 4
    assert "T-1/RC to C (B.transformer to AH.transformer)" in headings


def every_row_has_its_number(picture: Picture) -> None:
    """NEMA ICS 19 (from memory): the lines of a ladder are numbered; a coil names those of its contacts."""
    rows = picture.of("row")
    assert sorted(int(shape.text) for shape in rows) == list(range(1, len(rows) + 1))
    heights, tall = [geometry.middle(shape)[1] for shape in rows], upright(picture)
    for name, (left, _) in pins(picture).items():
        if name not in tall:
            assert min(abs(left[1] - height) for height in heights) < 2.5, name


def rails_run_the_full_height(picture: Picture) -> None:
    """Each pair of rails ends on one height, at the last row, whatever hangs on either."""
    ends: dict[str, dict[str, float]] = {}
    for shape in picture.of("rail"):
        block, _, side = re.sub(r"-rail(-\d+)?$", "", shape.id).rpartition("-")
        both = ends.setdefault(block, {})
        both[side] = max(both.get(side, 0.0), shape.box[3])
    for block, both in ends.items():
        assert set(both) == {"left", "right"} and abs(both["left"] - both["right"]) < 0.1, block


def leads_of_motors(picture: Picture) -> dict[str, list[Point]]:
    """Where the three leads of each motor at the end of three lines begin, in the order of its screws."""
    found: dict[str, list[Point]] = {}
    for shape in sorted(picture.of("lead"), key=lambda shape: shape.id):
        found.setdefault(shape.id.rpartition(".lead-")[0], []).append(shape.points[0])
    return found


def upright(picture: Picture) -> set[str]:
    """The signs that stand in a rail."""
    return {re.sub(r"\.stroke-\d+$", "", shape.id) for shape in picture.of("upright")}


def pins(picture: Picture) -> dict[str, tuple[Point, Point]]:
    """Where the leads of each sign end: at the left and the right, or at the top and the bottom in a rail."""
    points: dict[str, list[Point]] = {}
    for shape in picture.of("sign"):
        points.setdefault(re.sub(r"\.stroke-\d+$", "", shape.id), []).extend(shape.points)
    tall = upright(picture)
    return {
        name: (min(found, key=lambda p: (p[1], p[0])), max(found, key=lambda p: (p[1], -p[0])))
        if name in tall
        else (min(found), max(found, key=lambda p: (p[0], -p[1])))
        for name, found in points.items()
    }


# ------------------------------------------------------------------- truth


def titles(svg: str) -> dict[str, str]:
    """The title of each group."""
    found = re.findall(r'<g id="([^"]*)" class="[^"]*">\n<title>([^<]*)</title>', svg)
    return {html.unescape(name): html.unescape(title) for name, title in found}


def every_piece_of_wire_has_its_number(told: Ladder, picture: Picture, named: Mapping[str, str]) -> None:
    """Where a wire is drawn in several places, its number is over each, so that nobody takes it for two."""
    wires = [*picture.of("wire"), *picture.of("rail")]
    pieces = Strokes(picture, named, Copper(told.circuit))
    # A number stands behind the letters of its wire, which may be many.
    numbers = [text for text in picture.texts if text.classes & {"wire-number", "letters", "rail-name"}]
    lacking: dict[int, bool] = {}
    for place, wire in enumerate(wires):
        x0, y0, x1, y1 = wire.box
        around = (x0 - 60, y0 - 25, x1 + 60, y1 + 14)
        near = any(
            named.get(text.id) == named[wire.id] and geometry.overlap(around, text.box, 0.1)
            for text in numbers
        )
        if told.node[named[wire.id].split(", ")[0]] not in told.rails:
            net = pieces.net[place]
            lacking[net] = lacking.get(net, True) and not near
    assert not any(lacking.values())


class Copper:
    """What the circuit ties together, by networkx over its own points."""

    def __init__(self, told: Circuit) -> None:
        solid = networkx.Graph()
        solid.add_nodes_from(told.node)
        solid.add_edges_from((a, b) for a, b, _ in told.bonds)
        solid.add_edges_from((wire.a, wire.b) for wire in told.wires)
        # A lead goes on to its winding, whether the rotor turns or stands.
        machines = {load.device for load in told.loads if "winding" in load.flags}
        rotor = [each for each in circuit(told.board).contacts if each.scope in machines]
        solid.add_edges_from((each.a, each.b) for each in rotor)
        bars = [f"{panel}.{bar}" for panel in told.board.panels for bar in ("neutral", "ground")]
        solid.add_edges_from((bars[0], bar) for bar in bars[1:])
        self.node = {
            point: number
            for number, piece in enumerate(networkx.connected_components(solid))
            for point in piece
        }
        self.legs = {self.node[leg.point] for leg in told.legs}
        self.rails = self.legs | {self.node[bar] for bar in bars}
        self.rails |= {self.node[point] for winding in told.windings for point in winding.secondary}
        self.switches = {each.name: (self.node[each.a], self.node[each.b]) for each in told.contacts}
        for protection in told.protections:
            for pole, (a, b) in enumerate(protection.pairs):
                self.switches[protection.pole(pole)] = (self.node[a], self.node[b])
        self.loads = {name: (a, b) for name, a, b in told.drawn}
        self.loads |= {each.name: (each.hot, each.neutral) for each in told.outlets}
        self.loads |= {each.name: each.primary for each in told.windings}
        self.inputs: dict[str, list[tuple[str, str]]] = {}
        for one, reference in told.inputs:
            self.inputs.setdefault(one, []).append((one, reference))

    def reached(self, start: int, closed: Mapping[str, bool]) -> set[int]:
        """What a node is tied to by closed switches; from a rail it goes no further."""
        near: dict[int, list[int]] = {}
        for name, (a, b) in self.switches.items():
            if closed[name]:
                near.setdefault(a, []).append(b)
                near.setdefault(b, []).append(a)
        return spread(start, near, self.rails)

    def joined(self, closed: Mapping[str, bool]) -> set[frozenset[int]]:
        """The rails that closed switches tie together, in pairs: short circuits, and ties of two sources."""
        ties = [pair for name, pair in self.switches.items() if closed[name]]
        return joined(ties, self.rails, {rail: rail for rail in self.rails})

    def ties(self, ends: tuple[str, str], closed: Mapping[str, bool]) -> tuple[list[list[int]], bool]:
        a, b = (self.node[end] for end in ends)
        return told_of(self.reached(a, closed), self.reached(b, closed), b, self.rails)


def spread(start: int, near: Mapping[int, Iterable[int]], rails: set[int]) -> set[int]:
    seen, waiting = {start}, [start]
    for one in waiting:
        if one not in rails:
            for other in near.get(one, ()):
                if other not in seen:
                    seen.add(other)
                    waiting.append(other)
    return seen


def joined(ties: Iterable[tuple[int, int]], rails: set[int], named: Mapping[int, int]) -> set[frozenset[int]]:
    """The pairs of rails, each by its name, that ties lead from one to the other without a third between."""
    near: dict[int, list[int]] = {}
    for a, b in ties:
        near.setdefault(a, []).append(b)
        near.setdefault(b, []).append(a)
    found = {frozenset((named[a], named[b])) for a, b in ties if a in rails and b in rails}
    for start in near.keys() - rails:
        there = sorted({named[one] for one in spread(start, near, rails) & rails})
        found |= {frozenset(pair) for pair in combinations(there, 2)}
    return {pair for pair in found if len(pair) == 2}


def told_of(from_a: set[int], from_b: set[int], b: int, rails: set[int]) -> tuple[list[list[int]], bool]:
    """The rails that either end is tied to, and whether the ends are tied without a rail."""
    return sorted((sorted(from_a & rails), sorted(from_b & rails))), b in from_a and b not in rails


class Strokes:
    """What the strokes of a picture tie together: wires that touch with an end, and signs by their leads."""

    def __init__(self, picture: Picture, named: Mapping[str, str], copper: Copper) -> None:
        wires = [*picture.of("wire"), *picture.of("rail")]
        paths = [(wire.points[0], wire.points[-1]) for wire in wires]
        touching = networkx.Graph()
        touching.add_nodes_from(range(len(paths)))
        by_x = sorted(range(len(paths)), key=lambda n: min(paths[n][0][0], paths[n][1][0]))
        for place, one in enumerate(by_x):
            reach = max(paths[one][0][0], paths[one][1][0]) + 0.2
            for other in by_x[place + 1 :]:
                if min(paths[other][0][0], paths[other][1][0]) > reach:
                    break
                if any(on(end, paths[other]) for end in paths[one]) or any(
                    on(e, paths[one]) for e in paths[other]
                ):
                    touching.add_edge(one, other)
        self.net = {}
        for number, net in enumerate(networkx.connected_components(touching)):
            self.net |= dict.fromkeys(net, number)
        self.rails: dict[int, int] = {}
        for place, wire in enumerate(wires):
            if "rail" in wire.id or "stub" in wire.id:
                node = copper.node[named[wire.id].split(", ")[0]]
                if node in copper.rails:
                    assert self.rails.setdefault(self.net[place], node) == node
        self.signs: list[tuple[str, str, int, int]] = []
        motors = leads_of_motors(picture)
        for name, (one, two, three) in motors.items():
            ends = [next(n for n, path in enumerate(paths) if on(pin, path)) for pin in (one, two, three)]
            kind, load = meant(name)
            self.signs.append((kind, load, self.net[ends[0]], self.net[ends[1]]))
            self.signs.append((kind, f"{load}/2", self.net[ends[1]], self.net[ends[2]]))
        for name, leads in pins(picture).items():
            if name in motors:
                continue
            found = [[n for n, path in enumerate(paths) if on(pin, path)] for pin in leads]
            assert found[0] and found[1], name
            self.signs.append((*meant(name), self.net[found[0][0]], self.net[found[1][0]]))

    def joined(self, closed: Mapping[str, bool]) -> set[frozenset[int]]:
        """The rails that closed contacts tie together where they are drawn."""
        ties = [(a, b) for kind, name, a, b in self.signs if kind == "contact" and closed[name]]
        return joined(ties, set(self.rails), self.rails)

    def ties(self, closed: Mapping[str, bool]) -> dict[str, tuple[list[list[int]], bool]]:
        """For each load, what `Copper.ties` tells."""
        near: dict[int, list[int]] = {}
        for kind, name, a, b in self.signs:
            if kind == "contact" and closed[name]:
                near.setdefault(a, []).append(b)
                near.setdefault(b, []).append(a)
        told = {}
        for kind, name, a, b in self.signs:
            if kind in ("load", "input"):
                reached = [spread(end, near, set(self.rails)) for end in (a, b)]
                nodes = [{self.rails[net] for net in nets if net in self.rails} for nets in reached]
                tied = b in reached[0] and b not in self.rails
                told[name] = (sorted(sorted(node) for node in nodes), tied)
        return told


def on(point: Point, path: tuple[Point, Point]) -> bool:
    return geometry.near(path, point, 0.2)


def it_conducts_as_the_circuit_does(
    told: Ladder, picture: Picture, named: Mapping[str, str], seed: int
) -> None:
    """What the strokes tie together is what the copper ties together, however the contacts stand."""
    copper = Copper(told.circuit)
    drawn = Strokes(picture, named, copper)
    random = Random(seed)
    fed = {
        name
        for name, (a, b) in copper.loads.items()
        if copper.node[a] != copper.node[b]
        and any(copper.ties((a, b), dict.fromkeys(copper.switches, True))[0])
    }
    for share in (1.0, 0.0, 0.5, 0.5, 0.7, 0.3):
        closed = {name: random.random() < share for name in copper.switches}
        open_what_excludes(told.circuit, closed)
        shorted = copper.joined(closed)
        assert drawn.joined(closed) == shorted
        halves = {len({closed[name] for name in poles}) > 1 for poles in bridged(told.circuit, copper)}
        for name, ties in drawn.ties(closed).items():
            if shorted or True in halves:
                # It is drawn once, and beside no other rung: of that rung no more is told than is true.
                whole = copper.ties(copper.loads.get(name) or copper.inputs[name][0], closed)[0]
                assert name not in fed or covers(whole, ties[0]), name
                continue
            if name in copper.loads:
                if name in fed:
                    assert ties == copper.ties(copper.loads[name], closed), name
            else:
                assert ties in [copper.ties(ends, closed) for ends in copper.inputs[name]], name


def bridged(told: Circuit, copper: Copper) -> Iterator[list[str]]:
    """The poles of each breaker that feed one wire from two rails: one handle moves them."""
    for protection in told.protections:
        poles = [protection.pole(place) for place, _ in enumerate(protection.pairs)]
        ends = [set(copper.switches[pole]) for pole in poles]
        if len(ends) > 1 and set.intersection(*ends) and all(end & copper.rails for end in ends):
            yield poles


def open_what_excludes(told: Circuit, closed: dict[str, bool]) -> None:
    """Open each closed contact that is never closed with one before it: of one relay, or one control."""
    stands: dict[tuple[str, ...], object] = {}
    for contact in told.contacts:
        when, rests = contact.when, isinstance(contact.when, Negation)
        fact = when.fact if isinstance(when, Negation) else when
        if not closed[contact.name]:
            continue
        match fact:
            case Runs(load):
                said: dict[tuple[str, ...], object] = {(contact.scope, load.text): not rests}
            case IsState(name, state):
                said = {(contact.scope, name.text, state.text): not rests}
                said |= {} if rests else {(contact.scope, name.text): state.text}
            case _:
                continue
        if any(stands.get(key, value) != value for key, value in said.items()):
            closed[contact.name] = False
        else:
            stands |= said


def covers(whole: list[list[int]], told: list[list[int]]) -> bool:
    """Whether both ends of a load are told to be on rails that they are on, whichever end is which."""
    return any(
        all(set(some) <= set(each) for some, each in zip(told, order, strict=True))
        for order in (whole, whole[::-1])
    )


@pytest.mark.parametrize(
    "path",
    [pytest.param(path, marks=[pytest.mark.slow] * (path not in RIGHT[::4])) for path in BOARDS],
    ids=lambda path: f"{path.parent.name}/{path.stem}",
)
def test_boards(path) -> None:
    board = of_text(path.read_text(encoding="utf-8"))
    breakers_say_what_they_watch_for(board, judge(board))


@pytest.mark.parametrize("seed", SEEDS)
def test_generated_boards(seed: int) -> None:
    judge(of_text(generated.board(seed)), seed)


def many_lights(count: int) -> str:
    lines = ['board "Many lights"', "panel LP 120/240 V"]
    joins = []
    for n in range(count):
        lines += [
            f"breaker LP.{n + 1} 15 A",
            f"box A{n} device 20 cu in",
            f"box B{n} octagon 15 cu in",
            f"cable W{n} 14/2 NM-B 20 ft from LP to A{n}",
            f"cable V{n} 14/2 NM-B 20 ft from A{n} to B{n}",
            f"S{n} is single-pole-switch in A{n}",
            f"L{n} is lampholder 60 W in B{n}",
        ]
        joins += [
            *("at LP", f"W{n}.black -- LP.{n + 1}", f"W{n}.white -- LP.neutral"),
            *(
                f"at A{n}",
                f"W{n}.black -- S{n}.line",
                f"V{n}.black -- S{n}.load",
                f"W{n}.white -- V{n}.white",
            ),
            *(f"at B{n}", f"V{n}.black -- L{n}.hot", f"V{n}.white -- L{n}.neutral"),
        ]
    return "\n".join(lines + joins)


@pytest.mark.slow
def test_a_long_ladder_is_folded_and_stays_true() -> None:
    picture = judge(of_text(many_lights(60)))
    page = next(shape for shape in picture.shapes if shape.id == "page")
    wide, high = page.box[2] - page.box[0], page.box[3] - page.box[1]
    assert wide <= SCREEN.width / SCREEN.least
    assert high < 1.6 * wide
    assert sum("continued" in text.text for text in picture.texts) > 0


@pytest.mark.parametrize(
    ("name", "motors"),
    [
        pytest.param("motor-starter/right", ["M"], marks=pytest.mark.slow),
        ("reversing-starter/right", ["M"]),
        pytest.param("rooftop-unit/right", ["P.blower", "P.compressor"], marks=pytest.mark.slow),
        ("motor-control-transformer/wrong-line-lost-at-the-panel", ["M"]),
        pytest.param("motor-starter/wrong-line-lost", ["M"], marks=pytest.mark.slow),
        pytest.param(
            "rooftop-unit/wrong-line-lost-at-the-disconnect",
            ["P.blower", "P.compressor"],
            marks=pytest.mark.slow,
        ),
        pytest.param("water-chiller/wrong-a-line-left-off", ["COMP"], marks=pytest.mark.slow),
    ],
)
def test_a_motor_on_three_phases_is_one_group_under_three_lines(name: str, motors: list[str]) -> None:
    """Each line is a row, pole under pole; all lead to one sign, the lost one with a gap on the way."""
    text = (files.folder("boards") / f"{name}.wire").read_text(encoding="utf-8")
    picture = geometry.read(draw(of_text(text), kind="ladder"))
    leads = leads_of_motors(picture)
    assert sorted(leads) == [f"load-{motor}" for motor in motors]
    names = [(shape.text, shape.points[0]) for shape in picture.of("rail-name")]
    rows = [geometry.middle(shape)[1] for shape in picture.of("row")]
    for starts in leads.values():
        heights = [y for _, y in starts]
        assert all(min(abs(y - row) for row in rows) < 2.5 for y in heights)
        lines = [[text for text, point in names if abs(point[1] - y) < 4] for y in sorted(heights)]
        assert [each[-1] for each in lines] == ["L1", "L2", "L3"]
    gaps = [sign for sign in signs(picture) if sign.startswith("gap-")]
    assert len(gaps) == (0 if name.endswith("right") else len(motors))
    # What starts and stops it is on rungs between two lines, without the contacts that reverse it.
    assert not any(text.text.startswith("Between") for text in picture.texts)
    told = signs(picture)
    for first, second in ((1, 2), (2, 3)):
        for device in ("C", "F", "R", "OL"):
            poles = [f"contact-{device}.L{number}--T{number}" for number in (first, second)]
            if all(pole in told for pole in poles):
                (left, top, right, _), (start, low, end, _) = (told[pole] for pole in poles)
                assert abs(left - start) + abs(right - end) < 0.1 and low > top


CARTER = """board "Hot and neutral at both three-way switches"
panel LP 120/240 V
breaker LP.3 15 A
box A device 20 cu in
box B octagon 15.5 cu in
box C device 20 cu in
cable W1 14/2 NM-B 22 ft from LP to A
cable W2 14/2 NM-B 16 ft from A to C
cable W3 14/2 NM-B 11 ft from A to B
cable W4 14/2 NM-B 11 ft from C to B
S1 is 3-way-switch in A
S2 is 3-way-switch in C
L1 is lampholder 60 W in B
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
at A
  W1.black -- W2.black -- pigtail -- S1.traveler-1
  W1.white -- W2.white -- pigtail -- S1.traveler-2
  W3.black -- S1.common
at C
  W2.black -- S2.traveler-1
  W2.white -- S2.traveler-2
  W4.black -- S2.common
at B
  W3.black -- L1.hot
  W4.black -- L1.neutral
"""


def test_a_bridge_is_drawn_as_the_bridge_it_is() -> None:
    """Both ends of the lamp switched between hot and neutral: a forbidden way, and no series or parallel."""
    board = of_text(CARTER)
    judge(board)
    (rung,) = ladder(circuit(board)).rungs
    assert [each.name for part in rung.before for each in elements(part)] == ["LP.3"]
    assert isinstance(rung.middle, Mesh) and len(rung.middle.elements) == 5


def test_volts_in_a_rail_keep_off_the_name_under_them() -> None:
    """The fuse behind the disconnect has two lines over its middle, and its wire's volts over these."""
    case = Case(shipped("water-chiller"))
    drawn = sheet(case.board, kind="ladder", state=case.standing({}))
    marks = [mark for mark in drawn.marks if isinstance(mark, Words)]
    name = next(mark for mark in marks if mark.text == "F1")
    over = [mark for mark in marks if mark.kind == "volts" and mark.y < name.y and abs(mark.x - name.x) < 40]
    assert name.y - max(mark.y for mark in over) > 10


@pytest.mark.parametrize(
    ("name", "told", "not_told"),
    [
        ("rack-compressor/right", {"COMP"}, {"b1", "b2", "b3"}),
        ("motor-control-transformer/right", {"M", "T1", "T2", "T3"}, set()),
        ("workshop-outlets/right", {"R1", "R2.top"}, {"R1.face"}),
    ],
)
def test_what_has_no_name_on_the_board_has_none_on_the_ladder(
    name: str, told: set[str], not_told: set[str]
) -> None:
    """Points inside a welded compressor are on no screw; a receptacle with one face goes by its own name."""
    board = of_text((files.folder("boards") / f"{name}.wire").read_text("utf-8"))
    said = {shape.text for shape in geometry.read(draw(board, kind="ladder")).texts}
    assert told <= said and not said & not_told


@pytest.mark.parametrize(
    ("name", "again"),
    [
        ("pump-down-cooler/wrong-solenoid-behind-the-contactor", 0),
        ("split-wired-receptacle/wrong-tab-left-in", 1),
    ],
)
def test_what_rungs_have_in_common_is_drawn_once(name: str, again: int) -> None:
    """A pole before one load and behind two; two halves of a receptacle on one leg, beside their short."""
    picture = geometry.read(
        draw(of_text((files.folder("boards") / f"{name}.wire").read_text("utf-8")), kind="ladder")
    )
    assert sum(".again-" in sign for sign in signs(picture)) == again


def test_two_poles_of_one_breaker_that_meet_leave_two_rails_to_a_ladder() -> None:
    """One handle opens both, so a load behind them is fed from two legs in no state but that of the short.

    Behind two breakers it is, with one of them off: both stay on its rung.
    """
    text = (files.folder("boards") / "split-wired-receptacle" / "wrong-tab-left-in.wire").read_text("utf-8")
    told = ladder(circuit(of_text(text)))
    assert [len(rung.rails) for rung in told.rungs] == [2, 2, 2]
    apart = text.replace("TP.34 15 A 2-pole", "TP.34 15 A\nbreaker TP.36 15 A")
    apart = apart.replace("TP.34.a", "TP.34").replace("TP.34.b", "TP.36")
    told = ladder(circuit(of_text(apart)))
    assert {len(rung.rails) for rung in told.rungs if rung.loads} == {3}


def test_what_returns_on_the_ground_ends_there_and_not_on_the_neutral() -> None:
    """IEEE 315, 3.9: the sign of the ground. Its current, too, comes to no rail; that of the others does."""
    text = (
        files.folder("boards") / "primary-secondary-boiler" / "wrong-white-and-bare-exchanged.wire"
    ).read_text("utf-8")
    built = of_text(text)
    state = Case(built).standing({}, ("heat",))
    assert {"P1", "P2"} <= state.running
    picture = geometry.read(draw(built, kind="ladder", state=state))
    ground, *bars = picture.of("ground")
    rail = next(wire.points[0][0] for wire in picture.of("rail") if wire.points[0][0] > ground.box[2])
    reached = {}
    for load in ("P1", "P2"):
        _, top, right, low = signs(picture)[f"load-{load}"]
        for kind in ("wire", "flow"):
            level = [wire.points for wire in picture.of(kind) if wire.points[0][1] == wire.points[-1][1]]
            ends = [end for points in level for end in points if top + 5 < end[1] < low - 5]
            reached[load, kind] = max(x for x, _ in ends if right - 5 < x < rail + 5)
    middle = sum(signs(picture)["load-P1"][1::2]) / 2
    assert len(bars) == 2 and all(middle < bar.box[1] <= bar.box[3] < middle + 12 for bar in (ground, *bars))
    assert all((x > rail - 1) == (load == "P2") for (load, _), x in reached.items())


@pytest.mark.parametrize(
    "name", ["motor-control-transformer/wrong-feed-left-off", "float-switch-in-r/wrong-left-open"]
)
def test_a_missing_wire_leaves_the_ladders_side_by_side(name: str) -> None:
    """What is said of a lost end stands under the lines of the contacts: the ladder is hardly wider."""
    folder = files.folder("boards")
    wrong = folder / f"{name}.wire"
    right = folder / name.partition("/")[0] / "right.wire"
    pictures = [
        geometry.read(draw(of_text(path.read_text("utf-8")), kind="ladder")) for path in (right, wrong)
    ]
    columns = [
        len({round(s.box[0]) for s in picture.texts if s.id.endswith("-heading")}) for picture in pictures
    ]
    assert columns == [2, 2]
    notes = {shape.id: shape for shape in pictures[1].of("note")}
    beside = [name for name, shape in notes.items() if re.match(r"(\S+ )?contacts: ", shape.text)]
    rows = {
        name: [shape for other, shape in notes.items() if other == name or other.startswith(f"{name}-")]
        for name in beside
    }
    lost = [row for row in rows.values() if row[-1].text == "to no source"]
    assert lost
    for row in lost:
        assert len({round(shape.box[0], 1) for shape in row}) == 1


@pytest.mark.slow
@pytest.mark.parametrize(
    ("name", "loads"),
    [
        ("capacitor-compressor", {"RC", "SC", "PR", "CP.start", "CP.compressor"}),
        ("reach-in-cooler", {"SC", "CP.start", "CP.compressor"}),
    ],
)
def test_the_windings_of_a_machine_stand_on_one_rung_and_its_rotor_switches_nothing(
    name: str, loads: set[str]
) -> None:
    board = shipped(name)
    (whole,) = [
        {each.name for each in rung.loads} for rung in ladder(circuit(board)).rungs if len(rung.loads) > 1
    ]
    assert whole == loads
    drawn = Counter(meant(sign)[1] for sign in signs(geometry.read(draw(board, kind="ladder"))))
    assert drawn["CP.protector.a--b"] == (name == "capacitor-compressor")
    assert not [each for each in drawn if "turning" in each or "standing" in each]


@pytest.mark.slow
@pytest.mark.parametrize(
    ("name", "what", "before"),
    [
        ("heat-pump", "HP.O", ["TS.R--O"]),
        ("economizer", "E.damper", ["TS.R--Y1", "E.changeover"]),
    ],
)
def test_contacts_that_exclude_one_another_stand_in_no_way_to_a_load(
    name: str, what: str, before: list[str]
) -> None:
    """What senses O of a heat pump is fed by O alone, and not through two contacts of the defrost relay."""
    board = shipped(name)
    (rung,) = [rung for rung in ladder(circuit(board)).rungs if what in [load.name for load in rung.loads]]
    contacts = [each.name for each in rung_elements(rung) if each.kind == "contact"]
    assert len(contacts) == len(before)
    assert all(each.startswith(start) for each, start in zip(contacts, before, strict=True))


def test_a_coil_and_its_contacts_name_each_other() -> None:
    board = shipped("cooling-call")
    picture = geometry.read(draw(board, kind="ladder"))
    rows = {shape.text: geometry.middle(shape) for shape in picture.of("row")}

    def line(sign: Box) -> str:
        """The number to the left of a sign."""
        middle = (sign[1] + sign[3]) / 2
        beside = {text: x for text, (x, y) in rows.items() if abs(y - middle) < 12 and x < sign[0]}
        return max(beside, key=lambda text: beside[text])

    (coil,) = (box for name, box in signs(picture).items() if meant(name) == ("load", "CU.contactor"))
    on_line = line(coil)
    said = [shape.text for shape in picture.texts if shape.text.startswith("coil: line")]
    assert said == [f"coil: line {on_line}"] * 2
    here = line(next(box for name, box in signs(picture).items() if "CU.contactor.line-1" in name))
    (note,) = (shape.text for shape in picture.texts if shape.id == f"note-{on_line}")
    assert note == f"contacts: {here}"
    primary = next(shape.text for shape in picture.texts if shape.text.startswith("primary: line"))
    (at,) = (box for name, box in signs(picture).items() if meant(name) == ("load", "F.transformer"))
    assert primary.rpartition(" ")[2] == line(at)


@pytest.mark.parametrize("name", ["oil-furnace", "power-vent-water-heater"])
def test_a_contact_that_a_lockout_opens_cannot_be_read_as_one_that_it_closes(name: str) -> None:
    board = shipped(name)
    said = " ".join(shape.text for shape in geometry.read(draw(board, kind="ladder")).texts)
    assert "neither idle nor locked-out" in said
    assert " or locked-out" not in said


@pytest.mark.parametrize(
    ("name", "at", "words"),
    [
        # The relay of the thermostat has no contact in the machine's own wires, or one beside the control's.
        ("oil-furnace", "load-F.call-relay", ["by F.control: 2, 3, 4"]),
        ("oil-furnace", "input-F.cad-cell.b", ["contacts: 2, 3, 4"]),
        # Where heat moves a contact that a call moves as well, both are drawn.
        ("heat-pump", "input-A.sequencer.m2", ["contacts: 2"]),
        ("primary-secondary-boiler", "load-B.call-relay", ["contacts: 4", "by B.control: 2, 3, 7, 8"]),
        # What a control feeds, and sees running, starts nothing by it.
        ("heat-pump", "load-HP.contactor", ["contacts: 5"]),
        # No call begins a defrost: what does is told where the control stands.
        (
            "heat-pump",
            "input-HP.O",
            [
                "defrosting, contacts: 6, 10, 13, 14",
                "begins: coil-sensor cold and",
                "contactor pulled in for 90 min",
                "ends: contactor dropped out,",
                "coil-sensor warm or after 10 min",
                "resting, contacts: 12",
                "begins: contactor dropped out",
                "ends: after 3 min",
            ],
        ),
        # The controls of one machine each name their own contacts.
        ("one-transformer", "input-F.G", ["contacts: 6"]),
        ("one-transformer", "input-F.W", ["contacts: 4, 5, 10", "by F.fan: 6"]),
        ("two-stage-furnace", "input-F.W2", ["contacts: 4, 5", "by F.control: 13", "by F.fan: 7, 8"]),
        ("dehumidifier", "input-D.DH", ["contacts: 7", "by D.timer: 17"]),
        ("ductless-pair", "load-O.listener-2", ["by O.hears: 6, 7"]),
        ("common-wire-kit", "load-K", ["contacts: 13, 15"]),
        # The end switch is the step that carries the sequence on.
        ("boiler-two-zones", "load-ZV1", ["end switch: 5"]),
        ("boiler-two-zones", "load-B.damper", ["end switch: 8"]),
        # What looks at its supply alone has its place there, and its sequence.
        (
            "ice-machine",
            "input-M.curtain.b",
            [
                "equalizing, contacts: 5, 6",
                "begins: ice call, power on curtain",
                "ends: after 60 s",
                "starting, contacts: 2, 5, 6",
                "ends: after 5 s",
                "freezing, contacts: 2, 3, 4",
                "ends: ice thick or after 35 min",
                "harvesting, contacts: 2, 5, 6",
                "ends: after 90 s",
            ],
        ),
    ],
)
def test_what_a_control_looks_at_names_the_lines_of_the_contacts_that_it_moves(
    name: str, at: str, words: list[str]
) -> None:
    board = shipped(name)
    picture = geometry.read(draw(board, kind="ladder"))
    box = signs(picture)[at]
    rows_there = [row for row in picture.of("row") if box[1] < geometry.middle(row)[1] < box[3]]
    here = max((row for row in rows_there if row.box[0] < box[0]), key=lambda row: row.box[0]).text
    said = [one.text for one in picture.of("note") if re.fullmatch(rf"note-{here}(-\d+)?", one.id)]
    assert said == words
    # The lines that are named have the control's contacts on them, or the coil's own.
    listing = [line for line in said if re.match(r".*contacts: |end switch: |by |\d", line)]
    numbers = {int(number) for line in listing for number in re.findall(r"\d+", line.rpartition(":")[2])}
    rows = {int(shape.text): geometry.middle(shape)[1] for shape in picture.of("row")}
    scope_of = at.partition("-")[2].partition(".")[0]
    moved = [s for n, s in signs(picture).items() if n.startswith(f"contact-{scope_of}.")]
    for number in numbers:
        assert any(abs((box[1] + box[3]) / 2 - rows[number]) < 12 for box in moved), number


@pytest.mark.parametrize(
    ("name", "contact", "on_it"),
    [
        # A branch of what feeds the valve, or the compressor, feeds this too.
        ("heat-pump", "TS.R--O", "input-HP.O"),
        ("dual-fuel", "TS.R--O", "input-HP.O"),
        ("economizer", "TS.R--Y1", "load-E.damper"),
        # What listens there is what the kit looks at.
        ("common-wire-kit", "TS.R--Y", "load-K"),
    ],
)
def test_what_hangs_on_a_wire_in_a_branch_hangs_there_and_its_contact_is_drawn_once(
    name: str, contact: str, on_it: str
) -> None:
    board = shipped(name)
    picture = judge(board)
    drawn = [sign for sign in signs(picture) if meant(sign) == ("contact", contact)]
    assert len(drawn) == 1 and on_it in signs(picture)
    assert "input-K.YG" not in signs(picture)


def test_under_an_end_switch_stands_what_closes_it_and_where_that_is() -> None:
    board = shipped("boiler-two-zones")
    picture = geometry.read(draw(board, kind="ladder"))
    for contact, words in (
        ("ZV1.end.a--b", "closes when ZV1 is open: line 11"),
        ("ZV2.end.a--b", "closes when ZV2 is open: line 12"),
        ("B.damper.end.a--b", "closes when B.damper is open: line 7"),
    ):
        said = [each.text for each in picture.words(f"contact-{contact}")]
        assert " ".join(said) == words


@pytest.mark.parametrize("path", RIGHT, ids=lambda path: path.parent.name)
def test_each_control_that_contacts_are_named_by_stands_at_an_input_or_is_named_at_one(path: Path) -> None:
    """But for what times the coil that it stands before, what heat moves, and what has no call wired."""
    board = of_text(path.read_text(encoding="utf-8"))
    told = circuit(board)
    own = {
        f"{device.name}.{state.name}"
        for device in told.devices.values()
        for state in device.part.states
        if state.name not in ("timer", "contact", "first", "second", "clock", "plenum")
    } - {"P2.control"}
    picture = geometry.read(draw(board, kind="ladder"))
    words = [(shape.text, meant(shape.id.rpartition(".")[0])[0], shape.id) for shape in picture.texts]
    over_contacts = {text for text, kind, _ in words if kind == "contact"} & own
    at_inputs = {text for text, _, name in words if name.startswith("input-")}
    by = {text.removeprefix("by ").partition(":")[0] for text, _, _ in words if text.startswith("by ")}
    assert over_contacts <= at_inputs | by


def breakers_say_what_they_watch_for(board: Board, picture: Picture) -> None:
    """A breaker that opens on a ground fault or an arc says so wherever its words are."""
    for breaker in board.breakers.values():
        told = " and ".join(sorted(breaker.flags & {"gfci", "afci"}, reverse=True))
        words = {"gfci": "ground fault", "afci": "arc fault", "gfci and afci": "ground or arc fault", "": ""}
        said: dict[str, set[str]] = {}
        for text in picture.texts:
            sign, _, which = text.id.rpartition(".")
            if which.startswith("words") and meant(sign) == ("contact", breaker.name):
                said.setdefault(sign, set()).update(text.text.split(", "))
        for lines in said.values():
            assert lines & {"ground fault", "arc fault", "ground or arc fault"} == set(
                filter(None, [words[told]])
            )


CURRENT = [path for path in BOARDS if "is current-relay" in path.read_text("utf-8")]


@pytest.mark.parametrize(
    "path",
    [pytest.param(path, marks=[pytest.mark.slow] * bool(number)) for number, path in enumerate(CURRENT)],
    ids=lambda path: f"{path.parent.name}/{path.stem}",
)
def test_a_coil_that_carries_the_motor_current_is_a_circle_and_no_contact(path: Path) -> None:
    """The coil of a current relay, from L to M, stands in the line; its contact, L to S, names its line."""
    board = of_text(path.read_text("utf-8"))
    picture = geometry.read(draw(board, kind="ladder"))
    placed = signs(picture)
    rows = {shape.text: geometry.middle(shape)[1] for shape in picture.of("row")}
    relays = [device.name for device in board.devices.values() if device.part.name == "current-relay"]
    assert relays
    for relay in relays:
        for which, rings in (("L--M", 1), ("L--S", 0)):
            found = [name for name in placed if meant(name) == ("contact", f"{relay}.{which}")]
            for name in found:
                _, top, _, low = placed[name]
                lines = [shape for shape in picture.shapes if re.sub(r"\.stroke-\d+$", "", shape.id) == name]
                curved = sum(len(shape.points) > 8 for shape in lines)
                assert curved == rings and abs(low - top - (22 if rings else 17)) < 2.5
                said = [shape.text for shape in picture.words(name)]
                if rings:
                    # In words that the key of a state doesn't have for a wire.
                    assert " ".join(said[:2]) == "senses this line's current"
                    (line,) = [text for text, y in rows.items() if abs(y - (top + low) / 2) < 2.5]
                else:
                    assert said[0] == f"coil: line {line}"


def test_words_in_a_rail_are_evenly_apart_and_clear_of_the_wires_number() -> None:
    board = shipped("garage-panel")
    picture = geometry.read(draw(board, kind="ladder"))
    for name in ("TP.13", "GP.main"):
        said = picture.words(f"contact-{name}")
        assert [text.text for text in said] == [name, "60 A", "one of 2 poles"]
        first, second, third = (geometry.middle(text)[1] for text in said)
        assert abs((second - first) - (third - second)) < 0.2
        _, top, _, low = signs(picture)[f"contact-{name}"]
        assert top - 5 < first and third < low


def test_a_name_stands_clear_over_the_letters_of_a_wire() -> None:
    board = shipped("heat-pump")
    picture = geometry.read(draw(board, kind="ladder"))
    (letters,) = (shape.box for shape in picture.of("letters") if shape.text == "Y")
    (name,) = (text.box for text in picture.texts if text.text == "HP.high-pressure")
    assert name[0] < letters[2] + 12 and name[3] + 2 < letters[1]


def test_the_states_of_a_control_are_set_apart_beside_a_row_and_no_stroke_touches_a_line() -> None:
    board = shipped("heat-pump")
    picture = geometry.read(draw(board, kind="ladder"))
    note = sorted(
        (text for text in picture.of("note") if text.id.startswith("note-15")), key=lambda one: one.box[1]
    )
    starts = {place for place, text in enumerate(note) if ", contacts: " in text.text}
    assert len(note) == 8 and starts == {0, 5}
    apart = [after.box[1] - before.box[1] for before, after in pairwise(note)]
    assert all((step > 14.5) == (place in starts) for place, step in enumerate(apart, 1))
    strokes = picture.of("underline")
    assert len(strokes) == 3
    for stroke in strokes:
        assert all(text.box[3] < stroke.box[1] or stroke.box[3] + 1 < text.box[1] for text in note)


@pytest.mark.parametrize(
    ("name", "said"),
    [("capacitor-compressor", "PR contacts: 4"), ("motor-control-transformer", "C contacts: 1, 2, 3, 6")],
)
def test_lines_of_contacts_behind_another_device_say_whose_they_are(name: str, said: str) -> None:
    board = shipped(name)
    notes = [text.text for text in geometry.read(draw(board, kind="ladder")).of("note")]
    assert said in notes and said[said.index("contacts") :] not in notes


def test_a_contact_that_waits_after_its_coil_says_how_long() -> None:
    board = shipped("dual-fuel")
    picture = geometry.read(draw(board, kind="ladder"))
    (name,) = (text for text in picture.texts if text.text == "K.plenum")
    sign = name.id.rpartition(".")[0]
    said = " ".join(text.text for text in picture.words(sign))
    assert said == "coil: line 16 closes 5 min after it drops out"


def test_a_wires_number_is_not_read_with_its_letters() -> None:
    """A screw may be called "signal 3": wire 5 there is not 35."""
    board = shipped("ductless-pair")
    picture = geometry.read(draw(board, kind="ladder"))
    (letters,) = (shape for shape in picture.of("letters") if shape.text == "signal 3")
    place = letters.id.replace("letters", "wire-number")
    (number,) = (shape for shape in picture.of("wire-number") if shape.id == place)
    assert number.box[0] > letters.box[2] + 4.5


def test_the_poles_of_one_device_are_linked_and_contacts_that_rest_closed_are_underlined() -> None:
    board = shipped("walk-in-freezer")
    picture = geometry.read(draw(board, kind="ladder"))
    placed = signs(picture)
    links = picture.of("link")
    # The breaker's poles in the two rails, and the contactor's on both sides of the compressor.
    assert len(links) == 2
    for link, (one, other) in zip(
        sorted(links, key=lambda shape: shape.box[1]),
        [("TP.32", "TP.32/2"), ("W.contactor.line-1--load-1", "W.contactor.line-2--load-2")],
        strict=True,
    ):
        left, right = placed[f"contact-{one}"], placed[f"contact-{other}"]
        assert left[0] < link.box[0] < left[2] + 16 and right[0] - 6 < link.box[2] < right[2]
    # Those in the rails go from arc to arc, the words over them.
    left, right = placed["contact-TP.32"], placed["contact-TP.32/2"]
    link = min(links, key=lambda shape: shape.box[1])
    assert abs(link.box[0] - left[2]) < 1.5 and abs(link.box[2] - right[0]) < 1.5
    words = [text.box for text in picture.texts if text.id.startswith("contact-TP.32.words")]
    assert len(words) == 2 and all(box[3] < link.box[1] for box in words)
    (note,) = (shape for shape in picture.texts if shape.text == "contacts: 5, 7")
    # One of the contactor, the other of the clock that ends the defrost as its coil has volts.
    under, other = sorted(picture.of("underline"), key=lambda shape: shape.box[1])
    (clock,) = (shape for shape in picture.texts if shape.text == "by W.timer.clock: 3, 5")
    assert clock.box[3] < other.box[1] < clock.box[3] + 3
    assert note.box[3] < under.box[1] < note.box[3] + 3
    assert geometry.middle(under)[0] < note.box[2] - 5


@pytest.mark.slow
def test_what_hangs_on_two_lines_to_a_motor_is_drawn_there_and_no_pole_of_the_contactor_twice() -> None:
    """The fan of the rooftop unit, behind the contactor of its compressor, with its words to the right."""
    board = shipped("rooftop-unit")
    picture = geometry.read(draw(board, kind="ladder"))
    placed = signs(picture)
    poles = [name for name in placed if meant(name)[1].startswith("P.contactor.")]
    assert len(poles) == 3
    fan, motor = placed["load-P.fan-outdoor"], placed["load-P.compressor"]
    assert max(placed[pole][2] for pole in poles) < fan[0] and fan[1] > motor[3]
    name = next(text for text in picture.texts if text.text == "P.fan-outdoor")
    assert fan[2] < name.box[0] < motor[0] and name.box[1] < geometry.middle(name)[1] < fan[3]
    lost = of_text(
        (files.folder("boards") / "rooftop-unit" / "wrong-line-lost-at-the-disconnect.wire").read_text(
            "utf-8"
        )
    )
    said = geometry.read(draw(lost, kind="ladder"))
    assert [text.text for text in said.texts if text.id.startswith("gap-")] == ["capped"] * 2


@pytest.mark.parametrize("name", ["stair-light", "three-switch-hall", "stair-light-fed-in-the-middle"])
def test_a_3_way_and_a_4_way_switch_stay_whole(name: str) -> None:
    """All contacts of a switch in one column, over one another, its name there once."""
    board = shipped(name)
    picture = geometry.read(draw(board, kind="ladder"))
    found = pins(picture)
    for device in board.devices.values():
        ways = [ends for sign, ends in found.items() if scope(sign) == f"contact-{device.name}"]
        if len(ways) > 1:
            assert len({(round(left[0]), round(right[0])) for left, right in ways}) == 1
            assert sum(text.text == device.name for text in picture.texts) == 1
    assert len({scope(sign) for sign in thrown(picture)}) == (3 if name == "three-switch-hall" else 2)


@pytest.mark.parametrize(
    "name",
    [
        "stair-light", "stair-light-fed-at-light", "stair-light-fed-in-the-middle", "dead-end-three-way",
        "three-switch-hall", "hall-fed-at-light",
    ],
)  # fmt: skip
def test_the_blade_of_a_3_way_switch_turns_about_its_common_on_either_side(name: str) -> None:
    """Its screw that both throws share is the pivot of the blade, solid or dashed (common practice)."""
    board = shipped(name)
    picture = geometry.read(draw(board, kind="ladder"))
    ways: dict[str, list[tuple[str, tuple[Point, Point]]]] = {}
    for sign, ends in thrown(picture).items():
        ways.setdefault(scope(sign), []).append((sign, ends))
    sides = set()
    for listed in (each for each in ways.values() if len(each) == 2):
        one, other = ([(round(x), round(y)) for x, y in ends] for _, ends in listed)
        side = next(side for side in (0, 1) if one[side] == other[side])
        sides.add(side)
        for sign, ends in listed:
            (blade,) = (shape for shape in picture.of("sign") if shape.id == f"{sign}.stroke-3")
            # Each ring is five points before the end of its lead.
            rings = [(x + 5 - 10 * right, y) for right, (x, y) in enumerate(ends)]
            (pivot, at), (free, lies) = rings[side], rings[1 - side]
            turned = min(blade.points, key=lambda point, x=pivot: abs(point[0] - x))
            end = min(blade.points, key=lambda point, x=free: abs(point[0] - x))
            assert abs(turned[0] - pivot) < 2 and abs(turned[1] - at) < 1
            assert blade.width < 1 or lies - end[1] > 2, "it lies on its terminal"
    assert sides == {0, 1}


# ------------------------------------------------- series, parallel, meshes


def conducts(structure: Structure, closed: Mapping[str, bool]) -> bool:
    """A series conducts where each part does, a parallel where one does, a mesh where a way through does."""
    match structure:
        case Step(element):
            return closed[element.name]
        case Chain(parts):
            return all(conducts(part, closed) for part in parts)
        case Fork(branches):
            return any(conducts(branch, closed) for branch in branches)
        case Mesh(listed, (left, right)):
            graph = networkx.Graph([(each.a, each.b) for each in listed if closed[each.name]])
            return left in graph and right in graph and networkx.has_path(graph, left, right)
    raise AssertionError(structure)


@pytest.mark.parametrize(
    "seed", [pytest.param(seed, marks=[pytest.mark.slow] * (seed >= 50)) for seed in range(150)]
)
def test_a_reduced_network_conducts_as_the_network_does(seed: int) -> None:
    random = Random(seed)
    nodes = random.randint(2, 7)
    edges = [
        Element("contact", f"K{n}", *random.sample(range(nodes), 2)) for n in range(random.randint(1, 12))
    ]
    graph = networkx.MultiGraph([(0, 1), *((each.a, each.b) for each in edges)])
    block = next(each for each in networkx.biconnected_components(graph) if {0, 1} <= each)
    inside = [each for each in edges if {each.a, each.b} <= block]
    if not inside:
        inside = [Element("contact", "K0", 1, 0)]
    told = reduced(inside, 0, 1)
    assert (told.left, told.right) == (0, 1)
    assert Counter(elements(told)) == Counter(inside)
    for _ in range(20):
        closed = {each.name: random.random() < 0.6 for each in inside}
        whole = networkx.Graph([(each.a, each.b) for each in inside if closed[each.name]])
        whole.add_nodes_from((0, 1))
        assert conducts(told, closed) == networkx.has_path(whole, 0, 1)


# ------------------------------------------------------------------- states


def states(board: Board) -> list[Settled]:
    told = circuit(board)
    listed = [settle(told, resting(told))]
    calls = {call for device in told.devices.values() for call in device.part.calls}
    listed += [settle(told, resting(told), [call]) for call in sorted(calls)]
    hands = [each for each in told.variables.values() if each.moved_by == "hand"]
    return [*listed, settle(told, resting(told, {each.name: each.values[-1] for each in hands}))]


@pytest.mark.parametrize(
    "path",
    [pytest.param(path, marks=[pytest.mark.slow] * (path.parent.name not in SHOWN)) for path in RIGHT],
    ids=lambda path: path.parent.name,
)
def test_a_state_is_shown_where_it_is(path) -> None:
    board = of_text(path.read_text(encoding="utf-8"))
    plain = pins(geometry.read(draw(board, kind="ladder")))
    for state in states(board):
        picture = geometry.read(draw(board, kind="ladder", state=state))
        words_keep_apart(picture)
        words_stay_on_the_page(picture)
        placed = pins(picture)
        assert [*placed] == [*plain]
        assert moved(plain, placed) < 0.05, "a state moves nothing"
        flows, whole = [shape.points for shape in picture.of("flow")], thrown(picture)
        motors = leads_of_motors(picture)
        for name, (lead, _) in placed.items():
            kind, _ = meant(name)
            if kind in ("input", "secondary"):
                continue
            if name in motors:
                every_lead_with_current_is_thick(board, state, meant(name)[1], motors[name], flows)
                continue
            # The ways of one switch share a lead.
            here = [each for each in whole if scope(each) == scope(name) and placed[each][0] == lead]
            amps = max(abs(state.amps.get(meant(each)[1], 0)) for each in {name, *here})
            if name == "load-CP.compressor":
                # Its run winding, while it does not turn yet.
                amps = max(amps, abs(state.amps.get("CP.run", 0)))
            # What stands on several rungs carries in each place the current of all of them: in one of these
            # it goes on behind it, in another it may not.
            copies = [placed[each] for each in placed if meant(each) == meant(name)]
            thick = [[any(geometry.near(f, end, 0.2) for f in flows) for end in ends] for ends in copies]
            carries = amps >= State(state).least
            assert any(left for left, _ in thick) == carries, (name, amps)
            assert len(copies) == 1 or any(map(all, thick)) == carries, name
            assert len(copies) == 1 or all(any(ends) == carries for ends in thick), name
        every_flow_leads_on(picture)
        rails = picture.of("rail")
        assert all(one.width < 0.5 * flow.width for one in rails for flow in picture.of("flow"))


@pytest.mark.parametrize(
    "name",
    [
        pytest.param(name, marks=[pytest.mark.slow] * bool(number))
        for number, name in enumerate(
            [
                "doorbell/wrong-supply-on-the-buttons-only",
                "heat-pump/wrong-outdoor-common-left-off",
                "heat-pump-b/wrong-common-on-b",
                "ice-machine/wrong-neutral-splice-open",
                "float-switch-in-r/wrong-left-open",
                "rack-compressor/wrong-a-line-left-off",
                "capacitor-compressor/wrong-relay-coil-off",
                "oil-furnace/wrong-thermostat-wire-loose",
                "oil-furnace/wrong-neutral-left-off",
                "two-stage-furnace/wrong-w2-left-off",
                "walk-in-cooler/wrong-thermostat-wire-left-off",
            ]
        )
    ],
)
def test_volts_beside_a_missing_wire_are_across_no_wire_and_no_sign(name: str) -> None:
    board = of_text((files.folder("boards") / f"{name}.wire").read_text("utf-8"))
    for state in states(board):
        picture = geometry.read(draw(board, kind="ladder", state=state))
        words_keep_apart(picture)
        volts = [shape for shape in picture.texts if "volts" in shape.classes]
        assert volts
        there = [*picture.of("wire"), *picture.of("rail"), *picture.of("link"), *picture.of("sign")]
        for text in volts:
            x0, y0, x1, y1 = text.box
            inner = (x0 + 0.3, y0 + 0.6, x1 - 0.3, y1 - 0.6)
            assert not any(geometry.crosses(shape, inner) for shape in there), text.id


@pytest.mark.parametrize(
    ("name", "sign", "words"),
    [
        # An overload relay: its heaters say where its contact is, and this where they are.
        ("motor-starter", "contact-OL.95--96", "heaters: lines 1, 2 and 3"),
        ("motor-starter", "contact-OL.L3--T3", "contact: line 4"),
        # The halves of a receptacle whose tab is broken out, and a plug that is there for two circuits.
        ("split-wired-receptacle", "load-R1.top", "one receptacle: lines 1 and 2"),
        ("split-wired-receptacle", "load-R1.bottom", "one receptacle: lines 1 and 2"),
        ("half-switched-receptacles", "load-R1.top", "one receptacle: lines 1 and 4"),
        ("dryer-outlet", "load-DR.heat", "one outlet: lines 1 and 2"),
        # On one hot they stand side by side as it is.
        ("bath-sensor-and-timer", "load-G1.top", ""),
    ],
)
def test_what_is_one_thing_says_on_each_of_its_lines_where_the_others_are(
    name: str, sign: str, words: str
) -> None:
    picture = geometry.read(draw(shipped(name), kind="ladder"))
    said = " ".join(text.text for text in picture.words(sign))
    assert said and (words in said if words else "line" not in said), said
    for number in re.findall(r"\d+", words):
        assert number in {row.text for row in picture.of("row")}


def test_a_part_that_is_drawn_again_carries_its_current_in_each_place() -> None:
    """A clamp around a wire that is drawn in three ladders reads the same, whichever one looks at."""
    board = shipped("rooftop-unit")
    picture = geometry.read(draw(board, kind="ladder", state=Case(board).at_work({}, ["heat"])))
    flows = [shape.points for shape in picture.of("flow")]
    thick = {
        name: [any(geometry.near(flow, end, 0.2) for flow in flows) for end in ends]
        for name, ends in pins(picture).items()
    }
    for pole in ("TP.25", "TP.25/2", "TP.25/3"):
        assert all(all(ends) for name, ends in thick.items() if meant(name)[1] == pole), pole
    # The compressor stands: on its lines the current goes on elsewhere behind the disconnect.
    before = [thick[f"contact-D.line-{place}--load-{place}.again-2"] for place in (1, 2, 3)]
    assert before == [[True, False]] * 3
    words = "a part drawn again: the current of all its lines"
    assert words in {text.text for text in picture.texts}
    alone = geometry.read(draw(shipped("heat-pump"), kind="ladder", state=states(shipped("heat-pump"))[0]))
    assert words not in {text.text for text in alone.texts}


def every_lead_with_current_is_thick(board, state, motor: str, leads: list[Point], flows) -> None:
    """By the current in each winding: a screw carries that of its own less that of the one before (delta)."""
    windings = [state.amps[f"{motor}{end}"] for end in ("", "/2", "/3")]
    for place, lead in enumerate(leads):
        thick = [flow for flow in flows if geometry.near(flow, lead, 0.2)]
        carries = abs(windings[place] - windings[place - 1]) >= State(state).least
        # The wire that comes to the lead, and the lead itself.
        assert len(thick) == (2 if carries else 0), (motor, place)


def moved(plain: Mapping[str, tuple[Point, Point]], placed: Mapping[str, tuple[Point, Point]]) -> float:
    """How far one sign is from where it was, from the first sign, at most."""
    first = next(iter(plain), None)
    if first is None:
        return 0.0
    apart = (placed[first][0][0] - plain[first][0][0], placed[first][0][1] - plain[first][0][1])
    return max(
        abs(new[axis] - old[axis] - apart[axis])
        for name in plain
        for old, new in zip(plain[name], placed[name], strict=True)
        for axis in (0, 1)
    )


def every_flow_leads_on(picture: Picture) -> None:
    """Current comes from somewhere and goes somewhere: no thick wire ends in the air (Kirchhoff)."""
    flows = [shape.points for shape in picture.of("flow")]
    tops = [min(shape.points, key=lambda p: p[1]) for shape in picture.of("rail")]
    tops += [shape.points[-1] for shape in picture.of("wire") if "-stub-" in shape.id]
    leads = [pin for pair in pins(picture).values() for pin in pair]
    leads += [shape.points[-1] for shape in picture.of("lead")]
    for number, flow in enumerate(flows):
        for end in (flow[0], flow[-1]):
            onward = any(geometry.near(o, end, 0.2) for n, o in enumerate(flows) if n != number)
            at_sign = any(abs(end[0] - x) < 0.2 and abs(end[1] - y) < 2.5 for x, y in leads)
            assert onward or at_sign or any(abs(end[0] - x) + abs(end[1] - y) < 0.5 for x, y in tops), end


def test_what_nests_too_deep_is_drawn_edge_by_edge_and_all_of_it() -> None:
    """One switch of a pair in series with all before it, the other across both: as deep as pairs are many."""
    count = 300
    names = [(f"S{number}", f"P{number}") for number in range(count)]
    joins = [f"P{number}.load -- S0.load" for number in range(count)]
    joins += [f"S{number}.line -- P{number}.line -- S{number + 1}.load" for number in range(count - 1)]
    whole = board(
        fed(
            "box A junction 900 cu in",
            *(f"{name} is single-pole-switch in A" for pair in names for name in pair),
            "L1 is lampholder",
            "wire H 12 THHN black 9 ft from LP to A",
            "wire B 12 THHN black 9 ft from A to L1",
            "wire N 12 THHN white 9 ft from LP to L1",
            *("at LP", "H -- LP.3", "N -- LP.neutral", "at L1", "B -- L1.hot", "N -- L1.neutral", "at A"),
            *joins,
            "B -- S0.load",
            f"H -- S{count - 1}.line -- P{count - 1}.line",
        )
    )
    assert whole.problems == ()
    drawn = {mark.id for mark in ladder_sheet(whole).marks}
    assert all(any(f"{name}.line--load" in mark for mark in drawn) for name in ("S0", "P0", "S299", "P299"))


def rails_stand_under_one_another(drawn: Picture) -> None:
    """The last rails of ladders in a column are in one line, so that a column is filled."""
    ends: dict[int, set[int]] = {}
    for heading in (text for text in drawn.texts if text.id.endswith("-heading")):
        name = heading.id.removesuffix("-heading")
        rails = [shape for shape in drawn.of("rail") if shape.id.startswith(f"{name}-")]
        ends.setdefault(round(heading.box[0]), set()).update(
            {round(max(r.box[2] for r in rails))} if rails else ()
        )
    assert ends and all(len(lasts) <= 1 for lasts in ends.values()), ends


@pytest.mark.parametrize(
    "path",
    [pytest.param(path, marks=[pytest.mark.slow] * bool(number % 9)) for number, path in enumerate(RIGHT)],
    ids=lambda path: path.parent.name,
)
def test_ladders_fill_their_column(path: Path) -> None:
    rails_stand_under_one_another(geometry.read(draw(of_text(path.read_text("utf-8")), kind="ladder")))


def test_a_ladder_under_the_lines_to_a_motor_is_as_wide_as_these_with_its_words() -> None:
    picture = geometry.read(draw(shipped("motor-control-transformer"), kind="ladder"))
    words = [shape.box[2] for shape in picture.words("load-M")]
    ends = [wire.points[0][0] for wire in picture.of("rail") if wire.id.startswith("ladder-2-right")]
    assert ends and abs(max(ends) - max(words)) < 60


def test_a_small_ladder_is_as_wide_as_the_words_over_it() -> None:
    path = next(path for path in RIGHT if path.parent.name == "stair-light")
    drawn = geometry.read(draw(of_text(path.read_text("utf-8")), kind="ladder"))
    page = next(shape for shape in drawn.shapes if shape.id == "page")
    assert max(rail.box[2] for rail in drawn.of("rail")) > 0.9 * page.box[2]


@pytest.mark.parametrize("name", ["range-outlet", "dryer-outlet", "doorbell"])
def test_small_ladders_side_by_side_are_as_wide_as_the_words_over_them(name: str) -> None:
    path = next(path for path in RIGHT if path.parent.name == name)
    drawn = geometry.read(draw(of_text(path.read_text("utf-8")), kind="ladder"))
    page = next(shape for shape in drawn.shapes if shape.id == "page")
    assert max(rail.box[2] for rail in drawn.of("rail")) > 0.9 * page.box[2]


@pytest.mark.slow
def test_no_words_of_boards_that_ship_are_cut_short_or_end_in_a_letter() -> None:
    for path in BOARDS:
        for kind in KINDS:
            drawn = geometry.read(draw(of_text(path.read_text("utf-8")), kind=kind))
            cut = [text.id for text in drawn.texts if text.text.endswith("...")]
            assert not cut, (path, kind, cut)
            more = [text for text in drawn.texts if re.search(r"\.words-([2-9]|1\d)$", text.id)]
            letters = [text.id for text in more if len(text.text) < 2]
            assert not letters, (path, kind, letters)


def test_a_load_that_is_called_as_a_rail_is_says_what_it_is() -> None:
    """A lamp L1 beside the rail L1 is the lamp."""
    text = (files.folder("boards") / "stair-light" / "right.wire").read_text("utf-8")
    picture = geometry.read(draw(of_text(text), kind="ladder"))
    assert [t.text for t in picture.texts if t.id == "load-L1.name-1"] == ['lamp "L1"']
    assert "L1" in [t.text for t in picture.of("rail-name")]
    other = geometry.read(draw(of_text(re.sub(r"\bL1\b", "STAIR", text)), kind="ladder"))
    assert [t.text for t in other.texts if t.id == "load-STAIR.name-1"] == ["STAIR"]


def test_the_interconnect_of_alarms_is_a_wire_from_one_to_the_next() -> None:
    """It is on no rung: it leaves each box under its wire; where it is on a hot, that is said."""
    folder = files.folder("boards") / "smoke-alarms"
    right, wrong = (
        geometry.read(draw(of_text((folder / f"{name}.wire").read_text("utf-8")), kind="ladder"))
        for name in ("right", "wrong-interconnect-on-the-hot")
    )
    ties = [tie.box for tie in right.of("interconnect")]
    (upright,) = (box for box in ties if box[2] - box[0] < 1)
    for alarm in ("A1", "A2", "A3"):
        sign = signs(right)[f"load-{alarm}"]
        (lead,) = (box for box in ties if box != upright and sign[1] < box[1] and box[3] < sign[3])
        assert sign[0] < lead[0] < sign[2] < lead[2] and abs(lead[2] - upright[2]) < 0.1
        assert upright[1] - 0.1 <= lead[1] <= upright[3] + 0.1 and lead[3] - lead[1] < 1
    said = [text.text for text in right.texts]
    assert said.count("interconnect") == 1 and not any("interconnect on" in text for text in said)
    for text in right.texts:
        assert not any(geometry.overlap(box, text.box, 0.3) for box in ties), text.text
    # The lead of the third alarm is on the wire of its breaker, and the others' on its hot lead.
    assert sum("interconnect on wire" in words for words in noted(wrong)) == 3
    assert not any("leads nowhere" in words for words in noted(wrong))


@pytest.mark.parametrize(
    ("name", "poles"),
    [
        ("water-chiller", "one of 3"),
        ("spa", "one of 2"),
        ("motor-starter", "two of 3"),
        ("motor-control-transformer", "two of 3"),
    ],
)
def test_what_stands_in_the_rails_with_fewer_poles_than_it_has_says_so(name: str, poles: str) -> None:
    """A breaker and the disconnect under it: one blade there would be taken for a switch of one pole."""
    board = shipped(name)
    picture = geometry.read(draw(board, kind="ladder"))
    said = [shape for shape in picture.texts if shape.text == f"{poles} poles"]
    assert len(said) == 2
    one, other = sorted(shape.box[1] for shape in said)
    assert 20 < other - one < 120


@pytest.mark.parametrize(
    ("name", "signs"),
    [
        ("motor-control-transformer/right", 1),
        ("rules/grounded-secondary/right", 1),
        ("rules/grounded-secondary/wrong", 0),
    ],
)
def test_a_secondary_that_is_grounded_has_the_ground_at_the_end_of_its_rail(name: str, signs: int) -> None:
    """IEEE 315, 3.9: three bars, each shorter than the one before, on a lead."""
    board = of_text((files.folder("boards") / f"{name}.wire").read_text("utf-8"))
    picture = geometry.read(draw(board, kind="ladder"))
    grounds = [shape for shape in picture.of("ground") if "rail" in shape.id]
    assert len({shape.id for shape in grounds}) == signs
    bars = sorted((shape.box for shape in grounds), key=lambda box: box[1])
    assert len(bars) == 3 * signs
    for upper, lower in pairwise(bars):
        assert upper[1] < lower[1] and lower[2] - lower[0] < upper[2] - upper[0]
    for bar in bars[:1]:
        x, y = (bar[0] + bar[2]) / 2, bar[1]
        assert any(abs(rail.box[0] - x) < 2 and 0 < y - rail.box[3] < 6 for rail in picture.of("rail"))


@pytest.mark.parametrize(
    "name", ["motor-starter", "cooling-call", "reversing-starter", "economizer", "aquastat-boiler"]
)
def test_no_number_of_a_line_and_no_word_of_the_key_stands_alone_in_the_last_row(name: str) -> None:
    board = shipped(name)
    marks = [mark for mark in ladder_sheet(board).marks if isinstance(mark, Words)]
    notes = [mark.text for mark in marks if mark.kind == "note"]
    assert not [text for text in notes if re.fullmatch(r"\d+", text)]
    key = [mark.width for mark in marks if mark.kind == "key"]
    assert key and min(key) > 0.75 * max(key)


@pytest.mark.parametrize(
    ("name", "shared"),
    [
        ("kitchen-multiwire/right", "TP.13 and TP.15|difference"),
        (
            "kitchen-multiwire/wrong-same-leg",
            "TP.13 and TP.17|sum",
        ),
        (
            "split-wired-receptacle/right",
            "Two poles of TP.34|difference",
        ),
        ("bath-lights/right", ""),
        ("garage-panel/right", ""),
        ("motor-starter/right", ""),
    ],
)
def test_a_neutral_of_two_hots_is_told_though_each_has_its_own_rail(name: str, shared: str) -> None:
    """NEC, Article 100, "branch circuit, multiwire": what comes back on the common neutral."""
    board = of_text((files.folder("boards") / f"{name}.wire").read_text("utf-8"))
    key = [mark.text for mark in ladder_sheet(board).marks if isinstance(mark, Words) and mark.kind == "key"]
    both, carried = shared.split("|") if shared else ("", "")
    words = f"{both} have one neutral, W1.white: it carries the {carried} of their currents."
    assert (words in " ".join(key)) == ("one neutral" in " ".join(key)) == bool(shared)


@pytest.mark.parametrize(
    ("name", "words"),
    [
        (
            "attic-fan/wrong-neutrals-mixed",
            "one neutral, W1.white, and beside it W3.white: each carries a part of their currents.",
        ),
        # With the tab left in, the two poles meet: they are one hot, and the row says that it is a short.
        ("split-wired-receptacle/wrong-tab-left-in", ""),
    ],
)
def test_a_neutral_with_another_beside_it_does_not_carry_the_difference(name: str, words: str) -> None:
    board = of_text((files.folder("boards") / f"{name}.wire").read_text("utf-8"))
    key = " ".join(
        mark.text for mark in ladder_sheet(board).marks if isinstance(mark, Words) and mark.kind == "key"
    )
    assert words in key and "difference" not in key


def test_a_relay_whose_coil_senses_a_current_is_called_by_its_own_name() -> None:
    text = (files.folder("boards") / "reach-in-cooler" / "wrong-hot-and-neutral-exchanged.wire").read_text()
    words = [mark.text for mark in ladder_sheet(of_text(text)).marks if isinstance(mark, Words)]
    assert "CR contacts: 3" in words and not any("--" in each for each in words)


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("motor-control-transformer/wrong-tap-for-another-voltage", "(240 V, made for 120 V)"),
        ("furnace-on-a-sequencer/wrong-transformer-on-the-120-volt-tap", "made for 24 V)"),
        ("motor-control-transformer/right", "(120 V)"),
        ("arc-fault-outlet/wrong-swapped-at-the-last", "hot and neutral"),
        ("half-switched-receptacles/wrong-polarity-reversed", "hot and neutral"),
        ("stair-light/wrong-hot-and-neutral-exchanged", "hot and neutral"),
    ],
)
def test_a_ladder_tells_volts_as_they_come_and_a_hot_on_the_neutrals_screw(name: str, words: str) -> None:
    text = (files.folder("boards") / f"{name}.wire").read_text("utf-8")
    assert words in draw(of_text(text), kind="ladder")


def test_no_right_board_is_said_to_be_wrong_by_its_ladder() -> None:
    for path in RIGHT:
        picture = draw(of_text(path.read_text("utf-8")), kind="ladder")
        for words in ("made for", "hot and neutral", "leads nowhere", "returns on the"):
            assert words not in picture, (path.parent.name, words)


@pytest.mark.parametrize(
    ("name", "load", "words"),
    [
        ("bath-lights", "L2", "120 V 0.54 A"),
        ("capacitor-compressor", "HT", "240 V 0.17 A"),
        ("capacitor-compressor", "RC", "370 V 35 µF"),
        ("motor-starter", "M", "208 V 16.1 A"),
    ],
)
def test_what_a_load_draws_is_said_as_the_trade_says_it(name: str, load: str, words: str) -> None:
    """Below 1 A two figures, and microfarads by their own letter (SI; common practice)."""
    board = shipped(name)
    marks = [mark for mark in ladder_sheet(board).marks if isinstance(mark, Words)]
    assert words in [mark.text for mark in marks if mark.id.startswith(f"load-{load}.words")]


@pytest.mark.parametrize(
    ("name", "heading"),
    [
        ("dehumidifier/wrong-transformers-tied", "F.transformer, R to C"),
        ("two-transformers/wrong-jumper-left-in", "AH.transformer, "),
    ],
)
def test_what_a_fuse_feeds_on_the_rail_of_another_source_is_not_between_the_two(
    name: str, heading: str
) -> None:
    picture = draw(of_text((files.folder("boards") / f"{name}.wire").read_text("utf-8")), kind="ladder")
    assert heading in picture and "between two" not in picture


@pytest.mark.parametrize("name", ["porch-light-photocell", "stair-light", "walk-in-freezer", "motor-starter"])
def test_a_wire_is_one_line_without_a_seam_up_to_the_signs_on_it(name: str) -> None:
    board = shipped(name)
    wires = [line for line in ladder_sheet(board).lines if line.kind == "wire" and "-node-" in line.id]
    for wire in wires:
        for along in (0, 1):
            level = [sorted(piece) for piece in wire.pieces if piece[0][1 - along] == piece[1][1 - along]]
            for (one, other), (begins, _) in combinations(sorted(level), 2):
                end_to_end = abs(one[1 - along] - begins[1 - along]) < 0.1
                assert not end_to_end or begins[along] > other[along] + 0.04, wire.id
    picture = geometry.read(draw(board, kind="ladder"))
    tall, ends = upright(picture), [point for wire in picture.of("wire") for point in wire.points]
    lapped = [(x + turn, y) for x, y in ends for turn in (-0.5, 0.5)]
    for sign, leads in pins(picture).items():
        if sign not in tall and sign not in leads_of_motors(picture):
            met = [min(abs(x - at) + abs(y - line) for x, y in lapped) for at, line in leads]
            assert max(met) < 0.2, sign
