"""From what a part file says to a `Part`: names gathered, then every use of a name checked.

A statement that names something unknown becomes a `Problem` and is left out, so
that whoever takes a `Part` finds every name in it. The text itself was read by
`wirecheck.language`; the parts inside come from `wirecheck.parts.library`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from wirecheck.language import syntax
from wirecheck.language.conditions import named
from wirecheck.language.names import fault
from wirecheck.language.quantity import kind, wanted
from wirecheck.language.ranges import NAMED, RANGES, SLIP, astray
from wirecheck.language.syntax import Condition, Problem, Quantity, Span, Syntax, Word
from wirecheck.language.words import nearest
from wirecheck.parts.part import (
    CARRIES,
    FILLINGS,
    KINDS,
    MISSING,
    MOVERS,
    ROLES,
    SENSED,
    SENSES,
    SERVES,
    TERMINAL_FLAGS,
    WHERE,
    CallEnd,
    Carried,
    Child,
    Contact,
    LoadSpec,
    OutletSpec,
    Part,
    ProtectionSpec,
    Rating,
    StateSpec,
    TerminalSpec,
    TransformerSpec,
    Transition,
    Value,
)

# Names that a message lists, and comparisons spent on near names in one file: bounds for hostile files.
MOST_LISTED = 20
MOST_COMPARED = 50_000

# What may be said after the comma, and what its value is used for; nothing for a flag.
LOAD_OPTIONS = {
    "works": "share of volts",
    "inrush": "surge",
    "locked-rotor": "surge",
    "power-factor": "power factor",
    "inrush-power-factor": "power factor",
    "pulls-in": "share of volts",
    "drops-out": "share of volts",
    "horsepower": "motor power",
    "service-factor": "service factor",
    "rise": "rise",
    "times": "lamps",
    "continuous": "",
    "standby": "",
    "unswitched": "",
    "light": "",
    "pilot": "",
    "damper": "",
    "clock": "",
    "winding": "",
    "auxiliary": "",
    "hermetic": "",
    "starting": "",
    "senses": "",
    "in-series": "",
    "spark": "",
    "spark-transformer": "",
    "constant-impedance": "",
    "constant-current": "",
    "constant-power": "",
}
TRANSFORMER_OPTIONS = {
    "capacity": "capacity",
    "impedance": "impedance",
    "inherently-limited": "",
}
PROTECTION_OPTIONS = {
    "trips": "trip",
    "fuse": "",
    "breaker": "",
    "slow": "",
    "gfci": "",
    "afci": "",
    "supplementary": "",
    "thermal": "",
}
# Statements that bring no name into the part, and only use what others brought.
USES = (
    syntax.SourceStatement,
    syntax.MovedStatement,
    syntax.StandsStatement,
    syntax.ServesStatement,
    syntax.GoesStatement,
    syntax.EndsStatement,
    syntax.TransformsStatement,
    syntax.ProtectsStatement,
    syntax.FillsStatement,
    syntax.JoinStatement,
)
CONTACT_OPTIONS = {
    "rated": "contact",
    "overload": "contact",
    "waits": "time",
    "snap-switch": "",
    "disconnect": "",
    "momentary": "",
    "dims-lights": "",
    "slows-fans": "",
    "electronic": "",
    "timed": "",
    "in-electronics": "",
    "opens-once": "",
    "hand-reset": "",
    **dict.fromkeys(SENSES, ""),
}
OUTLET_OPTIONS = {"ground": "", "rated": "outlet", "volts": "outlet volts"}


@dataclass
class _Draft:
    """The part while it is being gathered; `inside` is None where the parts inside are taken on trust."""

    name: str
    inside: Mapping[str, Part | None] | None
    refused: Mapping[str, tuple[str, str | None]]
    problems: list[Problem]
    ratings: dict[str, Rating] = field(default_factory=dict)
    uses: dict[str, set[str]] = field(default_factory=dict)
    terminals: dict[str, TerminalSpec] = field(default_factory=dict)
    positions: tuple[str, ...] = ()
    calls: tuple[str, ...] = ()
    senses: tuple[str, ...] = ()
    states: dict[str, StateSpec] = field(default_factory=dict)
    loads: dict[str, Span] = field(default_factory=dict)
    children: dict[str, Child] = field(default_factory=dict)
    declared: dict[str, Span] = field(default_factory=dict)
    left_out: set[str] = field(default_factory=set)
    contacts: frozenset[frozenset[str]] = frozenset()

    def wrong(self, rule: str, message: str, span: Span, advice: str | None = None) -> None:
        """Keep a problem."""
        self.problems.append(Problem(rule, message, span, advice))

    def unknown(self, word: Word, what: str, names: Iterable[str]) -> None:
        """Keep a problem about a name that nothing in the part bears, with the near one."""
        known = list(names)
        near = nearest(word.text, known) if len(known) * len(self.problems) < MOST_COMPARED else None
        if near:
            advice = f"Did you mean {near}?"
        elif known:
            more = " and others" if len(known) > MOST_LISTED else ""
            advice = "There is: " + ", ".join(known[:MOST_LISTED]) + more + "."
        else:
            advice = "The part declares none."
        self.wrong("unknown-name", f"There is no {what} called {word.text} in this part.", word.span, advice)

    def one_of(self, word: Word, what: str, names: Iterable[str]) -> bool:
        """Whether a word is one of a closed list; if not, a problem with the list."""
        known = list(names)
        if word.text in known:
            return True
        near = nearest(word.text, known)
        listed = ", ".join(known)
        self.wrong(
            "syntax",
            f"{word.text} is no {what} known here.",
            word.span,
            f"Did you mean {near}?" if near else f"It may be: {listed}.",
        )
        return False

    def declare(self, word: Word) -> bool:
        """Whether the name is new in this part; a second use of it is a problem."""
        before = self.declared.get(word.text)
        wrong = fault(word.text)
        if wrong is not None:
            self.wrong("syntax", wrong.message, word.span, wrong.advice)
            self.left_out.add(word.text)
            return False
        if before is None:
            self.declared[word.text] = word.span
            return True
        self.wrong(
            "syntax",
            f"{word.text} already names something in this part, on line {before.line}.",
            word.span,
            "Give each thing a name of its own.",
        )
        return False


def part(
    source: Syntax,
    inside: Mapping[str, Part | None] | None = None,
    refused: Mapping[str, tuple[str, str | None]] | None = None,
) -> Part:
    """The part that a file describes.

    Parameters
    ----------
    source : what the reader made of the file.
    inside : the parts that it may be made of, by name; without it, what lies
        behind the dot of a name (`limit.a`) is taken on trust.
    refused : why a part cannot be inside this one: name to (message, help).

    Returns
    -------
    A `Part` whose every name is known; its `problems` hold the file's own
    mistakes and those of its names, in the order of the text.

    Examples
    --------
    >>> from wirecheck.language.reader import read
    >>> link = part(read('''part link "A removable link"
    ... positions closed, open
    ... terminal a contact "one side"
    ... terminal b contact "the other side"
    ... a -- b when closd
    ... ''', "link.wire"))
    >>> list(link.terminals), link.positions, link.contacts
    (['a', 'b'], ('closed', 'open'), ())
    >>> link.problems[0].message, link.problems[0].help
    ('There is no position called closd in this part.', 'Did you mean closed?')
    """
    title = next((said for said in source.statements if isinstance(said, syntax.PartTitle)), None)
    draft = _Draft(title.name.text if title else "", inside, refused or {}, list(source.problems))
    if title is None:
        draft.wrong(
            "syntax", "The file names no part.", Span(1, 1, 1, 1), 'Begin with: part NAME "What it is"'
        )
    for statement in source.statements:
        _declare(statement, title, draft)
    said = list(source.statements)
    draft.contacts = frozenset(
        frozenset((a.name.text, b.name.text))
        for one in said
        if isinstance(one, syntax.JoinStatement) and one.when is not None
        for a, b in pairwise(one.ends)
        if a.name is not None and b.name is not None
    )
    result = Part(
        name=draft.name,
        title=title.title.text if title else "",
        sources=tuple(one.text.text for one in said if isinstance(one, syntax.SourceStatement)),
        ratings=draft.ratings,
        terminals=draft.terminals,
        positions=draft.positions,
        moved_by=_moved_by(said, draft),
        safety="safety" in [word.text for word in _movers(said)],
        calls=draft.calls,
        states=tuple(draft.states.values()),
        transitions=tuple(_transitions(said, draft)),
        contacts=tuple(_contacts(said, draft)),
        loads=tuple(_loads(said, draft)),
        transformers=tuple(_transformers(said, draft)),
        protections=tuple(_protections(said, draft)),
        outlets=tuple(_outlets(said, draft)),
        fills=_fills(said, draft),
        children=tuple(_children(draft)),
        problems=(),
        outdoors=_outdoors(said, draft),
        serves=_serves(said, draft),
        senses=draft.senses,
        ends=tuple(_ends(said, draft)),
    )
    return result._replace(
        problems=tuple(sorted(draft.problems, key=lambda problem: problem.span)),
        uses={name: tuple(sorted(draft.uses.get(name, ()))) for name in draft.ratings},
    )


# -------------------------------------------------------------- first: names


def _declare(statement: syntax.Statement, title: syntax.PartTitle | None, draft: _Draft) -> None:
    """Take the names that a statement brings into the part."""
    match statement:
        case syntax.PartTitle():
            if statement is not title:
                draft.wrong("syntax", "A file tells of one part, and this begins a second.", statement.span)
        case syntax.RatingStatement():
            _rating(statement, draft)
        case syntax.TerminalStatement():
            _terminal(statement, draft)
        case syntax.PositionsStatement():
            draft.positions = _names(statement.names, draft.positions, "positions", draft)
        case syntax.CallsStatement():
            draft.calls = _names(statement.names, draft.calls, "calls", draft)
        case syntax.RespondsStatement():
            _sensing(statement, draft)
        case syntax.StateStatement():
            if draft.declare(statement.name):
                values = _names(statement.values, (), "states", draft)
                draft.states[statement.name.text] = StateSpec(statement.name.text, values)
        case syntax.LoadStatement():
            if draft.declare(statement.name):
                draft.loads[statement.name.text] = statement.span
        case syntax.OutletStatement():
            draft.declare(statement.name)
        case syntax.DeviceStatement():
            _child(statement, draft)
        case _ if not isinstance(statement, USES):
            draft.wrong(
                "syntax",
                "This belongs on a board, and the file tells of a part.",
                statement.span,
                "Move the line to the board's own file.",
            )


def _sensing(statement: syntax.RespondsStatement, draft: _Draft) -> None:
    for word in statement.kinds:
        if draft.one_of(word, "kind of load that a part senses", SENSED) and draft.declare(word):
            draft.senses = (*draft.senses, word.text)


def _names(words: tuple[Word, ...], before: tuple[str, ...], what: str, draft: _Draft) -> tuple[str, ...]:
    names = list(before)
    for word in words:
        if word.text in names:
            draft.wrong("syntax", f"{word.text} is among the {what} already.", word.span)
        else:
            names.append(word.text)
    return tuple(names)


def _rating(statement: syntax.RatingStatement, draft: _Draft) -> None:
    name = statement.name.text
    if name in draft.ratings:
        draft.wrong("syntax", f"{name} is a rating of this part already.", statement.name.span)
        return
    first = statement.values[0]
    for value in statement.values[1:]:
        if _dimension(value) != _dimension(first):
            draft.wrong(
                "syntax",
                f"{value.text} is another kind of value than {first.text}, and one rating has one kind.",
                value.span,
            )
            return
    draft.ratings[name] = Rating(name, statement.values, statement.text.text if statement.text else "")
    if name in NAMED:
        _is(statement.name, NAMED[name], draft)


def _dimension(value: Value) -> str:
    return value.dimension if isinstance(value, Quantity) else "word"


def _terminal(statement: syntax.TerminalStatement, draft: _Draft) -> None:
    if not draft.declare(statement.name):
        return
    draft.one_of(statement.role, "role of a terminal", ROLES)
    flags = [
        word.text
        for word in statement.flags
        if draft.one_of(word, "thing to say of a terminal", TERMINAL_FLAGS)
    ]
    sizes = statement.sizes
    draft.terminals[statement.name.text] = TerminalSpec(
        name=statement.name.text,
        role=statement.role.text if statement.role.text in ROLES else "contact",
        screw=statement.screw.text if statement.screw else None,
        screws=_screws(statement, draft),
        holds=1 if statement.holds is None else statement.holds,
        sizes=(sizes[0].text, sizes[1].text) if sizes else None,
        rated=statement.rated.value if statement.rated and _is(statement.rated, "terminal", draft) else None,
        carries=_carries(statement, draft),
        flags=frozenset(flags),
        text=statement.text.text if statement.text else "",
    )


def _screws(statement: syntax.TerminalStatement, draft: _Draft) -> int:
    """How many screws a terminal has; where they are several, each has a name of its own."""
    count = statement.screws or 1
    if count > 1:
        for number in range(1, count + 1):
            draft.declare(Word(f"{statement.name.text}-{number}", statement.name.span))
    return count


def _carries(statement: syntax.TerminalStatement, draft: _Draft) -> Carried | None:
    """What a terminal carries in a thermostat's wiring, where that can be so."""
    word, name, role = statement.carries, statement.name.text, statement.role.text
    if word is None:
        return None
    carries = next((one for one in CARRIES if one == word.text), None)
    if carries is None:
        near = nearest(word.text, CARRIES)
        draft.wrong(
            "syntax",
            f"{word.text} is nothing that a thermostat's wire carries.",
            word.span,
            (f"Did you mean {near}? " if near else "") + "It may be: " + ", ".join(CARRIES) + ".",
        )
        return None
    fitting = ("class-2-common" if carries == "common" else "class-2", "contact")
    if role in ROLES and role not in fitting:
        draft.wrong(
            "syntax",
            f"{name} carries {carries}, and its role is {role}.",
            word.span,
            f"A terminal that carries {carries} is {fitting[0]}, or {fitting[1]} where it takes either side.",
        )
        return None
    return carries


