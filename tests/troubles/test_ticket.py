"""A ticket hides one fault that shows, and is worth what finding it took."""

from __future__ import annotations

import pytest

from tests.samples import board
from tests.troubles.shed import SHED
from wirecheck import files
from wirecheck.arguments import WrongArgument
from wirecheck.circuit.fault import Fault
from wirecheck.faults.listed import fault
from wirecheck.judge.case import Case
from wirecheck.judge.state_name import StateName
from wirecheck.language.asking import NotUnderstood, asked
from wirecheck.report.tickets import opened, sheet_data, sheet_page, sheet_text
from wirecheck.troubles.bench import Bench
from wirecheck.troubles.course import complaints, seen_with
from wirecheck.troubles.diagnosis import diagnosis, weight
from wirecheck.troubles.observed import Look
from wirecheck.troubles.shop import Shop
from wirecheck.troubles.ticket import EFFORT, NoTicket, Ticket, grouped, need_right, sheet, shown, ticket
from wirecheck.troubles.verdict import score, verdict

SHOP = Shop(board(SHED))


@pytest.mark.slow
def test_the_same_seed_gives_the_same_ticket_and_every_one_shows() -> None:
    truths = {ticket(SHOP, seed).truth for seed in range(40)}
    assert len(truths) > 5
    assert truths == {ticket(Shop(board(SHED)), seed).truth for seed in range(40)}
    for truth in truths:
        assert complaints(SHOP, (truth,))


def test_a_ticket_is_as_hard_as_it_is_asked_to_be() -> None:
    for readings in (0, 1, 2, 3):
        try:
            one = ticket(SHOP, 7, readings)
        except NoTicket:
            continue
        assert len(one.course.readings) == readings
    with pytest.raises(NoTicket, match="no fault of this board takes 40 readings"):
        ticket(SHOP, 7, 40)


def test_a_ticket_is_of_a_board_that_works_and_boxes_may_be_small() -> None:
    wrong = SHED.replace("W2.black -- S1.load", "W2.black -- S1.line")
    with pytest.raises(NoTicket, match="wrong before a fault is hidden"):
        ticket(Shop(board(wrong)), 7)
    need_right(Shop(board(SHED.replace("20.3 cu in", "6 cu in"))))


def test_a_ticket_can_be_one_of_a_list() -> None:
    burnt = fault("L1 burnt out", SHOP.good.circuit)
    short = fault("short W1.black to W1.white at A through 2 ohm", SHOP.good.circuit)
    assert ticket(SHOP, 3, among=[burnt]).truth.fault == burnt
    assert ticket(SHOP, 3, among=[short]).truth.fault == short
    ground = fault("open W1.bare at A", SHOP.good.circuit)
    with pytest.raises(NoTicket, match="none of these faults shows"):
        ticket(SHOP, 3, among=[ground])


def played(one: Ticket, *lines: str) -> Bench:
    """A bench with the ticket's fault, after what was asked."""
    bench = Bench(Case(one.shop.board, None, (one.truth.fault,)))
    for line in lines:
        bench.do(asked(line))
    return bench


def named(said: str) -> Fault:
    return fault(said, SHOP.good.circuit)


def test_points_are_the_least_effort_against_what_was_taken() -> None:
    one = ticket(SHOP, 1, among=[named("L1 burnt out")])
    read = played(one, "set S1 on", "volts L1.hot L1.neutral").taken
    least = score(one, 0, (), read)
    assert (least.points, least.proved) == (100, 1.0)
    assert score(one, 2 * least.least, (), read).points == 50
    # A part that is changed for nothing costs eight readings.
    assert score(one, least.least, [named("S1 stuck off")], read).taken == least.least + 8


def test_a_guess_costs_the_parts_that_are_changed_on_the_way() -> None:
    """Everything that keeps the lamp dark would have been seen alike: no reading, no proof."""
    one = ticket(SHOP, 1, among=[named("L1 burnt out")])
    guess = score(one, 0, (), ())
    others = sum(weight((each,)) for each in one.alike)
    assert guess.proved == pytest.approx(weight((one.truth,)) / others)
    assert guess.taken == pytest.approx(8 * (1 / guess.proved - 1) / 2)
    assert guess.points == round(100 * guess.least / guess.taken) < 60
    # What was named and was not it is out, for the price of a part.
    assert score(one, 0, [named("S1 stuck open")], ()).proved > guess.proved
    # Ohms with the power off prove it as well as volts do.
    cold = played(one, "power off", "lift W2.black@L1", "ohms L1.hot L1.neutral")
    assert score(one, 3, (), cold.taken).proved == 1.0


def test_a_diagnosis_is_right_elsewhere_or_wrong() -> None:
    one = ticket(SHOP, 1, among=[named("poor W2.black at L1, 400 ohm")])
    assert verdict(one, named("poor W2.black at L1")) == "right"
    assert verdict(one, named("open W2.black at A")) == "elsewhere"
    assert verdict(one, named("open W1.black at A")) == "wrong"
    short = ticket(SHOP, 1, among=[named("short W1.black to W1.white at A through 2 ohm")])
    assert verdict(short, named("short W1.white to W1.black at A")) == "right"


