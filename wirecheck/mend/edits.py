"""What hands can change on a board to put it right, as data, and how each is made in its text.

Each is the other way of a mistake: two exchanged, one moved, one forgotten, one of the wrong size.
`edited` makes one on a sheet.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, NamedTuple, get_args

from wirecheck.language.names import of_end
from wirecheck.language.syntax import (
    CableStatement,
    JoinStatement,
    Statement,
    WireStatement,
)
from wirecheck.mend.sheet import Names, Sheet, as_join, how, run_of

Side = Literal["hot", "neutral"]
"""A side of a receptacle, on which a tab joins its two screws."""
SIDES: tuple[Side, ...] = get_args(Side)


class Exchange(NamedTuple):
    """Two members of joins in one place change places, each with its mark; one may be loose or capped."""

    place: str
    one: str
    other: str


class ExchangeThroughout(NamedTuple):
    """Two conductors of a cable are taken for one another at both ends; `marked` is what the first gets."""

    one: str
    other: str
    places: tuple[str, ...]
    marked: str | None = None


class ExchangeSides(NamedTuple):
    """All that is on some screws of a device goes to others, and the other way: line and load, or poles."""

    device: str
    place: str
    pairs: tuple[tuple[str, str], ...]
    poles: bool = False


class Move(NamedTuple):
    """A wire's end, joined, capped or loose, goes to a screw or beside a wire.

    `pigtail` makes a splice of what is under the screw; `fresh` gives it a place of its own, as a bar has;
    `marked` is the color of a mark that it gets, `beside` of one that the loose wire gets which it goes to;
    `capped` is a spare that it leaves, which gets a cap; `far` is where its other end gets that mark too.
    """

    place: str
    end: str
    to: str
    pigtail: bool = False
    fresh: bool = False
    marked: str | None = None
    capped: str | None = None
    beside: str | None = None
    far: str | None = None


class Gather(NamedTuple):
    """Loose ends that belong together are joined, with a tail to each of some screws."""

    place: str
    ends: tuple[str, ...]
    screws: tuple[str, ...]


class Tail(NamedTuple):
    """A splice gets a pigtail to a screw; `leaves` is what the screw is joined with till then.

    `lead` is whether it is spliced with what is at another screw, which gets the pigtails then.
    """

    place: str
    beside: str
    screw: str
    leaves: str | None = None
    lead: bool = False


class TakeOver(NamedTuple):
    """An idle wire of a cable goes on `screw` for another, which goes on the screw that it is made for.

    The jumper between the two screws, with which the other did for both, comes out.
    """

    place: str
    idle: str
    wrong: str
    screw: str
    to: str


class IntoHot(NamedTuple):
    """A switch, relay or fuse leaves the white wire of a cable for its hot.

    The white is on `load` alone, and goes where `line` is; the hot goes on `load`, and `line` where that was.
    """

    place: str
    line: str
    load: str
    white: str
    hot: str


class Pigtail(NamedTuple):
    """The wires under a screw are spliced, and one pigtail goes to the screw."""

    place: str
    screw: str


class Jumper(NamedTuple):
    """A jumper goes from an empty screw to one that is used."""

    place: str
    screw: str
    to: str


class Part(NamedTuple):
    """A screw is taken out of a join, with the jumper or tail that goes to it."""

    place: str
    screw: str
    beside: str


class Cap(NamedTuple):
    """A spare is capped."""

    place: str
    end: str


class Mark(NamedTuple):
    """A wire's end is marked in a color, or its mark comes off."""

    place: str
    end: str
    color: str | None


class MarkThroughout(NamedTuple):
    """A white is marked in a color wherever it is joined."""

    end: str
    places: tuple[str, ...]
    color: str


class Change(NamedTuple):
    """A line that declares something says another size, rating, measure or word.

    `number` is its place on the sheet, `subject` what it declares, `place` the end of a run whose measure
    it is; `was` and `now` are what the thing is and what it should be.
    """

    number: int
    subject: str
    what: str
    was: str
    now: str
    written: str
    place: str = ""


