"""The parser of single statements.

Building the parser from grammar/board.lark takes some 60 ms, loading its tables
a tenth of that. The tables are kept beside this file by
`python -m wirecheck.language.compile`, with the grammar's hash and lark's version,
and count only where both match: they can be missing, never wrong.
"""

from __future__ import annotations

import functools
import hashlib
import json
from typing import Any

import lark
from lark.lexer import PatternRE, PatternStr, TerminalDef

from wirecheck.files import grammar_text, tables_text


@functools.cache
def parser() -> lark.Lark:
    """The parser, from its tables where they are current, else from the grammar."""
    grammar = grammar_text()
    text = tables_text()
    if text is not None:
        tables = json.loads(text)
        if tables.get("made-for") == made_for(grammar):
            return lark.Lark.load(_numbered(tables))
    return build(grammar)


def build(grammar: str) -> lark.Lark:
    """The parser, from the grammar."""
    return lark.Lark(grammar, parser="lalr", lexer="contextual", edit_terminals=_whole_word)


def keywords() -> dict[str, str]:
    """The words and signs of the language, by the names of the parser's tokens."""
    words = {
        terminal.name: terminal.pattern.value.removesuffix(_WORD_ENDS) for terminal in parser().terminals
    }
    return {name: word for name, word in words.items() if word.isalpha() or word in ("--", ",", "(", ")")}


# What may not follow a word of the language: `fromLP` is a name.
_WORD_ENDS = r"(?![\w.-])"


def _whole_word(terminal: TerminalDef) -> TerminalDef:
    """A word of the language matches whole words only, and before names do."""
    if isinstance(terminal.pattern, PatternStr) and terminal.pattern.value.isalpha():
        terminal.pattern = PatternRE(terminal.pattern.value + _WORD_ENDS)
        terminal.priority = 1
    return terminal


def made_for(grammar: str) -> str:
    """What tables must be made for: this grammar, under this version of lark."""
    return f"lark {lark.__version__}, grammar {hashlib.sha256(grammar.encode()).hexdigest()}"


def _numbered(tables: dict[str, Any]) -> dict[str, Any]:
    """The tables with the keys as numbers that JSON keeps as text."""
    parse = tables["data"]["parser"]["parser"]
    parse["tokens"] = _by_number(parse["tokens"])
    parse["states"] = {int(state): _by_number(moves) for state, moves in parse["states"].items()}
    return tables | {"memo": _by_number(tables["memo"])}


def _by_number(table: dict[str, Any]) -> dict[int, Any]:
    return {int(key): value for key, value in table.items()}
