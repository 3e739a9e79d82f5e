"""What is joined in each place: splices, pigtails, and what sits under which screw."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from itertools import zip_longest
from typing import NamedTuple

from wirecheck.language import syntax
from wirecheck.language.names import position
from wirecheck.language.syntax import Span, Statement, Word
from wirecheck.language.words import nearest
from wirecheck.model.board import Connector, Join, Member, Terminal
from wirecheck.model.colors import MARKS
from wirecheck.model.connectors import BOTH_METALS
from wirecheck.model.draft import Draft
from wirecheck.model.runs import CLASS_2_COLORS, known_color, sized

# What is said of wires in the holes in the back of a device.
PUSHED = "push-in"
# A name of so few letters is near to any other: `Y` to `W`.
SHORT = 2


class MakeUp(NamedTuple):
    """Every join in its place, the ends that are capped, and the places where one could not be read."""

    joins: tuple[Join, ...]
    capped: dict[str, Span]
    unread: frozenset[str]


def make_up(statements: tuple[Statement, ...], draft: Draft) -> MakeUp:
    """What the lines under each `at` say."""
    joins: list[Join] = []
    capped: dict[str, Span] = {}
    used: set[str] = set()
    unread: set[str] = set()
    place: Word | None = None
    known = False
    for statement in statements:
        if isinstance(statement, syntax.AtStatement):
            place = statement.place
            known = draft.place(place)
        elif isinstance(statement, syntax.JoinStatement | syntax.CapStatement):
            if place is None:
                draft.wrong(
                    "syntax",
                    "This join does not say where it is made.",
                    statement.span,
                    "Write the place above it, as in: at A",
                )
                continue
            if not known:
                continue
            if isinstance(statement, syntax.CapStatement):
                point = _to_cap(statement.name, place.text, used, draft)
                if point is not None:
                    capped[point] = statement.span
                continue
            if statement.when is not None:
                draft.wrong(
                    "syntax",
                    "A join on a board is there or is not: `when` belongs inside a part.",
                    statement.span,
                )
            members = list(_members(statement, place.text, used, draft))
            if len(members) < len(statement.ends):
                unread.add(place.text)
            if len(members) > 1:
                connector, pushed = _how(statement.options, draft)
                joins.append(_join(place.text, members, connector, pushed, statement.span, draft))
                if pushed and not joins[-1].under:
                    draft.wrong(
                        "syntax",
                        "Wires are pushed into the holes of a device, and no device is in this join.",
                        statement.span,
                        "Leave push-in out: a splice is made with a connector.",
                    )
    return MakeUp(tuple(joins), capped, frozenset(unread | _misread(statements, draft)))


def _misread(statements: tuple[Statement, ...], draft: Draft) -> set[str]:
    """The places under whose `at` a line could not be read."""
    begun = [(one.span.line, one.place.text) for one in statements if isinstance(one, syntax.AtStatement)]
    lines = [line for line, _ in begun]
    misread = (bisect_right(lines, problem.span.line) for problem in draft.problems)
    return {begun[count - 1][1] for count in misread if count}


def _to_cap(word: Word, place: str, used: set[str], draft: Draft) -> str | None:
    """The point of what is capped in this place: a conductor's end, or a lead of a device."""
    terminal = draft.terminals.get(draft.screws.get(word.text, word.text))
    if terminal is None:
        return _conductor_end(word, place, used, draft)
    if "lead" not in terminal.spec.flags:
        draft.wrong(
            "syntax",
            f"{word.text} is a screw, and a cap goes on a wire or a lead.",
            word.span,
            "A screw that is not needed stays empty.",
        )
        return None
    return terminal.name if _is_here(terminal, place, word, draft) else None


def _is_here(terminal: Terminal, place: str, word: Word, draft: Draft) -> bool:
    """Whether a terminal is in the place of a join; where it is not, that is a problem."""
    if terminal.place != place:
        draft.wrong(
            "unknown-name",
            f"{terminal.name} is in {terminal.place}, and this join is made at {place}.",
            word.span,
            f"Join it under: at {terminal.place}",
        )
    return terminal.place == place