class ExchangeAll(NamedTuple):
    """Several pairs of ends in one place change places, as where a switch is in the white."""

    place: str
    pairs: tuple[tuple[str, str], ...]


class Rotate(NamedTuple):
    """Ends in one place, with their marks: each goes where the next is, and the last where the first is."""

    place: str
    ends: tuple[str, ...]


class Divide(NamedTuple):
    """Some members of a join are joined by themselves: two splices were made as one."""

    place: str
    members: tuple[str, ...]


class Meet(NamedTuple):
    """Two ends leave where they are, and are joined to each other."""

    place: str
    one: str
    other: str


class Land(NamedTuple):
    """Several ends each go to a screw: loose ones, or those of a cable that is on a device's line side."""

    place: str
    pairs: tuple[tuple[str, str], ...]


class Abreast(NamedTuple):
    """What goes on from the `far` screw of a load goes on from its `near` one, and `far` joins `beside`.

    Till then the load is in series with what is behind it.
    """

    place: str
    near: str
    far: str
    onward: str
    beside: str


class Behind(NamedTuple):
    """The screws and leads that are with the `near` screw of a contact go to its `far` one, joined as before.

    What feeds the near screw stays on it.
    """

    place: str
    ends: tuple[str, ...]
    near: str
    far: str


class IntoWire(NamedTuple):
    """The two ends of a cable to a contact leave the wire that they are in, and go into another, in its way.

    `first` goes where `wire` is, and `wire` is joined to `second`. `across` is whether they lie from one wire
    to another till then, so that these are not joined with each other.
    """

    place: str
    first: str
    second: str
    wire: str
    across: bool = False


class Unbridge(NamedTuple):
    """A join that holds both ends of a contact is parted between them: `beside` goes with `far`.

    The rest stays with `near`. The contact stands where it belongs, and was joined to itself.
    """

    place: str
    near: str
    far: str
    beside: tuple[str, ...]


class Together(NamedTuple):
    """Several changes that are one act: all cables of a box of another kind."""

    changes: tuple[Change, ...]


class Refit(NamedTuple):
    """A device is another part with the same outlets, as a receptacle with its tab broken out.

    `out` are the sides whose tab is broken out, `back` those whose tab is whole again.
    """

    device: str
    was: str
    now: str
    changes: tuple[Change, ...]
    out: tuple[Side, ...]
    back: tuple[Side, ...]


class Protect(NamedTuple):
    """A breaker gets protection of some `kinds`, and the `whites` of its circuit go from the bar to it."""

    breaker: str
    place: str
    kinds: tuple[str, ...]
    changes: tuple[Change, ...]
    whites: tuple[str, ...]


class TwoPole(NamedTuple):
    """Two breakers of one pole are one of two poles, in the place of the first, with the wires of both.

    `kinds` is the protection that it has besides; `gone` is the line of the other.
    """

    breaker: str
    other: str
    place: str
    rating: str
    kinds: tuple[str, ...]
    changes: tuple[Change, ...]
    gone: int


class ToSpace(NamedTuple):
    """A breaker of one pole goes to another space, with its wires, and has its name from there.

    `tie` is the breaker that a new tie joins it with, or nothing; `beside` the one that its old tie reaches
    there, or nothing.
    """

    breaker: str
    space: int
    leg: str
    tie: str
    beside: str
    changes: tuple[Change, ...]


class Renew(NamedTuple):
    """An outlet of three wires is the one of four, and its cable has a neutral and a ground of their own.

    `was` and `now` are the parts, `written` the new cable; `grounds` are the screws in each place to which
    its bare wire goes.
    """

    device: str
    was: str
    now: str
    changes: tuple[Change, ...]
    cable: str
    written: str
    grounds: tuple[tuple[str, tuple[str, ...]], ...]


class OnScrews(NamedTuple):
    """Wires come out of the push-in holes of a device, and go under its screws."""

    device: str
    changes: tuple[Change, ...]


class Restore(NamedTuple):
    """What was done to the wires inside of a device is undone: the line that says it goes."""

    number: int
    device: str
    act: str
    points: tuple[str, ...]


