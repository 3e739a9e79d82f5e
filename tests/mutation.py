"""How much of what is broken in the rules and in what they ask the quick tests notice.

    pip install mutmut
    python -m tests.mutation [HOW MANY] [IN WHICH MODULES ...]

mutmut changes `wirecheck/judge` and `wirecheck/rules` in every small way it knows (a number, a comparison,
an argument left out, a text). A sample of these mutants, the same in every run, is tried by the tests that
pass through the changed function; what no test notices is printed. Its settings stand in pyproject.toml.
"""

from __future__ import annotations

import fnmatch
import json
import random
import shutil
import subprocess
import sys
from pathlib import Path

HOW_MANY = 1500
SEED = 2026
FOLDER = Path("mutants")
# What mutmut gives for a mutant: 0, the tests passed; 33, no test passes through it.
SURVIVED = (0, 33)


def verdicts() -> dict[str, int | None]:
    """Each mutant by name with what mutmut gave for it, None where it was not tried."""
    told: dict[str, int | None] = {}
    for path in sorted(FOLDER.rglob("*.meta")):
        told |= json.loads(path.read_text(encoding="utf-8"))["exit_code_by_key"]
    return told


def run(names: list[str]) -> None:
    """Let mutmut try some mutants."""
    subprocess.run([shutil.which("mutmut") or "mutmut", "run", "--max-children", "2", *names], check=False)


def main(how_many: int = HOW_MANY, *modules: str) -> int:
    """The share of a sample that was noticed; 1 where it is below 95 %."""
    shutil.rmtree(FOLDER, ignore_errors=True)
    # The first run makes all mutants and learns which test passes through which function.
    run(["wirecheck.judge.limit.x_over__mutmut_1"])
    known = sorted(verdicts())
    if modules:
        known = [name for name in known if any(fnmatch.fnmatch(name, f"{module}.x*") for module in modules)]
    sample = sorted(random.Random(SEED).sample(known, min(how_many, len(known))))
    run(sample)
    told = verdicts()
    survived = [name for name in sample if told.get(name) in SURVIVED]
    untried = [name for name in sample if told.get(name) is None]
    killed = len(sample) - len(survived) - len(untried)
    sys.stdout.write("".join(f"survived: {name}\n" for name in survived))
    sys.stdout.write(f"{killed} of {len(sample)} noticed, of {len(known)} that there are")
    sys.stdout.write(f"; {len(untried)} not tried\n" if untried else "\n")
    return 0 if killed >= 0.95 * len(sample) else 1


if __name__ == "__main__":
    words = sys.argv[1:]
    count = int(words.pop(0)) if words and words[0].isdigit() else HOW_MANY
    raise SystemExit(main(count, *words))
