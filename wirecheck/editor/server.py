"""The language server: it keeps the texts that are open, and answers what is asked about the newest of them.

What is asked of a text is worked out in one thread, so that the server hears what is typed meanwhile; what
is wrong with it in another process, once the keys rest. An answer about a text that has changed since is
not given.
"""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from pathlib import PurePath
from typing import Any, TypeVar

from lsprotocol import types
from pygls import uris
from pygls.exceptions import JsonRpcException
from pygls.lsp.server import LanguageServer

from wirecheck.caution import CAUTION
from wirecheck.editor import speech
from wirecheck.editor.completion import MOST, completions
from wirecheck.editor.found import Found, library_of
from wirecheck.editor.hover import Told, hover
from wirecheck.editor.layout import laid_out
from wirecheck.editor.names import CannotRename, made, renamable, renamed, uses
from wirecheck.editor.opened import Opened, opened
from wirecheck.editor.outline import folds, outline
from wirecheck.editor.positions import DEFAULT, ENCODINGS, Ruler, ruler
from wirecheck.editor.tokens import tokens
from wirecheck.language.mentions import Mention
from wirecheck.language.part_mentions import PartMention
from wirecheck.language.syntax import Span
from wirecheck.version import __version__

QUIET = 0.03
"""How many seconds the keys must rest before the text is checked."""
PAUSE = 0.8
"""How many more until the mistakes behind what was found are looked for."""
EFFORT = 400
"""How many changes are tried to find them, as by `wirecheck check`."""
PATIENCE = 1.0
"""How many seconds what is known of a thing waits for its volts; without them it is told then."""
CHANGED, CANNOT = -32801, -32803
"""The protocol's codes for a text that has changed since, and for what cannot be done."""

Work = Callable[[str | None, str, str, int], Awaitable[tuple[Found, ...]]]
"""What is wrong with a text (its path, itself, its name, the effort), worked out elsewhere."""
Meter = Callable[[str | None, str, str, str], Awaitable[tuple[str, ...]]]
"""What is measured on a text (its path, itself, its name, the screw or wire), worked out elsewhere."""
Value = TypeVar("Value")


class Page:
    """One state of a text that is open: what a key changes is another page."""

    def __init__(self, uri: str, text: str, version: int | None, measured: Ruler) -> None:
        self.uri, self.text, self.version, self.ruler = uri, text, version, measured
        self.path = uris.to_fs_path(uri) if uri[:5] == "file:" else None
        self.file = PurePath(self.path).name if self.path else "-"
        self.found: tuple[Found, ...] = ()
        self._opened: Opened | None = None

    def read(self) -> Opened:
        """The text as far as it can be read; read once."""
        if self._opened is None:
            self._opened = opened(self.text, self.file, library_of(self.path))
        return self._opened


class Editor:
    """The texts that are open, each with its newest page and the check that runs on it."""

    def __init__(self, server: LanguageServer, work: Work, meter: Meter) -> None:
        self.server, self._work, self._meter = server, work, meter
        self._pages: dict[str, Page] = {}
        self._checks: dict[str, asyncio.Task[None]] = {}
        self._reader = ThreadPoolExecutor(1, "reading")

    def show(self, uri: str, text: str, version: int | None) -> None:
        """A text was opened, or changed: from now on all is asked of this one."""
        asked = self.server.workspace.position_encoding
        encoding = next((one for one in ENCODINGS if one == asked), DEFAULT)
        self._pages[uri] = page = Page(uri, text, version, ruler(text, encoding))
        self._stop(uri)
        self._checks[uri] = asyncio.get_running_loop().create_task(self._check(page))

    def close(self, uri: str) -> None:
        """A text was closed: nothing is said of it any more."""
        self._stop(uri)
        if self._pages.pop(uri, None) is not None:
            self._publish(uri, None, [])

    def page(self, uri: str) -> Page:
        """The newest page of a text.

        Raises
        ------
        JsonRpcException
            It is not open.
        """
        if uri not in self._pages:
            raise JsonRpcException("This text is not open.", CANNOT)
        return self._pages[uri]

    async def of(self, uri: str, feature: Callable[[Page], Value]) -> Value:
        """What a feature makes of the newest page of a text.

        Raises
        ------
        JsonRpcException
            The text has changed before there was an answer, or what is asked cannot be done.
        """
        page = self.page(uri)

        def answer() -> Value:
            self._need_newest(page)
            return feature(page)

        try:
            value = await asyncio.get_running_loop().run_in_executor(self._reader, answer)
        except CannotRename as error:
            raise JsonRpcException(str(error), CANNOT) from error
        self._need_newest(page)
        return value

    async def measured(self, page: Page, point: str) -> tuple[str, ...]:
        """What a meter shows at a screw or wire, with the caution; nothing where that takes too long.

        Raises
        ------
        JsonRpcException
            The text has changed meanwhile.
        """
        try:
            shown = await asyncio.wait_for(self._meter(page.path, page.text, page.file, point), PATIENCE)
        except TimeoutError:
            shown = ()
        self._need_newest(page)
        return (*shown, CAUTION) if shown else ()

    def _need_newest(self, page: Page) -> None:
        if not self._is_newest(page):
            raise JsonRpcException("The text has changed.", CHANGED)

    def _is_newest(self, page: Page) -> bool:
        return self._pages.get(page.uri) is page

    def _stop(self, uri: str) -> None:
        task = self._checks.pop(uri, None)
        if task is not None:
            task.cancel()

    async def _check(self, page: Page) -> None:
        """Tell what is wrong once the keys rest, and what puts it right once they rest longer."""
        await asyncio.sleep(QUIET)
        self._tell(page, await self._work(page.path, page.text, page.file, 0))
        if page.found:
            await asyncio.sleep(PAUSE)
            self._tell(page, await self._work(page.path, page.text, page.file, EFFORT))

    def _tell(self, page: Page, found: tuple[Found, ...]) -> None:
        if self._is_newest(page):
            page.found = found
            told = [speech.diagnostic(one, page.uri, page.ruler) for one in found]
            self._publish(page.uri, page.version, told)

    def _publish(self, uri: str, version: int | None, told: list[types.Diagnostic]) -> None:
        self.server.text_document_publish_diagnostics(types.PublishDiagnosticsParams(uri, told, version))

    def edit(self, page: Page, edits: list[types.TextEdit]) -> types.WorkspaceEdit:
        """Changes of one page; where the editor can tell, of that version of the text and no other."""
        workspace = self.server.client_capabilities.workspace
        able = workspace.workspace_edit.document_changes if workspace and workspace.workspace_edit else None
        if not able:
            return types.WorkspaceEdit(changes={page.uri: edits})
        name = types.OptionalVersionedTextDocumentIdentifier(page.uri, page.version)
        return types.WorkspaceEdit(document_changes=[types.TextDocumentEdit(name, list(edits))])


