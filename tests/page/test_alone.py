"""A page without a server is answered as one with a server is."""

import asyncio
import json
import sys

import pytest

from tests.page.boards import RIGHT, WRONG
from wirecheck.circuit.elimination import Reduction
from wirecheck.page.alone import NOT_HERE, Alone
from wirecheck.page.answers import board_answer
from wirecheck.page.asking import ASKED, Asking
from wirecheck.page.question import question


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "shed.wire").write_text(RIGHT)
    return tmp_path


def answers(folder, *asked):
    """What one page is answered, one thing after the other."""

    async def all_of_them():
        alone = Alone(str(folder))
        return [json.loads(await alone.answered(address, json.dumps(sent))) for address, sent in asked]

    return asyncio.run(all_of_them())


def test_a_board_is_answered_as_by_a_server_and_what_is_none_is_refused(folder):
    sent = {"file": "shed.wire", "text": WRONG}
    told, elsewhere, no_board, no_question, no_deed, no_ticket = answers(
        folder,
        ("/check", sent),
        ("/check", {**sent, "file": "../shed.wire"}),
        ("/check", {**sent, "text": "nothing"}),
        ("/check", ["shed.wire"]),
        ("/wire", sent),
        ("/ask", {**sent, "file": "none.wire"}),
    )
    assert told == json.loads(board_answer(str(folder / "shed.wire"), question(json.dumps(sent).encode())))
    assert elsewhere == {"refused": "There is no such board in this folder."}
    assert no_board["refused"].startswith("This is no board yet")
    assert no_question == {"refused": "This was not understood: the question is no object."}
    assert no_deed == {"refused": "This was not understood: it has no deed."}
    assert list(no_ticket) == ["refused"]


def test_what_needs_more_than_a_browser_has_is_told(folder, monkeypatch):
    def dense(path, asked):
        Reduction([{other: 1 for other in range(200) if other != node} for node in range(200)])

    for name in ("numpy", "scipy", "scipy.sparse"):
        monkeypatch.setitem(sys.modules, name, None)
    monkeypatch.setitem(ASKED, "/measure", Asking(dense))
    assert answers(folder, ("/measure", {"file": "shed.wire", "text": RIGHT})) == [{"refused": NOT_HERE}]


@pytest.mark.slow
def test_a_ticket_goes_on_and_one_of_another_board_does_not(folder):
    begin = {"file": "shed.wire", "text": ""}

    async def asked():
        alone = Alone(str(folder))
        told = {"trying": []}
        while "trying" in told:
            told = json.loads(await alone.answered("/ask", json.dumps(begin)))
        step = {**begin, "number": told["number"], "seal": told["seal"], "lines": ["look", "stop"]}
        over = json.loads(await alone.answered("/ask", json.dumps(step)))
        (folder / "shed.wire").write_text(RIGHT.replace("60 W", "75 W"))
        return told, over, json.loads(await alone.answered("/ask", json.dumps(step)))

    told, over, changed = asyncio.run(asked())
    assert told["complaints"] and not told["over"]
    assert over["over"] and over["outcome"] and over["said"][0]["asked"] == "look"
    assert changed["gone"] and "not known any more" in changed["refused"]