def _how(options: tuple[syntax.Option, ...], draft: Draft) -> tuple[Connector | None, bool]:
    """The connector that a join says it is made with, and whether its wires are pushed in."""
    connector, pushed = None, False
    for option in options:
        if option.name.text == PUSHED and option.value is None:
            pushed = True
        elif option.name.text != "connector":
            draft.wrong(
                "syntax",
                "A join on a board has no rating: what a contact carries is said inside a part.",
                option.span,
            )
        elif isinstance(option.value, Word):
            connector = _connector(option.value, draft)
        else:
            draft.wrong(
                "syntax",
                "A connector is known by its name, from a line that says what it holds.",
                option.span,
                f"Write: connector {BOTH_METALS}, or declare one: connector RED 2 to 5 of 14 AWG",
            )
    return connector, pushed


def _connector(word: Word, draft: Draft) -> Connector | None:
    """The connector of a name: one that a line declares, or any for aluminum with copper."""
    if word.text in draft.broken:
        return None
    if word.text == BOTH_METALS and word.text not in draft.connectors:
        return Connector(BOTH_METALS, (), True, word.span)
    if word.text not in draft.connectors:
        draft.unknown(word, "The connector", [*draft.connectors, BOTH_METALS])
    return draft.connectors.get(word.text)


def _members(statement: syntax.JoinStatement, place: str, used: set[str], draft: Draft) -> Iterator[Member]:
    """The members of a join, each screw once: what is joined to itself is a slip of the pen."""
    seen: set[tuple[str, str | None]] = set()
    for end in statement.ends:
        member = _member(end, place, used, draft)
        if member is None:
            continue
        if member.kind == "terminal" and (member.point, member.screw) in seen:
            draft.wrong(
                "syntax",
                f"{end.name.text if end.name else member.name} stands twice in this join.",
                end.span,
                "Name each screw of a join once.",
            )
            continue
        seen.add((member.point, member.screw))
        yield member


def _member(end: syntax.JoinEnd, place: str, used: set[str], draft: Draft) -> Member | None:
    marked = known_color(end.marked, MARKS, "of tape", draft) if end.marked else None
    if end.name is None:
        return Member("pigtail", "pigtail", "", marked, end.span, size=_gauge(end.size, draft))
    said = end.name.text
    name = draft.screws.get(said, said)
    terminal = draft.terminals.get(name)
    if terminal is not None:
        if not _is_here(terminal, place, end.name, draft):
            return None
        return Member("terminal", name, name, marked, end.span, said if said != name else None)
    point = _conductor_end(end.name, place, used, draft)
    return None if point is None else Member("end", said, point, marked, end.span)


def _gauge(word: Word | None, draft: Draft) -> str | None:
    """The size that a pigtail is said to have; one that no table holds is a problem."""
    if word is None:
        return None
    return sized(word, "Write: pigtail 12", draft)


def _conductor_end(word: Word, place: str, used: set[str], draft: Draft) -> str | None:
    """The point of that conductor's end in this place."""
    conductor = draft.conductors.get(word.text)
    if conductor is None:
        _no_such_end(word, place, draft)
        return None
    here = [end for end, where in zip(conductor.ends, conductor.places, strict=True) if where == place]
    if not here:
        first, second = conductor.places
        draft.wrong(
            "unknown-name",
            f"{word.text} runs from {first} to {second} and does not come to {place}.",
            word.span,
            "Check the cable's line, or the place named after `at`.",
        )
        return None
    point = here[0] if here[0] not in used else here[-1]
    used.add(point)
    return point


def _no_such_end(word: Word, place: str, draft: Draft) -> None:
    """Say what is wrong with a name in a join that is no terminal and no conductor."""
    owner, last = word.path[0], word.inside
    if {owner, word.text, word.within} & draft.broken or draft.full:
        return
    if word.text in draft.runs and draft.runs[word.text].jacketed:
        colors = ", ".join(conductor.name for conductor in draft.runs[word.text].conductors)
        draft.wrong(
            "unknown-name",
            f"{word.text} is a cable; name one of its conductors.",
            word.span,
            f"It has: {colors}.",
        )
        return
    if word.text in draft.devices or word.text in draft.breakers or word.text in draft.panels:
        inside = [terminal.name for terminal in draft.terminals.values() if terminal.owner == word.text]
        draft.wrong(
            "unknown-name",
            f"{word.text} is not a screw; name one of its terminals.",
            word.span,
            "It has: " + ", ".join(inside) + "." if inside else None,
        )
        return
    if owner in draft.declared and last:
        inside = _ends_of(owner, draft)
        if owner in draft.panels and position(last):
            message = f"{owner} has no breaker in space {last}."
            form = f"If one is there, write its line: breaker {word.text} 15 A. "
            draft.wrong("unknown-name", message, word.span, f"{form}It has: {', '.join(inside)}.")
            return
        if owner in draft.runs and not draft.runs[owner].jacketed:
            draft.wrong(
                "unknown-name",
                f"{owner} is a single wire, and has no {last}.",
                word.span,
                f"Write {owner} alone.",
            )
            return
        if inside:
            near = _misspelt(word, inside)
            meant = f"Did you mean {near}? " if near else ""
            listed = f"It has: {', '.join(inside)}."
            draft.wrong("unknown-name", f"{owner} has no {last}.", word.span, meant + listed)
            return
        if owner in draft.boxes and last == "ground":
            draft.wrong(
                "unknown-name",
                f"Only a metal box has a ground screw, and {owner} is not said to be metal.",
                word.span,
                f"If it is, write metal at the end of the line that declares {owner}.",
            )
            return
    here = [terminal.name for terminal in draft.terminals.values() if terminal.place == place]
    here += [conductor.name for conductor in draft.conductors.values() if place in conductor.places]
    # The screw of a device that is not declared may belong to one that the trim brings; a wire may not.
    later = bool(last) and owner not in draft.declared and last not in (*CLASS_2_COLORS, "bare")
    draft.unknown(word, "The wire or screw", here or [*draft.terminals, *draft.conductors], later)


