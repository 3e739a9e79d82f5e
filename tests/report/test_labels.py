"""Labels: two for each wire, that agree; by hand for one board; hostile names; the command as a process."""

from __future__ import annotations

import csv
import io
from collections import Counter
from pathlib import Path

import pytest

import wirecheck
from tests.cli.boards import NEVER_LIT, RIGHT
from tests.cli.boards import wirecheck as command
from tests.page.browsers import chromium, quiet_page, violations
from wirecheck import files
from wirecheck.report import labels
from wirecheck.report.labels import WireLabel

# By hand, from the text of RIGHT: the bare wires take none, and the whites are spliced in A.
WIRES = """
1 W1.black | BP.3 | S1.line in A
2 W1.white | BP.neutral | A, splice
3 W2.black | S1.load in A | L1.hot in B
4 W2.white | A, splice | L1.neutral in B
"""
SCREWS = {
    "BP.3": (1,),
    "BP.neutral": (2,),
    "S1.line": (1,),
    "S1.load": (3,),
    "L1.hot": (3,),
    "L1.neutral": (4,),
}
RIGHTS = sorted(path.parent.name for path in files.folder("boards").glob("*/right.wire"))


def made(text: str) -> labels.Labels:
    return labels.labels(wirecheck.assemble(text)[1])


def test_one_board_by_hand() -> None:
    found, want = made(RIGHT), []
    for line in WIRES.strip().splitlines():
        name, here, there = line.split(" | ")
        number, _, wire = name.partition(" ")
        want += [WireLabel(int(number), wire, here, there), WireLabel(int(number), wire, there, here)]
    assert list(found.wires) == want
    assert {one.screw: one.wires for one in found.screws} == SCREWS


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ("  W2.black -- S1.load\n", "  cap W2.black\n", "A, capped"),
        ("  W2.black -- S1.load\n", "", "A, joined to nothing"),
        ("  W2.black -- S1.load\n", "  W2.black -- pigtail -- S1.load\n", "A, splice"),
        (
            "  W2.black -- S1.load\n",
            "  W2.black -- S1.load\n  W2.black -- S1.line\n",
            "S1.load in A and S1.line in A",
        ),
    ],
)
def test_an_end_says_where_it_goes(before: str, after: str, said: str) -> None:
    ends = [one.here for one in made(RIGHT.replace(before, after)).wires if one.wire == "W2.black"]
    assert ends == [said, "L1.hot in B"]


@pytest.mark.slow
@pytest.mark.parametrize("name", RIGHTS)
def test_each_wire_has_two_that_agree_and_each_screw_the_numbers_of_its_wires(name: str) -> None:
    text = (files.folder("boards") / name / "right.wire").read_text(encoding="utf-8")
    board = wirecheck.assemble(text)[1]
    found = labels.labels(board)
    insulated = [wire for wire in board.conductors.values() if wire.color != "bare"]
    assert Counter(one.number for one in found.wires) == {number + 1: 2 for number in range(len(insulated))}
    for one, other in zip(found.wires[::2], found.wires[1::2], strict=True):
        assert (one.number, one.wire, one.here, one.there) == (
            other.number,
            other.wire,
            other.there,
            other.here,
        )
    screws = {one.screw: one.wires for one in found.screws}
    assert len(screws) == len(found.screws)
    for one in found.wires:
        for screw, numbers in screws.items():
            named = one.here == screw or one.here.startswith(f"{screw} in ")
            assert not named or one.number in numbers


def test_a_wire_of_no_cable_says_its_color_and_what_is_hostile_stays_text() -> None:
    text = 'board "<script>x</script>"\npanel LP 120 V\nbox A device 18 cu in\n'
    text += "wire H1 12 THHN red 9 ft from LP to A\n"
    page = labels.page(made(text), ["<b>note</b>"])
    assert "<b>1</b> H1, red" in page and "&lt;b&gt;note" in page and "<script>" not in page


@pytest.mark.slow
def test_the_command_writes_a_page_or_rows_and_warns_of_a_wrong_board(tmp_path: Path) -> None:
    (tmp_path / "lamp.wire").write_text(RIGHT, encoding="utf-8")
    (tmp_path / "dark.wire").write_text(NEVER_LIT + "W9.blakc -- S1.line\n", encoding="utf-8")
    done = command("labels", "lamp.wire", "-o", "labels.html", folder=tmp_path)
    assert (done.returncode, done.stdout, done.stderr) == (0, b"", b"")
    page = (tmp_path / "labels.html").read_text(encoding="utf-8")
    assert page.count("<li>") == 8 + len(SCREWS) and "The check finds" not in page
    said = command("labels", "lamp.wire", "-f", "csv", folder=tmp_path).stdout.decode()
    rows = list(csv.reader(io.StringIO(said)))
    assert rows[1] == ["wire", "1", "W1.black", "BP.3", "S1.line in A"] and len(rows) == 9 + len(SCREWS)
    wrong = command("labels", "dark.wire", "-f", "csv", folder=tmp_path)
    assert wrong.returncode == 0 and b"not all of" in wrong.stderr and b"Mend it before" in wrong.stderr
    assert b"Mend it before" in command("labels", "dark.wire", folder=tmp_path).stdout
    for asked in (
        ("labels", "."),
        ("labels", "none.wire"),
        ("labels", "lamp.wire", "-o", "x.wire"),
        ("labels",),
    ):
        failed = command(*asked, folder=tmp_path)
        assert (failed.returncode, failed.stdout) == (2, b"") and failed.stderr
    assert not (tmp_path / "x.wire").exists()


@pytest.mark.slow
@pytest.mark.chromium
def test_axe_finds_nothing_on_the_sheet(tmp_path: Path) -> None:
    (tmp_path / "labels.html").write_text(labels.page(made(RIGHT)), encoding="utf-8")
    with chromium() as browser, quiet_page(browser, None, {"width": 390, "height": 844}) as page:
        page.goto((tmp_path / "labels.html").as_uri())
        assert violations(page) == []
