"""Exercises as they are shown, handed in and graded, and what nobody else gets of it."""

import asyncio

import pytest

from tests.page.classroom import EXERCISE, WORK, WRONG_WORK, classroom, hand_in
from tests.page.test_server import Client, at_once
from wirecheck.grading.pages import student_page
from wirecheck.page.exercises import Work, told
from wirecheck.page.names import code_of, seal
from wirecheck.record import opened


@pytest.fixture
def client(tmp_path):
    return classroom(tmp_path)


def attempts(folder):
    with opened(folder / "class.db") as record:
        return list(record.attempts())


def test_an_exercise_has_its_page(client):
    assert '<a href="/exercise/shed.wire">Shed &lt;light&gt;</a>' in client.get("/").text
    page = client.get("/exercise/shed.wire").text
    assert "final 70 points" in page and "A hazard costs all points of its stage." in page
    assert "<code>expect L1 from S1</code>" in page and "write your name between the quotes" in page
    assert 'id="hand-in"' in page and 'src="/page/exercise.js"' in page
    assert client.get("/board/shed.wire").headers["location"] == "/exercise/shed.wire"
    for name in ("..%2finside%2fshed.wire", "none.wire", "shed.wire%00"):
        assert client.get(f"/exercise/{name}").status_code == 404


def test_an_exercise_with_a_mistake_says_so(tmp_path):
    client = classroom(tmp_path)
    (tmp_path / "inside" / "shed.wire").write_text('exercise "Shed"\nstage finnal 4 points')
    assert "finnal is no stage. Did you mean final?" in client.get("/exercise/shed.wire").text


def test_without_a_record_nothing_is_handed_in(tmp_path):
    (tmp_path / "shed.wire").write_text(EXERCISE)
    client = Client(tmp_path)
    assert 'id="hand-in"' not in client.get("/exercise/shed.wire").text
    assert "keeps no record" in hand_in(client).json()["refused"]


def test_a_work_of_an_exercise_is_not_told_what_the_sheet_tells(client):
    question = {"file": "shed.wire", "text": WRONG_WORK}
    for address in ("/check", "/mends"):
        answer = client.post(address, json=question).json()
        assert answer["findings"] == [] and answer["verdict"] == "All of it can be read."
        assert not answer["passes"] and "finding-1" not in answer["picture"]["svg"]
    answer = client.post("/check", json=question | {"text": WORK + "S1 is\n"}).json()
    assert [one["rule"] for one in answer["findings"]] == ["syntax"]


def test_the_sheet_is_that_of_grade_and_goes_into_the_record(client, tmp_path):
    answer = hand_in(client, "Ana  Ruiz", WRONG_WORK).json()
    assert answer["name"] == "Ana Ruiz" and answer["score"] == "70 of 100 points"
    sheet = client.get(answer["sheet"])
    (attempt,) = attempts(tmp_path)
    path = str(tmp_path / "inside" / "shed.wire")
    graded = told(path, Work(EXERCISE.encode(), WRONG_WORK.encode(), "Ana Ruiz", None)).graded
    assert attempt.sheet == graded.sheet
    assert sheet.text == student_page(graded.sheet, graded.picture) and "data:image/svg" in sheet.text
    policy = sheet.headers["content-security-policy"]
    assert policy.startswith("default-src 'none'; style-src 'sha256-") and "script" not in policy
    assert classroom(tmp_path).get(answer["sheet"]).text == sheet.text  # After a restart.


def test_one_stage_is_graded(client):
    answer = hand_in(client, text=WRONG_WORK, stage="trim").json()
    assert (answer["score"], answer["stage"]) == ("0 of 30 points", "trim")
    assert hand_in(client, stage="finnal", code=answer["code"]).status_code == 400


