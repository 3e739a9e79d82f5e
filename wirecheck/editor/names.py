"""Going to where a name is made, to where it is used, and giving it another one."""

from __future__ import annotations

from wirecheck.editor.opened import Opened
from wirecheck.editor.part_names import names_of_part, uses_in_part
from wirecheck.language.mentions import Mention, is_plain_name, mentioned, mentions
from wirecheck.language.names import MOST_LETTERS, fault
from wirecheck.language.part_mentions import PartMention
from wirecheck.language.reader import read
from wirecheck.language.rewriting import TextEdit, rewritten


class CannotRename(ValueError):
    """A name that cannot be given, or a place where none stands; the message says why."""


def thing_at(now: Opened, line: int, column: int) -> Mention | None:
    """The mention of a thing at a place."""
    return mentioned(now.mentions, line, column)


def made(now: Opened, line: int, column: int) -> tuple[Mention | PartMention, ...]:
    """Where the thing at a place is made."""
    return tuple(one for one in uses(now, line, column) if one.makes)


def uses(now: Opened, line: int, column: int) -> tuple[Mention | PartMention, ...]:
    """Every place where the thing at a place is called by its name."""
    thing = thing_at(now, line, column)
    if thing is None or names_of_part(now):
        return uses_in_part(now, line, column)
    return tuple(one for one in now.mentions if one.name == thing.name)


def renamable(now: Opened, line: int, column: int) -> Mention:
    """The thing at a place that can be given another name.

    Raises
    ------
    CannotRename
        There is none.
    """
    thing = thing_at(now, line, column)
    if thing is None:
        raise CannotRename("No thing of this board is named here.")
    if thing.kind == "breaker":
        raise CannotRename(f"{thing.name} is called by its space in the panel, which is no name.")
    return thing


def renamed(now: Opened, line: int, column: int, to: str) -> tuple[TextEdit, ...]:
    """The changes after which the thing at a place has another name, everywhere.

    Raises
    ------
    CannotRename
        It cannot have that name.

    Examples
    --------
    >>> from wirecheck.assembly import shipped_parts
    >>> from wirecheck.editor.opened import opened
    >>> shed = opened('panel LP 120 V\\nbreaker LP.1 15 A\\nat LP', "-", shipped_parts())
    >>> [(edit.span.line, edit.text) for edit in renamed(shed, 3, 4, "MAIN")]
    [(1, 'MAIN'), (2, 'MAIN'), (3, 'MAIN')]
    >>> renamed(shed, 3, 4, "LP.2")
    Traceback (most recent call last):
    wirecheck.editor.names.CannotRename: LP.2 has a dot, and a dot leads into a thing. ...
    """
    thing = renamable(now, line, column)
    wrong = fault(to)
    if wrong is not None:
        raise CannotRename(f"{wrong.message} {wrong.advice}")
    if not is_plain_name(to) or len(to) > MOST_LETTERS:
        raise CannotRename(
            'A name is made of the letters a to z, digits, "-" and "_", and is no word of the language.'
        )
    if to != thing.name and any(one.name == to for one in now.mentions):
        raise CannotRename(f"{to} is on this board already.")
    edits = tuple(TextEdit(one.span, to) for one in uses(now, line, column))
    _need_same(now, edits, thing, to)
    return edits


def _need_same(now: Opened, edits: tuple[TextEdit, ...], thing: Mention, to: str) -> None:
    """Nothing, where the text says the same after a change of the name, but for the name."""
    after = read(rewritten(now.syntax.text, edits))
    before = [one._replace(name=to) if one.name == thing.name else one for one in now.mentions]
    # What hangs on a panel has its name before its own.
    same = [(one.kind, one.span.line, one.makes) for one in mentions(after)] == [
        (one.kind, one.span.line, one.makes) for one in before
    ]
    kinds = [type(one) for one in after.statements] == [type(one) for one in now.syntax.statements]
    if not same or not kinds or len(after.problems) != len(now.syntax.problems):
        raise CannotRename(f"{to} means something else on some line of this board.")
