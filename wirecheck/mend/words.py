"""A mend in words: what the mistake is, as a teacher says it, and what to do about it."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import NamedTuple

from wirecheck.language.listing import listed
from wirecheck.language.syntax import (
    BoxStatement,
    BreakerStatement,
    CableStatement,
    PanelStatement,
    RacewayStatement,
    WireStatement,
)
from wirecheck.mend.edits import (
    Abreast,
    Behind,
    Cap,
    Change,
    Divide,
    Edit,
    Exchange,
    ExchangeAll,
    ExchangeSides,
    ExchangeThroughout,
    Gather,
    IntoHot,
    IntoWire,
    Jumper,
    Land,
    Mark,
    MarkThroughout,
    Meet,
    Move,
    OnScrews,
    Part,
    Pigtail,
    Protect,
    Refit,
    Renew,
    Restore,
    Rotate,
    Side,
    Tail,
    TakeOver,
    Together,
    ToSpace,
    TwoPole,
    Unbridge,
)
from wirecheck.mend.ends import ends_of
from wirecheck.mend.sheet import Sheet
from wirecheck.mend.spots import jumper_out, leaving
from wirecheck.model.board import Board

MOST_NAMED = 6


class Told(NamedTuple):
    """`mistake` says what is wrong, `remedy` what to do, each in a sentence or two."""

    mistake: str
    remedy: str


def told(edit: Edit, sheet: Sheet, board: Board) -> Told:
    """An edit of a sheet in words."""
    ends = ends_of(edit, sheet, board)
    mistake, remedy = _told(ends.signed(edit), sheet, board, ends.signs)
    return Told(ends.said(mistake), ends.said(remedy))


def _told(edit: Edit, sheet: Sheet, board: Board, signs: Mapping[str, str]) -> Told:
    """The words, with `signs` for the ends of wires that have both in one place."""
    match edit:
        case Change():
            return _changed(edit, sheet)
        case Refit():
            return _refitted(edit)
        case Protect():
            return _protected(edit)
        case TwoPole():
            return _of_two_poles(edit)
        case ToSpace():
            return _to_space(edit)
        case Renew():
            return _renewed(edit)
        case OnScrews(name):
            return Told(
                f"Wires are in the push-in holes of {name}, and belong under its screws.",
                f"Take each of them out of the back of {name}, and put it under its screw.",
            )
        case Restore():
            return _restored(edit)
        case Together(changes):
            return _changed_together(changes)
        case ExchangeThroughout(one, other, places, marked):
            mark = f" Mark {one} {marked} there." if marked else ""
            return Told(
                f"{one} and {other} are swapped at both ends.",
                f"Swap them at {listed(places)}: each goes where the other is now.{mark}",
            )
        case MarkThroughout(end, places, color):
            return Told(
                f"{end} is not a neutral, and nothing says so.",
                f"Mark it {color} at {listed(places)}, with tape or paint.",
            )
        case Cap() | Mark():
            return _of_one_end(edit, _Place(sheet, edit.place, board, signs))
        case IntoWire() | IntoHot() | TakeOver():
            return _in_anothers_place(edit, _Place(sheet, edit.place, board, signs))
        case Exchange() | Move() | ExchangeSides() | ExchangeAll() | Rotate() | Meet() | Abreast():
            return _put_elsewhere(edit, _Place(sheet, edit.place, board, signs))
        case _:
            return _joined(edit, _Place(sheet, edit.place, board, signs))


def _refitted(edit: Refit) -> Told:
    """A tab to break out, and the one to leave in; one that is out stays out, and the receptacle goes."""
    device, new = edit.device, f"Put a {edit.now} there, with the wires of {edit.device} on its screws."
    if edit.back or not edit.out:
        mistake = f"{device} is a {edit.was}, and should be a {edit.now}."
        return Told(mistake, f"{new} A tab that is broken out cannot be put back." if edit.back else new)
    if len(edit.out) > 1:
        return Told(
            f"{device} still has its tabs on both sides, {_TABS['hot']} and {_TABS['neutral']}.",
            "Break out both, so that each half has a hot and a neutral of its own.",
        )
    (side,) = edit.out
    leave = f" Leave the one {_TABS['neutral']}: both halves share that neutral." if side == "hot" else ""
    return Told(
        f"{device} still has its tab on the {side} side, {_TABS[side]}.",
        f"Break out that tab alone, so that each half has a {side} of its own.{leave}",
    )


def _protected(edit: Protect) -> Told:
    """The breaker to put in, and the white that goes to its own screw."""
    kinds = " and ".join(_PROTECTION[kind] for kind in edit.kinds)
    white = f" Bring {listed(edit.whites)} to its own screw, {edit.breaker}.neutral." if edit.whites else ""
    return Told(
        f"{edit.breaker} has no {kinds} protection.",
        f"Put a breaker with {kinds} protection there.{white}",
    )


def _of_two_poles(edit: TwoPole) -> Told:
    """The breaker that goes in the place of two."""
    kinds = " and ".join(_PROTECTION[kind] for kind in edit.kinds)
    guarded = f" with {kinds} protection" if kinds else ""
    return Told(
        f"{edit.breaker} and {edit.other} are single-pole breakers, and one 2-pole breaker belongs there.",
        f"Put in a 2-pole breaker of {edit.rating}{guarded}, in two spaces one above the other. The wire on "
        f"{edit.breaker} goes on one pole, and the wire on {edit.other} on the other.",
    )


def _to_space(edit: ToSpace) -> Told:
    """The space to which a breaker goes, and the tie that it gets there."""
    if edit.beside:
        return Told(
            f"Breaker {edit.breaker} should be in space {edit.space}, beside {edit.beside}.",
            f"Move it and its wire to space {edit.space}, where the tie reaches {edit.beside}.",
        )
    tied = f", and tied to {edit.tie}" if edit.tie else ""
    put = f" Put a listed handle tie on it and {edit.tie}." if edit.tie else ""
    return Told(
        f"Breaker {edit.breaker} should be on leg {edit.leg}{tied}.",
        f"Move it and its wire to space {edit.space}, which is on leg {edit.leg}.{put}",
    )


def _renewed(edit: Renew) -> Told:
    """The cable and the outlet that take the place of an old circuit's."""
    black, red, white, bare = (f"{edit.cable}.{color}" for color in ("black", "red", "white", "bare"))
    goals = listed([screw for _, screws in edit.grounds for screw in screws])
    return Told(
        f"{edit.device} is a {edit.was}, and a circuit of four wires belongs there.",
        f"Run a cable of {edit.written} in the place of {edit.cable}, and put in a {edit.now}. {black} and "
        f"{red} are the hots, {white} is the neutral, and {bare} goes on {goals}. Take the bonding strap out "
        "of what is plugged in.",
    )