def server(work: Work, meter: Meter) -> LanguageServer:
    """The server, ready to be started.

    Parameters
    ----------
    work : works out what is wrong with a text, elsewhere
    meter : works out what is measured at a screw or wire, elsewhere
    """
    made_ready = LanguageServer(
        speech.SOURCE, __version__, text_document_sync_kind=types.TextDocumentSyncKind.Full
    )
    editor = Editor(made_ready, work, meter)
    _hears(made_ready, editor)
    _answers(made_ready, editor)
    _shows(made_ready, editor)
    _changes(made_ready, editor)
    return made_ready


def _hears(made_ready: LanguageServer, editor: Editor) -> None:
    """What the server is told: which texts are open, and what stands in them."""

    @made_ready.feature(types.INITIALIZED)
    def begun(_: types.InitializedParams) -> None:
        made_ready.window_log_message(types.LogMessageParams(types.MessageType.Info, CAUTION))

    @made_ready.feature(types.TEXT_DOCUMENT_DID_OPEN)
    def shown(told: types.DidOpenTextDocumentParams) -> None:
        editor.show(told.text_document.uri, told.text_document.text, told.text_document.version)

    @made_ready.feature(types.TEXT_DOCUMENT_DID_CHANGE)
    def changed(told: types.DidChangeTextDocumentParams) -> None:
        if told.content_changes:
            editor.show(told.text_document.uri, told.content_changes[-1].text, told.text_document.version)

    @made_ready.feature(types.TEXT_DOCUMENT_DID_CLOSE)
    def closed(told: types.DidCloseTextDocumentParams) -> None:
        editor.close(told.text_document.uri)


def _answers(made_ready: LanguageServer, editor: Editor) -> None:
    """What is asked of a place in a text."""

    @made_ready.feature(
        types.TEXT_DOCUMENT_COMPLETION,
        types.CompletionOptions(trigger_characters=[".", " ", ",", "-"], resolve_provider=True),
    )
    async def offered(asked: types.CompletionParams) -> types.CompletionList:
        def answer(page: Page) -> types.CompletionList:
            line, column = _place(asked, page)
            offers = completions(page.read(), line, column)
            return speech.completion_list(offers, line, column, len(offers) == MOST, page.uri, page.ruler)

        return await editor.of(asked.text_document.uri, answer)

    @made_ready.feature(types.COMPLETION_ITEM_RESOLVE)
    async def titled(item: types.CompletionItem) -> types.CompletionItem:
        """A part's title is read where somebody looks at its offer: a library is long."""

        def answer(page: Page) -> types.CompletionItem:
            part = page.read().library.part(item.label)
            item.detail = part.title if part else None
            return item

        return await editor.of(item.data, answer) if isinstance(item.data, str) else item

    @made_ready.feature(types.TEXT_DOCUMENT_HOVER)
    async def told(asked: types.HoverParams) -> types.Hover | None:
        def answer(page: Page) -> tuple[Page, Told | None]:
            return page, hover(page.read(), *_place(asked, page))

        page, known = await editor.of(asked.text_document.uri, answer)
        if known is None:
            return None
        if known.point:
            known = known._replace(rows=(*known.rows, *await editor.measured(page, known.point)))
        return speech.hover_text(known, page.ruler)

    @made_ready.feature(types.TEXT_DOCUMENT_DEFINITION)
    async def defined(asked: types.DefinitionParams) -> list[types.Location]:
        def answer(page: Page) -> list[types.Location]:
            return _locations(made(page.read(), *_place(asked, page)), page)

        return await editor.of(asked.text_document.uri, answer)

    @made_ready.feature(types.TEXT_DOCUMENT_REFERENCES)
    async def used(asked: types.ReferenceParams) -> list[types.Location]:
        def answer(page: Page) -> list[types.Location]:
            there = uses(page.read(), *_place(asked, page))
            wanted = [one for one in there if asked.context.include_declaration or not one.makes]
            return _locations(wanted, page)

        return await editor.of(asked.text_document.uri, answer)

    @made_ready.feature(types.TEXT_DOCUMENT_DOCUMENT_HIGHLIGHT)
    async def lit(asked: types.DocumentHighlightParams) -> list[types.DocumentHighlight]:
        def answer(page: Page) -> list[types.DocumentHighlight]:
            there = uses(page.read(), *_place(asked, page))
            return [types.DocumentHighlight(speech.stretch(one.span, page.ruler)) for one in there]

        return await editor.of(asked.text_document.uri, answer)


