"""Boards written by hands that had not read the rules, each with the verdict that they gave it beforehand.

They had textbook practice, the page on the language and the list of parts. A board's head says what they
thought of it, `right` or `wrong`, and what was found when it was first checked; `# wrong here` stands where
the hand would change something. `# finds:` marks what is found now, as on the boards that ship.
"""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest

from tests.boards.test_boards import marks
from wirecheck import check_file
from wirecheck.judge.finding import Finding

HERE = Path(__file__).with_name("by_hand")
FILES = sorted(HERE.rglob("*.wire"))
README = Path(__file__).parents[2] / "README.md"
LEAST = 150


def named(path: Path) -> str:
    return str(path.relative_to(HERE))


def head(path: Path, what: str) -> str:
    found = re.search(rf"^# {what}: (.+)$", path.read_text(encoding="utf-8"), re.MULTILINE)
    assert found, f"{named(path)} does not say {what}"
    return found[1]


def worse(path: Path) -> list[Finding]:
    return [one for one in check_file(path).findings if one.severity != "advice"]


@pytest.mark.parametrize(
    "path",
    [pytest.param(path, marks=[pytest.mark.slow] * (at % 5 > 0)) for at, path in enumerate(FILES)],
    ids=named,
)
def test_what_is_found_is_what_is_marked(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert Counter((one.line, one.rule) for one in worse(path)) == marks(text)
    if head(path, "by hand") == "right":
        assert not marks(text), "a right board is complained of"
    elif head(path, "grade") != "advice":
        assert bool(marks(text)) != ("# passes still: " in text), "a wrong board passes"
    else:
        assert check_file(path).findings, "a poor board passes"


def on_its_line(path: Path) -> bool:
    """Whether something is found on a line on which the hand would change something."""
    lines = path.read_text(encoding="utf-8").splitlines()
    return any("# wrong here" in line and "# finds:" in line for line in lines)


def table() -> str:
    """How many there are, what was found when each was first checked, and what is found now."""
    told = Counter((head(path, "by hand"), head(path, "at first")) for path in FILES)
    wrong, right = (
        sum(count for (verdict, _), count in told.items() if verdict == one) for one in ("wrong", "right")
    )
    there = sum(map(on_its_line, FILES))
    still = sum("# passes still: " in path.read_text(encoding="utf-8") for path in FILES)
    return "\n".join(
        (
            "| the hand's verdict | boards | when first checked | now |",
            "|---|---|---|---|",
            f"| wrong | {wrong} | {told['wrong', 'found']} found | "
            f"{wrong - still} found, {there} on the hand's own line |",
            f"| right | {right} | {told['right', 'complained of']} complained of | 0 complained of |",
        )
    )


def test_the_readme_has_the_table_as_it_is() -> None:
    assert len(FILES) >= LEAST
    assert table() in README.read_text(encoding="utf-8"), table()