def _restored(edit: Restore) -> Told:
    """What to put back inside a cabinet."""
    points = _several(edit.points)
    match edit.act:
        case "jumper":
            return Told(f"In {edit.device}, a jumper goes between {points}.", "Take it out.")
        case "lift":
            return Told(f"In {edit.device}, the lead to {points} is off.", "Put it back.")
    return Told(f"In {edit.device}, the leads to {points} are swapped.", "Put each back on the other.")


_PROTECTION = {"gfci": "ground-fault", "afci": "arc-fault"}

# Where each tab of a receptacle is (NEMA WD 1: brass to the hot, silver to the neutral, from memory).
_TABS: Mapping[Side, str] = {"hot": "between the brass screws", "neutral": "between the silver screws"}


def _in_anothers_place(edit: IntoWire | IntoHot | TakeOver, here: _Place) -> Told:
    """What is in the way of one wire and belongs in that of another, or is on a screw for another."""
    match edit:
        case IntoWire():
            return _in_the_wrong_wire(here, edit)
        case IntoHot():
            return _in_the_white(here, edit)
        case TakeOver(place, idle, wrong, screw, to):
            others = [one for one in here.beside(to) if one != screw]
            jumped = to in here.beside(screw)
            jumper = f"Take out the jumper from {screw} to {to}, and" if jumped else "Then"
            mistake = f"{wrong} is on {screw}, where {idle} belongs, and {idle} {here.idle(idle)}."
            mistake += f" A jumper goes from there to {to}." if jumped else f" {wrong} belongs on {to}."
            return Told(
                f"At {place}, {mistake}",
                f"{here.uncapped(idle)}Take {wrong} off {screw}, and put {idle} there. "
                f"{jumper} {_with_those(wrong, to, others)}",
            )


def _with_those(wire: str, screw: str, others: Sequence[str]) -> str:
    """A wire brought to a screw, and to the wires that are on it."""
    if not others:
        return f"put {wire} on {screw}."
    return f"splice {wire} with {_several(others)}, with one pigtail to {screw}."