def _child(statement: syntax.DeviceStatement, draft: _Draft) -> None:
    if not draft.declare(statement.name):
        return
    if statement.place is not None:
        draft.wrong("syntax", "What is inside a part is in no box.", statement.place.span)
    name = statement.part.text
    if name in draft.refused:
        message, advice = draft.refused[name]
        draft.wrong("unknown-part", message, statement.part.span, advice)
        # What hangs on it is left out too, and not complained of again.
        draft.left_out.add(statement.name.text)
        return
    draft.children[statement.name.text] = Child(statement.name.text, name, statement.settings, statement.span)


# --------------------------------------------------------- then: every use


def _is(value: Value, use: str, draft: _Draft) -> bool:
    """Whether a value, or each of the rating that it names, is of a kind and in the range of its use."""
    listed: tuple[Value, ...] = (value,)
    if isinstance(value, Word):
        rating = draft.ratings.get(value.text)
        if rating is None:
            draft.unknown(value, "rating", draft.ratings)
            return False
        draft.uses.setdefault(rating.name, set()).add(use)
        listed = rating.values
    given = listed[0]
    if not (isinstance(given, Quantity) and given.dimension in RANGES[use]):
        what = kind(given.dimension) if isinstance(given, Quantity) else "a word"
        draft.wrong(
            "syntax", f"{value.text} is {what}.", value.span, f"Here goes {wanted(tuple(RANGES[use]))}."
        )
        return False
    return True not in [_astray(one, use, draft) for one in listed if isinstance(one, Quantity)]


