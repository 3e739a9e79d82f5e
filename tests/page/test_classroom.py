"""The instructor's view: who is where, what stays, the class's sheet; and nobody else's to open."""

import asyncio

import pytest

from tests.page.boards import RIGHT, WRONG
from tests.page.classroom import TOKEN, WORK, WRONG_WORK, classroom, hand_in
from tests.page.test_finding import LIST, ask, server
from wirecheck.page.names import code_of

VIEW = f"/class/{TOKEN}"


@pytest.fixture
def client(tmp_path):
    return classroom(tmp_path)


def test_who_is_where_is_told(client, tmp_path):
    (tmp_path / "inside" / "lamp.wire").write_text(RIGHT)
    hand_in(client, "Ana Ruiz", WRONG_WORK)
    client.post("/check", json={"file": "lamp.wire", "text": WRONG})
    hers = {"name": "Ana Ruiz", "code": code_of(b"codes", "Ana Ruiz")}
    client.post("/check", json={"file": "shed.wire", "text": WRONG_WORK, **hers})
    client.post("/check", json={"file": "lamp.wire", "text": WRONG, "name": "Bo", "code": "AAAAAAAA"})
    page = client.get(VIEW).text
    assert "<td>Ana Ruiz</td><td>exercise: Shed &lt;light&gt;</td>" in page
    assert "handed in: 70 of 100 points" in page and "<td>Bo</td>" not in page
    assert "<td>127.0.0.1</td><td>board: Shed &lt;light&gt;</td>" in page
    assert page.count(", 0 min: ") == 2
    assert f"<td>Ana Ruiz</td><td>{hers['code']}</td>" in page
    assert page.count("<script") == 1 and 'src="/page/class.js"' in page
    assert client.get(f"{VIEW}/now").text in page


def test_the_sheet_of_the_class_has_the_newest_work_of_each(client, tmp_path):
    code = hand_in(client, "Ana", WRONG_WORK).json()["code"]
    ana = hand_in(client, "ANA", WORK, code=code).json()
    hand_in(client, "Bo", WRONG_WORK)
    hand_in(client, "Cy", WRONG_WORK, stage="trim")
    assert f'<a href="{VIEW}/sheet/shed.wire">all stages, 2</a>' in client.get(VIEW).text
    page = client.get(f"{VIEW}/sheet/shed.wire")
    assert page.headers["content-security-policy"].startswith("default-src 'none'; style-src 'sha256-")
    assert f'<a href="{ana["sheet"]}">ANA</a>' in page.text and "Mean 85" in page.text
    assert "Cy" not in page.text
    trim = client.get(f"{VIEW}/sheet/shed.wire?stage=trim").text
    assert ">Cy</a>" in trim and ">Bo</a>" not in trim
    assert client.get(f"{VIEW}/sheet/shed.wire?stage=x").status_code == 404


def test_a_ticket_is_seen_as_it_ended_first(tmp_path):
    client = server(tmp_path)
    begun = ask(client, "look", "stop")
    ticket = {name: begun[name] for name in ("number", "seal")}
    ask(client, "diagnose open W2.black at B", **ticket)
    assert "0 points, 2 asked" in client.get(VIEW).text


def test_without_a_record_there_is_a_view_and_no_sheet(tmp_path):
    client = server(tmp_path)
    assert "There is no record" in client.get(VIEW).text
    assert "Nobody has asked anything yet." in client.get(VIEW).text


@pytest.mark.parametrize("token", ["", "T0KEN", TOKEN[:-1], f"{TOKEN}x", "%ff", "é", "None"])
def test_nobody_without_the_token_sees_it(client, token):
    for rest in ("", "/now", "/sheet/shed.wire"):
        assert client.get(f"/class/{token}{rest}").status_code == 404


def test_where_no_token_is_made_there_is_no_view(tmp_path):
    from tests.page.test_server import Client

    assert Client(tmp_path).get("/class/").status_code == 404


@pytest.mark.parametrize("asks", ["ticket", "exercise", "work", "sheet", "sheet of the class"])
def test_what_takes_long_of_one_machine_leaves_a_place_to_others(tmp_path, asks):
    begun, free = [], asyncio.Event()

    async def held(function, path, *asked):
        if holds:
            begun.append(function.__name__)
            await free.wait()
        return function(path, *asked)

    holds = False
    client = classroom(tmp_path, held, places=2)
    (tmp_path / "inside" / "lamp.wire").write_text(RIGHT)
    sheet = hand_in(client).json()["sheet"]
    client = classroom(tmp_path, held, places=2)  # It keeps no picture of the sheet.

    async def asked(one, number):
        if asks == "ticket":
            lines = {"file": "lamp.wire", "text": "", "lines": [], "faults": "list.wire"}
            (tmp_path / "inside" / "list.wire").write_text(LIST)
            return await one.post("/ask", json=lines)
        if asks == "work":
            work = {"file": "shed.wire", "name": f"Bo {'abc'[number]}", "text": WORK}
            return await one.post("/hand-in", json=work)
        pages = {"exercise": "/exercise/shed.wire", "sheet": sheet}
        return await one.get(pages.get(asks, f"{VIEW}/sheet/shed.wire"))

    async def tried():
        async with client.opened("10.0.0.1") as one, client.opened("10.0.0.2") as other:
            those = [asyncio.create_task(asked(one, number)) for number in range(3)]
            while not begun:
                await asyncio.sleep(0.01)
            await asyncio.sleep(0.05)
            check = asyncio.create_task(other.post("/check", json={"file": "lamp.wire", "text": RIGHT}))
            while "checked_board" not in begun:
                await asyncio.sleep(0.01)
            assert len(begun) == 2
            free.set()
            return [*await asyncio.gather(*those), await check]

    holds = True
    assert all(answer.status_code == 200 for answer in asyncio.run(asyncio.wait_for(tried(), 20)))
