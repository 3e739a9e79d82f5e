"""The server as an editor speaks to it: a real client, on standard input and output."""

import asyncio
import contextlib
import json
import os
import re
import signal
import subprocess
import sys
import time

import pytest
from lsprotocol import types

from tests.cli.boards import RIGHT, ROOT
from tests.editor.client import started
from tests.editor.many import many
from tests.page.served import environment
from wirecheck.caution import CAUTION

pytestmark = pytest.mark.slow

WRONG = RIGHT.replace("breaker BP.3 15 A", "breaker BP.3 20 A")


def run(conversation):
    asyncio.run(asyncio.wait_for(conversation, 300))


def test_what_is_found_is_told_with_its_lines_and_its_mends():
    async def conversation():
        async with started() as editor:
            editor.open(WRONG)
            (first,) = await editor.said()
            assert first.code == "overcurrent-protection"
            assert first.severity == types.DiagnosticSeverity.Error
            assert first.range == types.Range(types.Position(3, 0), types.Position(3, 17))
            assert {one.location.range.start.line for one in first.related_information} == {8, 9}
            (again,) = await editor.said()
            asked = types.CodeActionParams(editor.name, again.range, types.CodeActionContext([]))
            (mend,) = await editor.client.text_document_code_action_async(asked)
            (change,) = mend.edit.document_changes
            assert change.text_document.version == editor.version
            (edit,) = change.edits
            assert edit.new_text == "breaker BP.3 15 A" and edit.range == first.range
            elsewhere = types.Range(types.Position(0, 0), types.Position(1, 0))
            asked = types.CodeActionParams(editor.name, elsewhere, types.CodeActionContext([]))
            assert not await editor.client.text_document_code_action_async(asked)
            editor.type(RIGHT)
            assert list(await editor.said()) == []
            assert CAUTION in editor.logged[0]

    run(conversation())


@pytest.mark.parametrize(("encoding", "units"), [("utf-8", 4), ("utf-16", 2), ("utf-32", 1), (None, 2)])
def test_places_are_counted_as_agreed(encoding, units):
    async def conversation():
        async with started([encoding] if encoding else None) as editor:
            assert editor.can.position_encoding == (encoding or "utf-16")
            editor.open('board "\U0001f4a1" ?')
            (told,) = [one for one in await editor.said() if "?" in one.message]
            # Seven before the lamp; it; a quote and a space after it.
            assert told.range.start == types.Position(0, 7 + units + 2)

    run(conversation())


def test_keys_that_come_faster_than_answers():
    async def conversation():
        async with started() as editor:
            editor.open(RIGHT)
            asked = []
            for length in range(len(RIGHT)):
                editor.type(RIGHT[: length + 1])
                asked.append(asyncio.ensure_future(editor.offers(0, 0)))
            editor.type(WRONG)
            newest = await editor.offers(2, 0)
            told = await editor.said()
            assert [one.code for one in told] == ["overcurrent-protection"]
            answers = await asyncio.gather(*asked, return_exceptions=True)
            # Each was answered, or it was said that the text has changed.
            late = [one for one in answers if isinstance(one, Exception)]
            assert all("changed" in str(one) for one in late)
            assert "breaker" in newest

    run(conversation())


def test_a_board_of_ten_thousand_lines():
    async def conversation():
        text = many(10_000)
        async with started() as editor:
            begun = time.monotonic()
            editor.open(text)
            assert await editor.offers(200, 2)
            outline = types.DocumentSymbolParams(editor.name)
            assert len(await editor.client.text_document_document_symbol_async(outline)) > 3000
            tokens = types.SemanticTokensParams(editor.name)
            assert len((await editor.client.text_document_semantic_tokens_full_async(tokens)).data) > 100_000
            assert time.monotonic() - begun < 60
            for rows in range(5):
                editor.type(text + "\n" * rows)
                await asyncio.sleep(0.3)
            # Whether it is checked in its time or not, something is said of the newest text.
            await editor.said(120)

    run(conversation())


def test_a_text_of_two_hundred_mistakes():
    async def conversation():
        rows = RIGHT.split("\n")
        wrong = [f"cabel X{number} 14/2 NM-B 9 ft from A to B" for number in range(200)]
        text = "\n".join([*rows, *wrong])
        async with started() as editor:
            editor.open(text)
            assert len(await editor.said()) >= 100
            assert "S1.line" in await editor.offers(rows.index("  W1.black -- S1.line"), 14)
            place = types.Position(rows.index("  W1.black -- S1.line"), 3)
            asked = types.RenameParams(text_document=editor.name, position=place, new_name="FEED")
            renamed = await editor.client.text_document_rename_async(asked)
            assert len(renamed.document_changes[0].edits) == len(re.findall(r"\bW1\b", text))
            asked = types.DocumentFormattingParams(editor.name, types.FormattingOptions(2, True))
            assert list(await editor.client.text_document_formatting_async(asked)) == []

    run(conversation())


