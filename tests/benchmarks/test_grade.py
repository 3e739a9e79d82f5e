"""What it takes to grade a class, and ten thousand works, as whole processes with all that they start.

Their bounds are seconds on two cores, since a teacher waits for them.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

from tests.grading.classroom import exercise_file, works

MOST_MEMORY = 1e9
LOOKS_EVERY = 0.5


def classroom(name: str, count: int, folder: Path) -> Path:
    for file, text in works(name, count, seed=1):
        (folder / file).write_text(text, encoding="utf-8")
    return folder


def memory_of(group: int) -> int:
    """The bytes that the processes of a group have between them: what they share counts once."""
    total = 0
    for process in Path("/proc").glob("[0-9]*"):
        try:
            if os.getpgid(int(process.name)) == group:
                rolled = (process / "smaps_rollup").read_text()
                total += next(int(line.split()[1]) * 1024 for line in rolled.split("\n") if "Pss:" in line)
        except (OSError, StopIteration):
            continue
    return total


def graded(name: str, folder: Path, *options: str) -> tuple[float, int, dict]:
    """The seconds it takes, the most memory seen, and what comes out."""
    output = folder.parent / "marks.json"
    command = [
        "-m",
        "wirecheck",
        "grade",
        str(exercise_file(name)),
        str(folder),
        "-f",
        "json",
        "-o",
        str(output),
    ]
    begun = time.perf_counter()
    process = subprocess.Popen([sys.executable, *command, *options], start_new_session=True)
    most = [0]

    def look() -> None:
        while process.poll() is None:
            most[0] = max(most[0], memory_of(process.pid))
            time.sleep(LOOKS_EVERY)

    looking = threading.Thread(target=look)
    looking.start()
    assert process.wait() == 0
    took = time.perf_counter() - begun
    looking.join()
    return took, most[0], json.loads(output.read_text("utf-8"))


@pytest.mark.slow
@pytest.mark.parametrize(
    ("name", "count", "options", "seconds"),
    [
        ("stair-light", 30, (), 5),
        ("stair-light", 10_000, ("--effort", "0"), 90),
        ("stair-light", 10_000, (), 240),
        # As many of each as of ten thousand in twenty minutes.
        ("cooling-hookup", 3_000, (), 360),
    ],
    ids=["a class", "10,000 without the search", "10,000", "3,000 hookups"],
)
def test_a_class_is_graded_in_its_time(benchmark, tmp_path, name, count, options, seconds) -> None:
    folder = tmp_path / "works"
    folder.mkdir()
    classroom(name, count, folder)
    took, memory, marks = benchmark.pedantic(graded, args=(name, folder, *options), rounds=1)
    benchmark.extra_info.update(seconds=took, megabytes=memory / 1e6)
    wrong = sum(bool(one["taken"]) for one in marks["works"])
    sys.stdout.write(
        f"{count} works of {name} {' '.join(options)}: {took:.0f} s of {seconds}, {memory / 1e6:.0f} MB\n"
    )
    assert len(marks["works"]) == count and count * 0.3 < wrong < count * 0.6
    assert not any(one["refused"] for one in marks["works"])
    assert took < seconds and memory < MOST_MEMORY
