"""The list of materials: against counts by hand with their reasons, against the text, and hostile names."""

from __future__ import annotations

import csv
import io
import re
from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

import wirecheck
from tests.boards.generated import boards
from tests.drawing.test_pages import read
from wirecheck import files
from wirecheck.caution import CAUTION
from wirecheck.report import materials, materials_html
from wirecheck.report.materials import Item, Listing
from wirecheck.report.spreadsheet import cells

# What each board takes, counted from its text: so many of what, and of what is cut the length to cut, the
# feet to buy with 10 % more, and the ends without a length. Why, stands where it is not plain.
STAIR = """
1 panel, 120/240 V
1 breaker, 15 A 1-pole
2 device box, 20.3 cu in
1 octagon box, 15.5 cu in, clamps
2 3-way-switch, 15 A
1 lampholder, 60 W
# The white at FOOT and the white at HEAD.
2 connector for 2 x 14 AWG
# Two bares and the pigtail at each switch.
2 connector for 3 x 14 AWG
2 pigtail, 14 AWG bare
# W1: 18 ft, 18 + 1/2 in at the panel and 7 + 1/2 in in the box. W3: 9 ft, 7-1/2 in and 8-3/8 in.
2 14/2 NM-B: cut 30 ft 6 in, buy 34 ft, 0 open
# W2: 16 ft and twice 7-1/2 in. 17-1/4 ft and a tenth of it are 18.98 ft.
1 14/3 NM-B: cut 17 ft 3 in, buy 19 ft, 0 open
"""
FAN = """
1 panel, 120/240 V
1 breaker, 15 A 1-pole AFCI
1 device box, 34 cu in, clamps, 2-gang
2 octagon box, 21.5 cu in, clamps
1 device box, 20.3 cu in
1 dimmer, 5 A
1 fan-control, 1.5 A
1 ceiling-fan, fan 0.6 A
1 luminaire, 14 W, supply 60 C
1 occupancy-sensor-no-neutral, 5 A
# DOOR: the two blacks with the leads of dimmer and fan control.
1 connector for 2 x 14 AWG and 2 leads
# One wire on one lead: 2 at DOOR, 4 at FAN, 2 at SHELF, 3 at CLOSET. A lead has no screw.
11 connector for 1 x 14 AWG and 1 lead
# DOOR: three whites.
1 connector for 3 x 14 AWG
# DOOR: three bares with two green leads.
1 connector for 3 x 14 AWG and 2 leads
# SHELF: W3.black on the white that is marked; and two bares with the light's lead.
1 connector for 2 x 14 AWG
1 connector for 2 x 14 AWG and 1 lead
# 30 + 9 + 6 ft; one end of 18-1/2 in and five of 7-1/2 in.
3 14/2 NM-B: cut 49 ft 8 in, buy 55 ft, 0 open
1 14/3 NM-B: cut 13 ft 3 in, buy 15 ft, 0 open
# W4.white at both of its ends.
2 black tape, on an end
"""
WORKSHOP = """
1 panel, 120/240 V, 200 A main, 200 A bus
# Its main breaker comes with it, and is no breaker of the list.
1 subpanel, 120/240 V, 40 A main, 100 A bus
1 breaker, 40 A 2-pole
2 breaker, 15 A 1-pole
1 breaker, 20 A 1-pole
2 device box, 20.3 cu in
2 octagon box, 15.5 cu in
1 single-pole-switch, 15 A
2 lampholder, 60 W
1 duplex-receptacle, 20 A
1 connector for 2 x 14 AWG
1 connector for 3 x 14 AWG
1 pigtail, 14 AWG bare
1 8/3 NM-B: cut 62 ft, buy 69 ft, 0 open
# 22 + 12 + 18 ft; 8 and 7-3/8, 7-3/8 and 6-3/8, 8 and 6-3/8 in are 43-1/2 in.
3 14/2 NM-B: cut 55 ft 8 in, buy 62 ft, 0 open
1 12/2 NM-B: cut 31 ft 4 in, buy 35 ft, 0 open
"""
KITCHEN = """
1 panel, 120/240 V
2 breaker, 20 A 1-pole
# One for both: TP.15 is tied to TP.13.
1 handle tie for 2 breakers
1 device box, 22.5 cu in
1 device box, 20.3 cu in
2 gfci-receptacle, 20 A
# LEFT: W1.red goes on as W2.black.
1 connector for 2 x 12 AWG
2 connector for 3 x 12 AWG
1 pigtail, 12 AWG white
1 pigtail, 12 AWG bare
1 12/3 NM-B: cut 32 ft 2 in, buy 36 ft, 0 open
1 12/2 NM-B: cut 7 ft 3 in, buy 8 ft, 0 open
"""
COOLING = """
1 panel, 120/240 V
1 breaker, 15 A 1-pole
1 breaker, 30 A 2-pole
1 gas-furnace, mca 12.2 A
1 condensing-unit, mca 18.2 A, 240 V
1 heat-cool-thermostat, 1 A
1 disconnect-2-pole, 30 A
# CU.Y and CU.C are leads; so are F.L1 and F.N. All else is under a screw.
2 connector for 1 x 18 AWG and 1 lead
2 connector for 1 x 14 AWG and 1 lead
# No end is in a box, and none has a length in the text.
1 14/2 NM-B: cut 26 ft, buy 29 ft, 2 open
1 10/2 NM-B: cut 34 ft, buy 38 ft, 2 open
1 18/5 CL2: cut 40 ft, buy 44 ft, 2 open
1 18/2 CL2: cut 50 ft, buy 55 ft, 2 open
1 1/2 in LFNC: cut 5 ft, buy 6 ft, 0 open
1 10 AWG THWN black: cut 5 ft, buy 6 ft, 2 open
1 10 AWG THWN red: cut 5 ft, buy 6 ft, 2 open
1 10 AWG THWN green: cut 5 ft, buy 6 ft, 2 open
# PC.white at TP and at D.
2 red tape, on an end
"""
# What is seldom met, on one board.
ODD = """board "Odd ends"
panel LP 120/240 V, 10 kA available
breaker LP.3A 15 A
breaker LP.3B 20 A
breaker LP.5A 15 A
connector RED 2 to 5 of 12 AWG
box A square 4 x 1-1/2 in metal, 1-gang ring 3.5 cu in
box B octagon 15.5 cu in
cable W1 12/2 MC 20 ft from LP (free 8 in) to A
cable W2 12/2 NM-B aluminum 10 ft from A (free 7 in) to B
cable W3 18/5 CL2 6 ft from A to B
cable W4 2x2.5 mm2 NM-B 3 m from A (free 10 cm, jacket 1 cm) to B (free 10 cm, jacket 1 cm)
R1 is duplex-receptacle 20 amps tamper-resistant in A
S1 is single-pole-switch in A
DM is dimmer in A
at A
  W1.black -- W2.black -- pigtail 14 -- R1.hot, connector AL-CU
  W1.white -- pigtail -- R1.neutral, connector RED
  W1.green -- pigtail -- A.ground
  R1.ground -- S1.ground
  W4.black -- pigtail -- DM.line
  S1.line -- pigtail -- S1.load -- pigtail -- R1.neutral
  cap W2.white
  cap DM.load
"""
BY_HAND_OF_ODD = """
1 panel, 120/240 V
# Two halves are one breaker to buy; of LP.5 one half is written.
1 tandem breaker, 15 A 1-pole and 20 A 1-pole
1 tandem breaker, 15 A 1-pole and a half not used
# The gang is the ring's.
1 square box, 4 x 1-1/2 in, metal
1 ring for a square box, 1-gang, 3.5 cu in
1 octagon box, 15.5 cu in
1 duplex-receptacle, 20 A, tamper-resistant
1 single-pole-switch, 15 A
1 dimmer, 5 A
# The pigtail's 14 is written.
1 connector AL-CU for 1 x 14 AWG, 1 x 12 AWG and 1 x 12 AWG aluminum
1 connector RED for 2 x 12 AWG
1 connector for 2 x 12 AWG
# One on the wire and its pigtail, one on that pigtail and the lead.
1 connector for 2 x 2.5 mm2
1 connector for 1 x 2.5 mm2 and 1 lead
1 cap for 1 x 12 AWG aluminum
1 cap for 1 lead
1 pigtail, 14 AWG black
1 pigtail, 12 AWG white
1 pigtail, 12 AWG green
1 pigtail, 2.5 mm2 black
# From S1.line to S1.load and on to R1.neutral, with no connector.
2 pigtail, size not given
# From screw to screw, and no wire tells its size.
1 jumper, size not given
# Armor has no jacket in the box: 8 in, and the 6 in that the code asks. Its green is none of the two of 12/2.
1 12/2 MC: cut 21 ft 2 in, buy 24 ft, 0 open
# 7 in written and 1/4 in of jacket that the code asks; then 6-1/4 in by the code: 13-1/2 in.
1 12/2 NM-B, aluminum: cut 11 ft 2 in, buy 13 ft, 0 open
# The code asks no length of a thermostat's cable.
1 18/5 CL2: cut 6 ft, buy 7 ft, 2 open
# 3.22 m are 10 ft 6.8 in, and with a tenth 11.6 ft.
1 2 x 2.5 mm2 NM-B: cut 10 ft 7 in, buy 12 ft, 0 open
"""
BY_HAND = {
    "stair-light": STAIR,
    "dimmer-and-fan-control": FAN,
    "workshop-subpanel": WORKSHOP,
    "kitchen-multiwire": KITCHEN,
    "cooling-call": COOLING,
}


