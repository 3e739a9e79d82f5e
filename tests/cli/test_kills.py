"""A process that is killed at any moment leaves every file whole, and none behind.

The moments are random and the same in every run: some are counted from where the program hears
signals, the others from the start of a write, which is where a file could be left in pieces.
"""

import os
import random
import signal
import subprocess
import sys
import time
from collections import Counter
from concurrent.futures import ThreadPoolExecutor

import pytest

from tests.cli.boards import NEVER_LIT, RIGHT, ROOT

# The command with a mark in the output that the test reads: where it begins, and at the start and the end of
# each write. Before it has begun, an interrupt is Python's own matter, and so is what it says of it.
MARKED = """
import os, sys
from wirecheck import whole
write = whole.write_whole
def marked(path, data):
    os.write(MARKS, b"(")
    write(path, data)
    os.write(MARKS, b")")
whole.write_whole = marked
from wirecheck.cli import main
os.write(MARKS, b".")
main()
"""
UNTIDY = RIGHT.replace("  W1.black -- S1.line", "W1.black   --S1.line")
SIGNALS = (signal.SIGKILL, signal.SIGTERM, signal.SIGINT, signal.SIGHUP)
WORKS = {
    "tidy": ("tidy", "."),
    "check -o": ("check", "dark.wire", "-o", "out.txt"),
    "draw -o": ("draw", "dark.wire", "-o", "out.svg"),
    "check a folder": ("check", ".", "--jobs", "2", "-o", "out.txt"),
}
BOARDS = 8


def made(folder):
    """A folder of boards that are not tidy, and one with a finding; what was written before, as it was."""
    folder.mkdir()
    for number in range(BOARDS):
        (folder / f"{number}.wire").write_text(UNTIDY)
    (folder / "dark.wire").write_text(NEVER_LIT)
    (folder / "out.txt").write_text("old")
    (folder / "out.svg").write_text("old")
    return folder


def begun(arguments, folder, marks):
    return subprocess.Popen(
        [sys.executable, "-c", MARKED.replace("MARKS", str(marks)), *arguments],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        pass_fds=[marks],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        start_new_session=True,
    )


def content(folder):
    return {path.name: path.read_bytes() for path in folder.iterdir()}


@pytest.fixture(scope="module")
def whole_runs(tmp_path_factory):
    """What each work leaves when nothing disturbs it, its exit status, and how long it takes."""
    runs = {}
    for number, (name, arguments) in enumerate(WORKS.items()):
        folder = made(tmp_path_factory.mktemp("whole") / str(number))
        reading, writing = os.pipe()
        start = time.monotonic()
        run = begun(arguments, folder, writing)
        said = run.communicate(timeout=120)[1]
        assert said == b"", name
        runs[name] = (content(folder), run.returncode, time.monotonic() - start)
        os.close(reading)
        os.close(writing)
    return runs


def killed(folder, name, number, seconds, dice):
    """Kill a run of a work: the folder before and after, its status, what it said, and its marks."""
    made(folder)
    before = content(folder)
    reading, writing = os.pipe()
    run = begun(WORKS[name], folder, writing)
    os.close(writing)
    assert os.read(reading, 1) == b"."
    marks = b""
    if dice.random() < 0.4:
        time.sleep(dice.uniform(0, seconds))
    else:
        # A moment after the start of a write, and of any one where there are several.
        wanted = dice.randrange(BOARDS) if name == "tidy" else 0
        while marks.count(b"(") <= wanted and (mark := os.read(reading, 1)):
            marks += mark
        time.sleep(dice.choice((0, dice.uniform(0, 0.001), dice.uniform(0, 0.01))))
    run.send_signal(number)
    # The other end is closed when no process is left that came from this one.
    while more := os.read(reading, 100):
        marks += more
    os.close(reading)
    said = run.communicate(timeout=60)[1].decode()
    return before, content(folder), run.returncode, said, marks


def kill(folder, whole_run, name, number, dice):
    """Kill a run, hold what it leaves against what it should, and tell where it was hit."""
    after_all, done, seconds = whole_run
    before, after, status, said, marks = killed(folder, name, number, seconds, dice)
    what = (name, number.name, status, said, marks)
    left = after.keys() - before.keys()
    if number == signal.SIGKILL and len(left) == 1 and min(left).startswith(".wirecheck-"):
        # Between two calls of the system the whole new file has a hidden name; nothing can clear it then.
        after = {file: data for file, data in after.items() if file not in left}
        (folder / min(left)).unlink()
    assert after.keys() == before.keys(), what
    for file, data in after.items():
        assert data in (before[file], after_all[file]), (file, what)
    assert status in (done, -number, 128 + number), what
    # Python itself is loud about an interrupt that comes before the command has begun.
    assert "Traceback" not in said or (number == signal.SIGINT and not marks), what
    if status == done:
        return "after its end"
    if marks.count(b"(") > marks.count(b")"):
        return "in a write"
    return "between or after writes" if marks else "before a write"


def kills(folder, whole_runs, count):
    """Kill so many runs, two at a time; how many were hit where."""

    def one(number):
        dice = random.Random(number)
        name = list(WORKS)[number % len(WORKS)]
        signalled = SIGNALS[number // len(WORKS) % len(SIGNALS)]
        return name, signalled.name, kill(folder / str(number), whole_runs[name], name, signalled, dice)

    with ThreadPoolExecutor(2) as pool:
        return Counter(pool.map(one, range(count)))


@pytest.mark.slow
def test_a_kill_at_any_moment_leaves_files_whole_and_none_behind(tmp_path, whole_runs):
    hit = kills(tmp_path, whole_runs, len(WORKS) * len(SIGNALS))
    assert sum(count for (_, _, where), count in hit.items() if where == "in a write") > 2


@pytest.mark.slow
def test_a_thousand_kills(tmp_path, whole_runs):
    hit = kills(tmp_path, whole_runs, 1000)
    for number, of in enumerate(("by work", "by signal", "by moment")):
        figures = Counter()
        for key, count in hit.items():
            figures[key[number]] += count
        sys.stdout.write(f"{of}: {dict(figures)}\n")
    assert sum(count for (_, _, where), count in hit.items() if where == "in a write") > 100


SWALLOWED = {
    "in a callback": "gone = type('Gone', (), {})(); ref = weakref.ref(gone, now); del gone",
    "in the making of a class": "type('Made', (), {'part': type('Part', (), {'__set_name__': now})()})",
    "in the work on a file": "_attempts.attempt("
    "lambda: type('Made', (), {'part': type('Part', (), {'__set_name__': now})()}))",
}


@pytest.mark.parametrize("within", SWALLOWED.values(), ids=SWALLOWED)
def test_an_end_that_python_swallows_is_an_end(within):
    """Raised where nothing can be raised it is lost, and in the making of a class it is another error."""
    program = (
        "import os, signal, weakref; from wirecheck import cli; from wirecheck.cli import _attempts\n"
        "def now(*_): os.kill(os.getpid(), signal.SIGTERM)\n"
        f"def main(**_): {within}\n"
        "cli.commands.main = main\n"
        "cli.main()\n"
    )
    run = subprocess.run(
        [sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True, check=False, timeout=60
    )
    assert (run.returncode, run.stdout, run.stderr) == (128 + signal.SIGTERM, "", "wirecheck: stopped.\n")
