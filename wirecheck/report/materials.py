"""What to buy and to cut for a board, or for a class that builds it, counted as the board is written.

A cable is as long as its run between two places and its ends in them. An end is what the board says of it,
free and in its jacket; where it says nothing, in a box, the least that the code asks. A panel or a machine
has no such least: such ends are counted, and their length is left to whoever cuts.

Source: NEC 300.14 and 314.17, by the code's table of limits
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from typing import Literal, NamedTuple, get_args

from wirecheck.caution import CAUTION
from wirecheck.circuit.pieces import pieces
from wirecheck.judge.grouped import grouped
from wirecheck.judge.size_words import gauge
from wirecheck.judge.support import sheathed
from wirecheck.language.listing import listed
from wirecheck.language.names import position
from wirecheck.language.quantity import amps, rounded, shown
from wirecheck.language.syntax import Quantity, Span, Word
from wirecheck.model.board import Addition, Board, Box, Breaker, Conductor, Device, Join, Member, Run
from wirecheck.model.places import POLES
from wirecheck.model.runs import CLASS_2_CABLES, COUNTED, GROUNDS
from wirecheck.parts.part import Rating
from wirecheck.report.looks import Paint, unpainted
from wirecheck.report.numbers import counted
from wirecheck.report.paragraphs import headline, wrapped
from wirecheck.report.plain import plain
from wirecheck.report.spreadsheet import Row
from wirecheck.tables.sizes import area

Group = Literal[
    "Panels",
    "Breakers",
    "Boxes",
    "Devices",
    "Connectors",
    "Pigtails to cut",
    "Cable",
    "Raceway",
    "Single wires",
    "Marks",
]
GROUPS: tuple[Group, ...] = get_args(Group)
FROM_A_ROLL: tuple[Group, ...] = ("Cable", "Raceway", "Single wires")
"""What is cut, and has lengths."""
NOT_LISTED = (
    "Not in the list: staples, fittings of cables and raceways, cover plates and screws, and what a maker "
    "asks for beside a part."
)
COUNTED_SO = (
    "It is counted as the board is written. An end has the length that the board says, and else, in a box, "
    "the least that the code asks."
)
NO_SIZE = "size not given"

_FOOT, _INCH = 0.3048, 0.0254
# What is left of arithmetic is no inch more to cut.
_SAME = 1e-6
# Ratings whose value needs no name before it.
_PLAIN = ("current", "power", "voltage", "capacity", "capacitance", "resistance")


class Item(NamedTuple):
    """So many of one thing; of what is cut from a roll its pieces, with their lengths in meters.

    `run` is the sum between places, `ends` that of the ends, and `unsaid` counts the ends without a length.
    """

    group: Group
    what: str
    number: int = 1
    run: float = 0.0
    ends: float = 0.0
    unsaid: int = 0

    @property
    def cut(self) -> float:
        """What all its pieces come to, in meters."""
        return self.run + self.ends


class Tail(NamedTuple):
    """A short wire to cut, in a splice or from screw to screw; its size is None where nothing says it."""

    size: str | None
    material: str
    color: str

    @property
    def words(self) -> str:
        """Its gauge and its color, with the metal where that is not copper."""
        metal = "aluminum " if self.material == "aluminum" else ""
        return f"{NO_SIZE if self.size is None else gauge(self.size)} {metal}{self.color}".strip()


def materials(board: Board) -> tuple[Item, ...]:
    """All that one board takes, an item for each kind of thing, in the order of the groups."""
    items = (
        *_panels(board),
        *_breakers(board),
        *_boxes(board),
        *(Item("Devices", _device(one)) for one in board.devices.values()),
        *(Item("Connectors", words) for words in _connectors(board)),
        *_tails(board),
        *_runs(board),
        *_raceways(board),
        *_marks(board),
    )
    return added(items)


def added(items: Iterable[Item], boards: int = 1) -> tuple[Item, ...]:
    """Items, with those of one kind as one, for so many boards of each.

    >>> added([Item("Marks", "black tape"), Item("Boxes", "octagon"), Item("Marks", "black tape")], 3)[1]
    Item(group='Marks', what='black tape', number=6, run=0.0, ends=0.0, unsaid=0)
    """
    found: dict[tuple[Group, str], list[Item]] = {}
    for item in items:
        found.setdefault((item.group, item.what), []).append(item)
    summed = (
        Item(
            group,
            what,
            boards * sum(one.number for one in same),
            boards * math.fsum(one.run for one in same),
            boards * math.fsum(one.ends for one in same),
            boards * sum(one.unsaid for one in same),
        )
        for (group, what), same in found.items()
    )
    return tuple(sorted(summed, key=lambda one: GROUPS.index(one.group)))


# -------------------------------------------------------------- panels, breakers, boxes


def _panels(board: Board) -> Iterator[Item]:
    for panel in board.panels.values():
        words = [f"{'subpanel' if panel.fed else 'panel'}, {panel.system} V"]
        words += [f"{amps(panel.main)} main"] if panel.main is not None else []
        words += [f"{amps(panel.bus)} bus"] if panel.bus is not None else []
        yield Item("Panels", ", ".join(words))


def _breakers(board: Board) -> Iterator[Item]:
    """Each breaker; both halves of a tandem are one, and the main of a subpanel comes with it."""
    tandems: dict[tuple[str, int], list[Breaker]] = {}
    bought = {name: one for name, one in board.breakers.items() if one.span != board.panels[one.panel].span}
    for name, breaker in bought.items():
        at = position(Word(name, breaker.span).path[-1])
        if at is not None and at.half:
            tandems.setdefault((breaker.panel, at.space), []).append(breaker)
        else:
            yield Item("Breakers", f"breaker, {_breaker(breaker)}")
    for halves in tandems.values():
        words = [_breaker(one) for one in halves] + ["a half not used"] * (2 - len(halves))
        yield Item("Breakers", f"tandem breaker, {' and '.join(sorted(words))}")
    ties = ((one.name, one.tied) for one in bought.values() if one.tied in bought)
    handles = Counter(pieces(bought, ((one, other) for one, other in ties if other is not None)).values())
    for number in handles.values():
        if number > 1:
            yield Item("Breakers", f"handle tie for {number} breakers")


def _breaker(breaker: Breaker) -> str:
    """Its rating, its poles and what it does beside."""
    poles = next((flag for flag in POLES if flag in breaker.flags), "1-pole")
    kinds = [flag.upper() for flag in ("gfci", "afci") if flag in breaker.flags]
    return " ".join([amps(breaker.amps), poles, *kinds])


def _boxes(board: Board) -> Iterator[Item]:
    for box in board.boxes.values():
        words = [f"{box.kind} box", *_room(box)]
        words += [flag for flag in ("metal", "clamps", "wet") if getattr(box, flag)]
        # The gangs of a box with a ring or a cover are those of what is put on it.
        covered = box.kind != "device" and any(one.kind != "extension" for one in box.added)
        if box.gangs is not None and not covered:
            words.append(f"{box.gangs}-gang")
        yield Item("Boxes", ", ".join(words))
        for one in box.added:
            wide = [f"{box.gangs}-gang"] if covered and box.gangs and one.kind != "extension" else []
            yield Item("Boxes", ", ".join([f"{one.kind} for a {box.kind} box", *wide, *_room(one)]))


def _room(of: Box | Addition) -> list[str]:
    """Its volume and its trade size, as far as the board gives them."""
    volume = [] if of.volume is None else [shown(of.volume, "volume")]
    return ([] if of.trade_size is None else [f"{of.trade_size} in"]) + volume


# ------------------------------------------------------------------------------ devices


def _device(device: Device) -> str:
    """Its part with its first rating, those that it can be had in several of, and those set otherwise."""
    words = [device.part.name]
    for number, rating in enumerate(device.part.ratings.values()):
        value, usual = device.values[rating.name], rating.values[0]
        otherwise = value.text != usual.text
        if isinstance(value, Word):
            words += [value.text] if otherwise else []
        elif number == 0 or otherwise or (len(rating.values) > 1 and value.dimension != "time"):
            name = "" if rating.name in _PLAIN else f"{rating.name} "
            words.append(f"{name}{_as_listed(value, rating)}")
    return ", ".join(words)


def _as_listed(value: Quantity, rating: Rating) -> str:
    """A value as its part writes it, where that has it: `15 amps` is 15 A."""
    same = (
        one.text
        for one in rating.values
        if isinstance(one, Quantity)
        and one.dimension == value.dimension
        and math.isclose(one.value, value.value)
    )
    return next(same, value.text)


# --------------------------------------------------------------- connectors and pigtails


def _connectors(board: Board) -> Iterator[str]:
    """A connector for each splice, for a lead on a pigtail, and for each end that is capped."""
    for together in _splices(board):
        leads: dict[str, None] = {}
        wires: dict[object, Member] = {}
        tails: dict[Span, Tail] = {}
        for join in together:
            spliced = _spliced_leads(board, join)
            leads |= dict.fromkeys(spliced)
            there = {*join.splice, *(member for lead in spliced for member in join.under[lead])}
            # An end that several lines name is there once, and each pigtail for itself.
            wires |= {
                one.point if one.kind == "end" else one.span: one
                for one in join.members
                if one.kind != "terminal" and one in there
            }
            tails |= _tails_of(board, join)[0]
        named = next((join.connector for join in together if join.connector is not None), None)
        begin = "connector" if named is None else f"connector {named.name}"
        # Of screws and pigtails alone, each pigtail goes from one screw to the next.
        meet = leads or any(one.kind == "end" for one in wires.values())
        if meet and len(wires) + len(leads) > 1:
            yield f"{begin} for {_held(board, tails, wires.values(), len(leads))}"
        for join in together:
            for name, members in join.under.items():
                pigtails = [one for one in members if one.kind == "pigtail"]
                if pigtails and _is_lead(board, name):
                    yield f"{begin} for {_held(board, tails, pigtails, 1)}"
    at = {end: conductor for conductor in board.conductors.values() for end in conductor.ends}
    for point in board.capped:
        yield f"cap for {_wires(Counter((_of(at[point]),))) if point in at else '1 lead'}"


def _splices(board: Board) -> list[tuple[Join, ...]]:
    """The joins of a board, those together that name one end or lead: they are one splice."""
    named: dict[str, int] = {}
    pairs = []
    for number, join in enumerate(board.joins):
        ends = [one.point for one in join.members if one.kind == "end"]
        for name in (*ends, *(name for name in join.under if _is_lead(board, name))):
            pairs.append((named.setdefault(name, number), number))
    number_of = pieces(range(len(board.joins)), pairs)
    return list(grouped((number_of[number], join) for number, join in enumerate(board.joins)).values())


def _is_lead(board: Board, name: str) -> bool:
    return "lead" in board.terminals[name].spec.flags


def _spliced_leads(board: Board, join: Join) -> list[str]:
    """The leads that meet a wire or another lead, and no pigtail or screw that takes them all."""
    found: list[str] = []
    if _under_a_screw(board, join):
        return found
    for name, members in join.under.items():
        meets = any(
            one.kind == "end" or (one.kind == "terminal" and _is_lead(board, one.point)) for one in members
        )
        if _is_lead(board, name) and meets and all(one.kind != "pigtail" for one in members):
            found.append(name)
    return found


def _under_a_screw(board: Board, join: Join) -> bool:
    """Whether a screw beside a lead may hold all wires and leads of a join, which then need no connector."""
    ends = sum(one.kind == "end" for one in join.members)
    leads = sum(_is_lead(board, name) for name in join.under)
    return all(one.kind != "pigtail" for one in join.members) and any(
        board.terminals[name].spec.screws * board.terminals[name].spec.holds >= ends + leads
        for name, members in join.under.items()
        if not _is_lead(board, name)
        and any(one.kind == "terminal" and _is_lead(board, one.point) for one in members)
    )


def _held(board: Board, tails: Mapping[Span, Tail], members: Iterable[Member], leads: int) -> str:
    """What is under a connector: 2 x 14 AWG and 1 lead."""
    held: Counter[tuple[str | None, str]] = Counter()
    for one in members:
        if one.kind == "end":
            held[_of(board.conductors[one.name])] += 1
        else:
            held[tails[one.span].size, tails[one.span].material] += 1
    words = [_wires(held)] if held else []
    return listed([*words, *([counted(leads, "lead")] if leads else [])])


def _of(conductor: Conductor) -> tuple[str | None, str]:
    return conductor.size, conductor.material


def _wires(held: Counter[tuple[str | None, str]]) -> str:
    """So many wires of each size, the thinnest first."""
    order = sorted(
        held.items(), key=lambda one: (area(one[0][0]) if one[0][0] else 0.0, one[0][1] == "aluminum")
    )
    return listed(
        f"{counted(number, 'wire')} ({NO_SIZE})"
        if size is None
        else f"{number} x {gauge(size)}{' aluminum' if metal == 'aluminum' else ''}"
        for (size, metal), number in order
    )


def _tails(board: Board) -> Iterator[Item]:
    """Each pigtail, and each jumper from one screw to the next."""
    for join in board.joins:
        tails, jumper = _tails_of(board, join)
        for one in join.members:
            if one.kind == "pigtail":
                yield Item("Pigtails to cut", f"pigtail, {tails[one.span].words}")
        spliced = set(_spliced_leads(board, join))
        for name, members in join.under.items():
            for one in members:
                # Each of the two sits under the other: it is counted once. A lead reaches by itself.
                if one.kind == "terminal" and name < one.point:
                    leads = [each for each in (name, one.point) if _is_lead(board, each)]
                    if not leads or (len(leads) == 1 and leads[0] in spliced):
                        yield Item("Pigtails to cut", f"jumper, {jumper.words}")


def _tails_of(board: Board, join: Join) -> tuple[dict[Span, Tail], Tail]:
    """The pigtails of a join by where they stand, and what a jumper between its screws is.

    Where no line says its size, a tail is as large as the largest wire of the join, and to a ground as the
    smallest. It has the color of the first wire.
    """
    wires = [(one, board.conductors[one.name]) for one in join.members if one.kind == "end"]
    sizes = sorted((wire.size for _, wire in wires), key=area)
    smallest, largest = (sizes[0], sizes[-1]) if sizes else (None, None)
    both = join.connector is not None and join.connector.metals
    metal = "aluminum" if wires and not both and all(w.material == "aluminum" for _, w in wires) else "copper"
    color = next((one.marked or wire.color for one, wire in wires), "")
    grounds = [name for name in join.under if board.terminals[name].spec.role == "ground"]
    grounding = {one.span for name in grounds for one in join.under[name]}
    tails = {
        one.span: Tail(one.size or (smallest if one.span in grounding else largest), metal, color)
        for one in join.members
        if one.kind == "pigtail"
    }
    return tails, Tail(smallest if grounds else largest, metal, color)


# ----------------------------------------------------------- cable, raceway, wires, marks


def _runs(board: Board) -> Iterator[Item]:
    for run in board.runs.values():
        ends = [_end(board, run, number) for number in (0, 1)]
        known = [one for one in ends if one is not None]
        unsaid = len(ends) - len(known)
        group: Group = "Cable" if run.jacketed else "Single wires"
        yield Item(group, _run(run), 1, run.length, math.fsum(known), unsaid)


def _run(run: Run) -> str:
    """A cable by its size and the number of its insulated wires, as it is sold; a wire by its color too."""
    first = run.conductors[0]
    metal = ", aluminum" if first.material == "aluminum" else ""
    if not run.jacketed:
        return f"{gauge(first.size)} {run.kind} {first.color}{metal}"
    number = len(run.conductors)
    if run.kind not in CLASS_2_CABLES and run.kind not in COUNTED:
        number -= len(GROUNDS.get(run.kind, ("bare",)))
    size = f"{number} x {first.size}" if " " in first.size else f"{first.size}/{number}"
    return f"{size} {run.kind}{metal}"


def _end(board: Board, run: Run, number: int) -> float | None:
    """How long a run is in the place where it ends; None where neither the board nor the code says that."""
    end = run.ends[number]
    free, jacket = end.free, end.jacket
    if end.place in board.boxes and run.kind not in CLASS_2_CABLES:
        if free is None:
            free = board.code.limit("free conductor")
        if jacket is None and sheathed(run):
            jacket = board.code.limit("jacket in the box")
    return None if free is None else free + (jacket or 0.0)


def _raceways(board: Board) -> Iterator[Item]:
    for raceway in board.raceways.values():
        yield Item("Raceway", f"{raceway.size_text} {raceway.kind}", 1, raceway.length)


def _marks(board: Board) -> Iterator[Item]:
    """The ends that a line marks with another color, each end once for each color."""
    marked = dict.fromkeys(
        (one.point, one.marked) for join in board.joins for one in join.members if one.marked is not None
    )
    for _, color in marked:
        yield Item("Marks", f"{color} tape, on an end")


# ------------------------------------------------------------------------------- lengths


def to_cut(meters: float) -> str:
    """A length to cut, in feet and inches, up to the next inch.

    >>> to_cut(6.7056), to_cut(6.7056 + 0.01), to_cut(0.1778)
    ('22 ft', '22 ft 1 in', '7 in')
    """
    whole, left = divmod(math.ceil(meters / _INCH - _SAME), 12)
    words = [f"{whole} ft"] if whole else []
    return " ".join([*words, *([f"{left} in"] if left or not whole else [])])


def to_buy(item: Item, slack: float) -> int:
    """Feet to buy for what is cut, with so many percent more, up to the next foot.

    >>> to_buy(Item("Cable", "14/2 NM-B", 1, 30.48, 0.0), 10), to_buy(Item("Cable", "14/2 NM-B", 1, 30.5), 0)
    (110, 101)
    """
    return math.ceil(item.cut * (1 + slack / 100) / _FOOT - _SAME)


def beside(item: Item, slack: float) -> str:
    """What is said of its lengths; nothing of what is bought by the piece.

    >>> beside(Item("Cable", "14/2 NM-B", 1, 30.48, 0.254), 10)
    '100 ft between places and 10 in of ends: cut 100 ft 10 in, buy 111 ft'
    """
    if item.group not in FROM_A_ROLL:
        return ""
    ends = f" and {to_cut(item.ends)} of ends" if item.ends else ""
    more = f", and what {counted(item.unsaid, 'end')} with no length take" if item.unsaid > 1 else ""
    more = ", and what 1 end with no length takes" if item.unsaid == 1 else more
    return (
        f"{to_cut(item.run)} between places{ends}: cut {to_cut(item.cut)}, buy {to_buy(item, slack)} ft{more}"
    )


class Listing(NamedTuple):
    """The list of some boards: their titles, how many of each, what they take, and what to know before.

    `slack` is what is bought over what is cut, in percent.
    """

    titles: tuple[str, ...]
    boards: int
    items: tuple[Item, ...]
    notes: tuple[str, ...]
    slack: float

    @property
    def heading(self) -> str:
        """What stands above it.

        >>> Listing(("Shed",), 12, (), (), 10).heading, Listing(("Shed", "Hall"), 1, (), (), 10).heading
        ('Materials: Shed, 12 boards', 'Materials: 2 boards')
        """
        if len(self.titles) == 1:
            title = headline(self.titles[0]) or "a board without a title"
            return f"Materials: {title}" + (f", {self.boards} boards" if self.boards > 1 else "")
        each = f", {self.boards} of each" if self.boards > 1 else ""
        return f"Materials: {counted(len(self.titles), 'board')}{each}"

    @property
    def words(self) -> tuple[str, ...]:
        """What there is to know of the list, after its notes."""
        bought = f" What is bought has {rounded(self.slack)} % more than what is cut." if self.slack else ""
        return (*self.notes, f"{COUNTED_SO}{bought}", NOT_LISTED)


def render(listing: Listing, paint: Paint = unpainted) -> str:
    """The list as text: the number, the thing, and below it the lengths of what is cut from a roll."""
    lines = [paint(plain(listing.heading), "heading"), "", wrapped(CAUTION, ""), ""]
    lines += [wrapped(words, "") for words in listing.words]
    for group in GROUPS:
        there = [one for one in listing.items if one.group == group]
        lines += ["", paint(group, "heading")] if there else []
        for one in there:
            lines.append(f"{one.number:>6}  {wrapped(one.what, '        ').lstrip()}")
            lengths = beside(one, listing.slack)
            lines += [wrapped(lengths, "          ")] if lengths else []
    return "\n".join(lines) + "\n"


def rows(items: Iterable[Item], slack: float) -> Iterator[Row]:
    """The list for a spreadsheet: a row of headings, then one for each item, lengths in feet."""
    yield (
        "group",
        "item",
        "number",
        "between places ft",
        "ends ft",
        "cut ft",
        "buy ft",
        "ends without a length",
    )
    for one in items:
        lengths: Row = (None,) * 5
        if one.group in FROM_A_ROLL:
            feet = (one.run / _FOOT, one.ends / _FOOT, one.cut / _FOOT)
            lengths = (*(round(each, 2) for each in feet), to_buy(one, slack), one.unsaid)
        yield one.group, one.what, one.number, *lengths
