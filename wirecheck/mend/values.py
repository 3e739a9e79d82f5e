"""The lines that declare something, with another size, rating, measure or word in them."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Any

from wirecheck.judge.case import Case
from wirecheck.judge.overload import overload
from wirecheck.judge.side_by_side import side_by_side
from wirecheck.language.quantity import quantity
from wirecheck.language.rewriting import covered, offsets
from wirecheck.language.syntax import (
    BoxStatement,
    BreakerStatement,
    CableStatement,
    ConnectorStatement,
    DeviceStatement,
    JoinStatement,
    PanelStatement,
    Quantity,
    RacewayStatement,
    RunEnd,
    Span,
    WireStatement,
    Word,
)
from wirecheck.mend.edits import Change
from wirecheck.mend.sheet import Sheet
from wirecheck.model.board import Device, Join
from wirecheck.model.connectors import BOTH_METALS
from wirecheck.model.devices import BY_NAME
from wirecheck.model.runs import CLASS_2_CABLES
from wirecheck.tables.overcurrent import standard_ratings

# What is bought: sizes of wire, cubic inches of boxes, inches of conduit (common practice).
SMALL = ("22", "20", "18", "16")
SIZES = ("14", "12", "10", "8", "6", "4", "3", "2", "1", "1/0", "2/0", "3/0", "4/0")
VOLUMES = (12.5, 14.0, 15.5, 18.0, 20.3, 22.5, 24.5, 30.3, 34.0, 42.0, 54.0)
CONDUITS = ("3/8 in", "1/2 in", "3/4 in", "1 in", "1-1/4 in", "1-1/2 in", "2 in", "2-1/2 in", "3 in", "4 in")
# What a tape measure should say: the limits with a little beyond (314.16, 300.14, 334.30, 334.24).
MEASURES = {
    "free": ("7 in",),
    "jacket": ("1/2 in",),
    "secured": ("8 in", "12 in"),
    "every": ("48 in",),
    "bend": ("2 in", "3 in", "5 in"),
}
# What loads are sold in, in watts (common practice).
WATTS = (25, 40, 60, 75, 100, 150, 200, 300, 500, 750, 1000, 1250, 1500, 2000, 2500, 3000, 3750, 4000, 4500)
# What transformers are sold in, in volt-amperes (common practice).
CAPACITIES = (40, 50, 75, 100, 150, 200)
# What a reel of building cable holds, in meters: 1,000 ft (common practice).
REEL = 1000 * 0.3048
# What a rating of this name says was so before: no hand changes it.
MOST_STEPS = 8
OF_THE_PAST = "work"
# What the label of a light says of it: another light says something else, and no hand changes that.
OF_A_LABEL = frozenset(("largest-lamp", "supply"))
CONNECTOR = "connector"
COLORS = ("black", "red", "white", "green", "blue")
WET_KINDS = ("UF-B",)
# What is made for more heat, by what it takes the place of.
HOT_KINDS = {"UF-B": ("NM-B",), "TW": ("THWN-2",), "THW": ("THWN-2",), "THWN": ("THWN-2",)}


def changes(name: str, case: Case, sheet: Sheet) -> Iterator[tuple[Change, float]]:
    """The other ways in which the line that declares a thing might have been meant, and what each costs.

    The cost grows with the distance from what is written.
    """
    for number, line in enumerate(sheet.lines):
        said: Any = line.statement
        if getattr(getattr(said, "name", None), "text", None) != name or line.written is not None:
            continue
        match said:
            case BreakerStatement():
                yield from _breaker(number, said, case, sheet)
            case CableStatement() | WireStatement():
                yield from _run(number, said, sheet)
            case BoxStatement():
                yield from _box(number, said, sheet)
            case PanelStatement():
                yield from _panel(number, said, case, sheet)
            case RacewayStatement():
                here = _inches(said.size)
                for change, cost in _sizes(number, name, said.size.span, here, CONDUITS, sheet):
                    yield change._replace(what="conduit"), cost
            case DeviceStatement():
                yield from _device(number, said, case, sheet)
            case _:
                continue
        return


def of_joint(join: Join, sheet: Sheet) -> Iterator[tuple[Change, float]]:
    """The pigtails of a join that say their size, of other sizes; and another connector than it names."""
    named = [one.statement for one in sheet.lines if isinstance(one.statement, ConnectorStatement)]
    for number, line in enumerate(sheet.lines):
        said = line.statement
        if not isinstance(said, JoinStatement) or said.span != join.span or line.written is not None:
            continue
        for end, beside in pairwise(said.ends):
            if end.size is not None and beside.name is not None:
                screw, size = beside.name.text, end.size
                for change, cost in _sizes(number, screw, size.span, size.text, (*SMALL, *SIZES), sheet):
                    yield change._replace(what="pigtail"), cost
        for option in said.options:
            if option.name.text == CONNECTOR and isinstance(option.value, Word) and join.connector:
                wire = next(one.name for one in join.members if one.kind == "end")
                for other in named:
                    now = other.name.text
                    if now != option.value.text:
                        span = option.value.span
                        yield changed_at(number, wire, "connector", span, now, sheet, join.place), 0.3


def for_both_metals(join: Join, sheet: Sheet) -> Iterator[Change]:
    """A splice that says no connector, with one that is listed for aluminum with copper."""
    wires = [one.name for one in join.members if one.kind == "end"]
    for number, line in enumerate(sheet.lines):
        said = line.statement
        here = isinstance(said, JoinStatement) and said.span == join.span and not said.options
        if here and line.written is None and len(wires) == len(join.members):
            made = f", {CONNECTOR} {BOTH_METALS}"
            yield changed_at(number, wires[0], "metals", _end_of(said.span), made, sheet, join.place)


def wet_kinds(box: str, sheet: Sheet) -> tuple[Change, ...]:
    """Every cable that comes into a wet box, of a kind that may be wet."""
    found = []
    for number, line in enumerate(sheet.lines):
        said = line.statement
        if isinstance(said, CableStatement) and line.written is None and said.kind.text not in WET_KINDS:
            power = said.kind.text not in CLASS_2_CABLES
            if power and any(end.place.text == box for end in said.ends):
                found.append(changed_at(number, said.name.text, "kind", said.kind.span, WET_KINDS[0], sheet))
    return tuple(found)


def changed_at(
    number: int, subject: str, what: str, span: Span, now: str, sheet: Sheet, place: str = ""
) -> Change:
    """A line with other words at a span of the text; nothing for them takes the space before them too."""
    text = sheet.syntax.text
    was = covered(text, span)
    if not now:
        span = span._replace(column=span.column - 1)
    begin, end = offsets(text, sheet.lines[number].statement.span)
    first, last = offsets(text, span)
    line = text[begin:first] + now + text[last:end]
    return Change(number, subject, what, was.strip(), now.strip(), line, place)


def _end_of(span: Span) -> Span:
    return Span(span.end_line, span.end_column, span.end_line, span.end_column)


def _panel(number: int, said: PanelStatement, case: Case, sheet: Sheet) -> Iterator[tuple[Change, float]]:
    """A subpanel without its bond, and another main breaker."""
    name = said.name.text
    for flag in said.flags:
        if flag.text == "bonded":
            before = Span(flag.span.line, max(1, flag.span.column - 2), flag.span.line, flag.span.column)
            comma = covered(sheet.syntax.text, before) == ", "
            begin = Span(flag.span.line, flag.span.column - comma, *flag.span[2:])
            yield changed_at(number, name, "bonded", begin, "", sheet)._replace(was="bonded"), 0.2
    if said.main is not None:
        for rating in standard_ratings(code=case.code):
            if 30 <= rating <= 200 and rating != said.main.value:
                yield changed_at(number, name, "main", said.main.span, f"{rating:g} A", sheet), 0.5


def _breaker(number: int, said: BreakerStatement, case: Case, sheet: Sheet) -> Iterator[tuple[Change, float]]:
    name = said.name.text
    ratings = [one for one in standard_ratings(code=case.code) if 15 <= one <= 200]
    here = said.rating.value
    for one in ratings:
        if one != here:
            steps = sum(min(one, here) < other <= max(one, here) for other in ratings)
            cost = 0.1 * steps + (0.3 if one > here else 0)
            yield changed_at(number, name, "rating", said.rating.span, f"{one:g} A", sheet), cost
    board = case.board
    breaker = board.breakers.get(name)
    if breaker is None:
        return
    legs = board.panels[breaker.panel].legs
    if said.leg is not None:
        for leg in legs if len(breaker.poles) == 1 else ():
            if leg != breaker.poles[0][1]:
                yield changed_at(number, name, "leg", said.leg.span, leg, sheet), 0.6
        before = Span(said.leg.span.line, said.leg.span.column - len("leg "), *said.leg.span[2:])
        yield changed_at(number, name, "own leg", before, "", sheet), 0.4
    if said.tied is None:
        for other in board.breakers.values():
            if other.name != name and len(other.poles) == 1 and side_by_side((breaker, other)):
                tie = f" tied to {other.name}"
                yield changed_at(number, name, "tie", _end_of(said.span), tie, sheet), 0.5


def _run(number: int, said: CableStatement | WireStatement, sheet: Sheet) -> Iterator[tuple[Change, float]]:
    name = said.name.text
    sizes = (*SMALL, *SIZES[:2]) if said.size.text in SMALL else SIZES
    for change, cost in _sizes(number, name, said.size.span, said.size.text, sizes, sheet):
        if isinstance(said, CableStatement):
            written = change.now + f"/{said.count}"
            size = said.size.span
            yield changed_at(number, name, "cores", size, written, sheet), cost
        else:
            yield change._replace(what="gauge"), cost
    if said.aluminum:
        text = covered(sheet.syntax.text, said.span)
        begin = text.find(" aluminum")
        if begin >= 0 and "\n" not in text[:begin]:
            column = said.span.column + begin + 1
            span = Span(said.span.line, column, said.span.line, column + len("aluminum"))
            yield changed_at(number, name, "aluminum", span, "", sheet), 0.2
    yield from _lengths(number, name, said.length, sheet)
    if isinstance(said, WireStatement):
        for color in COLORS:
            if color != said.color.text:
                yield changed_at(number, name, "color", said.color.span, color, sheet), 0.2
    for kind in WET_KINDS:
        if isinstance(said, CableStatement) and said.kind.text != kind:
            yield changed_at(number, name, "kind", said.kind.span, kind, sheet), 0.8
    for kind in HOT_KINDS.get(said.kind.text, ()):
        yield changed_at(number, name, "kind", said.kind.span, kind, sheet), 0.8
    for end in said.ends:
        yield from _measures(number, name, end, sheet)


def _lengths(number: int, name: str, length: Quantity, sheet: Sheet) -> Iterator[tuple[Change, float]]:
    """A run that is longer than a reel, with a digit or two too many."""
    written = re.fullmatch(r"([0-9]+)( *[a-z]+)", length.text)
    if written is None or length.value <= REEL:
        return
    for digits in (1, 2):
        fewer, rest = divmod(int(written[1]), 10**digits)
        if fewer and not rest:
            yield changed_at(number, name, "length", length.span, f"{fewer}{written[2]}", sheet), 0.9


def _measures(number: int, name: str, end: RunEnd, sheet: Sheet) -> Iterator[tuple[Change, float]]:
    for measure in end.measures:
        for now in MEASURES.get(measure.name.text, ()):
            if quantity(now, measure.value.span).value != measure.value.value:
                what, place = measure.name.text, end.place.text
                yield changed_at(number, name, what, measure.value.span, now, sheet, place), 0.1


def _sizes(
    number: int, name: str, span: Span, here: str, listed: tuple[str, ...], sheet: Sheet
) -> Iterator[tuple[Change, float]]:
    """The next sizes up, then those down."""
    if here not in listed:
        return
    at = listed.index(here)
    for index, one in enumerate(listed):
        if index != at and abs(index - at) <= 4:
            cost = 0.1 * abs(index - at) + (0.5 if index < at else 0.15)
            yield changed_at(number, name, "size", span, one, sheet), cost


def _inches(size: Quantity) -> str:
    """A raceway's trade size as it is listed, or nothing."""
    return next((one for one in CONDUITS if quantity(one, size.span).value == size.value), "")


