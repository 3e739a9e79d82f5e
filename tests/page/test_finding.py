"""Tickets as they are given out, asked and closed, and what a browser is not told of them."""

import asyncio
import json

import pytest

from tests.page.boards import RIGHT, WRONG, WRONG_LINE
from tests.page.classroom import TOKEN
from tests.page.test_server import Client
from wirecheck.page.answering import Kept, NotAnswered
from wirecheck.page.giving import MOST_STEPS

LIST = 'faults for "Shed <light>"\nfault 1 open W2.black at B\n'


def server(folder, secret=b"tickets"):
    (folder / "shed.wire").write_text(RIGHT)
    (folder / "list.wire").write_text(LIST)
    return Client(folder, kept=Kept(None, b"", secret, TOKEN))


@pytest.fixture
def client(tmp_path):
    return server(tmp_path)


def ask(client, *lines, **more):
    step = {"file": "shed.wire", "text": "", "faults": "list.wire", "lines": lines, **more}
    while True:
        sent = client.post("/ask", content=json.dumps(step), headers={"content-type": "application/json"})
        if "trying" not in sent.json():  # Else it says how far it is.
            return sent.json()


def test_the_tickets_of_a_folder_are_listed_and_its_faults_are_not_shown(client):
    page = client.get("/").text
    assert '<a href="/ticket/shed.wire?faults=list.wire">Shed &lt;light&gt;: list.wire</a>' in page
    assert '<a href="/ticket/shed.wire">' in page
    assert client.get("/board/list.wire").status_code == 404
    shown = client.get("/ticket/shed.wire?faults=list.wire").text
    assert "Find what is wrong: Shed &lt;light&gt;" in shown and "W2.black" not in shown
    for name in (
        "none.wire",
        "list.wire",
        "..%2fshed.wire",
        "shed.wire?faults=shed.wire",
        "shed.wire?faults=x",
    ):
        assert client.get(f"/ticket/{name}").status_code == 404


def test_a_ticket_is_found_as_on_the_command_line(client):
    begun = ask(client, first=True)
    assert begun["complaints"] == ["With S1 on, L1 does not come on."] or "L1" in begun["complaints"][0]
    assert "open W2.black at B" in begun["wrong"]["B"] and "LP.1" in begun["opens"]
    ticket = {name: begun[name] for name in ("number", "seal")}
    lines = ["volts W2.black@B W2.white@B", "diagnose open W2.black at A", "nonsense"]
    told = ask(client, *lines, **ticket)
    assert told["readings"] == 1 and not told["over"] and "outcome" not in told
    assert [each["asked"] for each in told["said"]] == lines
    assert "It is that wire, and not there" in told["said"][1]["says"]
    assert '"nonsense" is not known' in told["said"][2]["says"]
    told = ask(client, *lines, "diagnose open W2.black at B", "look", **ticket)
    assert told["over"] and len(told["said"]) == 4
    assert "Right: open W2.black at B." in told["outcome"] and "of 100 points" in told["outcome"]


def test_a_ticket_outlives_its_server_and_nobody_can_make_one(client, tmp_path):
    begun = ask(client)
    ticket = {name: begun[name] for name in ("number", "seal")}
    assert ask(server(tmp_path), **ticket) == begun
    for strange in ({"seal": ""}, {"number": "1"}, {"readings": 1}, {"faults": ""}):
        assert ask(client, **{**ticket, **strange})["gone"]
    assert ask(server(tmp_path, b"another"), **ticket)["gone"]
    (tmp_path / "shed.wire").write_text(RIGHT + "\n")
    assert ask(client, **ticket)["gone"]


def test_giving_up_tells_it(client):
    told = ask(client, "stop", "look")
    assert told["over"] and len(told["said"]) == 1 and "It was: open W2.black at B." in told["outcome"]


