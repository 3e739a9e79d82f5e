"""A call on the page is the call of the command line."""

import json
import re

from wirecheck import files
from wirecheck.page.play import play_answer
from wirecheck.page.question import Question

BOARD = (files.folder("boards") / "heating-call" / "right.wire").read_text("utf-8")


def played(text, **more):
    return json.loads(play_answer("heat.wire", Question("heat.wire", text, power=True, **more)))


def test_a_call_is_played_step_by_step_in_one_picture():
    from wirecheck import assemble
    from wirecheck.circuit.call import play_call
    from wirecheck.judge.case import Case
    from wirecheck.report.sequence import text

    told = played(BOARD, calls=("heat",))
    case = Case(assemble(BOARD)[1])
    printed = " ".join(text(case, play_call(case.circuit, ["heat"])).split())
    assert all(words in printed for step in told["steps"][1:] for words in step["says"])
    assert all(" ".join(sentence.split()) in printed for sentence in told["ending"])
    assert (told["steps"][0]["moment"], told["steps"][1]["says"][0]) == ("before", "heat is called")
    ids = set(re.findall(r'id="([^"]*)"', told["picture"]["svg"]))
    assert told["only"] and set(told["only"]) <= ids
    last = len(told["steps"]) - 1
    assert all(0 <= begin <= end <= last for spans in told["only"].values() for begin, end in spans)


def test_without_a_call_there_is_nothing_to_play():
    assert "Make a call first" in played(BOARD)["refused"]
    assert "Make a call first" in played(BOARD, calls=("tea",))["refused"]
    assert "no board yet" in played("", calls=("heat",))["refused"]
