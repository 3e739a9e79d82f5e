"""`python -m tests.mend`: what is offered on the boards that were made wrong on purpose, which takes minutes.

`python -m tests.mend LOG` gives every mistake of the proof to the search, which takes hours. What was counted
of each board is kept in that file, and a run that is begun again goes on with the next board. With a number
behind it, one mistake in so many is drawn by lot on each board.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterable
from pathlib import Path
from random import Random

from tests.boards.test_proof import HOOKUPS, SHOP
from tests.mend.marked import by_hand, ships, table
from tests.mend.proof import Chosen, MendProof, named, named_hookups

Named = Callable[[Iterable[tuple[str, str]], Chosen], MendProof]


def main() -> None:
    """Count board by board, each where its line is not in the log yet, and print the table of all."""
    if len(sys.argv) == 1:
        sys.stdout.write(table((("by fresh hands", by_hand()), ("that ship", ships()))) + "\n")
        return
    log = Path(sys.argv[1])
    one_in = int(sys.argv[2]) if len(sys.argv) > 2 else 1
    log.touch()
    told = {line.split("\t")[0]: line.split("\t") for line in log.read_text("utf-8").splitlines()}
    whole = MendProof()
    works: list[tuple[str, str, Named]] = [
        *((f"letters of {name}", text, named_hookups) for name, text in HOOKUPS),
        *((name, text, named) for name, text in SHOP),
    ]
    for name, text, count in works:
        if name not in told:
            proof = count([(name, text)], drawn(one_in, name))
            told[name] = [name, proof.figures(), json.dumps(proof.missed), json.dumps(proof.failing)]
            with log.open("a", encoding="utf-8") as file:
                file.write("\t".join(told[name]) + "\n")
        whole.add(told[name][1])
        whole.missed += json.loads(told[name][2])
        whole.failing += json.loads(told[name][3])
    sys.stdout.write(
        "\n".join([whole.table(), "", "missed:", *whole.missed, "", "failing:", *whole.failing, ""])
    )


def drawn(one_in: int, board: str) -> Chosen:
    """A lot for the mistakes of a board, the same at each run."""
    lot = Random(board)
    return lambda _: lot.random() * one_in < 1


if __name__ == "__main__":
    main()
