"""From the parser's tree of one statement to the dataclass that says the same.

`Maker` has one method for each rule of grammar/board.lark, by the rule's name.
It finds what the grammar cannot: a value without a unit or with the wrong one.
"""

from __future__ import annotations

import re
import unicodedata
from typing import Any

from wirecheck.language import syntax
from wirecheck.language.names import MOST_LETTERS
from wirecheck.language.quantity import kind, quantity, shortened, wanted
from wirecheck.language.ranges import RANGES, SLIP, astray
from wirecheck.language.syntax import Condition, Problem, Quantity, Span, Word

MOST_NOT = 8
"""How many times in a row a condition may say `not`."""

_GAUGE = re.compile(r"(\d{1,2}|[1-4]/0)(?:[ \t]*AWG)?")
_CROSS_SECTION = re.compile(r"(\d+(?:\.\d+)?|\.\d+)[ \t]*(mm2|kcmil)")
_METRIC_CORES = re.compile(r"(\d+)x(.+)")

# Words and tokens come from lark, whose types promise less than a parse gives.
Children = list[Any]
Leaf = Any


class Maker:
    """Makes statements out of trees, and keeps the mistakes it meets in `problems`.

    `shift` is the number of lines above the statement: tokens count from their statement.
    """

    __slots__ = ("problems", "shift")

    def __init__(self) -> None:
        self.shift = 0
        self.problems: list[Problem] = []

    def make(self, tree: Leaf, span: Span) -> syntax.Statement:
        """The statement that a tree stands for."""
        statement: syntax.Statement = getattr(self, tree.data)(tree.children, span)
        return statement

    # ---------------------------------------------------------------- pieces

    def span(self, first: Leaf, last: Leaf) -> Span:
        """From the first of two tokens to the end of the last."""
        shift = self.shift
        return Span(first.line + shift, first.column, last.end_line + shift, last.end_column)

    def word(self, token: Leaf) -> Word:
        """A token as a word."""
        shift = self.shift
        place = Span(token.line + shift, token.column, token.end_line + shift, token.end_column)
        if len(token.value) > MOST_LETTERS:
            self.mistake(
                f"{shortened(token.value)} has {len(token.value)} letters: {MOST_LETTERS} are the most here",
                place,
            )
        return Word(token.value, place)

    def words(self, tokens: Children) -> tuple[Word, ...]:
        """Tokens as words."""
        return tuple([self.word(token) for token in tokens])

    def text(self, token: Leaf) -> Word:
        """Words in quotes, without the quotes, each letter in one form (Unicode's NFC)."""
        return Word(unicodedata.normalize("NFC", token.value[1:-1]), self.span(token, token))

    def mistake(self, message: str, span: Span, advice: str | None = None) -> None:
        """Note a mistake of this statement."""
        self.problems.append(Problem("syntax", message, span, advice))

    # ---------------------------------------------------------------- values

    def quantity(self, token: Leaf) -> Quantity:
        """A value of any kind, or a bare number."""
        place = self.span(token, token)
        try:
            return quantity(token.value, place)
        except ValueError as error:
            self.mistake(str(error), place)
            return Quantity(0.0, "number", token.value, place)

    def measured(self, token: Leaf, use: str) -> Quantity:
        """A value that must be of a kind, and within the range, that its use has."""
        known = len(self.problems)
        value = self.quantity(token)
        dimensions = tuple(RANGES[use])
        if len(self.problems) > known:
            return value
        if value.dimension not in dimensions:
            written = shortened(value.text)
            said = f"{written} is {kind(value.dimension)}, which does not belong here"
            if value.dimension == "number":
                said = f"{written} is a number without a unit"
            self.mistake(f"{said}: give {wanted(dimensions)}", value.span)
        elif reason := astray(value, use):
            self.mistake(reason, value.span, SLIP)
        return value

    def value(self, token: Leaf, use: str | None = None) -> Quantity | Word:
        """A value, or the name of a rating that holds it; of any kind where no use is given."""
        if token.type == "NAME":
            return self.word(token)
        return self.measured(token, use) if use else self.quantity(token)

    def whole(self, token: Leaf, most: int, example: str) -> int:
        """A bare whole number, one at least."""
        place = self.span(token, token)
        if not token.value.isdecimal() or not token.value.isascii():
            self.mistake(f"{shortened(token.value)} is not a whole number: write {example}", place)
            return 0
        if len(token.value) > 9 or int(token.value) > most:
            self.mistake(f"{shortened(token.value)} is too many: {most} is the most here", place)
            return 0
        if int(token.value) == 0:
            self.mistake(f"{token.value} is too few: 1 is the least here", place)
        return int(token.value)

    def wire_size(self, written: str, place: Span) -> Word:
        """A conductor's size in its standard form: `12`, `1/0`, `250 kcmil`, `2.5 mm2`."""
        if match := _GAUGE.fullmatch(written):
            if match[1] not in ("0", "00") and (len(match[1]) == 3 or int(match[1]) <= 40):
                return Word(match[1] if "/" in match[1] else str(int(match[1])), place)
        elif match := _CROSS_SECTION.fullmatch(written):
            return Word(f"{match[1]} {match[2]}", place)
        self.mistake(
            f"{shortened(written)} is not the size of a wire: give a gauge, as 12 or 1/0, "
            "or a cross-section, as 250 kcmil or 2.5 mm2",
            place,
        )
        return Word(written, place)

    # ---------------------------------------------------------------- boards

    def board(self, children: Children, span: Span) -> syntax.BoardTitle:
        """`board "TITLE"`."""
        return syntax.BoardTitle(self.text(children[0]), span)

    def code(self, children: Children, span: Span) -> syntax.Code:
        """`code nec 2023`."""
        edition = self.quantity(children[1])
        if edition.dimension != "number" or not 1000 <= edition.value <= 9999:
            self.mistake(
                f"{shortened(edition.text)} is not the year of an edition: write a year, as 2023",
                edition.span,
            )
        return syntax.Code(self.word(children[0]), edition, span)

    def ambient(self, children: Children, span: Span) -> syntax.Ambient:
        """`ambient 30 C`."""
        return syntax.Ambient(self.measured(children[0], "ambient"), span)

    def panel(self, children: Children, span: Span) -> syntax.PanelStatement:
        """`panel LP 120/240 V, 10 kA available`."""
        system = self.word(children[1])
        if children[1].type == "AMOUNT":
            self.measured(children[1], "volts")
        system = Word(system.text.rstrip("volts \tV"), system.span)
        available = self.measured(children[2], "available") if len(children) > 2 else None
        return syntax.PanelStatement(self.word(children[0]), system, available, span)

    def breaker(self, children: Children, span: Span) -> syntax.BreakerStatement:
        """`breaker LP.3 15 A 2-pole gfci leg a tied to LP.5`."""
        words: dict[str, Word] = {}
        flags = []
        for option in children[2:]:
            word = self.word(option.children[0])
            if option.data == "flag":
                flags.append(word)
            elif option.data in words:
                self.mistake(f'"{option.data}" stands here twice', word.span)
            else:
                words[option.data] = word
        return syntax.BreakerStatement(
            self.word(children[0]),
            self.measured(children[1], "breaker"),
            tuple(flags),
            words.get("leg"),
            words.get("tied"),
            span,
        )

    def box(self, children: Children, span: Span) -> syntax.BoxStatement:
        """`box A device 20.3 cu in metal`."""
        name, box_kind, *rest = children
        volume = trade_size = None
        flags = []
        for token in rest:
            if token.type == "AMOUNT":
                volume = self.measured(token, "volume")
            elif token.type == "DIMENSIONS":
                size = self.word(token)
                trade_size = Word(
                    " x ".join(size.text.removesuffix("in").replace("x", " ").split()), size.span
                )
            else:
                flags.append(self.word(token))
        return syntax.BoxStatement(
            self.word(name), self.word(box_kind), volume, trade_size, tuple(flags), span
        )

    def cable(self, children: Children, span: Span) -> syntax.CableStatement:
        """`cable W1 14/2 NM-B 22 ft from LP (...) to A (...)`."""
        name, cores, cable_kind, *aluminum, length, run = children
        ends, raceway = self.run(run)
        place = self.span(cores, cores)
        if metric := _METRIC_CORES.fullmatch(cores.value):
            count, size = metric[1], metric[2]
        else:
            size, _, count = cores.value.rpartition("/")
        if len(count) > 2 or int(count) == 0:
            self.mistake(f"{shortened(cores.value)} is no cable: 14/2 has two conductors of size 14", place)
            count = "0"
        return syntax.CableStatement(
            self.word(name),
            self.wire_size(size, place),
            int(count),
            self.word(cable_kind),
            bool(aluminum),
            self.measured(length, "length"),
            ends,
            raceway,
            span,
        )

    def wire(self, children: Children, span: Span) -> syntax.WireStatement:
        """`wire H1 12 THHN black 30 ft from LP to D in R1`."""
        name, size, wire_kind, color, *aluminum, length, run = children
        ends, raceway = self.run(run)
        return syntax.WireStatement(
            self.word(name),
            self.wire_size(size.value, self.span(size, size)),
            self.word(wire_kind),
            self.word(color),
            bool(aluminum),
            self.measured(length, "length"),
            ends,
            raceway,
            span,
        )

    def raceway(self, children: Children, span: Span) -> syntax.RacewayStatement:
        """`raceway R1 EMT 1/2 in 30 ft from LP to D`."""
        name, raceway_kind, size, length, run = children
        ends, raceway = self.run(run)
        return syntax.RacewayStatement(
            self.word(name),
            self.word(raceway_kind),
            self.measured(size, "trade size"),
            self.measured(length, "length"),
            ends,
            raceway,
            span,
        )

    def run(self, tree: Leaf) -> tuple[tuple[syntax.RunEnd, syntax.RunEnd], Word | None]:
        """The two ends of a run, and the raceway it is in."""
        origin, target, *raceway = tree.children
        return (self.place(origin), self.place(target)), self.word(raceway[0]) if raceway else None

    def place(self, tree: Leaf) -> syntax.RunEnd:
        """One end of a run."""
        name, *measures = tree.children
        if not measures:
            word = self.word(name)
            return syntax.RunEnd(word, (), word.span)
        close = measures.pop()
        return syntax.RunEnd(
            self.word(name), tuple([self.measure(each) for each in measures]), self.span(name, close)
        )

    def measure(self, tree: Leaf) -> syntax.Measure:
        """What the tape measure says; it may say nothing at all, as `free 0 in`."""
        name, amount = tree.children
        value = self.measured(amount, "measure")
        return syntax.Measure(self.word(name), value, self.span(name, amount))

    def device(self, children: Children, span: Span) -> syntax.DeviceStatement:
        """`L1 is lampholder 60 W in B`."""
        name, part, *rest = children
        place = self.word(rest.pop()) if rest and not hasattr(rest[-1], "data") else None
        settings = tuple([self.setting(each) for each in rest])
        return syntax.DeviceStatement(self.word(name), self.word(part), settings, place, span)

    def setting(self, tree: Leaf) -> syntax.Setting:
        """A value given to a part, by its name or by its kind alone."""
        if tree.data == "setting":
            name, amount = tree.children
            return syntax.Setting(self.word(name), self.value(amount), self.span(name, amount))
        (amount,) = tree.children
        value = self.quantity(amount)
        if value.dimension == "number":
            self.mistake(
                f"{shortened(value.text)} is a number without a unit: say what it is, as 15 A, 60 W or 40 VA",
                value.span,
            )
        return syntax.Setting(None, value, value.span)

    def at(self, children: Children, span: Span) -> syntax.AtStatement:
        """`at A`."""
        return syntax.AtStatement(self.word(children[0]), span)

    def join(self, children: Children, span: Span) -> syntax.JoinStatement:
        """`W1.bare -- W2.bare -- pigtail -- S1.ground`, and `line -- load when on, rated current`."""
        ends = [each for each in children if each is not None and each.data in ("end", "pigtail")]
        when, *options = children[len(ends) :]
        condition = self.condition(when) if when is not None else None
        return syntax.JoinStatement(
            tuple([self.end(each) for each in ends]), condition, self.options(options), span
        )

    def end(self, tree: Leaf) -> syntax.JoinEnd:
        """One member of a join."""
        children = tree.children
        name = self.word(children[0])
        if tree.data == "pigtail":
            return syntax.JoinEnd(None, None, name.span)
        if len(children) == 1:
            return syntax.JoinEnd(name, None, name.span)
        return syntax.JoinEnd(name, self.word(children[1]), self.span(children[0], children[1]))

    def cap(self, children: Children, span: Span) -> syntax.CapStatement:
        """`cap W2.red`."""
        return syntax.CapStatement(self.word(children[1]), span)

    def expect_from(self, children: Children, span: Span) -> syntax.ExpectFrom:
        """`expect L1 from S1, S2`."""
        return syntax.ExpectFrom(self.word(children[0]), self.words(children[1:]), span)

    def expect_live(self, children: Children, span: Span) -> syntax.ExpectLive:
        """`expect R1 live`."""
        return syntax.ExpectLive(self.word(children[0]), span)

    def expect_nothing(self, children: Children, span: Span) -> syntax.ExpectRuns:
        """`expect idle runs nothing`."""
        return syntax.ExpectRuns(self.words(children), (), span)

    def expect_runs(self, children: Children, span: Span) -> syntax.ExpectRuns:
        """`expect heat runs F.inducer, then F.igniter`."""
        names = [each for each in children if not hasattr(each, "data")]
        later = [(self.word(each.children[0]), each.data == "then") for each in children[len(names) :]]
        first = (self.word(names[-1]), False)
        return syntax.ExpectRuns(self.words(names[:-1]), (first, *later), span)

    def expect_stops(self, children: Children, span: Span) -> syntax.ExpectStops:
        """`expect F.limit stops F.gas-valve`."""
        return syntax.ExpectStops(self.word(children[0]), self.words(children[1:]), span)

    # ----------------------------------------------------------------- parts

    def part(self, children: Children, span: Span) -> syntax.PartTitle:
        """`part 3-way-switch "A switch that ..."`."""
        return syntax.PartTitle(self.word(children[0]), self.text(children[1]), span)

    def source(self, children: Children, span: Span) -> syntax.SourceStatement:
        """`source "NEMA WD 6"`."""
        return syntax.SourceStatement(self.text(children[1]), span)

    def rating(self, children: Children, span: Span) -> syntax.RatingStatement:
        """`rating current 15 A or 20 A "what the contacts carry"`."""
        name, *values = children
        text = self.text(values.pop()) if values[-1].type == "TEXT" else None
        return syntax.RatingStatement(
            self.word(name), tuple([self.value(each) for each in values]), text, span
        )

    def terminal(self, children: Children, span: Span) -> syntax.TerminalStatement:
        """`terminal common hot, black screw, screws 2, holds 1, sizes 14 to 12, rated 60 C "feed"`."""
        name, role, *options = children
        text = self.text(options.pop()) if options and not hasattr(options[-1], "data") else None
        screw = screws = holds = sizes = rated = carries = None
        flags = []
        for option in options:
            first, *second = option.children
            if option.data == "screw":
                screw = self.word(first)
            elif option.data == "screws":
                screws = self.whole(first, 8, "screws 2")
            elif option.data == "holds":
                holds = self.whole(first, 1000, "holds 1")
            elif option.data == "sizes":
                small = self.wire_size(first.value, self.span(first, first))
                large = self.wire_size(second[0].value, self.span(second[0], second[0]))
                sizes = (small, large)
            elif option.data == "rated":
                rated = self.measured(first, "terminal")
            elif option.data == "carries":
                carries = self.word(first)
            else:
                flags.append(self.word(first))
        return syntax.TerminalStatement(
            self.word(name),
            self.word(role),
            screw,
            screws,
            holds,
            sizes,
            rated,
            carries,
            tuple(flags),
            text,
            span,
        )

    def positions(self, children: Children, span: Span) -> syntax.PositionsStatement:
        """`positions up, down`."""
        return syntax.PositionsStatement(self.words(children), span)

    def moved(self, children: Children, span: Span) -> syntax.MovedStatement:
        """`moved by temperature, safety`."""
        return syntax.MovedStatement(self.words(children), span)

    def stands(self, children: Children, span: Span) -> syntax.StandsStatement:
        """`stands outdoors`."""
        return syntax.StandsStatement(self.word(children[0]), span)

    def calls(self, children: Children, span: Span) -> syntax.CallsStatement:
        """`calls heat, cool, fan`."""
        return syntax.CallsStatement(self.words(children), span)

    def state(self, children: Children, span: Span) -> syntax.StateStatement:
        """`state control idle, purging, running`."""
        return syntax.StateStatement(self.word(children[0]), self.words(children[1:]), span)

    def goes(self, children: Children, span: Span) -> syntax.GoesStatement:
        """`control goes from purging to warming after 15 s when pressure is closed`."""
        *names, after, when = children
        name, target = names[0], names[-1]
        origins = self.words(names[1].children) if len(names) == 3 else ()
        return syntax.GoesStatement(
            self.word(name),
            origins,
            self.word(target),
            self.value(after, "time") if after is not None else None,
            self.condition(when) if when is not None else None,
            span,
        )

    def load(self, children: Children, span: Span) -> syntax.LoadStatement:
        """`load compressor motor from a to b, current at 240 V, works 197 V to 253 V`."""
        _, name, load_kind, origin, target, draws, volts, *options = children
        return syntax.LoadStatement(
            self.word(name),
            self.word(load_kind),
            self.word(origin),
            self.word(target),
            self.value(draws, "draw"),
            self.value(volts, "volts") if volts is not None else None,
            self.options(options),
            span,
        )

    def options(self, trees: Children) -> tuple[syntax.Option, ...]:
        """What a load, a transformer, a protection, an outlet or a contact is like."""
        options = []
        for tree in trees:
            name, *values = tree.children
            value, upper, *_ = *map(self.value, values), None, None
            options.append(syntax.Option(self.word(name), value, upper, self.span(name, tree.children[-1])))
        return tuple(options)

    def transforms(self, children: Children, span: Span) -> syntax.TransformsStatement:
        """`transforms 120 V from h to n into 24 V from r to c, capacity 40 VA, impedance 6 %`."""
        primary, hot, neutral, secondary, r, c, *options = children
        return syntax.TransformsStatement(
            self.value(primary, "winding"),
            (self.word(hot), self.word(neutral)),
            self.value(secondary, "winding"),
            (self.word(r), self.word(c)),
            self.options(options),
            span,
        )

    def protects(self, children: Children, span: Span) -> syntax.ProtectsStatement:
        """`protects line to load at current, fuse`."""
        leaves = [each for each in children if not hasattr(each, "data")]
        *names, rating = leaves
        pairs = zip(self.words(names[::2]), self.words(names[1::2]), strict=True)
        return syntax.ProtectsStatement(
            tuple(pairs), self.value(rating, "fuse"), self.options(children[len(leaves) :]), span
        )

    def outlet(self, children: Children, span: Span) -> syntax.OutletStatement:
        """`outlet top from hot-top to neutral, ground ground, rated current`."""
        name, hot, neutral, *options = children
        return syntax.OutletStatement(
            self.word(name), self.word(hot), self.word(neutral), self.options(options), span
        )

    def fills(self, children: Children, span: Span) -> syntax.FillsStatement:
        """`fills 1 yoke`."""
        count = self.measured(children[0], "fills")
        return syntax.FillsStatement(count.value, self.word(children[1]), span)

    # ------------------------------------------------------------ conditions

    def condition(self, tree: Leaf) -> Condition:
        """What must be so. It nests no deeper than or, and, `MOST_NOT` times not, one fact."""
        if tree.data == "any_of":
            return syntax.AnyOf(tuple([self.condition(each) for each in tree.children]))
        if tree.data == "all_of":
            return syntax.AllOf(tuple([self.condition(each) for each in tree.children]))
        negations = 0
        while tree.data == "negation":
            (tree,) = tree.children
            negations += 1
        fact: Condition = self.fact(tree)
        if negations > MOST_NOT:
            token = tree.children[0]
            self.mistake(f'"not" stands {negations} times in a row: write it once', self.span(token, token))
            negations = 1
        for _ in range(negations):
            fact = syntax.Negation(fact)
        return fact

    def fact(self, tree: Leaf) -> Condition:
        """One thing that is so."""
        children = tree.children
        first = self.word(children[0])
        if tree.data == "is_state":
            return syntax.IsState(first, self.word(children[1]))
        if tree.data == "runs":
            return syntax.Runs(first)
        if tree.data == "has_voltage":
            volts = self.value(children[1], "volts")
            return syntax.HasVoltage(first, volts, self.word(children[2]))
        if tree.data == "was_state":
            times = self.whole(children[2], 1000, "was lighting 3 times")
            return syntax.WasState(first, self.word(children[1]), times)
        if tree.data == "called":
            return syntax.Called(first)
        return syntax.InPosition(first)