FUSED = """board "Bell with a fuse"
panel LP 120/240 V, 10 kA available
breaker LP.1 15 A
F is gas-furnace
TS is heat-only-thermostat
cable PF 14/2 NM-B 28 ft from LP to F
cable TW 18/2 CL2 40 ft from F to TS
at LP
  PF.black -- LP.1
  PF.white -- LP.neutral
  PF.bare -- LP.ground
at F
  PF.black -- F.L1
  PF.white -- F.N
  PF.bare -- F.ground
  TW.red -- F.R
  TW.white -- F.W
at TS
  TW.red -- TS.R
  TW.white -- TS.W
"""


def test_what_opens_stays_open_until_it_is_put_right_and_what_opened_it_is_found() -> None:
    shop = Shop(board(FUSED))
    good = shop.good.circuit
    one = ticket(shop, 1, among=[fault("short F.W to F.C", good)])
    assert verdict(one, fault("F.fuse blown", good)) == "follows"
    bench = played(one, "call heat", "call nothing")
    # The short is on W, which is dead again; the fuse does not heal.
    assert bench.do(asked("look")).seen.opened == {"F.fuse"}
    assert bench.do(asked("volts F.R F.C")).reading.value == pytest.approx(0, abs=0.1)
    with pytest.raises(WrongArgument, match="does not reset: replace it"):
        bench.do(asked("reset F.fuse"))
    new = bench.do(asked("replace F.fuse"))
    assert (new.effort, new.unsafe) == (3, "")
    assert bench.do(asked("volts F.R F.C")).reading.value > 24
    bench.do(asked("call heat"))
    assert "opens again" in bench.do(asked("replace F.fuse")).unsafe
    with pytest.raises(WrongArgument, match="has not opened here"):
        bench.do(asked("reset LP.1"))


def test_the_sheet_has_every_fault_that_shows() -> None:
    rows = sheet(SHOP)
    assert {row.suspect for row in rows} == set(shown(SHOP))
    assert all(row.complaints == complaints(SHOP, (row.suspect,)) for row in rows)


def test_what_the_effort_ends_before_is_said() -> None:
    shop = Shop(board(SHED))
    seen = dict(seen_with(shop, shop.suspects, 1))
    assert len(seen) == len(shop.suspects)  # each that shows allows for more than it takes
    blind = [one for one, shows in seen.items() if shows is None]
    room = Shop(board(SHED))
    assert tuple(seen_with(room, blind, 0)) == ()
    assert dict(seen_with(room, blind)) == dict.fromkeys(blind)
    with pytest.raises(NoTicket, match="nothing that was tried on this board shows\\. 2 of the faults"):
        grouped(((one, None) for one in blind), 2)
    rows = sheet(shop)
    assert shop.untried == 0 and "not tried" not in sheet_text(shop, rows)
    assert "not tried" not in opened(ticket(shop, 1))
    shop.untried = 2
    left = "2 of the faults that it can have were not tried: --effort tries more of them."
    assert left in sheet_text(shop, rows).replace("\n", " ") and left in sheet_page(shop, rows)
    assert sheet_data(shop, rows)["untried"] == 2
    told = ticket(shop, 1, known=shown(Shop(board(SHED))))
    assert left in opened(told).replace("\n", " ")


def test_a_fault_of_a_list_is_tried_whatever_the_effort_ended_before() -> None:
    shop = Shop(board(SHED))
    last = shop.suspects[-1]
    assert last in shown(shop)
    shop.untried = 3
    assert ticket(shop, 1, among=[last.fault], known={}).truth == last


@pytest.mark.slow
@pytest.mark.parametrize("name", ["dual-fuel", "economizer", "humidifier", "smoke-alarms"])
def test_no_fault_of_a_board_that_ships_is_left_untried(name: str) -> None:
    shop = Shop(board((files.folder("boards") / name / "right.wire").read_text()))
    assert shown(shop) and shop.untried == 0


@pytest.mark.slow
def test_a_board_on_which_nothing_shows_is_soon_done_with() -> None:
    cables = [f"cable W{n} 14/3 NM-B 9 ft from LP to A" for n in range(60)]
    joins = [
        f"  W{n}.{color} -- W{n + 1}.{color}" for n in range(0, 60, 2) for color in ("black", "red", "white")
    ]
    at = [f"at {place}" for place in ("LP", "A")]
    head = ['board "x"', "panel LP 120/240 V, 10 kA available", "breaker LP.1 15 A", "box A device 99 cu in"]
    text = "\n".join([*head, *cables, at[0], *joins, at[1], *joins, ""])
    shop = Shop(board(text))
    tried = [
        len(tuple(seen_with(Shop(board(text)), shop.suspects, effort))) for effort in (EFFORT, 2 * EFFORT)
    ]
    assert 0 < tried[0] < 250 and tried[0] < tried[1] < len(shop.suspects)


