"""From the parser's tree of one statement to the dataclass that says the same.

`Maker` has one method for each rule of grammar/board.lark, by the rule's name.
It finds what the grammar cannot: a value without a unit or with the wrong one.
"""

from __future__ import annotations

import re
import unicodedata
from itertools import pairwise
from typing import Any

from wirecheck.language import syntax
from wirecheck.language.names import MOST_LETTERS
from wirecheck.language.quantity import kind, quantity, shortened, wanted
from wirecheck.language.ranges import RANGES, SLIP, astray
from wirecheck.language.syntax import Condition, Problem, Quantity, Span, Word

MOST_POINTS = 1000
"""The most points of a stage, or of what a mistake costs."""
MOST_FAULTS = 999
"""The highest number of a fault."""
MOST_NOT = 8
"""How many times in a row a condition may say `not`."""

MOST_IN_CONNECTOR = 20
"""How many wires a connector can be said to hold."""

_GAUGE = re.compile(r"(\d{1,2}|[1-4]/0)(?:[ \t]*AWG)?")
_CROSS_SECTION = re.compile(r"(\d+(?:\.\d+)?|\.\d+)[ \t]*(mm2|kcmil)")
_METRIC_CORES = re.compile(r"(\d+)x(.+)")

# What a panel's line says of it, each with its use in the ranges.
PANEL_VALUES = {"available": "available", "main": "breaker", "bus": "bus"}

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

    def panel(self, children: Children, span: Span, fed: bool = False) -> syntax.PanelStatement:
        """`panel LP 120/240 V, 10 kA available, 200 A main, 225 A bus`."""
        system = self.word(children[1])
        if children[1].type == "AMOUNT":
            self.measured(children[1], "volts")
        said = system.text.removesuffix("delta")
        delta = " delta" if said != system.text else ""
        system = Word(said.rstrip("volts \tV") + delta, system.span)
        values: dict[str, Quantity] = {}
        flags = []
        for option in children[2:]:
            (token,) = option.children
            if option.data == "flag":
                flags.append(self.word(token))
            elif option.data in values:
                self.mistake(f'"{option.data}" stands here twice', self.span(token, token))
            else:
                values[option.data] = self.measured(token, PANEL_VALUES[option.data])
        return syntax.PanelStatement(
            self.word(children[0]),
            system,
            values.get("available"),
            span,
            values.get("main"),
            values.get("bus"),
            tuple(flags),
            fed,
        )

    def subpanel(self, children: Children, span: Span) -> syntax.PanelStatement:
        """`subpanel SP 120/240 V, 60 A main, 100 A bus, bonded, detached`."""
        return self.panel(children, span, fed=True)

    def sight(self, tree: Leaf) -> syntax.Sight:
        """`6 ft from CU`, `within sight of CU` or `out of sight of CU`."""
        *amount, name = tree.children
        if tree.data != "away":
            return syntax.Sight(self.word(name), None, tree.data == "within_sight", self.span(name, name))
        away = self.measured(amount[0], "measure")
        return syntax.Sight(self.word(name), away, None, self.span(amount[0], name))

    def breaker(self, children: Children, span: Span) -> syntax.BreakerStatement:
        """`breaker LP.3 15 A 2-pole gfci leg a tied to LP.5`."""
        words: dict[str, Word] = {}
        flags, sights = [], []
        for option in children[2:]:
            if option.data == "sight":
                sights.append(self.sight(option.children[0]))
                continue
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
            tuple(sights),
        )

    def box(self, children: Children, span: Span) -> syntax.BoxStatement:
        """`box A device 20.3 cu in metal`."""
        name, box_kind, *rest = children
        tokens = [token for token in rest if not hasattr(token, "data")]
        flags, volume, trade_size = self._volume(tokens)
        added = tuple([self.addition(tree) for tree in rest if hasattr(tree, "data")])
        return syntax.BoxStatement(
            self.word(name), self.word(box_kind), volume, trade_size, flags, span, added
        )

    def addition(self, tree: Leaf) -> syntax.Addition:
        """`1-gang ring 3.5 cu in`."""
        words, volume, trade_size = self._volume(tree.children)
        return syntax.Addition(words, volume, trade_size, self.span(tree.children[0], tree.children[-1]))

    def _volume(self, tokens: Children) -> tuple[tuple[Word, ...], Quantity | None, Word | None]:
        """The words of a box or of what is on it, and its volume or its trade size."""
        volume = trade_size = None
        words = []
        for token in tokens:
            if token.type == "AMOUNT":
                volume = self.measured(token, "volume")
            elif token.type == "DIMENSIONS":
                size = self.word(token)
                trade_size = Word(
                    " x ".join(size.text.removesuffix("in").replace("x", " ").split()), size.span
                )
            else:
                words.append(self.word(token))
        return tuple(words), volume, trade_size

    def room(self, children: Children, span: Span) -> syntax.RoomStatement:
        """`room kitchen K1, K2, K3`."""
        kind_of_place, *places = self.words(children)
        return syntax.RoomStatement(kind_of_place, tuple(places), span)

    def bundle(self, children: Children, span: Span) -> syntax.BundleStatement:
        """`bundle W1, W2, W3 4 ft`."""
        *runs, length = children
        return syntax.BundleStatement(self.words(runs), self.measured(length, "length"), span)

    def connector(self, children: Children, span: Span) -> syntax.ConnectorStatement:
        """`connector RED 2 to 5 of 14 AWG, 1 of 10 AWG and 2 to 3 of 12 AWG`."""
        name, *combinations = children
        said = tuple([tuple([self.some(each) for each in one.children]) for one in combinations])
        return syntax.ConnectorStatement(self.word(name), said, span)

    def some(self, tree: Leaf) -> syntax.Some:
        """`2 to 5 of 14 AWG`."""
        least, most, size = tree.children
        first = self.whole(least, MOST_IN_CONNECTOR, "2 to 5 of 14 AWG")
        last = self.whole(most, MOST_IN_CONNECTOR, "2 to 5 of 14 AWG") if most is not None else first
        if last < first:
            self.mistake(
                f"{first} to {last} is no range: write the smaller number first", self.span(least, most)
            )
        return syntax.Some(first, last, self.wire_size(size.value, self.span(size, size)))

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
        """`L1 is lampholder 60 W in B`, `D is disconnect-2-pole 30 A, 6 ft from CU`."""
        name, part, *rest = children
        trees = [each for each in rest if hasattr(each, "data")]
        place = next((self.word(each) for each in rest if not hasattr(each, "data")), None)
        settings = tuple([self.setting(each) for each in trees if each.data in ("setting", "given")])
        for before, word in pairwise(settings):
            self._inches_or_in(before, word)
        sights = tuple([self.sight(each) for each in trees if each.data not in ("setting", "given")])
        return syntax.DeviceStatement(self.word(name), self.word(part), settings, place, span, sights)

    def _inches_or_in(self, before: syntax.Setting, setting: syntax.Setting) -> None:
        """`60 in B`: a number without its unit ate the word before the place."""
        length, word = before.value, setting.value
        bare = before.name is None and setting.name is None
        if not (bare and isinstance(length, Quantity) and isinstance(word, Word)):
            return
        if length.text.endswith((" in", "\tin")):
            self.mistake(
                f'"{length.text}" is so many inches, and then "{shortened(word.text)}" cannot stand here',
                word.span,
                "give the number its own unit before the place, as 60 W in B",
            )

    def setting(self, tree: Leaf) -> syntax.Setting:
        """A value given to a part, by its name or by its kind alone."""
        if tree.data == "setting":
            name, amount = tree.children
            return syntax.Setting(self.word(name), self.value(amount), self.span(name, amount))
        (amount,) = tree.children
        value = self.value(amount)
        if isinstance(value, syntax.Quantity) and value.dimension == "number":
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
            if len(children) == 1:
                return syntax.JoinEnd(None, None, name.span)
            span = self.span(*children)
            size = self.wire_size(children[1].value, self.span(children[1], children[1]))
            return syntax.JoinEnd(None, None, span, size)
        if len(children) == 1:
            return syntax.JoinEnd(name, None, name.span)
        return syntax.JoinEnd(name, self.word(children[1]), self.span(children[0], children[1]))

    def cap(self, children: Children, span: Span) -> syntax.CapStatement:
        """`cap W2.red`."""
        return syntax.CapStatement(self.word(children[1]), span)

    def jumper(self, children: Children, span: Span) -> syntax.AlterStatement:
        """`jumper F.limit.a -- F.limit.b`."""
        return syntax.AlterStatement("jumper", self.words(children), span)

    def lift(self, children: Children, span: Span) -> syntax.AlterStatement:
        """`lift F.limit.b`."""
        return syntax.AlterStatement("lift", self.words(children), span)

    def swap(self, children: Children, span: Span) -> syntax.AlterStatement:
        """`swap F.limit.b, F.rollout.a`."""
        return syntax.AlterStatement("swap", self.words(children), span)

    def senses(self, children: Children, span: Span) -> syntax.SensesStatement:
        """`LPC senses COMP, LLS`."""
        name, *things = self.words(children)
        return syntax.SensesStatement(name, tuple(things), span)

    def expect_from(self, children: Children, span: Span) -> syntax.ExpectFrom:
        """`expect L1 from S1, S2`."""
        names, price = self.asked(children)
        return syntax.ExpectFrom(self.word(names[0]), self.words(names[1:]), span, price)

    def expect_live(self, children: Children, span: Span) -> syntax.ExpectLive:
        """`expect R1 live`."""
        names, price = self.asked(children)
        return syntax.ExpectLive(self.word(names[0]), span, price)

    def expect_nothing(self, children: Children, span: Span) -> syntax.ExpectRuns:
        """`expect idle runs nothing`."""
        names, price = self.asked(children)
        return syntax.ExpectRuns(self.words(names), (), span, price)

    def expect_runs(self, children: Children, span: Span) -> syntax.ExpectRuns:
        """`expect heat runs F.inducer, then F.igniter`."""
        return syntax.ExpectRuns(*self.steps(children, span))

    def expect_end(self, children: Children, span: Span) -> syntax.ExpectEnd:
        """`expect end of cool stops LLS, then COMP`."""
        return syntax.ExpectEnd(*self.steps(children, span))

    def steps(
        self, children: Children, span: Span
    ) -> tuple[tuple[Word, ...], tuple[tuple[Word, bool], ...], Span, syntax.Price | None]:
        """The calls of a line, what it names after them (with whether `then` stands before it), its price."""
        said, price = self.asked(children)
        names = [each for each in said if not hasattr(each, "data")]
        later = [(self.word(each.children[0]), each.data == "then") for each in said[len(names) :]]
        return self.words(names[:-1]), ((self.word(names[-1]), False), *later), span, price

    def expect_stops(self, children: Children, span: Span) -> syntax.ExpectStops:
        """`expect F.limit stops F.gas-valve`."""
        names, price = self.asked(children)
        return syntax.ExpectStops(self.word(names[0]), self.words(names[1:]), span, price)

    def expect_starts(self, children: Children, span: Span) -> syntax.ExpectStarts:
        """`expect START starts M`."""
        names, price = self.asked(children)
        return syntax.ExpectStarts(self.word(names[0]), self.words(names[1:]), span, price)

    def asked(self, children: Children) -> tuple[Children, syntax.Price | None]:
        """What an expectation names, and what it costs where the line says so."""
        *names, last = children
        if getattr(last, "data", "") in ("some", "stage_lost"):
            return names, self.price(last)
        return children, None

    # ------------------------------------------------------------- exercises

    def exercise(self, children: Children, span: Span) -> syntax.ExerciseTitle:
        """`exercise "Stair light from two landings"`."""
        return syntax.ExerciseTitle(self.text(children[0]), span)

    def stage(self, children: Children, span: Span) -> syntax.StageStatement:
        """`stage rough-in 30 points`."""
        _, name, amount = children
        return syntax.StageStatement(self.word(name), self.points(amount), span)

    def costs(self, children: Children, span: Span) -> syntax.CostsStatement:
        """`a hazard costs the stage`, `box-fill costs 3 points`."""
        *_, name, price = children
        return syntax.CostsStatement(self.word(name), self.price(price), span)

    def price(self, tree: Leaf) -> syntax.Price:
        """`costs 5 points`, `costs the stage`."""
        (token,) = tree.children
        points = self.points(token) if tree.data == "some" else None
        return syntax.Price(points, self.span(token, token))

    def points(self, token: Leaf) -> float:
        """A number of points: halves and quarters are counted too."""
        place = self.span(token, token)
        value = self.quantity(token)
        if value.dimension != "number":
            self.mistake(f"{shortened(value.text)} is no number of points", place, "write it as 5 points")
        elif value.value > MOST_POINTS or value.value * 4 % 1:
            self.mistake(
                f"{shortened(value.text)} points are not given",
                place,
                f"give whole points, halves or quarters, {MOST_POINTS} at most",
            )
        return value.value

    def as_questions(self, children: Children, span: Span) -> syntax.ShowStatement:
        """`show mends as questions`."""
        return syntax.ShowStatement("as questions", span)

    def in_full(self, children: Children, span: Span) -> syntax.ShowStatement:
        """`show mends in full`."""
        return syntax.ShowStatement("in full", span)

    def no_mends(self, children: Children, span: Span) -> syntax.ShowStatement:
        """`show no mends`."""
        return syntax.ShowStatement("not", span)

    def student(self, children: Children, span: Span) -> syntax.StudentStatement:
        """`student "Ana Ruiz"`."""
        return syntax.StudentStatement(self.text(children[0]), span)

    def for_(self, children: Children, span: Span) -> syntax.ForStatement:
        """`for "Stair light from two landings"`."""
        return syntax.ForStatement(self.text(children[0]), span)

    # ---------------------------------------------------------------- faults

    def faults(self, children: Children, span: Span) -> syntax.FaultsTitle:
        """`faults for "Gas furnace in the shop"`."""
        return syntax.FaultsTitle(self.text(children[1]), span)

    def fault(self, children: Children, span: Span) -> syntax.FaultStatement:
        """`fault 1 open TW.white at TS`."""
        begins, tree = children
        _, written = begins.value.split()
        if not written.isascii() or len(written) > 9 or int(written) > MOST_FAULTS:
            place = self.span(begins, begins)
            self.mistake(f"{shortened(written)} is too many: {MOST_FAULTS} is the most here", place)
        trouble: syntax.Trouble = getattr(self, tree.data)(tree.children)
        return syntax.FaultStatement(int(written[:9]), trouble, span)

    def place_of(self, tree: Leaf) -> Word:
        """`at TS`, after what is there."""
        (name,) = tree.children
        return self.word(name)

    def opened(self, children: Children) -> syntax.Opened:
        """`open TW.white at TS`, `open TW.white`."""
        wire, *place = children
        return syntax.Opened(self.word(wire), self.place_of(place[0]) if place else None)

    def shorted(self, children: Children) -> syntax.Shorted:
        """`short F.R to F.C through 0.5 ohm`, `short TW.red to TW.white at F`."""
        one, other, *rest = children
        place = next((self.place_of(each) for each in rest if hasattr(each, "data")), None)
        ohms = next((self.measured(each, "fault") for each in rest if not hasattr(each, "data")), None)
        return syntax.Shorted((self.word(one), self.word(other)), place, ohms)

    def poor(self, children: Children) -> syntax.Poor:
        """`poor W1.black at A, 8 ohm`, `poor W1.black at A`."""
        wire, place, *ohms = children
        measured = self.measured(ohms[0], "fault") if ohms else None
        return syntax.Poor(self.word(wire), self.place_of(place), measured)

    def stuck(self, children: Children) -> syntax.Stuck:
        """`F.limit stuck open`, `TM.feed to TM.cool stuck open`."""
        name, *other, position = self.words(children)
        return syntax.Stuck(name, other[0] if other else None, position)

    def burnt_out(self, children: Children) -> syntax.BurntOut:
        """`F.blower burnt out`."""
        return syntax.BurntOut(*self.words(children))

    def blown(self, children: Children) -> syntax.Blown:
        """`F.fuse blown`."""
        return syntax.Blown(*self.words(children))

    def swapped(self, children: Children) -> syntax.Swapped:
        """`TW.yellow and TW.green swapped at F`."""
        one, other, *place = children
        return syntax.Swapped((self.word(one), self.word(other)), self.place_of(place[0]) if place else None)

    # -------------------------------------------------------- what was found

    def found(self, children: Children, span: Span) -> syntax.FoundTitle:
        """`found on "Gas furnace in the shop"`."""
        return syntax.FoundTitle(self.text(children[0]), span)

    def standing(self, children: Children, span: Span) -> syntax.StandingStatement:
        """`with heat`, `with S1 down, cool`, `with heat, after 35 s`."""
        after = [self.measured(tree.children[0], "moment") for tree in children if tree.data == "moment"]
        if len(after) > 1:
            self.mistake("one moment is enough", after[1].span, "with heat, after 35 s")
        stands = [self.words(tree.children) for tree in children if tree.data != "moment"]
        moved = tuple((one[0], one[1]) for one in stands if len(one) > 1)
        calls = tuple(one[0] for one in stands if len(one) == 1)
        return syntax.StandingStatement(moved, calls, after[0] if after else None, span)

    def saw_run(self, children: Children, span: Span) -> syntax.SawStatement:
        """`saw F.inducer run`."""
        return syntax.SawStatement(self.word(children[0]), "run", span)

    def saw_nothing(self, children: Children, span: Span) -> syntax.SawStatement:
        """`saw F.blower not run`."""
        return syntax.SawStatement(self.word(children[0]), "not run", span)

    def saw_stop(self, children: Children, span: Span) -> syntax.SawStatement:
        """`saw F.gas-valve stop`."""
        return syntax.SawStatement(self.word(children[0]), "stop", span)

    def saw_on(self, children: Children, span: Span) -> syntax.SawStatement:
        """`saw F.blower not stop`."""
        return syntax.SawStatement(self.word(children[0]), "not stop", span)

    def saw_trip(self, children: Children, span: Span) -> syntax.SawStatement:
        """`saw LP.3 trip`."""
        return syntax.SawStatement(self.word(children[0]), "trip", span)

    def saw_sign(self, children: Children, span: Span) -> syntax.SawStatement:
        """`saw L1 dim`."""
        name, sign = self.words(children)
        return syntax.SawStatement(name, sign.text, span)

    def read(self, children: Children, span: Span) -> syntax.ReadStatement:
        """`read 26.2 V from F.R to F.C`, `read OL from A.a to A.b, power off`, `read 9.2 A in PG.black`."""
        shown, between, *how = children
        value = None if shown.type == "OPEN_LINE" else self.measured(shown, "reading")
        tokens = [one for one in between.children if not hasattr(one, "data")]
        place = next((self.place_of(one) for one in between.children if hasattr(one, "data")), None)
        if value is not None and (value.dimension == "current") != (between.data == "through"):
            said = "read 9.2 A in PG.black; read 26.2 V from F.R to F.C"
            self.mistake("amperes are read in one thing, volts and ohms between two", value.span, said)
        off = tuple(
            (self.word(one.children[0]), self.place_of(one.children[1]))
            for one in how
            if one.data == "wire_off"
        )
        power_off = any(one.data == "power_off" for one in how)
        return syntax.ReadStatement(value, self.words(tokens), place, power_off, off, span)

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

    def responds(self, children: Children, span: Span) -> syntax.RespondsStatement:
        """`senses compressor, valve`."""
        return syntax.RespondsStatement(self.words(children), span)

    def ends(self, children: Children, span: Span) -> syntax.EndsStatement:
        """`cool ends after 20 min when compressor runs`."""
        call, after, when = children
        return syntax.EndsStatement(
            self.word(call),
            self.value(after, "time") if after is not None else None,
            self.condition(when) if when is not None else None,
            span,
        )

    def serves(self, children: Children, span: Span) -> syntax.ServesStatement:
        """`serves vehicle-charging`."""
        return syntax.ServesStatement(self.word(children[0]), span)

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
        _, name, load_kind, origin, target, third, draws, volts, *options = children
        return syntax.LoadStatement(
            self.word(name),
            self.word(load_kind),
            self.word(origin),
            self.word(target),
            self.word(third) if third is not None else None,
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
        if tree.data == "carries":
            amps = self.value(children[1], "contact")
            return syntax.Carries(first, amps, self.word(children[2]))
        if tree.data == "was_state":
            times = self.whole(children[2], 1000, "was lighting 3 times")
            return syntax.WasState(first, self.word(children[1]), times)
        if tree.data == "called":
            return syntax.Called(first)
        return syntax.InPosition(first)
