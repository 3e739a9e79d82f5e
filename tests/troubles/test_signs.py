"""What has too little of its volts is not off: it is dim, weak, slow, or hums, and is told so."""

from __future__ import annotations

import pytest

from tests.circuit.houses import stairs
from tests.samples import board
from tests.troubles.shed import SHED, good
from tests.troubles.test_faulted import FURNACE
from wirecheck import files
from wirecheck.arguments import reading
from wirecheck.faults.listed import fault
from wirecheck.judge.case import Case
from wirecheck.judge.state_name import StateName
from wirecheck.parts.part import LOCKED_OUT
from wirecheck.report import readings
from wirecheck.report.bench import looked
from wirecheck.report.signs import PHRASES
from wirecheck.report.tickets import complained, opened
from wirecheck.tables.signs import known
from wirecheck.troubles.diagnosis import diagnosis
from wirecheck.troubles.found import SIGNS, found
from wirecheck.troubles.observed import Look, shows
from wirecheck.troubles.shop import Shop
from wirecheck.troubles.signs import BUZZ, WARM
from wirecheck.troubles.ticket import ticket
from wirecheck.troubles.trials import Tried, differences

ON = StateName((("S1", "on"),))
SHED_BOARD = board(SHED)


def tried(said: str) -> Tried:
    return Tried(SHED_BOARD, (fault(said, good()),))


@pytest.mark.parametrize(
    ("ohms", "words"),
    [
        # By hand: 60 W at 120 V are 240 ohm. The lamp gets 120 V x 240 / (240 + ohms).
        # What the joint gives off is I^2 R: at 4 ohm 0.97 W, which nobody feels, and at 15 ohm 3.3 W.
        (4, "On: L1."),
        (15, "On: L1. A is warm where wires join."),
        (60, "L1 is dim. A is warm where wires join."),
        (2000, "L1 is dim. A is warm where wires join."),
        (9000, "Nothing runs."),
    ],
)
def test_a_lamp_behind_a_poor_joint_is_on_dim_or_dark(ohms: int, words: str) -> None:
    assert looked(tried(f"poor W2.black at A, {ohms} ohm").seen(ON)) == words


def test_an_owner_complains_of_a_dim_lamp_and_not_of_a_dark_one() -> None:
    bad, whole = tried("poor W2.black at L1, 60 ohm"), Tried(SHED_BOARD)
    told = complained(differences(whole.seen(ON), bad.seen(ON)))
    assert told == "L1 is dim; L1 is warm where wires join"
    assert complained(differences(whole.seen(ON), tried("open W2.black").seen(ON))) == "L1 does not come on"


def test_of_a_dim_lamp_one_may_say_that_it_runs_and_that_it_does_not() -> None:
    dim, dark = tried("poor W2.black at L1, 60 ohm"), tried("open W2.black")
    told = [Look(ON, "L1", "dim", True), Look(ON, "L1", "ran", True), Look(ON, "L1", "runs", False)]
    assert [shows(dim, one) for one in told] == [True, True, True]
    assert [shows(dark, one) for one in told] == [False, False, True]
    assert shows(dim, Look(ON, "L1", "flicker", True)) and not shows(dim, Look(ON, "L1", "bright", True))


def test_what_is_seen_is_written_in_a_report() -> None:
    told = found('found on "Shed"\nwith S1 on\nsaw L1 dim\n', Case(SHED_BOARD))
    assert told.observations == (Look(ON, "L1", "dim", True),) and not told.problems
    for line, words in (
        ("saw L1 dimm", 'there is nothing that is seen as "dimm". Did you mean dim?'),
        ("saw L9 dim", "there is nothing called L9 that can be so. There are: L1"),
        ("saw L9 warm", "there is nothing called L9 that can be so. There are: A, L1, LP."),
        ("saw L1 locked-out", "there is nothing called L1 that can be so."),
    ):
        (problem,) = found(f'found on "Shed"\n{line}\n', Case(SHED_BOARD)).problems
        assert problem.message.startswith(words)


def test_an_owner_does_not_feel_the_joint_behind_a_cover() -> None:
    shop = Shop(SHED_BOARD)
    given = ticket(shop, 1, among=[fault("poor W2.black at A, 60 ohm", shop.good.circuit)])
    assert "As it stands, L1 is dim." in opened(given)