def test_hover_has_the_volts_of_a_screw_and_of_the_newest_text():
    async def conversation():
        async with started() as editor:
            editor.open(RIGHT)
            row = RIGHT.split("\n").index("  W1.black -- S1.line")

            async def told(character):
                asked = types.HoverParams(editor.name, types.Position(row, character))
                return (await editor.client.text_document_hover_async(asked)).contents.value.split("\n")

            await editor.said()
            assert (await told(17))[-2:] == ["At rest: 120 V to ground, 0.5 A in W1.black", CAUTION]
            assert (await told(5))[-2:] == ["At rest: 120 V to ground, 0.5 A", CAUTION]
            assert CAUTION not in await told(14)
            editor.type(RIGHT.replace("BP.3 15 A", "BP.3 15"))
            assert CAUTION not in await told(17)

    run(conversation())


def test_what_cannot_be_done_is_said():
    async def conversation():
        async with started(changes=False) as editor:
            editor.open(RIGHT)
            asked = types.RenameParams(
                text_document=editor.name, position=types.Position(2, 6), new_name="S1"
            )
            with pytest.raises(Exception, match="S1 is on this board already"):
                await editor.client.text_document_rename_async(asked)
            asked.new_name = "LP"
            changes = (await editor.client.text_document_rename_async(asked)).changes
            assert {one.new_text for one in changes[editor.uri]} == {"LP"}
            other = types.HoverParams(types.TextDocumentIdentifier("file:///other"), types.Position(0, 0))
            with pytest.raises(Exception, match="not open"):
                await editor.client.text_document_hover_async(other)

    run(conversation())


def test_a_part_beside_the_board_is_found(tmp_path):
    (tmp_path / "my-lamp.wire").write_text(
        'part my-lamp "A lamp"\nterminal hot hot\nterminal neutral neutral\nterminal ground ground\n'
        "load lamp lamp from hot to neutral, 60 W at 120 V\n"
    )
    board = tmp_path / "board.wire"

    async def conversation():
        async with started(uri=board.as_uri()) as editor:
            text = RIGHT.replace("lampholder 60 W", "my-lamp")
            editor.open(text)
            assert [one for one in await editor.said() if one.code != "terminal-size"] == []
            row = text.split("\n").index("L1 is my-lamp in B")
            assert "my-lamp" in await editor.offers(row, 8)

    run(conversation())


def test_a_mend_is_offered_on_each_line_that_it_changes():
    swapped = RIGHT.replace("W1.black -- S1.line", "W2.black -- S1.line")
    swapped = swapped.replace("W2.black -- S1.load", "W1.black -- S1.load")
    swapped = swapped.replace("W1.bare", "W1.white", 1).replace("W1.white", "W1.bare", 1)

    async def conversation():
        async with started() as editor:
            editor.open(swapped)
            await editor.said()
            fixed = 0
            for one in await editor.said():
                for mend in await fixes(editor, one.range):
                    for change in mend.edit.document_changes:
                        for edit in change.edits:
                            there = [each.title for each in await fixes(editor, edit.range)]
                            assert mend.title in there
                            fixed += edit.range.start.line != one.range.start.line
            assert fixed

    run(conversation())


async def fixes(editor, at):
    asked = types.CodeActionParams(editor.name, at, types.CodeActionContext([]))
    return await editor.client.text_document_code_action_async(asked) or []


def test_a_part_that_is_offered_tells_its_title():
    async def conversation():
        async with started() as editor:
            text = RIGHT + "S2 is 3-"
            editor.open(text)
            asked = types.CompletionParams(editor.name, types.Position(text.count("\n"), 8))
            offers = (await editor.client.text_document_completion_async(asked)).items
            (offer,) = [one for one in offers if one.label == "3-way-switch"]
            assert offer.detail is None
            told = await editor.client.completion_item_resolve_async(offer)
            assert told.label == offer.label and told.detail.startswith("Switch that sends")

    run(conversation())


@pytest.mark.parametrize("ended", ["lost", signal.SIGTERM, signal.SIGINT])
def test_the_server_ends_with_its_editor(ended):
    command = [sys.executable, "-W", "error", "-m", "wirecheck", "editor"]
    with subprocess.Popen(
        command,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        cwd=ROOT,
        env=environment(),
        start_new_session=True,
    ) as process:
        told = json.dumps({"jsonrpc": "2.0", "id": 1, "method": "initialize", "params": {"capabilities": {}}})
        process.stdin.write(f"Content-Length: {len(told)}\r\n\r\n{told}".encode())
        process.stdin.flush()
        assert process.stdout.readline().startswith(b"Content-Length")
        if ended == "lost":
            process.stdin.close()
        else:
            process.send_signal(ended)
        try:
            assert process.wait(30) == (0 if ended == "lost" else 128 + ended)
            # The processes of its checks are gone too.
            with pytest.raises(ProcessLookupError):
                os.killpg(process.pid, 0)
        finally:
            with contextlib.suppress(ProcessLookupError):
                os.killpg(process.pid, signal.SIGKILL)
        assert b"Traceback" not in process.stderr.read()
