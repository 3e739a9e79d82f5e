"""`wirecheck draw` as a user runs it: kinds, states, steps, folders."""

import json
import re

import pytest

from tests.cli.boards import MISSPELT, NEVER_LIT, PART, RIGHT, wirecheck
from wirecheck import draw, files

FURNACE = (files.folder("boards") / "condensing-furnace/right.wire").read_text("utf-8")


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "board.wire").write_text(RIGHT)
    (tmp_path / "furnace.wire").write_text(FURNACE)
    return tmp_path


def drawn(folder, *arguments, out="out.svg", said=b""):
    done = wirecheck("draw", *arguments, "-o", out, folder=folder)
    assert (done.returncode, done.stdout, done.stderr) == (0, b"", said)
    return (folder / out).read_bytes()


@pytest.mark.slow
def test_a_state_is_what_energize_says(folder):
    for position in ("on", "off"):
        said = json.loads(
            wirecheck("energize", "board.wire", "--set", f"S1={position}", "-f", "json", folder=folder).stdout
        )["states"][0]
        picture = drawn(folder, "board.wire", "--set", f"S1={position}", out="out.dot").decode()
        assert ('id="lit-L1.lamp"' in picture) == (said["running"] == ["L1"]) == (position == "on")
        assert ('id="live-0-W2.black"' in picture) == ("W2.black" in said["live"])
        assert ('id="flow-conductor-W2.black"' in picture) == (position == "on")


@pytest.mark.slow
def test_both_kinds_with_a_call_in_every_ending(folder):
    call = ("furnace.wire", "--call", "heat")
    for kind in ("wiring", "ladder"):
        picture = drawn(folder, *call, "--kind", kind, out="out.dot")
        assert b"heat called" in picture
        assert drawn(folder, *call, "--kind", kind, out="again.dot") == picture
        assert drawn(folder, "furnace.wire", "--kind", kind, out="out.dot") != picture
    assert b"heat called" in drawn(folder, *call, "--kind", "ladder", out="out.svg")
    assert drawn(folder, *call, out="out.png").startswith(b"\x89PNG")
    assert drawn(folder, *call, "--kind", "ladder", "--page", "a4", out="out.pdf").startswith(b"%PDF")


SWAPPED = RIGHT.replace(
    "  W1.black -- BP.3\n  W1.white -- BP.neutral", "  W1.white -- BP.3\n  W1.black -- BP.neutral"
)


@pytest.mark.slow
def test_the_mistake_is_flagged_where_the_hand_would_change_it(folder):
    (folder / "swapped.wire").write_text(SWAPPED)
    picture = drawn(folder, "swapped.wire", out="out.dot").decode()
    assert "At BP, W1.black and W1.white are swapped." in picture
    assert 'id="finding-1-2"' in picture
    untold = drawn(folder, "swapped.wire", "--effort", "0", out="out.dot").decode()
    assert "swapped." not in untold and 'id="finding-1-2"' not in untold and 'id="finding-1"' in untold
    assert picture == draw(SWAPPED, effort=400).dot and untold == draw(SWAPPED).dot
    page = drawn(folder, ".", out="gallery.html").decode()
    assert "At BP, W1.black and W1.white are swapped." in page
    assert "are swapped." not in drawn(folder, ".", "--effort", "0", out="gallery.html").decode()


@pytest.mark.slow
def test_a_ladder_has_no_flags_and_looks_for_no_mistake(folder):
    (folder / "swapped.wire").write_text(SWAPPED)
    ladder = drawn(folder, "swapped.wire", "--kind", "ladder", out="out.dot")
    assert ladder == drawn(folder, "swapped.wire", "--kind", "ladder", "--effort", "0", out="out.dot")
    assert b"finding" not in ladder
    assert b"finding" not in drawn(folder, "swapped.wire", "--bare", out="out.dot")


@pytest.mark.slow
def test_dark_is_dark(folder):
    assert b"#15181c" in drawn(folder, "board.wire", "--dark", out="out.dot")
    assert b"#15181c" not in drawn(folder, "board.wire", out="out.dot")


@pytest.mark.slow
def test_steps_are_those_of_sequence(folder):
    page = drawn(folder, "furnace.wire", "--call", "heat", "--steps", out="steps.html").decode()
    told = json.loads(
        wirecheck("sequence", "furnace.wire", "--call", "heat", "-f", "json", folder=folder).stdout
    )
    rows = re.findall(r'<li><button type="button" title="([^"]*)"', page)
    assert len(rows) == len(told["steps"]) + 1
    for row, step in zip(rows[1:], told["steps"], strict=True):
        for change in step["changes"]:
            assert change["text"] in row
    held = drawn(
        folder, "furnace.wire", "--call", "heat", "--set", "F.limit=open", "--steps", out="held.html"
    ).decode()
    assert "F.limit held open" in held
    assert "gas-valve opens" not in held


