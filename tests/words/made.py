"""Words that no board of shipped parts comes to: of records made by hand, and of parts of one's own."""

from __future__ import annotations

from collections.abc import Iterator

from tests.rules.hands import COOLING, case
from wirecheck.circuit.circuit import Contact
from wirecheck.circuit.uses import Feed
from wirecheck.judge.case import Case
from wirecheck.judge.continuity import (
    End,
    HeldOpen,
    NoneOfItsKind,
    NoPower,
    NoSource,
    NotJoined,
    NoWire,
    OneSide,
    Opened,
    Standing,
    Stop,
    TooLittle,
    TwoSources,
    Wanted,
    WithoutCall,
    of_load,
)
from wirecheck.judge.stop_words import remedy, said
from wirecheck.language.syntax import (
    AllOf,
    AnyOf,
    Called,
    Carries,
    HasVoltage,
    InPosition,
    IsState,
    Negation,
    Quantity,
    Runs,
    Word,
)
from wirecheck.rules import box_fill


def stops() -> Iterator[str]:
    """Each kind of stop, and each thing that may lead to one: what is seen, and what to do."""
    board = case(COOLING)
    motor = of_load(board.circuit.load["CU.compressor"])
    winding = board.circuit.windings[0]
    for end in _ends(board):
        stop = Stop(motor, end, None)
        yield from (f"{type(end).__name__}:", f"  {said(stop, board)}", f"  to do: {remedy(stop)}")
    primary = Wanted(winding, *winding.primary, winding.primary_volts)
    yield from ("of a transformer:", f"  {said(Stop(primary, NoPower(), None), board)}")
    for through in (winding, *_each_kind_of_contact(board), _standing(board)):
        told = said(Stop(motor, NoPower(), None, through=(through,)), board)
        yield from (f"behind {type(through).__name__}:", f"  {told}")


def of_own_parts() -> Iterator[str]:
    """What rules say of a part that does not ship: a luminaire on a stud with a hickey."""
    hook = """part hook "A luminaire on a stud with a hickey"
terminal hot hot, lead, sizes 18 to 12
fills 2 fitting
"""
    text = 'board "A luminaire"\npanel LP 120/240 V\nbox A octagon 7 cu in\nH is hook in A\n'
    board = case(text + "cable W1 14/2 NM-B 20 ft from LP to A\n", hook=hook)
    for problem in box_fill.RULE.find(board):
        finding = box_fill.RULE.finding(problem, board)
        yield from (f"{finding.subject}:", f"  {finding.message}", f"  to do: {finding.help}")


def _ends(board: Case) -> Iterator[End]:
    point, wires = board.circuit.point, board.board.conductors
    here, on = point["TW.yellow@TS"], point["TS.Y"]
    yield from (TooLittle(12.0), NoSource(), NoWire(), NoPower(), NoneOfItsKind(here), NoneOfItsKind(on))
    yield NotJoined(here, on)
    yield NotJoined(here, on, among=True)
    yield NotJoined(here, on, (wires["TW.green"],))
    yield NotJoined(here, on, (wires["TW.yellow"], wires["TW.green"], wires["TW.blue"]))
    yield from (OneSide(Feed("hot", "LP.leg-a")), OneSide(Feed("neutral", "LP")))
    yield TwoSources(board.circuit.windings[0], board.circuit.windings[0]._replace(name="T2"))
    yield WithoutCall(here, on)
    yield Opened(board.circuit.protections[0])
    yield from (HeldOpen(contact) for contact in _each_kind_of_contact(board))
    yield _standing(board)


def _each_kind_of_contact(board: Case) -> Iterator[Contact]:
    """A contact of the outdoor unit, with each kind of condition."""
    contact = next(contact for contact in board.circuit.contacts if contact.scope == "CU")
    nowhere = board.board.devices["CU"].span

    def word(text: str) -> Word:
        return Word(text, nowhere)

    stands = IsState(word("high-pressure"), word("closed"))
    for when in (
        InPosition(word("closed")),
        Called(word("cool")),
        Runs(word("contactor")),
        Runs(word("compressor")),
        HasVoltage(word("Y"), Quantity(20.0, "voltage", "20 V", nowhere), word("C")),
        Carries(word("L1"), Quantity(16.0, "current", "16 A", nowhere), word("L2")),
        stands,
        AllOf((stands, Negation(Called(word("heat"))))),
        AnyOf((stands, Called(word("cool")))),
    ):
        yield contact._replace(when=when)


def _standing(board: Case) -> Standing:
    move = next(move for move in board.circuit.moves if move.when is not None)
    return Standing(move.variable, "open", move.when, move.scope)