def _astray(value: Quantity, use: str, draft: _Draft) -> bool:
    """Whether a value is out of the range of its use; that is a problem, told once."""
    reason = astray(value, use)
    if reason and not any(known.span == value.span for known in draft.problems):
        draft.wrong("syntax", f"{reason}.", value.span, SLIP)
    return reason is not None


def _children(draft: _Draft) -> Iterator[Child]:
    """The parts inside, each with the settings that it has a rating for."""
    for child in draft.children.values():
        inner = (draft.inside or {}).get(child.part)
        if inner is None:
            yield child
        else:
            yield child._replace(settings=tuple(one for one in child.settings if _fits(one, inner, draft)))


def _fits(setting: syntax.Setting, inner: Part, draft: _Draft) -> bool:
    """Whether a part inside has the rating that is set, and the value is of its kind."""
    value: Value = setting.value
    if isinstance(value, Word) and value.text in draft.ratings:
        value = draft.ratings[value.text].values[0]
    kinds = {rating.name: _dimension(rating.values[0]) for rating in inner.ratings.values()}
    if setting.name is not None and setting.name.text not in kinds:
        draft.unknown(setting.name, f"rating of {inner.name}", kinds)
        return False
    fitting = [name for name, each in kinds.items() if each == _dimension(value)]
    if len(fitting) == 1 if setting.name is None else setting.name.text in fitting:
        uses = inner.uses[fitting[0] if setting.name is None else setting.name.text]
        return False not in [_is(setting.value, use, draft) for use in uses]
    if isinstance(value, Word):
        draft.unknown(value, "rating", draft.ratings)
    elif setting.name is not None:
        given = inner.ratings[setting.name.text].values[0]
        message = f"{setting.name.text} of {inner.name} is a value such as {given.text}."
        draft.wrong("syntax", message, setting.span)
    else:
        count = "more than one" if fitting else "no"
        advice = "It takes: " + ", ".join(kinds) + "." if kinds else None
        draft.wrong("syntax", f"{value.text} fits {count} rating of {inner.name}.", setting.span, advice)
    return False


