"""Where a path stops, in words of the bench: each thing that waits is told once, by what a meter reads."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.hands import changed
from wirecheck import check, files

SHIPS = files.folder("boards")
BOILER = (Path(__file__).parents[1] / "mend" / "boards" / "neutral-out-of-the-splice.wire").read_text("utf-8")


@pytest.mark.slow
def test_a_switch_that_waits_is_told_by_what_it_waits_for() -> None:
    """That it closes when it is closed says nothing."""
    text = changed(
        BOILER,
        ("  M2.white -- XF.primary-neutral\n", "  M2.white -- M3.white -- XF.primary-neutral\n"),
        ("TA.white -- V1.motor-1", "TA.white -- V1.end-1"),
        ("EA.red -- V1.end-1", "EA.red -- V1.motor-1"),
    )
    said = [one.message for one in check(text, effort=0).findings if one.rule == "call-continuity"]
    assert any(" B.damper.end stays open until B.damper.damper runs." in one for one in said)
    assert not any("closes when B.damper.end" in one for one in said)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("name", "said"),
    [
        # The contact is dead because nothing has tripped, and not because it has.
        (
            "condensate-pump/wrong-on-the-alarm-contact",
            "of CP.overflow that closes only when CP.overflow trips.",
        ),
        # What is open is the way to common, and not that of the call.
        (
            "condenser-fan-cycling/wrong-delay-without-common",
            "so DB.timer stays ready. The path to DB.common",
        ),
        ("ductless-pair/wrong-3-left-off", "I.3 has less than 130 V to I.2, so I.link stays lost."),
        ("ductless-pair/wrong-3-left-off", "The same stops the calls for heat and fan."),
        # A call that runs all but one thing, or another in its place, is not stopped.
        ("heat-pump-b/wrong-b-left-off", " With auxiliary called, HP.reversing-valve does not run either."),
        (
            "two-speed-blower/wrong-taps-exchanged",
            "With cool called, BL.high-speed does not run. With fan called, BL.low-speed does not run.",
        ),
        (
            "variable-speed-furnace/wrong-g-left-off",
            "The same stops the call for fan. With dehumidify and cool called, F.blower.medium-speed does",
        ),
        # A blower that heat starts too is looked for by the call that is made.
        (
            "common-wire-kit/wrong-yellow-straight-to-y",
            "With cool called, F.blower does not run. F.G has less than 18 V to F.C, so F.fan stays off.",
        ),
        # With no call made no call is stopped.
        ("walk-in-cooler/wrong-one-hot-left-off", "With nothing called, W.evaporator-fans does not run"),
        # The wire that was left off is told by the end that is loose: it is not known what it lacks.
        ("ductless-pair/wrong-3-left-off", "LW.red at O is joined to nothing, and the path to I.3 stops"),
        # Two circuits have their white splices there: that of the fan is none of the pilot light's.
        ("attic-fan/wrong-pilot-without-neutral", "PS.neutral has nothing on it, and the path to PS stops"),
        ("capacitor-compressor/wrong-capacitors-left-off-start", "CP.S has nothing on it, and the path"),
        ("capacitor-compressor/wrong-relay-coil-off", "stops at PR.2: what belongs there is missing."),
        ("pump-down-cooler/wrong-condenser-fan-left-off", "CF.b has nothing on it, and the path to CF"),
        ("reach-in-cooler/wrong-start-left-off", "CP.S has nothing on it, and the path to CP.start"),
        # Both sides come from one leg, the one by way of the run capacitor.
        (
            "capacitor-compressor/wrong-common-and-run-exchanged",
            "Both sides of CP.start are on one hot, LP.leg-a, so no current goes through it.",
        ),
        # The empty side of a fan delay is none that a wire was left off.
        (
            "timer-defrost/wrong-cool-and-defrost-exchanged",
            "LLS does not run. The contact from TM.feed to TM.defrost is open. TM.clock stays cooling until",
        ),
        # Of two wires on one screw of the feed, one comes by the control of the call.
        (
            "fresh-air-damper/wrong-damper-back-to-r",
            "No path of this call leads to FD and back to its source.",
        ),
    ],
)
def test_a_stop_is_said_as_at_the_machine(name: str, said: str) -> None:
    assert any(said in one.message for one in check(SHIPS / f"{name}.wire").findings)
