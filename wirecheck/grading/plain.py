"""A sheet as plain data, as JSON has it, and back: the very same sheet again."""

from __future__ import annotations

import json
from functools import cache
from typing import Any, get_args, get_origin, get_type_hints

from wirecheck.grading.sheet import Sheet


class NotASheet(ValueError):
    """Data that tell of no sheet."""


def plain_sheet(sheet: Sheet) -> dict[str, Any]:
    """A sheet as plain data: what has fields by their names, in their order, and what is in a row as a list.

    >>> plain_sheet(Sheet("a.wire", "Ana", "Shed", ()))["student"]
    'Ana'
    """
    data: dict[str, Any] = _plain(sheet)
    return data


def sheet_of(data: Any) -> Sheet:
    """The sheet that plain data tell of. What they do not say, of fields that may be left out, is as usual.

    Raises
    ------
    NotASheet
        They tell of none.
    """
    try:
        sheet: Sheet = _made(Sheet, data)
    except (AttributeError, KeyError, TypeError) as error:
        raise NotASheet("the data tell of no sheet") from error
    return sheet


def as_json(sheet: Sheet) -> str:
    """A sheet as JSON on one line, in ASCII: the same for the same sheet, byte for byte.

    Two halves of a character side by side, which no decoded text has, come back as the character.

    >>> sheet_of_json(as_json(Sheet("a.wire", "Ana", "Shed", ()))).file
    'a.wire'
    """
    return json.dumps(_plain(sheet), allow_nan=False, separators=(",", ":"))


def sheet_of_json(text: str) -> Sheet:
    """The sheet that JSON tells of.

    Raises
    ------
    NotASheet
        It tells of none.
    """
    try:
        data = json.loads(text)
    except (ValueError, RecursionError) as error:
        raise NotASheet("it is no JSON") from error
    return sheet_of(data)


def _plain(value: Any) -> Any:
    if isinstance(value, tuple):
        fields: tuple[str, ...] | None = getattr(value, "_fields", None)
        if fields is None:
            return [_plain(each) for each in value]
        return {name: _plain(each) for name, each in zip(fields, value, strict=True)}
    return value


def _made(kind: Any, value: Any) -> Any:
    """A value of the kind that a field is said to have."""
    if hasattr(kind, "_fields"):
        kinds = _kinds(kind)
        return kind(**{name: _made(kinds[name], each) for name, each in value.items()})
    if get_origin(kind) is tuple:
        if not isinstance(value, list):
            raise TypeError("a list belongs there")
        return tuple(_made(get_args(kind)[0], each) for each in value)
    return value


@cache
def _kinds(kind: type) -> dict[str, Any]:
    """What each field of a record holds."""
    return get_type_hints(kind)
