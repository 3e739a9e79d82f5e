"""An exercise small enough to be graded in no time, works of it, and a server with a record."""

import json
from functools import partial

from tests.page.boards import RIGHT, WRONG
from tests.page.test_server import Client, at_once
from wirecheck.page.answering import Kept
from wirecheck.record import opened

EXERCISE = "\n".join(
    [
        'exercise "Shed <light>"',
        "stage trim 30 points",
        "stage final 70 points",
        "a fault costs 10 points",
        *RIGHT.splitlines()[1:9],
        "expect L1 from S1 costs 20 points",
        "",
    ]
)
WORK, WRONG_WORK = (text.replace('"\n', '"\nfor "Shed <light>"\n', 1) for text in (RIGHT, WRONG))
TOKEN = "t0ken"


def classroom(folder, work=at_once, **more):
    """A server of a folder with the exercise, and with a record beside it."""
    (folder / "inside").mkdir(exist_ok=True)
    (folder / "inside" / "shed.wire").write_text(EXERCISE)
    with opened(folder / "class.db") as record:
        codes = record.secret(b"codes")
    kept = Kept(partial(opened, folder / "class.db", new=False), codes, b"tickets", TOKEN)
    return Client(folder / "inside", work, kept=kept, **more)


def hand_in(client, name="Ana", text=WORK, **more):
    """Hand in a work; what cannot be text is sent as JSON can say it."""
    work = json.dumps({"file": "shed.wire", "name": name, "text": text, **more})
    return client.post("/hand-in", content=work, headers={"content-type": "application/json"})
