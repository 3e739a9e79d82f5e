"""What is lost on the way: the informational notes of NEC 210.19 and 215.2, and what a load works at."""

from __future__ import annotations

import pytest

from tests.rules.circuits import LAMP, PANEL, one_load, outlet, two_loads, valves
from tests.rules.hands import CHAIN, COOLING, STAIR, case, changed, own, reported, said, seen
from tests.subpanels import workshop
from wirecheck.judge.drop import drops
from wirecheck.rules.voltage_drop import RULE, FarOutlet, LongFeeder, Starved, Wasteful


@pytest.mark.parametrize("text", [STAIR, COOLING, CHAIN])
def test_right_boards_are_right(text: str) -> None:
    assert not seen(RULE, text)


@pytest.mark.parametrize(("feet", "raised"), [(68, False), (69, True)])
def test_a_branch_circuit_should_lose_3_percent_at_most(feet: int, raised: bool) -> None:
    found = seen(RULE, one_load(f"14/2 NM-B {feet} ft"))
    assert len(found) == raised
    for one in found:
        assert isinstance(one, Wasteful)
        assert one.drop.share == pytest.approx(0.03, abs=0.0005)
        assert (one.severity, one.stage, one.subject, one.at.span.line) == (
            *("advice", "rough-in", "H1.element"),
            7,
        )
        assert (one.size, bool(one.copper)) == ("12", True)


def test_the_worst_load_of_a_circuit_stands_for_it() -> None:
    text = two_loads("baseboard-heater 600 W 120 V", "baseboard-heater 600 W 120 V", feet=80)
    (one,) = seen(RULE, text)
    assert one.subject == "H2.element"
    nearer = two_loads("baseboard-heater 1200 W 120 V", "baseboard-heater 12 W 120 V", feet=80)
    assert [one.subject for one in seen(RULE, nearer)] == ["H2.element"]


def test_each_circuit_is_told_by_itself() -> None:
    other = one_load("14/2 NM-B 150 ft").replace("H1", "H2").replace("W1", "W2").replace("LP.3", "LP.5")
    lines = other.splitlines()
    text = one_load("14/2 NM-B 150 ft")
    text = text.replace("at LP\n", "\n".join([lines[3], *lines[5:7]]) + "\nat LP\n", 1)
    text += "\n".join(lines[7:]) + "\n"
    assert [one.subject for one in seen(RULE, text)] == ["H1.element", "H2.element"]


@pytest.mark.parametrize(("feet", "kind"), [(1088, Wasteful), (1092, Starved)])
def test_a_load_below_its_working_volts_is_a_fault(feet: int, kind: type) -> None:
    # The lamp works from 100 V.
    (one,) = seen(RULE, one_load(f"14/2 NM-B {feet} ft", "lampholder 500 W", screws=LAMP))
    assert isinstance(one, kind)
    assert one.load.works == 100
    if kind is Starved:
        assert 99 < one.drop.present < 100
        assert (one.severity, one.stage, one.subject, one.at.span.line) == ("fault", "final", "H1", 7)
    else:
        assert 100 < one.drop.present < 101


def test_the_size_for_a_starved_load_leaves_it_what_it_works_at() -> None:
    (one,) = seen(RULE, one_load("14/2 NM-B 1500 ft", "lampholder 500 W", screws=LAMP))
    with_size = drops(case(one_load(f"{one.size}/2 NM-B 1500 ft", "lampholder 500 W", screws=LAMP)))["H1"]
    assert with_size.present >= 100


def test_a_load_on_the_wrong_source_is_not_judged_by_its_wire() -> None:
    for feet in (20, 300):
        assert not seen(RULE, one_load(f"14/2 NM-B {feet} ft", "baseboard-heater 1500 W 240 V"))


def test_where_the_source_itself_sags_the_wire_is_not_to_blame() -> None:
    # 40 VA that feed 90: the winding's own volts sag below what the load works at, the wire is short.
    text = valves("fused-class-2-transformer with capacity 20 VA, current 20 A", 10, feet=1)
    for watts, raised in ((15, 0), (90, 0)):
        assert (
            len(seen(RULE, text.replace("solenoid-valve with capacity 10 VA", f"heater {watts} W 24 V")))
            == raised
        )


