"""A board with something wrong, as an instructor and a technician ask about it on the command line."""

from __future__ import annotations

import json

import pytest

from tests.cli.boards import ROOT, wirecheck

FURNACE = ROOT / "boards" / "condensing-furnace" / "right.wire"
LIST = """faults for "Condensing gas furnace"
fault 1 F.fuse blown
fault 2 open TW.white at TS
"""


def run(*arguments, stdin: str = "") -> str:
    done = wirecheck(*arguments, stdin=stdin)
    assert (done.returncode, done.stderr) == (0, b""), done.stderr
    return done.stdout.decode()


def test_a_fault_is_named_on_the_command_line_or_by_its_number(tmp_path) -> None:
    listed = tmp_path / "faults.wire"
    listed.write_text(LIST)
    asked = ("measure", FURNACE, "volts", "F.R", "F.C", "--call", "heat")
    assert run(*asked).startswith("F.R to F.C: 26.2 V")
    assert run(*asked, "--fault", "F.fuse blown").startswith("F.R to F.C: 0 V")
    assert run(*asked, "--faults", listed, "--fault", "1") == run(*asked, "--fault", "F.fuse blown")
    shown = run(
        "energize", FURNACE, "--call", "heat", "--format", "json", "--faults", "-", "--fault", "2", stdin=LIST
    )
    told = json.loads(shown)
    assert told["board"] == "Condensing gas furnace (open TW.white at TS)"
    assert "F.gas-valve" not in told["states"][0]["running"]


@pytest.mark.slow
def test_a_call_is_played_with_a_fault() -> None:
    played = run("sequence", FURNACE, "--call", "heat", "--fault", "F.blower burnt out")
    # No air takes the heat away, so that the limit opens: as it does on the machine (common practice).
    assert "F.blower runs" not in played and "F.limit opens" in played


@pytest.mark.slow
@pytest.mark.parametrize(
    ("arguments", "complaint"),
    [
        (("--fault", "F.fuse melted"), "melted"),
        (("--fault", "TW.white open"), "A fault is written: open TW.white at TS; short"),
        (("--fault", "9"), "there is no fault 9"),
        (("--faults", "LIST"), "say which of them"),
        (("--faults", "LIST", "--fault", "7"), "There are: 1, 2."),
        (("--faults", "BAD", "--fault", "1"), "bad.wire, line 2: the board has no fuse called F.fuze."),
        (("--faults", "OTHER", "--fault", "1"), "its faults are for Another board"),
    ],
)
def test_what_cannot_be_wrong_is_said_in_a_sentence(tmp_path, arguments, complaint) -> None:
    texts = {
        "LIST": LIST,
        "BAD": LIST.replace("F.fuse", "F.fuze"),
        "OTHER": LIST.replace("Condensing gas furnace", "Another board"),
    }
    for name, text in texts.items():
        (tmp_path / f"{name.lower()}.wire").write_text(text)
    given = [tmp_path / f"{each.lower()}.wire" if each in texts else each for each in arguments]
    done = wirecheck("measure", FURNACE, "volts", "F.R", "F.C", *given)
    assert done.returncode == 2
    assert complaint in " ".join(done.stderr.decode().split())


@pytest.mark.slow
def test_a_list_of_faults_is_no_board_and_is_passed_over_in_a_folder(tmp_path) -> None:
    (tmp_path / "faults.wire").write_text(LIST)
    (tmp_path / "furnace.wire").write_bytes(FURNACE.read_bytes())
    done = wirecheck("check", tmp_path / "faults.wire")
    assert done.returncode == 2 and b"it is a list of faults, not a board" in done.stderr
    done = wirecheck("check", tmp_path)
    assert done.returncode == 0, done.stdout
    tidied = run("tidy", "-", stdin=LIST.replace("fault 2 open", "fault  2   open"))
    assert tidied == LIST
