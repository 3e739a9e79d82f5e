"""Boards by fresh hands on which the mend came only with more effort, or behind others: it comes first."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.mend.proof import worse
from wirecheck import check

BOARDS = Path(__file__).parent / "boards"

FIRST = {
    "bell-transformer-turned-round": "At DT, DT is turned round: its primary and its secondary are swapped.",
    "burner-and-circulator-exchanged": "At AQ, BU.black and CR.black are swapped.",
    "burner-on-the-feed": "At AQ, BU.black is on AQ.L1, and belongs on AQ.B1.",
    "call-past-the-pressure-switch": "At CB, X2.red is on HPS.b and LPS.a, and belongs on HPS.a.",
    "coil-of-24-volts": "KM is 24 V, and should be 120 V.",
    "end-switch-in-the-power-splice": "At V1, EA.red is with ZA.red, ZB.red and TA.red, and belongs on "
    "V1.end-1 with EB.red.",
    "float-from-call-to-common": "At F, FW.red and FW.white lie across F.Y and F.C, and belong in series "
    "with TW.yellow: FW.white with TW.yellow, and FW.red with CW.red.",
    "float-wired-past": "At F, CW.red is with FW.red, and belongs with FW.white.",
    "heaters-past-their-contactor": "At E, H1 and H2 are on K.line-1 and K.line-2, and belong on "
    "K.load-1 and K.load-2.",
    "hot-of-two-heaters-loose": "At H, H2 is joined to nothing, and belongs on HA.b and HB.b.",
    "overload-wired-past": "At E, the jumper to KM.A2 is on OL.96, and belongs on OL.95.",
    "receptacle-ahead-of-its-gfci": "At G, P2.black and P2.white are on G1.line-hot and G1.line-neutral, and "
    "belong on G1.load-hot and G1.load-neutral.",
    "relay-coil-on-the-run-side": "At CB, PR.5 is joined with K.load-2, CR, MB, RC.a and SC.a, and belongs "
    "with CC and MA.",
    "run-capacitor-half-wired": "At CB, no pigtail goes from CS to RC.b.",
    "stop-wire-past-the-overload": "At E, C1 is on OL.95 with K1, and belongs on OL.96.",
    "transformer-behind-its-contactor": "At E, FQ.line is joined with KM.T2, and belongs with EB.",
    "transformer-turned-round": "At J, T is turned round: its primary and its secondary are swapped.",
}


@pytest.mark.slow
@pytest.mark.parametrize("name", FIRST)
def test_the_mistake_is_named_first_within_the_usual_effort(name: str) -> None:
    report = check(BOARDS / f"{name}.wire", effort=400)
    assert report.mends[0].mistake == FIRST[name]
    assert worse(check(report.mended(1))) == []


def test_a_cable_of_a_wet_box_is_mended_where_the_board_falls_apart_into_several() -> None:
    """The other cables of the text are of other systems, and are known by their kind alone."""
    report = check(BOARDS / "indoor-cable-into-a-wet-box.wire", effort=400)
    assert report.mends[0].mistake == "L3 is NM-B, and should be UF-B."
    assert worse(check(report.mended(1))) == []


def test_no_wire_of_24_volts_is_brought_to_the_ground_for_a_mend() -> None:
    """The jumper from R to DH is to be taken out: on the furnace's metal it would clear as much."""
    report = check(BOARDS / "jumper-beside-a-dehumidistat.wire", effort=400)
    assert {one.rule for one in report.findings if one.severity != "advice"} >= {"call-continuity"}
    assert not any("ground" in one.remedy for one in report.mends)