@pytest.mark.slow
def test_a_folder_is_one_page_of_its_boards(folder):
    (folder / "deep").mkdir()
    (folder / "deep/never.wire").write_text(NEVER_LIT)
    (folder / "pull-chain.wire").write_text(PART)
    skipped = (
        b"wirecheck: Skipped, since it holds a part, an exercise, faults or a report, and no board: "
        b"./pull-chain.wire.\n"
    )
    page = drawn(folder, ".", out="gallery.html", said=skipped).decode()
    assert [f"#board-{number}" in page for number in (1, 2, 3, 4)] == [True, True, True, False]
    for said in ("board.wire", "furnace.wire", "deep/never.wire", "expect L1 from S1", "switching"):
        assert said in page
    assert "switching" not in drawn(folder, ".", "--bare", out="bare.html", said=skipped).decode()


@pytest.mark.slow
def test_what_cannot_be_read_in_a_folder_is_told_and_the_rest_drawn(folder):
    (folder / "binary.wire").write_bytes(b"\x00\xff" * 40)
    (folder / "misspelt.wire").write_text(MISSPELT)
    done = wirecheck("draw", ".", "-o", "gallery.html", folder=folder)
    assert done.returncode == 2
    assert done.stderr.startswith(b"wirecheck: binary.wire")
    assert done.stderr.count(b"\n") == 1
    page = (folder / "gallery.html").read_text()
    assert "furnace.wire" in page
    assert "board.wire" in page


@pytest.mark.slow
@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["furnace.wire", "--call", "heat", "--steps", "-o", "out.svg"], b"must end in .html"),
        (["board.wire", "--steps", "-o", "out.html"], b"This board has none"),
        (["furnace.wire", "--steps", "-o", "out.html"], b"--call heat"),
        (["furnace.wire", "--call", "heet", "-o", "out.svg"], b"Did you mean heat?"),
        (["board.wire", "--set", "S1=sideways", "-o", "out.svg"], b"S1 can be on, off"),
        (["board.wire", "--set", "S9=on", "-o", "out.svg"], b"nothing called S9"),
        ([".", "-o", "out.svg"], b"the page of a folder must end in .html"),
        ([".", "--call", "heat", "-o", "out.html"], b"for one board"),
        (["board.wire", "-o", "out.gif"], b"must end in one of: .svg .png .pdf .dot"),
        (["board.wire", "--kind", "map", "-o", "out.svg"], b"wiring"),
    ],
)
def test_what_it_cannot_do_it_says(folder, arguments, said):
    done = wirecheck("draw", *arguments, folder=folder)
    assert done.returncode == 2
    assert said in done.stderr
    assert not list(folder.glob("out.*"))


@pytest.mark.slow
def test_a_page_of_one_board_has_the_insides_of_its_equipment(folder):
    page = drawn(folder, "furnace.wire", "--call", "heat", out="out.html").decode()
    assert re.findall(r'<label for="choice-\d">([^<]*)<', page) == [
        "Wiring diagram", "Ladder diagram", "Inside F",
    ]  # fmt: skip
    assert 'id="choice-0" checked' in page and page.count("checked>") == 1
    assert "Shown with heat called" in page and 'id="2-load-F.blower"' in page
    assert 'id="choice-2" checked' in drawn(folder, "furnace.wire", "--open", "F", out="in.html").decode()
    done = wirecheck("draw", "furnace.wire", "--open", "SW", "-o", "no.html", folder=folder)
    assert (done.returncode, b"there is no equipment 'SW': there are F" in done.stderr) == (2, True)


@pytest.mark.slow
def test_the_inside_of_a_device_is_opened_alone(folder):
    picture = drawn(folder, "furnace.wire", "--open", "F", out="out.dot").decode()
    assert 'id="load-F.blower"' in picture
    assert 'id="terminal-F.R"' in picture
    assert 'id="device-TS"' not in picture
    assert draw(FURNACE, inside="F").data(".dot").decode() == picture
    for arguments, said in [
        (("--open", "G"), b"there is no device 'G': there are SW, F, TS"),
        (("--open", "F", "--call", "heat", "--steps"), b"--open is for one board, and without --steps"),
    ]:
        done = wirecheck("draw", "furnace.wire", *arguments, "-o", "no.svg", folder=folder)
        assert (done.returncode, said in done.stderr, (folder / "no.svg").exists()) == (2, True, False)