def test_a_ticket_that_cannot_be_had_is_said(client, tmp_path):
    assert "no fault of this board takes 9 readings" in ask(client, readings=9, faults="")["refused"]
    (tmp_path / "list.wire").write_text('faults for "Barn"\nfault 1 open W2.black at B\n')
    assert "its faults are for Barn" in ask(client)["refused"]


def test_a_board_that_is_wrong_already_has_no_ticket_and_is_told_why(client, tmp_path):
    (tmp_path / "shed.wire").write_text(WRONG)
    told = ask(client, faults="")
    assert told["gone"] and "this board is wrong before a fault is hidden on it." in told["refused"]
    assert f"On line {WRONG_LINE}:" in told["refused"] and "Put the board right first." in told["refused"]


@pytest.mark.parametrize(
    "strange",
    [
        {"lines": "look"},
        {"lines": ["look"] * (MOST_STEPS + 1)},
        {"lines": ["a" * 10_000]},
        {"lines": [7]},
        {"readings": "1"},
        {"readings": True},
        {"number": 7},
        {"seal": "\ud800" * 2000},
    ],
)
def test_what_is_no_step_is_refused(client, strange):
    assert ask(client, **strange)["refused"].startswith("This was not understood")


def test_hostile_lines_are_answered(client):
    told = ask(client, "\ud800", "<script>", "volts ../x \x00", "diagnose " + "x " * 200, "set S1 <b>", "")
    assert len(told["said"]) == 6 and not told["over"]


def test_a_class_that_begins_at_once_waits_for_the_boards_faults_once(tmp_path):
    (tmp_path / "shed.wire").write_text(RIGHT)
    worked = []

    async def counted(function, path, *asked):
        worked.append(function.__name__)
        await asyncio.sleep(0)
        return function(path, *asked)

    async def tried():
        kept = Kept(None, b"", b"tickets", TOKEN)
        async with Client(tmp_path, counted, kept=kept).opened() as client:
            step = {"file": "shed.wire", "text": ""}
            return await asyncio.gather(*(client.post("/ask", json=step) for _ in range(5)))

    answers = [one.json() for one in asyncio.run(tried())]
    assert len({one["number"] for one in answers}) == 5 and all(one["complaints"] for one in answers)
    assert (worked.count("portion"), worked.count("hidden")) == (1, 5)


def test_work_that_was_ended_is_begun_again_by_the_next(tmp_path):
    (tmp_path / "shed.wire").write_text(RIGHT)
    tries = []

    async def ends_once(function, path, *asked):
        tries.append(function)
        if len(tries) == 1:
            raise NotAnswered("It took longer than 10 s, and was stopped.")
        return function(path, *asked)

    client = Client(tmp_path, ends_once, kept=Kept(None, b"", b"tickets", TOKEN))
    assert ask(client, faults="") == {"refused": "It took longer than 10 s, and was stopped."}
    assert ask(client, faults="")["complaints"]


def test_a_board_that_takes_long_says_how_far_it_is_and_is_not_stopped(tmp_path, monkeypatch):
    monkeypatch.setattr("wirecheck.page.tickets.AT_ONCE", 0.0)  # One fault at a time,
    monkeypatch.setattr("wirecheck.page.giving.PATIENCE", 0.001)  # and each is waited for.
    (tmp_path / "shed.wire").write_text(RIGHT)
    far = []

    async def slowly(function, path, *asked):
        await asyncio.sleep(0.01)
        return function(path, *asked)

    async def tried():
        kept = Kept(None, b"", b"tickets", TOKEN)
        async with Client(tmp_path, slowly, kept=kept).opened() as client:
            while "trying" in (
                told := (await client.post("/ask", json={"file": "shed.wire", "text": ""})).json()
            ):
                far.append(told["trying"])
            return told

    told = asyncio.run(tried())
    assert told["complaints"]
    assert far[0] == [0, 0] and far[-1][0] < far[-1][1] and len({done for done, _ in far}) > 3