def _put_elsewhere(
    edit: Exchange | Move | ExchangeSides | ExchangeAll | Rotate | Meet | Abreast, here: _Place
) -> Told:
    """Ends that are joined in the wrong place."""
    match edit:
        case Abreast():
            return _in_series(here, edit)
        case Exchange(_, one, other):
            return _exchanged(here, one, other)
        case Move():
            return _moved(here, edit)
        case ExchangeSides(device, place, pairs, poles):
            swaps = [f"what is on {a} with what is on {b}" for a, b in pairs]
            sides = f"the two {'poles' if poles else 'sides'} of {device} are swapped."
            if here.board.devices[device].part.transformers:
                sides = f"{device} is turned round: its primary and its secondary are swapped."
            return Told(f"At {place}, {sides}", f"Swap {', and '.join(swaps)}.")
        case ExchangeAll(place, pairs) if not any(here.beside(to) for _, to in pairs):
            near, far = (listed(screws) for screws in zip(*pairs, strict=True))
            moves = listed(f"what is on {end} to {to}" for end, to in pairs)
            return Told(f"At {place}, what is on {near} belongs on {far}.", f"Move {moves}.")
        case ExchangeAll(place, pairs):
            (one, other), *more = (
                [f"what is on {end}" if here.is_screw(end) else end for end in pair] for pair in pairs
            )
            too = "".join(f", and so are {a} and {b}" for a, b in more)
            return Told(
                f"At {place}, {one} and {other} are swapped{too}.",
                "In each pair, put each where the other is now.",
            )
        case Rotate(place, ends):
            turns = zip(ends, (*ends[1:], ends[0]), strict=True)
            goals = "; ".join(f"{end} {here.where(here.beside(to))}" for end, to in turns)
            return Told(
                f"At {place}, {_several(ends)} are each where another of them belongs.", f"Put {goals}."
            )
        case Meet(place, one, other) if here.is_screw(one) and here.is_screw(other):
            return Told(
                f"At {place}, {one} and {other} are joined to nothing, and belong together.",
                f"{here.uncapped(one, other)}Join them.",
            )
        case Meet(place, one, other):
            return Told(
                f"At {place}, {one} and {other} are not joined, and belong together.",
                "Take both out, and splice them with each other.",
            )


def _joined(
    edit: Behind | Gather | Land | Tail | Jumper | Pigtail | Part | Divide | Unbridge, here: _Place
) -> Told:
    """Joins that lack something, or hold together what does not belong together."""
    match edit:
        case Gather():
            return _gathered(here, edit)
        case Behind(place, behind, near, far):
            return Told(
                f"At {place}, {_several(behind)} are on {near}, and belong on {far}.",
                f"Take them off {near}, and put them on {far}, joined as they are now. What feeds {near} "
                "stays on it.",
            )
        case Land(place, pairs):
            ends = [end for end, _ in pairs]
            goals = listed(f"{end} on {screw}" for end, screw in pairs)
            screws = [screw for _, screw in pairs]
            now = [next(filter(here.is_screw, here.beside(end)), "") for end in ends]
            if all(now):
                return Told(
                    f"At {place}, {_several(ends)} are on {_several(now)}, and belong on {_several(screws)}.",
                    f"Move {listed(f'{end} to {screw}' for end, screw in pairs)}.",
                )
            return Told(
                f"At {place}, {_several(ends)} {here.idle(*ends)}, and belong on {_several(screws)}.",
                f"{here.uncapped(*ends)}Put {goals}.",
            )
        case Tail(place, beside, screw, lead=True):
            others = (beside, *here.beside(beside))
            return Told(
                f"At {place}, {screw} is joined with {_several(here.beside(screw))}, "
                f"and belongs with {_several(others)}.",
                "Take it out there, and run a pigtail to it from them."
                if here.spliced.issuperset(others)
                else f"Take it out there, and splice it with a pigtail to each of {_several(others)}.",
            )
        case Tail(place, beside, screw, leaves):
            splice = [one for one in (beside, *here.beside(beside)) if not here.is_screw(one)]
            if leaves is not None and here.is_screw(beside) and here.lets_go(screw):
                rest = here.beside(screw)
                return Told(
                    f"At {place}, {screw} is joined with {_several(rest)}, and belongs with {beside} alone.",
                    f"Take {screw} out, and leave {_several(rest)} joined. Then join {screw} with {beside}.",
                )
            if leaves is not None and here.is_screw(beside):
                return Told(
                    f"At {place}, the jumper to {screw} is on {leaves}, and belongs on {beside}.",
                    f"Move it from {leaves} to {beside}.",
                )
            if leaves is not None:
                idle = "" if here.beside(beside) else f", which {here.idle(beside)}"
                way = f"put {beside} on it" if idle else f"run a pigtail to it from {_several(splice)}"
                return Told(
                    f"At {place}, {screw} is joined with {_several(here.beside(screw))}, "
                    f"and belongs with {_several(splice)}{idle}.",
                    f"{here.uncapped(beside)}Take out what joins {screw} there, and {way}.",
                )
            if not splice:
                return Told(f"At {place}, no jumper goes from {beside} to {screw}.", "Put one in.")
            return Told(
                f"At {place}, no pigtail goes from {_several(splice)} to {screw}.",
                "Add one." if len(splice) > 1 else "Make a splice there, and add one.",
            )
        case Jumper(place, screw, to):
            return Told(f"At {place}, no jumper goes from {to} to {screw}.", "Put one in.")
        case Pigtail(_, screw):
            return _crowded(here, screw)
        case Part():
            return _parted(here, edit)
        case Divide():
            return _divided(here, edit)
        case Unbridge(place, near, far, beside):
            stay = [one for one in here.beside(near) if one not in (far, *beside)]
            jumper = jumper_out(edit, here.board)
            out = f"Take out the jumper between {listed(jumper)}" if jumper else "Take that apart"
            return Told(
                f"At {place}, {near} and {far} are joined with each other, as if nothing were between them: "
                f"{far} belongs with {_several(beside)} alone.",
                f"{out}. Join {near} with {_several(stay)}, and {far} with {_several(beside)}.",
            )