def text_of(name: str) -> str:
    return (files.folder("boards") / name / "right.wire").read_text("utf-8")


def taken(text: str) -> tuple[Item, ...]:
    return materials.materials(wirecheck.assemble(text)[1])


def listing(items: tuple[Item, ...], title: str = "Shed") -> Listing:
    return Listing((title,), 1, items, (), 10)


def by_hand(items: tuple[Item, ...]) -> list[str]:
    """Items as the counts above are written."""
    cut = "{}: cut {}, buy {} ft, {} open"
    return [
        f"{one.number} {one.what}"
        if one.group not in materials.FROM_A_ROLL
        else cut.format(
            f"{one.number} {one.what}", materials.to_cut(one.cut), materials.to_buy(one, 10), one.unsaid
        )
        for one in items
    ]


def written(counts: str) -> list[str]:
    return [line for line in counts.splitlines() if line and not line.startswith("#")]


@pytest.mark.parametrize("name", BY_HAND)
def test_a_board_takes_what_is_counted_by_hand(name: str) -> None:
    assert sorted(by_hand(taken(text_of(name)))) == sorted(written(BY_HAND[name]))


def test_what_is_seldom_met_is_counted_by_hand() -> None:
    assert not wirecheck.assemble(ODD)[1].problems
    assert sorted(by_hand(taken(ODD))) == sorted(written(BY_HAND_OF_ODD))


