"""Loads on a source that they are not made for."""

from __future__ import annotations

import pytest

from tests.rules.circuits import PANEL, one_load, valves
from tests.rules.hands import COOLING, STAIR, at, case, changed, own, reported, seen
from wirecheck.rules.wrong_voltage import RULE, InSeries, OutletTooLittle, OutletTooMuch, TooLittle, TooMuch

UNIT = """\
part unit "A unit with a transformer of its own"
rating mca 10 A
terminal a hot
terminal b hot
terminal c class-2
terminal d class-2-common
load fan motor from a to b, 1 A at 120 V
load board electronics from c to d, 4 VA at 24 V, works 18 V to 30 V
t is class-2-transformer
a -- t.primary-hot
b -- t.primary-neutral
t.secondary-r -- c
t.secondary-c -- d
"""


def heater(part: str, breaker: str = "20 A 2-pole", panel: str = PANEL) -> str:
    """A heater between two legs."""
    return f"""board "A heater between two legs"
{panel}breaker LP.2 {breaker}
cable W1 12/2 NM-B 11 ft from LP to BH
BH is {part}
at LP
  W1.black -- LP.2.a
  W1.white marked black -- LP.2.b
  W1.bare -- LP.ground
at BH
  W1.black -- BH.L1
  W1.white marked black -- BH.L2
  W1.bare -- BH.ground
"""


@pytest.mark.parametrize("text", [STAIR, COOLING])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


def test_too_little_is_a_fault() -> None:
    (one,) = seen(RULE, one_load(part="baseboard-heater 1500 W 240 V", breaker="15 A"))
    assert isinstance(one, TooLittle)
    assert (one.subject, one.severity, one.stage, one.nominal) == ("H1.element", "fault", "final", 120)
    assert one.present == pytest.approx(119.5, abs=1)
    assert (one.at.span.line, bool(one.copper)) == (6, True)


def test_too_much_is_a_hazard() -> None:
    (one,) = seen(RULE, heater("baseboard-heater 800 W 120 V"))
    assert isinstance(one, TooMuch)
    assert (one.subject, one.severity, one.stage) == ("BH.element", "hazard", "final")
    assert one.present == pytest.approx(239, abs=1)


@pytest.mark.parametrize(("made_for", "kind"), [("208 V", TooMuch), ("240 V", None)])
def test_a_load_takes_a_tenth_more_or_less(made_for: str, kind: type | None) -> None:
    # 208 V takes 228.8 V, and 5 % above that 240.2 V: a 240 V supply is at the very edge.
    found = seen(RULE, heater(f"baseboard-heater 800 W {made_for}"))
    assert [type(one) for one in found] == ([kind] if kind else [])


def test_a_load_is_judged_in_the_position_in_which_it_has_most() -> None:
    text = heater("baseboard-heater 800 W 120 V").replace("  W1.black -- BH.L1\n", "")
    text = text.replace(
        "at BH\n", "S1 is single-pole-switch in BH\nat BH\n  W1.black -- S1.line\n  S1.load -- BH.L1\n"
    )
    (one,) = seen(RULE, text)
    assert one.state.positions["S1"] == "on"


def test_what_a_switch_starves_in_one_position_is_told() -> None:
    # Two 120 V lamps in series, and one of them passed by when the switch is on: then the other has 120 V.
    text = one_load(part="baseboard-heater 1500 W 240 V", breaker="15 A")
    switched = text.replace("  W1.black -- H1.L1\n", "")
    switched = switched.replace(
        "at B\n", "S1 is single-pole-switch in B\nat B\n  W1.black -- S1.line\n  S1.load -- H1.L1\n"
    )
    (one,) = seen(RULE, switched)
    assert isinstance(one, TooLittle)


def test_what_the_wire_loses_is_another_matter() -> None:
    assert not seen(RULE, one_load("14/2 NM-B 900 ft"))


def test_coils_are_judged_by_what_pulls_them_in() -> None:
    assert not seen(RULE, one_load(part="coil", screws=("a", "b")))


def test_one_feed_of_a_machine_is_one_mistake() -> None:
    # Compressor and fan of a 240 V unit on 120 V.
    text = changed(COOLING, ("PC.white marked red -- LP.2.b", "PC.white -- LP.neutral"))
    text = text.replace("PC.white marked red", "PC.white")
    (one,) = (one for one in seen(RULE, text) if isinstance(one, TooLittle))
    assert [load.name for load in one.loads] == ["CU.compressor", "CU.fan"]


