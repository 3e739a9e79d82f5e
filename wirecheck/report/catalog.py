"""The parts library on paper: the list, and a page for one part."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from wirecheck.language.conditions import words
from wirecheck.language.syntax import AllOf, AnyOf, Called, Condition, HasVoltage
from wirecheck.parts.part import (
    SENSES,
    CallEnd,
    Contact,
    LoadSpec,
    Part,
    ProtectionSpec,
    TerminalSpec,
    TransformerSpec,
    Transition,
    Value,
)
from wirecheck.report.looks import Paint, unpainted
from wirecheck.report.numbers import counted
from wirecheck.report.paragraphs import columns
from wirecheck.report.plain import plain

ROLES: Mapping[str, str] = {
    "hot": "hot",
    "neutral": "neutral",
    "ground": "ground",
    "switched": "switched hot",
    "line": "line voltage",
    "class-2": "24 V control",
    "class-2-common": "24 V common",
    "contact": "either side",
    "signal": "signal",
}
_FLAGS: Mapping[str, str] = {
    "lead": "a wire lead, to splice",
    "copper": "copper only",
    "bar": "a bar of many screws",
    "spare": "spare",
    "optional": "optional",
    "electrode": "in the earth",
    "push-in": "push-in hole",
}
_OPTIONS: Mapping[str, str] = {
    "works": "works from",
    "works-to": "to",
    "pulls-in": "pulls in at",
    "drops-out": "lets go at",
}


def listing(parts: Iterable[Part]) -> str:
    """Every part with its title, the names in one column; one that does not ship with its file."""
    rows = [(part.name, f"{part.title} ({part.file})" if part.file else part.title) for part in parts]
    return columns(rows) + "\nFor one of them: wirecheck parts PART\n"


def page(part: Part, inside: Mapping[str, Part], paint: Paint = unpainted) -> str:
    """A part's page: its name, its title, and what there is to say of it."""
    text = [paint(plain(part.name), "heading") + f"\n{plain(part.title)}\n"]
    text += (f"{paint(heading, 'heading')}\n{columns(rows, '  ')}" for heading, rows in matters(part, inside))
    return "\n".join(text)


def matters(part: Part, inside: Mapping[str, Part]) -> list[tuple[str, list[tuple[str, str]]]]:
    """A part's terminals and what belongs on each, its ratings, loads, contacts, and its sequence.

    Each matter has a heading, and rows of a name and what is said of it; some have no names.

    Parameters
    ----------
    inside : the parts that it is made of, by the name of the part
    """
    blocks: list[tuple[str, list[tuple[str, str]]]] = [
        ("Terminals", [(name, terminal(spec, part)) for name, spec in part.terminals.items()]),
        ("Ratings", [(rating.name, _rating(rating.values, rating.text)) for rating in part.ratings.values()]),
        ("Inside", [(child.name, _inside(child.part, inside)) for child in part.children]),
        ("Loads", [(load.name, _load(load, part)) for load in part.loads]),
        ("Transformer", [("", _transformer(each, part)) for each in part.transformers]),
        ("Protection", [("", _protection(each, part)) for each in part.protections]),
        ("Outlets", [(each.name, f"from {each.hot} to {each.neutral}") for each in part.outlets]),
        ("Positions", _positions(part)),
        ("Calls", [("", ", ".join(part.calls))] if part.calls else []),
        (
            "Contacts",
            [(f"{each.a} -- {each.b}", _contact(each, each.when)) for each in part.contacts if each.when],
        ),
        (
            "Senses, where a line of its board names them",
            [("", ", ".join(part.senses))] if part.senses else [],
        ),
        (
            "Sequence of operation",
            [("", _transition(each, part)) for each in part.transitions]
            + [("", _ending(each, part)) for each in part.ends],
        ),
        ("Place", [("", "outdoors: the wires that come to it are in a wet place")] if part.outdoors else []),
        ("Serves", [("", part.serves)] if part.serves else []),
        ("In a box", _fills(part)),
        ("Source", [("", source) for source in part.sources]),
        ("File", [("", part.file)] if part.file else []),
        ("Mistakes in the part's file", [(f"line {each.span.line}", each.message) for each in part.problems]),
    ]
    return [(heading, rows) for heading, rows in blocks if rows]


def _fills(part: Part) -> list[tuple[str, str]]:
    if not part.fills:
        return []
    return [("", ", ".join(counted(round(number), what) for what, number in part.fills.items()))]


def terminal(spec: TerminalSpec, part: Part) -> str:
    """What belongs on a terminal, and what it takes."""
    facts = [
        f"24 V, carries {spec.carries}" if spec.carries else ROLES.get(spec.role, spec.role),
        f"{spec.screw} screw" if spec.screw else "",
        f"{spec.screws} screws" if spec.screws > 1 else "",
        f"holds {spec.holds}" if spec.holds > 1 else "",
        f"{spec.sizes[0]} to {spec.sizes[1]} AWG" if spec.sizes else "",
        f"{spec.rated:g} C" if spec.rated is not None else "",
        *(_FLAGS.get(flag, flag) for flag in sorted(spec.flags)),
    ]
    details = ", ".join(each for each in facts if each)
    said = f"{details}. {_sentence(spec.text)}" if spec.text else details
    lost = _without(spec.name, part) if "optional" in spec.flags else ""
    return f"{said}. Without it: {lost}" if lost else said


