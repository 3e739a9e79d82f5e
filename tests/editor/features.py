"""Every feature of the editor on a text, at places of it."""

from contextlib import suppress
from itertools import pairwise

from wirecheck.assembly import shipped_parts
from wirecheck.editor.completion import completions
from wirecheck.editor.hover import hover
from wirecheck.editor.layout import laid_out
from wirecheck.editor.names import CannotRename, made, renamed, uses
from wirecheck.editor.opened import opened
from wirecheck.editor.outline import folds, outline
from wirecheck.editor.positions import ENCODINGS, ruler
from wirecheck.editor.speech import stretch, symbol, token_data
from wirecheck.editor.tokens import tokens


def read(text):
    return opened(text, "board.wire", shipped_parts())


def all_of(text, places):
    """Ask all that an editor asks; what is answered lies in the text, and pieces do not overlap."""
    now = read(text)
    rulers = [ruler(text, encoding) for encoding in ENCODINGS]
    pieces = tokens(now)
    ends = [(one.line, one.column, one.column + one.length) for one in pieces]
    assert all(a[0] < b[0] or a[2] <= b[1] for a, b in pairwise(ends))
    for measured in rulers:
        assert min(token_data(pieces, measured), default=0) >= 0
        for entry in outline(now):
            shown = symbol(entry, measured)
            assert shown.range.start <= shown.selection_range.start
            assert shown.selection_range.end <= shown.range.end
    folds(now)
    laid_out(text)
    for line, column in places:
        for measured in rulers:
            at = measured.place(*measured.units(line, column))
            assert at == (min(line, len(measured.rows)), min(column, len(measured.rows[at[0] - 1]) + 1))
        completions(now, line, column)
        told = hover(now, line, column)
        assert told is None or stretch(told.span, rulers[0])
        made(now, line, column)
        if uses(now, line, column):
            with suppress(CannotRename):
                renamed(now, line, column, "X-1")
    return now


def end_of(text):
    rows = text.split("\n")
    return len(rows), len(rows[-1]) + 1