def _box(number: int, said: BoxStatement, sheet: Sheet) -> Iterator[tuple[Change, float]]:
    name = said.name.text
    if said.volume is not None:
        here = said.volume.value / 0.0254**3
        for one in VOLUMES:
            if one > here + 0.01:
                steps = sum(here < other <= one for other in VOLUMES)
                yield (
                    changed_at(number, name, "volume", said.volume.span, f"{one:g} cu in", sheet),
                    0.1 * steps,
                )
    if said.trade_size is not None:
        for larger in ("4 x 1-1/2 in", "4 x 2-1/8 in", "4-11/16 x 2-1/8 in"):
            yield changed_at(number, name, "trade size", said.trade_size.span, larger, sheet), 0.5
    extended = any(word.text == "extension" for one in said.added for word in one.words)
    if said.kind.text in ("square", "octagon") and not extended and (said.volume or said.trade_size):
        more, size = _end_of(said.span), "4 x 1-1/2 in"
        change = changed_at(number, name, "extension", more, f", extension {size}", sheet)
        yield change._replace(now=f"an extension of {size}"), 0.9
    for flag in said.flags:
        if flag.text == "clamps":
            yield changed_at(number, name, "clamps", flag.span, "", sheet), 0.4


def _device(number: int, said: DeviceStatement, case: Case, sheet: Sheet) -> Iterator[tuple[Change, float]]:
    """Other ratings that the part comes in, and no rating at all."""
    device = case.board.devices.get(said.name.text)
    if device is None:
        return
    ratings = device.part.ratings
    for setting in said.settings:
        if isinstance(setting.value, Word):
            continue
        name = setting.name.text if setting.name else _fitting(setting.value, ratings)
        if name in OF_A_LABEL:
            continue
        if name in ratings and len(ratings[name].values) == 1 and setting.value.dimension == "power":
            less = [watts for watts in WATTS if watts < setting.value.value - 0.5]
            for steps, watts in enumerate(reversed(less[-4:])):
                place = setting.value.span
                yield changed_at(number, said.name.text, name, place, f"{watts} W", sheet), 0.4 + 0.1 * steps
        yield from _ratings_bought(number, said.name.text, name, setting.value, device, case, sheet)
        for steps, value in enumerate(
            _nearest(setting.value, ratings[name].values if name in ratings else ())
        ):
            change = changed_at(
                number, said.name.text, name or "rating", setting.value.span, value.text, sheet
            )
            yield change, 0.2 + 0.01 * steps
    yield from _words(number, said, ratings, sheet)
    yield from _overloads(number, said, case, sheet)
    given = {setting.name.text for setting in said.settings if setting.name}
    for name, rating in ratings.items():
        if name not in given and len(rating.values) > 1 and not said.settings:
            known = [one for one in rating.values if isinstance(one, Quantity)]
            for value in known[1:]:
                words, after = f" with {name} {value.text}", _end_of(said.part.span)
                change = changed_at(number, said.name.text, name, after, words, sheet)
                yield change._replace(was=known[0].text, now=value.text), 0.3