def _inner(names: Sequence[str], draft: _Draft) -> Part | None:
    """The part at the end of a path of children: of this part, then of that child, and so on."""
    children: Mapping[str, Child] = draft.children
    found: Part | None = None
    for name in names:
        child = children.get(name)
        found = (draft.inside or {}).get(child.part) if child else None
        if found is None:
            return None
        children = {inner.name: inner for inner in found.children}
    return found


def _behind_dot(word: Word, what: str, draft: _Draft, names_of: str) -> bool:
    """Whether `limit.a` names something of the part `limit` that is inside this one."""
    path = word.path
    if path[0] not in draft.children:
        if path[0] not in draft.left_out:
            draft.unknown(Word(path[0], word.span), "part inside", draft.children)
        return False
    if draft.inside is None:
        return True
    inner = _inner(path[:-1], draft)
    known = _within(inner, names_of) if inner else ()
    if path[-1] in known:
        return True
    draft.unknown(word, what, (".".join((*path[:-1], name)) for name in known))
    return False


def _within(inner: Part, names_of: str) -> tuple[str, ...]:
    """The names of one kind in a part: terminals, loads or states."""
    match names_of:
        case "terminals":
            return tuple(inner.terminals)
        case "loads":
            sole = [child.name for child in inner.children]
            return (*(load.name for load in inner.loads), *sole)
        case _:
            return tuple(state.name for state in inner.states)


