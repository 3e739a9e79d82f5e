"""The board as built: what each line makes of the model, and what is said of names that name nothing."""

from __future__ import annotations

import pytest

from tests.samples import SAMPLES, board, fed
from wirecheck import NotABoard, check, files
from wirecheck.language.reader import read
from wirecheck.model.devices import callers, every_device, in_turn, switches
from wirecheck.model.draft import MOST_PROBLEMS
from wirecheck.parts.library import Library

CABLE = "cable W1 14/2 NM-B 10 ft from LP to A"


def said(*lines: str) -> list[tuple[str, int, str, str | None]]:
    return [(p.rule, p.span.line, p.message, p.help) for p in board(fed(*lines)).problems]


@pytest.mark.parametrize("name", ["stair-light", "cooling-call"])
def test_the_samples_have_no_problem(name: str) -> None:
    text = (SAMPLES / f"{name}.wire").read_text()
    assert not read(text).problems
    assert not board(text).problems


@pytest.mark.parametrize(
    ("position", "leg"), [(1, "a"), (2, "a"), (3, "b"), (4, "b"), (5, "a"), (6, "a"), (41, "a"), (42, "a")]
)
def test_rows_of_a_split_phase_panel_alternate(position: int, leg: str) -> None:
    """Common practice: both positions of a row stand on one leg, and rows alternate."""
    made = board(f'board "P"\npanel LP 120/240 V\nbreaker LP.{position} 15 A')
    assert made.breakers[f"LP.{position}"].poles == ((f"LP.{position}", leg),)


def test_a_leg_that_is_said_goes_before_the_position() -> None:
    made = board('board "P"\npanel LP 120/240 V\nbreaker LP.1 15 A leg b\nbreaker LP.2 30 A 2-pole')
    assert made.breakers["LP.1"].poles == (("LP.1", "b"),)
    assert made.breakers["LP.2"].poles == (("LP.2.a", "a"), ("LP.2.b", "b"))


def test_rows_of_a_three_phase_panel_go_around() -> None:
    lines = "\n".join(f"breaker LP.{n} 20 A" for n in (1, 3, 5, 7))
    made = board(f'board "P"\npanel LP 208Y/120 V\n{lines}')
    assert [breaker.poles[0][1] for breaker in made.breakers.values()] == ["a", "b", "c", "a"]


@pytest.mark.parametrize(
    ("kind", "count", "colors"),
    [
        ("NM-B", 2, ["black", "white", "bare"]),
        ("NM-B", 3, ["black", "red", "white", "bare"]),
        ("MC", 2, ["black", "white", "green"]),
        ("AC", 3, ["black", "red", "white"]),
        # Of tray cable the size counts the green one too.
        ("TC-ER", 3, ["black", "white", "green"]),
        ("TC-ER", 4, ["black", "red", "white", "green"]),
        ("CL2", 2, ["red", "white"]),
        ("CL2", 5, ["red", "white", "green", "yellow", "blue"]),
        ("CL2", 8, ["red", "white", "green", "yellow", "blue", "brown", "orange", "black"]),
    ],
)
def test_the_conductors_of_a_cable(kind: str, count: int, colors: list[str]) -> None:
    made = board(fed("box A junction 21 cu in", f"cable W1 14/{count} {kind} 10 ft from LP to A"))
    assert [conductor.color for conductor in made.runs["W1"].conductors] == colors


def test_what_sits_under_a_screw_and_what_is_spliced() -> None:
    made = board(
        fed(
            "box A device 20.3 cu in",
            CABLE,
            "cable W2 14/2 NM-B 10 ft from A to A",
            "S1 is single-pole-switch in A",
            "at A",
            "W1.bare -- W2.bare -- pigtail -- S1.ground",
            "W1.black -- W2.black -- S1.line",
            "W1.white -- W2.white",
        )
    )
    assert not made.problems
    tailed, crowded, spliced = made.joins
    assert [m.kind for m in tailed.under["S1.ground"]] == ["pigtail"]
    assert [m.name for m in tailed.splice] == ["W1.bare", "W2.bare", "pigtail"]
    assert [m.name for m in crowded.under["S1.line"]] == ["W1.black", "W2.black"]
    assert not crowded.splice
    assert len(spliced.splice) == 2 and not spliced.under


