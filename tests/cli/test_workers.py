"""One bad file stops no other, whatever happens inside it; and none of it is a pass."""

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from junitparser import JUnitXml
from pydantic_sarif.model import StaticAnalysisResultsFormatSarifVersion210JsonSchema as Sarif

from tests.cli import spoiled
from tests.cli.boards import MISSPELT, NEVER_LIT, PART, RIGHT, ROOT, wirecheck
from tests.cli.spoiled import failing, greedy, titled
from wirecheck.cli._attempts import Done, Ended, Limits, Refused, attempt
from wirecheck.cli._sources import Unreadable
from wirecheck.cli._workers import in_workers

SAYS = {
    "DEEP": "wirecheck itself failed: RecursionError in ",
    "FAILING": "wirecheck itself failed: LookupError in ",
    "GREEDY": "needed more than 150 MB of memory",
    "KILLED": "was ended by signal 9 (SIGKILL)",
    "CRASHED": "was ended by signal 11 (SIGSEGV)",
    "LEAVING": "wirecheck itself failed: SystemExit in ",
    "OUT": "ended with status 3",
}
# The process of the tests itself may be large, and those that it forks begin as large as it is.
LIMITS = Limits(seconds=20, megabytes=1500, jobs=2)


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """Every way to fail between boards that are right, misspelt and dark."""
    folder = tmp_path_factory.mktemp("work")
    for name, text in {"a": RIGHT, "m": MISSPELT, "z": NEVER_LIT}.items():
        (folder / f"{name}.wire").write_text(text)
    for word in SAYS:
        (folder / f"{word}.wire").write_text(titled(word))
    return folder


@pytest.fixture
def spoiling(tmp_path):
    return spoiled.environment(tmp_path)


def files_of(done):
    return {each["file"]: each["findings"] for each in json.loads(done.stdout)["files"]}


@pytest.mark.slow
def test_each_failure_is_a_finding_of_its_file_and_the_others_are_whole(folder, spoiling):
    limits = ("--seconds", 20, "--megabytes", 150, "--jobs", 3)
    arguments = ("check", "z.wire", *(f"{word}.wire" for word in SAYS), "m.wire", "a.wire", *map(str, limits))
    done = wirecheck(*arguments, "-f", "json", folder=folder, **spoiling)
    assert (done.returncode, done.stderr) == (2, b"")
    found = files_of(done)
    assert list(found) == ["z.wire", *(f"{word}.wire" for word in SAYS), "m.wire", "a.wire"]
    for word, says in SAYS.items():
        (finding,) = found[f"{word}.wire"]
        assert (finding["rule"], finding["severity"]) == ("not-checked", "fault")
        assert says in finding["message"] and finding["help"]
    alone = wirecheck("check", "z.wire", "m.wire", "a.wire", "-f", "json", folder=folder)
    assert {name: found[name] for name in ("z.wire", "m.wire", "a.wire")} == files_of(alone)


def test_a_file_that_takes_too_long_is_stopped_and_the_others_are_not(tmp_path, spoiling):
    for number in range(4):
        (tmp_path / f"{number}.wire").write_text(RIGHT)
    (tmp_path / "1.wire").write_text(titled("ENDLESS"))
    done = wirecheck("check", tmp_path, "--seconds", "1", "-f", "json", **spoiling)
    assert done.returncode == 2
    findings = list(files_of(done).values())
    assert [len(each) for each in findings] == [0, 1, 0, 0]
    assert findings[1][0]["message"] == "The work on this file took longer than 1 s, and was stopped."
    assert findings[1][0]["help"] == "Run it by itself with more time: --seconds 10."


@pytest.mark.slow
def test_a_failure_stands_in_every_format(folder, spoiling):
    def report(form):
        done = wirecheck("check", "a.wire", "FAILING.wire", "-f", form, folder=folder, **spoiling)
        assert (done.returncode, done.stderr) == (2, b"")
        assert b"secret" not in done.stdout and b"Traceback" not in done.stdout
        return done.stdout.decode()

    text = " ".join(report("text").split())
    assert "Not checked (FAILING.wire) 1. FAULT: not-checked wirecheck itself failed: LookupError in" in text
    assert "This is a defect of wirecheck and not of the board. Why: " in text
    assert "To do: Please report it, with the file." in text
    assert "1 board checked, 1 not: 1 fault." in text
    (run,) = Sarif.model_validate_json(report("sarif")).runs
    assert not run.invocations[0].executionSuccessful
    assert [(one.ruleId, one.level.value) for one in run.results] == [("not-checked", "error")]
    assert run.tool.driver.rules[0].shortDescription.text == "A file could not be checked to its end."
    good, bad = JUnitXml.fromstring(report("junit").encode())
    assert [(one.tests, one.failures, one.errors) for one in (good, bad)] == [(1, 0, 0), (1, 0, 1)]
    unjudged, line = report("github").splitlines()
    assert unjudged.startswith("::notice file=a.wire,title=not judged::")
    assert line.startswith("::error file=FAILING.wire,") and "not-checked::wirecheck itself" in line
    told = json.loads(report("json"))
    assert told["summary"]["fault"] == 1 and told["files"][1]["findings"][0]["rule"] == "not-checked"