def _point(word: Word, draft: _Draft) -> bool:
    """Whether a name is a terminal of this part or of one inside it."""
    if "." in word.text:
        return _behind_dot(word, "terminal", draft, "terminals")
    if word.text in draft.terminals:
        return True
    inner = _inner([word.text], draft)
    if inner is not None:
        listed = ", ".join(f"{word.text}.{name}" for name in inner.terminals)
        draft.wrong(
            "unknown-name",
            f"{word.text} is a whole part, not a terminal.",
            word.span,
            f"Its terminals: {listed}.",
        )
    else:
        draft.unknown(word, "terminal", draft.terminals)
    return False


def _points(words: Iterable[Word], draft: _Draft) -> bool:
    return False not in [_point(word, draft) for word in words]


def _holds(condition: Condition | None, draft: _Draft) -> bool:
    """Whether every name of a condition is known."""
    match condition:
        case None:
            return True
        case syntax.AnyOf(facts) | syntax.AllOf(facts):
            return False not in [_holds(fact, draft) for fact in facts]
        case syntax.Negation(fact):
            return _holds(fact, draft)
        case syntax.InPosition(position):
            if position.text in draft.positions:
                return True
            draft.unknown(position, "position", draft.positions)
            return False
        case syntax.Called(call):
            if call.text in draft.calls:
                return True
            draft.unknown(call, "call", draft.calls)
            return False
        case syntax.IsState(name, state):
            return _stands(name, (state,), draft)
        case syntax.WasState(name, state, _):
            return _stands(name, (state,), draft)
        case syntax.Runs(load):
            return _load_name(load, draft)
        case syntax.HasVoltage(terminal, volts, reference):
            return False not in [_points((terminal, reference), draft), _is(volts, "volts", draft)]
        case syntax.Carries(terminal, amps, other):
            known = [_points((terminal, other), draft), _is(amps, "contact", draft)]
            if False not in known and frozenset((terminal.text, other.text)) not in draft.contacts:
                draft.wrong(
                    "unknown-name",
                    f"No contact is between {terminal.text} and {other.text}: what flows there is not known.",
                    terminal.span,
                    f"Say when it conducts: {terminal.text} -- {other.text} when coil is in or coil is out",
                )
                return False
            return False not in known


