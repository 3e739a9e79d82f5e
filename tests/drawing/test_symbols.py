"""A device's face shows each contact that opens one of its wires, and each bar that carries one through."""

from __future__ import annotations

import pytest

from tests.drawing.test_wiring import of_text
from tests.samples import fed
from wirecheck.circuit.circuit import circuit
from wirecheck.circuit.settle import Settled, resting, settle
from wirecheck.drawing.picture import sheet
from wirecheck.drawing.sheet import Line, Words
from wirecheck.drawing.symbols import signs as device_signs

BOARD = of_text(
    'board "Poles"\npanel TP 120/240 V\nPS is pump-pressure-switch\nTH is line-voltage-thermostat\n'
    "K is contactor-1-pole\nDT is termination-thermostat\n"
)


def signs(name: str) -> dict[str, Line]:
    """The signs of a device, and the dashes between them."""
    kinds = f"sign-{name}.", f"link-{name}"
    return {line.id: line for line in sheet(BOARD).lines if line.id.startswith(kinds)}


def links(name: str, *poles: str) -> None:
    """Hold a device to one sign for each pole, and dashes from the first to the last."""
    found = signs(name)
    for pole in poles:
        assert f"sign-{name}.{pole}" in found
    assert found[f"link-{name}"].dash == "dashed"


def test_a_control_of_two_poles_shows_both_and_that_they_move_as_one() -> None:
    links("PS", "line-1--load-1", "line-2--load-2")
    links("TH", "line-1--load-1", "line-2--load-2")
    assert any(name.startswith("sign-TH.call") for name in signs("TH"))
    assert not any(name.startswith("link-") for name in signs("DT"))


def test_each_pole_stands_as_the_state_has_it() -> None:
    settled = [settle(circuit(BOARD), {"PS": value}) for value in ("closed", "open")]
    shut, off = (
        {line.id: line.pieces for line in sheet(BOARD, state=state).lines if line.id.startswith("sign-PS.")}
        for state in settled
    )
    assert shut.keys() == off.keys()
    assert sum(shut[name] != off[name] for name in shut) >= 2


def test_a_bar_that_carries_a_wire_through_a_contactor_is_drawn() -> None:
    drawn = sheet(BOARD)
    assert any(line.id.startswith("sign-K.line-2--load-2") for line in drawn.lines)
    (words,) = (mark for mark in drawn.marks if mark.id == "label-K.line-2--load-2-sign")
    assert getattr(words, "text", "") == "line-2 to load-2"


def test_a_contact_that_no_temperature_moves_is_that_of_any_relay() -> None:
    """A thermostat's fan contact and those that a defrost clock's cams move, of which one rests closed."""
    board = of_text('board "Cams"\nTM is defrost-timer\nTS is heat-cool-thermostat\n')
    drawn = {
        sign.words: sign for device in board.devices.values() for sign in device_signs(device) if sign.switch
    }
    forms = {words: (sign.switch and sign.switch.form, sign.closed) for words, sign in drawn.items()}
    assert forms == {
        "feed to cool": ("pair", True),
        "feed to defrost": ("pair", False),
        "R to W": ("blade", False),
        "R to Y": ("blade", False),
        "R to G": ("pair", False),
    }


def test_a_changeover_contact_inside_equipment_has_both_its_throws() -> None:
    """One of a water heater's elements heats at a time: it is seen that the other's throw is open."""
    board = of_text('board "Tank"\nWH is water-heater 4500 W\n')

    wired = circuit(board)

    def throw(name: str, position: str) -> list[object]:
        state = settle(wired, resting(wired, {"WH.upper-thermostat": position}))
        begins = f"sign-WH.upper-thermostat.common--{name}"
        return [line.pieces for line in sheet(board, state=state).lines if line.id.startswith(begins)]

    for name in ("upper", "lower"):
        assert throw(name, "cold") != throw(name, "hot"), name
    words = {mark.text for mark in sheet(board).marks if isinstance(mark, Words)}
    assert {"upper-thermostat to upper", "upper-thermostat to lower"} <= words


def test_a_motor_on_three_phases_has_three_leads() -> None:
    """Three lines to one side of its circle (IEEE 315, from memory); a motor on one phase has two leads."""
    parts = {"motor": "motor", "three-phase-motor": "motor", "three-phase-compressor": "compressor"}
    leads = {}
    for part, load in parts.items():
        lines = sheet(of_text(f'board "Motor"\nX is {part}\n')).lines
        (sign,) = (line for line in lines if line.id == f"sign-X.{load}")
        # One more piece is its circle.
        leads[part] = len(sign.pieces) - 1
    assert leads == {"motor": 2, "three-phase-motor": 3, "three-phase-compressor": 3}


HANDS = of_text(
    fed(
        "S1 is single-pole-switch in LP",
        "S2 is pilot-light-switch in LP",
        "S3 is double-pole-switch in LP",
        "S4 is timer-switch in LP",
        "D is disconnect-2-pole in LP",
        "L1 is lampholder 60 W in LP",
        "at LP",
        "LP.3 -- S1.line",
        "S1.load -- D.line-1",
        "D.load-1 -- S2.line",
        "S2.load -- S3.line-1",
        "S3.load-1 -- S4.line",
        "S4.load -- L1.hot",
        "L1.neutral -- LP.neutral",
        "S2.neutral -- LP.neutral",
    )
)


@pytest.mark.parametrize("kind", ["wiring", "ladder"])
def test_hand_switches_are_drawn_off_and_disconnects_closed_where_no_state_is_shown(kind: str) -> None:
    """IEEE 315 draws switches in the position of no operation (from memory), textbooks off."""

    def drawn(name: str, state: Settled | None = None) -> dict[str, Line]:
        begins = tuple(f"{part}-{name}{end}" for part in ("contact", "toggle", "sign") for end in (".", ""))
        lines = sheet(HANDS, kind=kind, state=state).lines
        return {
            line.id: line for line in lines if line.id.startswith(begins) and line.kind.startswith("sign")
        }

    wired = circuit(HANDS)
    shown = {
        value: settle(wired, resting(wired, dict.fromkeys(("S1", "S2", "S3", "S4", "D"), value)))
        for value in ("on", "off")
    }
    for name in ("S1", "S2", "S3", "S4", "D"):
        off, on = (drawn(name, shown[value]) for value in ("off", "on"))
        pieces = [{each: line.pieces for each, line in lines.items()} for lines in (drawn(name), off, on)]
        assert pieces[1] != pieces[2]
        assert pieces[0] == pieces[2 if name == "D" else 1], name


def test_a_ground_rod_has_the_sign_of_the_earth() -> None:
    """A wire that ends on three bars, each shorter than the one over it (IEEE 315, 3.9, from memory)."""
    drawn = sheet(of_text('board "Rod"\nX is ground-rod\n'))
    pieces = [piece for line in drawn.lines if line.id.startswith("sign-X.clamp") for piece in line.pieces]
    bars = sorted((piece for piece in pieces if piece[0][1] == piece[-1][1]), key=lambda piece: piece[0][1])
    wide = [abs(bar[-1][0] - bar[0][0]) for bar in bars]
    assert len(wide) == 3 and wide == sorted(wide, reverse=True)
    (stem,) = (piece for piece in pieces if piece[0][0] == piece[-1][0])
    assert max(stem[0][1], stem[-1][1]) == bars[0][0][1] < bars[1][0][1]