def test_a_board_that_has_given_up_shows_it() -> None:
    """Three trials without a flame: its control locks out, and stays so for an hour."""
    made = board(FURNACE)
    good = Case(made).circuit
    heat = StateName(calls=("heat",))
    bad = Tried(made, (fault("F.igniter burnt out", good),))
    assert looked(bad.seen(heat)).endswith("F.control shows a lockout.")
    assert "lockout" not in looked(Tried(made).seen(heat))
    told = found(f'found on "{made.title}"\nwith heat\nsaw F locked-out\n', Case(made))
    assert told.observations == (Look(heat, "F.control", LOCKED_OUT, True),)
    assert shows(bad, told.observations[0]) and not shows(Tried(made), told.observations[0])


def test_a_warm_place_is_looked_for_on_the_whole_board() -> None:
    """Lights that share a panel alone are worked out one by one, but a box may hold wires of several."""
    shop = Shop(board(stairs(2)))
    wrong = next(one for one in shop.suspects if one.kind == "poor joint")
    one = Look(StateName(), wrong.place, WARM, True)
    assert not shop.shows((), one)


@pytest.mark.parametrize("more", ["", "read 96 V from L1.hot to L1.neutral\n", "saw A warm\n"])
def test_a_dim_lamp_is_explained_by_poor_joints(more: str) -> None:
    """With the 15 ohm of a suspect 60 W is not dim: the ohms are found that make it so."""
    shop = Shop(SHED_BOARD)
    text = f'found on "Shed"\nwith S1 on\nsaw L1 dim\n{more}'
    told = diagnosis(shop, found(text, Case(SHED_BOARD)).observations).explanations
    assert {one.suspects[0].kind for one in told} == {"poor joint"}
    assert {one.suspects[0].place for one in told} == ({"A"} if "warm" in more else {"LP", "A", "L1"})


def test_a_motor_that_has_lost_a_phase_hums() -> None:
    """Common practice: on two of its three lines a motor stands and hums."""
    made = board((files.folder("boards") / "motor-starter" / "right.wire").read_text())
    case = Case(made)
    pushed = StateName((("START", "pressed"),))
    bad = Tried(made, (fault("D.line-3 to D.load-3 stuck open", case.circuit),))
    assert complained(differences(Tried(made).seen(pushed), bad.seen(pushed))) == "M hums"
    # What it draws as it stands is not worked out, and no reading of amperes goes without saying so.
    for case, told in ((bad.case, True), (Case(made), False)):
        shown, settled = reading(case, "amps", ("M1",), {"START": "pressed"})
        assert (
            "A motor that stands draws as when it starts" in readings.said(shown, ("M1",), settled)
        ) is told


def test_an_open_neutral_of_two_legs_makes_one_lamp_dim_and_the_other_too_bright() -> None:
    """By hand: 60 W and 100 W in series on 240 V get 150 V and 90 V."""
    made = board(TWO_LEGS)
    wrong = fault("open W1.white at LP", Case(made).circuit)
    seen = Tried(made, (wrong,)).seen(StateName())
    assert looked(seen) == "On: L1. L2 is dim. L1 is too bright."


TWO_LEGS = """board "Two legs"
panel LP 120/240 V, 10 kA available
breaker LP.1 15 A 2-pole
box A octagon 15.5 cu in
L1 is lampholder 60 W
L2 is lampholder 100 W
cable W1 14/3 NM-B 20 ft from LP to A
cable W2 14/2 NM-B 5 ft from A to L1
cable W3 14/2 NM-B 5 ft from A to L2
at LP
  W1.black -- LP.1.a
  W1.red -- LP.1.b
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at A
  W1.black -- W2.black
  W1.red -- W3.black
  W1.white -- W2.white -- W3.white
  W1.bare -- W2.bare -- W3.bare
at L1
  W2.black -- L1.hot
  W2.white -- L1.neutral
  W2.bare -- L1.ground
at L2
  W3.black -- L2.hot
  W3.white -- L2.neutral
  W3.bare -- L2.ground
"""


def test_every_sign_has_its_words() -> None:
    assert set(PHRASES) == set(SIGNS) == {*known(), BUZZ, WARM, LOCKED_OUT}
