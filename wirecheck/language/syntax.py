"""What a file says: its statements, each with its span in the text.

The reader (`reader.py`) turns text into a `Syntax`; `wirecheck.model` and
`wirecheck.parts` turn that into a board or a part. Nothing here knows what a
name means. Lines and columns count from 1; a span's end column is the column
after its last character, so `text[column - 1:end_column - 1]` is what it covers.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple

Shown = Literal["as questions", "in full", "not"]
"""How a student is told of the mends of her work."""


class Span(NamedTuple):
    """A stretch of one file: from (line, column) up to (end_line, end_column)."""

    line: int
    column: int
    end_line: int
    end_column: int


class Word(NamedTuple):
    """A name or a plain word as written, with its place."""

    text: str
    span: Span

    @property
    def path(self) -> tuple[str, ...]:
        """The names between its dots, from the outside in.

        >>> Word("F.limit.a", Span(1, 1, 1, 10)).path
        ('F', 'limit', 'a')
        """
        return tuple(self.text.split("."))

    @property
    def within(self) -> str:
        """What stands before its last dot, nothing where there is none.

        >>> Word("F.limit.a", Span(1, 1, 1, 10)).within, Word("F", Span(1, 1, 1, 2)).within
        ('F.limit', '')
        """
        return ".".join(self.path[:-1])

    @property
    def inside(self) -> str:
        """What stands after its first dot, nothing where there is none.

        >>> Word("F.limit.a", Span(1, 1, 1, 10)).inside, Word("F", Span(1, 1, 1, 2)).inside
        ('limit.a', '')
        """
        return ".".join(self.path[1:])


class Quantity(NamedTuple):
    """A value with its unit: SI in `value`, the writer's own in `text`.

    `dimension` is one of `length volume area current voltage power
    apparent-power temperature time resistance ratio percent horsepower
    capacitance frequency number`; `number` stands for a bare number, without a unit.
    Temperatures are in degrees Celsius, the one exception to SI, since every
    table of the trade is; percent is a fraction of one.
    """

    value: float
    dimension: str
    text: str
    span: Span

    @property
    def metric(self) -> bool:
        """Whether it is a length that its writer gave in meters or parts of them.

        >>> Quantity(0.016, "length", "16 mm", Span(1, 1, 1, 6)).metric
        True
        """
        return self.dimension == "length" and self.text.endswith(("m", "meter", "meters", "metre", "metres"))


# ------------------------------------------------------------------- boards


class BoardTitle(NamedTuple):
    """`board "TITLE"`."""

    title: Word
    span: Span


class Code(NamedTuple):
    """`code nec 2023`."""

    name: Word
    edition: Quantity
    span: Span


class Ambient(NamedTuple):
    """`ambient 30 C`."""

    temperature: Quantity
    span: Span


class PanelStatement(NamedTuple):
    """`panel LP 120/240 V, 10 kA available, 200 A main, 225 A bus`, or `subpanel SP 120/240 V, bonded`.

    `system` is as written, `120/240` or `120/240 delta`; a subpanel is `fed` by a breaker of another panel.
    """

    name: Word
    system: Word
    available: Quantity | None
    span: Span
    main: Quantity | None = None
    bus: Quantity | None = None
    flags: tuple[Word, ...] = ()
    fed: bool = False


class Sight(NamedTuple):
    """`6 ft from CU`, `within sight of CU`, `out of sight of CU`.

    `away` is the distance where the line says one, `seen` what it says by words.
    """

    of: Word
    away: Quantity | None
    seen: bool | None
    span: Span


class BreakerStatement(NamedTuple):
    """`breaker LP.3 15 A 2-pole gfci leg a tied to LP.5`."""

    name: Word
    rating: Quantity
    flags: tuple[Word, ...]
    leg: Word | None
    tied: Word | None
    span: Span
    sights: tuple[Sight, ...] = ()


class Addition(NamedTuple):
    """`1-gang ring 3.5 cu in`, `extension 4 x 1-1/2 in`: what is put on a box."""

    words: tuple[Word, ...]
    volume: Quantity | None
    trade_size: Word | None
    span: Span


class BoxStatement(NamedTuple):
    """`box A device 20.3 cu in metal` or `box A octagon 4 x 1-1/2 in clamps, extension 4 x 1-1/2 in`."""

    name: Word
    kind: Word
    volume: Quantity | None
    trade_size: Word | None
    flags: tuple[Word, ...]
    span: Span
    added: tuple[Addition, ...] = ()


class RoomStatement(NamedTuple):
    """`room kitchen K1, K2, K3`."""

    kind: Word
    places: tuple[Word, ...]
    span: Span


class BundleStatement(NamedTuple):
    """`bundle W1, W2, W3 4 ft`."""

    runs: tuple[Word, ...]
    length: Quantity
    span: Span


class Some(NamedTuple):
    """`2 to 5 of 14 AWG`: so many wires of a size."""

    least: int
    most: int
    size: Word


class ConnectorStatement(NamedTuple):
    """`connector RED 2 to 5 of 14 AWG, 1 of 10 AWG and 2 to 3 of 12 AWG`."""

    name: Word
    combinations: tuple[tuple[Some, ...], ...]
    span: Span


class Measure(NamedTuple):
    """`free 7 in`: what the tape measure says of one end of a run."""

    name: Word
    value: Quantity
    span: Span


class RunEnd(NamedTuple):
    """The place where a run begins or ends, with its measures."""

    place: Word
    measures: tuple[Measure, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class CableStatement:
    """`cable W1 14/2 NM-B 22 ft from LP (...) to A (...)`; `size` is `14`, `count` 2."""

    name: Word
    size: Word
    count: int
    kind: Word
    aluminum: bool
    length: Quantity
    ends: tuple[RunEnd, RunEnd]
    raceway: Word | None
    span: Span


class WireStatement(NamedTuple):
    """`wire H1 12 THHN black 30 ft from LP to D in R1`; `size` as written: `12`, `1/0`, `2.5 mm2`."""

    name: Word
    size: Word
    kind: Word
    color: Word
    aluminum: bool
    length: Quantity
    ends: tuple[RunEnd, RunEnd]
    raceway: Word | None
    span: Span


class RacewayStatement(NamedTuple):
    """`raceway R1 EMT 1/2 in 30 ft from LP to D`."""

    name: Word
    kind: Word
    size: Quantity
    length: Quantity
    ends: tuple[RunEnd, RunEnd]
    raceway: Word | None
    span: Span


class Setting(NamedTuple):
    """`mca 18.2 A`, or `60 W` alone (then `name` is None); a word may stand for the value."""

    name: Word | None
    value: Quantity | Word
    span: Span


class DeviceStatement(NamedTuple):
    """`L1 is lampholder 60 W in B`, on a board or inside a part."""

    name: Word
    part: Word
    settings: tuple[Setting, ...]
    place: Word | None
    span: Span
    sights: tuple[Sight, ...] = ()


class AtStatement(NamedTuple):
    """`at A`: the joins after it are made there."""

    place: Word
    span: Span


class JoinEnd(NamedTuple):
    """One member of a join; `name` is None for a pigtail, which may have its `size`: `pigtail 12`."""

    name: Word | None
    marked: Word | None
    span: Span
    size: Word | None = None


class JoinStatement(NamedTuple):
    """`W1.bare -- W2.bare -- pigtail -- S1.ground`; `when` only inside a part.

    Of the `options`, `connector RED` and `push-in` are said on a board, the others inside a part.
    """

    ends: tuple[JoinEnd, ...]
    when: Condition | None
    options: tuple[Option, ...]
    span: Span


class CapStatement(NamedTuple):
    """`cap W2.red`."""

    name: Word
    span: Span


class AlterStatement(NamedTuple):
    """`jumper F.limit.a -- F.limit.b`, `lift F.limit.b`, `swap F.limit.b, F.rollout.a`; `act` is its word."""

    act: str
    points: tuple[Word, ...]
    span: Span


class Price(NamedTuple):
    """`costs 5 points`; `points` is None for `costs the stage`."""

    points: float | None
    span: Span


class SensesStatement(NamedTuple):
    """`LPC senses COMP, LLS`: what acts on a control of the board."""

    name: Word
    things: tuple[Word, ...]
    span: Span


class ExpectFrom(NamedTuple):
    """`expect L1 from S1, S2`; every expectation of an exercise may say what it costs."""

    load: Word
    switches: tuple[Word, ...]
    span: Span
    costs: Price | None = None


class ExpectLive(NamedTuple):
    """`expect R1 live`."""

    outlet: Word
    span: Span
    costs: Price | None = None


class ExpectRuns(NamedTuple):
    """`expect heat runs F.inducer, then F.igniter`; no steps for `nothing`.

    Each step is (load, True where `then` stands before it).
    """

    calls: tuple[Word, ...]
    steps: tuple[tuple[Word, bool], ...]
    span: Span
    costs: Price | None = None


class ExpectStops(NamedTuple):
    """`expect F.limit stops F.gas-valve`."""

    safety: Word
    loads: tuple[Word, ...]
    span: Span
    costs: Price | None = None


class ExpectStarts(NamedTuple):
    """`expect START starts M`: pressed and let go, it leaves them running."""

    button: Word
    loads: tuple[Word, ...]
    span: Span
    costs: Price | None = None


class ExpectEnd(NamedTuple):
    """`expect end of cool stops LLS, then COMP`: in that order, and for good.

    Each step is (load, True where `then` stands before it).
    """

    calls: tuple[Word, ...]
    steps: tuple[tuple[Word, bool], ...]
    span: Span
    costs: Price | None = None


# ---------------------------------------------------------------- exercises


class ExerciseTitle(NamedTuple):
    """`exercise "Stair light from two landings"`."""

    title: Word
    span: Span


class StageStatement(NamedTuple):
    """`stage rough-in 30 points`."""

    name: Word
    points: float
    span: Span


class CostsStatement(NamedTuple):
    """`a hazard costs the stage`, `box-fill costs 3 points`."""

    name: Word
    price: Price
    span: Span


class ShowStatement(NamedTuple):
    """`show mends as questions`, `show mends in full`, `show no mends`."""

    mends: Shown
    span: Span


class StudentStatement(NamedTuple):
    """`student "Ana Ruiz"`, on a student's work."""

    name: Word
    span: Span


