"""Every form of statement, and what each says."""

import dataclasses

import pytest

from wirecheck.language import syntax
from wirecheck.language.reader import read

# A statement and the same with its words and values alone, as `plain` gives them.
SOURCE = (None, None, (), False)
FORMS = [
    ('board "Stair light"', ("BoardTitle", "Stair light")),
    ("code nec 2023", ("Code", "nec", (2023.0, "number"))),
    ("ambient 86 F", ("Ambient", (30.0, "temperature"))),
    (
        "panel LP 120/240 V, 10 kA available",
        ("PanelStatement", "LP", "120/240", (10_000.0, "current"), *SOURCE),
    ),
    (
        "panel LP 120/240 V, 22 kA available, 200 A main, 225 A bus",
        (
            *("PanelStatement", "LP", "120/240", (22_000.0, "current")),
            *((200.0, "current"), (225.0, "current"), (), False),
        ),
    ),
    ("panel LP 208Y/120 V", ("PanelStatement", "LP", "208Y/120", None, *SOURCE)),
    ("panel LP 240 V", ("PanelStatement", "LP", "240", None, *SOURCE)),
    ("panel LP 120V", ("PanelStatement", "LP", "120", None, *SOURCE)),
    ("subpanel SP 120/240 V", ("PanelStatement", "SP", "120/240", None, None, None, (), True)),
    (
        "subpanel SP 208Y/120 V, 60 A main, 100 A bus, detached bonded",
        (
            *("PanelStatement", "SP", "208Y/120", None, (60.0, "current"), (100.0, "current")),
            *(("detached", "bonded"), True),
        ),
    ),
    ("breaker LP.3 15 A", ("BreakerStatement", "LP.3", (15.0, "current"), (), None, None, ())),
    (
        "breaker LP.3 15 A 2-pole gfci leg a tied to LP.5",
        ("BreakerStatement", "LP.3", (15.0, "current"), ("2-pole", "gfci"), "a", "LP.5", ()),
    ),
    (
        "breaker LP.3A 15 A lockable, out of sight of CU",
        (
            *("BreakerStatement", "LP.3A", (15.0, "current"), ("lockable",), None, None),
            (("Sight", "CU", None, False),),
        ),
    ),
    (
        "D is disconnect-2-pole 30 A, 6 ft from CU, within sight of AH",
        (
            *("DeviceStatement", "D", "disconnect-2-pole", (("Setting", None, (30.0, "current")),), None),
            (("Sight", "CU", (6 * 0.3048, "length"), None), ("Sight", "AH", None, True)),
        ),
    ),
    (
        "D is disconnect-2-pole in B, 6 ft from CU",
        (
            "DeviceStatement",
            "D",
            "disconnect-2-pole",
            (),
            "B",
            (("Sight", "CU", (6 * 0.3048, "length"), None),),
        ),
    ),
    (
        "D is disconnect-2-pole, out of sight of CU",
        ("DeviceStatement", "D", "disconnect-2-pole", (), None, (("Sight", "CU", None, False),)),
    ),
    (
        "F is fused-disconnect with fuse 15 A, 6 ft from CU",
        (
            *("DeviceStatement", "F", "fused-disconnect", (("Setting", "fuse", (15.0, "current")),), None),
            (("Sight", "CU", (6 * 0.3048, "length"), None),),
        ),
    ),
    ("box A device", ("BoxStatement", "A", "device", None, None, (), ())),
    (
        "box A device 2-gang 34 cu in clamps",
        ("BoxStatement", "A", "device", (34 * 0.0254**3, "volume"), None, ("2-gang", "clamps"), ()),
    ),
    ("box A octagon 4x1-1/2 in clamps", ("BoxStatement", "A", "octagon", None, "4 x 1-1/2", ("clamps",), ())),
    (
        "box A device 3 x 2 x 2-3/4 metal wet",
        ("BoxStatement", "A", "device", None, "3 x 2 x 2-3/4", ("metal", "wet"), ()),
    ),
    (
        "box A device 20 cu in metal",
        ("BoxStatement", "A", "device", (20 * 0.0254**3, "volume"), None, ("metal",), ()),
    ),
    (
        "cable W1 14/2 NM-B 10 m from LP (free 8 in) to A (free 7 in, every 48 in) in R1",
        (
            *("CableStatement", "W1", "14", 2, "NM-B", False, (10.0, "length")),
            (
                ("RunEnd", "LP", (("Measure", "free", (8 * 0.0254, "length")),)),
                (
                    "RunEnd",
                    "A",
                    (
                        ("Measure", "free", (7 * 0.0254, "length")),
                        ("Measure", "every", (48 * 0.0254, "length")),
                    ),
                ),
            ),
            "R1",
        ),
    ),
    (
        "cable W1 4/0/3 SER aluminum 10 m from LP to A",
        (
            *("CableStatement", "W1", "4/0", 3, "SER", True, (10.0, "length")),
            (("RunEnd", "LP", ()), ("RunEnd", "A", ())),
            None,
        ),
    ),
    (
        "cable W1 2x2.5 mm2 NM-B 10 m from LP to A",
        (
            *("CableStatement", "W1", "2.5 mm2", 2, "NM-B", False, (10.0, "length")),
            (("RunEnd", "LP", ()), ("RunEnd", "A", ())),
            None,
        ),
    ),
    ("bundle W1, W2 4 m", ("BundleStatement", ("W1", "W2"), (4.0, "length"))),
    ("jumper F.limit.a -- F.limit.b", ("AlterStatement", "jumper", ("F.limit.a", "F.limit.b"))),
    ("lift F.limit.b", ("AlterStatement", "lift", ("F.limit.b",))),
    ("swap F.limit.b, F.rollout.a", ("AlterStatement", "swap", ("F.limit.b", "F.rollout.a"))),
    ("LPC senses COMP, LLS", ("SensesStatement", "LPC", ("COMP", "LLS"))),
    ("room kitchen K1, K2", ("RoomStatement", "kitchen", ("K1", "K2"))),
    (
        "raceway R1 EMT 1/2 in 10 m from LP to D",
        (
            *("RacewayStatement", "R1", "EMT", (0.0127, "length"), (10.0, "length")),
            (("RunEnd", "LP", ()), ("RunEnd", "D", ())),
            None,
        ),
    ),
    ("S1 is 3-way-switch", ("DeviceStatement", "S1", "3-way-switch", (), None, ())),
    (
        "L1 is lampholder 60 W in B",
        ("DeviceStatement", "L1", "lampholder", (("Setting", None, (60.0, "power")),), "B", ()),
    ),
    (
        "CU is condensing-unit 24 V, 5 A with mca 18.2 A, mode cold in B",
        (
            *("DeviceStatement", "CU", "condensing-unit"),
            (
                ("Setting", None, (24.0, "voltage")),
                ("Setting", None, (5.0, "current")),
                ("Setting", "mca", (18.2, "current")),
                ("Setting", "mode", "cold"),
            ),
            "B",
            (),
        ),
    ),
    ("load is heater", ("DeviceStatement", "load", "heater", (), None, ())),
    ("at A", ("AtStatement", "A")),
    (
        "W1.white marked black -- pigtail -- S1.line",
        (
            "JoinStatement",
            (
                ("JoinEnd", "W1.white", "black", None),
                ("JoinEnd", None, None, None),
                ("JoinEnd", "S1.line", None, None),
            ),
            None,
            (),
        ),
    ),
    (
        "W1.bare -- W2.bare -- pigtail 12 -- S1.ground",
        (
            "JoinStatement",
            (
                ("JoinEnd", "W1.bare", None, None),
                ("JoinEnd", "W2.bare", None, None),
                ("JoinEnd", None, None, "12"),
                ("JoinEnd", "S1.ground", None, None),
            ),
            None,
            (),
        ),
    ),
    (
        "load -- source -- cap",
        (
            "JoinStatement",
            (
                ("JoinEnd", "load", None, None),
                ("JoinEnd", "source", None, None),
                ("JoinEnd", "cap", None, None),
            ),
            None,
            (),
        ),
    ),
    (
        "line -- load when on, rated current, snap-switch",
        (
            "JoinStatement",
            (("JoinEnd", "line", None, None), ("JoinEnd", "load", None, None)),
            ("InPosition", "on"),
            (("Option", "rated", "current", None), ("Option", "snap-switch", None, None)),
        ),
    ),
    (
        "connector RED 2 to 5 of 14 AWG, 1 of 10 and 2 to 3 of 12",
        (
            *("ConnectorStatement", "RED"),
            ((("Some", 2, 5, "14"),), (("Some", 1, 1, "10"), ("Some", 2, 3, "12"))),
        ),
    ),
    (
        "W1.black -- S1.line, connector RED, push-in",
        (
            "JoinStatement",
            (("JoinEnd", "W1.black", None, None), ("JoinEnd", "S1.line", None, None)),
            None,
            (("Option", "connector", "RED", None), ("Option", "push-in", None, None)),
        ),
    ),
    (
        "box A square 4 x 1-1/2 in metal, 1-gang ring 3 cu in, extension",
        (
            *("BoxStatement", "A", "square", None, "4 x 1-1/2", ("metal",)),
            (
                ("Addition", ("1-gang", "ring"), (3 * 0.0254**3, "volume"), None),
                ("Addition", ("extension",), None, None),
            ),
        ),
    ),
    ("cap W2.red", ("CapStatement", "W2.red")),
    ("expect L1 from S1, S2", ("ExpectFrom", "L1", ("S1", "S2"), None)),
    ("expect R1 live", ("ExpectLive", "R1", None)),
    ("expect idle runs nothing", ("ExpectRuns", ("idle",), (), None)),
    (
        "expect heat and fan runs F.a, F.b, then F.c",
        ("ExpectRuns", ("heat", "fan"), (("F.a", False), ("F.b", False), ("F.c", True)), None),
    ),
    ("expect F.limit stops F.gas-valve, F.b", ("ExpectStops", "F.limit", ("F.gas-valve", "F.b"), None)),
    (
        "expect end of heat and fan stops F.a, then F.b, F.c",
        ("ExpectEnd", ("heat", "fan"), (("F.a", False), ("F.b", True), ("F.c", False)), None),
    ),
    ("senses compressor, valve", ("RespondsStatement", ("compressor", "valve"))),
    ("cool ends after lasts", ("EndsStatement", "cool", "lasts", None)),
    ("expect START starts M, F", ("ExpectStarts", "START", ("M", "F"), None)),
    ("expect R1 live costs 15 points", ("ExpectLive", "R1", ("Price", 15.0))),
    (
        "expect cool runs F.a, then F.b costs the stage",
        ("ExpectRuns", ("cool",), (("F.a", False), ("F.b", True)), ("Price", None)),
    ),
    ('exercise "Hall light"', ("ExerciseTitle", "Hall light")),
    ("stage rough-in 30 points", ("StageStatement", "rough-in", 30.0)),
    ("a hazard costs the stage", ("CostsStatement", "hazard", ("Price", None))),
    ("box-fill costs 2.5 points", ("CostsStatement", "box-fill", ("Price", 2.5))),
    ("show mends as questions", ("ShowStatement", "as questions")),
    ("show mends in full", ("ShowStatement", "in full")),
    ("show no mends", ("ShowStatement", "not")),
    ('student "Ana Ruiz"', ("StudentStatement", "Ana Ruiz")),
    ('for "Hall light"', ("ForStatement", "Hall light")),
    ('faults for "Hall light"', ("FaultsTitle", "Hall light")),
    ("fault 1 open TW.white at TS", ("FaultStatement", 1, ("Opened", "TW.white", "TS"))),
    ("fault 12 open F.limit.b", ("FaultStatement", 12, ("Opened", "F.limit.b", None))),
    (
        "fault 2 short F.R to F.C through 0.5 ohm",
        ("FaultStatement", 2, ("Shorted", ("F.R", "F.C"), None, (0.5, "resistance"))),
    ),
    (
        "fault 2 short TW.red to TW.white at F",
        ("FaultStatement", 2, ("Shorted", ("TW.red", "TW.white"), "F", None)),
    ),
    (
        "fault 3 poor W1.black at A, 8 ohm",
        ("FaultStatement", 3, ("Poor", "W1.black", "A", (8.0, "resistance"))),
    ),
    ("fault 4 F stuck open", ("FaultStatement", 4, ("Stuck", "F", None, "open"))),
    ("fault 4 K.L1 to K.T1 stuck closed", ("FaultStatement", 4, ("Stuck", "K.L1", "K.T1", "closed"))),
    ("fault 5 A burnt out", ("FaultStatement", 5, ("BurntOut", "A"))),
    ("fault 6 F.fuse blown", ("FaultStatement", 6, ("Blown", "F.fuse"))),
    (
        "fault 7 TW.yellow and TW.green swapped at F",
        ("FaultStatement", 7, ("Swapped", ("TW.yellow", "TW.green"), "F")),
    ),
    ("fault 8 F.a.b and F.c.d swapped", ("FaultStatement", 8, ("Swapped", ("F.a.b", "F.c.d"), None))),
    ('found on "Hall light"', ("FoundTitle", "Hall light")),
    ("with nothing", ("StandingStatement", (), ("nothing",), None)),
    ("with S1 down, cool", ("StandingStatement", (("S1", "down"),), ("cool",), None)),
    ("with heat, after 35 s", ("StandingStatement", (), ("heat",), (35.0, "time"))),
    ("saw F.inducer run", ("SawStatement", "F.inducer", "run")),
    ("saw F.inducer not run", ("SawStatement", "F.inducer", "not run")),
    ("saw F.gas-valve stop", ("SawStatement", "F.gas-valve", "stop")),
    ("saw F.gas-valve not stop", ("SawStatement", "F.gas-valve", "not stop")),
    ("saw L1 dim", ("SawStatement", "L1", "dim")),
    ("saw LP.3 trip", ("SawStatement", "LP.3", "trip")),
    (
        "read 26.2 V from F.R to F.C",
        ("ReadStatement", (26.2, "voltage"), ("F.R", "F.C"), None, False, ()),
    ),
    ("read 9.2 A in PG.black", ("ReadStatement", (9.2, "current"), ("PG.black",), None, False, ())),
    (
        "read OL from W1.black to W1.white at A, power off, W1.red off at LP",
        ("ReadStatement", None, ("W1.black", "W1.white"), "A", True, (("W1.red", "LP"),)),
    ),
    ("a fault costs 10 points", ("CostsStatement", "fault", ("Price", 10.0))),
    ("fault costs 10 points", ("CostsStatement", "fault", ("Price", 10.0))),
    ('part 3-way-switch "A switch"', ("PartTitle", "3-way-switch", "A switch")),
    ('source "NEMA WD 6"', ("SourceStatement", "NEMA WD 6")),
    (
        'rating current 15 A or 20 A or high "what it carries"',
        ("RatingStatement", "current", ((15.0, "current"), (20.0, "current"), "high"), "what it carries"),
    ),
    ("rating poles 2", ("RatingStatement", "poles", ((2.0, "number"),), None)),
    (
        'terminal common hot, black screw, screws 3, holds 2, sizes 14 to 1/0, rated 60 C, copper "feed"',
        (
            *("TerminalStatement", "common", "hot", "black", 3, 2, ("14", "1/0")),
            *((60.0, "temperature"), None, ("copper",), "feed"),
        ),
    ),
    (
        "terminal W-E class-2, carries heat, optional",
        ("TerminalStatement", "W-E", "class-2", None, None, None, None, None, "heat", ("optional",), None),
    ),
    ("terminal a hot", ("TerminalStatement", "a", "hot", None, None, None, None, None, None, (), None)),
    ("positions up, down", ("PositionsStatement", ("up", "down"))),
    ("stands outdoors", ("StandsStatement", "outdoors")),
    ("serves vehicle-charging", ("ServesStatement", "vehicle-charging")),
    ("moved by temperature, safety", ("MovedStatement", ("temperature", "safety"))),
    ("calls heat, cool", ("CallsStatement", ("heat", "cool"))),
    ("state control idle, running", ("StateStatement", "control", ("idle", "running"))),
    ("control goes to idle", ("GoesStatement", "control", (), "idle", None, None)),
    (
        "control goes from purging, lighting to warming after 15 s when pressure is closed",
        (
            *("GoesStatement", "control", ("purging", "lighting"), "warming", (15.0, "time")),
            ("IsState", "pressure", "closed"),
        ),
    ),
    (
        "control goes to idle after delay when a and not b or inducer runs or W has 18 V to C",
        (
            *("GoesStatement", "control", (), "idle", "delay"),
            (
                "AnyOf",
                (
                    ("AllOf", (("InPosition", "a"), ("Negation", ("InPosition", "b")))),
                    ("Runs", "inducer", False),
                    ("HasVoltage", "W", (18.0, "voltage"), "C"),
                ),
            ),
        ),
    ),
    (
        "contact goes from open to closed when L carries 16 A to M or L carries pick-up to M",
        (
            *("GoesStatement", "contact", ("open",), "closed", None),
            (
                "AnyOf",
                (("Carries", "L", (16.0, "current"), "M"), ("Carries", "L", "pick-up", "M")),
            ),
        ),
    ),
    (
        "control goes to lockout when control was lighting 3 times and call heat",
        (
            *("GoesStatement", "control", (), "lockout", None),
            ("AllOf", (("WasState", "control", "lighting", 3), ("Called", "heat"))),
        ),
    ),
    (
        "load compressor motor from a to b, current at 240 V, works 197 V to 253 V, inrush 60 A, continuous",
        (
            *("LoadStatement", "compressor", "motor", "a", "b", None, "current", (240.0, "voltage")),
            (
                ("Option", "works", (197.0, "voltage"), (253.0, "voltage")),
                ("Option", "inrush", (60.0, "current"), None),
                ("Option", "continuous", None, None),
            ),
        ),
    ),
    (
        "load lamp lamp from hot to neutral, 60 W",
        ("LoadStatement", "lamp", "lamp", "hot", "neutral", None, (60.0, "power"), None, ()),
    ),
    (
        "transforms 120 V from h to n into volts from r to c, capacity 40 VA",
        (
            *("TransformsStatement", (120.0, "voltage"), ("h", "n"), "volts", ("r", "c")),
            (("Option", "capacity", (40.0, "apparent-power"), None),),
        ),
    ),
    (
        "protects a to b, c to d at 15 A, fuse",
        (
            *("ProtectsStatement", (("a", "b"), ("c", "d")), (15.0, "current")),
            (("Option", "fuse", None, None),),
        ),
    ),
    (
        "outlet top from hot to neutral, ground ground, rated current",
        (
            *("OutletStatement", "top", "hot", "neutral"),
            (("Option", "ground", "ground", None), ("Option", "rated", "current", None)),
        ),
    ),
    ("fills 2 yoke", ("FillsStatement", 2.0, "yoke")),
]