Edit = (
    Exchange
    | ExchangeThroughout
    | ExchangeSides
    | Move
    | Gather
    | Tail
    | IntoHot
    | TakeOver
    | Jumper
    | Pigtail
    | Part
    | Cap
    | Mark
    | MarkThroughout
    | Change
    | Together
    | Refit
    | Protect
    | TwoPole
    | ToSpace
    | Renew
    | OnScrews
    | Restore
    | ExchangeAll
    | Rotate
    | Divide
    | Meet
    | Land
    | Abreast
    | Behind
    | IntoWire
    | Unbridge
)


def edited(sheet: Sheet, edit: Edit) -> Sheet | None:
    """The sheet with an edit made, or None where it changes nothing or can't be made.

    Examples
    --------
    >>> from wirecheck.language.reader import read
    >>> from wirecheck.mend.sheet import sheet
    >>> told = sheet(read("at A\\n  W1.black -- S1.load\\n  W2.black -- S1.line"))
    >>> print(edited(told, Exchange("A", "W1.black", "W2.black")).text())
    at A
      W2.black -- S1.load
      W1.black -- S1.line
    """
    match edit:
        case Change():
            return sheet.changed(edit.number, edit.written)
        case (
            Together(changes)
            | Refit(changes=changes)
            | Protect(changes=changes)
            | ToSpace(changes=changes)
            | OnScrews(changes=changes)
        ):
            for change in changes:
                sheet = sheet.changed(change.number, change.written)
            return sheet
        case TwoPole() | Renew() | Restore():
            return _replaced(sheet, edit)
        case Exchange() | ExchangeThroughout() | ExchangeSides() | ExchangeAll() | Rotate() | TakeOver():
            return _exchanged(sheet, edit)
        case Gather() | Meet() | Land() | Abreast() | Behind() | IntoWire() | IntoHot() | Move():
            return _put(sheet, edit)
        case Tail():
            return _tailed_anew(sheet, edit)
        case Jumper(place, screw, to):
            return _jumpered(sheet, place, screw, to)
        case Pigtail(place, screw):
            return _pigtailed(sheet, place, screw)
        case Part(place, screw, beside):
            return _parted(sheet, place, screw, beside)
        case Divide() | Unbridge():
            return _divided(sheet, edit)
        case Cap(place, end):
            taken = _taken(sheet, place, end)
            return (taken[0] if taken else sheet).added(place, _cap(end))
        case Mark(place, end, color):
            return _marked(sheet, place, end, color)
        case MarkThroughout(end, places, color):
            changed = sheet
            for place in places:
                changed = _marked(changed, place, end, color) or changed
            return changed


def _replaced(sheet: Sheet, edit: TwoPole | Renew | Restore) -> Sheet:
    """Lines as they should be with another device, one of them gone or some joins more."""
    if isinstance(edit, Restore):
        return sheet.changed(edit.number, None)
    for change in edit.changes:
        sheet = sheet.changed(change.number, change.written)
    if isinstance(edit, TwoPole):
        return sheet.changed(edit.gone, None)
    for place, screws in edit.grounds:
        members = [(None, None) if one is None else (one, None) for one in _tails(screws)]
        sheet = sheet.added(place, as_join(((f"{edit.cable}.bare", None), *members)))
    return sheet


def _tails(screws: tuple[str, ...]) -> tuple[str | None, ...]:
    """A screw alone, or several with a pigtail before each."""
    return screws if len(screws) == 1 else tuple(one for screw in screws for one in (None, screw))


