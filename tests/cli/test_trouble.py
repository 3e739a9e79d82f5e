"""Tickets and diagnoses as students, instructors and technicians have them on the command line."""

from __future__ import annotations

import io
import json

import pytest

from tests.cli.boards import ROOT, wirecheck
from wirecheck.cli._session import LONGEST, questions

STAIR = ROOT / "boards" / "stair-light" / "right.wire"
SPLIT = ROOT / "boards" / "split-air-conditioner" / "right.wire"
SWITCHES = ROOT / "boards" / "troubles" / "split-air-conditioner" / "faults.wire"


def run(*arguments, stdin: str = "") -> str:
    done = wirecheck(*arguments, stdin=stdin)
    assert (done.returncode, done.stderr) == (0, b""), done.stderr
    return done.stdout.decode()


def test_a_ticket_is_played_from_a_script() -> None:
    asked = "look\nvolts L1.hot L1.neutral\nnonsense\ndiagnose S1 stuck up\ndiagnose L1 burnt out\n"
    told = run("trouble", STAIR, "--fault", "L1 burnt out", "--seed", "1", "--script", "-", stdin=asked)
    assert "L1 does not come on" in told and "de-energize" in told
    assert "> volts L1.hot L1.neutral\nL1.hot to L1.neutral: 120 V" in told
    assert '"nonsense" is not known.' in told
    assert "It is not that" in told
    assert "Right: L1 burnt out." in told and "of 100 points" in told
    assert told.index("Danger: L1 does not run and is live") > told.index("Right: L1")


@pytest.mark.slow
def test_what_is_typed_is_answered_and_the_answer_is_hidden_till_the_end() -> None:
    told = run("trouble", STAIR, "--seed", "5", stdin="look\n")
    before, _, after = told.partition("It was: ")
    assert after and after.splitlines()[0].rstrip(".") not in before


@pytest.mark.slow
def test_a_ticket_as_data() -> None:
    told = json.loads(
        run(
            *("trouble", STAIR, "--fault", "L1 burnt out", "--seed", "1"),
            *("--script", "-", "--format", "json"),
            stdin="volts L1.hot L1.neutral\ndiagnose L1 burnt out\n",
        )
    )
    assert told["found"] and told["fault"] == "L1 burnt out" and 0 < told["points"] <= 100
    assert told["answers"][0]["text"] == "120 V" and told["complaints"][0]["missing"] == ["L1"]


@pytest.mark.slow
def test_eight_hidden_switches_each_show(tmp_path) -> None:
    told = json.loads(
        run(
            *("trouble", SPLIT, "--faults", SWITCHES, "--fault", "3", "--seed", "1"),
            *("--script", "-", "--format", "json"),
            stdin="stop\n",
        )
    )
    assert told["fault"] == "CU.compressor.protector stuck open" and told["points"] == 0


def test_a_typed_line_that_never_ends_is_taken_in_pieces(monkeypatch) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("x" * (LONGEST + 1)))
    assert [len(line) for line in questions(None)] == [LONGEST, 1]


@pytest.mark.slow
def test_the_instructors_sheet(tmp_path) -> None:
    text = run("trouble", STAIR, "--sheet")
    assert "55 faults show" in text and "Not told from it by volts" in text
    run("trouble", STAIR, "--sheet", "-o", tmp_path / "sheet.html")
    page = (tmp_path / "sheet.html").read_text()
    assert "Content-Security-Policy" in page and "L1 burnt out" in page and "<script" not in page
    rows = json.loads(run("trouble", STAIR, "--sheet", "--format", "json"))["faults"]
    assert len(rows) == 55


@pytest.mark.slow
def test_what_cannot_be_a_ticket_is_said() -> None:
    done = wirecheck("trouble", "-", "--seed", "1", stdin='board "Empty"\npanel LP 120 V\n')
    assert done.returncode == 2 and b"nothing that can be wrong on this board shows" in done.stderr
    done = wirecheck("trouble", STAIR, "--seed", "1", "--readings", "40")
    assert done.returncode == 2 and b"takes 40 readings" in done.stderr
    done = wirecheck("trouble", STAIR, "-o", "x.html")
    assert done.returncode == 2 and b"--output is for --sheet" in done.stderr


FOUND = """found on "Stair light from two landings"
with nothing
saw L1 not run
read 120 V from L1.hot to L1.neutral
"""


def test_a_diagnosis_names_what_explains_it_and_why_others_are_out(tmp_path) -> None:
    told = run("diagnose", STAIR, "-", "--out", stdin=FOUND)
    assert "100 % L1 burnt out" in told
    assert "Out:" in told and "at rest, L1.hot to L1.neutral would not read 120 V" in told
    half = run("diagnose", STAIR, "-", stdin=FOUND.replace("read", "# read"))
    assert "Measure next, at rest, at " in half
    data = json.loads(run("diagnose", STAIR, "-", "--format", "json", stdin=FOUND))
    assert data["explanations"] == [{"faults": ["L1 burnt out"], "odds": 1.0}]


@pytest.mark.slow
def test_a_report_with_a_mistake_is_refused_with_its_line(tmp_path) -> None:
    done = wirecheck("diagnose", STAIR, "-", stdin=FOUND.replace("saw L1", "saw L9"))
    assert done.returncode == 2
    assert "line 3: there is nothing called L9 that runs." in " ".join(done.stderr.decode().split())
    done = wirecheck("diagnose", STAIR, "-", stdin='found on "Stair light from two landings"\n')
    assert done.returncode == 2 and b"nothing was found" in done.stderr
    (tmp_path / "found.wire").write_text(FOUND)
    done = wirecheck("check", tmp_path / "found.wire")
    assert done.returncode == 2 and b"wirecheck diagnose takes it" in done.stderr


@pytest.mark.slow
def test_readings_one_after_another() -> None:
    asked = "set S1 down\nvolts L1.hot L1.neutral\nhelp\ndiagnose L1 burnt out\nvolts L1.hot\n"
    told = run("measure", STAIR, "--fault", "L1 burnt out", "--script", "-", stdin=asked)
    # The wire to a lamp that is burnt out hangs on nothing.
    assert "Now: S1 down." in told and "V, phantom" in told and "set S1 down\n" in told
    assert "diagnose is for a ticket" in told and "It is written: volts F.R F.C" in told
    data = json.loads(
        run("measure", STAIR, "--format", "json", "--script", "-", stdin="volts L1.hot L1.neutral\n")
    )
    assert data["answers"][0]["unit"] == "V"
    done = wirecheck("measure", STAIR, "volts", "L1.hot", "L1.neutral", "--format", "json")
    assert done.returncode == 2 and b"name no quantity" in done.stderr
