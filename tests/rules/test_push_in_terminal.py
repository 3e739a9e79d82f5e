"""What may be in a push-in hole; NEC 2023 406.3(D)(3), UL 498 and UL 20 through 110.3(B)."""

from __future__ import annotations

import pytest

import wirecheck
from tests.rules.hands import HALVES, LIGHT, at, case, changed, own, reported, said, seen, shipped
from wirecheck.language.reader import read
from wirecheck.model.build import build
from wirecheck.rules import terminal_crowding
from wirecheck.rules.push_in_terminal import RULE

FED, LEG = "W1.black -- S1.line", "W2.black -- S1.load"


def pushed(text: str, *lines: str) -> str:
    return changed(text, *((f"  {one}\n", f"  {one}, push-in\n") for one in lines))


def test_14_copper_on_15_a_may_be_pushed_in() -> None:
    text = pushed(LIGHT, FED, LEG)
    assert seen(RULE, text) == [] and reported(text) == []
    assert [join.pushed for join in case(text).board.joins].count(True) == 2


# A hole is for 14 AWG copper on a circuit of 15 A.
@pytest.mark.parametrize(
    ("cable", "amps", "wires", "guarded"),
    [
        ("14/2 NM-B", "15 A", [], False),
        ("14/2 NM-B", "20 A", [], True),
        ("12/2 NM-B", "15 A", [("W2.black", "12 AWG copper")], False),
        ("12/2 NM-B", "20 A", [("W2.black", "12 AWG copper")], True),
        ("16/2 NM-B", "15 A", [("W2.black", "16 AWG copper")], False),
        ("14/2 NM-B aluminum", "15 A", [("W2.black", "14 AWG aluminum")], False),
    ],
)
def test_the_wire_and_the_circuit(cable: str, amps: str, wires: list[tuple[str, str]], guarded: bool) -> None:
    text = changed(pushed(LIGHT, LEG), ("cable W2 14/2 NM-B", f"cable W2 {cable}"), ("15 A", amps))
    found = seen(RULE, text)
    assert len(found) == bool(wires or guarded)
    for one in found:
        assert (list(one.wires), one.guard is not None, one.no_holes) == (wires, guarded, ())
        assert (one.severity, one.stage, one.subject) == ("violation", "trim", "S1")
        assert at(text, one) == f"{LEG}, push-in"


@pytest.mark.parametrize(("size", "wires"), [("", []), (" 14", []), (" 12", ["the pigtail to S1.line"])])
def test_a_pigtail_in_a_hole(size: str, wires: list[str]) -> None:
    text = changed(LIGHT, (FED, f"W1.black -- W2.red -- pigtail{size} -- S1.line, push-in"))
    text = changed(text, ("cable W2 14/2", "cable W2 14/3"), ("L1.ground\n", "L1.ground\n  cap W2.red\n"))
    assert [name for one in seen(RULE, text) for name, _ in one.wires] == wires


def test_what_has_no_hole() -> None:
    switch, light = seen(RULE, own("push-in-terminal", "no-hole"))
    assert [one.name for one in switch.no_holes] == ["S1.line", "S1.load"]
    assert [one.name for one in light.no_holes] == ["L1.hot"]
    (ground,) = seen(RULE, changed(LIGHT, ("pigtail -- S1.ground", "pigtail -- S1.ground, push-in")))
    assert [one.name for one in ground.no_holes] == ["S1.ground"]
    (breaker,) = seen(RULE, pushed(LIGHT, "W1.black -- LP.3"))
    assert (breaker.subject, [one.name for one in breaker.no_holes]) == ("LP.3", ["LP.3"])


