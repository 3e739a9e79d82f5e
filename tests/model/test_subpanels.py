"""Panels that another feeds, tandem breakers and what a line says of sight, as the model has them."""

from __future__ import annotations

import pytest

from tests.samples import board
from tests.subpanels import BONDED, NO_MAIN, workshop
from wirecheck.language.tidy import tidy


def test_a_subpanel_has_lugs_and_bars() -> None:
    made = board(workshop(NO_MAIN))
    assert not made.problems
    here = {name: one.owner for name, one in made.terminals.items() if one.place == "SP"}
    lugs = {"SP.a": "SP", "SP.b": "SP", "SP.neutral": "SP", "SP.ground": "SP"}
    assert here == lugs | {"SP.1": "SP.1", "SP.3": "SP.3", "SP.2.a": "SP.2", "SP.2.b": "SP.2"}
    assert set(made.sources) == {"LP"} and set(made.subpanels) == {"SP"}
    panel = made.panels["SP"]
    assert (panel.main, panel.bus, panel.bonded, panel.detached) == (None, 100, False, False)


def test_a_main_breaker_has_the_lugs_as_its_screws() -> None:
    made = board(workshop(BONDED))
    main = made.breakers["SP.main"]
    assert (main.amps, main.panel, main.poles) == (60, "SP", (("SP.a", "a"), ("SP.b", "b")))
    assert made.terminals["SP.a"].owner == "SP.main" and made.terminals["SP.a"].place == "SP"
    assert made.panels["SP"].bonded and made.panels["SP"].main == 60


def test_the_panel_that_is_the_source_has_no_lugs() -> None:
    made = board('board "P"\npanel LP 120/240 V, 10 kA available, 200 A main, 225 A bus')
    assert not made.problems
    assert (made.panels["LP"].main, made.panels["LP"].bus, made.panels["LP"].bonded) == (200, 225, True)
    assert set(made.terminals) == {"LP.neutral", "LP.ground"} and not made.breakers


@pytest.mark.parametrize(("system", "lugs"), [("120", "a"), ("240", "ab"), ("208Y/120", "abc")])
def test_a_lug_for_each_leg(system: str, lugs: str) -> None:
    made = board(f'board "P"\npanel LP 208Y/120 V\nsubpanel SP {system} V, detached')
    assert {name for name in made.terminals if made.terminals[name].spec.name == "lug"} == {
        f"SP.{leg}" for leg in lugs
    }
    assert made.panels["SP"].detached


def test_the_two_of_a_tandem_are_on_one_leg() -> None:
    made = board('board "P"\npanel LP 120/240 V\nbreaker LP.3A 15 A\nbreaker LP.3B 20 A')
    assert not made.problems
    assert made.breakers["LP.3A"].poles == (("LP.3A", "b"),)
    assert made.breakers["LP.3B"].poles == (("LP.3B", "b"),)


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        ("subpanel SP 120/240 V, bondet", "Did you mean bonded?"),
        ("subpanel SP 120/240 V, 10 kA available", "follows from its feeder"),
        ("panel MP 120/240 V, bonded", "write: subpanel MP 120/240 V"),
        ("subpanel SP 480 V", "No panel has 480 V"),
        ("subpanel SP 120/240 V, 60 A main, 70 A main", "twice"),
        ("subpanel SP 120/240 V, 60 V bus", "does not belong here"),
        ("breaker LP.3A 15 A 2-pole", "it has one pole"),
        ("breaker LP.3A 15 A\nbreaker LP.3B 15 A leg a", "both halves of it are on one leg"),
        ("breaker LP.3 15 A\nbreaker LP.3A 15 A", "is in that space, on line 3"),
        ("breaker LP.3A 15 A\nbreaker LP.3 15 A", "LP.3 is in space 3 of LP: so is LP.3A, on line 3"),
        ("breaker LP.2 30 A 2-pole\nbreaker LP.4 20 A", "LP.4 is in space 4 of LP: so is LP.2, on line 3"),
        ("breaker LP.4 20 A\nbreaker LP.2 30 A 2-pole", "LP.2 is in space 4 of LP: so is LP.4, on line 3"),
        ("breaker LP.1 30 A 2-pole\nbreaker LP.3 30 A 2-pole", "in space 3 of LP: so is LP.1, on line 3"),
        ("breaker LP.1 30 A 2-pole\nbreaker LP.3A 15 A", "LP.3A is in space 3 of LP: so is LP.1, on line 3"),
        ("breaker LP.main 100 A 2-pole", "Write there: 100 A main"),
        ("breaker LP.3C 15 A", "a tandem breaker is LP.3A and LP.3B"),
        ("S is lug", "a line of its own"),
        ("D is disconnect-2-pole 30 A, 6 ft from QQ", "QQ"),
        ("breaker LP.5 15 A, within sight of QQ", "QQ"),
    ],
)
def test_what_cannot_be_said(lines: str, words: str) -> None:
    made = board(f'board "P"\npanel LP 120/240 V\n{lines}')
    assert any(words in f"{one.message} {one.help}" for one in made.problems), made.problems


def test_tidy_lays_a_subpanel_out() -> None:
    text = "subpanel  SP 120/240 V,60 A  main , 100 A bus,bonded\nbreaker SP.1A 15A,  within sight  of CU\n"
    assert tidy(text) == (
        "subpanel SP 120/240 V, 60 A main, 100 A bus, bonded\nbreaker SP.1A 15 A, within sight of CU\n"
    )


def test_breakers_side_by_side_and_across_share_no_space() -> None:
    lines = ["LP.1 30 A 2-pole", "LP.2 30 A 2-pole", "LP.5 15 A", "LP.7A 15 A", "LP.7B 15 A", "LP.9 15 A"]
    assert not board(
        "\n".join(['board "P"', "panel LP 120/240 V", *(f"breaker {one}" for one in lines)])
    ).problems