def _exchanged(
    sheet: Sheet, edit: Exchange | ExchangeThroughout | ExchangeSides | ExchangeAll | Rotate | TakeOver
) -> Sheet | None:
    match edit:
        case TakeOver(place, idle, wrong, screw, to):
            parted = _parted(sheet, place, to, screw) or sheet
            taken = _renamed(parted, place, _swapped(((idle, wrong),)), carry=False)
            # What is on that screw already is spliced with it, and has a tail to the screw.
            on = _at(taken, place, to) if taken else None
            tail = on is not None and not any(name is None for name, _ in on[1])
            return taken and _moved(taken, Move(place, wrong, to, pigtail=tail))
        case Exchange(place, one, other):
            return _renamed(sheet, place, _swapped(((one, other),)), carry=True)
        case Rotate(place, ends):
            return _renamed(sheet, place, dict(zip((*ends[1:], ends[0]), ends, strict=True)), carry=True)
        case ExchangeSides(_, place, pairs) | ExchangeAll(place, pairs):
            return _renamed(sheet, place, _swapped(pairs), carry=False)
        case ExchangeThroughout(one, other, places, marked):
            for place in places:
                renamed = _renamed(sheet, place, _swapped(((one, other),)), carry=False)
                if renamed is None:
                    return None
                sheet = _marked(renamed, place, other, None) or renamed
                sheet = _marked(sheet, place, one, marked) or sheet
            return sheet


def _put(
    sheet: Sheet, edit: Gather | Meet | Land | Abreast | Behind | IntoWire | IntoHot | Move
) -> Sheet | None:
    match edit:
        case Move():
            moved = _moved(sheet, edit)
            if moved and edit.far is not None:
                moved = _marked(moved, edit.far, edit.end, edit.marked) or moved
            spare = edit.capped
            return moved.added(edit.place, _cap(spare)) if moved and spare else moved
        case Gather(place, ends, screws):
            return _gathered(sheet, place, ends, screws)
        case Meet(place, one, other):
            return _gathered(sheet, place, (one, other), ())
        case IntoWire():
            return _into_wire(sheet, edit)
        case Behind():
            return _brought_behind(sheet, edit)
        case IntoHot():
            return _into_hot(sheet, edit)
        case Abreast(place, near, far, onward, beside):
            for one, to in ((onward, near), (far, beside)):
                taken = _taken(sheet, place, one)
                joined = _joined_with(taken[0], place, (one, taken[1]), to) if taken else None
                if joined is None:
                    # The far screw is alone once the wire is off.
                    joined = _joined_with(sheet, place, (one, None), to) if taken is None else None
                if joined is None:
                    return None
                sheet = joined
            return sheet
        case Land(place, pairs):
            for end, screw in pairs:
                moved = _moved(sheet, Move(place, end, screw))
                if moved is None:
                    return None
                sheet = moved
            return sheet


def _brought_behind(sheet: Sheet, edit: Behind) -> Sheet | None:
    """What is with one screw of a contact, with the other one, and with the same pigtails between."""
    found = _at(sheet, edit.place, edit.near)
    if found is None or _at(sheet, edit.place, edit.far) is not None:
        return None
    number, members = found
    behind = tuple(
        (edit.far, None) if name == edit.near else (name, mark)
        for name, mark in members
        if name in (*edit.ends, edit.near, None)
    )
    rest = tuple(each for each in members if each[0] not in edit.ends)
    return _rewritten(sheet, number, rest).added(edit.place, as_join(_tidied(behind)))


def _rewritten(sheet: Sheet, number: int, members: Names) -> Sheet:
    """A join with other members; it goes where they are too few to be one."""
    join = sheet.lines[number].statement
    assert isinstance(join, JoinStatement)
    kept = _tidied(members)
    if sum(name is not None for name, _ in kept) < 2:
        return sheet.changed(number, None)
    return sheet.changed(number, as_join(kept, how(join)))


def _tidied(members: Names) -> Names:
    """The members without a pigtail that leads to nothing or comes from nothing."""
    kept: list[tuple[str | None, str | None]] = []
    for member in members:
        if member[0] is None and (not kept or kept[-1][0] is None):
            continue
        kept.append(member)
    while kept and kept[-1][0] is None:
        kept.pop()
    return tuple(kept)


def _at(sheet: Sheet, place: str, name: str) -> tuple[int, Names] | None:
    """The join in a place that has a member of that name."""
    for number, _, members in sheet.joins(place):
        if any(one == name for one, _ in members):
            return number, members
    return None


