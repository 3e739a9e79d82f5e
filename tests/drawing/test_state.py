"""States on the wiring diagram, judged from the SVG alone and held to what `energize` and the solver say."""

from __future__ import annotations

import re
from itertools import combinations
from pathlib import Path

import pytest

import wirecheck
from tests.drawing import generated, geometry
from tests.drawing.geometry import Picture
from tests.drawing.test_wiring import (
    BOARDS,
    everything_is_there_once,
    it_says_what_the_board_says,
    labels_keep_apart,
    labels_stay_in_their_frames,
    of_text,
    some_findings,
    wires_do_not_lie_on_one_another,
    wires_keep_clear_of_devices,
    wires_stand_out,
)
from wirecheck import arguments, files
from wirecheck.circuit import meter
from wirecheck.circuit.meter import INDUCED
from wirecheck.circuit.settle import Settled
from wirecheck.drawing.colors import DARK, LIVE, LIVE_DASH, PAPER
from wirecheck.drawing.contacts import BRIDGE
from wirecheck.drawing.picture import draw, draw_states, sheet
from wirecheck.drawing.state import State
from wirecheck.judge.case import Case
from wirecheck.report.position_table import live

RIGHT = [path for path in BOARDS if path.stem in ("right", "demo")]


def read(case: Case, state: Settled, colors: str = "paper") -> Picture:
    return geometry.read(draw(case.board, (), colors=colors, state=state))


def case_of(name: str) -> Case:
    return Case(of_text((files.folder("boards") / name).read_text("utf-8")))


def ids(picture: Picture, kind: str) -> set[str]:
    return {shape.id for shape in picture.of(kind)}


def words(picture: Picture) -> dict[str, str]:
    return {shape.id: shape.text for shape in picture.texts}


@pytest.mark.parametrize(
    "path",
    [pytest.param(path, marks=[pytest.mark.slow] * (path not in RIGHT[::8])) for path in BOARDS],
    ids=lambda path: f"{path.parent.name}-{path.stem}",
)
def test_every_board_at_rest_and_called(path: Path) -> None:
    case = Case(of_text(path.read_text("utf-8")))
    for calls in [(), *((call,) for call in case.calls[:1])]:
        state = case.standing({}, calls)
        picture = geometry.read(
            draw(case.board, some_findings(case.board) if calls else (), colors="dark", state=state)
        )
        labels_keep_apart(picture)
        labels_stay_in_their_frames(picture)
        wires_keep_clear_of_devices(picture, case.board)
        wires_do_not_lie_on_one_another(picture)
        everything_is_there_once(picture, case.board)
        it_says_what_the_board_says(picture, case.board)
        wires_stand_out(picture)
        what_glows_is_live(picture, state)
        what_is_dotted_carries(picture, state)
        halos_keep_clear(picture)
        volts_keep_off_the_edges(picture)
        the_key_has_what_is_there(picture, state)


@pytest.mark.parametrize(
    "seed", [pytest.param(seed, marks=[pytest.mark.slow] * (seed >= 20)) for seed in range(120)]
)
def test_generated_boards_in_a_state(seed: int) -> None:
    """Wrong in every way: shorted, open, tied across legs."""
    case = Case(of_text(generated.board(seed)))
    state = case.standing({})
    picture = read(case, state)
    labels_keep_apart(picture)
    labels_stay_in_their_frames(picture)
    wires_keep_clear_of_devices(picture, case.board)
    everything_is_there_once(picture, case.board)
    what_glows_is_live(picture, state)
    what_is_dotted_carries(picture, state)
    halos_keep_clear(picture)
    volts_keep_off_the_edges(picture)
    the_key_has_what_is_there(picture, state)


def volts_keep_off_the_edges(picture: Picture) -> None:
    """The volts at a screw are well inside of its device."""
    devices = picture.of("device")
    for text in (shape for shape in picture.of("volts") if shape.text):
        for device in devices:
            if geometry.overlap(text.box, device.box):
                assert geometry.inside(text.box, device.box, -1), (text.id, text.text)