def test_two_loads_that_are_no_machine_are_two_mistakes() -> None:
    text = heater("baseboard-heater 800 W 120 V").replace(
        "at BH\n", "H2 is heater 800 W 120 V in BH\nat BH\n  BH.L1 -- H2.a\n  BH.L2 -- H2.b\n"
    )
    assert [one.subject for one in seen(RULE, text)] == ["BH.element", "H2"]


def test_what_a_wrong_tap_does_is_told_at_the_tap() -> None:
    # A transformer for 120 V on 240 V: its 24 V side stands at about 50 V.
    text = valves("class-2-transformer 40 VA", 10, breaker="15 A 2-pole")
    text = changed(
        text, ("W1.black -- LP.3", "W1.black -- LP.3.a"), ("W1.white -- LP.neutral", "W1.white -- LP.3.b")
    )
    text = text.replace("V0 is solenoid-valve with capacity 10 VA", "V0 is heater 10 W 24 V")
    (one,) = seen(RULE, text)
    assert one.loads[0].name == "V0"
    told = reported(text)
    assert "coil-voltage" in told and "wrong-voltage" not in told


def test_the_two_sides_of_a_machine_are_two_feeds() -> None:
    text = (
        heater("unit")
        .replace("BH.L1", "BH.a")
        .replace("BH.L2", "BH.b")
        .replace("W1.bare -- BH.ground", "cap W1.bare")
    )
    found = list(RULE.find(case(text, unit=UNIT)))
    assert [[load.name for load in one.loads] for one in found] == [["BH.fan"], ["BH.board"]]


@pytest.mark.parametrize("watts", [400, 3000])
def test_a_load_that_trips_its_breaker_is_told_what_it_is_made_for(watts: float) -> None:
    # 3000 W at 120 V draw 50 A on 240 V: the 20 A breaker opens at once.
    text = heater(f"baseboard-heater {watts} W 120 V")
    (one,) = seen(RULE, text)
    assert isinstance(one, TooMuch)
    assert one.present > 230
    assert "breaker-trips" not in reported(text)


# -------------------------------------------------------------------- in series


SERIES = """\
board "Two heaters in a row"
panel LP 120/240 V, 10 kA available
breaker LP.2 20 A 2-pole
box A junction 42 cu in
box B junction 42 cu in
cable W1 12/2 NM-B 11 ft from LP to A
cable W2 12/2 NM-B 11 ft from A to B
H1 is heater 1500 W in A
H2 is heater 1500 W in B
at LP
  W1.black -- LP.2.a
  W1.white marked black -- LP.2.b
  W1.bare -- LP.ground
at A
  W1.black -- H1.a
  W2.black -- H1.b
  W1.white marked black -- W2.white marked black
  W1.bare -- W2.bare
at B
  W2.black -- H2.a
  W2.white marked black -- H2.b
  cap W2.bare
"""


def test_loads_in_series_share_the_voltage() -> None:
    (one,) = seen(RULE, SERIES)
    assert isinstance(one, InSeries)
    assert (one.subject, [load.name for load in one.others]) == ("H1", ["H2"])
    assert (one.severity, one.stage, bool(one.copper)) == ("fault", "final", True)
    assert one.present == pytest.approx(120, abs=1)
    assert at(SERIES, one) == "W2.black -- H1.b"


@pytest.mark.parametrize(
    "change",
    [
        # In parallel.
        ("  W1.black -- H1.a\n  W2.black -- H1.b\n  W1.white marked black -- W2.white marked black\n",
         "  W1.black -- W2.black -- H1.a\n  W1.white marked black -- W2.white marked black -- H1.b\n"),
        # In series they are 120 V heaters on purpose: each has what it is made for.
        ("H1 is heater 1500 W in A\nH2 is heater 1500 W in B\n",
         "H1 is heater 1500 W, 120 V in A\nH2 is heater 1500 W, 120 V in B\n"),
    ],
)  # fmt: skip
def test_loads_that_have_their_volts_are_right(change: tuple[str, str]) -> None:
    assert not seen(RULE, changed(SERIES, change))