def _capped(sheet: Sheet, place: str, name: str) -> int | None:
    """The line that caps an end in a place."""
    return next((number for number, capped in sheet.caps(place) if capped == name), None)


def _cap(end: str) -> str:
    """The line that caps an end."""
    return f"cap {of_end(end)}"


def _swapped(pairs: tuple[tuple[str, str], ...]) -> dict[str, str]:
    """What comes where each member of some pairs is: the other one."""
    return dict(pairs) | {b: a for a, b in pairs}


def _renamed(sheet: Sheet, place: str, swapped: dict[str, str], carry: bool) -> Sheet | None:
    """Members of joins in a place, each with what comes there; `carry` takes the marks along."""
    marks = {name: mark for *_, members in sheet.joins(place) for name, mark in members if name in swapped}
    changed, touched = sheet, False
    for number, join, members in list(sheet.joins(place)):
        if not any(name in swapped for name, _ in members):
            continue
        if {name for name, _ in members} >= set(swapped):
            continue
        other = tuple(
            (swapped[name], marks.get(swapped[name]) if carry else mark if name in marks else None)
            if name in swapped
            else (name, mark)
            for name, mark in members
        )
        touched = True
        changed = changed.changed(number, as_join(other, how(join)))
    for number, capped in list(sheet.caps(place)):
        if capped in swapped:
            touched = True
            changed = changed.changed(number, _cap(swapped[capped]))
    return changed if touched else None


def _taken(sheet: Sheet, place: str, name: str) -> tuple[Sheet, str | None] | None:
    """The sheet without a wire's end in a place, and its mark; None where it lies loose there."""
    capped = _capped(sheet, place, name)
    if capped is not None:
        return sheet.changed(capped, None), None
    found = _at(sheet, place, name)
    if found is None:
        return None
    number, members = found
    mark = next(mark for one, mark in members if one == name)
    return _rewritten(sheet, number, tuple(each for each in members if each[0] != name)), mark


def _moved(sheet: Sheet, edit: Move) -> Sheet | None:
    taken = _taken(sheet, edit.place, edit.end)
    without, mark = taken if taken else (sheet, None)
    mark = edit.marked or mark
    found = None if edit.fresh else _at(without, edit.place, edit.to)
    if found is None:
        capped = _capped(without, edit.place, edit.to)
        if capped is not None:
            without = without.changed(capped, None)
        return without.added(edit.place, as_join(((edit.end, mark), (edit.to, edit.beside))))
    number, members = found
    spot = _after_the_wires(members, edit.to)
    more = [*members[:spot], (edit.end, mark), *members[spot:]]
    if edit.pigtail:
        if any(name is None for name, _ in members):
            return None
        more.insert(spot + 1, (None, None))
    return _rewritten(without, number, tuple(more))


def _after_the_wires(members: Names, to: str) -> int:
    """Where one more wire goes into a join: before its first pigtail, else before that screw, else last."""
    for index, (name, _) in enumerate(members):
        if name is None:
            return index
    for index, (name, _) in enumerate(members):
        if name == to:
            return index
    return len(members)


def _gathered(sheet: Sheet, place: str, ends: tuple[str, ...], screws: tuple[str, ...]) -> Sheet | None:
    members: list[tuple[str | None, str | None]] = []
    changed = sheet
    for end in ends:
        taken = _taken(changed, place, end)
        changed, mark = taken if taken else (changed, None)
        members.append((end, mark))
    for screw in screws:
        taken = _taken(changed, place, screw)
        changed = taken[0] if taken else changed
        if len(members) > 1 or len(screws) > 1:
            members.append((None, None))
        members.append((screw, None))
    if sum(name is not None for name, _ in members) < 2:
        return None
    return changed.added(place, as_join(tuple(members)))


