"""Part files with mistakes: each is told, with the near name, and the rest of the part stands."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.parts.shelf import SHIPPED, alone, of
from wirecheck import files
from wirecheck.language.reader import read
from wirecheck.language.syntax import Problem
from wirecheck.parts.part import Part
from wirecheck.parts.read import part

RELAY = """part relay "A relay with a timer"
source "a test"
rating current 10 A or 20 A "what the contact carries"
rating delay 5 s "before it closes"
terminal line hot "the feed"
terminal load switched "the load"
terminal coil-a class-2 "the call"
terminal coil-b class-2-common "common"
positions automatic, off
calls heat
state timer resting, closed
load coil coil from coil-a to coil-b, 5 VA at 24 V, works 20 V to 30 V, pulls-in 19 V
timer goes from resting to closed after delay when coil runs and automatic
timer goes from closed to resting when not coil-a has 18 V to coil-b or off
line -- load when timer is closed
"""


def test_a_sound_part_has_no_problem() -> None:
    relay = alone(RELAY)
    assert relay.problems == ()
    assert relay.terminals["coil-a"].role == "class-2"
    assert [state.values for state in relay.states] == [("resting", "closed")]
    assert len(relay.transitions) == 2
    assert relay.loads[0].options.keys() == {"works", "works-to", "pulls-in"}
    assert relay.moved_by == "hand"


@pytest.mark.parametrize(
    ("role", "carries"),
    [("class-2", "heat"), ("class-2-common", "common"), ("contact", "power"), ("contact", "common")],
)
def test_a_terminal_says_what_it_carries(role: str, carries: str) -> None:
    """Letters that a maker made up himself say nothing; what is carried does."""
    stat = alone(
        f'part stat "A thermostat"\nterminal W-E {role}, carries {carries} "a call"\nterminal X contact\n'
    )
    assert stat.problems == ()
    assert (stat.terminals["W-E"].carries, stat.terminals["X"].carries) == (carries, None)


def test_what_cannot_be_carried_is_left_out() -> None:
    stat = alone(
        'part stat "A thermostat"\nterminal Y hot, carries heat\nterminal O class-2, carries purple\n'
    )
    assert [stat.terminals[name].carries for name in "YO"] == [None, None]
    assert len(stat.problems) == 2


@pytest.mark.parametrize(
    ("said", "kept", "told"),
    [
        ("opens-on-rise", {"opens-on-rise"}, ""),
        ("held-closed, momentary", {"held-closed", "momentary"}, ""),
        ("opens-on-rise, closes-on-rise", set(), "no two: opens-on-rise and closes-on-rise"),
        ("opens-on-rize", set(), "opens-on-rize"),
    ],
)
def test_a_contact_has_one_sense(said: str, kept: set[str], told: str) -> None:
    link = alone(f'part link "A link"\nterminal a contact\nterminal b contact\na -- b, {said}\n')
    (contact,) = link.contacts
    assert contact.flags == kept
    assert [problem.message for problem in link.problems if told not in problem.message] == []
    assert bool(link.problems) == bool(told)


def test_each_of_several_screws_has_a_name() -> None:
    outlet = alone('part outlet "An outlet"\nterminal hot hot, screws 2\nterminal neutral neutral, holds 2\n')
    assert outlet.problems == ()
    assert [(one.screws, one.holds) for one in outlet.terminals.values()] == [(2, 1), (1, 2)]
    assert list(outlet.terminals) == ["hot", "neutral"]
    for name in ("hot-1", "hot-2"):
        taken = alone(f'part outlet "An outlet"\nterminal hot hot, screws 2\nterminal {name} hot\n')
        assert [problem.span.line for problem in taken.problems] == [3]
    assert not alone('part o "O"\nterminal hot hot, screws 2\nterminal hot-3 hot\n').problems
    assert not alone('part o "O"\nterminal hot hot\nterminal hot-1 hot\n').problems
    assert alone('part o "O"\nterminal hot hot, screws 9\n').problems


# A line that is added, what the problem must say, and what its help must say.
MISTAKES = [
    ("line -- laod", "laod", "load"),
    ("line -- coil-a when timmer is closed", "timmer", "timer"),
    ("line -- coil-a when timer is closd", "closd", "closed"),
    ("line -- coil-a when automatc", "automatc", "automatic"),
    ("line -- coil-a when call haet", "haet", "heat"),
    ("line -- coil-a when coill runs", "coill", "coil"),
    ("line -- coil-a when coil-c has 18 V to coil-b", "coil-c", "coil-b"),
    ("line -- coil-a when coil-a has 18 A to coil-b", "18 A", "voltage"),
    ("line -- coil-a when timer was closd 3 times", "closd", "closed"),
    ("timmer goes to closed", "timmer", "timer"),
    ("timer goes to closd", "closd", "closed"),
    ("timer goes from restin to closed", "restin", "resting"),
    ("timer goes to closed after dely", "dely", "delay"),
    ("timer goes to closed after current", "current", "a time"),
    ("load lamp lmp from line to coil-b, 60 W at 120 V", "lmp", "lamp"),
    ("load lamp lamp from line to coil-d, 60 W at 120 V", "coil-d", "coil-"),
    ("load lamp lamp from line to coil-b, 60 ft at 120 V", "60 ft", "a power"),
    ("load lamp lamp from line to coil-b, powr at 120 V", "powr", "current"),
    ("load lamp lamp from line to coil-b, 60 W at 120 V, wrks 100 V", "wrks", "works"),
    ("load lamp lamp from line to coil-b, 60 W at 120 V, works", "works", "a voltage"),
    ("load coil lamp from line to coil-b, 60 W at 120 V", "coil", "name of its own"),
    ("terminal line hot", "line", "name of its own"),
    ("terminal other hott", "hott", "hot"),
    ("terminal other hot, leed", "leed", "lead"),
    ("terminal other hot, rated 60 A", "60 A", "temperature"),
    ("terminal other class-2, carries coool", "coool", "mean cool? It may be: power, common,"),
    ("terminal other class-2, carries purple", "purple", "It may be: power, common,"),
    ("terminal other hot, carries heat", "hot", "is class-2, or contact"),
    ("terminal other class-2, carries common", "class-2", "is class-2-common, or contact"),
    ("terminal other class-2-common, carries power", "class-2-common", "is class-2, or contact"),
    ("rating current 10 A", "current", None),
    ("rating other 10 A or 10 V", "10 V", None),
    ("positions off", "off", None),
    ("calls heat", "heat", None),
    ("moved by wheather", "wheather", "water"),
    ("fills 1 yok", "yok", "yoke"),
    ("stands outdors", "outdors", "outdoors"),
    ("protects line to lode at current", "lode", "load"),
    ("protects line to load at delay", "delay", "a current"),
    ("protects line to load at current, fuze", "fuze", "fuse"),
    ("outlet face from line to neutrl, ground load", "neutrl", "line"),
    (
        "transforms 120 V from line to load into 24 V from coil-a to coil-b, capacity 40 VA",
        "impedance",
        "6 %",
    ),
    ("line -- load when timer is resting", "line", "or between"),
    ("line -- pigtail -- coil-a", "Pigtails", None),
    ("line marked black -- coil-a", "marks", None),
    ("line -- lever.a", "lever", None),
    ('part other "Another"', "second", None),
    ("box A device 20.3 cu in", "belongs on a board", "board"),
]


@pytest.mark.parametrize(("line", "said", "advised"), MISTAKES)
def test_a_mistake_is_told_on_its_line_and_the_rest_stands(line: str, said: str, advised: str | None) -> None:
    wrong = alone(RELAY + line + "\n")
    assert len(wrong.problems) == 1
    problem = wrong.problems[0]
    assert said in problem.message
    assert advised is None or advised in f"{problem.message} {problem.help}"
    assert problem.span.line == RELAY.count("\n") + 1
    sound = alone(RELAY)
    assert wrong.contacts == sound.contacts
    assert wrong.transitions == sound.transitions
    assert wrong.loads[: len(sound.loads)] == sound.loads


def test_a_file_without_a_part_statement_says_how_to_begin() -> None:
    problem = alone("terminal a contact\n").problems[0]
    assert "names no part" in problem.message
    assert "Begin with" in (problem.help or "")


LINK = (
    'part link "A link"\nterminal a contact\nterminal b contact\npositions closed, open\na -- b when closed\n'
)


@pytest.mark.parametrize(
    ("line", "said", "advised"),
    [
        ("a -- inner.c", "inner.c", "inner.b"),
        ("a -- inner", "whole part", "inner.a"),
        ("a -- iner.a", "iner", "inner"),
        ("a -- b when inner is opn", "opn", "open"),
        ("inner goes to shut", "shut", "closed, open"),
        ("a -- b when inner runs", "inner", None),
        ("other is lnik", "lnik", "link"),
        ("other is link with current 3 A", "current", None),
        ("other is link 3 A", "3 A", None),
        ("other is rated-link 3 V", "3 V", "current"),
        ("other is rated-link with current 3 V", "current", "10 A"),
        ("other is rated-link with currant 3 A", "currant", "current"),
        ("other is rated-link with current amps", "amps", None),
    ],
)
def test_names_inside_a_part_inside_are_checked(line: str, said: str, advised: str | None) -> None:
    text = (
        f'part outer "Outer"\nterminal a contact\nterminal b contact\ninner is link\ninner.a -- a\n{line}\n'
    )
    rated = LINK.replace("part link", "part rated-link") + "rating current 10 A\n"
    outer = of(link=LINK, rated_link=rated, outer=text).part("outer")
    assert outer is not None
    assert len(outer.problems) == 1
    problem = outer.problems[0]
    assert said in problem.message
    assert advised is None or advised in f"{problem.message} {problem.help}"
    assert problem.span.line == 6


def names_of(problems: tuple[Problem, ...]) -> str:
    return " ".join(f"{problem.message} {problem.help}" for problem in problems)


FURNACE = files.part_text("gas-furnace") or ""
LINES = [line for line in FURNACE.splitlines() if " -- " in line or " goes " in line]


@given(st.data())
def test_a_misspelt_name_anywhere_in_a_real_part_is_found_with_the_near_one(data: st.DataObject) -> None:
    """Double one letter of one name in the furnace: one problem, and the true name offered."""
    words = {
        "control",
        "limit",
        "rollout",
        "pressure-switch",
        "igniter",
        "blower",
        "inducer",
        "flame",
        "surface",
    }
    line = data.draw(st.sampled_from([line for line in LINES if words & set(line.replace(".", " ").split())]))
    name = data.draw(st.sampled_from(sorted(words & set(line.replace(".", " ").split()))))
    letter = data.draw(st.sampled_from([place for place in range(1, len(name)) if name[place] != "-"]))
    misspelt = name[:letter] + name[letter] + name[letter:]
    head, _, tail = line.partition(name)
    text = FURNACE.replace(line, head + misspelt + tail, 1)
    inside = {each: found for each in SHIPPED.names() if (found := SHIPPED.part(each))}
    wrong = part(read(text, "gas-furnace.wire"), inside)
    assert len(wrong.problems) == 1
    assert misspelt in wrong.problems[0].message
    assert name in (wrong.problems[0].help or "")


@given(st.text(max_size=300))
def test_any_text_gives_a_part(text: str) -> None:
    assert isinstance(alone(text), Part)


@given(st.lists(st.sampled_from(FURNACE.splitlines() + RELAY.splitlines()), max_size=60))
def test_any_lines_in_any_order_give_a_part_whose_names_are_all_known(lines: list[str]) -> None:
    made = alone("\n".join(lines))
    points = {point for contact in made.contacts for point in (contact.a, contact.b)}
    points |= {point for load in made.loads for point in (load.a, load.b)}
    children = {child.name for child in made.children}
    assert all(point in made.terminals or point.split(".")[0] in children for point in points)
    states = {state.name for state in made.states} | children | {""}
    assert all(move.name in states for move in made.transitions)
