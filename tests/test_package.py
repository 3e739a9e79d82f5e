"""`import wirecheck`: what a script asks of it, what it refuses, and how a notebook shows what it gives."""

from __future__ import annotations

import doctest
import json
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner

import wirecheck
from tests.cli.boards import MISSPELT, NEVER_LIT, PART, RIGHT
from tests.cli.boards import wirecheck as command
from wirecheck import NotABoard, PartlyRead, PowerOn, Report, WrongArgument, files
from wirecheck.caution import CAUTION
from wirecheck.cli import commands
from wirecheck.judge.finding import SEVERITIES, Finding, Severity
from wirecheck.language.syntax import Span
from wirecheck.parts.library import Library

ROOT = Path(__file__).parent.parent
COOLING = files.folder("boards") / "heat-cool-hookup" / "right.wire"
HOSTILE = "</td><script>alert(1)</script>"


# ------------------------------------------------------------------ the page


def test_the_readme_says_what_is_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "boards").symlink_to(ROOT / "boards")
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    block = text.split("<!-- python -->\n```pycon\n", 1)[1].split("```", 1)[0]
    test = doctest.DocTestParser().get_doctest(block, {}, "README.md", "README.md", 0)
    runner = doctest.DocTestRunner(optionflags=doctest.NORMALIZE_WHITESPACE)
    said: list[str] = []
    runner.run(test, out=said.append)
    assert not said, "".join(said)
    assert runner.summarize(verbose=False).attempted > 10
    assert (tmp_path / "cool.svg").stat().st_size > 1000


def test_every_name_that_is_offered_is_there() -> None:
    for name in wirecheck.__all__:
        assert getattr(wirecheck, name) is not None, name
    assert set(wirecheck.__all__) <= set(dir(wirecheck))
    with pytest.raises(AttributeError, match="chekc"):
        getattr(wirecheck, "che" + "kc")


def test_what_is_imported_from_inside_leaves_the_functions_in_place() -> None:
    """A module of the package would take the place of a function of its name."""
    wirecheck.draw(RIGHT, flags=False)
    assert all(callable(getattr(wirecheck, name)) for name in ("check", "check_file", "draw", "energize"))


def test_importing_it_loads_nothing_that_is_slow() -> None:
    loaded = subprocess.run(
        [sys.executable, "-c", "import sys, wirecheck; print(*sys.modules)"],
        capture_output=True,
        check=True,
        env={"PYTHONPATH": str(ROOT)},
        text=True,
    ).stdout.split()
    slow = ("lark", "networkx", "numpy", "scipy", "click", "graphviz", "reportlab", "dataclasses")
    assert not set(slow).intersection(loaded)
    assert [name for name in loaded if name.startswith("wirecheck.")] == [
        "wirecheck.caution",
        "wirecheck.version",
    ]


def test_its_types_travel_with_it() -> None:
    assert (ROOT / "wirecheck" / "py.typed").is_file()


# -------------------------------------------------------------------- check


def test_a_report_says_what_a_script_asks() -> None:
    report = wirecheck.check(NEVER_LIT)
    assert (report.board, report.file, report.passes) == ("Boathouse lamp", "-", False)
    assert report.counts == {one: len(found) for one, found in report.by_severity.items()}
    assert list(report.by_severity) == list(SEVERITIES)
    assert list(report.by_rule) == sorted({finding.rule for finding in report.findings})
    assert sum(map(len, report.by_rule.values())) == len(report.findings) > 0
    (dark,) = report.by_rule["switching"]
    assert NEVER_LIT.splitlines()[dark.line - 1] == "  cap W2.black"
    assert wirecheck.check(RIGHT).passes and wirecheck.check(RIGHT).findings == ()


def test_advice_passes() -> None:
    def found(severity: Severity) -> Finding:
        return Finding("rule", severity, "words", Span(1, 1, 1, 2), "S1")

    assert Report("-", "", "", (found("advice"),)).passes
    assert not Report("-", "", "", (found("advice"), found("fault"))).passes


@pytest.mark.slow
def test_a_report_as_data_is_what_the_command_prints(tmp_path: Path) -> None:
    (tmp_path / "board.wire").write_text(NEVER_LIT)
    done = command("check", "board.wire", "--format", "json", folder=tmp_path)
    report = wirecheck.check(NEVER_LIT, file="board.wire", effort=400)
    assert report.as_data() == json.loads(done.stdout)["files"][0]
    assert report.render("json") == done.stdout.decode()
    assert str(report) == command("check", "board.wire", folder=tmp_path).stdout.decode()


