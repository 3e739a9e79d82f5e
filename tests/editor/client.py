"""An editor: a client of the language server, which speaks to it as it runs for a user."""

import asyncio
import contextlib
import sys

from lsprotocol import types
from pygls.lsp.client import LanguageClient

from tests.cli.boards import ROOT
from tests.page.served import environment

URI = "file:///boards/board.wire"


class Editor:
    """One text, and what the server says of it."""

    def __init__(self, client, uri=URI):
        self.client, self.uri, self.version = client, uri, 0
        self.told = asyncio.Queue()
        self.logged = []
        self.name = types.TextDocumentIdentifier(uri)
        client.feature(types.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS)(lambda told: self.told.put_nowait(told))
        client.feature(types.WINDOW_LOG_MESSAGE)(lambda told: self.logged.append(told.message))

    def open(self, text):
        self.version = 1
        item = types.TextDocumentItem(self.uri, "wirecheck", self.version, text)
        self.client.text_document_did_open(types.DidOpenTextDocumentParams(item))

    def type(self, text):
        self.version += 1
        name = types.VersionedTextDocumentIdentifier(self.version, self.uri)
        change = types.TextDocumentContentChangeWholeDocument(text)
        self.client.text_document_did_change(types.DidChangeTextDocumentParams(name, [change]))

    async def said(self, seconds=60):
        """What the server says next of the newest text."""
        while True:
            told = await asyncio.wait_for(self.told.get(), seconds)
            if told.version == self.version:
                return told.diagnostics

    async def offers(self, line, character):
        asked = types.CompletionParams(self.name, types.Position(line, character))
        return [item.label for item in (await self.client.text_document_completion_async(asked)).items]


@contextlib.asynccontextmanager
async def started(encodings=None, uri=URI, changes=True, options=()):
    client = LanguageClient("tests", "1")
    command = ["-W", "error", "-m", "wirecheck", "editor", *options]
    await client.start_io(sys.executable, *command, cwd=str(ROOT), env=environment())
    capabilities = types.ClientCapabilities(
        general=types.GeneralClientCapabilities(position_encodings=encodings),
        workspace=types.WorkspaceClientCapabilities(
            workspace_edit=types.WorkspaceEditClientCapabilities(document_changes=changes)
        ),
    )
    begun = await client.initialize_async(types.InitializeParams(capabilities=capabilities))
    client.initialized(types.InitializedParams())
    editor = Editor(client, uri)
    editor.can = begun.capabilities
    try:
        yield editor
    finally:
        await client.shutdown_async(None)
        client.exit(None)
        await asyncio.wait_for(client._server.wait(), 20)
        await client.stop()