def test_a_load_behind_a_transformer_is_no_branch_circuit() -> None:
    text = valves("class-2-transformer 40 VA", 10, feet=80)
    lamp = text.replace("V0 is solenoid-valve with capacity 10 VA", "V0 is heater 20 W 24 V")
    assert drops(case(lamp))["V0"].share > 0.03
    assert not seen(RULE, lamp)


# ------------------------------------------------------------------ outlets


@pytest.mark.parametrize(("feet", "raised"), [(54, False), (55, True)])
def test_an_outlet_is_judged_with_the_largest_plug_in_load(feet: int, raised: bool) -> None:
    # Table 210.21(B)(2): 12 A on a 15 A circuit; Table 8 at 43.8 C: 3 % at 54.2 ft.
    found = seen(RULE, outlet("duplex-receptacle 15 A", "15 A", f"14/2 NM-B {feet} ft"))
    assert len(found) == raised
    for one in found:
        assert isinstance(one, FarOutlet)
        assert (one.severity, one.stage, one.subject, one.at.span.line) == ("advice", "rough-in", "R1.top", 6)
        assert (one.guard.name, one.drop.flows, one.size) == ("LP.3", 12, "12")


def test_the_farthest_outlet_of_a_circuit_stands_for_it() -> None:
    text = changed(CHAIN, ("12/2 NM-B 20 ft", "12/2 NM-B 60 ft"), ("12/2 NM-B 10 ft", "12/2 NM-B 40 ft"))
    (one,) = seen(RULE, text)
    assert one.outlet.device == "R1"


def test_the_120_volts_of_a_ranges_outlet_are_not_judged_by_its_heat() -> None:
    text = f"""board "A dryer"
{PANEL}breaker LP.2 30 A 2-pole
box B junction 99 cu in
R1 is dryer-receptacle in B
cable W1 10/3 NM-B 80 ft from LP to B
at LP
  W1.black -- LP.2.a
  W1.red -- LP.2.b
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at B
  W1.black -- R1.hot-1
  W1.red -- R1.hot-2
  W1.white -- R1.neutral
  W1.bare -- R1.ground
"""
    # 24 A over 160 ft of 10 AWG lose 4.3 V: 1.8 % of 240 V, 3.6 % of 120 V.
    assert not seen(RULE, text)
    (one,) = seen(RULE, changed(text, ("80 ft", "160 ft")))
    assert one.subject == "R1.heat"


def test_beyond_half_of_the_voltage_no_number_is_told() -> None:
    below = "duplex-receptacle 15 A"
    (told,) = said(RULE, outlet(below, "15 A", "14/2 NM-B 880 ft"))
    assert told.value == pytest.approx(48, abs=2)
    (untold,) = said(RULE, outlet(below, "15 A", "14/2 NM-B 950 ft"))
    assert (untold.value, untold.limit) == (None, 3)


def test_an_outlet_at_the_panel_has_no_wire_to_blame() -> None:
    text = f"""board "A receptacle in the panel"
{PANEL}breaker LP.3 15 A
R1 is duplex-receptacle in LP
at LP
  LP.3 -- R1.hot
  LP.neutral -- R1.neutral
  LP.ground -- R1.ground
"""
    assert not seen(RULE, text)


def test_what_is_lost_is_told_apart_from_its_limit() -> None:
    (told,) = said(RULE, one_load("14/2 NM-B 69 ft"))
    assert told.value is not None and told.limit is not None
    assert told.value > told.limit == 3


def test_it_is_reported_for_what_it_is() -> None:
    assert "voltage-drop" in reported(one_load("14/2 NM-B 1500 ft", "lampholder 500 W", screws=LAMP))


def test_what_one_long_run_starves_is_one_mistake() -> None:
    text = two_loads("heater 500 W 120 V", "heater 500 W 120 V", feet=900)
    text = text.replace(".L1", ".a").replace(".L2", ".b")
    text = text.replace(" -- pigtail -- H1.ground", "").replace("W2.bare -- H2.ground", "cap W2.bare")
    (one,) = seen(RULE, changed(text, ("W2 14/2 NM-B 900 ft", "W2 14/2 NM-B 9 ft")))
    # Both stand at the end of W1; the second has a little less.
    assert (one.subject, one.at.of.name, [other.of.name for other in one.others]) == ("H2", "W1", ["H1"])
    with_size = changed(
        text, ("W2 14/2 NM-B 900 ft", f"W2 {one.size}/2 NM-B 9 ft"), ("W1 14/2", f"W1 {one.size}/2")
    )
    assert not [each for each in seen(RULE, with_size) if isinstance(each, Starved)]
    beyond = changed(
        text, ("W2 14/2 NM-B 900 ft", "W2 14/2 NM-B 9 ft"), ("W1 14/2 NM-B 900", "W1 14/2 NM-B 300000")
    )
    (one,) = seen(RULE, beyond)
    assert one.size is None