def test_a_stage_asks_nothing_of_later_ones() -> None:
    assert "switching" not in wirecheck.check(NEVER_LIT, stage="rough-in").by_rule


@pytest.mark.parametrize("given", [RIGHT, RIGHT.encode()], ids=["text", "bytes"])
def test_a_board_is_its_text_or_its_path(given: str | bytes, tmp_path: Path) -> None:
    path = tmp_path / "a board"
    path.write_text(RIGHT)
    assert wirecheck.check(given) == wirecheck.check(path, file="-") == wirecheck.check(RIGHT)
    for report in (wirecheck.check_file(path), wirecheck.check_file(str(path)), wirecheck.check(path)):
        assert (report.file, report.passes) == (str(path), True)


def test_parts_beside_a_file_are_found(tmp_path: Path) -> None:
    own = NEVER_LIT.replace("single-pole-switch", "my-switch")
    path = tmp_path / "own.wire"
    path.write_text(own)
    assert "unknown-part" in wirecheck.check_file(path).by_rule
    shipped = files.part_text("single-pole-switch")
    assert shipped is not None
    mine = shipped.replace("part single-pole-switch", "part my-switch")
    (tmp_path / "my-switch.wire").write_text(mine)
    assert "unknown-part" not in wirecheck.check_file(path).by_rule
    assert wirecheck.energize(path).positions["S1"] == "on"
    given = Library(
        lambda name: mine if name == "my-switch" else files.part_text(name), lambda: ["my-switch"]
    )
    assert "unknown-part" not in wirecheck.check(own, library=given).by_rule


# ------------------------------------------------------- energized, measured


@pytest.mark.slow
def test_an_energized_board_is_what_the_command_prints() -> None:
    cooling = wirecheck.energize(COOLING, calls=["cool"])
    done = command("energize", COOLING, "--call", "cool", "--format", "json")
    assert json.loads(done.stdout)["states"] == [cooling.as_data()]
    assert command("energize", COOLING, "--call", "cool").stdout.decode() == str(cooling)
    assert "CU.compressor" in cooling.running and cooling.loads["CU.compressor"].does == "runs"
    assert cooling.opened == () and "TW.yellow" not in cooling.live
    assert cooling.state == "cool called" and wirecheck.energize(COOLING, calls="cool").state == "cool called"


def test_what_is_set_names_the_state_and_is_so() -> None:
    lit = wirecheck.energize(RIGHT, moved={"S1": "on"})
    assert (lit.state, lit.positions["S1"], lit.running) == ("S1 on", "on", ("L1",))
    assert lit.loads["L1"].volts == pytest.approx(120, rel=0.01)
    # 60 W at 120 V.
    assert lit.loads["L1"].amps == pytest.approx(0.5, rel=0.01)
    dark = wirecheck.energize(RIGHT, moved={"S1": "on", "BP.3": "off"})
    assert (dark.state, dark.live, dark.running) == ("S1 on and BP.3 off", (), ())
    assert wirecheck.energize(RIGHT).state == "at rest"


def test_the_moment_of_starting_draws_more() -> None:
    runs = wirecheck.energize(COOLING, calls=["cool"])
    starts = wirecheck.energize(COOLING, calls=["cool"], starting=True)
    assert starts.loads["CU.compressor"].does == "starts"
    assert starts.loads["CU.compressor"].amps > 3 * runs.loads["CU.compressor"].amps
    assert starts.state == "cool called, as the motors start"


def test_a_reading_has_a_value_a_unit_and_the_display() -> None:
    reading = wirecheck.measure(COOLING, "volts", "F.Y", "F.C", calls=["cool"])
    assert reading.value == pytest.approx(26.1, rel=0.01) and reading.unit == "V"
    assert reading.text == "26.1 V"
    off = wirecheck.measure(COOLING, "volts", "F.R", "F.C", power="off")
    assert (off.value, off.text) == (pytest.approx(0, abs=1e-6), "0 V")
    afloat = wirecheck.measure(COOLING, "volts", "F.R", "TP.ground")
    assert afloat.floating and afloat.text == "0 V, floating"
    assert wirecheck.measure(COOLING, "ohms", "F.R", "TP.ground").text == "OL"
    amps = wirecheck.measure(COOLING, "amps", "CU.compressor", calls=["cool"])
    assert amps.value == pytest.approx(13.6, rel=0.01) and amps.unit == "A"
    assert wirecheck.measure(COOLING, "amps", "CU.compressor", moved={"TP.13": "off"}).value == 0


