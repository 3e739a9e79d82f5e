"""What a report says of a board as a whole: whether a problem was found, and what was not judged."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from wirecheck.judge.finding import Severity
from wirecheck.language.listing import listed
from wirecheck.report.numbers import counted
from wirecheck.report.report import Report

# More names than this in one line tell a reader nothing.
MOST_NAMED = 12
# One room line shows how it is said of all.
MOST_PLACES = 4
# Whoever grades looks each of these up, so that few are cut off.
MOST_FILES = 50
SAMPLED = "Too many switches or calls act on each other here to try them all: some positions were not tried."

ENDED = "Not every change was tried that might put this right: --effort tries more of them."

_NOUNS: Mapping[Severity, tuple[str, str]] = {
    "hazard": ("hazard", "hazards"),
    "violation": ("violation", "violations"),
    "fault": ("fault", "faults"),
    "advice": ("piece of advice", "pieces of advice"),
}


def tally(found: Mapping[Severity, int]) -> str:
    """How many findings there are of each severity, nothing where there are none.

    >>> tally({"hazard": 1, "violation": 0, "fault": 2, "advice": 0})
    '1 hazard, 2 faults'
    """
    return ", ".join(counted(count, *_NOUNS[severity]) for severity, count in found.items() if count)


def clean(report: Report) -> str:
    """That nothing was found, and in what.

    >>> clean(Report("-", "Shed", "", ())), clean(Report("-", "Shed", "", (), ("L1",)))
    ('No problem found.', 'No problem found in what was judged.')
    """
    partly = report.unjudged or report.sampled or report.left_out or report.unfinished
    return "No problem found in what was judged." if partly else "No problem found."


def not_judged(report: Report) -> str:
    """What no `expect` line names, and what was not tried, in sentences; nothing where all was judged.

    >>> not_judged(Report("-", "Shed", "", (), ("L1",)))
    'Not judged: L1. No expect line names it, so whether it works as it should is not known.'
    """
    told = (
        _unnamed(report),
        _unplaced(report),
        no_answer(report.left_out),
        SAMPLED if report.sampled else "",
        ENDED if report.ended else "",
        *report.unfinished,
    )
    return " ".join(one for one in told if one)


def no_answer(left_out: Iterable[str]) -> str:
    """That the volts at some things have no answer, in a sentence; nothing where all of them have.

    >>> no_answer(["T1"])
    'Not judged: T1. The volts at it have no answer, so it is taken as open, and what hangs on it as dead.'
    """
    names = sorted(left_out)
    if not names:
        return ""
    it, is_ = ("it", "it is") if len(names) == 1 else ("them", "they are")
    return (
        f"Not judged: {listed(names, MOST_NAMED)}. The volts at {it} have no answer, so {is_} taken as open, "
        f"and what hangs on {it} as dead."
    )


def own_parts(report: Report) -> str:
    """The parts that do not ship, with their files, in a sentence; nothing where all of them do.

    >>> from wirecheck.report.report import OwnPart
    >>> own_parts(Report("-", "Shed", "", (), parts=(OwnPart("chime", "work/chime.wire", True),)))
    'Parts that do not ship: chime (work/chime.wire). The board is checked by what that file says.'
    """
    if not report.parts:
        return ""
    named = listed((f"{one.part} ({one.file})" for one in report.parts), MOST_FILES)
    files = "that file says" if len(report.parts) == 1 else "those files say"
    return f"Parts that do not ship: {named}. The board is checked by what {files}."


def passed_by(skipped: Sequence[str]) -> str:
    """The files of a folder that hold no board, in a sentence; nothing where there are none.

    >>> passed_by(["work/chime.wire"])
    'Skipped, since it holds a part, an exercise, faults or a report, and no board: work/chime.wire.'
    """
    holds = "it holds" if len(skipped) == 1 else "each holds"
    named = listed(skipped, MOST_FILES)
    return (
        f"Skipped, since {holds} a part, an exercise, faults or a report, and no board: {named}."
        if skipped
        else ""
    )


def not_wire(left_out: Sequence[str]) -> str:
    """The files in a folder whose names do not end in .wire, in a sentence; nothing where there are none.

    >>> not_wire(["work/ana.txt"])
    'Passed over is 1 file whose name does not end in .wire: work/ana.txt.'
    >>> not_wire(["ana.txt", "bo.pdf"])
    'Passed over are 2 files whose names do not end in .wire: ana.txt and bo.pdf.'
    """
    if not left_out:
        return ""
    count = len(left_out)
    told = "is 1 file whose name does" if count == 1 else f"are {count} files whose names do"
    return f"Passed over {told} not end in .wire: {listed(left_out, MOST_FILES)}."


def _unplaced(report: Report) -> str:
    if not report.unplaced:
        return ""
    is_ = "is" if len(report.unplaced) == 1 else "are"
    return (
        f"Not judged: in what kind of room {listed(report.unplaced, MOST_PLACES)} {is_}. No room line says "
        "it, so ground-fault, arc-fault and the like are not asked for there."
    )


def _unnamed(report: Report) -> str:
    if not report.unjudged:
        return ""
    them, they = ("it", "it works as it") if len(report.unjudged) == 1 else ("them", "they work as they")
    return (
        f"Not judged: {listed(report.unjudged, MOST_NAMED)}. No expect line names {them}, so whether {they} "
        "should is not known."
    )
