"""What is wrong is found from what is seen and measured, whatever it is."""

from __future__ import annotations

import pytest

from tests.circuit.houses import stairs
from tests.samples import board
from tests.troubles.shed import SHED
from wirecheck import files
from wirecheck.circuit.fault import Broken, Fault, Off, PoorJoint, StuckContacts
from wirecheck.circuit.meter import Reading
from wirecheck.faults.listed import fault
from wirecheck.faults.words import said
from wirecheck.judge.state_name import StateName
from wirecheck.troubles.course import alike, complaints, courses, seen_with
from wirecheck.troubles.diagnosis import Diagnosis, diagnosis
from wirecheck.troubles.observed import Look, Observation, Read, like, read
from wirecheck.troubles.shop import Shop
from wirecheck.troubles.trials import Tried, trials

BOARDS = sorted(path.parent.name for path in files.folder("boards").glob("*/right.wire"))
EVERY = 43
"""Every so manieth fault of a board is followed with the meter."""
MOST_READINGS = 30


def shop_of(name: str) -> Shop:
    return Shop(board((files.folder("boards") / name / "right.wire").read_text()))


def looks(shop: Shop, bad: Tried) -> list[Observation]:
    """All that is seen in all states that are tried."""
    told: list[Observation] = []
    for state in trials(shop.good.case):
        seen, good = bad.seen(state), shop.good.seen(state)
        for name in sorted(shop.good.watched | good.runs):
            told.append(Look(state, name, "ran", name in seen.ran))
            told.append(Look(state, name, "runs", name in seen.runs))
        told += (Look(state, name, "opens", name in seen.opened) for name in seen.opened | good.opened)
    return told


def followed(shop: Shop, wrong: tuple[Fault, ...]) -> tuple[Diagnosis, int]:
    """The suggested readings taken with a meter on the faulty board, until none tells more."""
    bad = Tried(shop.board, wrong)
    found, at = looks(shop, bad), None
    for readings in range(MOST_READINGS):
        now = diagnosis(shop, found, at)
        if now.next is None:
            return now, readings
        one = Read(now.next.state, "volts", (now.next.probe.a, now.next.probe.b), None)
        found.append(one._replace(value=read(bad.case, one).value))
        at = now.next.probe.place
    raise AssertionError(f"{wrong}: {MOST_READINGS} readings did not do")


def ends_at(name: str, every: int) -> int:
    """Follow some faults of a board; how many there were."""
    shop = shop_of(name)
    faults = [one for _, group in alike(seen_with(shop, shop.suspects)) for one in group][::every]
    for one in faults:
        told, _ = followed(shop, (one.fault,))
        assert any(one.fault in each.faults for each in told.explanations), said(one.fault, shop.good.circuit)
    return len(faults)


@pytest.mark.parametrize("name", ["stair-light", "walk-in-cooler"])
def test_following_the_readings_ends_at_the_fault(name: str) -> None:
    assert ends_at(name, 9)


@pytest.mark.slow
@pytest.mark.parametrize("name", BOARDS)
def test_following_the_readings_ends_at_the_fault_on_every_board(name: str) -> None:
    assert ends_at(name, EVERY)


@pytest.mark.slow
def test_two_faults_are_found_where_no_single_one_explains_it() -> None:
    """The neutral is off, and a contact of a switch does not make."""
    shop = shop_of("stair-light")
    good = shop.good.circuit
    both = (fault("open W1.white at FOOT", good), fault("S1.common to S1.traveler-1 stuck open", good))
    rest, down = StateName(), StateName((("S1", "down"),))
    bad = Tried(shop.board, both)
    found = looks(shop, bad)
    for state in (rest, down):
        for points in (("L1.hot", "L1.ground"), ("L1.neutral", "L1.ground"), ("S1.common", "S1.traveler-1")):
            one = Read(state, "volts", points, None)
            found.append(one._replace(value=read(bad.case, one).value))
    told = diagnosis(shop, found)
    assert told.explanations
    assert all(len(one.faults) <= 2 for one in told.explanations)
    assert set(both) in [set(one.faults) for one in told.explanations]


def test_readings_that_fit_no_fault_say_so_and_name_the_nearest() -> None:
    shop = Shop(board(SHED))
    state = StateName((("S1", "on"),))
    told = diagnosis(
        shop,
        [
            Look(state, "L1", "runs", False),
            Read(state, "volts", ("L1.hot", "L1.neutral"), 0.0),
            Read(state, "volts", ("LP.3", "LP.neutral"), 48.0),
        ],
    )
    assert not told.explanations and len(told.nearest) == 3 and told.next is None
    assert all(isinstance(one.fault, Broken | Off | StuckContacts) for one in told.nearest)


