"""What a file says: its statements, each with its span in the text.

The reader (`reader.py`) turns text into a `Syntax`; `wirecheck.model` and
`wirecheck.parts` turn that into a board or a part. Nothing here knows what a
name means. Lines and columns count from 1; a span's end column is the column
after its last character, so `text[column - 1:end_column - 1]` is what it covers.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple


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
    frequency number`; `number` stands for a bare number, without a unit.
    Temperatures are in degrees Celsius, the one exception to SI, since every
    table of the trade is; percent is a fraction of one.
    """

    value: float
    dimension: str
    text: str
    span: Span


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
    """`panel LP 120/240 V, 10 kA available`; `system` keeps the written form, as `120/240`."""

    name: Word
    system: Word
    available: Quantity | None
    span: Span


class BreakerStatement(NamedTuple):
    """`breaker LP.3 15 A 2-pole gfci leg a tied to LP.5`."""

    name: Word
    rating: Quantity
    flags: tuple[Word, ...]
    leg: Word | None
    tied: Word | None
    span: Span


class BoxStatement(NamedTuple):
    """`box A device 20.3 cu in metal` or `box A octagon 4 x 1-1/2 in clamps`."""

    name: Word
    kind: Word
    volume: Quantity | None
    trade_size: Word | None
    flags: tuple[Word, ...]
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


class AtStatement(NamedTuple):
    """`at A`: the joins after it are made there."""

    place: Word
    span: Span


class JoinEnd(NamedTuple):
    """One member of a join; `name` is None for a pigtail."""

    name: Word | None
    marked: Word | None
    span: Span


class JoinStatement(NamedTuple):
    """`W1.bare -- W2.bare -- pigtail -- S1.ground`; `when` only inside a part.

    Of the `options`, `connector AL-CU` is said on a board, the others inside a part.
    """

    ends: tuple[JoinEnd, ...]
    when: Condition | None
    options: tuple[Option, ...]
    span: Span


class CapStatement(NamedTuple):
    """`cap W2.red`."""

    name: Word
    span: Span


class ExpectFrom(NamedTuple):
    """`expect L1 from S1, S2`."""

    load: Word
    switches: tuple[Word, ...]
    span: Span


class ExpectLive(NamedTuple):
    """`expect R1 live`."""

    outlet: Word
    span: Span


class ExpectRuns(NamedTuple):
    """`expect heat runs F.inducer, then F.igniter`; no steps for `nothing`.

    Each step is (load, True where `then` stands before it).
    """

    calls: tuple[Word, ...]
    steps: tuple[tuple[Word, bool], ...]
    span: Span


class ExpectStops(NamedTuple):
    """`expect F.limit stops F.gas-valve`."""

    safety: Word
    loads: tuple[Word, ...]
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


class Option(NamedTuple):
    """`works 197 V to 253 V`, `inrush 60 A`, or a flag such as `continuous` (no value)."""

    name: Word
    value: Quantity | Word | None
    upper: Quantity | Word | None
    span: Span


class LoadStatement(NamedTuple):
    """`load compressor motor from a to b, current at 240 V, works 197 V to 253 V`."""

    name: Word
    kind: Word
    origin: Word
    target: Word
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
    """`inducer runs`: the load has the voltage it works at."""

    load: Word


class HasVoltage(NamedTuple):
    """`W has 18 V to C`: at least that much between the two terminals."""

    terminal: Word
    volts: Quantity | Word
    reference: Word


class WasState(NamedTuple):
    """`control was lighting 3 times` since it last stood in its first state."""

    name: Word
    state: Word
    times: int


class Called(NamedTuple):
    """`call heat`."""

    call: Word


Condition = AnyOf | AllOf | Negation | IsState | InPosition | Runs | HasVoltage | WasState | Called

BoardStatement = (
    BoardTitle
    | Code
    | Ambient
    | PanelStatement
    | BreakerStatement
    | BoxStatement
    | CableStatement
    | WireStatement
    | RacewayStatement
    | DeviceStatement
    | AtStatement
    | JoinStatement
    | CapStatement
    | ExpectFrom
    | ExpectLive
    | ExpectRuns
    | ExpectStops
)
PartStatement = (
    PartTitle
    | SourceStatement
    | RatingStatement
    | TerminalStatement
    | PositionsStatement
    | MovedStatement
    | StandsStatement
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
Statement = BoardStatement | PartStatement


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