def plain(value):
    """A statement without its spans: words as text, quantities as (value, dimension)."""
    if isinstance(value, syntax.Word):
        return value.text
    if isinstance(value, syntax.Quantity):
        return (value.value, value.dimension)
    if hasattr(value, "_fields"):
        inside = [each for name, each in zip(value._fields, value, strict=True) if name != "span"]
        return (type(value).__name__, *map(plain, inside))
    if isinstance(value, tuple):
        return tuple(plain(each) for each in value)
    if dataclasses.is_dataclass(value):
        inside = [getattr(value, field.name) for field in dataclasses.fields(value) if field.name != "span"]
        return (type(value).__name__, *map(plain, inside))
    return value


def approximately(value):
    """The same, with numbers compared as floats are."""
    if isinstance(value, tuple):
        return tuple(approximately(each) for each in value)
    return pytest.approx(value, rel=1e-12) if isinstance(value, float) else value


@pytest.mark.parametrize(("text", "meaning"), FORMS, ids=[text for text, _ in FORMS])
def test_every_form_is_read(text, meaning):
    result = read(text)
    assert result.problems == ()
    assert [plain(each) for each in result.statements] == [approximately(meaning)]
    assert result.statements[0].span == (1, 1, 1, len(text) + 1)


def test_every_statement_of_the_syntax_has_a_form():
    made = {meaning[0] for _, meaning in FORMS} | {"WireStatement"}
    assert made == {each.__name__ for each in syntax.Statement.__args__}


