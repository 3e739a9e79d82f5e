"""The board language as a TextMate grammar, for editors that color by expressions."""

from __future__ import annotations

from typing import Any

from wirecheck.editor.coloring import Shade, expressions

SCOPES: dict[Shade, str] = {
    "comment": "comment.line.number-sign",
    "string": "string.quoted.double",
    "join": "keyword.operator",
    "begin": "keyword.control",
    "quantity": "constant.numeric",
    "word": "keyword.other",
    "color": "support.constant.color",
    "inside": "variable.other.member",
    "name": "variable.other",
    "sign": "punctuation.separator",
}


def textmate() -> dict[str, Any]:
    """The grammar, as a value for JSON.

    >>> textmate()["scopeName"], textmate()["fileTypes"]
    ('source.wirecheck', ['wire'])
    """
    return {
        "name": "wirecheck",
        "scopeName": "source.wirecheck",
        "fileTypes": ["wire"],
        "patterns": [_pattern(one.shade, one.pattern) for one in expressions()],
    }


def _pattern(shade: Shade, pattern: str) -> dict[str, Any]:
    scope = {"name": f"{SCOPES[shade]}.wirecheck"}
    return {"match": pattern} | ({"captures": {"2": scope}} if shade == "begin" else scope)
