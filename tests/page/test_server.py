"""What the server gives out, and what it refuses."""

import asyncio
import json
import os
from urllib.parse import unquote

import httpx
import pytest

from tests.page.boards import RIGHT
from wirecheck import files
from wirecheck.page.answering import NotAnswered
from wirecheck.page.answers import Checked
from wirecheck.page.question import MOST_BYTES
from wirecheck.page.server import MOST_OF_ONE, NOTHING_KEPT, application


async def at_once(function, path, *asked):
    """Work in this process: what is asked here is small."""
    if getattr(asked[0], "text", "") == "slow":
        raise NotAnswered("It took longer than 10 s, and was stopped.")
    return function(path, *asked)


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    folder = tmp_path_factory.mktemp("class")
    inside = folder / "boards"
    (inside / "two words").mkdir(parents=True)
    (inside / "shed.wire").write_text(RIGHT)
    (inside / "two words" / "<b>.wire").write_text("# no title")
    (inside / "chime.wire").write_text('part chime "A chime"')
    (inside / ".secret.wire").write_text(RIGHT)
    (inside / "large.wire").write_text("#" * MOST_BYTES)
    (folder / "outside.wire").write_text(RIGHT)
    os.symlink(folder / "outside.wire", inside / "link.wire")
    return inside


class Client:
    """Asks the application as a browser asks a server."""

    def __init__(self, folder, work=at_once, names=frozenset(), kept=NOTHING_KEPT, places=60):
        self.app = application(str(folder), work, names, kept, places)

    def opened(self, machine="127.0.0.1"):
        transport = httpx.ASGITransport(self.app, client=(machine, 123))
        return httpx.AsyncClient(transport=transport, base_url="http://localhost")

    def get(self, address, **more):
        return asyncio.run(self._sent("GET", address, more))

    def post(self, address, **more):
        return asyncio.run(self._sent("POST", address, more))

    async def _sent(self, method, address, more):
        async with self.opened() as client:
            return await client.request(method, address, **more)


@pytest.fixture(scope="module")
def client(folder):
    return Client(folder)


def ask(client, address="/check", **more):
    return client.post(address, json={"file": "shed.wire", "text": RIGHT, **more})


def test_the_list_holds_the_boards_of_the_folder_and_nothing_else(client):
    page = client.get("/").text
    assert '<a href="/board/shed.wire">Shed &lt;light&gt;</a>' in page
    assert '<a href="/board/two%20words/%3Cb%3E.wire">' in page
    assert "de-energize" in page
    for name in ("chime.wire", "secret", "link.wire", "outside"):
        assert name not in page


def test_a_board_has_its_page_with_its_text_and_no_script_of_its_own(client):
    page = client.get("/board/shed.wire").text
    assert "board &quot;Shed &lt;light&gt;&quot;" in page and "<light>" not in page
    assert page.count("<script") == 1 and '<script type="module" src="/page/board.js"></script>' in page
    assert " style=" not in page and " on" + "click" not in page
    assert "de-energize" in page


@pytest.mark.parametrize(
    "name",
    [
        "%2e%2e/outside.wire",
        "link.wire",
        "..%2foutside.wire",
        ".secret.wire",
        "two words/../../outside.wire",
        "/etc/passwd",
        "shed.wire%00",
        "c:shed.wire",
        "none.wire",
        "shed.txt",
        "a" * 2000 + ".wire",
    ],
)
def test_nothing_leads_out_of_the_folder(client, name):
    assert client.get(f"/board/{name}").status_code == 404
    # The page of a board whose file is gone still works.
    assert name == "none.wire" or ask(client, file=unquote(name)).status_code in (400, 404)


def test_every_answer_has_the_policy(client):
    for answer in (client.get("/"), client.get("/none"), ask(client), client.get("/page/board.js")):
        assert answer.headers["content-security-policy"].startswith("default-src 'none'; script-src 'self'")
        assert answer.headers["x-content-type-options"] == "nosniff"


def test_the_files_of_the_page_are_given_out_and_no_others(client):
    room = files.folder("page") / "shown"
    for path in room.iterdir():
        assert client.get(f"/page/{path.name}").content == path.read_bytes()
    assert client.get("/page/board.js").headers["content-type"].startswith("text/javascript")
    assert client.get("/page/..%2fserver.py").status_code == 404
    assert client.get("/page/server.py").status_code == 404