def test_what_nothing_feeds_is_passed_over() -> None:
    text = one_load("14/2 NM-B 150 ft").replace("H1 is", "H0 is lampholder 60 W in B\nH1 is")
    assert [one.subject for one in seen(RULE, text)] == ["H1.element"]


def test_the_worst_load_stands_for_its_circuit_wherever_it_is_declared() -> None:
    text = two_loads("baseboard-heater 600 W 120 V", "baseboard-heater 600 W 120 V", feet=80)
    first, second = (line for line in text.splitlines() if line.startswith(("H1 is", "H2 is")))
    turned = changed(text, (f"{first}\n{second}\n", f"{second}\n{first}\n"))
    assert [one.subject for one in seen(RULE, turned)] == ["H2.element"]


def test_a_load_that_needs_all_of_its_volts_is_on_the_right_source() -> None:
    """A transformer gives a little more than its 24 V to a small load, and the wire takes that."""
    exact = """part exact "A lamp that works at nothing less"
terminal a contact
terminal b contact
load lamp lamp from a to b, 5 W at 24 V, works 24 V to 30 V
"""
    text = valves("class-2-transformer 40 VA", 10, feet=2000).replace(
        "solenoid-valve with capacity 10 VA", "exact"
    )
    (one,) = RULE.find(case(text, exact=exact))
    assert isinstance(one, Starved) and one.load.works == one.drop.nominal == 24


def fed(feet: int, branch: int = 30) -> str:
    """The workshop with a feeder and a branch circuit of some length."""
    return workshop(("6/3 NM-B 60 ft", f"6/3 NM-B {feet} ft"), ("12/2 NM-B 30 ft", f"12/2 NM-B {branch} ft"))


def test_a_branch_circuit_behind_a_subpanel_is_held_to_its_own_part() -> None:
    """16 A through 12 AWG lose 3 % in some 60 ft (Table 8), whatever the feeder loses."""
    assert not seen(RULE, fed(150))
    (found,) = seen(RULE, fed(60, branch=70))
    assert isinstance(found, FarOutlet)
    assert {fall.conductor.run for fall in found.drop.falls} == {"W3"}


@pytest.mark.parametrize(("feet", "found"), [(260, []), (270, [0.03]), (315, [0.035]), (325, [0.05])])
def test_a_feeder_alone_and_with_the_branch_circuit(feet: int, found: list[float]) -> None:
    """215.2, informational note: 3 % in the feeder, and 5 % in both, of what a load of 16 A loses."""
    told = seen(RULE, fed(feet))
    assert [type(one) for one in told] == [LongFeeder] * len(found)
    for one, share in zip(told, found, strict=True):
        assert (one.subject, one.severity, one.panel.name) == ("R1.top", "advice", "SP")
        assert (one.whole is not None) == (share == 0.05)
        assert (one.whole or one.drop).share == pytest.approx(share, abs=0.002)
        assert {fall.conductor.run for fall in one.drop.falls} == {"FD"}
        assert one.size == "4"