def _of_one_end(edit: Cap | Mark, here: _Place) -> Told:
    """A cap or a mark that an end lacks, or has."""
    place, end = edit.place, edit.end
    if isinstance(edit, Cap):
        has = here.beside(end)
        if has:
            return Told(
                f"At {place}, {end} is joined with {_several(has)}, and nothing there needs it.",
                "Take it out, and cap it.",
            )
        return Told(f"At {place}, {end} is joined to nothing, and has no cap.", "Cap it.")
    if edit.color is None:
        return Told(f"At {place}, {end} is marked as a hot, and is none.", "Take the mark off.")
    return Told(
        f"At {place}, {end} is not a neutral, and is not marked.",
        f"Mark it {edit.color} there, with tape or paint.",
    )


def _changed_together(changes: tuple[Change, ...]) -> Told:
    """Lines that say the same other word."""
    sample = changes[0]
    if sample.what == "gauge":
        are = f"{_several(one.subject for one in changes)} {_be(len(changes))}"
        return Told(
            f"{are} {sample.was} AWG, and should be {sample.now} AWG.",
            f"Pull {sample.now} AWG in {'their' if len(changes) > 1 else 'its'} place.",
        )
    if sample.what != "kind":
        return Told(
            f"{_several(one.subject for one in changes)} should be {sample.now}.",
            f"Put in ones that are {sample.now}.",
        )
    return Told(
        f"{_several(one.subject for one in changes)} {_be(len(changes))} {sample.was}, "
        f"and should be {sample.now}.",
        f"Run {sample.now} in {'their' if len(changes) > 1 else 'its'} place.",
    )