def halos_keep_clear(picture: Picture) -> None:
    """No glow lies under a label, and no words on the edge of what is lit: they are in it or out of it."""
    for text in picture.texts:
        if "number" in text.classes:
            continue  # A flag stands on its wire.
        x0, y0, x1, y1 = text.box
        for halo in picture.of("live"):
            r = halo.width / 2
            own = geometry.stands_on(text).removeprefix("conductor-")
            if "inline" in text.classes and halo.id.endswith(f"-{own}"):
                # A word on its own wire stands in a gap, which covers the glow too.
                (gap,) = (line for line in picture.of("inline") if line.id == f"{text.id}-gap")
                assert gap.width > halo.width, text.id
                continue
            if not geometry.overlap(halo.box, (x0 - r, y0 - r, x1 + r, y1 + r)):
                continue
            beside = (x0 - r, y0, x1 + r, y1), (x0, y0 - r, x1, y1 + r)
            corners = [(x, y) for x in (x0, x1) for y in (y0, y1)]
            assert not any(geometry.crosses(halo, box) for box in beside), (text.text, halo.id)
            assert not any(geometry.near(halo.points, corner, r) for corner in corners), (text.text, halo.id)
        for lit in picture.of("lit"):
            if "letter" in text.classes and geometry.inside(text.box, lit.box, -1):
                continue  # As the M of a motor.
            assert not geometry.overlap(text.box, lit.box), (text.text, lit.id)


def the_key_has_what_is_there(picture: Picture, state: Settled) -> None:
    """Every level, dots, bright ground, volts and bridges that are drawn are in the key, and nothing else.

    That a screw with a wire on it has no reading is there, too: one that no source and no ground reaches.
    """
    key = {shape.id.removeprefix("legend-") for shape in picture.of("legend")}
    shown = {level for shape in picture.of("live") for level in shape.classes & set(LIVE)}
    wanted = {*shown, *(f"{level}-wire" for level in shown), *(f"{level}-words" for level in shown)}
    wanted |= {"flow", "flow-wire", "flow-words"} if picture.of("flow") else set()
    wanted |= {"lit", "lit-words"} if picture.of("lit") else set()
    wanted |= {"volts"} if picture.of("volts") else set()
    board, shown_by = state.circuit.board, State(state)
    screws = {screw for join in board.joins for screw, under in join.under.items() if under}
    floating = any(not shown_by.reading(screw) for screw in screws)
    wanted |= {"floating"} if floating else set()
    wanted |= {"induced"} if any(shape.text == INDUCED for shape in picture.texts) else set()
    bridged = any(abs(shape.width - BRIDGE) < 0.01 for shape in picture.of("sign"))
    wanted |= {"bridge", "bridge-bars", "bridge-words"} if bridged else set()
    assert key == wanted


def what_glows_is_live(picture: Picture, state: Settled) -> None:
    """What glows in the color of a leg, or of a transformer's line voltage, is what `energize` calls live."""
    board = state.circuit.board
    glowing = {
        shape.id.removeprefix("live-0-")
        for shape in picture.of("live")
        if shape.classes & {"a", "b", "c", "derived"} and shape.id.startswith("live-0-")
    }
    assert glowing & set(board.conductors) == set(live(state)) & set(board.conductors)


def what_is_dotted_carries(picture: Picture, state: Settled) -> None:
    """The conductors with dots along them are those through which the solver sends what is shown to flow."""
    least = State(state).least
    dotted = {name.removeprefix("flow-conductor-") for name in ids(picture, "flow")}
    carrying = {name for name in state.circuit.board.conductors if abs(state.amps[name]) >= least}
    assert dotted & set(state.circuit.board.conductors) == carrying


def test_a_light_that_is_on_and_off() -> None:
    """Three switches in the hall: with the 4-way turned over, the light is out and its wires are dead."""
    case = case_of("three-switch-hall/right.wire")
    lit, out = read(case, case.standing({})), read(case, case.standing({"S2": "down"}))
    assert "lit-L1.lamp" in ids(lit, "lit")
    assert "lit-L1.lamp" not in ids(out, "lit")
    assert words(lit)["volts-L1.hot"] == "120 V b"
    assert words(out)["volts-L1.hot"] == "0 V"
    assert words(lit)["figure-L1.lamp"].endswith(" A")
    assert "flow-conductor-W4.black" in ids(lit, "flow")
    assert not ids(out, "flow")
    assert words(out)["state"] == "Shown with S2 down"


def test_blades_stand_where_the_switch_does() -> None:
    case = case_of("three-switch-hall/right.wire")
    for position, closed in (("up", "in-1--out-1"), ("down", "in-1--out-2")):
        picture = read(case, case.standing({"S2": position}))
        pens = {s.id: s.width for s in picture.shapes if s.id.startswith("contact-S2.in-1")}
        assert max(pens, key=pens.__getitem__) == f"contact-S2.{closed}"