def _load_name(word: Word, draft: _Draft) -> bool:
    """Whether a name is a load: of this part, of one inside it, or such a part that has just one."""
    if word.text in draft.loads or word.text in draft.senses:
        return True
    inner = _inner(word.path, draft)
    if inner is not None and len(inner.loads) == 1:
        return True
    if "." in word.text:
        return _behind_dot(word, "load", draft, "loads")
    if word.text in draft.children and draft.inside is None:
        return True
    if word.text not in draft.left_out:
        draft.unknown(word, "load", (*draft.loads, *draft.children, *draft.senses))
    return False


def _stands(name: Word, values: tuple[Word, ...], draft: _Draft) -> bool:
    """Whether a name is a state, or a part inside with positions, that can stand so."""
    known: tuple[str, ...] | None = None
    if name.text in draft.senses:
        known = (MISSING,)
    elif name.text in draft.states:
        known = draft.states[name.text].values
    elif name.text in draft.children or "." in name.text:
        if draft.inside is None and name.path[0] in draft.children:
            return True
        inner = _inner(name.path, draft)
        if inner is not None and inner.positions:
            known = inner.positions
        elif "." in name.text:
            if not _behind_dot(name, "state", draft, "states"):
                return False
            owner = _inner(name.path[:-1], draft)
            states = owner.states if owner else ()
            known = next((state.values for state in states if state.name == name.path[-1]), ())
    if known is None:
        if name.text not in draft.left_out:
            draft.unknown(name, "state", (*draft.states, *_movable(draft)))
        return False
    wrong = [value for value in values if value.text not in known]
    for value in wrong:
        draft.unknown(value, f"state of {name.text}", known)
    return not wrong


def _movable(draft: _Draft) -> Iterator[str]:
    for child in draft.children.values():
        inner = (draft.inside or {}).get(child.part)
        if inner is None or inner.positions:
            yield child.name


def _movers(said: list[syntax.Statement]) -> list[Word]:
    return [word for one in said if isinstance(one, syntax.MovedStatement) for word in one.by]


def _moved_by(said: list[syntax.Statement], draft: _Draft) -> str:
    """What moves the positions: a hand where the file does not say."""
    movers = [word for word in _movers(said) if word.text != "safety"]
    names = (*MOVERS, "safety")
    known = [word.text for word in movers if draft.one_of(word, "thing that moves a part", names)]
    return known[0] if known else "hand"


def _transitions(said: list[syntax.Statement], draft: _Draft) -> Iterator[Transition]:
    for one in said:
        if not isinstance(one, syntax.GoesStatement):
            continue
        values = (*one.origins, one.target)
        if one.name.text == draft.name and draft.positions:
            name = ""
            wrong = [word for word in values if word.text not in draft.positions]
            for word in wrong:
                draft.unknown(word, "position", draft.positions)
            sound = not wrong
        else:
            name = one.name.text
            sound = _stands(one.name, values, draft)
        after = one.after is None or _is(one.after, "time", draft)
        when = _holds(one.when, draft)
        if sound and after and when:
            origins = tuple(word.text for word in one.origins)
            yield Transition(name, origins, one.target.text, one.after, one.when, one.span)