class _Place:
    """What is joined with what in a place."""

    def __init__(self, sheet: Sheet, place: str, board: Board, signs: Mapping[str, str]) -> None:
        self.place = place
        self.board = board
        self.company: dict[str, tuple[str, ...]] = {}
        self.splices: list[frozenset[str]] = []
        self.holds: set[str] = set()
        for *_, said in sheet.joins(place):
            members = [name and signs.get(name, name) for name, _ in said]
            here = tuple(name for name in members if name is not None)
            for name in here:
                others = tuple(one for one in here if one != name)
                self.company[name] = (*self.company.get(name, ()), *others)
            if len(here) < len(members):
                self.splices.append(frozenset(here))
            # The wires that a line names first are under the screw that comes right after them.
            after = next((index for index, name in enumerate(members) if self._ends(name)), 0)
            screw = members[after] if after else None
            if screw is not None:
                self.holds.add(screw)
        self.spliced = {name for splice in self.splices for name in splice}
        self.capped = {signs.get(name, name) for _, name in sheet.caps(place)}

    def _ends(self, name: str | None) -> bool:
        """Whether the wires of a join end there: at a screw, or at its first pigtail."""
        return name is None or self.is_screw(name)

    def lets_go(self, screw: str) -> bool:
        """Whether the wires of a join are under a screw that may leave them: no bar, to which they belong."""
        terminal = self.board.terminals.get(screw)
        bar = terminal is not None and terminal.spec.role in ("ground", "neutral")
        return screw in self.holds and not bar

    def beside(self, name: str) -> tuple[str, ...]:
        """What an end or a screw is joined with."""
        return self.company.get(name, ())

    def is_screw(self, name: str) -> bool:
        """Whether it is a screw or lead, and no wire."""
        return self.board.screws.get(name, name) in self.board.terminals

    def things(self, others: Sequence[str]) -> str:
        """What is on a screw: wires, and the jumper to another screw where nothing else is there."""
        alone = len(others) == 1 and self.is_screw(others[0])
        return f"the jumper to {others[0]}" if alone else _several(others)

    def is_lead(self, name: str) -> bool:
        """Whether it is a lead, which is spliced as a wire is."""
        terminal = self.board.terminals.get(self.board.screws.get(name, name))
        return terminal is not None and "lead" in terminal.spec.flags

    def where(self, others: Iterable[str]) -> str:
        """Where something is that is joined with others: on a screw, or with wires and the leads there."""
        others = tuple(others)
        wires = [one for one in others if not self.is_screw(one)]
        wires += [one for one in others if self.is_lead(one) and wires and one not in self.spliced]
        beside = [f"with {_several(wires)}"] if wires else []
        on = [f"on {_several(self.under(others))}"] if self.under(others) else []
        return " ".join([*on, *beside])

    def under(self, others: Sequence[str]) -> list[str]:
        """The screws that something is under which is joined with others; a tail keeps a splice off them."""
        screws = [one for one in others if self.is_screw(one)]
        if len(screws) < len(others):
            screws = [one for one in screws if not self.is_lead(one)]
        return [] if len(screws) < len(others) and self.spliced & set(screws) else screws

    def over(self, screw: str, others: Collection[str]) -> str:
        """Of others, the far side of a contact of a screw; nothing where a splice joins them."""
        terminal = self.board.terminals.get(screw)
        device = self.board.devices.get(terminal.owner) if terminal is not None else None
        if terminal is None or device is None or any({screw, *others} <= splice for splice in self.splices):
            return ""
        sides = [{one.a, one.b} for one in device.part.contacts if terminal.spec.name in (one.a, one.b)]
        across = {f"{device.name}.{side}" for side in set().union(*sides) - {terminal.spec.name}}
        return next((one for one in others if one in across), "")

    def landmark(self, end: str) -> str:
        """What stands for where an end is: the screw there, or else a wire."""
        return next((one for one in self.beside(end) if self.is_screw(one)), self.beside(end)[0])

    def idle(self, *ends: str) -> str:
        """What ends that are joined to nothing are like."""
        return f"{_be(len(ends))} {'capped' if self.capped >= set(ends) else 'joined to nothing'}"

    def uncapped(self, *ends: str) -> str:
        """The caps of some ends taken off, before what is done with them."""
        capped = self.capped & set(ends)
        return f"Take the {'cap' if len(capped) == 1 else 'caps'} off. " if capped else ""


def _several(given: Iterable[str]) -> str:
    return listed(tuple(given), MOST_NAMED)


def _be(count: int) -> str:
    return "is" if count == 1 else "are"


def _belong(count: int) -> str:
    return "belongs" if count == 1 else "belong"


def _exchanged(here: _Place, one: str, other: str) -> Told:
    one_has = [each for each in here.beside(one) if each != other]
    other_has = [each for each in here.beside(other) if each != one]
    if here.is_screw(one) and here.is_screw(other):
        if one_has and other_has:
            return Told(
                f"At {here.place}, what is on {one} and what is on {other} are swapped.",
                f"Move {here.things(one_has)} to {other}, and {here.things(other_has)} to {one}.",
            )
        empty, full, has = (one, other, other_has) if other_has else (other, one, one_has)
        return Told(
            f"At {here.place}, {here.things(has)} {_be(len(has))} on {full}, "
            f"and {_belong(len(has))} on {empty}.",
            f"Move {_it(has)} from {full} to {empty}.",
        )
    if one_has and other_has:
        return Told(
            f"At {here.place}, {one} and {other} are swapped.",
            f"{one} goes {here.where(other_has)}, and {other} {here.where(one_has)}.",
        )
    idle, wrong, has = (one, other, other_has) if other_has else (other, one, one_has)
    return Told(
        f"At {here.place}, {wrong} is where {idle} belongs, and {idle} {here.idle(idle)}.",
        f"{here.uncapped(idle)}Take {wrong} out, and put {idle} {here.where(has)} in its place.",
    )