def test_wires_and_leads_that_a_screw_takes_have_no_connector() -> None:
    """A furnace's R takes three: a wire and a lead sit under it. The screw of a switch takes one."""
    kit = [one.what for one in taken(text_of("common-wire-kit"))]
    assert not [what for what in kit if what.startswith("jumper")]
    text = ODD[: ODD.index("at A")] + "at A\n  W1.black -- DM.line -- S1.line\n"
    there = [f"{one.number} {one.what}" for one in taken(text)]
    assert "1 connector for 1 x 12 AWG and 1 lead" in there and "1 jumper, 12 AWG black" in there


def test_the_groups_stand_in_their_order() -> None:
    order = [materials.GROUPS.index(one.group) for one in taken(ODD)]
    assert order == sorted(order)


@pytest.mark.slow
@given(boards(), st.integers(1, 40))
def test_n_boards_take_n_times_what_one_takes(text: str, number: int) -> None:
    one = taken(text)
    many = materials.added(one, number)
    for single, of_class in zip(one, many, strict=True):
        assert (single.group, single.what) == (of_class.group, of_class.what)
        assert of_class.number == number * single.number and of_class.unsaid == number * single.unsaid
        assert of_class.cut == pytest.approx(number * single.cut)
    # A folder in which the board lies so many times takes the same.
    for of_folder, of_class in zip(materials.added(one * number), many, strict=True):
        assert of_folder._replace(run=0, ends=0) == of_class._replace(run=0, ends=0)
        assert of_folder.cut == pytest.approx(of_class.cut)