def _misspelt(word: Word, inside: list[str]) -> str | None:
    """The name that was meant, unless the written one is right elsewhere: another color, another letter.

    By its letters alone `red` is nearest to `bare`, and `Y` to any other screw of a thermostat.
    """
    if word.inside in (*CLASS_2_COLORS, "bare"):
        return None
    if len(word.inside) <= SHORT:
        return next((name for name in inside if name.casefold() == word.text.casefold()), None)
    return nearest(word.text, inside)


def _ends_of(owner: str, draft: Draft) -> list[str]:
    """The screws of a device, of a box, or of a panel with its breakers; the conductors of a cable."""
    owners = {owner, *(breaker.name for breaker in draft.breakers.values() if breaker.panel == owner)}
    inside = [terminal.name for terminal in draft.terminals.values() if terminal.owner in owners]
    return inside + [conductor.name for conductor in draft.conductors.values() if conductor.run == owner]


def _join(
    place: str,
    members: list[Member],
    connector: Connector | None,
    pushed: bool,
    span: Span,
    draft: Draft,
) -> Join:
    """Sort the members of one line into the splice and the screws.

    Conductors that stand beside a screw sit under it; a pigtail leads from the
    splice to the screw after it, or back to the one before it where a wire
    comes next; where nothing is spliced yet, it leads from the screw before it to the one after it, and is
    under both. Two screws side by side are joined by a jumper. So are two with wires between them, which
    sit under the one that takes more.
    """
    under: dict[str, list[Member]] = {}
    splice: list[Member] = []
    waiting: list[Member] = []
    last: Member | None = None
    tail: Member | None = None
    has_tail = any(member.kind == "pigtail" for member in members)
    for member, after in zip_longest(members, members[1:]):
        if member.kind == "pigtail":
            back = after is not None and after.kind == "end"
            if last is not None and (back or not splice):
                under[last.point].append(_beneath(member, last))
            if last is None or not back:
                tail = member
            splice.extend(waiting)
            waiting = []
            splice.append(member)
            last = None
        elif member.kind == "end":
            waiting.append(member)
        else:
            sits = under.setdefault(member.point, [])
            if tail is not None:
                sits.append(_beneath(tail, member))
                tail = None
                splice.extend(waiting)
            else:
                here = member if last is None else max((last, member), key=lambda one: _room(one, draft))
                under[here.point].extend(_beneath(one, here) for one in waiting)
                if last is not None:
                    sits.append(_beneath(last, member))
                    under[last.point].append(_beneath(member, last))
            waiting = []
            last = member
    if waiting:
        if has_tail or last is None:
            splice.extend(waiting)
        else:
            under[last.point].extend(_beneath(one, last) for one in waiting)
    sitting = {name: tuple(sits) for name, sits in under.items()}
    return Join(place, tuple(members), tuple(splice), sitting, span, connector, pushed)


def _room(screw: Member, draft: Draft) -> int:
    """How many wires a terminal takes under its screws; a lead has none."""
    spec = draft.terminals[screw.point].spec
    return 0 if "lead" in spec.flags else spec.screws * spec.holds


def _beneath(member: Member, screw: Member) -> Member:
    """A member as it sits under a screw."""
    return member if screw.screw == member.screw else member._replace(screw=screw.screw)