def _shows(made_ready: LanguageServer, editor: Editor) -> None:
    """What is asked of a whole text."""

    @made_ready.feature(types.TEXT_DOCUMENT_DOCUMENT_SYMBOL)
    async def outlined(asked: types.DocumentSymbolParams) -> list[types.DocumentSymbol]:
        def answer(page: Page) -> list[types.DocumentSymbol]:
            return [speech.symbol(one, page.ruler) for one in outline(page.read())]

        return await editor.of(asked.text_document.uri, answer)

    @made_ready.feature(types.TEXT_DOCUMENT_FOLDING_RANGE)
    async def folded(asked: types.FoldingRangeParams) -> list[types.FoldingRange]:
        def answer(page: Page) -> list[types.FoldingRange]:
            return [speech.folding(one) for one in folds(page.read())]

        return await editor.of(asked.text_document.uri, answer)

    @made_ready.feature(types.TEXT_DOCUMENT_SEMANTIC_TOKENS_FULL, speech.LEGEND)
    async def colored(asked: types.SemanticTokensParams) -> types.SemanticTokens:
        def answer(page: Page) -> types.SemanticTokens:
            return types.SemanticTokens(data=speech.token_data(tokens(page.read()), page.ruler))

        return await editor.of(asked.text_document.uri, answer)


def _changes(made_ready: LanguageServer, editor: Editor) -> None:
    """What is asked of a text, and comes to changes of it."""

    @made_ready.feature(types.TEXT_DOCUMENT_PREPARE_RENAME)
    async def could_rename(asked: types.PrepareRenameParams) -> types.PrepareRenamePlaceholder:
        def answer(page: Page) -> types.PrepareRenamePlaceholder:
            thing = renamable(page.read(), *_place(asked, page))
            return types.PrepareRenamePlaceholder(speech.stretch(thing.span, page.ruler), thing.name)

        return await editor.of(asked.text_document.uri, answer)

    @made_ready.feature(types.TEXT_DOCUMENT_RENAME, types.RenameOptions(prepare_provider=True))
    async def rename(asked: types.RenameParams) -> types.WorkspaceEdit:
        def answer(page: Page) -> types.WorkspaceEdit:
            edits = renamed(page.read(), *_place(asked, page), asked.new_name)
            return editor.edit(page, speech.changes(edits, page.ruler))

        return await editor.of(asked.text_document.uri, answer)

    @made_ready.feature(types.TEXT_DOCUMENT_FORMATTING)
    async def tidied(asked: types.DocumentFormattingParams) -> list[types.TextEdit]:
        def answer(page: Page) -> list[types.TextEdit]:
            edit = laid_out(page.text)
            return speech.changes([edit] if edit else [], page.ruler)

        return await editor.of(asked.text_document.uri, answer)

    @made_ready.feature(
        types.TEXT_DOCUMENT_CODE_ACTION,
        types.CodeActionOptions(code_action_kinds=[types.CodeActionKind.QuickFix]),
    )
    def mends(asked: types.CodeActionParams) -> list[types.CodeAction]:
        page = editor.page(asked.text_document.uri)
        first, _ = page.ruler.place(asked.range.start.line, asked.range.start.character)
        last, _ = page.ruler.place(asked.range.end.line, asked.range.end.character)

        def is_there(span: Span) -> bool:
            return span.line <= last and first <= span.end_line

        return [
            speech.quick_fix(
                one, mend, editor.edit(page, speech.changes(mend.edits, page.ruler)), page.uri, page.ruler
            )
            for one in page.found
            for mend in one.mends
            if is_there(one.span) or any(is_there(edit.span) for edit in mend.edits)
        ]


def _place(asked: Any, page: Page) -> tuple[int, int]:
    """The line and the column that a question is about."""
    return page.ruler.place(asked.position.line, asked.position.character)


def _locations(there: Iterable[Mention | PartMention], page: Page) -> list[types.Location]:
    return [types.Location(page.uri, speech.stretch(one.span, page.ruler)) for one in there]