class ForStatement(NamedTuple):
    """`for "Stair light from two landings"`: the exercise that a work is for."""

    exercise: Word
    span: Span


# ------------------------------------------------------------------- faults


class FaultsTitle(NamedTuple):
    """`faults for "Gas furnace in the shop"`."""

    board: Word
    span: Span


class Opened(NamedTuple):
    """`open TW.white at TS`: a wire that is off there; without a place it is broken on its way.

    Of a terminal inside a cabinet, `open F.limit.b`, it is the lead that goes there.
    """

    wire: Word
    place: Word | None


class Shorted(NamedTuple):
    """`short F.R to F.C through 0.5 ohm`; without its ohms it is metal on metal.

    Of wires with the place where they touch: `short TW.red to TW.white at F`.
    """

    points: tuple[Word, Word]
    place: Word | None
    ohms: Quantity | None


class Poor(NamedTuple):
    """`poor W1.black at A, 8 ohm`; `poor W1.black at A`."""

    wire: Word
    place: Word
    ohms: Quantity | None


class Stuck(NamedTuple):
    """`F.limit stuck open`; of one contact of several, `TM.feed to TM.cool stuck open`."""

    name: Word
    other: Word | None
    position: Word


class BurntOut(NamedTuple):
    """`F.blower burnt out`: a load or a winding that is open inside."""

    name: Word


