"""Tickets as they are given out, asked and closed, and what a browser is not told of them."""

import json

import pytest

from tests.page.boards import RIGHT
from tests.page.classroom import TOKEN
from tests.page.test_server import Client
from wirecheck.page.answering import Kept
from wirecheck.page.finding import MOST_STEPS

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
    sent = client.post("/ask", content=json.dumps(step), headers={"content-type": "application/json"})
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