@pytest.mark.parametrize(
    ("joined", "under"),
    [
        ("TS.R -- TW.red -- TS.Y", {"TS.R": ["TW.red", "TS.Y"], "TS.Y": ["TS.R"]}),
        ("F.R -- TW.red -- TS.R", {"F.R": ["TW.red", "TS.R"], "TS.R": ["F.R"]}),
        ("TS.R -- TW.red -- F.R", {"TS.R": ["F.R"], "F.R": ["TW.red", "TS.R"]}),
        ("S.Y -- TW.red -- TS.Y", {"S.Y": ["TS.Y"], "TS.Y": ["TW.red", "S.Y"]}),
        ("TS.Y -- TW.red -- S.Y", {"TS.Y": ["TW.red", "S.Y"], "S.Y": ["TS.Y"]}),
    ],
    ids=["two of one wire", "more on the first", "more on the second", "a lead first", "a lead then"],
)
def test_a_jumper_joins_two_screws_with_a_wire_between(joined: str, under: dict[str, list[str]]) -> None:
    devices = ("TS is powered-thermostat in A", "F is gas-furnace in A", "S is common-wire-sender in A")
    box = "box A junction 42 cu in"
    made = board(fed(box, *devices, "cable TW 18/2 CL2 9 ft from A to A", "at A", joined))
    assert not made.problems
    (join,) = made.joins
    assert {name: [one.name for one in members] for name, members in join.under.items()} == under


@pytest.mark.parametrize(
    ("joined", "under"),
    [
        ("S1.line -- pigtail -- S2.line", [1, 1]),
        ("W1.black -- S1.line -- pigtail -- S2.line", [2, 1]),
        ("W1.black -- S1.line -- pigtail -- S2.line -- pigtail -- S3.line", [2, 1, 1]),
        ("W1.black -- pigtail -- S1.line -- pigtail -- S2.line", [1, 1]),
        ("S1.line -- S2.line -- pigtail -- S3.line", [1, 2, 1]),
        ("S1.line -- W1.black -- pigtail -- S2.line", [1, 1]),
        ("S1.line -- pigtail -- W1.black -- pigtail -- S2.line", [1, 1]),
    ],
)
def test_the_first_pigtail_is_under_the_screw_that_it_begins_at(joined: str, under: list[int]) -> None:
    switches = [f"S{number} is single-pole-switch in A" for number in (1, 2, 3)]
    made = board(fed("box A device 60 cu in 3-gang", CABLE, *switches, "at A", joined))
    assert not made.problems
    (join,) = made.joins
    assert [len(members) for members in join.under.values()] == under


def test_a_single_wire_is_named_alone() -> None:
    wire = ("raceway R1 EMT 1/2 in 9 ft from LP to A", "wire K1 14 THHN black 9 ft from LP to A in R1")
    ((rule, _, message, offer),) = said("box A device 20 cu in", *wire, "at A", "cap K1.black")
    assert (rule, message, offer) == (
        "unknown-name",
        "K1 is a single wire, and has no black.",
        "Write K1 alone.",
    )


def test_a_misspelt_name_gets_the_near_one() -> None:
    (found,) = said("box A device 20 cu in", CABLE, "at A", "W1.blakc -- W1.white")
    assert found[:2] == ("unknown-name", 7)
    assert "W1.black" in (found[3] or "")