class Blown(NamedTuple):
    """`F.fuse blown`."""

    name: Word


class Swapped(NamedTuple):
    """`TW.yellow and TW.green swapped at F`; inside a cabinet, `F.limit.b and F.rollout.a swapped`."""

    wires: tuple[Word, Word]
    place: Word | None


Trouble = Opened | Shorted | Poor | Stuck | BurntOut | Blown | Swapped


class FaultStatement(NamedTuple):
    """`fault 1 open TW.white at TS`."""

    number: int
    trouble: Trouble
    span: Span


# ----------------------------------------------------------- what was found


class FoundTitle(NamedTuple):
    """`found on "Gas furnace in the shop"`."""

    board: Word
    span: Span


class StandingStatement(NamedTuple):
    """`with heat`, `with S1 down, cool`, `with nothing`: calls, and switches with their positions.

    `after` is the time since the last call was made, None for when all has had its time.
    """

    moved: tuple[tuple[Word, Word], ...]
    calls: tuple[Word, ...]
    after: Quantity | None
    span: Span


class SawStatement(NamedTuple):
    """`saw F.inducer run`; `does` is run, not run, stop (it ran, and stopped), not stop, trip, or dim."""

    name: Word
    does: str
    span: Span


class ReadStatement(NamedTuple):
    """`read 26.2 V from F.R to F.C`, `read OL from A.a to A.b, power off, W1.red off at A`.

    `points` are two, or the one thing in which amperes were read; `place` is where the ends of wires among
    them are. `value` is None for OL. `off` are wires that were off, each with the place.
    """

    value: Quantity | None
    points: tuple[Word, ...]
    place: Word | None
    power_off: bool
    off: tuple[tuple[Word, Word], ...]
    span: Span