def test_a_board_that_is_read_in_part_is_worked_out_with_a_warning() -> None:
    """What is live may be more than what could be read says."""
    broken = RIGHT.replace("  W2.black -- S1.load\n", "  W2.black -- S1.laod\n")
    with pytest.warns(PartlyRead, match="The first mistake is on line 22: S1 has no laod"):
        assert wirecheck.energize(broken).running == ()
    with pytest.warns(PartlyRead):
        wirecheck.measure(broken, "volts", "L1.hot", "L1.neutral")


def test_ohms_are_refused_on_a_live_circuit() -> None:
    with pytest.raises(PowerOn, match="de-energize"):
        wirecheck.measure(RIGHT, "ohms", "BP.3", "BP.neutral", power="on")
    assert wirecheck.measure(RIGHT, "ohms", "BP.3", "BP.neutral").through == ("L1",)
    assert wirecheck.measure(RIGHT, "ohms", "S1.line", "S1.load", moved={"S1": "off"}).text == "OL"


# ------------------------------------------------------------------ pictures


@pytest.mark.slow
def test_a_picture_is_saved_as_its_ending_says(tmp_path: Path) -> None:
    picture = wirecheck.draw(NEVER_LIT)
    for ending, begins in ((".svg", b"<?xml"), (".png", b"\x89PNG"), (".pdf", b"%PDF"), (".dot", b"graph")):
        path = tmp_path / f"board{ending}"
        picture.save(path)
        assert path.read_bytes().startswith(begins)
        assert path.read_bytes() == picture.data(ending)
    assert (
        'id="finding-1"' in picture.svg and 'id="finding-1"' not in wirecheck.draw(NEVER_LIT, flags=False).svg
    )


@pytest.mark.slow
def test_a_picture_is_what_the_command_draws(tmp_path: Path) -> None:
    for options, asked in (
        ([], {}),
        (["--kind", "ladder", "--dark"], {"kind": "ladder", "colors": "dark"}),
        (["--set", "S1=on", "--page", "a4", "--bare"], {"moved": {"S1": "on"}, "page": "a4", "flags": False}),
    ):
        done = command("draw", "-", "-o", "-", *options, stdin=RIGHT)
        assert done.stdout.decode() == wirecheck.draw(RIGHT, **asked).svg


# ----------------------------------------------------------- what is refused


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: wirecheck.check("boards/demo.wire"), "call check_file"),
        (lambda: wirecheck.check("my boards/stair light.wire"), "call check_file"),
        (lambda: wirecheck.draw("demo.wire"), "pathlib.Path"),
        (lambda: wirecheck.check_file(RIGHT), "call check"),
        (lambda: wirecheck.check_file('board "One line"'), "call check"),
        (lambda: wirecheck.check_file(7), "and this is 7"),
        (lambda: wirecheck.check(7), "and this is 7"),
        (lambda: wirecheck.check(RIGHT, stage="finish"), "there are rough-in, trim, final"),
        (lambda: wirecheck.energize(RIGHT, moved={"S2": "on"}), "There are: BP.3, S1."),
        (lambda: wirecheck.energize(RIGHT, moved={"BP.33": "off"}), "Did you mean BP.3?"),
        (lambda: wirecheck.energize(RIGHT, moved={"S1": "up"}), "S1 can be on, off."),
        (lambda: wirecheck.energize(RIGHT, moved=["S1"]), "as {'S1': 'down'}"),
        (lambda: wirecheck.energize(COOLING, calls=["coool"]), "Did you mean cool?"),
        (lambda: wirecheck.draw(COOLING, calls=["defrost"]), "There are: heat, cool, fan."),
        (lambda: wirecheck.draw(RIGHT, kind="schematic"), "there are wiring, ladder"),
        (lambda: wirecheck.draw(RIGHT, colors="night"), "there are paper, dark"),
        (lambda: wirecheck.draw(RIGHT, page="a5"), "there are letter, a4"),
        (lambda: wirecheck.draw(RIGHT).save("board.gif"), "board.gif must end in one of"),
        (lambda: wirecheck.draw(RIGHT).data("svg"), "must end in one of: .svg"),
        (lambda: wirecheck.check(RIGHT).render("xml"), "there are text, github, json"),
        (lambda: wirecheck.measure(RIGHT, "watts", "L1"), "there are volts, ohms, amps"),
        (lambda: wirecheck.measure(RIGHT, "volts", "L1.hot"), "two points"),
        (lambda: wirecheck.measure(RIGHT, "amps", "L1", "S1"), "one name"),
        (lambda: wirecheck.measure(RIGHT, "volts", "L1.hott", "L1.neutral"), "Near it: L1.hot"),
        (lambda: wirecheck.measure(RIGHT, "volts", "L1", "L1.neutral"), "L1.hot, L1.neutral, L1.ground"),
        (lambda: wirecheck.measure(RIGHT, "volts", "W1.black", "L1.neutral"), "W1.black@BP, W1.black@A"),
        (lambda: wirecheck.measure(RIGHT, "amps", "W1"), "W1.black"),
        (
            lambda: wirecheck.measure(RIGHT, "volts", "L1.hot", "L1.neutral", power="half"),
            "there are on, off",
        ),
    ],
)
def test_what_is_not_there_is_refused_with_what_there_is(call: Callable[[], object], said: str) -> None:
    with pytest.raises(WrongArgument) as refused:
        call()
    assert said in str(refused.value)