@pytest.mark.parametrize(
    ("join", "advice"),
    [
        ("W1.red -- W1.white", "It has: W1.black, W1.white, W1.bare."),
        ("TS.Y -- W1.white", "It has: TS.R, TS.W."),
        ("TS.r -- W1.white", "Did you mean TS.R? It has: TS.R, TS.W."),
        ("LP.5 -- W1.white", "If one is there, write its line: breaker LP.5 15 A. It has: "),
    ],
)
def test_another_color_letter_or_space_is_not_the_nearest_one_misspelt(join: str, advice: str) -> None:
    (found,) = said("box A device 20 cu in", CABLE, "TS is heat-only-thermostat in A", "at A", join)
    assert (found[3] or "").startswith(advice)


@pytest.mark.parametrize(("word", "room"), [("bathroom", "bath"), ("Loft", "attic"), ("kitchn", "kitchen")])
def test_the_word_of_a_house_leads_to_its_kind_of_place(word: str, room: str) -> None:
    (found,) = said("box A device 20 cu in", f"room {word} A")
    assert found[3] == f"Did you mean {room}?"


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("W1 -- W1.white", "W1 is a cable"),
        ("S1 -- W1.white", "S1 is not a screw"),
        ("S1.neutral -- W1.white", "S1 has no neutral"),
        ("A.ground -- W1.bare", "Only a metal box"),
        ("S2.line -- W1.black", "S2.line is in B"),
        ("W2.black -- W1.black", "does not come to A"),
    ],
)
def test_each_way_of_naming_nothing_is_told_apart(line: str, words: str) -> None:
    found = said(
        "box A device 20 cu in",
        "box B device 20 cu in",
        CABLE,
        "cable W2 14/2 NM-B 9 ft from LP to B",
        "S1 is single-pole-switch in A",
        "S2 is single-pole-switch in B",
        "at A",
        line,
    )
    assert len(found) == 1
    assert words in found[0][2]


@pytest.mark.parametrize(
    ("line", "offered"),
    [
        ("expect H1 live", "Did you mean H1.element?"),
        ("expect RG from T1", "expect heat runs"),
        ("expect CU live", "CU.compressor, CU.fan"),
        ("expect idle runs CU", "CU.compressor, CU.fan"),
        ("expect T1 stops H1", "heat"),
    ],
)
def test_what_in_a_device_would_do_is_offered(line: str, offered: str) -> None:
    text = (
        "box A device 60 cu in",
        "H1 is baseboard-heater in A",
        "T1 is line-voltage-thermostat in A",
        "RG is range-receptacle in A",
        "CU is condensing-unit",
        line,
    )
    first = next(one for one in said(*text) if one[0] == "unknown-name")
    assert first[1] == 9
    assert offered in (first[3] or "")


def test_a_device_with_nothing_that_would_do_has_no_offer() -> None:
    ((rule, line, message, offer),) = said(
        "box A device 20 cu in", "S1 is single-pole-switch in A", "expect S1 live"
    )
    assert (rule, line, offer) == ("unknown-name", 6, None)
    assert "S1" in message


@pytest.mark.parametrize(
    "line",
    [
        "timer goes from ready to running after 3 min",
        "positions on, off",
        'part lamp "A lamp"',
        "load lamp lamp from hot to neutral, 60 W at 120 V",
        "fills 1 yoke",
    ],
)
def test_what_belongs_in_a_part_is_refused_on_a_board(line: str) -> None:
    ((rule, at, _, advice),) = said(line)
    assert (rule, at) == ("syntax", 4)
    assert advice is not None


def test_a_value_that_is_named_leaves_the_other_to_the_one_without_a_name() -> None:
    values = board(fed("D is fused-disconnect 60 A with fuse 15 A")).devices["D"].values
    assert {name: value.text for name, value in values.items()} == {"current": "60 A", "fuse": "15 A"}
    ((rule, at, _, _),) = said("D is fused-disconnect 30 A")
    assert (rule, at) == ("syntax", 4)