# -------------------------------------------------------------------- parts


class PartTitle(NamedTuple):
    """`part 3-way-switch "A switch that ..."`."""

    name: Word
    title: Word
    span: Span


class SourceStatement(NamedTuple):
    """`source "NEMA WD 6"`."""

    text: Word
    span: Span


class RatingStatement(NamedTuple):
    """`rating current 15 A or 20 A "what the contacts carry"`; the first value is the default."""

    name: Word
    values: tuple[Quantity | Word, ...]
    text: Word | None
    span: Span


class TerminalStatement(NamedTuple):
    """`terminal common hot, black screw, screws 2, holds 1, sizes 14 to 12, rated 60 C "feed or lamp"`."""

    name: Word
    role: Word
    screw: Word | None
    screws: int | None
    holds: int | None
    sizes: tuple[Word, Word] | None
    rated: Quantity | None
    carries: Word | None
    flags: tuple[Word, ...]
    text: Word | None
    span: Span


class PositionsStatement(NamedTuple):
    """`positions up, down`."""

    names: tuple[Word, ...]
    span: Span


class MovedStatement(NamedTuple):
    """`moved by temperature, safety`."""

    by: tuple[Word, ...]
    span: Span


class RespondsStatement(NamedTuple):
    """`senses compressor, valve`: what of its board may act on a part."""

    kinds: tuple[Word, ...]
    span: Span


class ServesStatement(NamedTuple):
    """`serves vehicle-charging`."""

    what: Word
    span: Span


class StandsStatement(NamedTuple):
    """`stands outdoors`."""

    where: Word
    span: Span


class CallsStatement(NamedTuple):
    """`calls heat, cool, fan`."""

    names: tuple[Word, ...]
    span: Span


class StateStatement(NamedTuple):
    """`state control idle, purging, running`."""

    name: Word
    values: tuple[Word, ...]
    span: Span


class GoesStatement(NamedTuple):
    """`control goes from purging to warming after 15 s when pressure is closed`."""

    name: Word
    origins: tuple[Word, ...]
    target: Word
    after: Quantity | Word | None
    when: Condition | None
    span: Span


class EndsStatement(NamedTuple):
    """`cool ends after 20 min when compressor runs`: a thermostat that senses its room ends its own call."""

    call: Word
    after: Quantity | Word | None
    when: Condition | None
    span: Span


class Option(NamedTuple):
    """`works 197 V to 253 V`, `inrush 60 A`, or a flag such as `continuous` (no value)."""

    name: Word
    value: Quantity | Word | None
    upper: Quantity | Word | None
    span: Span


class LoadStatement(NamedTuple):
    """`load compressor motor from a to b, current at 240 V, works 197 V to 253 V`; or with a `third`."""

    name: Word
    kind: Word
    origin: Word
    target: Word
    third: Word | None
    draws: Quantity | Word
    volts: Quantity | Word | None
    options: tuple[Option, ...]
    span: Span


class TransformsStatement(NamedTuple):
    """`transforms 120 V from h to n into 24 V from r to c, capacity 40 VA, impedance 6 %`."""

    primary_volts: Quantity | Word
    primary: tuple[Word, Word]
    secondary_volts: Quantity | Word
    secondary: tuple[Word, Word]
    options: tuple[Option, ...]
    span: Span


class ProtectsStatement(NamedTuple):
    """`protects line to load at current, fuse`."""

    pairs: tuple[tuple[Word, Word], ...]
    rating: Quantity | Word
    options: tuple[Option, ...]
    span: Span


