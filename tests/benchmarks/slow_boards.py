"""What the boards of `hostile` take in a process of their own, held against a stair light's.

    python -m tests.benchmarks.slow_boards

prints, for each board, how many times as long as the check of the stair light its check takes.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import NamedTuple

from tests.benchmarks.hostile import BOARDS, Slow
from wirecheck import files

STAIR = Slow((files.folder("boards") / "stair-light" / "right.wire").read_text(encoding="utf-8"), {})
# What a user types after the name of the command and the file.
ARGUMENTS = {
    "draw": ("-o", "picture.svg"),
    "measure": ("volts", "LP.leg-a", "LP.neutral"),
    "sequence": ("--call", "heat"),
}


class Cost(NamedTuple):
    """What a command took: seconds of the processor, and the most memory."""

    seconds: float
    megabytes: float


# What a process takes is counted from where it was forked: a small process, and not that of the tests.
LAUNCHER = """
import os, subprocess, sys
null = subprocess.DEVNULL
_, _, usage = os.wait4(subprocess.Popen(sys.argv[1:], stdout=null, stderr=null).pid, 0)
print(usage.ru_utime + usage.ru_stime, usage.ru_maxrss)
"""


def cost(made: Slow, command: str, folder: Path) -> Cost:
    """What a command takes on a board in a folder of its own, with its parts beside it."""
    here = Path(tempfile.mkdtemp(dir=folder))
    (here / "board.wire").write_text(made.text, encoding="utf-8")
    for name, text in made.parts.items():
        (here / f"{name}.wire").write_text(text, encoding="utf-8")
    words = [sys.executable, "-m", "wirecheck", command, "board.wire", *ARGUMENTS.get(command, ())]
    path = os.pathsep.join(filter(None, [str(Path.cwd()), os.environ.get("PYTHONPATH")]))
    told = subprocess.run(
        [sys.executable, "-c", LAUNCHER, *words],
        cwd=here,
        env={**os.environ, "PYTHONPATH": path},
        stdout=subprocess.PIPE,
        check=True,
    )
    seconds, kilobytes = told.stdout.split()
    return Cost(float(seconds), int(kilobytes) / 1024)


def times(here: Cost, usual: Cost) -> float:
    """How many times as long one takes as another."""
    return here.seconds / usual.seconds


def main() -> None:
    """Print the table."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        usual = cost(STAIR, "check", folder)
        for board, made in BOARDS.items():
            here = cost(made, "check", folder)
            sys.stdout.write(f"{board},{times(here, usual):.1f},{here.megabytes:.0f}\n")
            sys.stdout.flush()


if __name__ == "__main__":
    main()