def _divided(sheet: Sheet, edit: Divide | Unbridge) -> Sheet | None:
    """Some members of a join in a join of their own: a contact's one end with what is beside it, spliced."""
    if isinstance(edit, Divide):
        named, apart = edit.members[0], edit.members
    else:
        named, apart = edit.near, (edit.far, *edit.beside)
    found = _at(sheet, edit.place, named)
    if found is None:
        return None
    number, members = found
    if not {name for name, _ in members} > set(apart):
        return None
    taken = tuple(each for each in members if each[0] in apart)
    rest = tuple(each for each in members if each[0] not in apart)
    if isinstance(edit, Unbridge):
        taken = _spliced(taken, _runs(sheet))
    return _rewritten(sheet, number, rest).added(edit.place, as_join(taken))


def _joined_with(sheet: Sheet, place: str, member: tuple[str, str | None], to: str) -> Sheet | None:
    """A wire or a screw in the join of another: several wires are spliced, with a pigtail to each screw."""
    found = _at(sheet, place, to)
    if found is None:
        return None
    number, members = found
    every = [*(each for each in members if each[0] is not None), member]
    return _rewritten(sheet, number, _spliced(every, _runs(sheet)))


def _spliced(every: Sequence[tuple[str | None, str | None]], runs: frozenset[str]) -> Names:
    """Members of one join: two as they are, more as a splice of the wires with a pigtail to each screw."""
    wires = [each for each in every if _is_wire(each[0], runs)]
    spliced: list[tuple[str | None, str | None]] = list(wires)
    for screw in every:
        if screw not in wires:
            spliced += [(None, None), screw] if spliced and len(every) > 2 else [screw]
    return tuple(spliced)


def _into_wire(sheet: Sheet, edit: IntoWire) -> Sheet | None:
    """A contact's two ends out of the wire that they are in, which is joined again, and into another."""
    place, pair = edit.place, (edit.first, edit.second)
    found = {one[0]: one[1] for end in pair if (one := _at(sheet, place, end)) is not None}
    left = [[each for each in members if each[0] not in pair] for members in found.values()]
    capped = [number for end in pair if (number := _capped(sheet, place, end)) is not None]
    changed = sheet
    for number in sorted((*found, *capped), reverse=True):
        changed = changed.changed(number, None)
    for again in left if edit.across else [[each for members in left for each in members]]:
        joined = _ends_first(again, sheet)
        if sum(name is not None for name, _ in joined) > 1:
            changed = changed.added(place, as_join(joined))
    at = _at(changed, place, edit.wire)
    if at is None:
        return None
    number, members = at
    mark = next(mark for name, mark in members if name == edit.wire)
    into = tuple((edit.first, None) if name == edit.wire else (name, was) for name, was in members)
    beside = as_join(((edit.wire, mark), (edit.second, None)))
    return _rewritten(changed, number, into).added(place, beside)


def _into_hot(sheet: Sheet, edit: IntoHot) -> Sheet | None:
    """What opens the white of a cable, opening its hot: each of three takes the place of the next."""
    place, goes = edit.place, {edit.line: edit.white, edit.white: edit.hot, edit.hot: edit.line}
    changed, runs = sheet, _runs(sheet)
    for number, join, members in list(sheet.joins(place)):
        if not any(name in goes for name, _ in members):
            continue
        # A neutral loses its mark where it comes to its like, and a tail goes to the screw alone.
        kept = [each for each in members if each[0] is not None and each[0] not in goes]
        come = [(goes[name], None) for name, _ in members if name is not None and name in goes]
        wires = [each for each in (*kept, *come) if _is_wire(each[0], runs)]
        screws = [each for each in (*kept, *come) if each not in wires]
        tails = len(wires) > 1 or None in [name for name, _ in members]
        spliced: list[tuple[str | None, str | None]] = list(wires)
        for screw in screws:
            spliced += [(None, None), screw] if tails and spliced else [screw]
        changed = changed.changed(number, as_join(_tidied(tuple(spliced)), how(join)))
    return changed


def _ends_first(members: list[tuple[str | None, str | None]], sheet: Sheet) -> Names:
    """Members of two joins in the order of one: wires, and then the screws with their pigtails."""
    runs = _runs(sheet)
    wires = [each for each in members if _is_wire(each[0], runs)]
    return _tidied((*wires, *(each for each in members if each not in wires)))


