"""A device's face shows each contact that opens one of its wires, and each bar that carries one through."""

from __future__ import annotations

from tests.drawing.test_wiring import of_text
from wirecheck.circuit.circuit import circuit
from wirecheck.circuit.settle import settle
from wirecheck.drawing.picture import sheet
from wirecheck.drawing.sheet import Line

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