def _without(terminal: str, part: Part) -> str:
    """What will not work with nothing on a terminal: calls that reach nothing, controls that hear nothing.

    >>> from wirecheck import shipped_parts
    >>> _without("G", shipped_parts().part("gas-furnace"))
    'fan never comes to calling'
    """
    lost = []
    for call in part.calls:
        closed = [c for c in part.contacts if c.when and _names(c.when, call)]
        others = [c.b for c in closed if terminal not in (c.a, c.b)]
        if len(others) < len(closed):
            lost.append(f"{call} is called on {', '.join(others)} alone" if others else f"no call for {call}")
    lost += (
        f"{load.name} has no power from here" for load in part.loads if terminal in (load.a, load.b, load.c)
    )
    heard = dict.fromkeys(
        (each.name, each.target)
        for each in part.transitions
        if each.when is not None and _needs(each.when, terminal)
    )
    lost += (f"{name or 'it'} never comes to {target}" for name, target in heard)
    return ", ".join(lost)


def _names(condition: Condition, name: str) -> bool:
    """Whether a condition looks at a call."""
    match condition:
        case AllOf(facts) | AnyOf(facts):
            return any(_names(fact, name) for fact in facts)
        case Called(call):
            return call.text == name
    return False


def _needs(condition: Condition, terminal: str) -> bool:
    """Whether a condition cannot be so without volts on a terminal."""
    match condition:
        case AllOf(facts):
            return any(_needs(fact, terminal) for fact in facts)
        case AnyOf(facts):
            return all(_needs(fact, terminal) for fact in facts)
        case HasVoltage(one, _, reference):
            return terminal in (one.text, reference.text)
    return False


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:] if text[:1].islower() and not text[1:2].isupper() else text


def _rating(values: tuple[Value, ...], text: str) -> str:
    choice = " or ".join(value.text for value in values)
    return f"{choice}: {text}" if text else choice


def _inside(name: str, inside: Mapping[str, Part]) -> str:
    return f"{name}: {inside[name].title}" if name in inside else name


def _load(load: LoadSpec, part: Part) -> str:
    at = f" at {_with_default(load.volts, part)}" if load.volts is not None else ""
    third = f" to {load.c}" if load.c is not None else ""
    details = [f"{load.kind} from {load.a} to {load.b}{third}, {_with_default(load.draws, part)}{at}"]
    for name, value in load.options.items():
        if name == "works-to" and "works" in load.options:
            details[-1] += f" to {_with_default(value, part)}"
        else:
            details.append(f"{_OPTIONS.get(name, name.replace('-', ' '))} {_with_default(value, part)}")
    details.extend(flag.replace("-", " ") for flag in sorted(load.flags))
    return ", ".join(details)


def _transformer(each: TransformerSpec, part: Part) -> str:
    details = [
        f"{_with_default(each.primary_volts, part)} from {each.primary[0]} to {each.primary[1]} "
        f"into {_with_default(each.secondary_volts, part)} from {each.secondary[0]} to {each.secondary[1]}"
    ]
    details.extend(
        f"{name.replace('-', ' ')} {_with_default(value, part)}" for name, value in each.options.items()
    )
    details.extend(flag.replace("-", " ") for flag in sorted(each.flags))
    return ", ".join(details)


def _protection(each: ProtectionSpec, part: Part) -> str:
    pairs = ", ".join(f"{a} to {b}" for a, b in each.pairs)
    details = [f"opens {pairs} above {_with_default(each.rating, part)}"]
    details.extend(f"{name} {_with_default(value, part)}" for name, value in each.options.items())
    details.extend(flag.replace("-", " ") for flag in sorted(each.flags))
    return ", ".join(details)


def _contact(each: Contact, when: Condition) -> str:
    """When it is closed, its sense (`opens on rise`), how long it waits, where it is, what resets it."""
    senses = [sense.replace("-", " ") for sense in SENSES if sense in each.flags]
    senses += [f"after {each.waits.text}"] if each.waits is not None else []
    senses += ["in electronics"] if "in-electronics" in each.flags else []
    senses += ["manual reset"] if "hand-reset" in each.flags else []
    return ", ".join([f"when {words(when)}", *senses])


def _positions(part: Part) -> list[tuple[str, str]]:
    if not part.positions:
        return []
    moved = f"{', '.join(part.positions)} (moved by {part.moved_by})"
    return [("", moved + (", a safety" if part.safety else ""))]


def _transition(each: Transition, part: Part) -> str:
    said = f"{each.name or 'it'} goes "
    if each.origins:
        said += f"from {' or '.join(each.origins)} "
    said += f"to {each.target}"
    if each.after is not None:
        said += f" after {_with_default(each.after, part)}"
    return f"{said}, when {words(each.when)}" if each.when is not None else said


def _ending(each: CallEnd, part: Part) -> str:
    said = f"its call for {each.call} ends"
    if each.after is not None:
        said += f" after {_with_default(each.after, part)}"
    return f"{said}, when {words(each.when)}" if each.when is not None else said


def _with_default(value: Value, part: Part) -> str:
    rating = part.ratings.get(value.text)
    return value.text if rating is None else f"{rating.values[0].text} ({value.text})"