def test_its_page_of_the_manual_has_no_boards():
    done = wirecheck("rules", "not-checked")
    assert done.returncode == 0
    assert b"this is never a pass" in done.stdout
    assert b"Wrong:" not in done.stdout
    assert b"not-checked" in wirecheck("rules").stdout


@pytest.mark.parametrize(
    "arguments",
    [
        ("check",),
        ("checklist",),
        ("energize",),
        pytest.param(("measure", "volts", "BP.3", "BP.neutral"), marks=pytest.mark.slow),
        pytest.param(("sequence", "--call", "heat"), marks=pytest.mark.slow),
        pytest.param(("draw", "-o", "out.svg"), marks=pytest.mark.slow),
    ],
    ids=lambda arguments: arguments[0],
)
def test_of_one_file_too_a_failure_is_a_sentence(folder, spoiling, arguments):
    """In this process, and where there is a limit in one of its own."""
    command, *rest = arguments
    for word, limit in (("DEEP", ()), ("GREEDY", ("--megabytes", "150"))):
        done = wirecheck(command, f"{word}.wire", *rest, *limit, folder=folder, **spoiling)
        said = " ".join((done.stdout + done.stderr).decode().split())
        assert done.returncode == 2
        assert SAYS[word] in said
        assert "Traceback" not in said and "secret" not in said
        if command != "check":
            assert done.stdout == b""
    assert not (folder / "out.svg").exists()


@pytest.mark.slow
def test_the_traceback_is_there_for_who_asks(folder, spoiling):
    asked = {**spoiling, "WIRECHECK_TRACEBACK": "1"}
    for names in (["FAILING.wire"], ["FAILING.wire", "a.wire"]):
        done = wirecheck("check", *names, folder=folder, **asked)
        assert done.returncode == 2
        assert b"Traceback" in done.stderr and b"in failing" in done.stderr
    assert b"Traceback" in wirecheck("energize", "FAILING.wire", folder=folder, **asked).stderr


@pytest.mark.slow
def test_a_limit_changes_nothing_of_what_is_said(folder):
    for arguments in (
        ("check", "m.wire"),
        ("checklist", "a.wire"),
        ("energize", "m.wire"),
        ("energize", "a.wire", "--set", "S9=on"),
        ("measure", "a.wire", "volts", "BP.3", "BP.neutral"),
        ("measure", "a.wire", "ohms", "BP.3", "BP.neutral", "--power", "on"),
        ("draw", "a.wire", "-o", "-"),
    ):
        plain = wirecheck(*arguments, folder=folder)
        limited = wirecheck(*arguments, "--seconds", "30", folder=folder)
        for told in ("returncode", "stdout", "stderr"):
            assert getattr(plain, told) == getattr(limited, told)
    given = wirecheck("checklist", "-", "--seconds", "30", stdin=RIGHT).stdout
    assert given == wirecheck("checklist", "-", stdin=RIGHT).stdout


@pytest.mark.slow
def test_standard_input_is_read_among_files(folder):
    done = wirecheck("check", "a.wire", "-", "-f", "json", folder=folder, stdin=NEVER_LIT)
    found = files_of(done)
    assert list(found) == ["a.wire", "-"]
    assert found["a.wire"] == [] and "switching" in {one["rule"] for one in found["-"]}


@pytest.mark.slow
def test_a_board_of_a_folder_that_cannot_be_drawn_is_on_the_page(tmp_path):
    work = tmp_path / "work"
    work.mkdir()
    for name, text in {"a": RIGHT, "b": titled("FAILING"), "part": PART}.items():
        (work / f"{name}.wire").write_text(text)
    environment = spoiled.environment(tmp_path)
    done = wirecheck("draw", "work", "-o", "out.html", folder=tmp_path, **environment)
    assert done.returncode == 2
    assert done.stderr.startswith(b"wirecheck: b.wire was not done. wirecheck itself failed: LookupError in ")
    page = (tmp_path / "out.html").read_text()
    assert "not-checked" in page and "Boathouse lamp" in page and page.count("<section") == 2