@pytest.mark.parametrize("text", ["", "Dear instructor,\nmy dog ate the board.\n", PART])
def test_what_is_no_board_is_refused(text: str, tmp_path: Path) -> None:
    path = tmp_path / "letter.wire"
    path.write_text(text)
    for call in (wirecheck.check, wirecheck.energize, wirecheck.draw):
        with pytest.raises(NotABoard):
            call(text)
    with pytest.raises(NotABoard):
        wirecheck.check_file(path)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("{\\rtf1\\ansi board}", "file of a word processor"),
        (b"PK\x03\x04", "save it as plain text"),
        ("board \u201cAttic\u201d", 'write a plain quote, "'),
        ('Board "Attic"', 'did you mean "board"?'),
    ],
)
def test_what_an_editor_did_to_a_board_is_said_with_what_to_do(text: str | bytes, said: str) -> None:
    with pytest.raises(NotABoard, match=re.escape(said)):
        wirecheck.check(text)


def test_a_file_that_is_not_there_is_the_systems_own_error(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        wirecheck.check_file(tmp_path / "missing.wire")
    with pytest.raises(IsADirectoryError):
        wirecheck.energize(tmp_path)


def test_the_command_and_the_package_refuse_in_the_same_words() -> None:
    for options, asked in (
        (["--set", "S2=on"], {"moved": {"S2": "on"}}),
        (["--set", "S1=up"], {"moved": {"S1": "up"}}),
        (["--call", "cool"], {"calls": ["cool"]}),
    ):
        with pytest.raises(WrongArgument) as refused:
            wirecheck.energize(RIGHT, **asked)
        done = command("energize", "-", *options, stdin=RIGHT)
        assert done.returncode == 2
        assert f"{options[0]} {refused.value}" in " ".join(done.stderr.decode().split())


def test_every_command_holds_the_bounds_of_a_board(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("wirecheck.assembly.MOST_STATEMENTS", 20)
    for arguments in (
        ["check", "-"], ["energize", "-"], ["checklist", "-"], ["materials", "-"], ["labels", "-"],
        ["draw", "-", "-o", "-"],
        ["draw", "-", "-o", "-", "--set", "S1=on"], ["measure", "-", "amps", "L1"],
        ["sequence", "-", "--call", "heat"],
    ):  # fmt: skip
        done = CliRunner().invoke(commands, arguments, input=RIGHT)
        assert done.exit_code == 2 and "20 at most" in done.output, arguments


# ----------------------------------------------------------------- notebooks


def test_a_notebook_shows_reports_states_and_pictures() -> None:
    report, state = wirecheck.check(MISSPELT), wirecheck.energize(RIGHT, moved={"S1": "on"})
    for finding in report.findings:
        assert finding.rule in report._repr_html_()
    assert "L1" in state._repr_html_() and "runs" in state._repr_html_()
    for page in (report._repr_html_(), state._repr_html_(), wirecheck.check(RIGHT)._repr_html_()):
        assert CAUTION in page and page.startswith("<div>") and page.endswith("</div>")
    assert wirecheck.draw(RIGHT)._repr_svg_().startswith("<?xml")


def test_nothing_of_a_board_is_markup_in_a_notebook() -> None:
    board = f'board "{HOSTILE}"\npanel LP 120 V\nS1 is {HOSTILE}\n'
    with pytest.warns(PartlyRead):
        shown = wirecheck.check(board)._repr_html_() + wirecheck.energize(board)._repr_html_()
    assert "<script" not in shown and "&lt;script&gt;" in shown
