"""What is placed by hand is one line of the text, and what cannot be is said in the words of the language."""

import json

import pytest

import wirecheck
from tests.page.boards import RIGHT
from wirecheck import files
from wirecheck.language.reader import read
from wirecheck.page.placing import CannotPlace, Placing, place_answer, placed, things
from wirecheck.page.question import Question, question
from wirecheck.page.shelf import parts_answer
from wirecheck.parts.library import Library

SHED = [
    Placing("panel", "LP", "120 V", "10 kA"),
    Placing("breaker", size="15 A", place="LP"),
    Placing("box", "A", "device", "20 cu in"),
    Placing("box", "", "octagon", "20 cu in"),
    Placing("device", kind="single-pole-switch", place="A"),
    Placing("device", kind="lampholder", size="60 W", place="B"),
    Placing("cable", kind="14/2 NM-B", size="9 ft", place="LP", to="A"),
    Placing("cable", kind="14/2 NM-B", size="9 ft", place="A", to="B"),
    Placing("goal", "L1", "S1"),
]


def put(text, *placing):
    # A library that all share looks for near names no more once others have asked for many.
    library = Library(files.part_text, files.part_names, words=files.part_words)
    return placed(text, Placing(*placing), library)[0]


def test_a_board_is_placed_from_an_empty_text():
    text = ""
    for thing in SHED:
        text, _ = placed(text, thing, wirecheck.shipped_parts())
    said = [row for row in text.splitlines() if row]
    assert [row for row in RIGHT.splitlines()[1:9] if row not in said] == []
    assert said[-1] == "expect L1 from S1"
    assert wirecheck.assemble(text)[1].problems == ()


def test_a_wire_is_pulled_into_a_raceway_and_both_can_be_taken_away():
    text = put(RIGHT, "raceway", "", "EMT 1/2 in", "12 ft", "LP", "B")
    text = put(text, "wire", "", "12 THHN", "12 ft", "LP", "B", "black", "RW1")
    lines = text.splitlines()
    placed_after = lines.index("cable W2 14/2 NM-B 9 ft from A to B")
    assert lines[placed_after + 1 : placed_after + 3] == [
        "raceway RW1 EMT 1/2 in 12 ft from LP to B",
        "wire W3 12 THHN black 12 ft from LP to B in RW1",
    ]
    assert wirecheck.assemble(text)[1].raceways["RW1"].runs == ("W3",)
    assert "wire W4 14 THHN red 2 ft from A to A\n" in put(
        text, "wire", "", "14 THHN", "2 ft", "A", "A", "red"
    )
    with pytest.raises(CannotPlace, match="Take W3 away first"):
        put(text, "away", "RW1")
    assert put(put(text, "away", "W3"), "away", "RW1") == RIGHT


def test_a_box_is_in_one_room_at_a_time():
    one = put(RIGHT, "room", "", "bath", "", "A")
    assert "\nroom bath A\n" in one
    both = put(one, "room", "", "bath", "", "B")
    assert "room bath A, B\n" in both
    moved = put(both, "room", "", "hall", "", "A")
    assert "room bath B\n" in moved and "room hall A\n" in moved
    assert put(put(moved, "room", "", "", "", "A"), "room", "", "", "", "B").split() == RIGHT.split()
    spare = put(put(RIGHT, "box", "C", "device", "20 cu in"), "room", "", "hall", "", "C")
    assert put(spare, "away", "C").split() == RIGHT.split()


def test_a_breaker_is_placed_where_no_pole_of_another_is():
    text = 'board "Shed"\npanel LP 120/240 V\n'
    for size in ("30 A 2-pole", "15 A", "20 A 2-pole", "15 A"):
        text = put(text, "breaker", "", "", size, "LP")
    made = [row.split()[1] for row in text.splitlines() if row.startswith("breaker")]
    assert made == ["LP.1", "LP.2", "LP.4", "LP.5"]


