"""The contact of a delay relay says how it waits, and has the sign of that."""

from __future__ import annotations

import pytest

from tests.samples import shipped
from wirecheck.circuit.circuit import circuit
from wirecheck.drawing.delays import delay
from wirecheck.drawing.picture import sheet
from wirecheck.drawing.sheet import Words


@pytest.mark.parametrize(
    ("name", "contact", "words", "clocked"),
    [
        # NEMA ICS 19 (from memory): a contact that closes late has a stem with an arrow that points up.
        ("two-units-one-thermostat", "DM.in--out", ["delay on make", "10 s"], False),
        # What opens at once and closes late has no sign of its own: it is moved by a clock.
        ("condenser-fan-cycling", "DB.in--out", ["delay on break", "3 min"], True),
        ("cooling-call", "CU.low-pressure.b--contactor.coil-a", ["delay on break", "3 min"], True),
    ],
)
def test_a_delay_says_what_it_waits_for_and_how_long(
    name: str, contact: str, words: list[str], clocked: bool
) -> None:
    drawn = sheet(shipped(name), kind="ladder")
    said = [mark for mark in drawn.marks if mark.id.startswith(f"contact-{contact}.words")]
    assert [mark.text for mark in said if isinstance(mark, Words)] == words
    strokes = [line for line in drawn.lines if line.id.startswith(f"contact-{contact}")]
    pieces = [piece for line in strokes for piece in line.pieces]
    # A ring is four curves; the third one is the clock's face.
    assert sum(len(piece) == 13 for piece in pieces) == (3 if clocked else 2)
    middle = sum(x for piece in pieces for x, _ in (piece[0], piece[-1])) / (2 * len(pieces))
    arrows = [piece for piece in pieces if len(piece) == 7 and piece[3][1] < min(piece[0][1], piece[-1][1])]
    assert [abs(piece[3][0] - middle) < 3 for piece in arrows] == ([] if clocked else [True])


@pytest.mark.parametrize(
    "name", ["timer-defrost", "condensing-furnace", "oil-furnace", "furnace-on-a-sequencer"]
)
def test_what_more_than_time_and_a_call_move_is_no_delay(name: str) -> None:
    wired = circuit(shipped(name))
    assert not [contact.name for contact in wired.contacts if delay(wired, contact)]


@pytest.mark.parametrize(
    ("name", "words", "rings"),
    [("attic-fan", "opens after 30 min", 3), ("bath-sensor-and-timer", "clock: line 4", 3)],
)
def test_a_timer_is_told_from_a_switch(name: str, words: str, rings: int) -> None:
    """One that a hand winds by its clock and how long it runs, one with power by where its clock is."""
    drawn = sheet(shipped(name), kind="ladder")
    contact = "contact-TM.line--load"
    said = [mark.text for mark in drawn.marks if isinstance(mark, Words) and mark.id.startswith(contact)]
    assert words in said
    pieces = [piece for line in drawn.lines if line.id.startswith(contact) for piece in line.pieces]
    assert sum(len(piece) == 13 for piece in pieces) == rings
