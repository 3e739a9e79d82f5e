"""What colors by expressions, against what the reader says of the same text."""

import functools
import itertools
import json
import tomllib
from importlib.metadata import EntryPoint
from random import Random

import onigurumacffi
import pytest
from click.testing import CliRunner

from tests.cli.boards import ROOT
from tests.fuzz.texts import Writer, seeds
from wirecheck import files
from wirecheck.cli.editor import command
from wirecheck.drawing.colors import INSULATION
from wirecheck.editor.coloring import begins, words
from wirecheck.editor.lexer import TOKENS, BoardLexer
from wirecheck.editor.textmate import SCOPES, textmate
from wirecheck.language.grammar import parser
from wirecheck.language.reader import comment_begins, read

QUANTITIES = {"AMOUNT", "CORES", "VOLTAGES", "DIMENSIONS"}
SIGNS = {"_JOINED": "join", "COMMA": "sign", "LPAR": "sign", "CLOSE": "sign"}
ALL = sorted([*files.folder("boards").rglob("*.wire"), *files.folder("parts").rglob("*.wire")])


def by_lexer(text):
    """Each colored stretch: its line and column from zero, what it is, and its letters."""
    shades = {token: shade for shade, token in TOKENS.items()}
    line = column = 0
    for _, token, piece in BoardLexer().get_tokens_unprocessed(text):
        if token in shades and piece:
            yield line, column, shades[token], piece
        rows = piece.split("\n")
        line += len(rows) - 1
        column = len(rows[-1]) + (column if len(rows) == 1 else 0)


@functools.cache
def compiled():
    return [(onigurumacffi.compile(one["match"]), one) for one in textmate()["patterns"]]


def by_grammar(text):
    """The same by the TextMate grammar: row by row, and of what matches soonest, the first."""
    shades = {f"{scope}.wirecheck": shade for shade, scope in SCOPES.items()}
    for line, row in enumerate(text.split("\n")):
        at = 0
        ahead = [(regex, regex.search(row, 0), one) for regex, one in compiled()]
        while ahead := [(regex, match, one) for regex, match, one in ahead if match]:
            _, match, one = min(ahead, key=lambda each: each[1].start())
            (group, scope) = next(iter(one.get("captures", {0: one}).items()))
            yield line, match.start(int(group)), shades[scope["name"]], match[int(group)]
            assert match.end() > at
            at = match.end()
            ahead = [
                (regex, known if known.start() >= at else regex.search(row, at), each)
                for regex, known, each in ahead
            ]


def by_reader(text):
    """The tokens of each statement that is read, and the comments."""
    rows = text.split("\n")
    for line, row in enumerate(rows):
        if comment_begins(row) < len(row):
            yield line, comment_begins(row), "COMMENT", row[comment_begins(row) :], False
    for span in {one.span for one in read(text).statements}:
        lines = rows[span.line - 1 : span.end_line]
        lines[-1] = lines[-1][: span.end_column - 1]
        lines[0] = " " * (span.column - 1) + lines[0][span.column - 1 :]
        for first, token in zip(
            itertools.chain([True], itertools.repeat(False)),
            parser().parse_interactive("\n".join(lines)).iter_parse(),
            strict=False,
        ):
            yield span.line - 2 + token.line, token.column - 1, token.type, str(token), first


def may_be(kind, said, first):
    """What a token of the reader may be colored as."""
    if kind in SIGNS:
        return {SIGNS[kind]}
    if kind in QUANTITIES or kind in ("COMMENT", "TEXT"):
        return {"quantity" if kind in QUANTITIES else {"COMMENT": "comment", "TEXT": "string"}[kind]}
    if kind != "NAME":
        # A thing may have the name of a word that begins a statement.
        return {"begin"} if first and kind not in ("LOAD", "SOURCE", "CAP", "STAGE") else {"begin", "word"}
    if said in INSULATION:
        return {"color"}
    if said in words():
        return {"word"} if said not in begins() else {"word", "begin"}
    return {"quantity"} if said.isdecimal() else {"name"}


def differences(text, colored):
    """What is colored in another way than the reader reads it."""
    yield from compared(by_reader(text), colored(text))


def compared(read_as, colored_as):
    there = {(line, column): (shade, piece) for line, column, shade, piece in colored_as}
    for line, column, kind, said, first in read_as:
        head, *inside = said.split(".") if kind == "NAME" else [said.split()[0] if kind == "FAULT" else said]
        shade, piece = there.get((line, column), ("", ""))
        may = {"name"} if inside else may_be(kind, head, first)
        if piece != head or shade not in may:
            yield line + 1, kind, said, shade, piece
        for each in inside:
            column += len(head) + 1
            head = each
            if there.get((line, column)) != ("color" if each in INSULATION else "inside", each):
                yield line + 1, kind, said, "inside", each


@pytest.mark.parametrize("colored", [by_lexer, by_grammar])
def test_every_word_of_the_language_is_known(colored):
    assert len(words()) > 100
    for word in words():
        assert [one[2:] for one in colored(f"X1 {word}")][1:] == [("word", word)]
        assert [one[2] for one in colored(word)] == ["begin" if word in begins() else "word"]
        assert [one[2] for one in colored(f"S1.{word}-1 x{word}")] == ["name", "sign", "inside", "name"]
    for color in INSULATION:
        assert [one[2] for one in colored(f"W1.{color} {color}")] == ["name", "sign", "color", "color"]


@pytest.mark.parametrize("colored", [by_lexer, by_grammar])
@pytest.mark.parametrize("name", ["demo", "stair-light/right", "exercises/stair-light/exercise"])
def test_words_are_colored_as_they_are_read(colored, name):
    text = (files.folder("boards") / f"{name}.wire").read_text()
    assert list(differences(text, colored)) == []


@pytest.mark.slow
def test_all_that_ships_is_colored_as_it_is_read():
    assert len(ALL) > 500
    for path in ALL:
        text = path.read_text()
        read_as = list(by_reader(text))
        for colored in (by_lexer, by_grammar):
            assert (path, list(compared(read_as, colored(text)))) == (path, [])


def whole(text):
    pieces = list(BoardLexer().get_tokens_unprocessed(text))
    assert "".join(piece for _, _, piece in pieces) == text
    unread = BoardLexer(stripnl=False, ensurenl=False).get_tokens(text)
    assert "".join(piece for _, piece in unread) == text.replace("\r\n", "\n").replace("\r", "\n")


@pytest.mark.parametrize(
    "text", ["", "\x00", '"' * 500, "at " * 500, "1 " * 500, "\U0001f4a1é\r\n\f\x0b--- #"]
)
def test_hostile_text_comes_back_whole(text):
    whole(text)
    list(by_grammar(text))


@pytest.mark.slow
@pytest.mark.parametrize("parts", [False, True])
def test_any_text_comes_back_whole_and_both_color_it_alike(parts):
    writer = Writer(seeds(parts), Random(8))
    for text in writer.random.choices(writer.texts, k=400):
        text = writer.changed(text, 4000)
        whole(text)
        assert list(by_lexer(text)) == list(by_grammar(text))


def test_pygments_finds_the_lexer_by_its_entry_point():
    points = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]["entry-points"]
    ((name, value),) = points["pygments.lexers"].items()
    assert EntryPoint(name, value, "pygments.lexers").load() is BoardLexer


def test_the_command_prints_the_grammar():
    printed = CliRunner().invoke(command, ["--grammar"])
    assert printed.exit_code == 0 and json.loads(printed.output) == textmate()