@pytest.mark.parametrize(
    ("board", "name", "word"),
    [
        ("split-wired-receptacle/wrong-tab-left-in.wire", "TP.34", "tripped"),
        ("float-switch-in-r/wrong-across-r-and-c.wire", "F.fuse", "blown"),
    ],
)
def test_what_opened_says_so(board: str, name: str, word: str) -> None:
    case = case_of(board)
    assert words(read(case, case.standing({})))[f"word-{name}"] == word


def test_a_breaker_that_is_off() -> None:
    case = case_of("three-switch-hall/right.wire")
    picture = read(case, case.standing({"TP.3": "off"}))
    assert words(picture)["word-TP.3"] == "off"
    assert not picture.of("flow")
    legs = {f"live-0-{each}" for each in ("leg-TP.a", "leg-TP.b", "stab-TP.3")}
    assert ids(picture, "live") == legs
    assert {"legend-a", "legend-b"} <= ids(picture, "legend")


def test_a_load_that_starves_shows_its_volts() -> None:
    case = case_of("fan-and-light/wrong-in-series.wire")
    told = [words(read(case, state)) for state in case.named_states().values()]
    assert any(text.endswith(" V") for each in told for name, text in each.items() if "figure" in name)


def test_an_idle_tap_of_a_motor_that_runs_is_not_said_to_be_dead() -> None:
    """The two speeds are on one core (common practice): with the motor off both taps are dead."""
    case = case_of("two-speed-blower/right.wire")
    cool, rest = (State(case.standing({}, calls)) for calls in (("cool",), ()))
    assert cool.reading("BL.low-tap") == cool.reading("SR.nc") == "not 0 V"
    assert cool.reading("BL.high-tap") == "120 V a" and cool.reading("BL.b") == "0.3 V"
    assert rest.reading("BL.low-tap") == rest.reading("BL.high-tap") == "0 V"
    # What is not dead does not look dead: it wears the glow of the tap that runs, whose core it is on.
    assert cool.level("BL.low-tap") == cool.level("SR.nc") == cool.level("BL.high-tap") == "a"
    assert not rest.level("BL.low-tap") and not cool.level("BL.b")
    # Of a motor between two hots the other tap is told in the same way, and so does the meter tell it.
    other = case_of("furnace-on-a-sequencer/right.wire").standing({}, ("heat",))
    assert State(other).reading("BL.high-tap") == State(other).reading("FR.no") == "not 0 V"
    assert State(other).level("BL.high-tap") == State(other).level("BL.low-tap") != ""
    for settled, taps in ((other, ("BL.high-tap", "FR.no")), (cool.settled, ("BL.low-tap", "SR.nc"))):
        for end in ("BL.b", "TP.neutral"):
            shown = meter.volts(settled, taps[0], end)
            assert shown.induced and shown.value is None and shown.text == "not 0 V"
        assert meter.volts(settled, *taps).text == "0 V"
    assert not meter.volts(rest.settled, "BL.low-tap", "BL.b").induced


def test_live_is_told_apart_without_color_and_stands_out() -> None:
    assert len(set(LIVE_DASH.values())) == len(LIVE_DASH)
    for page in (PAPER, DARK):
        for color in LIVE.values():
            assert geometry.contrast(color, page.room) >= 3, (color, page.room)


def test_the_legs_of_three_phases_are_told_apart_in_gray() -> None:
    """In the picture itself no two of what is live have the same dashes, and its key has those too."""
    case = case_of("motor-starter/right.wire")
    svg = draw(case.board, state=case.standing({}), kind="ladder")
    found = re.findall(r'<g id="([^"]*)" class="edge (live|legend)([^"]*)">(.*?)</g>', svg, re.DOTALL)
    patterns: dict[str, set[str]] = {}
    for name, kind, level, body in found:
        which = level.split()[0] if kind == "live" else name.removeprefix("legend-")
        if which in ("a", "b", "c"):
            patterns.setdefault(which, set()).update(re.findall(r'stroke-dasharray="([^"]*)"', body) or [""])
    assert all(len(each) == 1 for each in patterns.values()), patterns
    assert len(patterns) == 3 and len(set().union(*patterns.values())) == 3