def _nearest(value: Quantity, values: Sequence[Quantity | Word]) -> list[Quantity]:
    """The other values that a rating may have, the nearest first: so a hand turns a dial.

    Volts are those of the source and of no dial: they stay in the order of the part, the usual first.
    """
    others = [one for one in values if isinstance(one, Quantity) and one.value != value.value]
    if value.dimension != "voltage":
        others.sort(key=lambda one: abs(one.value - value.value))
    return others if len(values) > 1 else []


def _ratings_bought(
    number: int, subject: str, name: str | None, value: Quantity, device: Device, case: Case, sheet: Sheet
) -> Iterator[tuple[Change, float]]:
    """Fuses of the next ratings down, and transformers of the next up."""
    part = device.part
    if name is None or name not in part.ratings or len(part.ratings[name].values) > 1:
        return
    if value.dimension == "current" and (name == "fuse" or part.protections):
        fuses = [one for one in standard_ratings(True, code=case.code) if one < value.value]
        for steps, amps in enumerate(reversed(fuses[-MOST_STEPS:])):
            change = changed_at(number, subject, "fuse", value.span, f"{amps:g} A", sheet)
            yield change, 0.2 + 0.1 * steps
    if part.transformers and name == "capacity":
        more = [one for one in CAPACITIES if one > value.value]
        for steps, size in enumerate(more[:MOST_STEPS]):
            change = changed_at(number, subject, "capacity", value.span, f"{size} VA", sheet)
            yield change, 0.2 + 0.1 * steps