def test_what_hangs_on_a_broken_line_is_passed_over() -> None:
    found = said(
        "box A device 20 cu in",
        CABLE,
        "S1 is sngle-pole-switch in A",
        "at A",
        "W1.black -- S1.line",
        "W1.white -- S1.load",
    )
    assert [(rule, line) for rule, line, *_ in found] == [("unknown-part", 6)]
    assert found[0][3] == "Did you mean single-pole-switch?"


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("L1 is lampholder 60 VA in A", "fits no rating"),
        ("R1 is duplex-receptacle 30 A in A", "comes with current 15 A or 20 A"),
        ("CU is condensing-unit 18 A", "more than one rating"),
        ("R1 is duplex-receptacle 15 A tamper in A", "takes no value called tamper"),
        ("L1 is lampholder 60 W on A", "takes no value called on"),
        ("L1 is lampholder 60 W, label wet-rated in A", 'such as label, goes the word "with"'),
        ("CU is condensing-unit with mac 18 A", "no rating called mac"),
        ("CU is condensing-unit with mca 18 V", "another kind of value"),
        ("box A device 20 cu in", "already the name of something"),
        ("box B octogon 15 cu in", "not a kind of box"),
        ("cable W1 14/2 NMB 10 ft from LP to A", "not a kind of cable"),
        ("wire H1 50 THHN black 10 ft from LP to A", "size"),
        ("breaker LQ.1 15 A", "The panel LQ"),
        ("breaker LP.0 15 A", "which position"),
        ("breaker LP.9 15 A 3-pole", "3 poles"),
        ("breaker LP.9 15 A leg c", "no leg c"),
        ("code nec 1996", "nec 2017"),
        ("expect L9 from S9", "L9"),
    ],
)
def test_values_and_kinds_that_cannot_be(line: str, words: str) -> None:
    found = said("box A device 20 cu in", line)
    assert any(words in message for _, _, message, _ in found), found


@pytest.mark.parametrize(
    ("line", "column", "advice"),
    [
        ("raceway R1 EMD 1/2 in 9 ft from LP to A", 12, "Did you mean EMT?"),
        ("raceway R1 hose 1/2 in 9 ft from LP to A", 12, "Raceways are: EMT, "),
        ("raceway R1 EMT 7/9 in 9 ft from LP to A", 16, "EMT comes in: 1/2, 3/4, "),
        ("wire H1 12 THWN blak 9 ft from LP to A", 17, "Did you mean black?"),
        ("wire H1 12 THWN mauve 9 ft from LP to A", 17, "Colors are: black, red, "),
        # By its letters alone THW is as near.
        ("wire H1 12 THWM green 9 ft from LP to A", 12, "Did you mean THWN?"),
        # So is THWN, of whose letters fewer are in their places.
        ("wire H1 12 TTHN green 9 ft from LP to A", 12, "Did you mean THHN?"),
        ("wire H1 12 THHN braun 9 ft from LP to A", 17, "Did you mean brown?"),
        ("wire H1 12 THHN GNYE 9 ft from LP to A", 17, "Did you mean green-yellow?"),
        ("wire H1 12 THHN green/yellow 9 ft from LP to A", 17, "write green-yellow"),
        ("wire H1 12 THHN/THWN-2 red 9 ft from LP to A", 12, "write one of the two: THHN or THWN-2"),
        ("raceway R1 PVC-40 1/2 in 9 ft from LP to A", 12, "Did you mean PVC?"),
        ("wire H1 11 THWN black 9 ft from LP to A", 9, "The sizes next to it are 12 and 10."),
        ("cable W1 13/2 NM-B 9 ft from LP to A", 10, "The sizes next to it are 14 and 12."),
        ("cable W1 18/5 CL9 9 ft from LP to A", 15, "Did you mean CL"),
        (f"{CABLE}\nat A\ncap W1.black\nW1.white marked rad -- A.ground", 17, "Did you mean red?"),
    ],
)
def test_a_misspelt_kind_color_or_size_is_found_on_its_word(line: str, column: int, advice: str) -> None:
    (found,) = board(fed("box A device 20 cu in metal", line)).problems
    assert (found.span.column, (found.help or "")[: len(advice)]) == (column, advice)