@pytest.mark.parametrize(("watts", "found"), [(60, 1), (31, 0)])
def test_what_has_hardly_any_volts_is_dead_and_not_in_series(watts: float, found: int) -> None:
    # 60 W and 1500 W in series: the large one has 9.2 V, or with 31 W 4.9 V, and the lamp the rest.
    text = changed(SERIES, ("H2 is heater 1500 W", f"H2 is heater {watts} W"))
    assert [one.subject for one in seen(RULE, text)] == ["H1"] * found


def test_what_an_expect_line_asks_of_a_load_in_series_follows() -> None:
    text = changed(SERIES, ("box B", "S1 is single-pole-switch in A\nbox B")) + "expect H1 from S1\n"
    assert reported(text).count("wrong-voltage") == 1 and "switching" not in reported(text)


# ---------------------------------------------------------------------- outlets


def face(volts: float) -> str:
    return (
        'part face "A receptacle"\nterminal L1 hot\nterminal L2 hot\n'
        f"outlet top from L1 to L2, rated 15 A, volts {volts} V\n"
        f"outlet bottom from L1 to L2, rated 15 A, volts {volts} V\n"
    )


@pytest.mark.parametrize(
    ("made_for", "kind"),
    [
        # Too much above 115 % of what it is made for, of 240 V; too little below 85 %.
        (208, OutletTooMuch), (209, None), (240, None), (282, None), (283, OutletTooLittle),
    ],
)  # fmt: skip
def test_an_outlet_of_another_voltage(made_for: float, kind: type | None) -> None:
    text = heater("face").replace("  W1.bare -- BH.ground\n", "  cap W1.bare\n")
    found = list(RULE.find(case(text, face=face(made_for))))
    assert [type(one) for one in found] == ([kind] if kind else [])
    for one in found:
        assert isinstance(one, OutletTooMuch | OutletTooLittle)
        assert (one.subject, one.device.name, one.stage) == ("BH.top", "BH", "final")
        assert one.severity == ("hazard" if kind is OutletTooMuch else "fault")
        assert (one.present, bool(one.copper)) == (pytest.approx(240, abs=1), True)


@pytest.mark.parametrize("name", ["BH", "BH.top"])
def test_an_outlet_that_an_expect_line_names_is_judged_by_that(name: str) -> None:
    text = heater("face").replace("  W1.bare -- BH.ground\n", "  cap W1.bare\n") + f"expect {name} live\n"
    assert not list(RULE.find(case(text, face=face(120))))


def test_an_outlet_without_volts_is_no_matter_of_voltage() -> None:
    text = heater("face").replace("  W1.black -- BH.L1\n", "  cap W1.black\n")
    text = text.replace("  W1.bare -- BH.ground\n", "  cap W1.bare\n")
    assert not list(RULE.find(case(text, face=face(240))))


def test_two_hots_at_an_outlet_for_one_are_told_once() -> None:
    text = heater("single-receptacle 20 A").replace("BH.L1", "BH.hot").replace("BH.L2", "BH.neutral")
    told = reported(text)
    assert told.count("wrong-voltage") == 1 and "reversed-polarity" not in told


ONE_LEG = own("wrong-voltage", "one-pole-for-two-heaters")


def test_two_hots_that_are_one_and_the_neutral_are_one_mistake_at_the_panel() -> None:
    (found,) = seen(RULE, ONE_LEG)
    assert [load.name for load in found.loads] == ["H1.element", "H2.element"]
    assert RULE.words(found, case(ONE_LEG)).look == (
        "Look again, with the power off, in LP: breaker LP.6 has one pole, and W1.white is on the neutral. "
        "H1.element takes both legs, from a 2-pole breaker, and W1.white is then a hot, "
        "marked so at each end."
    )


def test_a_white_that_something_else_takes_is_not_to_be_a_hot() -> None:
    lamp = changed(
        ONE_LEG,
        ("box T device 22.5 cu in", "box T device 22.5 cu in\nL1 is lampholder 60 W in T"),
        ("  W1.black -- TS.line-1", "  W1.black -- L1.hot -- pigtail -- TS.line-1"),
        ("  W1.white -- TS.line-2", "  W1.white -- L1.neutral -- pigtail -- TS.line-2"),
    )
    (found,) = seen(RULE, lamp)
    assert (RULE.words(found, case(lamp)).look or "").endswith(
        "H1.element takes both legs, from a 2-pole breaker of its own: something else here takes the neutral."
    )