def test_a_board_is_checked_and_measured(client):
    told = ask(client).json()
    assert told["passes"] and told["picture"]["svg"].endswith("</svg>\n")
    shown = ask(client, "/measure", power=True, quantity="volts", points=["LP.1", "LP.neutral"]).json()
    assert shown["display"] == "120 V"


def test_mends_are_looked_for_where_they_are_asked_for(client):
    wrong = RIGHT.replace("W2.white -- L1.neutral", "")
    assert not ask(client, text=wrong, mends=True).json()["findings"][0]["mended"]
    assert ask(client, "/mends", text=wrong).json()["findings"][0]["mended"]


def test_work_for_who_is_gone_is_given_up(folder):
    async def tried():
        begun, given_up = asyncio.Event(), asyncio.Event()

        async def held(function, path, asked):
            begun.set()
            try:
                await asyncio.Event().wait()
            finally:
                given_up.set()

        body = json.dumps({"file": "shed.wire", "text": RIGHT}).encode()
        came = [{"type": "http.request", "body": body, "more_body": False}]

        async def receive():
            if came:
                return came.pop()
            await begun.wait()
            return {"type": "http.disconnect"}

        async def send(message):
            assert message.get("status", 400) == 400

        headers = [(b"host", b"localhost"), (b"content-type", b"application/json")]
        asked = {"type": "http", "method": "POST", "path": "/check", "headers": headers, "query_string": b""}
        await application(str(folder), held)({**asked, "client": ("10.0.0.1", 1)}, receive, send)
        await asyncio.wait_for(given_up.wait(), 1)

    asyncio.run(tried())


def test_work_that_is_ended_is_said(client):
    assert ask(client, text="slow").json() == {"refused": "It took longer than 10 s, and was stopped."}


def test_what_is_too_large_is_refused_before_it_is_read(client):
    assert ask(client, text="a" * (MOST_BYTES + 1)).status_code == 413

    async def pieces():
        for _ in range(100):
            yield b" " * 65536

    kind = {"content-type": "application/json"}
    assert client.post("/check", content=pieces(), headers=kind).status_code == 413
    assert client.get("/board/large.wire").status_code == 413


@pytest.mark.parametrize(("address", "needs"), [("/wire", "deed"), ("/place", "placing")])
def test_a_question_that_asks_for_nothing_to_be_done_is_none(client, address, needs):
    answer = client.post(address, json={"file": "shed.wire", "text": RIGHT})
    assert answer.status_code == 400
    assert answer.json()["refused"] == f"This was not understood: it has no {needs}."


def test_what_another_page_could_send_unasked_is_refused(client):
    answer = client.post("/check", content=b"{}", headers={"content-type": "text/plain"})
    assert answer.status_code == 400
    assert client.get("/", headers={"host": "evil.example"}).status_code == 421
    assert client.get("/check").status_code == 405


def test_it_answers_to_addresses_and_to_its_own_name(folder):
    named = Client(folder, names=frozenset({"shop-pc"}))
    for host, status in (("192.168.1.7:8090", 200), ("[::1]:8090", 200), ("shop-pc", 200), ("", 421)):
        assert named.get("/favicon.ico", headers={"host": host}).status_code in (status, 204), host


def test_one_machine_has_no_more_than_its_share(folder):
    """Questions beyond it are turned away while those before are worked on, and taken again after."""

    async def tried():
        begun, free = asyncio.Semaphore(0), asyncio.Event()

        async def held(function, path, asked):
            begun.release()
            await free.wait()
            return Checked("{}")

        async with Client(folder, held).opened() as client:
            question = {"file": "shed.wire", "text": RIGHT}
            first = [asyncio.create_task(client.post("/check", json=question)) for _ in range(MOST_OF_ONE)]
            for _ in first:
                await begun.acquire()
            over = await client.post("/check", json=question)
            free.set()
            done = [one.status_code for one in await asyncio.gather(*first)]
            return over.status_code, done, (await client.post("/check", json=question)).status_code

    assert asyncio.run(tried()) == (503, [200] * MOST_OF_ONE, 200)