def _ends(said: list[syntax.Statement], draft: _Draft) -> Iterator[CallEnd]:
    """How what a thermostat senses ends its calls."""
    for one in said:
        if not isinstance(one, syntax.EndsStatement):
            continue
        if one.call.text not in draft.calls:
            draft.unknown(one.call, "call", draft.calls)
            continue
        if one.when is None:
            draft.wrong(
                "syntax",
                f"{one.call.text} does not say what ends it.",
                one.span,
                "Write when, and what it senses, as: when compressor runs",
            )
            continue
        after = one.after is None or _is(one.after, "time", draft)
        if _holds(one.when, draft) and after:
            yield CallEnd(one.call.text, one.after, one.when, one.span)


def _contacts(said: list[syntax.Statement], draft: _Draft) -> Iterator[Contact]:
    joined: dict[frozenset[str], Span] = {}
    for one in said:
        if not isinstance(one, syntax.JoinStatement):
            continue
        words = [end.name for end in one.ends if end.name is not None]
        if len(words) < len(one.ends) or any(end.marked for end in one.ends):
            draft.wrong(
                "syntax", "Pigtails and marks are made on a board; a part's wiring has none.", one.span
            )
            continue
        sound = _points(words, draft)
        values, flags = _options(one.options, CONTACT_OPTIONS, "a contact", draft)
        said_twice = [sense for sense in SENSES if sense in flags]
        if len(said_twice) > 1:
            listed = " and ".join(said_twice)
            draft.wrong("syntax", f"A contact is one of these, and no two: {listed}.", one.span)
            flags -= set(said_twice)
        if not (_holds(one.when, draft) and sound) or _senses(one, draft):
            continue
        for a, b in pairwise(words):
            pair = frozenset((a.text, b.text))
            if pair in joined:
                draft.wrong(
                    "syntax",
                    f"{a.text} and {b.text} are joined on line {joined[pair].line} already.",
                    one.span,
                    "Put the conditions on one line, with or between them.",
                )
            else:
                joined[pair] = one.span
                yield Contact(
                    a.text,
                    b.text,
                    one.when,
                    values.get("rated"),
                    flags,
                    one.span,
                    values.get("overload"),
                    values.get("waits"),
                )


def _senses(one: syntax.JoinStatement, draft: _Draft) -> bool:
    """Whether a contact looks at what the part senses, which moves positions and states; a problem."""
    sensed = [name for name in (named(one.when) if one.when is not None else ()) if name in draft.senses]
    if sensed:
        draft.wrong(
            "syntax",
            f"A contact cannot look at what the part senses, and {sensed[0]} is that.",
            one.span,
            "Let that move a position of the part, with goes, and the contact look at the position.",
        )
    return bool(sensed)


def _options(
    options: tuple[syntax.Option, ...], known: Mapping[str, str], what: str, draft: _Draft
) -> tuple[dict[str, Value], frozenset[str]]:
    """The values and the flags among what is said after the commas."""
    values: dict[str, Value] = {}
    flags: set[str] = set()
    for option in options:
        if not draft.one_of(option.name, f"thing to say of {what}", known):
            continue
        name, use = option.name.text, known[option.name.text]
        if option.value is None and not use:
            flags.add(name)
        elif option.value is None:
            advice = f"After it goes {wanted(tuple(RANGES[use]))}."
            draft.wrong("syntax", f"{name} needs a value.", option.span, advice)
        elif not use:
            draft.wrong("syntax", f"{name} takes no value.", option.span)
        else:
            if _is(option.value, use, draft):
                values[name] = option.value
            if option.upper is not None and _is(option.upper, use, draft):
                values[f"{name}-to"] = option.upper
    return values, frozenset(flags)


def _loads(said: list[syntax.Statement], draft: _Draft) -> Iterator[LoadSpec]:
    for one in said:
        if not isinstance(one, syntax.LoadStatement) or draft.loads.get(one.name.text) != one.span:
            continue
        ends = (one.origin, one.target) if one.third is None else (one.origin, one.target, one.third)
        sound = [
            draft.one_of(one.kind, "kind of load", KINDS),
            _points(ends, draft),
            _is(one.draws, "draw", draft),
            _rated_volts(one, draft),
        ]
        options, flags = _options(one.options, LOAD_OPTIONS, "a load", draft)
        if all(sound):
            yield LoadSpec(
                one.name.text,
                one.kind.text,
                one.origin.text,
                one.target.text,
                one.draws,
                one.volts,
                options,
                flags,
                one.span,
                one.third.text if one.third is not None else None,
            )