def _runs(sheet: Sheet) -> frozenset[str]:
    """The names of the cables and wires."""
    return frozenset(name for line in sheet.lines for name in _declares(line.statement))


def _is_wire(name: str | None, runs: frozenset[str]) -> bool:
    return name is not None and run_of(name) in runs


def _declares(statement: Statement) -> tuple[str, ...]:
    """The name of a cable or wire that a statement declares."""
    return (statement.name.text,) if isinstance(statement, CableStatement | WireStatement) else ()


def _tailed_anew(sheet: Sheet, edit: Tail) -> Sheet | None:
    """A tail to a screw from a splice, a loose wire or another screw, in place of what goes to it."""
    place, beside, screw = edit.place, edit.beside, edit.screw
    parted = sheet if edit.leaves is None else _parted(sheet, place, screw, edit.leaves)
    if parted is None or edit.leaves is None:
        return parted and _tailed(parted, place, beside, screw)
    if edit.lead:
        return _spliced_with(parted, place, screw, beside)
    if not _is_wire(beside, _runs(parted)):
        return parted.added(place, as_join(((screw, None), (beside, None))))
    if _at(parted, place, beside) is None:
        return _moved(parted, Move(place, beside, screw))
    return _tailed(parted, place, beside, screw)


def _spliced_with(sheet: Sheet, place: str, lead: str, beside: str) -> Sheet | None:
    """A lead in the place of what joins some screws, with a pigtail to each; or on a pigtail more."""
    found = _at(sheet, place, beside)
    if found is None or _at(sheet, place, lead) is not None:
        return None
    if any(name is None for name, _ in found[1]):
        return _tailed(sheet, place, beside, lead)
    tails = [each for member in found[1] for each in ((None, None), member)]
    return _rewritten(sheet, found[0], ((lead, None), *tails))


def _tailed(sheet: Sheet, place: str, beside: str, screw: str) -> Sheet | None:
    found = _at(sheet, place, beside)
    if found is None or _at(sheet, place, screw) is not None:
        return None
    number, members = found
    if not any(name is None for name, _ in members):
        # What is under a screw is spliced first, and goes to it by a tail.
        runs = _runs(sheet)
        at = next((i for i, (name, _) in enumerate(members) if not _is_wire(name, runs)), len(members))
        members = (*members[:at], (None, None), *members[at:])
    return _rewritten(sheet, number, (*members, (None, None), (screw, None)))


def _jumpered(sheet: Sheet, place: str, screw: str, to: str) -> Sheet | None:
    """A screw beside another in its join."""
    found = _at(sheet, place, to)
    if found is None or _at(sheet, place, screw) is not None:
        return None
    number, members = found
    at = [name for name, _ in members].index(to) + 1
    return _rewritten(sheet, number, (*members[:at], (screw, None), *members[at:]))


def _pigtailed(sheet: Sheet, place: str, screw: str) -> Sheet | None:
    """All wires that are under a screw, in whatever lines, spliced with a tail to it."""
    wires: list[tuple[str | None, str | None]] = []
    numbers = []
    for number, _, members in sheet.joins(place):
        if any(name == screw for name, _ in members):
            if any(name is None for name, _ in members):
                return None
            wires += [each for each in members if each[0] != screw]
            numbers.append(number)
    if len(wires) < 2:
        return None
    changed = _rewritten(sheet, numbers[0], (*wires, (None, None), (screw, None)))
    for number in reversed(numbers[1:]):
        changed = changed.changed(number, None)
    return changed


def _parted(sheet: Sheet, place: str, screw: str, beside: str) -> Sheet | None:
    for number, _, members in sheet.joins(place):
        listed = [name for name, _ in members]
        if screw in listed and beside in listed:
            return _rewritten(sheet, number, tuple(each for each in members if each[0] != screw))
    return None


def _marked(sheet: Sheet, place: str, end: str, color: str | None) -> Sheet | None:
    found = _at(sheet, place, end)
    if found is None:
        return None
    number, members = found
    return _rewritten(sheet, number, tuple((name, color if name == end else mark) for name, mark in members))