def _moved(here: _Place, edit: Move) -> Told:
    end, to = edit.end, edit.to
    was = here.beside(end)
    target = (to, *(() if edit.fresh else (one for one in here.beside(to) if one != end)))
    there = "there" if edit.far is None else f"at {edit.place} and {edit.far}"
    mark = f", and mark it {edit.marked} {there}" if edit.marked else ""
    mark += f", and mark {edit.to} {edit.beside} there" if edit.beside else ""
    spare = f" Cap {edit.capped}, which it leaves: nothing there needs it." if edit.capped else ""
    if not was and len(target) == 1 and not here.is_screw(to):
        return Told(
            f"At {here.place}, {end} and {to} are not joined, and belong together.",
            f"{here.uncapped(end, to)}Splice them{mark}.",
        )
    wires = [one for one in target if not here.is_screw(one)]
    if edit.pigtail:
        belongs = f"in a splice with {_several(wires)} and a pigtail to {to}"
        goal = f"splice it with {_several(wires)}, and run one pigtail from the splice to {to}{mark}."
    else:
        belongs = here.where(target)
        goal = f"{'put' if here.under(target) else 'splice'} it {belongs}{mark}."
    off = f"Take the cap off {listed(sorted(here.capped & set(wires)))}. " if here.capped & set(wires) else ""
    if not was:
        return Told(
            f"At {here.place}, {end} {here.idle(end)}, and belongs {belongs}.",
            f"{here.uncapped(end)}{_begun(goal)}",
        )
    return Told(
        f"At {here.place}, {end} is {here.where(was)}, and belongs {belongs}.",
        f"{off}Take {end if off else 'it'} out, and {goal}{spare}",
    )


def _begun(words: str) -> str:
    """Words as the beginning of a sentence."""
    return words[:1].upper() + words[1:]


def _gathered(here: _Place, edit: Gather) -> Told:
    ends, screws = edit.ends, edit.screws
    off = here.uncapped(*ends)
    if len(ends) == 1:
        return Told(
            f"At {here.place}, {ends[0]} {here.idle(*ends)}, and belongs on {_several(screws)}.",
            f"{off}Put it on {_several(screws)}." if len(screws) == 1 else f"{off}Run a pigtail to each.",
        )
    tails = f", and run a pigtail to {_several(screws)}" if screws else ""
    return Told(
        f"At {here.place}, {_several(ends)} {here.idle(*ends)}, and belong together.",
        f"{off}Splice them{tails}.",
    )


def _crowded(here: _Place, screw: str) -> Told:
    under = here.beside(screw)
    screws = [one for one in under if here.is_screw(one)]
    things = [f"the jumper to {one}" if one in screws else one for one in under]
    wires = [one for one in under if one not in screws]
    if not screws:
        remedy = f"Splice them, and run one pigtail from the splice to {screw}."
    elif not wires:
        remedy = f"Take them off, and make a splice with a pigtail to each of {_several((screw, *screws))}."
    else:
        remedy = f"Splice {_several(wires)} with a pigtail to each of {_several((screw, *screws))}."
    return Told(f"At {here.place}, {_several(things)} are under one screw, {screw}.", remedy)


def _parted(here: _Place, edit: Part) -> Told:
    screw = edit.screw
    rest = [one for one in here.beside(screw) if one == edit.beside or edit.beside in here.beside(one)]
    if rest == [edit.beside]:
        return Told(
            f"At {here.place}, a jumper joins {screw} and {edit.beside}, and should not be there.",
            "Take it out.",
        )
    over = here.over(screw, rest)
    if over:
        return Told(
            f"At {here.place}, a jumper joins {screw} and {over}, and should not be there.",
            f"Take it off {screw}, and leave {_several(rest)} joined.",
        )
    if screw in here.spliced:
        return Told(
            f"At {here.place}, {_several(rest)} are joined with {screw}, and should not be.",
            f"Take the pigtail to {screw} out of their splice.",
        )
    if not any(here.is_screw(one) for one in rest):
        return Told(
            f"At {here.place}, {_several(rest)} are on {screw}, and should not be.",
            f"Take them off {screw}, and splice them with each other.",
        )
    return Told(
        f"At {here.place}, {_several(rest)} are joined with {screw}, and should not be.",
        f"Take out what joins {screw} to them, and leave the rest as it is.",
    )