def test_a_name_is_its_first_users(client, tmp_path):
    first = hand_in(client).json()
    other = hand_in(client, " ANA").json()
    assert other["code"] is True and "Somebody has handed in as ANA before" in other["refused"]
    for code in ("AAAAAAAA", code_of(b"codes", "Bo"), "é"):
        assert hand_in(client, code=code).json()["refused"].startswith("That is not the code of Ana.")
    second = hand_in(client, "ana", code=f" {first['code'].lower()}").json()
    assert second["sheet"] == f"/sheet/2/{seal(b'codes', 'sheet', '2')}"
    assert len(attempts(tmp_path)) == 2


def test_a_text_of_another_student_is_not_taken(client, tmp_path):
    text = WORK.replace("\n", '\nstudent "Bo <b>"\n', 1)
    assert "its line says Bo <b>, and you hand in as Ana" in hand_in(client, text=text).json()["refused"]
    assert attempts(tmp_path) == []
    assert "sheet" in hand_in(client, "ana", WORK.replace("\n", '\nstudent "ANA"\n', 1)).json()


@pytest.mark.parametrize(
    "name",
    ["", " ", "../../etc/passwd", "<script>", "a" * 10_000, "\ud800", "Ana\0", "7", None, 7, ["Ana"], "a/b"],
)
def test_what_is_no_name_is_refused(client, tmp_path, name):
    assert "ame" in hand_in(client, name).json()["refused"]
    assert attempts(tmp_path) == []
    assert sorted(each.name for each in tmp_path.rglob("*.*")) == ["class.db", "shed.wire"]


@pytest.mark.parametrize(
    ("more", "status"),
    [
        ({"file": "../inside/shed.wire"}, 404),
        ({"file": "none.wire"}, 404),
        ({"file": 7}, 400),
        ({"text": "a" * 100_001}, 200),
        ({"text": {}}, 200),
    ],
)
def test_what_is_no_work_is_refused(client, tmp_path, more, status):
    answer = client.post("/hand-in", json={"file": "shed.wire", "name": "Ana", "text": WORK, **more})
    assert answer.status_code == status
    assert "refused" in answer.json() or answer.json()["refused_work"] == "There is nothing in it."


def test_a_work_that_cannot_be_read_has_a_sheet_that_says_so(client):
    answer = hand_in(client, text="\ufffd\x00").json()
    assert answer["score"] == "0 of 100 points"
    assert "Not graded, and worth nothing" in client.get(answer["sheet"]).text


def test_no_sheet_is_found_by_its_number(client):
    sheet = hand_in(client).json()["sheet"]
    for address in ("/sheet/1/", "/sheet/1/AAAA", sheet[:-1], sheet.replace("/1/", "/2/"), "/sheet/x/y"):
        assert client.get(address).status_code == 404


def test_two_at_once_under_one_name_each_get_an_answer(tmp_path):
    async def tried():
        begun, free = asyncio.Semaphore(0), asyncio.Event()

        async def held(function, path, asked):
            begun.release()
            await free.wait()
            return await at_once(function, path, asked)

        async with classroom(tmp_path, held).opened() as client:
            work = {"file": "shed.wire", "name": "Ana", "text": WORK}
            first = asyncio.create_task(client.post("/hand-in", json=work))
            await begun.acquire()
            second = await client.post("/hand-in", json=work | {"name": "ana"})
            other = asyncio.create_task(client.post("/hand-in", json=work | {"name": "Bo"}))
            await begun.acquire()
            free.set()
            return [one.json() for one in (await first, second, await other)]

    first, second, other = asyncio.run(tried())
    assert first["name"] == "Ana" and other["name"] == "Bo"
    assert second["refused"] == "A work of ana is being graded now. Wait for its sheet."
    assert len(attempts(tmp_path)) == 2


def test_a_record_that_is_gone_is_said(client, tmp_path):
    (tmp_path / "class.db").write_bytes(b"x" * 5000)
    assert hand_in(client).json()["refused"] == (
        "The record cannot be written now. Try again, and tell your instructor."
    )