@pytest.mark.parametrize("value", [("--seconds", "0"), ("--megabytes", "1"), ("--jobs", "0")])
def test_a_limit_that_nothing_can_keep_is_refused(folder, value):
    done = wirecheck("check", "a.wire", *value, folder=folder)
    assert done.returncode == 2 and value[0].encode() in done.stderr


def test_one_small_file_starts_no_process_and_loads_nothing_for_it(folder):
    program = (
        "import sys; from wirecheck.cli import commands; "
        "commands.main(['check', 'a.wire', '-o', 'report.txt'], standalone_mode=False); "
        "sys.exit(any(one in sys.modules for one in ('pebble', 'multiprocessing', 'concurrent')))"
    )
    done = subprocess.run(
        [sys.executable, "-c", program],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        check=False,
        timeout=60,
    )
    assert done.returncode == 0


# ------------------------------------------------------- the module by itself


def number_of(number):
    """A deed for each number, and the number back where there is none."""
    deeds = {
        1: failing,
        2: lambda: os._exit(7),
        3: greedy,
        4: lambda: os.kill(os.getpid(), signal.SIGKILL),
        5: lambda: sys.stderr.write("said\n"),
        6: lambda: None,
    }
    deeds.get(number, int)()
    if number == 6:
        raise Unreadable("6 is no number")
    return number if number != 8 else failing.__class__((lambda: 0).__code__, {})


@pytest.mark.slow
def test_outcomes_come_in_the_order_of_the_work():
    outcomes = list(in_workers(number_of, [(number,) for number in range(10)], LIMITS))
    kinds = [type(one).__name__ for one in outcomes]
    assert kinds == ["Done", *["Ended"] * 4, "Done", "Refused", "Done", "Ended", "Done"]
    assert [one.value for one in outcomes if isinstance(one, Done)] == [0, 5, 7, 9]
    assert outcomes[5] == Done(5, "said\n")
    assert "status 7" in outcomes[2].message
    assert "1500 MB" in outcomes[3].message
    assert "SIGKILL" in outcomes[4].message
    assert outcomes[6].error.message == "6 is no number"
    assert "wirecheck itself failed" in outcomes[8].message  # What it came to cannot be sent.


@pytest.mark.slow
def test_many_that_die_at_once_all_have_their_finding():
    outcomes = list(in_workers(number_of, [(2,)] * 12, LIMITS))
    assert [type(one) for one in outcomes] == [Ended] * 12


def sleeping(seconds):
    time.sleep(seconds)
    return seconds


def test_what_comes_after_the_first_waits_for_it():
    work = [(each,) for each in (0.3, 0.0, 0.1, 0.0)]
    assert [one.value for one in in_workers(sleeping, work, LIMITS)] == [0.3, 0.0, 0.1, 0.0]


def test_who_stops_asking_leaves_no_process():
    outcomes = in_workers(sleeping, [(0,), (60,), (60,)], LIMITS)
    assert next(outcomes) == Done(0)
    before = children(os.getpid())
    assert len(before) == 2
    outcomes.close()
    assert children(os.getpid()) == []


def test_an_attempt_in_this_process():
    assert attempt(int, "7") == Done(7)
    assert isinstance(attempt(number_of, 6), Refused)
    ended = attempt(failing)
    assert ended.message.startswith("wirecheck itself failed: LookupError in wirecheck/cli/")
    assert "secret" not in ended.message

    def starved():
        raise MemoryError

    assert "more memory than there is" in attempt(starved).message


# ----------------------------------------------------------- ends of the run


def children(process):
    """The processes that a process started and that still run, on Linux."""
    found = []
    for place in Path("/proc").glob("[0-9]*/stat"):
        try:
            state, parent = place.read_text().rpartition(")")[2].split()[:2]
        except OSError:
            continue
        if int(parent) == process and state != "Z":
            found.append(int(place.parent.name))
    return found