def test_a_feeder_to_a_panelboard_of_three_phases() -> None:
    """electricianpracticetests.com, Voltage Drop Calculations 1, question 5.

    18 kVA at 208 V, a panelboard at 100 ft of 2 AWG copper: 50 A, and 1.732 x 12.9 x 50 x 100 / 66,360
    = 1.68 V from line to line, so 0.97 V in each wire (its K of 12.9 is of 75 C).
    """
    legs, ends = dict(zip("abcn", ("black", "red", "blue", "white"), strict=True)), {"a": 1, "b": 3, "c": 5}
    # At 66 C around it the wire stands at the 75 C of the table.
    lines = ['board "A panelboard"', "ambient 66 C", "panel LP 208Y/120 V, 200 kA available"]
    lines += ["breaker LP.2 100 A 3-pole", "subpanel SP 208Y/120 V", "box B junction 900 cu in"]
    lines += [f"breaker SP.{number} 100 A" for number in ends.values()]
    for leg, color in legs.items():
        lines += [f"wire F{leg} 2 THHN {color} 100 ft from LP to SP"]
        lines += [f"wire W{leg} 4/0 THHN {color} 1 in from SP to B"]
    lines += [f"X{leg} is heater with power 6000 W, voltage 120 V in B" for leg in ends]
    lines += ["at LP", *(f"  F{leg} -- LP.2.{leg}" for leg in ends), "  Fn -- LP.neutral"]
    lines += ["at SP", *(f"  F{leg} -- SP.{leg}\n  W{leg} -- SP.{number}" for leg, number in ends.items())]
    lines += ["  Fn -- SP.neutral", "  Wn -- SP.neutral", "at B", *(f"  W{leg} -- X{leg}.a" for leg in ends)]
    lines += ["  Wn -- pigtail -- Xa.b -- pigtail -- Xb.b -- pigtail -- Xc.b"]
    found = drops(case("\n".join(lines) + "\n"))
    assert len(found) == 3
    for one in found.values():
        assert one.flows == pytest.approx(50, rel=0.02)
        assert {fall.feeder for fall in one.falls} == {True, False}
        lost = sum(fall.volts for fall in one.feeder.falls)
        assert lost * 50 / one.flows == pytest.approx(1.68 / 1.732, rel=0.01)


def test_a_feeder_of_two_hots() -> None:
    """forums.mikeholt.com, 185943: 30 A at 100 ft on 230 V or so, the least wire for 3 % is 8 AWG.

    By hand with its K of 12.9: 2 x 12.9 x 30 x 100 / 10,380 = 7.46 V in 10 AWG, 3.1 % of 240 V.
    """
    text = """board "A feeder for 30 amperes"
ambient 44 C
panel LP 120/240 V, 200 kA available
breaker LP.2 40 A 2-pole
subpanel SP 120/240 V
breaker SP.2 40 A 2-pole
box B junction 900 cu in
X is heater with power 7440 W, voltage 240 V in B
wire Fa 10 THHN black 100 ft from LP to SP
wire Fb 10 THHN red 100 ft from LP to SP
wire Wa 4/0 THHN black 1 in from SP to B
wire Wb 4/0 THHN red 1 in from SP to B
at LP
  Fa -- LP.2.a
  Fb -- LP.2.b
at SP
  Fa -- SP.a
  Fb -- SP.b
  Wa -- SP.2.a
  Wb -- SP.2.b
at B
  Wa -- X.a
  Wb -- X.b
"""
    one = drops(case(text))["X"].feeder
    # At 44 C around it the wire stands near the 75 C of the table; K of 12.9 rounds Table 8 up by 0.3 %.
    assert one.lost * 30 / one.flows == pytest.approx(7.46, rel=0.02)
    (told,) = seen(RULE, text)
    assert isinstance(told, LongFeeder) and told.size == "8"


@pytest.mark.parametrize(
    ("size", "metal", "ambient", "lost"),
    [
        ("6", "", 48, 12.5),
        ("4", "", 58, 7.7),
        ("2", "", 66, 5.0),
        ("6", "aluminum ", 25, 20.2),
        ("4", "aluminum ", 48, 12.7),
        ("2", "aluminum ", 60, 8.0),
        ("1", "aluminum ", 64, 6.3),
    ],
)
def test_a_feeder_to_a_garage(size: str, metal: str, ambient: float, lost: float) -> None:
    """thestuccocompany.com/maintenance/Wire-size-for-250-to-garage-237398-.htm, with its table of drops.

    250 ft to a panel in a garage, 50 A on 240 V, balanced. With that heat around it each wire stands at the
    75 C of Table 8: ambient + 60 C x (50 A / its 90 C amperes) squared.
    """
    text = f"""board "A garage"
ambient {ambient} C
panel LP 120/240 V, 200 kA available
breaker LP.2 50 A 2-pole
subpanel GP 120/240 V
breaker GP.2 50 A 2-pole
box B junction 900 cu in
X is heater with power 12 kW, voltage 240 V in B
wire Fa {size} THHN black {metal}250 ft from LP to GP
wire Fb {size} THHN red {metal}250 ft from LP to GP
wire Wa 4/0 THHN black 1 in from GP to B
wire Wb 4/0 THHN red 1 in from GP to B
at LP
  Fa -- LP.2.a
  Fb -- LP.2.b
at GP
  Fa -- GP.a
  Fb -- GP.b
  Wa -- GP.2.a
  Wb -- GP.2.b
at B
  Wa -- X.a
  Wb -- X.b
"""
    one = drops(case(text))["X"].feeder
    assert sum(fall.volts for fall in one.falls) * 50 / one.flows == pytest.approx(lost, rel=0.035)