def _overloads(
    number: int, said: DeviceStatement, case: Case, sheet: Sheet
) -> Iterator[tuple[Change, float]]:
    """What an overload relay trips at, as each motor of the board would have it."""
    part = case.board.devices[said.name.text].part
    named = {one.overload.text for one in part.contacts if isinstance(one.overload, Word)}
    settings = {setting.name.text: setting for setting in said.settings if setting.name}
    motors = [one for one in case.circuit.loads if one.kind == "motor" and "hermetic" not in one.flags]
    for most in sorted({overload(one, code=case.code).most for one in motors}):
        # A dial is set to a tenth of an ampere, and no finer.
        now = f"{math.floor(most * 10 + 0.01) / 10:g} A"
        for name in sorted(named):
            if name in settings:
                change = changed_at(number, said.name.text, "overload", settings[name].value.span, now, sheet)
            else:
                after = _end_of(said.settings[-1].span if said.settings else said.part.span)
                words = f"{', ' if said.settings else ' with '}{name} {now}"
                change = changed_at(number, said.name.text, "overload", after, words, sheet)
                first = part.ratings[name].values[0]
                change = change._replace(was=first.text if isinstance(first, Quantity) else "", now=now)
            yield change, 0.2


def _words(
    number: int, said: DeviceStatement, ratings: dict[str, Any], sheet: Sheet
) -> Iterator[tuple[Change, float]]:
    """The other words that a rating may have, as that a receptacle is tamper-resistant."""
    given = {setting.name.text: setting.value for setting in said.settings if setting.name}
    alone = [setting for setting in said.settings if setting.name is None]
    given_words = {one.value.text for one in alone if isinstance(one.value, Word)}
    last = alone[-1].span if alone else said.part.span
    for name, rating in ratings.items():
        if name == OF_THE_PAST:
            continue
        words = [value.text for value in rating.values if isinstance(value, Word)]
        here = given.get(name)
        for word in words if len(words) == len(rating.values) else ():
            if isinstance(here, Word):
                if here.text != word:
                    yield changed_at(number, said.name.text, name, here.span, word, sheet), 0.2
            elif word != words[0] and not given_words & set(words):
                change = changed_at(number, said.name.text, name, _end_of(last), f" {word}", sheet)
                yield change._replace(was=words[0], now=word), 0.3


def _fitting(value: Quantity, ratings: dict[str, Any]) -> str | None:
    """The rating that a value without a name is for: the one of its kind."""
    fitting = [
        name
        for name, rating in ratings.items()
        if isinstance(rating.values[0], Quantity)
        and rating.values[0].dimension == value.dimension
        and name not in BY_NAME
    ]
    return fitting[0] if len(fitting) == 1 else None
