"""What a feeder brings a subpanel: volts, currents, and what flows where its neutral is bonded."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest

from tests.circuit.rebuilt import rebuild
from tests.circuit.spice import run_spice
from tests.circuit.tableau import solve_tableau
from tests.circuit.test_boards import SPICE_AMPS, SPICE_VOLTS, agree
from tests.samples import wired
from tests.subpanels import BONDED, NO_GROUND, NO_MAIN, NO_NEUTRAL, workshop
from wirecheck.circuit.settle import Settled, resting, settle

CHANGES = [(), (NO_MAIN,), (BONDED,), (BONDED, NO_NEUTRAL), (BONDED, NO_GROUND), (NO_NEUTRAL,)]


def settled(*changes: tuple[str, str], **moved: str) -> Settled:
    wiring = wired(workshop(*changes))
    return settle(wiring, resting(wiring, moved))


@pytest.mark.parametrize("changes", CHANGES)
def test_every_point_is_the_tableaus(changes: tuple[tuple[str, str], ...]) -> None:
    told = settled(*changes, S1="on")
    built = rebuild(told.circuit.board, told)
    agree(told, built, solve_tableau(built.network), 1e-8, 1e-9, 1e-9)


@pytest.mark.slow
@pytest.mark.ngspice
def test_subpanels_agree_with_ngspice() -> None:
    states = [settled(*changes, S1="on") for changes in CHANGES]
    pairs = [(told, rebuild(told.circuit.board, told)) for told in states]
    with tempfile.TemporaryDirectory() as folder:
        answers = run_spice([built.network for _, built in pairs], Path(folder))
    for (told, built), answer in zip(pairs, answers, strict=True):
        agree(told, built, answer, 1e-6, SPICE_VOLTS, SPICE_AMPS)


def test_the_feeder_carries_what_hangs_on_it() -> None:
    told = settled(S1="on")
    lamp, heater = (told.load_amps(told.circuit.load[name]) for name in ("L1", "X1"))
    # Common practice: in a feeder of two legs the neutral carries the unbalance alone.
    assert abs(told.amps["FD.black"]) == pytest.approx(lamp + heater)
    assert abs(told.amps["FD.red"]) == pytest.approx(heater)
    assert abs(told.amps["FD.white"]) == pytest.approx(lamp)
    assert abs(told.amps["FD.bare"]) == pytest.approx(0, abs=1e-9)
    assert abs(told.amps["SP.main"]) == pytest.approx(lamp + heater)


def test_a_bonded_neutral_shares_its_current_with_the_ground() -> None:
    """Current divider: two ways home share in the inverse ratio of their ohms, 6 and 10 AWG (Table 8).

    Their reactances, which Table 8 has not, move it by half a percent.
    """
    told = settled(BONDED, S1="on")
    whole = told.load_amps(told.circuit.load["L1"])
    assert abs(told.amps["FD.bare"]) == pytest.approx(whole * 0.491 / (0.491 + 1.21), rel=1e-2)
    assert abs(told.amps["FD.bare"]) + abs(told.amps["FD.white"]) == pytest.approx(whole, rel=2e-3)


def test_without_the_feeders_neutral_the_lamp_has_no_way_home() -> None:
    assert settled(NO_NEUTRAL, S1="on").load_amps(settled().circuit.load["L1"]) == 0
    # Bonded, it comes home by the ground alone.
    told = settled(BONDED, NO_NEUTRAL, S1="on")
    assert abs(told.amps["FD.bare"]) == pytest.approx(told.load_amps(told.circuit.load["L1"]))


@pytest.mark.slow
def test_breakers_of_both_panels_take_the_load_off() -> None:
    for off in ("LP.2", "SP.main", "SP.2"):
        told = settled(**{off: "off"})
        assert told.load_volts(told.circuit.load["X1"]) == pytest.approx(0, abs=1e-9)
    assert settled().load_volts(settled().circuit.load["X1"]) > 230