@pytest.mark.parametrize(
    "line",
    [
        "raceway R1 PVC 3 in 9 ft from LP to A",
        "raceway R1 EMT 16 mm 9 ft from LP to A",
        "wire H1 12 thwn green-yellow 9 ft from LP to A",
        "wire H1 12 XHH grey 9 ft from LP to A",
        "wire H1 1.5 mm2 H07V-K brown 9 ft from LP to A",
        "wire G1 6 bare bare 9 ft from LP to A",
        "cable W1 23/4 CL2 9 ft from LP to A",
    ],
)
def test_what_the_trade_has_and_no_table_is_no_misspelt_word(line: str) -> None:
    assert not board(fed("box A device 20 cu in", line)).problems


def test_what_is_misspelt_is_taken_as_what_is_near() -> None:
    made = board(fed("box A device 20 cu in", "wire H1 11 THWM gren 9 ft from LP to A"))
    wire = made.conductors["H1"]
    assert (wire.size, wire.insulation, wire.color) == ("10", "THWN", "green")


def test_a_wire_of_no_known_color_is_left_out() -> None:
    made = board(fed("box A device 20 cu in", "wire H1 12 THWN mauve 9 ft from LP to A\nat A\ncap H1"))
    assert not made.conductors and len(made.problems) == 1


def test_a_place_is_known_where_a_join_could_not_be_read() -> None:
    """By a name in it, by its own letters, or by the wire's line; each in its own place."""
    cable = "cable W1 12/2 NM-B 9 ft from LP to A\nwire H1 12 THHN gr?n 9 ft from LP to A\n"
    for join, unread in (
        ("W1.bare -- LP.ground", ()),
        ("W1.bar -- LP.ground", ("LP",)),
        ("W1.bare -- LP.gro?und", ("LP",)),
        ("H1 -- LP.ground", ("LP",)),
        ("W1.bare -- LP.ground\nat A\nW1.black -- W1.rde", ("A",)),
    ):
        assert board(fed("box A device 20 cu in", f"{cable}at LP\n{join}")).unread == set(unread)


def test_a_word_is_the_value_of_the_rating_that_has_it() -> None:
    for words in (
        "20 A tamper-resistant weather-resistant",
        "weather-resistant, tamper-resistant, 20 A",
    ):
        made = board(f'board "T"\nR1 is duplex-receptacle {words}')
        values = {name: value.text for name, value in made.devices["R1"].values.items()}
        assert values == {"current": "20 A", "shutters": "tamper-resistant", "weather": "weather-resistant"}
        assert made.problems == ()


def test_the_letters_of_a_word_lead_to_it() -> None:
    (problem,) = board('board "T"\nR1 is duplex-receptacle 20 A WR').problems
    assert problem.help == "Did you mean weather-resistant?"


def test_a_join_needs_a_place() -> None:
    made = board('board "T"\npanel LP 120 V\nLP.neutral -- LP.ground')
    assert "where it is made" in made.problems[0].message


def test_equipment_is_made_of_parts_with_whole_names() -> None:
    made = board((SAMPLES / "cooling-call.wire").read_text())
    names = {device.name for device in every_device(made.devices)}
    assert {"F.limit", "F.gas-valve", "F.blower", "CU.contactor", "CU.compressor"} <= names
    assert set(callers(made)) == {"heat", "cool", "fan"}
    assert [switch.name for switch in switches(made)] == ["D"]


def test_two_makers_of_a_call_can_be_told_apart() -> None:
    made = board(fed("Z1 is heat-only-thermostat", "Z2 is heat-only-thermostat"))
    assert callers(made) == {"heat": ("Z1", "Z2"), "Z1.heat": ("Z1",), "Z2.heat": ("Z2",)}