class OutletStatement(NamedTuple):
    """`outlet top from hot-top to neutral, ground ground, rated current`."""

    name: Word
    hot: Word
    neutral: Word
    options: tuple[Option, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class FillsStatement:
    """`fills 1 yoke`."""

    count: float
    what: Word
    span: Span


# --------------------------------------------------------------- conditions


class AnyOf(NamedTuple):
    """`A or B`."""

    facts: tuple[Condition, ...]


class AllOf(NamedTuple):
    """`A and B`."""

    facts: tuple[Condition, ...]


class Negation(NamedTuple):
    """`not A`."""

    fact: Condition


class IsState(NamedTuple):
    """`control is purging`, `pressure-switch is closed`."""

    name: Word
    state: Word


class InPosition(NamedTuple):
    """`up`: the part's own hand is in that position."""

    position: Word


class Runs(NamedTuple):
    """`inducer runs`: the load has the voltage it works at.

    Where a board's line says what a control senses, it is a load of that board, `outside` of the control.
    """

    load: Word
    outside: bool = False

    def named(self, scope: str) -> str:
        """The load's name on the board, for a condition of the device at `scope`."""
        return self.load.text if self.outside or not scope else f"{scope}.{self.load.text}"


class HasVoltage(NamedTuple):
    """`W has 18 V to C`: at least that much between the two terminals."""

    terminal: Word
    volts: Quantity | Word
    reference: Word


class Carries(NamedTuple):
    """`L carries 16 A to M`: at least that much, either way, in the contact between the two terminals."""

    terminal: Word
    amps: Quantity | Word
    other: Word


class WasState(NamedTuple):
    """`control was lighting 3 times` since it last stood in its first state."""

    name: Word
    state: Word
    times: int


class Called(NamedTuple):
    """`call heat`."""

    call: Word


Condition = AnyOf | AllOf | Negation | IsState | InPosition | Runs | HasVoltage | Carries | WasState | Called

BoardStatement = (
    BoardTitle
    | Code
    | Ambient
    | PanelStatement
    | BreakerStatement
    | BoxStatement
    | RoomStatement
    | BundleStatement
    | ConnectorStatement
    | CableStatement
    | WireStatement
    | RacewayStatement
    | DeviceStatement
    | AtStatement
    | JoinStatement
    | CapStatement
    | AlterStatement
    | SensesStatement
    | ExpectFrom
    | ExpectLive
    | ExpectRuns
    | ExpectStops
    | ExpectStarts
    | StudentStatement
    | ForStatement
    | ExpectEnd
)
FaultsStatement = FaultsTitle | FaultStatement
FoundStatement = FoundTitle | StandingStatement | SawStatement | ReadStatement
ExerciseStatement = ExerciseTitle | StageStatement | CostsStatement | ShowStatement
PartStatement = (
    PartTitle
    | SourceStatement
    | RatingStatement
    | TerminalStatement
    | PositionsStatement
    | MovedStatement
    | RespondsStatement
    | EndsStatement
    | StandsStatement
    | ServesStatement
    | CallsStatement
    | StateStatement
    | GoesStatement
    | LoadStatement
    | TransformsStatement
    | ProtectsStatement
    | OutletStatement
    | FillsStatement
    | DeviceStatement
    | JoinStatement
)
Statement = BoardStatement | ExerciseStatement | FaultsStatement | FoundStatement | PartStatement


class Problem(NamedTuple):
    """A mistake in the text or in its names: data, which `words.py` turns into a message.

    `rule` is `syntax`, `unknown-name` or `unknown-part`; `message` says what is
    there, `help` what would do instead (with the near name, if one is near).
    `later` is so where the name may be that of a device which is not yet in: the
    rough-in does not ask for it.
    """

    rule: str
    message: str
    span: Span
    help: str | None = None
    later: bool = False


class Syntax(NamedTuple):
    """A whole file: its statements in order, and what could not be read.

    `text` is the file with newlines as `\\n`, no byte order mark, and a mark
    (U+FFFD) for every character that must not be printed. `broken` holds the
    names that statements with mistakes would have declared, so that nobody
    calls them unknown a second time.
    """

    file: str
    text: str
    statements: tuple[Statement, ...]
    problems: tuple[Problem, ...]
    broken: frozenset[str] = frozenset()
