"""Loads in series, three wires each where the next belongs, a coil for a contact: named first."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.mend.proof import EFFORT, worse
from wirecheck import check, files

TESTS = Path(__file__).parents[1]
BOARDS = files.folder("boards")

HEATERS = """board "Two heaters behind a switch"
panel LP 120/240 V, 10 kA available
breaker LP.2 30 A 2-pole
box CP junction 300 cu in metal
cable W1 10/2 NM-B 12 ft from LP to CP
K is double-pole-switch 30 A in CP
H1 is heater 1200 W with voltage 240 V in CP
H2 is heater 1200 W with voltage 240 V in CP
at LP
  W1.black -- LP.2.a
  W1.white marked red -- LP.2.b
  W1.bare -- LP.ground
at CP
  W1.black -- K.line-1
  W1.white marked red -- K.line-2
  W1.bare -- pigtail -- CP.ground -- pigtail -- K.ground -- pigtail -- H1.ground -- pigtail -- H2.ground
  K.load-1 -- H1.a
  H1.b -- H2.a
  H2.b -- K.load-2
"""


def test_two_heaters_in_series_each_get_both_hots() -> None:
    report = check(HEATERS, effort=EFFORT)
    (mend,) = report.mends
    assert mend.mistake == "At CP, H1 is in series: H2.a goes on from H1.b."
    assert mend.remedy == (
        "Take H2.a off H1.b, and join it with K.load-1 and H1.a. Then join H1.b with H2.b and K.load-2."
    )
    assert not worse(check(report.mended(1)))


@pytest.mark.slow
@pytest.mark.parametrize(
    ("board", "mistake"),
    [
        (
            "boards/by_hand/controls/baseboards-in-series",
            "At H1, H1 is in series: W3.black goes on from H1.L2.",
        ),
        (
            "boards/by_hand/lighting/lights-in-series",
            "At B, L1 is in series: W3.black goes on from L1.neutral.",
        ),
        ("rules/boards/wrong-voltage/in-series", "At A, L1 is in series: W2.black goes on from L1.neutral."),
    ],
)
def test_what_was_wired_in_series_is_named_first(board: str, mistake: str) -> None:
    report = check(TESTS / f"{board}.wire", effort=EFFORT)
    assert [mend.mistake for mend in report.mends] == [mistake]
    assert not worse(check(report.mended(1)))


def rotated(name: str, *ends: str) -> tuple[str, str]:
    """A right board, and it with each of three ends where the next belongs, each end with its screw."""
    right = (BOARDS / name / "right.wire").read_text("utf-8")
    wrong, screws = right, [end.split(" -- ")[1] for end in ends]
    for end, screw in zip(ends, (*screws[1:], screws[0]), strict=True):
        assert f"  {end}\n" in right
        wrong = wrong.replace(f"  {end}\n", f"  {end.split(' -- ')[0]} -- {screw} \n")
    return right, wrong


@pytest.mark.slow
@pytest.mark.parametrize(
    "case",
    [
        ("heat-pump", "TW.red -- TS.R", "TW.yellow -- TS.Y", "TW.orange -- TS.O"),
        ("cooling-call", "TW.red -- TS.R", "TW.yellow -- TS.Y", "TW.blue -- TS.C"),
        ("heat-pump", "OW.red -- HP.R", "OW.yellow -- HP.Y", "OW.blue -- HP.C"),
        # The other ends are on screws without letters: the colors that are usual tell.
        ("furnace-on-a-sequencer", "TW.red -- TS.R", "TW.white -- TS.W", "TW.green -- TS.G"),
    ],
    ids=lambda case: " ".join(case),
)
def test_three_wires_that_are_rotated_are_named_first(case: tuple[str, ...]) -> None:
    name, *ends = case
    for turned in (ends, ends[::-1]):
        right, wrong = rotated(name, *turned)
        report = check(wrong, effort=EFFORT)
        assert "are each where another of them belongs." in report.mends[0].mistake
        lines, again = ([one.strip() for one in text.split("\n")] for text in (right, report.mended(1)))
        assert sorted(again) == sorted(lines)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("name", "pairs"),
    [
        ("furnace-on-a-sequencer", (("FR.coil-a", "FR.common"), ("FR.coil-b", "FR.no"))),
        ("furnace-on-a-sequencer", (("FR.coil-a", "FR.no"), ("FR.coil-b", "FR.common"))),
        ("two-speed-blower", (("FR.coil-a", "FR.common"), ("FR.coil-b", "FR.no"))),
    ],
)
def test_what_is_on_the_coil_of_a_relay_and_on_its_contact_is_swapped_as_one(
    name: str, pairs: tuple[tuple[str, str], ...]
) -> None:
    wrong = (BOARDS / name / "right.wire").read_text("utf-8")
    for one, other in pairs:
        wrong = wrong.replace(one, "@").replace(other, one).replace("@", other)
    report = check(wrong, effort=EFFORT)
    (mend,) = report.mends
    told = [f"what is on {one} and what is on {other} are swapped" for one, other in pairs]
    assert mend.mistake.endswith(f"{told[0]}, and so are {told[1].replace(' are swapped', '')}.")
    assert not worse(check(report.mended(1)))
