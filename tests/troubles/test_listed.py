"""A list of faults is read whole, each mistake has its line, and what is said is understood again."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.troubles.shed import good
from wirecheck import files
from wirecheck.assembly import assemble
from wirecheck.circuit.circuit import circuit
from wirecheck.circuit.fault import Held, Off, StuckContacts
from wirecheck.faults.listed import NoSuchFault, fault, faults
from wirecheck.faults.suspects import suspects
from wirecheck.faults.words import said

BOARDS = sorted(path.parent.name for path in files.folder("boards").glob("*/right.wire"))


@pytest.mark.parametrize("name", BOARDS)
def test_every_fault_that_a_board_can_have_is_understood_as_it_is_said(name: str) -> None:
    text = (files.folder("boards") / name / "right.wire").read_bytes()
    whole = circuit(assemble(text)[1])
    every = suspects(whole)
    assert every
    for one in every:
        assert fault(said(one.fault, whole), whole) == one.fault


def test_a_wire_within_a_panel_comes_off_at_either_end() -> None:
    """The line says which by what that is on; a place alone is that of its first end."""
    text = (files.folder("boards") / "motor-starter" / "right.wire").read_text("utf-8")
    whole = circuit(assemble(text)[1])
    every = {said(one.fault, whole) for one in suspects(whole)}
    assert {"open K3 at C.14", "open K3 at C.A1", "open K1 at C1", "open K1 at C.L1"} <= every
    assert "open K3 at E" not in every
    assert fault("open K3 at C.A1", whole) == Off("K3@E'")
    assert fault("open K3 at E", whole) == fault("open K3 at C.14", whole) == Off("K3@E")
    assert said(fault("K1 and K2 swapped at E", whole), whole) == "K1 and K2 swapped at E"
    with pytest.raises(NoSuchFault, match=r"K3 does not come to C\.A2"):
        fault("open K3 at C.A2", whole)


def test_a_contact_of_a_switch_whose_positions_are_open_and_closed_is_told_from_the_switch() -> None:
    """Found by the fuzzer: "X1 stuck open" is the hidden switch held there, not its contact burnt open."""
    board = Path(__file__).parents[1] / "boards" / "by_hand" / "controls" / "trainer-hidden-faults.wire"
    whole = circuit(assemble(board.read_bytes())[1])
    burnt = StuckContacts(("X1.a--b",), closed=False)
    assert burnt in [one.fault for one in suspects(whole)]
    assert said(burnt, whole) == "X1.a to X1.b stuck open"
    assert fault("X1.a to X1.b stuck open", whole) == burnt
    assert fault("X1 stuck open", whole) == Held("X1", "open")


def test_a_list_is_read_whole_and_each_mistake_has_its_line() -> None:
    listed = faults(
        'faults for "Shed"\n'
        "fault 1 open W1.black at A\n"
        "fault 1 L1 burnt out\n"
        "fault 2 open W1.blck at A\n"
        "fault 3 open W1.black at L1\n"
        "fault 4 S1 stuck sideways\n"
        "fault 5 LP.3 blown\n"
        "fault 6 L1 burnt out  # the lamp\n"
        "box B octagon\n",
        good(),
    )
    assert listed.board == "Shed"
    assert [(one.number, said(one.fault, good())) for one in listed.listed] == [
        (1, "open W1.black at A"),
        (6, "L1 burnt out"),
    ]
    assert [problem.span.line for problem in listed.problems] == [3, 4, 5, 6, 7, 9]
    told = " ".join(f"{problem.message} {problem.help}" for problem in listed.problems)
    for part in (
        "two faults 1",
        "Did you mean W1.black?",
        "W1.black does not come to L1. It goes from LP to A.",
        "S1 has no position sideways. It can be stuck on or off or open or closed.",
        "a breaker does not blow, it trips. A breaker that stays off is written: LP.3 stuck off",
        "this belongs in no list of faults",
    ):
        assert part in told


@pytest.mark.parametrize(
    "said_so",
    [
        "",
        "open",
        "open W1",
        "open L9.hot",
        "short LP.3 to W1.black",
        "short W1.white to W2.white at A",
        "poor W1.black at A, 0 ohm",
        "poor W1.black at A, 8 V",
        "S9 stuck open",
        "W1.black burnt out",
        "S1 blown",
        "W1.black and W1.black swapped at A",
        "L1 burnt out\nfault 2 S1 stuck open",
        "LP.3 to LP.neutral stuck open",
        "S1.line to S1.load stuck up",
    ],
)
def test_what_is_no_fault_of_the_board_is_refused_with_a_reason(said_so: str) -> None:
    with pytest.raises(NoSuchFault) as refused:
        fault(said_so, good())
    assert refused.value.message