def test_nothing_is_wrong_where_all_is_as_it_should_be() -> None:
    shop = Shop(board(SHED))
    on = StateName((("S1", "on"),))
    told = diagnosis(shop, [Look(on, "L1", "runs", True), Read(on, "volts", ("L1.hot", "L1.neutral"), 119.0)])
    assert told.explanations[0].faults == ()


def test_each_suspect_that_is_out_has_what_rules_it_out() -> None:
    shop = Shop(board(SHED))
    on = StateName((("S1", "on"),))
    dark, live = Look(on, "L1", "runs", False), Read(on, "volts", ("L1.hot", "L1.neutral"), 120.0)
    told = diagnosis(shop, [dark, live])
    assert [said(one.faults[0], shop.good.circuit) for one in told.explanations] == ["L1 burnt out"]
    out = {said(one.suspect.fault, shop.good.circuit): one.by for one in told.out}
    assert out["open W1.black"] == live and out["S1 stuck closed"] == dark
    assert len(told.out) + len(told.explanations) == len(shop.suspects)


@pytest.mark.slow
def test_a_wrong_wire_is_a_suspect_too() -> None:
    shop = shop_of("condensing-furnace")
    good = shop.good.circuit
    swapped = fault("TW.white and TW.green swapped at TS", good)
    told, _ = followed(shop, (swapped,))
    assert any(swapped in one.faults for one in told.explanations)


@pytest.mark.parametrize(
    "said_so",
    [
        "open X1.black at B1",
        *(
            pytest.param(words, marks=pytest.mark.slow)
            for words in ("S2.common to S2.traveler-1 stuck open", "L0 burnt out")
        ),
    ],
)
def test_what_comes_apart_is_diagnosed_as_the_whole(said_so: str) -> None:
    """Lights that share no more than a panel are worked out one by one, and it makes no difference."""
    made = board(stairs(3))
    apart, whole = Shop(made), Shop(made)
    whole.__dict__["_parts"] = (made,)
    bad = Tried(made, (fault(said_so, apart.good.circuit),))
    found = looks(apart, bad)
    point = Read(StateName(), "volts", ("T1.common", "T1.ground"), None)
    found.append(point._replace(value=read(bad.case, point).value))
    one, other = diagnosis(apart, found), diagnosis(whole, found)
    assert one.explanations == other.explanations and one.out == other.out


def test_the_ways_to_all_suspects_end_at_each() -> None:
    shop = shop_of("stair-light")
    for _, group in alike(seen_with(shop, shop.suspects)):
        ways = courses(shop, group)
        assert set(ways) == set(group)
        for one, way in ways.items():
            assert one in way.left
            assert complaints(shop, (one,))


@pytest.mark.parametrize("ohms", [80.0, 200.0, 1000.0])
def test_a_poor_joint_is_found_whatever_its_ohms_are(ohms: float) -> None:
    """Its ohms come from the reading: the odds are those of a poor joint, and no other one is made up."""
    shop = Shop(board(SHED))
    on = StateName((("S1", "on"),))
    bad = Tried(shop.board, (PoorJoint("W2.black@L1", ohms),))
    found: list[Observation] = []
    for points in (("L1.hot", "L1.neutral"), ("W2.black@L1", "L1.neutral")):
        one = Read(on, "volts", points, None)
        found.append(one._replace(value=read(bad.case, one).value))
    told = diagnosis(shop, found)
    joints = [one.faults[0] for one in told.explanations if isinstance(one.faults[0], PoorJoint)]
    assert [one.end for one in joints] == ["W2.black@L1"]
    assert joints[0].ohms == pytest.approx(ohms, rel=0.35)


def test_phantom_volts_do_not_explain_firm_ones() -> None:
    """What hangs beside a live wire shows a part of its volts, and not all of them (common practice)."""
    assert like(Reading(60.0, "V", phantom=True), 40.0)
    assert not like(Reading(60.0, "V", phantom=True), 90.0)


def test_what_explains_no_more_than_nothing_is_not_named() -> None:
    shop = Shop(board(SHED))
    told = diagnosis(shop, [Read(StateName(), "volts", ("LP.3", "LP.neutral"), 700.0)])
    assert not told.explanations and not told.nearest


def test_a_flame_that_is_not_sensed_and_a_seized_rotor_are_suspects() -> None:
    """The commonest furnace fault is a flame sensor that is dirty (common practice)."""
    shop = shop_of("heating-call")
    suspects = {said(one.fault, shop.good.circuit): one.kind for one in shop.suspects}
    assert suspects["F.flame stuck off"] == "no answer"
    assert "F.flame stuck on" not in suspects and "F.control stuck idle" not in suspects
    heat = StateName(calls=("heat",))
    bad = Tried(shop.board, (fault("F.flame stuck off", shop.good.circuit),))
    # It lights three times, and locks out: the valve opens, and the blower never starts.
    assert "F.gas-valve" in bad.seen(heat).ran - bad.seen(heat).runs and "F.blower" not in bad.seen(heat).ran
