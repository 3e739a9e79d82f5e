"""What the editor's features find, in the records of the Language Server Protocol."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from lsprotocol import types

from wirecheck.editor.completion import Offer, Sort
from wirecheck.editor.found import Change, Found
from wirecheck.editor.hover import Told
from wirecheck.editor.outline import Entry, Fold, Role
from wirecheck.editor.positions import Ruler
from wirecheck.editor.tokens import MODIFIERS, ROLES, Token
from wirecheck.judge.finding import Severity
from wirecheck.language.rewriting import TextEdit
from wirecheck.language.syntax import Span

SOURCE = "wirecheck"

_SEVERITIES: dict[Severity, types.DiagnosticSeverity] = {
    "hazard": types.DiagnosticSeverity.Error,
    "violation": types.DiagnosticSeverity.Error,
    "fault": types.DiagnosticSeverity.Error,
    "advice": types.DiagnosticSeverity.Information,
}
_SORTS: dict[Sort, types.CompletionItemKind] = {
    "statement": types.CompletionItemKind.Keyword,
    "word": types.CompletionItemKind.Keyword,
    "part": types.CompletionItemKind.Class,
    "place": types.CompletionItemKind.Module,
    "wire": types.CompletionItemKind.Variable,
    "screw": types.CompletionItemKind.Field,
    "device": types.CompletionItemKind.Variable,
    "unit": types.CompletionItemKind.Unit,
    "value": types.CompletionItemKind.Value,
}
_ROLES: dict[Role, types.SymbolKind] = {
    "title": types.SymbolKind.Package,
    "place": types.SymbolKind.Namespace,
    "supply": types.SymbolKind.Event,
    "run": types.SymbolKind.Variable,
    "device": types.SymbolKind.Object,
    "joining": types.SymbolKind.Array,
    "expected": types.SymbolKind.Boolean,
    "terminal": types.SymbolKind.Field,
    "load": types.SymbolKind.Function,
    "other": types.SymbolKind.Constant,
}

LEGEND = types.SemanticTokensLegend(token_types=list(ROLES), token_modifiers=list(MODIFIERS))


def position(line: int, column: int, ruler: Ruler) -> types.Position:
    """A place."""
    return types.Position(*ruler.units(line, column))


def stretch(span: Span, ruler: Ruler) -> types.Range:
    """A stretch of the text."""
    return types.Range(position(*span[:2], ruler), position(*span[2:], ruler))


def changes(edits: Iterable[TextEdit], ruler: Ruler) -> list[types.TextEdit]:
    """Changes of the text."""
    return [types.TextEdit(stretch(edit.span, ruler), edit.text) for edit in edits]


def diagnostic(one: Found, uri: str, ruler: Ruler) -> types.Diagnostic:
    """What is wrong, with the lines that have to do with it; what is graver than advice is an error."""
    return types.Diagnostic(
        range=stretch(one.span, ruler),
        message=f"{one.severity}: {one.says}",
        severity=_SEVERITIES[one.severity],
        code=one.rule,
        source=SOURCE,
        related_information=[
            types.DiagnosticRelatedInformation(types.Location(uri, stretch(each.span, ruler)), each.says)
            for each in one.related
        ]
        or None,
    )


def quick_fix(
    one: Found, mend: Change, edit: types.WorkspaceEdit, uri: str, ruler: Ruler
) -> types.CodeAction:
    """A change that was tried; preferred where it is the only one."""
    return types.CodeAction(
        title=mend.says,
        kind=types.CodeActionKind.QuickFix,
        diagnostics=[diagnostic(one, uri, ruler)],
        is_preferred=len(one.mends) == 1,
        edit=edit,
    )


def completion_list(
    offers: Sequence[Offer], line: int, column: int, more: bool, uri: str, ruler: Ruler
) -> types.CompletionList:
    """What may be written, in this order; a part's offer keeps the text for which its title is asked."""
    items = [
        types.CompletionItem(
            label=offer.text,
            kind=_SORTS[offer.sort],
            detail=offer.detail or None,
            data=uri if offer.sort == "part" else None,
            sort_text=f"{number:05}",
            text_edit=types.TextEdit(stretch(Span(line, offer.column, line, column), ruler), offer.text),
        )
        for number, offer in enumerate(offers)
    ]
    return types.CompletionList(is_incomplete=more, items=items)


def hover_text(told: Told, ruler: Ruler) -> types.Hover:
    """What is told of a word, as plain text."""
    content = types.MarkupContent(types.MarkupKind.PlainText, "\n".join(told.rows))
    return types.Hover(content, stretch(told.span, ruler))


def symbol(entry: Entry, ruler: Ruler) -> types.DocumentSymbol:
    """A line of the outline with what is under it."""
    return types.DocumentSymbol(
        name=entry.name,
        kind=_ROLES[entry.role],
        range=stretch(entry.span, ruler),
        selection_range=stretch(entry.at, ruler),
        detail=entry.detail or None,
        children=[symbol(each, ruler) for each in entry.inside] or None,
    )


def folding(fold: Fold) -> types.FoldingRange:
    """Rows that can be folded away."""
    kind = types.FoldingRangeKind.Comment if fold.comment else types.FoldingRangeKind.Region
    return types.FoldingRange(start_line=fold.first - 1, end_line=fold.last - 1, kind=kind)


def token_data(tokens: Iterable[Token], ruler: Ruler) -> list[int]:
    """Each token as five numbers, its place counted from the one before."""
    data: list[int] = []
    row, begin = 0, 0
    roles = {role: number for number, role in enumerate(ROLES)}
    marks = {mark: 1 << number for number, mark in enumerate(MODIFIERS)}
    for token in tokens:
        line, units = ruler.units(token.line, token.column)
        end = ruler.units(token.line, token.column + token.length)[1]
        ahead = units - begin if line == row else units
        data += [line - row, ahead, end - units, roles[token.role], sum(marks[mark] for mark in token.marks)]
        row, begin = line, units
    return data
