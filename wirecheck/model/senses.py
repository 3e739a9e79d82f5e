"""What acts on the controls of a board that move by themselves, as its `senses` lines say."""

from __future__ import annotations

from collections.abc import Iterator

from wirecheck.language import syntax
from wirecheck.language.conditions import facts
from wirecheck.language.listing import listed
from wirecheck.language.syntax import Statement, Word
from wirecheck.model.board import Device, Sensed
from wirecheck.model.devices import every_device
from wirecheck.model.draft import Draft
from wirecheck.parts.part import sensed_as


def senses(statements: tuple[Statement, ...], draft: Draft) -> dict[str, Sensed]:
    """What each control that a line names senses; several lines of one control add up."""
    said = [one for one in statements if isinstance(one, syntax.SensesStatement)]
    found: dict[str, Sensed] = {}
    if not said:
        return found
    devices = {device.name: device for device in every_device(draft.devices)}
    for statement in said:
        control = _control(statement.name, devices, draft)
        if control is None:
            continue
        before = found.get(control.name)
        loads = dict(before.loads) if before else {}
        things = before.things if before else ()
        for word in statement.things:
            acting = tuple(_acting(word, devices))
            fitting = [(kind, name) for kind, name in acting if kind in control.part.senses]
            if fitting:
                things = (*things, devices[word.text if word.text in devices else word.within].outer)
            else:
                _senses_not(word, control, devices, draft)
            for kind, name in fitting:
                loads[kind] = tuple(dict.fromkeys((*loads.get(kind, ()), name)))
        draft.room -= sum(map(len, loads.values())) * _conditions(control)
        if draft.room < 0:
            draft.wrong(
                "syntax",
                f"{control.name} senses more than a board of so few lines can say.",
                statement.span,
                "Name what acts on it, and no more.",
            )
            return {}
        found[control.name] = Sensed(tuple(dict.fromkeys(things)), loads, statement.span)
    return found


def _control(word: Word, devices: dict[str, Device], draft: Draft) -> Device | None:
    """The device on the board that senses something; any other is a problem."""
    device = devices.get(word.text)
    if word.path[0] in draft.broken:
        return None
    if device is None:
        draft.unknown(word, "The control", list(draft.devices), later=word.path[0] not in draft.declared)
    elif device.inside:
        draft.wrong(
            "syntax",
            f"{word.text} is inside {device.outer}, whose part says what moves it.",
            word.span,
            "Say what a control senses that has a line of its own on the board.",
        )
    elif not device.part.senses:
        able = [one.name for one in draft.devices.values() if one.part.senses]
        draft.wrong(
            "syntax",
            f"{word.text} is {device.part.name}, and nothing on the board acts on that.",
            word.span,
            f"What can sense something here: {listed(able)}." if able else None,
        )
    else:
        return device
    return None


def _conditions(control: Device) -> int:
    """How many facts its part looks at."""
    part = control.part
    conditions = [one.when for one in part.transitions] + [one.when for one in part.ends]
    return sum(facts(when) for when in conditions if when is not None)


def _acting(word: Word, devices: dict[str, Device]) -> Iterator[tuple[str, str]]:
    """The loads that a name means, each with what it is to a control that senses it."""
    device, own = devices.get(word.text), None
    if device is None:
        device, own = devices.get(word.within), word.path[-1]
    for inner in every_device({device.name: device}) if device is not None else ():
        for load in inner.part.loads:
            kind = sensed_as(load)
            if kind is not None and own in (None, load.name) and (own is None or inner is device):
                alone = len(inner.part.loads) == 1
                yield kind, inner.name if alone else f"{inner.name}.{load.name}"


def _senses_not(word: Word, control: Device, devices: dict[str, Device], draft: Draft) -> None:
    """A name that is not on the board, or of something that does not act on the control."""
    if word.path[0] in draft.broken:
        return
    if word.text not in devices and word.within not in devices:
        later = word.path[0] not in draft.declared
        draft.unknown(word, "What is sensed,", list(draft.devices), later=later)
        return
    draft.wrong(
        "syntax",
        f"{control.name} is {control.part.name}, and {word.text} does not act on it.",
        word.span,
        f"What acts on it: {', '.join(control.part.senses)}.",
    )