@pytest.mark.parametrize(
    ("size", "standard"),
    [
        ("12", "12"),
        ("12 AWG", "12"),
        ("1/0", "1/0"),
        ("4/0 AWG", "4/0"),
        ("2.5 mm2", "2.5 mm2"),
        ("2.5mm2", "2.5 mm2"),
        ("250 kcmil", "250 kcmil"),
    ],
)
def test_the_size_of_a_wire_has_one_form(size, standard):
    (wire,) = read(f"wire H1 {size} THHN black aluminum 30 ft from LP to D in R1").statements
    assert wire.size.text == standard
    assert (wire.kind.text, wire.color.text, wire.aluminum, wire.raceway.text) == (
        "THHN",
        "black",
        True,
        "R1",
    )


@pytest.mark.parametrize(
    "size", ["41", "0", "00", "5/0", "12.5", "012", "250", "1/2", "12 V", "2 in", "999 AWG"]
)
def test_what_is_no_size_of_a_wire_is_told(size):
    result = read(f"wire H1 {size} THHN black 30 ft from LP to D")
    assert [problem.span[:2] for problem in result.problems] == [(1, 9)]
    assert "not the size of a wire" in result.problems[0].message
    assert result.broken == {"H1"}


@pytest.mark.parametrize(
    "line",
    [
        "board -- x",
        "S1 is 3-way-switch with",
        "expect",
        "expect L1",
        "at A B",
        "cap W1.red W2.red",
        "breaker LP.3 15 A leg",
        "breaker LP.3 15 A leg a leg b",
        "terminal a hot, holds 1.5",
        "terminal a hot, holds 99999999999",
        "code nec 23",
        "code nec 2023 A",
        "cable W1 14/0 NM-B 22 ft from LP to A",
        "cable W1 14/100 NM-B 22 ft from LP to A",
        "cable W1 14/2 NM-B 0 ft from LP to A",
        "x goes to y when not",
        "x -- y when a is",
        "-- y",
        "x --",
    ],
)
def test_what_is_no_statement_is_told_once_and_dropped(line):
    result = read(f"box Q device\n{line}\nbox R device")
    assert [problem.span.line for problem in result.problems] == [2]
    kept = [each for each in result.statements if not isinstance(each, syntax.AtStatement)]
    assert [each.name.text for each in kept] == ["Q", "R"]


def test_measures_may_be_nothing_but_lengths_may_not():
    assert read("cable W1 14/2 NM-B 2 ft from LP (free 0 in) to A").problems == ()
    (problem,) = read("cable W1 14/2 NM-B 0 ft from LP (free 8 in) to A").problems
    assert problem.message == "0 ft is too little: a length is between 0.01 in and 328,000 ft"


@pytest.mark.parametrize("times", [1, 7, 8])
def test_a_few_nots_nest(times):
    (goes,) = read("x goes to y when " + "not " * times + "a").statements
    condition = goes.when
    for _ in range(times):
        assert isinstance(condition, syntax.Negation)
        condition = condition.fact
    assert plain(condition) == ("InPosition", "a")


def test_many_nots_do_not_overflow_the_stack():
    result = read("x goes to y when " + "not " * 450 + "a")
    assert result.statements == ()
    assert [problem.message for problem in result.problems] == [
        '"not" stands 450 times in a row: write it once'
    ]


def test_a_letter_with_its_mark_is_one_letter_however_it_was_typed():
    (typed,) = read('board "Cafe\u0301"').statements
    assert typed.title.text == "Caf\u00e9"
