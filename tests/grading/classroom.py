"""Works of a class that nobody wired: right ones in many layouts, and ones with mistakes that hands make.

`python -m tests.grading.classroom EXERCISE COUNT FOLDER` writes some, for the exercises that ship.
"""

from __future__ import annotations

import random
import sys
from collections.abc import Iterator
from pathlib import Path

from tests.boards.hookups import hooks_up, hookup_mutants
from tests.boards.mutations import mutants
from tests.boards.work import Work, work
from wirecheck import files

# The board whose joins are right for each exercise.
ANSWERS = {
    "stair-light": "stair-light",
    "kitchen-multiwire": "kitchen-multiwire",
    "cooling-hookup": "cooling-call",
}
# Of a class half is wrong, and of the wrong ones every fifth has two mistakes.
WRONG, TWICE = 0.5, 0.2
GIVEN = ("Ada", "Ben", "Cleo", "Dov", "Ema", "Finn", "Gia", "Hal", "Ida", "Jon", "Kaya", "Leo", "Mia", "Nils")
FAMILY = ("Ash", "Birch", "Cole", "Dunn", "Elm", "Fox", "Gray", "Holt", "Iver", "Judd", "Kerr", "Lund")
NOTES = ("# checked twice", "# ask about this one", "#", "# black is hot")


def exercise_file(name: str) -> Path:
    """The exercise that ships under a name."""
    return files.folder("boards") / "exercises" / name / "exercise.wire"


def answer(name: str) -> Work:
    """The right board of an exercise."""
    return work((files.folder("boards") / ANSWERS[name] / "right.wire").read_text("utf-8"))


def works(name: str, count: int, seed: int = 0) -> Iterator[tuple[str, str]]:
    """The names of files and their texts."""
    dice = random.Random(f"{name} {seed}")
    right = answer(name)
    wrong = [one.work for one in (hookup_mutants if hooks_up(right) else mutants)(right)]
    for number in range(count):
        made = right
        if dice.random() < WRONG:
            made = dice.choice(wrong)
            if dice.random() < TWICE:
                again = list((hookup_mutants if hooks_up(right) else mutants)(made))
                made = dice.choice(again).work if again else made
        who = f"{dice.choice(GIVEN)} {dice.choice(FAMILY)} {number + 1}"
        yield f"{who.lower().replace(' ', '-')}.wire", laid_out(made.text(), who, dice)


def laid_out(text: str, who: str, dice: random.Random) -> str:
    """The same board in another order and layout, with its student's name."""
    head, *places = text.split("\nat ")
    tail = ""
    if places:
        last, _, asked = places[-1].partition("\nexpect ")
        places[-1], tail = last, f"\nexpect {asked}" if asked else ""
    dice.shuffle(places)
    blocks = []
    for place in places:
        first, *joins = place.split("\n")
        joins = [one for one in joins if one.strip()]
        dice.shuffle(joins)
        indent = dice.choice(("", "  ", "\t"))
        joins = [
            f"{indent}{one.strip()}{dice.choice(('', '', '', f'  {dice.choice(NOTES)}'))}" for one in joins
        ]
        blocks.append("\n".join([f"\nat {first}", *joins]))
    title, *rest = head.split("\n")
    return "\n".join([title, f'student "{who}"', *rest, *blocks]) + tail + "\n"


def main(name: str, count: str, folder: str) -> None:
    """Write a class's works."""
    place = Path(folder)
    place.mkdir(parents=True, exist_ok=True)
    for file, text in works(name, int(count)):
        (place / file).write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main(*sys.argv[1:])