def test_secondaries_without_a_ground_are_told_from_their_common() -> None:
    case = case_of("two-transformers/right.wire")
    state = State(case.standing({}))
    for winding in case.circuit.windings:
        hot, common = winding.secondary
        assert state.reading(common) == "0 V"
        volts = float(state.reading(hot).removesuffix(" V"))
        assert volts == pytest.approx(state.settled.across(hot, common), abs=0.06)
        assert state.level(hot) == "low"


def test_the_key_says_what_low_voltage_there_is() -> None:
    for name, low in (("doorbell", "16 V"), ("boiler-two-zones", "24 V")):
        case = case_of(f"{name}/right.wire")
        said = set(words(read(case, case.standing({}))).values())
        assert f"live, {low}" in said
        assert f"volts to ground; on {low} without a ground, to its transformer's common" in said


@pytest.mark.slow
def test_one_picture_of_many_states_holds_each() -> None:
    """What one state shows of the whole is what its own picture shows."""
    case = case_of("condensing-furnace/right.wire")
    states = [step.settled for step in case.played(["heat"]).steps]
    whole, only = draw_states(case.board, states)
    parts = geometry.read(whole).shapes
    for number, state in enumerate(states):
        shown = [s for s in parts if s.id not in only or number in only[s.id]]
        own = geometry.read(draw(case.board, (), state=state)).shapes
        place = {(s.id.partition("--")[0] if s.id in only else s.id, s.box, s.text, s.width) for s in shown}
        for shape in own:
            if shape.id != "page" and "--" not in shape.id:
                assert (shape.id, shape.box, shape.text, shape.width) in place, (number, shape.id)
        assert len(shown) == len(own)
    for shape in parts:
        assert ("state" in shape.classes) == (shape.id in only)


def test_a_state_of_an_empty_board() -> None:
    case = Case(wirecheck.assemble('board "Nothing"')[1])
    assert "Shown at rest" in draw(case.board, state=case.standing({}))


@pytest.mark.parametrize(
    ("board", "calls", "runs", "said"),
    [
        ("timer-defrost", ["defrost"], "HT", "with defrost called: TM.clock defrosting"),
        ("walk-in-freezer", ["defrost"], "W.heater", "with defrost called: W.timer.clock defrosting"),
        # What other calls do goes on in the end, and is shown there.
        ("timer-defrost", ["cool"], "COMP", "with cool called"),
    ],
)
def test_a_call_that_its_own_device_ends_is_shown_at_its_beginning(
    board: str, calls: list[str], runs: str, said: str
) -> None:
    case = case_of(f"{board}/right.wire")
    shown = arguments.state(case, None, calls)
    assert shown is not None and runs in shown.running
    assert State(shown).words == said
    # The report of what runs in the end is still that.
    assert (runs in case.standing({}, calls).running) == (calls == ["cool"])


def test_a_call_that_has_ended_by_itself_says_what_has_moved() -> None:
    """With the ice gone the clock has ended the defrost: nothing runs, and the picture says why."""
    text = (files.folder("boards") / "timer-defrost" / "right.wire").read_text("utf-8")
    case = Case(wirecheck.assemble(text)[1])
    assert State(case.standing({}, ["defrost"])).words.startswith(
        "with defrost called, in the end: TM.clock ended"
    )
    assert State(case.standing({}, ["cool"])).words == "with cool called"


def called(name: str, call: str) -> geometry.Picture:
    case = Case(of_text((files.folder("boards") / name).read_text("utf-8")))
    return geometry.read(draw(case.board, state=case.standing({}, [call])))


def test_a_machine_without_volts_has_a_dark_control() -> None:
    """Its neutral is open: both its screws are at 120 V to ground, with nothing between them."""
    lit = "lit-M.call"
    assert lit not in ids(called("ice-machine/wrong-neutral-splice-open.wire", "ice"), "lit")
    assert lit in ids(called("ice-machine/right.wire", "ice"), "lit")
    assert "lit-TM.call" in ids(called("timer-defrost/right.wire", "defrost"), "lit")


def test_the_coil_of_a_current_relay_is_lit_where_its_load_draws_enough() -> None:
    """34 A through it, and its contact closes on 16 A; once the motor is up to speed it has let go."""
    assert "lit-CR.L--M" in ids(called("reach-in-cooler/wrong-start-left-off.wire", "cool"), "lit")
    assert "lit-CR.L--M" not in ids(called("reach-in-cooler/right.wire", "cool"), "lit")


