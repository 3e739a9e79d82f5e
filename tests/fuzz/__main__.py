"""`python -m tests.fuzz [TARGET...]`: a run of the fuzzer, with what it came to."""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path
from zlib import crc32

from tests.fuzz.targets import TARGETS, strict
from tests.fuzz.trouble import Trouble, armed, smaller, trouble

FOUND = Path(__file__).parent / "found"


def main() -> int:
    """Run the targets that are named, or all; 1 where one of them is in trouble."""
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz", description=__doc__)
    parser.add_argument("targets", nargs="*", metavar="TARGET", help=f"of {', '.join(TARGETS)}; default: all")
    parser.add_argument("--seconds", type=float, default=60, help="how long it runs, over all targets")
    parser.add_argument("--seed", type=int, default=1, help="of the dice")
    parser.add_argument(
        "--kept", type=Path, help="a folder for texts that reach something new, for the next run"
    )
    parser.add_argument("--found", type=Path, default=FOUND, help="where what it finds is put, made small")
    parser.add_argument(
        "--log", type=Path, help="a file to which the counts are added, a line for each target"
    )
    asked = parser.parse_args()
    for name in asked.targets:
        if name not in TARGETS:
            parser.error(f"there is no target {name}: there are {', '.join(TARGETS)}")
    names = asked.targets or list(TARGETS)
    # A text is a board or a part, and is tried on targets of its kind.
    kinds = [group for parts in (False, True) if (group := [n for n in names if TARGETS[n].parts == parts])]
    counts: dict[str, tuple[int, float]] = {}
    wrong: list[tuple[str, Trouble, bytes]] = []
    for group in kinds:
        with tempfile.TemporaryDirectory() as work:
            seconds = asked.seconds * len(group) / len(names)
            kept = asked.kept / group[0] if asked.kept else Path(work, "kept")
            counts |= _run(group, seconds, asked.seed, kept, Path(work, "found"))
            wrong += _confirmed(Path(work, "found"))
    for name, (tried, took) in counts.items():
        each = f"{took / tried * 1e3:.2f} ms each" if tried else ""
        say(f"{name:10} {tried:>9,} texts {each}")
        if asked.log:
            with asked.log.open("a", encoding="utf-8") as log:
                log.write(f"{name} {tried} {took:.0f}\n")
    for name, what, data in wrong:
        path = asked.found / f"{name}-{crc32(data):08x}.wire"
        path.parent.mkdir(exist_ok=True, parents=True)
        path.write_bytes(data)
        say(f"\n{name}: {what.place}\n  {what.words}\n  {path}")
    return 1 if wrong else 0


def say(line: str) -> None:
    """Tell the user."""
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


def _run(
    names: Sequence[str], seconds: float, seed: int, kept: Path, found: Path
) -> dict[str, tuple[int, float]]:
    """Run the engine in its own process; how many texts each target took, and how long."""
    kept.mkdir(exist_ok=True, parents=True)
    found.mkdir()
    plan = json.dumps([names, seconds, seed, str(kept), str(found)])
    with Path(found, "log").open("wb") as log:
        ended = subprocess.run(
            [sys.executable, "-m", "tests.fuzz.engine", plan],
            env={**os.environ, "PYTHONHASHSEED": "0"}, stdout=log, stderr=log, check=False,
        )  # fmt: skip
    counts = found / "counts.json"
    if ended.returncode or not counts.exists():
        last = (found / "log").read_text("utf-8", "replace").splitlines()[-30:]
        say("\n".join([*last, f"The engine ended with {ended.returncode}."]))
        if not counts.exists():
            raise SystemExit(2)
    told = json.loads(counts.read_text("utf-8"))
    return {name: (told["tried"][name], told["times"][name]) for name in names}


def _confirmed(found: Path) -> Iterator[tuple[str, Trouble, bytes]]:
    """What is wrong without the engine too, each trouble once, by its smallest text."""
    strict()
    armed()
    best: dict[tuple[str, str], tuple[Trouble, bytes]] = {}
    for path in sorted(found.glob("*.wire")):
        name = path.name.rpartition("-")[0]
        data = path.read_bytes()
        what = trouble(TARGETS[name], data)
        if what is None:
            continue
        place = what.place

        def holds(less: bytes, name: str = name, place: str = place) -> bool:
            again = trouble(TARGETS[name], less)
            return again is not None and again.place == place

        data = smaller(data, holds, 400 if what.place != "slow" else 30)
        what = trouble(TARGETS[name], data) or what
        key = name, what.place
        if key not in best or len(data) < len(best[key][1]):
            best[key] = what, data
    for path in sorted(found.glob("ended-*")):
        data = path.read_bytes()
        best["ended", path.name] = Trouble("ended", "the engine's process ended with this text"), data
    for (name, _), (what, data) in sorted(best.items()):
        yield name, what, data


if __name__ == "__main__":
    sys.exit(main())
