"""Devices: parts in their places, with their values; and ways to walk them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from itertools import pairwise

from wirecheck.language import syntax
from wirecheck.language.conditions import facts
from wirecheck.language.ranges import SLIP, astray
from wirecheck.language.syntax import Quantity, Setting, Span, Word
from wirecheck.language.words import nearest, shortened_to
from wirecheck.model.board import Board, Device, Terminal
from wirecheck.model.draft import Draft
from wirecheck.model.places import WRITTEN
from wirecheck.parts.part import TRIED, Part, Rating


def every_device(devices: dict[str, Device]) -> Iterator[Device]:
    """Each device and, after it, the parts inside it, however deep."""
    waiting = list(reversed(devices.values()))
    while waiting:
        device = waiting.pop()
        yield device
        waiting.extend(reversed(device.children))


def switches(board: Board) -> Iterator[Device]:
    """Each device, at any depth, that a hand moves between positions, or who is in the room, or the day."""
    for device in every_device(board.devices):
        if device.part.positions and device.part.moved_by in TRIED:
            yield device


def callers(board: Board) -> dict[str, tuple[str, ...]]:
    """Every call that some thermostat of the board can make, in order of appearance, and who makes it.

    Where more than one device makes a call of the same name, each is there
    under its own name too (`Z1.heat`), and under that alone where the others are on another board.
    """
    makers: dict[str, list[str]] = {}
    for device in every_device(board.devices):
        for call in device.part.calls:
            makers.setdefault(call, []).append(device.name)
    known: dict[str, tuple[str, ...]] = {}
    for call, names in makers.items():
        if len(names) > 1 or call not in board.made_by_several:
            known[call] = tuple(names)
        if len(names) > 1 or call in board.made_by_several:
            known.update((f"{name}.{call}", (name,)) for name in names)
    return known


def in_turn(board: Board, made: Iterable[str]) -> tuple[frozenset[str], ...]:
    """The calls that stand, act by act: those of one device come together, another's come after them.

    Two thermostats never call in the same moment, and it may matter which of them came first.
    """
    calls = tuple(dict.fromkeys(made))
    if len(calls) < 2:
        return tuple(frozenset((call,)) for call in calls)
    makers = {
        call: {
            device.name
            for device in every_device(board.devices)
            if call in device.part.calls or call in (f"{device.name}.{own}" for own in device.part.calls)
        }
        for call in calls
    }
    acts = [frozenset(calls[:1])]
    for before, call in pairwise(calls):
        together = not makers[before].isdisjoint(makers[call])
        acts[len(acts) - together :] = [acts[-1] | {call}]
    return tuple(acts)


def add_device(statement: syntax.DeviceStatement, draft: Draft) -> None:
    """A device of a part, with its values, in its place."""
    if not draft.declare(statement.name):
        return
    part = draft.part(statement.part.text, statement.part.span)
    if part is None:
        draft.broken.add(statement.name.text)
        if not draft.full:
            message, advice = draft.library.missing(statement.part.text)
            draft.wrong("unknown-part", message, statement.part.span, advice)
        return
    if statement.part.text in WRITTEN:
        draft.broken.add(statement.name.text)
        draft.wrong(
            "syntax",
            f"{statement.part.text} is no device: the board has a line of its own for it.",
            statement.part.span,
            f"Write, as an example: {WRITTEN[statement.part.text]}",
        )
        return
    draft.room -= _inside(part, statement.part.span, draft)
    if draft.room < 0:
        draft.broken.add(statement.name.text)
        draft.wrong(
            "syntax",
            f"With {statement.name.text}, more screws, contacts and parts would be inside the devices than a "
            "board of so few lines can wire.",
            statement.part.span,
            "Divide the board into several, or give it parts that have less in them.",
        )
        return
    for faulty in _faulty(part, statement.part.span, draft, set()):
        first = faulty.problems[0]
        inside = "" if faulty is part else f", which is inside {part.name},"
        draft.wrong(
            "unknown-part",
            f"The part {faulty.name}{inside} has a mistake on line {first.span.line} of its own file: "
            f"{first.message}",
            statement.part.span,
            "Check the part's file first.",
        )
    name = statement.name.text
    place = name
    if statement.place is not None and statement.place.text in draft.places:
        place = statement.place.text
    elif statement.place is not None and statement.place.text not in draft.broken:
        draft.unknown(statement.place, "The place", list(draft.places))
    values = _values(part, statement.settings, statement.part.span, draft)
    device = _assemble(name, "", part, place, values, statement.span, draft, ())
    draft.devices[name] = device._replace(sights=statement.sights) if statement.sights else device
    for spec in part.terminals.values():
        terminal = f"{name}.{spec.name}"
        draft.terminals[terminal] = Terminal(terminal, name, spec.name, place, spec)
        if spec.screws > 1:
            draft.screws.update((f"{terminal}-{number}", terminal) for number in range(1, spec.screws + 1))


def _inside(part: Part, span: Span, draft: Draft) -> int:
    """The screws, contacts, loads, states and moves of a part and of all parts in it, with what they say."""
    if part.name not in draft.inside:
        draft.inside[part.name] = 0  # a part that is in itself is refused where it is read
        inner = (draft.part(child.part, span) for child in part.children)
        conditions = [one.when for one in part.contacts] + [one.when for one in part.transitions]
        draft.inside[part.name] = (
            1
            + len(part.terminals)
            + len(part.loads)
            + len(part.states)
            + sum(1 if one is None else facts(one) for one in conditions)
            + sum(_inside(one, span, draft) for one in inner if one is not None)
        )
    return draft.inside[part.name]


def _faulty(part: Part, span: Span, draft: Draft, seen: set[str]) -> Iterator[Part]:
    """A part and those inside it, each once, that have a mistake in their own file."""
    seen.add(part.name)
    if part.problems:
        yield part
    for child in part.children:
        inner = draft.part(child.part, span) if child.part not in seen else None
        if inner is not None:
            yield from _faulty(inner, span, draft, seen)


def _assemble(
    outer: str,
    inside: str,
    part: Part,
    place: str,
    values: dict[str, Quantity | Word],
    span: Span,
    draft: Draft,
    above: tuple[str, ...],
) -> Device:
    children = []
    for child in part.children:
        inner = draft.part(child.part, span)
        if inner is None or inner.name in above or inner.name == part.name:
            continue
        settings = tuple(
            Setting(setting.name, values.get(setting.value.text, setting.value), setting.span)
            if isinstance(setting.value, Word)
            else setting
            for setting in child.settings
        )
        quiet = Draft(draft.library, [])
        inner_values = _values(inner, settings, span, quiet)
        path = f"{inside}.{child.name}" if inside else child.name
        children.append(_assemble(outer, path, inner, place, inner_values, span, draft, (*above, part.name)))
    name = f"{outer}.{inside}" if inside else outer
    return Device(name, part, place, values, tuple(children), span, outer, inside)


SAME_KIND = {"horsepower": "power"}


BY_NAME = {"largest-lamp"}
"""The ratings that a value is never meant for without their name: `60 W` is the lamp, and not its label."""


def _values(
    part: Part, settings: tuple[Setting, ...], span: Span, draft: Draft
) -> dict[str, Quantity | Word]:
    """Every rating of the part, the settings over the defaults."""
    values = {rating.name: rating.values[0] for rating in part.ratings.values() if rating.values}
    # `30 A with fuse 15 A`: what is named is not meant a second time.
    named = {setting.name.text for setting in settings if setting.name is not None}
    for setting in settings:
        if setting.name is not None:
            rating = part.ratings.get(setting.name.text)
            if rating is None:
                near = nearest(setting.name.text, list(part.ratings))
                draft.wrong(
                    "unknown-name",
                    f"{part.name} has no rating called {setting.name.text}.",
                    setting.name.span,
                    f"Did you mean {near}?" if near else _offer(part),
                )
                continue
        else:
            fitting = [
                rating
                for rating in part.ratings.values()
                if rating.name not in named | BY_NAME and _fits(rating, setting.value)
            ]
            if isinstance(setting.value, Word) and not fitting:
                _no_such_word(part, setting.value, draft)
                # What follows such a word is most often more of the same slip, as in: 60 W on A
                break
            if len(fitting) != 1:
                several = ", ".join(rating.name for rating in fitting)
                draft.wrong(
                    "syntax",
                    f"{setting.value.text} fits {'more than one' if fitting else 'no'} rating of {part.name}"
                    + (f" ({several})." if fitting else "."),
                    setting.span,
                    f"Say which, as in: with {fitting[0].name} {setting.value.text}"
                    if fitting
                    else _offer(part),
                )
                continue
            rating = fitting[0]
        if not _same_kind(rating.values[0], setting.value):
            draft.wrong(
                "syntax",
                f"The {rating.name} of {part.name} cannot be {setting.value.text}, another kind of value.",
                setting.span,
                f"It is a value such as {rating.values[0].text}.",
            )
            continue
        reason = (
            astray(setting.value, *part.uses[rating.name]) if isinstance(setting.value, Quantity) else None
        )
        if reason:
            draft.wrong("syntax", f"{reason}.", setting.span, SLIP)
            continue
        if len(rating.values) > 1 and not any(_equal(value, setting.value) for value in rating.values):
            choice = " or ".join(value.text for value in rating.values)
            draft.wrong(
                "syntax",
                f"{part.name} comes with {rating.name} {choice}, not {setting.value.text}.",
                setting.span,
            )
            continue
        values[rating.name] = setting.value
    return values


def _same_kind(one: Quantity | Word, other: Quantity | Word) -> bool:
    if isinstance(one, Quantity) and isinstance(other, Quantity):
        return SAME_KIND.get(one.dimension, one.dimension) == SAME_KIND.get(other.dimension, other.dimension)
    return isinstance(one, Word) and isinstance(other, Word)


def _fits(rating: Rating, value: Quantity | Word) -> bool:
    """Whether a value without a name may be one of a rating: of its kind, or one of its words."""
    if isinstance(value, Word):
        return any(_equal(value, one) for one in rating.values if isinstance(one, Word))
    return _same_kind(rating.values[0], value)


def as_said(part: Part, rating: Rating, value: Quantity | Word) -> str:
    """How a device says a value of its part: with the name of its rating, where it may be meant for another.

    >>> from wirecheck import shipped_parts
    >>> part = shipped_parts().part("fused-disconnect")
    >>> [as_said(part, one, one.values[0]) for one in part.ratings.values()]
    ['with current 60 A', 'with fuse 30 A']
    """
    meant = [one for one in part.ratings.values() if one.name not in BY_NAME and _fits(one, value)]
    return value.text if meant == [rating] else f"with {rating.name} {value.text}"


def _no_such_word(part: Part, word: Word, draft: Draft) -> None:
    """A word that is no value of the part; it may be the name of one, which follows only the word "with"."""
    rating = part.ratings.get(word.text)
    if rating is not None:
        draft.wrong(
            "syntax",
            f'Before the name of a value, such as {word.text}, goes the word "with".',
            word.span,
            f"Say each value by its name, as in: with {word.text} {rating.values[-1].text}",
        )
        return
    words = [one.text for rating in part.ratings.values() for one in rating.values if isinstance(one, Word)]
    near = shortened_to(word.text, words) or nearest(word.text, [*words, "in", "with"])
    advice = f"Did you mean {near}?" if near else f'{_offer(part)} Before its box goes the word "in".'
    draft.wrong("syntax", f"{part.name} takes no value called {word.text}.", word.span, advice)


def _equal(one: Quantity | Word, other: Quantity | Word) -> bool:
    if isinstance(one, Quantity) and isinstance(other, Quantity):
        return math.isclose(one.value, other.value, rel_tol=1e-9)
    return one.text == other.text


def _offer(part: Part) -> str | None:
    if not part.ratings:
        return f"{part.name} takes no values."
    # The first word of a rating is what most are, and needs no word.
    said = (
        (r.name, r.values[-1 if isinstance(r.values[0], Word) else 0].text) for r in part.ratings.values()
    )
    return "It takes: " + ", ".join(f"{name} (as {value})" for name, value in said) + "."