def test_a_device_may_be_in_one_that_is_declared_below_it() -> None:
    made = board(fed("FS is float-switch in F", "F is gas-furnace"))
    assert not made.problems
    assert made.devices["FS"].place == "F"


def test_of_a_thousand_mistakes_the_first_are_listed() -> None:
    lines = ["at LP", *(f"Q{number}.black -- LP.1" for number in range(1000))]
    problems = board(fed(*lines)).problems
    assert len(problems) == MOST_PROBLEMS + 1
    assert any("not listed" in problem.message for problem in problems)


def test_a_board_larger_than_any_is_refused_before_it_is_built(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("wirecheck.assembly.MOST_STATEMENTS", 100)
    text = 'board "Large"\n' + "".join(f"box B{number} octagon 15.5 cu in\n" for number in range(100))
    with pytest.raises(NotABoard, match="101 statements"):
        check(text)


def test_a_mistake_in_a_part_within_a_part_is_told() -> None:
    texts = {
        "outer": 'part outer "A box of tricks"\nterminal a hot\ninside is inner\na -- inside.a',
        "inner": 'part inner "One trick"\nterminal a hot\nterminal b neutral\na -- c',
    }
    library = Library(lambda name: texts.get(name) or files.part_text(name), lambda: [*texts])
    report = check('board "B"\npanel LP 120 V\nX is outer', library=library)
    (told,) = [one for one in report.findings if one.rule == "unknown-part"]
    assert "inner, which is inside outer, has a mistake on line 4" in told.message


def test_a_board_by_another_edition_is_checked_by_this_one_and_told_so() -> None:
    text = fed("code nec 2014")
    told = [one for one in check(text).findings if one.rule == "syntax"]
    assert [one.severity for one in told] == ["advice"] and "nec 2017" in told[0].message
    told = [one for one in check(text.replace("nec 2014", "nec 1999")).findings if one.rule == "syntax"]
    assert [one.severity for one in told] == ["fault"]


def test_what_is_joined_to_a_breaker_that_cannot_be_read_is_not_told_as_well() -> None:
    text = fed(CABLE, "box A octagon 15.5 cu in", "breaker LP.7 2-pole 30 A", "at LP", "W1.black -- LP.7.a")
    assert not any("7.a" in one.message for one in check(text).findings)


TWO_SCREWS = (
    "box A device 20.3 cu in",
    CABLE,
    "cable W2 14/2 NM-B 10 ft from A to A",
    "R1 is duplex-receptacle in A",
    "at A",
)


def test_a_side_with_two_screws_is_one_terminal_and_a_line_may_say_which() -> None:
    made = board(fed(*TWO_SCREWS, "W1.black -- R1.hot-1", "W2.black -- R1.hot-2", "W1.white -- R1.neutral"))
    assert not made.problems
    assert [list(join.under) for join in made.joins] == [["R1.hot"], ["R1.hot"], ["R1.neutral"]]
    (first,), (second,), (third,) = (sits for join in made.joins for sits in join.under.values())
    assert (first.screw, second.screw, third.screw) == ("R1.hot-1", "R1.hot-2", None)
    assert [join.members[1].name for join in made.joins] == ["R1.hot", "R1.hot", "R1.neutral"]
    assert made.screws["R1.neutral-2"] == "R1.neutral"


def test_tails_jumpers_and_wires_behind_a_screw_know_which_screw_it_is() -> None:
    made = board(
        fed(
            *TWO_SCREWS,
            "W1.black -- W2.black -- pigtail -- R1.hot-2",
            "R1.neutral-1 -- R1.neutral-2 -- W1.white",
            "R1.hot -- W2.white",
        )
    )
    assert not made.problems
    assert [
        [(one.kind, one.screw) for one in sits] for join in made.joins for sits in join.under.values()
    ] == [
        [("pigtail", "R1.hot-2")],
        [("terminal", "R1.neutral-2"), ("terminal", "R1.neutral-1"), ("end", "R1.neutral-2")],
        [("end", None)],
    ]


@pytest.mark.parametrize("name", ["R1.hot-0", "R1.hot-3", "R1.ground-1"])
def test_a_screw_that_a_side_does_not_have_is_unknown(name: str) -> None:
    ((rule, *_),) = said(*TWO_SCREWS, f"W1.black -- {name}")
    assert rule == "unknown-name"


def test_calls_of_one_device_come_together_and_those_of_another_after_them() -> None:
    made = board(fed("Z1 is heat-cool-thermostat", "Z2 is heat-only-thermostat"))
    assert in_turn(made, []) == ()
    assert in_turn(made, ["fan"]) == ({"fan"},)
    assert in_turn(made, ["cool", "fan"]) == ({"cool", "fan"},)
    assert in_turn(made, ["cool", "Z2.heat"]) == ({"cool"}, {"cool", "Z2.heat"})
    assert in_turn(made, ["Z2.heat", "cool", "fan"]) == ({"Z2.heat"}, {"Z2.heat", "cool", "fan"})
    # What both make is made by either.
    assert in_turn(made, ["cool", "heat", "Z2.heat", "cool"]) == ({"cool", "heat", "Z2.heat"},)


def test_a_lead_is_capped_and_a_screw_is_not() -> None:
    lines = ("box A device 20.3 cu in", "box B device 20.3 cu in", "CF is ceiling-fan in A")
    made = board(fed(*lines, "at A", "cap CF.light-hot"))
    assert not made.problems
    assert list(made.capped) == ["CF.light-hot"]
    outlet = "R1 is duplex-receptacle in A"
    for wrong, rule in (("R1.hot", "syntax"), ("R1.hot-2", "syntax"), ("R1.lead", "unknown-name")):
        ((found, *_),) = said(*lines, outlet, "at A", f"cap {wrong}")
        assert found == rule
    ((found, *_),) = said(*lines, "at B", "cap CF.light-hot")
    assert found == "unknown-name"


@pytest.mark.parametrize("part", ["panel", "breaker", "gfci-breaker", "afci-breaker", "metal-box"])
def test_what_has_a_line_of_its_own_is_no_device(part: str) -> None:
    """A metal box within a box would have a screw that bonds nothing."""
    lines = ("box A device 20.3 cu in", CABLE, f"X is {part} in A", "at A", "W1.bare -- X.ground")
    ((rule, line, *_),) = said(*lines)
    assert (rule, line) == ("syntax", 6)


@pytest.mark.parametrize(
    "line",
    [
        "W1.black is lampholder",
        "box LP.x device 20 cu in",
        "panel A.B 120 V",
        "cable LP.ground 14/2 NM-B 9 ft from LP to LP",
        "wire LP.3.a 14 THHN black 9 ft from LP to LP",
        "raceway R.1 EMT 1/2 in 9 ft from LP to LP",
    ],
)
def test_only_what_is_inside_something_has_a_dot_in_its_name(line: str) -> None:
    (problem,) = board(fed(line)).problems
    assert problem.message.endswith("has a dot, and a dot leads into a thing.")


def test_a_name_has_a_hundred_letters_at_most() -> None:
    assert board(fed(f"{'L' * 100} is lampholder")).problems == ()
    (problem,) = board(fed(f"{'L' * 101} is lampholder")).problems
    assert problem.message == f"{'L' * 39}… has 101 letters: 100 are the most here"


@pytest.mark.parametrize("join", ["S1.line -- S1.line", "S1.line -- W -- S1.line", "LP.3 -- W -- LP.3"])
def test_a_join_names_each_of_its_screws_once(join: str) -> None:
    wire = ["S1 is single-pole-switch in A", "wire W 14 THHN black 9 ft from LP to A"]
    place = "LP" if "LP" in join else "A"
    (problem,) = board(fed("box A device 20 cu in", *wire, f"at {place}", join)).problems
    assert problem.message.endswith("stands twice in this join.")
