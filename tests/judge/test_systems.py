"""What a board's systems are, and that each is judged as it would be alone."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest

from tests.circuit.repeated import repeated
from tests.samples import board
from wirecheck import check, files
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Finding
from wirecheck.judge.systems import systems
from wirecheck.model.board import Board
from wirecheck.model.devices import every_device
from wirecheck.report import checklist, position_table

BOARDS = files.folder("boards")
NUMBERED = re.compile(r"(?<=\w)-[12](?![\w-])")
# A panel with its positions.
ELSEWHERE = re.compile(r"\b(P1|TP|LP)(\.\d+)?\b")


def shipped(name: str, wrong: str = "right") -> str:
    return (BOARDS / name / f"{wrong}.wire").read_text()


def with_calls() -> list[Path]:
    """The boards that ship with something that makes calls, wrong ones too."""
    return sorted(
        path
        for path in [*BOARDS.glob("*/*.wire"), *BOARDS.glob("rules/*/*.wire")]
        if any(device.part.calls for device in board(path.read_text()).devices.values())
    )


# Two calls at once stand in the order of their names, to which who makes them belongs.
BOTH = re.compile(r"([a-z-]+) called and ([a-z-]+) called")


def in_order(match: re.Match[str]) -> str:
    first, then = sorted(match.groups())
    return f"{first} called and {then} called"


def told(found: tuple[Finding, ...], makers: list[str]) -> Counter[tuple[object, ...]]:
    """Findings without the numbers of copies, positions, and who makes a call."""
    owner = re.compile(rf"\b({'|'.join(map(re.escape, makers))})\.(?=[a-z]+\b)")

    def plain(text: str) -> str:
        return BOTH.sub(in_order, owner.sub("", ELSEWHERE.sub("panel", NUMBERED.sub("", text))))

    return Counter(
        (
            one.rule,
            one.severity,
            plain(one.subject),
            plain(one.message),
            plain(one.help or ""),
            one.value,
            one.limit,
        )
        for one in found
    )


def makers(made: Board) -> list[str]:
    return [device.name for device in every_device(made.devices) if device.part.calls]


def judged_alike(path: Path) -> None:
    text = path.read_text()
    twice, once = check(repeated([text], 2)).findings, check(text).findings
    names = makers(board(text))
    assert told(twice, names) == told(once + once, names)


@pytest.mark.slow
@pytest.mark.parametrize(
    "name",
    [
        "heating-call/right",
        "boiler-two-zones/wrong-end-switch-jumpered",
        "cooling-call/wrong-r-to-common",
        "rules/held-off/wrong",
        "pump-down-cooler/wrong-low-pressure-control-jumpered",
    ],
)
def test_a_system_that_stands_twice_has_each_finding_twice(name: str) -> None:
    judged_alike(BOARDS / f"{name}.wire")


@pytest.mark.slow
def test_each_system_that_ships_stands_twice_with_each_finding_twice() -> None:
    paths = with_calls()
    assert len(paths) > 80
    for path in paths:
        # The copies are put on one panel of 120/240 V, which has no third line.
        if " 3-pole" in path.read_text():
            continue
        # Twice one that takes half of all work that is spent on a board is judged in part, and says so: of
        # what was found, too, of which the reason was not looked for.
        twice = check(repeated([path.read_text()], 2))
        if not twice.unfinished and not any("takes too much work" in one.message for one in twice.findings):
            judged_alike(path)


def test_systems_of_different_kinds_come_apart() -> None:
    made = board(repeated([shipped("heating-call"), shipped("heat-pump"), shipped("boiler-two-zones")], 6))
    rest, *parts = systems(made)
    assert not rest.devices and len(parts) == 6
    assert [sorted(part.devices) for part in parts[:3]] == [
        ["F-1", "TS-1"],
        sorted(name for name in made.devices if name.endswith("-2")),
        sorted(name for name in made.devices if name.endswith("-3")),
    ]
    for several in ("devices", "breakers", "runs", "conductors", "raceways", "boxes", "screws", "capped"):
        together = {name: thing for part in (rest, *parts) for name, thing in getattr(part, several).items()}
        assert together == getattr(made, several)
    assert sum(len(part.joins) for part in parts) == len(made.joins)


def test_a_board_of_one_system_is_itself() -> None:
    made = board(shipped("heat-pump"))
    assert systems(made) == (made,)
    assert Case(made).systems[0].board is made


def beside(*lines: str) -> Board:
    made = board("\n".join([repeated([shipped("heating-call")], 2), *lines, ""]))
    assert not made.problems
    return made


@pytest.mark.parametrize(
    "lines",
    [
        ("expect heat runs F-1.blower, F-2.blower",),
        ("at F-1", "TX.red -- TW-1.red"),
        ("at TS-2", "TX.green -- TW-2.red"),
    ],
    ids=["a line of both", "a wire between them", "at the other"],
)
def test_what_ties_two_systems_keeps_them_together(lines: tuple[str, ...]) -> None:
    made = beside("cable TX 18/4 CL2 30 ft from F-1 to TS-2", *lines)
    assert len(systems(made)) == 1


def test_what_makes_no_calls_stays_together() -> None:
    made = beside(
        "breaker P1.40 15 A",
        "box A octagon 15.5 cu in",
        "L1 is lampholder 60 W in A",
        "cable W1 14/2 NM-B 11 ft from P1 to A",
        "at P1",
        "W1.black -- P1.40",
        "at A",
        "W1.black -- L1.hot",
    )
    rest, *parts = systems(made)
    assert list(rest.devices) == ["L1"] and list(rest.breakers) == ["P1.40"] and len(parts) == 2


def test_a_thermostat_without_a_breaker_stays_with_the_rest() -> None:
    rest, *parts = systems(beside("TX is heat-only-thermostat"))
    assert list(rest.devices) == ["TX"] and len(parts) == 2


def test_class_2_wire_that_comes_to_a_panel_keeps_its_system_beside_all_others() -> None:
    rest, *parts = systems(beside("cable TX 18/2 CL2 30 ft from F-1 to P1"))
    assert "F-1" in rest.devices and len(parts) == 1


def test_a_line_for_idle_stands_on_each_with_what_it_names_there() -> None:
    walk_in = shipped("walk-in-cooler")
    parts = systems(board(repeated([walk_in], 2)))[1:]
    named = [
        [word.text for word, _ in line.steps]
        for part in parts
        for line in part.expectations
        if "idle" in [call.text for call in getattr(line, "calls", ())]
    ]
    assert named == [["W-1.evaporator-fans"], ["W-2.evaporator-fans"]]


def test_a_mistake_in_the_text_is_said_once_and_hides_in_each_system() -> None:
    text = repeated([shipped("cooling-call")], 2)
    loose = "\n".join(line for line in text.splitlines() if "TW-2.yellow" not in line)
    assert "loose-conductor" in {one.rule for one in check(loose).findings}
    found = Counter(one.rule for one in check(f"{loose}\nX1 is lampholderr\n").findings)
    assert found["unknown-part"] == 1 and found["loose-conductor"] == 0


def test_each_system_calls_by_its_own_name_where_others_make_that_call() -> None:
    made = board(repeated([shipped("cooling-call")], 2))
    assert Case(made).systems[1].calls == ("TS-1.heat", "TS-1.cool", "TS-1.fan")


def test_the_tables_of_a_board_of_two_systems_tell_of_each_by_itself() -> None:
    both = [shipped("heating-call"), shipped("cooling-call")]
    case = Case(board(repeated(both, 2)))
    shown = position_table.render(case)
    # What one of them alone can call has no other name.
    calls = ("TS-1.heat", "TS-2.heat", "cool", "fan")
    assert [f"  {call} called: " in shown for call in calls] == [True] * 4
    lines = [line.point for section in checklist.checklist(case) for line in section.lines]
    assert [point for point in lines if point.startswith("Call ")] == [f"Call {call}" for call in calls]
    names = list(case.named_states())
    assert [name.calls for name in names if name.calls] == [(call,) for call in calls]
    told = case.named_states()[names[-1]]
    assert "F-2.blower" in told.running and "F-1.blower" not in told.circuit.load