def test_each_edition_has_its_section() -> None:
    text = changed(pushed(HALVES, "W2.black -- R1.hot"), ("15 A\nbox", "20 A\nbox"))
    for year, section in (("2017", "110.3(B)"), ("2020", "110.3(B)"), ("2023", "406.3(D)(3)")):
        (found,) = said(RULE, changed(text, ("panel LP", f"code nec {year}\npanel LP")))
        assert (found.source, found.value, found.limit) == (f"NEC {year} {section}; UL 498", 20, 15)
    (found,) = said(RULE, changed(pushed(LIGHT, LEG), ("15 A", "20 A")))
    assert found.source == "NEC 2023 110.3(B); UL 20"


# A screw and the hole beside it each take one wire; a receptacle's side has two of each.
@pytest.mark.parametrize(
    ("lines", "crowded"),
    [
        (("W2.black -- R1.hot, push-in", "W2.red -- R1.hot, push-in"), False),
        (("W2.black -- W2.red -- R1.hot, push-in",), False),
        (("W2.black -- R1.hot-1, push-in", "W2.red -- R1.hot-1, push-in"), True),
        (("W2.black -- R1.hot-1, push-in", "W2.red -- R1.hot-1"), False),
        (("W2.black -- R1.hot-1", "W2.red -- R1.hot-1"), True),
        (("W2.black -- R1.hot, push-in", "W2.red -- R1.hot, push-in", "N1 -- R1.hot"), False),
        (("W2.black -- R1.hot, push-in", "W2.red -- R1.hot, push-in", "N1 -- R1.hot, push-in"), True),
    ],
)
def test_each_wire_has_a_hole_of_its_own(lines: tuple[str, ...], crowded: bool) -> None:
    text = changed(
        HALVES,
        ("  W2.black -- R1.hot\n  W2.red -- R1.hot\n", "".join(f"  {line}\n" for line in lines)),
        ("S1 is", "wire N1 14 THHN black 2 ft from B to B\nS1 is"),
    )
    found = seen(terminal_crowding.RULE, text)
    assert [one.hole for one in found] == ([", push-in" in lines[-1]] if crowded else [])


def test_the_mend_is_the_screw() -> None:
    text = shipped("push-in-terminal", "wrong")
    assert reported(text) == ["push-in-terminal"]
    report = wirecheck.check(text, effort=200)
    assert [one.mistake for one in report.mends] == [
        "Wires are in the push-in holes of R2, and belong under its screws."
    ]
    assert report.mended(1).count("push-in") == 1  # in the mark of the line alone


@pytest.mark.parametrize("metal", ["12/2 NM-B aluminum", "16/2 NM-B"])
def test_what_no_screw_takes_either_is_one_mistake(metal: str) -> None:
    text = changed(pushed(LIGHT, LEG), ("cable W2 14/2 NM-B", f"cable W2 {metal}"))
    assert seen(RULE, text)
    assert "push-in-terminal" not in reported(text)


@pytest.mark.parametrize("line", ["W1.white -- W2.white, push-in", "W1.black -- S1.line, push-in 14 AWG"])
def test_what_cannot_be_pushed_in(line: str) -> None:
    text = changed(LIGHT, (line.partition(",")[0], line))
    made = build(read(text), wirecheck.shipped_parts())
    assert [problem.rule for problem in made.problems] == ["syntax"]


def test_a_breaker_too_large_for_its_wire_is_one_mistake() -> None:
    large = changed(pushed(LIGHT, FED, LEG), ("15 A", "20 A"))
    assert seen(RULE, large) and reported(large) == ["overcurrent-protection"]
    # With a hole less that would do, or with a wire that it takes, the holes are a mistake of their own.
    light = changed(large, (f"{LEG}, push-in", LEG), ("W2.black -- L1.hot", "W2.black -- L1.hot, push-in"))
    assert sorted(reported(light)) == ["overcurrent-protection", "push-in-terminal"]
    thick = changed(pushed(LIGHT, LEG), ("W1 14/2", "W1 12/2"), ("W2 14/2", "W2 12/2"), ("15 A", "20 A"))
    assert reported(thick) == ["push-in-terminal"]
