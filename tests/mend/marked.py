"""What is offered on boards that were made wrong on purpose: those that ship, and those by fresh hands.

The right board is not known here, but the lines on which the hand would change something are marked.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from pathlib import Path

from tests.boards.copper import merged
from tests.mend.proof import EFFORT, worse
from wirecheck import check, files
from wirecheck.language.reader import read
from wirecheck.language.syntax import AtStatement, BoardTitle, JoinStatement
from wirecheck.language.tidy import meaning
from wirecheck.report.report import Report

COLUMNS = (
    "boards",
    "findings",
    "with a mend",
    "on a marked line",
    "among three",
    "cleared",
    "mends that fail",
)
HANDS = Path(__file__).parents[1] / "boards" / "by_hand"
MOST_MISTAKES = 8


def by_hand() -> list[Path]:
    """The wrong boards by fresh hands on which something is found."""
    texts = ((path, path.read_text("utf-8")) for path in sorted(HANDS.rglob("*.wire")))
    return [path for path, text in texts if "# by hand: wrong" in text and "# finds:" in text]


def ships() -> list[Path]:
    """The wrong boards that ship beside a right one."""
    return sorted(files.folder("boards").glob("*/wrong-*.wire"))


def marked_lines(text: str) -> set[int]:
    """The lines where a hand would change something, or, where none is marked so, those of what is found."""
    lines = list(enumerate(text.splitlines(), 1))
    for mark in ("# wrong here", "# finds:"):
        if found := {number for number, line in lines if mark in line}:
            return found
    return set()


def offered(path: Path) -> Counter[str]:
    """What is found on one wrong board, and what the mends that are offered come to.

    A mend is on its line where one of the first three changes a line that is marked; a board is cleared where
    nothing is found once the first mend of what is left was made, again and again. It is the right board
    again where that lies beside it, and the first mend makes the same of it.
    """
    text = path.read_text("utf-8")
    report = check(text, effort=EFFORT)
    found = worse(report)
    told = Counter(dict.fromkeys(COLUMNS, 0))
    heads = [finding for finding in found if finding.mends]
    marked = marked_lines(text)
    told["boards"], told["findings"], told["with a mend"] = 1, len(found), len(heads)
    told["on its line"] = sum(
        any(
            _near(edit.span.line, edit.span.end_line, marked) for mend in finding.mends for edit in mend.edits
        )
        for finding in heads
    )
    told["mends that fail"] = sum(_fails(report, number) for number in range(1, len(report.mends) + 1))
    told["cleared"] = bool(found) and _cleared(report)
    right = path.with_name("right.wire")
    if report.mends and right.exists():
        told["right again"] = _said(report.mended(1)) == _said(right.read_text("utf-8"))
    return told


def _said(text: str) -> tuple[list[str], set[frozenset[str]]]:
    """What a board has, and what hangs together on it, in whatever order and by whatever pigtails."""
    has, together, place = [], [], ""
    for one in read(text, "-").statements:
        if isinstance(one, AtStatement):
            place = one.place.text
        elif isinstance(one, JoinStatement):
            names = [end.name.text for end in one.ends if end.name]
            together.append({f"{place}: {name}" for name in names})
            has += [
                f"{place}: {end.name.text} is {end.marked.text}"
                for end in one.ends
                if end.name and end.marked
            ]
        elif not isinstance(one, BoardTitle):
            has.append(str(meaning(one)))
    pieces: dict[int, set[str]] = {}
    for name, number in merged(together).items():
        pieces.setdefault(number, set()).add(name)
    return sorted(has), {frozenset(piece) for piece in pieces.values()}


def table(groups: Iterable[tuple[str, Iterable[Path]]]) -> str:
    """A line for each group of files."""
    lines = ["| | " + " | ".join(COLUMNS) + " |", "|---" * (len(COLUMNS) + 1) + "|"]
    for name, paths in groups:
        counts: Counter[str] = Counter()
        for path in paths:
            counts.update(offered(path))
        lines.append(f"| {name} | " + " | ".join(f"{counts[each]:,}" for each in COLUMNS) + " |")
    return "\n".join(lines)


def _near(first: int, last: int, marked: set[int]) -> bool:
    return any(first <= line <= last for line in marked)


def _fails(report: Report, number: int) -> bool:
    """Whether a mend leaves what it was offered for, or brings something that is worse than advice."""
    (mended,) = (finding for finding in report.findings if report.mends[number - 1] in finding.mends)
    before = Counter((one.rule, one.subject) for one in worse(check(report.text)))
    after = Counter((one.rule, one.subject) for one in worse(check(report.mended(number))))
    return after[mended.rule, mended.subject] >= before[mended.rule, mended.subject] or bool(after - before)


def _cleared(report: Report) -> bool:
    for _ in range(MOST_MISTAKES):
        if not report.mends:
            break
        report = check(report.mended(1), effort=EFFORT)
    return not worse(report)
