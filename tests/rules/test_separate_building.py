"""A panel in another building: NEC 225.31, 225.33(A), 250.32, Table 250.66."""

from __future__ import annotations

import pytest

from tests.rules.hands import changed, seen
from tests.subpanels import NO_GROUND, NO_MAIN, workshop
from wirecheck import check
from wirecheck.rules.separate_building import (
    RULE,
    ElectrodeOnNeutral,
    NoDisconnect,
    NoElectrode,
    ThinElectrodeWire,
)

DETACHED = ("100 A bus", "100 A bus, detached")


def rod(size: str = "8", bar: str = "ground") -> tuple[tuple[str, str], ...]:
    return (
        ("S1 is", f"GR is ground-rod\nwire GE {size} THHN green 12 ft from SP to GR\nS1 is"),
        ("at A\n", f"  GE -- SP.{bar}\nat GR\n  GE -- GR.clamp\nat A\n"),
    )


def more(count: int) -> tuple[str, str]:
    spaces = range(5, 5 + 2 * count, 2)
    return "breaker SP.1 15 A\n", "breaker SP.1 15 A\n" + "".join(
        f"breaker SP.{one} 15 A\n" for one in spaces
    )


def test_nothing_is_asked_in_the_same_building() -> None:
    assert not seen(RULE, workshop())


def test_a_rod_and_a_main_are_right() -> None:
    assert not seen(RULE, workshop(DETACHED, *rod()))
    assert check(workshop(DETACHED, *rod()), effort=0).findings == ()


def test_a_building_without_an_electrode() -> None:
    (found,) = seen(RULE, workshop(DETACHED))
    assert isinstance(found, NoElectrode)
    assert (found.severity, found.stage, found.subject) == ("violation", "trim", "SP")


def test_a_rod_on_the_neutral_bar() -> None:
    text = workshop(DETACHED, *rod(bar="neutral"))
    (found,) = seen(RULE, text)
    assert isinstance(found, ElectrodeOnNeutral)
    assert (found.severity, found.subject, found.stage) == ("violation", "GE", "trim")
    assert text.splitlines()[found.at.span.line - 1].strip() == "GE -- SP.neutral"
    assert [one.rule for one in check(text, effort=0).findings] == ["separate-building"]


def test_a_rod_on_the_neutral_bar_of_any_subpanel() -> None:
    """A rod more is no mistake, and does not ground the neutral of a subpanel in the same building."""
    assert not seen(RULE, workshop(*rod()))
    (found,) = seen(RULE, workshop(*rod(bar="neutral")))
    assert isinstance(found, ElectrodeOnNeutral)


def test_of_two_rods_each_goes_to_the_ground_bar() -> None:
    second = (
        "GR is ground-rod\n",
        "GR is ground-rod\nHR is ground-rod\nwire HE 8 THHN green 20 ft from SP to HR\n",
    )
    for bar, names in (("neutral", ["GE", "HE"]), ("ground", ["GE"])):
        landed = (
            "  GE -- SP.neutral\nat GR\n",
            f"  GE -- SP.neutral\n  HE -- SP.{bar}\nat HR\n  HE -- HR.clamp\nat GR\n",
        )
        text = changed(workshop(DETACHED, *rod(bar="neutral")), second, landed)
        assert sorted(one.subject for one in seen(RULE, text)) == names


@pytest.mark.slow
def test_a_rod_at_the_service_may_be_on_the_neutral() -> None:
    wired = (("from SP to GR", "from LP to GR"), ("  GE -- SP.neutral\n", ""))
    text = workshop(*rod(bar="neutral"))
    for was, now in wired:
        text = text.replace(was, now)
    text = text.replace("at SP\n", "  GE -- LP.neutral\nat SP\n", 1)
    assert check(text, effort=0).findings == ()


@pytest.mark.slow
def test_a_rod_stands_in_for_no_ground() -> None:
    found = check(workshop(DETACHED, NO_GROUND, *rod()), effort=0).findings
    assert [(one.rule, one.severity) for one in found] == [("open-ground", "hazard")]


@pytest.mark.parametrize(
    ("feeder", "size", "found"),
    [
        ("2/3 SER", "8", 0),
        ("2/3 SER", "10", 1),
        ("1/3 SER", "8", 1),
        ("1/3 SER", "6", 0),
        ("4/0/3 SER", "6", 0),
    ],
)
def test_the_wire_to_a_rod_goes_by_the_feeder(feeder: str, size: str, found: int) -> None:
    """Table 250.66: 8 AWG behind 2 AWG copper, more behind 1 AWG; 250.66(A): 6 AWG does for a rod."""
    told = seen(RULE, workshop(DETACHED, ("6/3 NM-B", feeder), *rod(size)))
    assert [type(one) for one in told] == [ThinElectrodeWire] * found


@pytest.mark.parametrize(("count", "found"), [(3, 0), (4, 1)])
def test_six_handles_turn_a_building_off(count: int, found: int) -> None:
    """SP.1, SP.3 and SP.2, with its two poles, are three."""
    told = seen(RULE, workshop(DETACHED, NO_MAIN, more(count), *rod()))
    assert [type(one) for one in told] == [NoDisconnect] * found
    assert not seen(RULE, workshop(DETACHED, more(count), *rod()))
    for one in told:
        assert (one.handles, one.severity) == (7, "violation")


@pytest.mark.slow
def test_a_disconnect_ahead_of_it_will_do() -> None:
    switch = (
        ("cable FD 6/3 NM-B 60 ft from LP to SP", "cable FD 6/3 NM-B 50 ft from LP to D\n"
         "cable FE 6/3 NM-B 5 ft from D to SP\nD is disconnect-2-pole 60 A"),
        ("at SP\n", "at D\n  FD.black -- D.line-1\n  FD.red -- D.line-2\n  FE.black -- D.load-1\n"
         "  FE.red -- D.load-2\n  FD.white -- FE.white\n  FD.bare -- FE.bare -- pigtail -- D.ground\n"
         "at SP\n"),
        *((f"  FD.{color} -- SP.{lug}", f"  FE.{color} -- SP.{lug}") for color, lug in
          (("black", "a"), ("red", "b"), ("white", "neutral"), ("bare", "ground"))),
    )  # fmt: skip
    assert not seen(RULE, workshop(DETACHED, NO_MAIN, more(6), *rod(), *switch))


def test_a_wire_too_thin_for_the_rod_and_for_its_clamp_is_one_mistake() -> None:
    """The clamp takes 10 AWG, and the rod asks for 8: what is offered is what does for both."""
    report = check(workshop(DETACHED, *rod("12")), effort=400)
    assert [one.rule for one in report.findings] == ["separate-building"]
    assert [one.mistake for one in report.mends] == ["Wire GE is 12 AWG, and should be 8 AWG."]
