"""What hands do on the page is one change of the text, and reads as a mend does."""

import json

import pytest

import wirecheck
from tests.page.boards import RIGHT, WRONG
from wirecheck.page.deeds import Deed, deed_answer
from wirecheck.page.question import Question, question


def done(text, *deed):
    return json.loads(deed_answer("shed.wire", Question("shed.wire", text, deed=Deed(*deed))))


@pytest.mark.parametrize(
    ("deed", "was", "now"),
    [
        (("off", "A", "W1.black"), "  W1.black -- S1.line\n", ""),
        (("off", "A", "S1.line"), "  W1.black -- S1.line\n", ""),
        (("put", "A", "W2.black", "S1.line"), "W1.black -- S1.line\n  W2.black -- S1.load", None),
        (("swap", "B", "W2.white", "W2.bare"), None, None),
        (("mark", "A", "W2.white", "black"), "W1.white -- W2.white\n", "W1.white -- W2.white marked black"),
        (("cap", "B", "W2.black"), None, "cap W2.black"),
    ],
    ids=["off", "screw off", "put", "swap", "mark", "cap"],
)  # fmt: skip
def test_a_deed_is_in_the_text_and_nothing_else_changes(deed, was, now):
    text = done(RIGHT, *deed)["text"]
    changed = [row for row in RIGHT.splitlines() if row not in text.splitlines()]
    assert 1 <= len(changed) <= 2
    assert was is None or was not in text
    assert now is None or now in text
    wirecheck.assemble(text)


def test_a_board_is_wired_from_nothing_to_a_clean_verdict():
    rows = RIGHT.splitlines(keepends=True)
    bare = "".join(rows[:9] + rows[-1:])
    text = bare
    for place, one, other in [
        ("LP", "W1.black", "LP.1"),
        ("LP", "W1.white", "LP.neutral"),
        ("LP", "W1.bare", "LP.ground"),
        ("A", "W1.black", "S1.line"),
        ("A", "S1.load", "W2.black"),  # A screw is put on a wire as a wire is on a screw.
        ("A", "W1.white", "W2.white"),
        ("A", "W1.bare", "S1.ground"),
        ("A", "W2.bare", "S1.ground"),
        ("B", "W2.black", "L1.hot"),
        ("B", "W2.white", "L1.neutral"),
        ("B", "W2.bare", "L1.ground"),
    ]:
        text = done(text, "put", place, one, other)["text"]
    text = done(text, "tail", "A", "S1.ground")["text"]
    assert wirecheck.check(bare).findings
    assert wirecheck.check(text).findings == wirecheck.check(RIGHT).findings == ()
    assert "W1.bare -- W2.bare -- pigtail -- S1.ground" in text


def test_a_screw_on_a_splice_gets_a_tail_and_a_wire_from_one_leaves_it():
    spliced = RIGHT.replace("W1.bare -- W2.bare -- pigtail -- S1.ground", "W1.bare -- W2.bare")
    told = done(spliced, "put", "A", "S1.ground", "W2.bare")
    assert told == {"text": RIGHT, "says": "S1.ground is on W2.bare by a tail."}
    told = done(spliced, "put", "A", "W1.bare", "S1.ground")
    assert "  W1.bare -- S1.ground\n" in told["text"]
    assert told["says"] == "W1.bare is on S1.ground. W2.bare is loose."
    moved = done(RIGHT, "put", "A", "S1.load", "W1.white")
    assert "W1.white -- W2.white -- pigtail -- S1.load" in moved["text"]
    assert moved["says"] == "S1.load is on W1.white by a tail. W2.black is loose."
    assert "changes nothing" in done(RIGHT, "put", "A", "S1.ground", "W1.bare")["refused"]


def test_one_wire_feeds_two_screws_by_a_tail_each_and_leaves_a_bar_alone():
    told = done(RIGHT, "put", "A", "S1.load", "W1.black")
    assert "  W1.black -- pigtail -- S1.line -- pigtail -- S1.load\n" in told["text"]
    assert told["says"] == "S1.load is on W1.black by a tail. W2.black is loose."
    bar = RIGHT.replace("breaker LP.1 15 A", "breaker LP.1 15 A afci")
    told = done(bar, "put", "LP", "LP.1.neutral", "W1.white")
    assert "  W1.white -- LP.1.neutral\n" in told["text"]
    assert told["says"] == "LP.1.neutral is on W1.white."


def test_two_screws_get_a_wire_between_them_where_one_of_them_is_empty():
    bare = "".join(row for row in RIGHT.splitlines(keepends=True) if not row.startswith("  W1.black -- S1"))
    told = done(bare.replace("  W2.black -- S1.load\n", ""), "put", "A", "S1.line", "S1.load")
    assert "  S1.line -- S1.load\n" in told["text"]
    assert told["says"] == "S1.line is on S1.load."
    for one, other in (("S1.line", "S1.load"), ("S1.load", "S1.line")):
        assert "  W2.black -- S1.load -- S1.line\n" in done(bare, "put", "A", one, other)["text"]
    assert "take one off first" in done(RIGHT, "put", "A", "S1.line", "S1.load")["refused"]


def test_a_swap_puts_the_swapped_ones_right():
    text = done(WRONG, "swap", "B", "W2.black", "W2.bare")["text"]
    assert wirecheck.check(text).passes


def test_a_cap_comes_off_again():
    capped = done(RIGHT, "cap", "B", "W2.black")["text"]
    assert "cap" not in done(capped, "off", "B", "W2.black")["text"]


@pytest.mark.parametrize(
    ("deed", "says"),
    [
        (("put", "A", "W1.blak", "S1.line"), "There is no W1.blak in A. Did you mean W1.black?"),
        (("put", "B", "W2.black\n", "L1.hot"), "There is no W2.black"),
        (("put", "nowhere", "W1.black", "S1.line"), "There is no W1.black in nowhere."),
        (("put", "A", "W1.black", "W1.black"), "is where it is"),
        (("put", "A", "W1.black", "S1.line"), "changes nothing"),
        (("off", "LP", "LP.main"), "There is no LP.main"),
        (("mark", "A", "W1.black", "plaid\n  W1.white -- S1.load"), "a color that wires have"),
        (("tail", "A", "S1.line"), "two wires or more"),
        (("cap", "A", "S1.line"), "cannot be done"),
    ],
)
def test_what_cannot_be_done_is_said(deed, says):
    assert says in done(RIGHT, *deed)["refused"]


def test_what_is_no_deed_is_no_question():
    sent = {"file": "a.wire", "text": "", "deed": {"act": "off", "place": "A", "one": "W1.black"}}
    assert question(json.dumps(sent).encode()).deed == Deed("off", "A", "W1.black")
    for wrong in ([], {"act": "burn"}, {"act": "off", "place": 7}):
        with pytest.raises(ValueError):
            question(json.dumps({**sent, "deed": wrong}).encode())