def _divided(here: _Place, edit: Divide) -> Told:
    apart = edit.members
    rest = [one for one in here.beside(apart[0]) if one not in apart]
    wires = [one for one in apart if not here.is_screw(one)]
    screws = [one for one in apart if here.is_screw(one)]
    tail = not here.spliced.isdisjoint(apart)
    if wires and screws and leaving(apart, rest, tail, here.board) == tuple(rest):
        return Told(
            f"At {here.place}, {_several(rest)} are joined with {_several(apart)}, and should not be.",
            f"Take {_several(rest)} off {_several(screws)}, and splice {_it(rest)} with each other.",
        )
    if wires and screws:
        remedy = f"Take {_several(wires)} out, and put {_it(wires)} on {_several(screws)} alone."
    elif wires:
        remedy = f"Take {_several(wires)} out, and splice them with each other."
    else:
        remedy = f"Take {_several(rest)} off, and leave {_several(screws)} joined."
    return Told(
        f"At {here.place}, {_several(apart)} are joined with {_several(rest)}, and should not be.", remedy
    )


def _in_the_wrong_wire(here: _Place, edit: IntoWire) -> Told:
    """A contact's two wires or screws, as those of a float switch, that stop the wrong thing, or nothing."""
    pair = (edit.first, edit.second)
    joined = [end for end in pair if here.beside(end)]
    parted = dict.fromkeys(one for end in pair for one in here.beside(end) if one not in pair)
    again = f", and join {_several(parted)} again" if len(parted) > 1 and not edit.across else ""
    where = here.where(one for one in here.beside(edit.wire) if one not in pair)
    out = "both" if len(joined) > 1 else _several(joined)
    take = f"Take {out} out{again}. Take {edit.wire} out too." if joined else f"Take {edit.wire} out."
    mistake = f"{_several(pair)} are in the wrong wire"
    if not joined:
        mistake = f"{_several(pair)} are joined to nothing"
    elif edit.second in here.beside(edit.first):
        mistake = f"{_several(pair)} are joined with each other, as if nothing were between them"
    elif len(joined) == 1:
        mistake = f"{_several(pair)} are not both joined"
    elif edit.across:
        mistake = f"{_several(pair)} lie across {_several(map(here.landmark, pair))}"
    verb = "join" if here.is_screw(edit.first) or here.is_screw(edit.wire) else "splice"
    return Told(
        f"At {here.place}, {mistake}, and belong in series with {edit.wire}: {edit.second} with {edit.wire}, "
        f"and {edit.first} {where}.",
        f"{here.uncapped(*pair)}{take} Then put {edit.first} {where}, "
        f"and {verb} {edit.wire} with {edit.second}.",
    )


def _in_series(here: _Place, edit: Abreast) -> Told:
    """A load that its current goes through to the next, and what each of its screws belongs with."""
    load = here.board.terminals[here.board.screws.get(edit.far, edit.far)].owner
    feed, passing = (*here.beside(edit.near), edit.near), (edit.beside, *here.beside(edit.beside))
    return Told(
        f"At {here.place}, {load} is in series: {edit.onward} goes on from {edit.far}.",
        f"Take {edit.onward} off {edit.far}, and join it with {_several(feed)}. "
        f"Then join {edit.far} with {_several(passing)}.",
    )


def _in_the_white(here: _Place, edit: IntoHot) -> Told:
    """What opens a neutral, and should open the hot."""
    whites = [one for one in here.beside(edit.line) if not here.is_screw(one)]
    hots = [one for one in here.beside(edit.hot) if one != edit.hot]
    device = here.board.terminals[here.board.screws.get(edit.line, edit.line)].owner
    if edit.line in here.spliced:
        off = f"Take {edit.white} off {edit.load}, and splice it with {_several(whites)} "
        off += f"in place of the pigtail to {edit.line}."
    else:
        off = f"Take {edit.white} off {edit.load} and {_several(whites)} off {edit.line}, and splice them."
    feed = (
        f"{hots[0]} on {edit.line}" if len(hots) == 1 else f"a pigtail from {_several(hots)} to {edit.line}"
    )
    return Told(
        f"At {here.place}, {device} is in the white wire, and belongs in the hot one.",
        f"{off} Then part {edit.hot} from {_several(hots)}: put {edit.hot} on {edit.load}, and {feed}.",
    )


def _it(things: Iterable[str]) -> str:
    return "it" if len(tuple(things)) == 1 else "them"