@pytest.mark.parametrize(
    ("board", "call", "lit"),
    [
        ("right", "cool", {"compressor", "run"}),
        # Its start capacitor is left off: the rotor stands, and the run winding draws 34 A.
        ("wrong-start-left-off", "cool", {"run"}),
    ],
)
def test_the_run_winding_is_lit_where_its_compressor_draws_through_it(
    board: str, call: str, lit: set[str]
) -> None:
    picture = called(f"reach-in-cooler/{board}.wire", call)
    found = {name.removeprefix("lit-CP.") for name in ids(picture, "lit") if name.startswith("lit-CP.")}
    assert found == lit
    # What it draws is told once.
    assert sum(name.startswith("figure-CP.") for name in words(picture)) == 1


def test_a_heater_on_half_its_volts_is_warm_and_says_on_how_many_it_is() -> None:
    picture = called("baseboard-heater/wrong-half-the-voltage.wire", "heat")
    assert "lit-H1.element.heater" in ids(picture, "lit")
    assert (
        next(text.text for text in picture.texts if text.id == "figure-H1.element.heater") == "119 V of 240 V"
    )


def test_line_voltage_that_a_transformer_makes_is_on_no_leg() -> None:
    """Its 120 V stand in no relation to the legs of the panel: a separately derived system (NEC 100)."""
    case = case_of("motor-control-transformer/right.wire")
    state = State(case.standing({"START": "pressed"}))
    for point in ("T.X1", "F3.load", "C.A1"):
        assert state.level(point) == "derived" and state.reading(point) == "125 V", point
    assert state.level("F1.load") == "a" and state.reading("F1.load") == "277 V a"
    assert state.levels()["derived"] == "120 V of T"
    picture = geometry.read(draw(case.board, kind="ladder", state=state.settled))
    assert "volts to ground" in words(picture).values()


@pytest.mark.parametrize(
    ("board", "said"),
    [
        ("bath-lights", "with S1 on"),
        ("garage-vehicle-outlet", "with the power on"),
        ("heat-cool-hookup", "at rest"),
        ("motor-starter", "at rest"),
        ("doorbell", "at rest"),
    ],
)
def test_a_picture_of_what_runs_unmoved_is_not_said_to_be_at_rest(board: str, said: str) -> None:
    assert State(case_of(f"{board}/right.wire").standing({})).words == said


def test_a_pilot_light_that_is_lit_has_its_current_on_its_wires() -> None:
    """0.2 W at 120 V is less than 2 mA."""
    case = case_of("attic-fan/right.wire")
    state = case.standing({"PS": "on"})
    carried = {line.title for line in sheet(case.board, state=state).lines if line.kind == "flow"}
    assert any("PS.neutral" in title or "pigtail" in title for title in carried)


@pytest.mark.parametrize("name", ["pump-down-cooler", "doorbell", "fan-and-light"])
def test_no_glow_of_a_ladder_lies_on_itself(name: str) -> None:
    """Dashes that lie on dashes are a line, and a line is another leg."""
    case = case_of(f"{name}/right.wire")
    for line in sheet(case.board, kind="ladder", state=case.standing({}, case.calls[:1])).lines:
        if not line.kind.startswith("live "):
            continue
        for one, other in combinations(line.pieces, 2):
            for along in (0, 1):
                if len({point[1 - along] for point in (*one, *other)}) == 1:
                    (a, b), (c, d) = (sorted(p[along] for p in piece) for piece in (one, other))
                    assert b < c or d < a, (line.id, one, other)


def test_the_key_tells_a_bridge_where_a_contact_is_closed_now() -> None:
    for board, told in (("reversing-starter", True), ("bath-lights", False)):
        case = case_of(f"{board}/right.wire")
        for kind in ("wiring", "ladder"):
            picture = geometry.read(draw(case.board, kind=kind, state=case.standing({})))
            assert ("bridged: closed now; not bridged: open now" in words(picture).values()) == told, kind


def test_words_under_what_is_lit_stand_off_its_frame() -> None:
    """Neither the volts of a receptacle's large face nor the amperes of a sign without a caption touch it."""
    found = 0
    for name in ("dryer-outlet", "kitchen-appliances", "condensate-pump"):
        case = case_of(f"{name}/right.wire")
        picture = read(case, case.standing({}, case.calls))
        for lit in picture.of("lit"):
            x0, _, x1, low = lit.box
            under = [each for each in picture.texts if x0 < geometry.middle(each)[0] < x1]
            tops = [each.box[1] - low for each in under if each.box[1] > low - 4]
            if tops:
                assert min(tops) > 1, lit.id
                found += 1
    assert found > 3
