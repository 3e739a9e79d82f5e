"""The board language for Pygments, which finds this lexer by its entry point."""

from __future__ import annotations

from typing import ClassVar

from pygments.lexer import RegexLexer, bygroups
from pygments.token import Comment, Keyword, Name, Number, Operator, Punctuation, String, Whitespace

from wirecheck.editor.coloring import Shade, expressions

TOKENS: dict[Shade, object] = {
    "comment": Comment.Single,
    "string": String.Double,
    "join": Operator,
    "begin": Keyword.Declaration,
    "quantity": Number,
    "word": Keyword,
    "color": Name.Constant,
    "inside": Name.Attribute,
    "name": Name,
    "sign": Punctuation,
}


def _action(shade: Shade) -> object:
    return bygroups(Whitespace, TOKENS[shade]) if shade == "begin" else TOKENS[shade]


class BoardLexer(RegexLexer):
    """Boards, parts, exercises, lists of faults and reports of what was found.

    Examples
    --------
    >>> [text for _, text in BoardLexer().get_tokens("at A")]
    ['at', ' ', 'A', '\\n']
    """

    name = "wirecheck"
    aliases = ("wirecheck",)
    filenames = ("*.wire",)
    tokens: ClassVar = {
        "root": [
            *((one.pattern, _action(one.shade)) for one in expressions()),
            (r"[ \t\f\n]", Whitespace),
        ]
    }
