"""Start capacitors and the relays that take them out."""

from __future__ import annotations

import pytest

from tests.rules.hands import at, changed, said, seen
from wirecheck import files
from wirecheck.rules.start_capacitor import RULE, NeverIn, StaysIn

RIGHT = (files.folder("boards") / "capacitor-compressor" / "right.wire").read_text(encoding="utf-8")
COIL_OFF = (" -- pigtail -- PR.5 -- CP.C\n", " -- CP.C\n")
PAST = (
    "  RC.b -- pigtail -- PR.2 -- CP.S\n  SC.b -- PR.1\n",
    "  RC.b -- pigtail -- PR.2 -- pigtail -- SC.b -- CP.S\n",
)
ON_RUN = ("  SC.b -- PR.1\n", "  SC.b -- RC.a\n")


def test_the_right_one() -> None:
    assert seen(RULE, RIGHT) == []


@pytest.mark.slow
@pytest.mark.parametrize("mistake", [COIL_OFF, PAST])
def test_one_that_stays_in(mistake: tuple[str, str]) -> None:
    (one,) = seen(RULE, changed(RIGHT, mistake))
    assert isinstance(one, StaysIn) and one.severity == "hazard"
    assert one.state.load_amps(one.capacitor) > 1


@pytest.mark.slow
def test_one_that_is_never_in() -> None:
    text = changed(RIGHT, ON_RUN)
    (one,) = seen(RULE, text)
    assert isinstance(one, NeverIn)
    assert at(text, one) == "SC.b -- RC.a"


@pytest.mark.slow
def test_the_words_say_to_discharge_it() -> None:
    (told,) = said(RULE, changed(RIGHT, COIL_OFF))
    assert told.help is not None and "Discharge the capacitor through a resistor" in told.help


@pytest.mark.slow
def test_a_run_capacitor_may_stay_in() -> None:
    text = changed(RIGHT, COIL_OFF, ("SC is start-capacitor", "SC is run-capacitor"))
    assert seen(RULE, text) == []