@pytest.mark.parametrize(
    ("placing", "was", "now"),
    [
        (("value", "W1", "length", "30 ft"), "14/2 NM-B 9 ft from LP", "14/2 NM-B 30 ft from LP"),
        (("value", "W1", "size", "12/2"), "W1 14/2", "W1 12/2"),
        (("value", "LP.1", "rating", "20 A"), "LP.1 15 A", "LP.1 20 A"),
        (("value", "A", "volume", "34 cu in"), "A device 20 cu in", "A device 34 cu in"),
        (("value", "S1", "values", "20 A"), "single-pole-switch in A", "single-pole-switch 20 A in A"),
        (("value", "L1", "values", "100 W"), "lampholder 60 W", "lampholder 100 W"),
    ],
)
def test_a_value_is_set_and_nothing_else_changes(placing, was, now):
    assert put(RIGHT, *placing) == RIGHT.replace(was, now, 1)


def test_what_a_call_runs_is_said_in_one_line():
    text = put(put(RIGHT, "device", "TS", "heat-cool-thermostat"), "device", "V", "zone-valve")
    text = put(text, "goal", "V", "heat")
    assert text.endswith("expect L1 from S1\nexpect heat runs V\n")
    assert put(text, "goal", "L1", "heat").endswith("\nexpect heat runs V, L1\n")
    with pytest.raises(CannotPlace, match="said already that heat runs V"):
        put(text, "goal", "V", "heat")
    with pytest.raises(CannotPlace, match="Q is not on this board"):
        put(text, "goal", "Q", "heat")


def test_what_has_power_at_all_times_and_what_stops_it_is_said_and_said_anew():
    text = put(RIGHT, "device", "WH", "water-heater")
    text = put(text, "goal", "WH.cutout", "WH.upper, WH.lower", "stops")
    assert text.endswith("expect L1 from S1\nexpect WH.cutout stops WH.upper, WH.lower\n")
    assert put(RIGHT, "goal", "L1", "", "live") == RIGHT.replace("L1 from S1", "L1 live")
    text = put(put(RIGHT, "device", "TS", "heat-cool-thermostat"), "goal", "L1", "idle")
    assert text.endswith("expect L1 from S1\nexpect idle runs L1\n")


def test_a_subpanel_is_placed_with_its_own_breakers_and_is_no_second_source():
    text = put(RIGHT, "subpanel", "", "120 V", "40 A")
    assert "panel LP 120 V, 10 kA available\nsubpanel SP 120 V, 40 A main\n" in text
    text = put(text, "breaker", "", "", "15 A", "SP")
    assert "breaker SP.1 15 A\n" in text
    told = {one["name"]: one for one in things(read(text).statements, text)}
    assert (told["LP"]["what"], told["SP"]["what"]) == ("panel", "subpanel")
    assert told["SP"]["values"] == {"main": "40 A"}
    assert put(put(text, "away", "SP.1"), "away", "SP") == RIGHT


def test_values_that_need_their_names_are_set_with_them():
    text = put(RIGHT, "device", "T1", "control-transformer", "with primary 240 V", "A")
    assert "T1 is control-transformer with primary 240 V in A\n" in text
    syntax = wirecheck.assemble(text)[0]
    (told,) = [one for one in things(syntax.statements, text) if one["name"] == "T1"]
    assert told["values"]["values"] == "with primary 240 V"
    assert "T1 is control-transformer with secondary 24 V in A\n" in put(
        text, "value", "T1", "values", "with secondary 24 V"
    )
    seen = RIGHT.replace("L1 is lampholder 60 W in B", "L1 is lampholder, 6 ft from S1, 60 W in B")
    assert "lampholder, 6 ft from S1 40 W in B" in put(seen, "value", "L1", "values", "40 W")


def test_what_is_taken_away_leaves_no_join():
    text = put(RIGHT, "away", "S1")
    wirecheck.assemble(text)
    assert "S1." not in text
    assert "W1.bare -- W2.bare\n" in text
    assert "W2" not in put(RIGHT, "away", "W2")