@pytest.mark.slow
@given(boards())
def test_the_list_has_as_much_as_the_text_has_lines(text: str) -> None:
    """Counted from the lines by their first word, which shares no code with the reading of a board."""
    begin = Counter(line.split()[0] for line in text.splitlines() if line.split())
    devices = sum(1 for line in text.splitlines() if line.split()[1:2] == ["is"])
    found: Counter[str] = Counter()
    for item in taken(text):
        found[item.group] += item.number
    assert found["Cable"] == begin["cable"] and found["Single wires"] == begin["wire"]
    assert found["Boxes"] == begin["box"] and found["Panels"] == begin["panel"] + begin["subpanel"]
    assert found["Devices"] == devices
    tails = len(re.findall(r"\bpigtail\b", text))
    assert sum(one.number for one in taken(text) if one.what.startswith("pigtail")) == tails


HOSTILE = '=1+1</td><script>alert("x")</script>\x1b[31m\u202e'


def hostile() -> Listing:
    """A board's own words where they can come into the list: its title, a file's name, a kind of wire."""
    items = (Item("Single wires", HOSTILE, 1, 3.0), Item("Devices", HOSTILE))
    return Listing((HOSTILE,), 2, items, (f"{HOSTILE}: The check finds 1 problem.",), 10)


def test_names_are_text_on_the_page() -> None:
    page = materials_html.render(hostile())
    shown = "".join(read(page).text)
    assert "<script" not in page and "\x1b" not in page and "\u202e" not in page
    assert '=1+1</td><script>alert("x")' in shown and CAUTION in shown
    assert page.index("Content-Security-Policy") < page.index("<title>")


def test_names_are_text_on_a_terminal() -> None:
    shown = materials.render(hostile())
    assert "\x1b" not in shown and "\u202e" not in shown and CAUTION in " ".join(shown.split())


def test_a_spreadsheet_finds_no_formula_and_the_same_numbers() -> None:
    told = list(csv.reader(io.StringIO(cells(materials.rows(hostile().items, 10)), newline="")))
    assert [row[1][:2] for row in told[1:]] == ["'=", "'="]
    assert told[1][2:] == ["1", "9.84", "0", "9.84", "11", "0"] and told[2][2:] == ["1", *5 * [""]]
    assert {len(row) for row in told} == {8}
    assert cells(materials.rows(taken(ODD), 10)).count("\r\n") == 1 + len(taken(ODD))


@pytest.mark.parametrize("name", BY_HAND)
def test_text_and_page_say_every_item(name: str) -> None:
    items = taken(text_of(name))
    said = listing(items)
    text, page = " ".join(materials.render(said).split()), "".join(read(materials_html.render(said)).text)
    for one in items:
        lengths = materials.beside(one, 10)
        assert f"{one.number} {one.what} {lengths}".strip() in text
        assert f"{one.number}{one.what}{lengths}" in page


def test_ends_without_a_length_are_said() -> None:
    (cable,) = (one for one in taken(text_of("cooling-call")) if one.what == "18/5 CL2")
    assert materials.beside(cable, 0) == (
        "40 ft between places: cut 40 ft, buy 40 ft, and what 2 ends with no length take"
    )


def test_an_empty_board_takes_nothing() -> None:
    assert taken('board "Nothing yet"') == ()
    assert materials.render(listing(())).count("\n\n") == 2


def test_what_several_lines_say_of_one_splice_is_one_connector() -> None:
    text = (files.folder("boards") / "rack-compressor" / "right.wire").read_text("utf-8")
    (line,) = [one for one in text.splitlines() if one.startswith("  BG -- pigtail -- E.ground -- ")]
    wire, *tails = line.split(" -- pigtail -- ")
    apart = text.replace(line, "\n".join(f"{wire} -- pigtail -- {tail}" for tail in tails))
    assert apart != text
    assert materials.materials(wirecheck.assemble(apart)[1]) == materials.materials(
        wirecheck.assemble(text)[1]
    )