# What a line declares, with another value: what is wrong and what to do, by what the change is of.
_SAID: Mapping[str, tuple[str, str]] = {
    "rating": ("{thing} is {was}, and should be {now}.", "Put in a breaker of {now}."),
    "leg": ("{thing} is on leg {was}, and should be on leg {now}.", "Move it to a space on leg {now}."),
    "own leg": ("{thing} should not be on {was}.", "Move it to a space on the other leg."),
    "bonded": (
        "{thing} is bonded, and should not be.",
        "Take the bonding screw or strap out of it, and keep neutrals and grounds on bars of their own.",
    ),
    "main": ("The main breaker of {name} is {was}, and should be {now}.", "Put in a main breaker of {now}."),
    "tie": ("{thing} should be {now}.", "Put a listed handle tie on the two."),
    "aluminum": ("{thing} is aluminum, and should be copper.", "Run copper in its place."),
    "color": ("{thing} is {was}, and should be {now}.", "Pull one that is {now} in its place."),
    "kind": ("{thing} is {was}, and should be {now}.", "Run {now} in its place."),
    "connector": (
        "At {place}, the connector on the splice of {name} is {was}, and should be {now}.",
        "Take it off, and put on {now}.",
    ),
    "metals": (
        "At {place}, the splice of {name} lacks a connector for aluminum with copper.",
        "Take it off, and put on one that is listed for both, marked AL-CU. Tighten it as its maker says.",
    ),
    "pigtail": (
        "The pigtail to {name} is {was} AWG, and should be {now} AWG.",
        "Make a pigtail of {now} AWG in its place.",
    ),
    "gauge": ("{thing} is {was} AWG, and should be {now} AWG.", "Pull one of {now} AWG in its place."),
    "length": (
        "{thing} is said to be {was} long, more than one pulls in one piece.",
        "Measure it, and write its length: with {now} nothing is found here.",
    ),
    "cores": ("{thing} is {was}, and should be {now}.", "Run a cable of {now} in its place."),
    "free": (
        "{name} has {was} of free wire in {place}, and should have {now}.",
        "Pull more of it in, and leave {now} free.",
    ),
    "jacket": (
        "The jacket of {name} comes {was} into {place}, and should come in {now}.",
        "Push it in until {now} of jacket shows.",
    ),
    "secured": (
        "{name} is first held {was} from {place}, and should be held within {now} of it.",
        "Fasten it within {now} of {place}.",
    ),
    "bend": (
        "{name} is bent to {was} near {place}, and should be bent to {now} or more.",
        "Ease the bend to {now} or more; where its jacket has kinked, run a new one.",
    ),
    "every": (
        "The supports of {name} are {was} apart, and should be {now} apart or less.",
        "Fasten it every {now} or closer.",
    ),
    "volume": ("{thing} has {was}, and should have {now} or more.", "Put in a box of {now} or more."),
    "extension": ("{thing} should have {now}.", "Put {now} on it, of the kind that fits it."),
    "clamps": ("{thing} has clamps inside, and they take room.", "Put in one without clamps inside."),
    "voltage": (
        "{thing} is for {was}, and should be for {now}.",
        "Put in one for {now}, or set it to {now} where it has taps.",
    ),
    "primary": ("{thing} is on its tap for {was}, and should be on {now}.", "Use its tap for {now}."),
    "fuse": (
        "{thing} is fused at {was}, and should be fused at {now} or less.",
        "In place of each fuse of {was}, put one of {now} or less.",
    ),
    "capacity": ("{thing} is {was}, and should be {now} or more.", "Put in one of {now} or more."),
    "label": ("{thing} is not marked for a wet place.", "Put in one that is marked for wet places."),
    "shutters": ("{thing} is not tamper-resistant.", "Put in one that is marked TR."),
    "weather": ("{thing} is not weather-resistant.", "Put in one that is marked WR."),
    "overload": (
        "{thing} trips at {was}, and should trip at {now}.",
        "Set its dial, or choose its heaters, so that it trips at {now} or a little less. On many relays "
        "the dial shows what the motor draws, and not what it trips at: its sheet says.",
    ),
    "power": ("{thing} is {was}, and should be {now} or less.", "Put in one of {now} or less."),
}
NAMED = frozenset(_SAID)
"""What the changes of lines are of that have words of their own."""
_OF_ANOTHER = ("{thing} is {was}, and should be {now}.", "Put in one of {now}.")
_NOUNS: Mapping[type, str] = {
    BreakerStatement: "Breaker",
    PanelStatement: "Panel",
    BoxStatement: "Box",
    CableStatement: "Cable",
    WireStatement: "Wire",
    RacewayStatement: "Raceway",
}


def _changed(edit: Change, sheet: Sheet) -> Told:
    name = edit.subject
    noun = _NOUNS.get(type(sheet.lines[edit.number].statement))
    words = edit._asdict() | {"name": name, "thing": f"{noun} {name}" if noun else name}
    mistake, remedy = _SAID.get(edit.what, _OF_ANOTHER)
    return Told(mistake.format(**words), remedy.format(**words))