@pytest.mark.parametrize(
    ("placing", "says"),
    [
        (("box", "A", "device", "18 cu in"), "A is already the name of something"),
        (("box", "", "dvice", "18 cu in"), "Did you mean device?"),
        (("box", "", "device", "18"), "18 is a number without a unit"),
        (("box", "C\nbox D", "device", "18 cu in"), "in one line"),
        (("box", "C # \N{SKULL}", "device", "18 cu in"), "without # and quotes"),
        (("cable", "", "14/2 NM-B", "9 ft", "A", "nowhere"), "nowhere is not on this board"),
        (("cable", "", "14/9 NM-B", "9 ft", "A", "B"), "no NM-B cable with 9"),
        (("device", "", "lampholdr", "", "A"), "Did you mean lampholder?"),
        (("device", "X" * 200, "lampholder", "", "A"), "100 are the most"),
        (("panel", "P2", "777 V"), "No panel has 777 V."),
        (("breaker", "", "", "15 A", "QQ"), "The panel QQ is not on this board."),
        (("value", "W1", "length", "much"), "cannot be read"),
        (("value", "W1", "length", "9 ft"), "9 ft already"),
        (("value", "W1", "color", "red"), "says no color"),
        (("value", "W1", "length", ""), "Write what the length"),
        (("value", "W1", "length", "9 ft from LP to B in"), "cannot be read"),
        (("away", "A"), "Take W1 away first"),
        (("away", "Q"), "There is no Q on the board."),
        (("goal", "", "S1"), "Say what should run."),
        (("goal", "L1", ""), "Say what works L1: switches, or a call."),
        (("goal", "L1", "", "stops"), "Say what L1 stops."),
        (("goal", "L1", "S1"), "That is said of L1 already."),
        (("raceway", "", "EMT", "12 ft", "LP", "B"), "cannot be read"),
        (("wire", "", "12 THHN", "12 ft", "LP", "B", "black", "RW9"), "The raceway RW9 is not on this board"),
        (("wire", "", "12 THHN", "12 ft", "LP", "B", "black in RW9 #"), "without # and quotes"),
        (("room", "", "kichen", "", "A"), "Did you mean kitchen?"),
        (("room", "", "bath", "", "S1"), "Name the box here: A."),
        (("room", "", "bath", "", ""), "cannot be read"),
        (("room", "", "", "", "A"), "A is in no room. Choose one."),
        (("goal", "L9", "S1"), "L9 is not on this board"),
    ],
)
def test_what_cannot_be_placed_is_said(placing, says):
    with pytest.raises(CannotPlace) as caught:
        put(RIGHT, *placing)
    assert says in str(caught.value)


def test_an_answer_has_the_text_and_the_name_or_why_not():
    asked = Question("shed.wire", RIGHT, placing=Placing("box", kind="device", size="18 cu in"))
    told = json.loads(place_answer("shed.wire", asked))
    assert told["name"] == "C"
    assert "box C device 18 cu in" in told["text"]
    part = Question("shed.wire", 'part lamp "A lamp"', placing=asked.placing)
    assert json.loads(place_answer("shed.wire", part)) == {"refused": "it is a part, not a board"}


def test_what_is_no_placing_is_no_question():
    sent = {"file": "a.wire", "text": "", "placing": {"what": "box", "kind": "device"}}
    assert question(json.dumps(sent).encode()).placing == Placing("box", kind="device")
    for wrong in ([], {"what": "bomb"}, {"what": "box", "kind": 7}):
        with pytest.raises(ValueError):
            question(json.dumps({**sent, "placing": wrong}).encode())


@pytest.mark.slow
def test_the_parts_are_listed_with_the_words_of_people_and_pictures():
    told = {
        one["name"]: one for one in json.loads(parts_answer("shed.wire", Question("shed.wire", "")))["parts"]
    }
    own_lines = {"afci-breaker", "breaker", "gfci-breaker", "lug", "metal-box", "panel"}
    assert set(told) == set(wirecheck.shipped_parts().names()) - own_lines
    assert "three-way" in told["3-way-switch"]["words"]
    assert told["lampholder"]["picture"].startswith("<svg")
    assert sum(not one["picture"] for one in told.values()) < 12
    for one in told.values():
        for value in [value for each in one["values"] for value in each["values"]] or [""]:
            put(RIGHT, "device", "", one["name"], value, "A")