def test_what_a_feeder_and_a_branch_circuit_lose_is_added_up() -> None:
    """allafragor.com/questions/72699, an answer on long circuits: 100 ft of 10 AWG, then 60 ft of 12 AWG.

    At 20 A they lose 4 V and 3.8 V, so that 112.2 V of 120 V are left. Its wires are at 20 C, ours near
    that. That the two are added: energycodeace.com, 8.4 Voltage Drop Requirements ("losses are cumulative").
    """
    text = """board "Two sizes, one after the other"
ambient 0 C
panel LP 120/240 V, 200 kA available
breaker LP.2 30 A 2-pole
subpanel SP 120/240 V
breaker SP.1 20 A
box B junction 900 cu in
X is heater with power 2565 W, voltage 120 V in B
wire Fa 10 THHN black 100 ft from LP to SP
wire Fn 10 THHN white 100 ft from LP to SP
wire Wa 12 THHN black 60 ft from SP to B
wire Wn 12 THHN white 60 ft from SP to B
at LP
  Fa -- LP.2.a
  Fn -- LP.neutral
at SP
  Fa -- SP.a
  Fn -- SP.neutral
  Wa -- SP.1
  Wn -- SP.neutral
at B
  Wa -- X.a
  Wn -- X.b
"""
    one = drops(case(text))["X"]
    assert one.flows == pytest.approx(20, rel=0.02)
    first, then = (sum(fall.volts for fall in part.falls) for part in (one.feeder, one.branch))
    assert first * 20 / one.flows == pytest.approx(4.0, rel=0.03)
    assert then * 20 / one.flows == pytest.approx(3.8, rel=0.03)
    # What the poles of the breakers lose beside that is in both parts.
    assert one.lost == pytest.approx(one.feeder.lost + one.branch.lost, rel=0.01)
    assert one.nominal - one.lost * 20 / one.flows == pytest.approx(112.2, abs=0.3)


def test_a_thermostats_wire() -> None:
    """electrician2.com, lesson 135: 4 A over 100 ft of stranded 16 AWG (4.99 ohm/kft, Table 8) lose 4.0 V.

    Our cable is solid, which has 4.89 ohm/kft.
    """
    text = valves("class-2-transformer 96 VA", 10, feet=100).replace("18/2 CL2", "16/2 CL2")
    text = text.replace("V0 is solenoid-valve with capacity 10 VA", "V0 is heater 96 W 24 V")
    one = drops(case(text.replace("panel", "ambient 75 C\npanel", 1)))["V0"]
    assert one.lost * 4 / one.flows == pytest.approx(4.0 * 4.89 / 4.99, rel=0.02)


# ------------------------------------------------------- screws and the size


def test_a_size_that_a_screw_does_not_take_goes_on_by_a_pigtail() -> None:
    """NEC 110.14, 110.3(B): a screw takes the sizes that it is made for."""
    (one,) = said(RULE, own("voltage-drop", "shared-neutral"))
    assert one.help is not None and one.help.endswith(
        "Use 8 AWG all the way. H2.L1 takes 10 AWG at most: splice a short pigtail of that size to the wire "
        "for it."
    )


def test_a_size_that_every_screw_takes_needs_none() -> None:
    (one,) = said(RULE, one_load("14/2 NM-B 150 ft"))
    assert one.help is not None and "AWG all the way." in one.help and "pigtail" not in one.help


def test_a_screw_that_does_not_take_the_wire_that_is_there_gets_no_tail_of_its_size() -> None:
    """A tail of 16 AWG behind a 15 A breaker would be too thin: that screw is another rule's matter."""
    (one,) = said(RULE, own("voltage-drop", "switched"))
    assert one.help is not None and one.help.endswith("Use 10 AWG all the way.")
    assert "terminal-size" in reported(own("voltage-drop", "switched"))