def _rated_volts(one: syntax.LoadStatement, draft: _Draft) -> bool:
    """Whether a load's volts are known: its own, or those of the part."""
    if one.volts is not None:
        return _is(one.volts, "volts", draft)
    if "voltage" in draft.ratings:
        return _is(Word("voltage", one.span), "volts", draft)
    draft.wrong(
        "syntax",
        f"{one.name.text} does not say at how many volts it draws that.",
        one.span,
        "Write at and the volts after what it draws, as: 60 W at 120 V",
    )
    return False


def _transformers(said: list[syntax.Statement], draft: _Draft) -> Iterator[TransformerSpec]:
    for one in said:
        if not isinstance(one, syntax.TransformsStatement):
            continue
        sound = [
            _points((*one.primary, *one.secondary), draft),
            _is(one.primary_volts, "winding", draft),
            _is(one.secondary_volts, "winding", draft),
        ]
        options, flags = _options(one.options, TRANSFORMER_OPTIONS, "a transformer", draft)
        named = [option.name.text for option in one.options]
        sound += [name in options for name in ("capacity", "impedance")]
        for name in ("capacity", "impedance"):
            if name not in named:
                example = wanted(tuple(RANGES[name]))
                draft.wrong("syntax", f"The transformer has no {name}.", one.span, f"Add {name}, {example}.")
        if all(sound):
            yield TransformerSpec(
                one.primary_volts,
                (one.primary[0].text, one.primary[1].text),
                one.secondary_volts,
                (one.secondary[0].text, one.secondary[1].text),
                options,
                flags,
                one.span,
            )


def _protections(said: list[syntax.Statement], draft: _Draft) -> Iterator[ProtectionSpec]:
    for one in said:
        if not isinstance(one, syntax.ProtectsStatement):
            continue
        sound = [
            _points((word for pair in one.pairs for word in pair), draft),
            _is(one.rating, "fuse", draft),
        ]
        options, flags = _options(one.options, PROTECTION_OPTIONS, "a protection", draft)
        if all(sound):
            pairs = tuple((a.text, b.text) for a, b in one.pairs)
            yield ProtectionSpec(pairs, one.rating, options, flags, one.span)


def _outlets(said: list[syntax.Statement], draft: _Draft) -> Iterator[OutletSpec]:
    for one in said:
        if not isinstance(one, syntax.OutletStatement) or draft.declared.get(one.name.text) != one.name.span:
            continue
        ground = next((option.value for option in one.options if option.name.text == "ground"), None)
        rest = tuple(option for option in one.options if option.name.text != "ground")
        values, _ = _options(rest, OUTLET_OPTIONS, "an outlet", draft)
        words = [one.hot, one.neutral]
        if isinstance(ground, Word):
            words.append(ground)
        if _points(words, draft):
            hole = ground.text if isinstance(ground, Word) else None
            yield OutletSpec(
                one.name.text,
                one.hot.text,
                one.neutral.text,
                hole,
                values.get("rated"),
                one.span,
                values.get("volts"),
            )


def _outdoors(said: list[syntax.Statement], draft: _Draft) -> bool:
    """Whether the part is made to stand in the weather."""
    places = [one.where for one in said if isinstance(one, syntax.StandsStatement)]
    return bool([word for word in places if draft.one_of(word, "place to stand", WHERE)])


def _serves(said: list[syntax.Statement], draft: _Draft) -> str:
    """What the part is for, where the code asks something of that."""
    words = [one.what for one in said if isinstance(one, syntax.ServesStatement)]
    known = [word.text for word in words if draft.one_of(word, "thing that a part serves", SERVES)]
    return known[0] if known else ""


def _fills(said: list[syntax.Statement], draft: _Draft) -> dict[str, float]:
    filled: dict[str, float] = {}
    for one in said:
        if isinstance(one, syntax.FillsStatement) and draft.one_of(one.what, "way to fill a box", FILLINGS):
            filled[one.what.text] = filled.get(one.what.text, 0.0) + one.count
    return filled