def started(folder, environment, *arguments):
    """A command at work on files of which one never ends, with its workers."""
    process = subprocess.Popen(
        [sys.executable, "-m", "wirecheck", *arguments],
        cwd=folder,
        env={**os.environ, **environment},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        start_new_session=True,
    )
    end = time.monotonic() + 30
    while not (workers := children(process.pid)) and time.monotonic() < end:
        time.sleep(0.01)
    assert workers
    return process, workers


def gone(workers):
    end = time.monotonic() + 10
    while (left := [one for one in workers if Path(f"/proc/{one}").exists()]) and time.monotonic() < end:
        time.sleep(0.01)
    return not left


@pytest.fixture
def slow(tmp_path):
    work = tmp_path / "work"
    work.mkdir()
    for number in range(4):
        (work / f"{number}.wire").write_text(titled("ENDLESS"))
    return work


@pytest.mark.parametrize(
    "command", [("check", "."), pytest.param(("draw", ".", "-o", "../out.html"), marks=pytest.mark.slow)]
)
def test_an_interrupt_ends_all_at_once_and_leaves_nothing(slow, tmp_path, command):
    process, workers = started(slow, spoiled.environment(tmp_path), *command)
    time.sleep(0.2)
    begun = time.monotonic()
    os.killpg(process.pid, signal.SIGINT)
    out, err = process.communicate(timeout=30)
    assert time.monotonic() - begun < 5
    assert (process.returncode, out, err.strip()) == (130, b"", b"wirecheck: stopped.")
    assert gone(workers)
    assert not (tmp_path / "out.html").exists()


@pytest.mark.slow
@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGTERM])
def test_workers_end_with_the_process_that_started_them(slow, tmp_path, how):
    process, workers = started(slow, spoiled.environment(tmp_path), "check", ".")
    process.send_signal(how)
    process.communicate(timeout=30)
    assert gone(workers)


@pytest.mark.parametrize(
    "arguments",
    [
        ("--help",),
        ("--version",),
        ("check", "--help"),
        ("check", "boards/rules/ampacity"),
        pytest.param(("check", "boards/demo.wire"), marks=pytest.mark.slow),
        pytest.param(("checklist", "boards/demo.wire"), marks=pytest.mark.slow),
        pytest.param(("demo",), marks=pytest.mark.slow),
        pytest.param(("draw", "boards/demo.wire", "-o", "-"), marks=pytest.mark.slow),
        ("energize", "boards/stair-light/right.wire"),
        ("measure", "boards/stair-light/right.wire", "volts", "S1.common", "TP.neutral"),
        ("parts",),
        ("rules",),
        ("sequence", "boards/heating-call/right.wire", "--call", "heat"),
        ("tidy", "-"),
    ],
    ids=lambda arguments: " ".join(arguments[:2]),
)
def test_an_output_that_is_closed_ends_every_command_quietly(arguments, tmp_path):
    (tmp_path / "boards").symlink_to(ROOT / "boards")
    process = subprocess.Popen(
        [sys.executable, "-W", "error", "-m", "wirecheck", *arguments],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdin=subprocess.DEVNULL if arguments[0] != "tidy" else subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    process.stdout.close()
    if process.stdin is not None:
        process.stdin.write(RIGHT.encode())
        process.stdin.close()
    errors = process.stderr.read()
    process.stderr.close()
    assert (process.wait(60), errors) == (141, b"")


@pytest.mark.slow
@pytest.mark.parametrize("unbuffered", ["", "1"])
def test_the_first_line_of_a_large_report(tmp_path, unbuffered):
    board = tmp_path / "large.wire"
    board.write_text(RIGHT + "".join(f"box X{number} devise\n" for number in range(2000)))
    command = f"{sys.executable} -m wirecheck check large.wire --effort 0 -f sarif | head -1"
    done = subprocess.run(
        ["bash", "-c", f"set -o pipefail; {command}"],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(ROOT), "PYTHONUNBUFFERED": unbuffered},
        capture_output=True,
        timeout=60,
        check=False,
    )
    assert (done.returncode, done.stdout, done.stderr) == (141, b"{\n", b"")


@pytest.mark.slow
@pytest.mark.parametrize("closed", [">&-", "2>&-", "<&-", ">&- 2>&- <&-"])
def test_streams_that_are_closed_before_the_start(tmp_path, closed):
    (tmp_path / "a.wire").write_text(RIGHT)
    done = subprocess.run(
        ["bash", "-c", f"{sys.executable} -m wirecheck check a.wire a.wire {closed}"],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        timeout=60,
        check=False,
    )
    assert (done.returncode, done.stderr) == (0, b"")