def test_a_bench_counts_what_each_thing_takes() -> None:
    bench = Bench(Case(board(SHED)))
    far = bench.do(asked("volts L1.hot L1.neutral"))
    near = bench.do(asked("volts L1.hot L1.ground"))
    assert (far.effort, near.effort) == (3, 1)
    assert bench.do(asked("look")).effort == 0
    live = bench.do(asked("ohms S1.line S1.ground"))
    assert live.effort > 5 and "de-energize" in live.unsafe
    off = bench.do(asked("power off"))
    assert off.state == "power off"
    assert not bench.do(asked("ohms S1.line S1.load")).unsafe
    assert bench.do(asked("lift W2.black@A")).effort == 2
    assert bench.do(asked("ohms W2.black@A S1.load")).reading.text == "OL"
    assert bench.do(asked("land W2.black@A")).state == "power off"
    assert bench.do(asked("look")).seen.runs == frozenset()
    with pytest.raises(WrongArgument):
        bench.do(asked("land W2.black@A"))
    with pytest.raises(WrongArgument):
        bench.do(asked("call heat"))
    bench.do(asked("power on"))
    for line in ("lift W2.black@A", "lift W1.black@A"):
        with pytest.raises(
            WrongArgument, match="not lifted under power: turn the power off, and prove it dead"
        ):
            bench.do(asked(line))


@pytest.mark.parametrize("line", ["volt A B", "volts A", "power", "set S1", "look here", "x" * 600])
def test_what_is_not_understood_is_said(line: str) -> None:
    with pytest.raises(NotUnderstood):
        asked(line)


RELAY = """board "Relay"
panel LP 120 V, 10 kA available
breaker LP.1 15 A
T is class-2-transformer 40 VA
K is relay-spst
cable W1 14/2 NM-B 5 ft from LP to T
cable W2 18/2 CL2 5 ft from T to K
at LP
  W1.black -- LP.1
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at T
  W1.black -- T.primary-hot
  W1.white -- T.primary-neutral
  cap W1.bare
  W2.red -- T.secondary-r
  W2.white -- T.secondary-c
at K
  W2.red -- K.coil-a
  W2.white -- K.coil-b
"""


def test_an_ohmmeter_on_a_coil_is_a_reading_and_what_has_no_number_is_none() -> None:
    coil = Bench(Case(board(RELAY)))
    coil.do(asked("power off"))
    across = coil.do(asked("ohms K.coil-a K.coil-b")).reading
    least, most = across.between
    assert least < coil.taken[0].read.value < most
    lamp = Bench(Case(board(SHED)))
    lamp.do(asked("power off"))
    assert lamp.do(asked("ohms L1.hot L1.neutral")).reading.text == "not known cold"
    assert lamp.taken == []


def test_amps_of_a_wire_that_a_suspect_breaks_count_as_a_reading() -> None:
    one = ticket(SHOP, 1, among=[fault("open W2.white at A", SHOP.good.circuit)])
    bench = played(one, "amps W2.black")
    assert 0 < score(one, 1.0, (), bench.taken).proved <= 1


LINE_FUSE = """board "Fuse"
panel LP 120 V, 10 kA available
breaker LP.1 20 A
F1 is fuse 5 A in A
H1 is heater with power 240 W, voltage 120 V in A
box A junction 30 cu in
cable W1 12/2 NM-B 5 ft from LP to A
at LP
  W1.black -- LP.1
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at A
  W1.black -- F1.line
  F1.load -- pigtail -- H1.a
  W1.white -- H1.b
  cap W1.bare
"""


def test_a_fuse_at_line_voltage_is_not_replaced_under_power() -> None:
    case = Case(board(LINE_FUSE))
    bench = Bench(Case(board(LINE_FUSE), None, (fault("short H1.a to H1.b", case.circuit),)))
    assert bench.do(asked("look")).seen.opened == {"F1"}
    with pytest.raises(WrongArgument, match="F1 is not replaced under power: turn the power off"):
        bench.do(asked("replace F1"))
    bench.do(asked("power off"))
    assert bench.do(asked("replace F1")).unsafe == ""
    bench.do(asked("power on"))
    assert bench.do(asked("look")).seen.opened == {"F1"}


@pytest.mark.slow
def test_a_look_tells_which_relays_are_pulled_in_and_counts_as_what_was_seen() -> None:
    """With the cover off a contactor is seen, and heard, to pull in (common practice)."""
    text = (files.folder("boards") / "split-air-conditioner" / "right.wire").read_text()
    shop = Shop(board(text))
    burnt = fault("CU.contactor burnt out", shop.good.circuit)
    one = ticket(shop, 1, among=[burnt])
    whole = Bench(Case(shop.board))
    whole.do(asked("call cool"))
    assert "CU.contactor" in whole.do(asked("look")).pulled
    bench = played(one, "call cool", "look", "volts CU.Y CU.C")
    assert "CU.contactor" not in bench.do(asked("look")).pulled
    assert score(one, 3, (), bench.taken).proved > 2 * score(one, 3, (), ()).proved
    # A report of a relay is no report of what runs in the room.
    cool = StateName(calls=("cool",))
    told = diagnosis(shop, [Look(cool, "CU.contactor", "ran", True), Look(cool, "CU.fan", "ran", False)])
    assert told.explanations and all(burnt not in each.faults for each in told.explanations)
