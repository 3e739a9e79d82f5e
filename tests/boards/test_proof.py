"""Right work is passed in silence, and every mistake that hands can make is judged as the real circuit would.

The quick tests take a sample; the slow ones, which .ci/run runs, take a thousand boards and every mutant of
the boards that ship. A table of what was found ends the run: `python -m pytest -m slow tests/boards`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from random import Random

import pytest
from hypothesis import HealthCheck, given, settings

from tests.boards.generated import ARRANGEMENTS, arranged, boards, seeded
from tests.boards.hookups import hooks_up
from tests.boards.oracle import judge, knows
from tests.boards.proof import KINDS, Proof, prove, prove_hookups, prove_starters
from tests.boards.starters import starter_judge, starts
from tests.boards.test_boards import LATER
from tests.boards.work import work
from wirecheck import check, files

SHIPPED = [
    (path.parent.name, path.read_text(encoding="utf-8"))
    for path in sorted(files.folder("boards").glob("*/right.wire"))
]
WORKS = [(name, text, work(text)) for name, text in SHIPPED]
SHOP = [(name, text) for name, text, one in WORKS if knows(one)]
HOOKUPS = [(name, text) for name, text, one in WORKS if hooks_up(one)]
STARTERS = [(name, text) for name, text, one in WORKS if starts(one)]
SWITCHED = [
    index for index, one in enumerate(ARRANGEMENTS) if one.__name__.startswith(("three_way", "single"))
]


def complaints(text: str) -> list[str]:
    return [f"{one.rule}: {one.message}" for one in check(text).findings if one.severity != "advice"]


Record = Callable[[str, object], None]


# The oracle takes the control's ground by the motor's breaker, and not by the fuse of a secondary. That a
# green wire goes from a coil to a box that its raceway grounds, past the overload's contact, is not found.
STARTERS_KNOWN = (
    *(f"motor-control-transformer: {wire} of 12 AWG\n" for wire in ("C1", "C2", "C3")),
    "motor-control-transformer: CG moved to C.A2 -- OL.95 in E\n",
)


def agreed(proof: Proof, record_property: Record) -> None:
    """The figures go to the table at the end of the run; the shortest disagreements are shown."""
    record_property("mutation proof", proof.figures())
    assert not proof.disagreements, "\n\n".join(sorted(proof.disagreements, key=len)[:3])


# ------------------------------------------------------- silence on right work


@pytest.mark.parametrize("start", range(0, 40, 20))
def test_right_boards_of_many_rooms_are_passed_in_silence(start: int) -> None:
    for seed in range(start, start + 20):
        text = seeded(seed)
        assert complaints(text) == [], text


@pytest.mark.slow
@settings(max_examples=20, deadline=None, suppress_health_check=list(HealthCheck))
@given(boards(most=2))
def test_right_boards_that_hypothesis_thinks_of_are_passed_in_silence(text: str) -> None:
    assert complaints(text) == []
    assert judge(work(text)).kind == KINDS[2]


@pytest.mark.slow
@pytest.mark.parametrize("start", range(1000, 2200, 100))
def test_a_thousand_right_boards_are_passed_in_silence(start: int) -> None:
    for seed in range(start, start + 100):
        text = seeded(seed, most=4)
        assert complaints(text) == [], text


@pytest.mark.parametrize("index", range(len(ARRANGEMENTS)))
def test_each_arrangement_is_right_in_every_shape(index: int) -> None:
    for seed in range(3):
        text = arranged(index, Random(seed).randrange)
        assert complaints(text) == [], text
        verdict = judge(work(text))
        assert not verdict.hazards | verdict.faults, text


# --------------------------------------------------------------- mutation proof


def test_a_sample_of_mistakes_is_judged_as_the_oracle_does(record_property: Record) -> None:
    chosen = Random(4)
    shop = [(name, text) for name, text in SHOP if name not in LATER]
    agreed(prove([*shop, *_generated(range(1))], lambda number: chosen.random() < 0.0015), record_property)


@pytest.mark.slow
def test_the_oracle_condemns_the_wrong_boards_that_ship() -> None:
    """An oracle that finds nothing would agree with a checker that finds nothing."""
    wrong = [
        (path, work(path.read_text(encoding="utf-8")))
        for path in sorted(files.folder("boards").rglob("wrong-*.wire"))
    ]
    known = [(path, one) for path, one in wrong if knows(one)]
    assert len(known) > 20
    passed = [str(path) for path, one in known if judge(one).kind == KINDS[2]]
    assert passed == []


@pytest.mark.slow
@pytest.mark.parametrize(("name", "text"), SHOP, ids=[name for name, _ in SHOP])
def test_every_mistake_on_a_board_that_ships(name: str, text: str, record_property: Record) -> None:
    agreed(prove([(name, text)]), record_property)


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(4))
def test_mistakes_on_generated_boards(seed: int, record_property: Record) -> None:
    chosen = Random(seed)
    agreed(
        prove(_generated(range(10 + seed, 11 + seed)), lambda number: chosen.random() < 0.3), record_property
    )


@pytest.mark.slow
@pytest.mark.parametrize("index", SWITCHED)
def test_every_exchange_of_two_wires_in_every_switching_arrangement(
    index: int, record_property: Record
) -> None:
    """Every two wires of a box exchanged, each wire on every other screw: judged as the circuit is."""
    plain = arranged(index, lambda count: 0)
    four_way = arranged(index, Random(3).randrange)
    agreed(
        prove([(ARRANGEMENTS[index].__name__, plain), (ARRANGEMENTS[index].__name__, four_way)]),
        record_property,
    )


# ------------------------------------------------------------------- hookups


@pytest.mark.slow
def test_a_sample_of_mistakes_on_thermostat_wires(record_property: Record) -> None:
    chosen = Random(2)
    agreed(prove_hookups(HOOKUPS, lambda number: chosen.random() < 0.002), record_property)


@pytest.mark.slow
@pytest.mark.parametrize(("name", "text"), HOOKUPS, ids=[name for name, _ in HOOKUPS])
def test_every_mistake_on_thermostat_wires(name: str, text: str, record_property: Record) -> None:
    """Any two exchanged, any one open or elsewhere, any two letters jumpered, a jumper left out."""
    agreed(prove_hookups([(name, text)], lambda number: True), record_property)


# ------------------------------------------------------------------ starters


def test_a_sample_of_mistakes_on_starters(record_property: Record) -> None:
    chosen = Random(3)
    one = [(name, text) for name, text in STARTERS if name == "motor-starter"]
    agreed(prove_starters(one, lambda number: chosen.random() < 0.003), record_property)


# What the bench does not look at: thermostats.
NO_WIRING = {"wrong-yellow-on-green"}


@pytest.mark.slow
@pytest.mark.parametrize(("name", "text"), STARTERS, ids=[name for name, _ in STARTERS])
def test_the_bench_condemns_the_wrong_starters_that_ship(name: str, text: str) -> None:
    right = starter_judge(work(text))
    for path in sorted((files.folder("boards") / name).glob("wrong-*.wire")):
        passed = right(work(path.read_text(encoding="utf-8"))).kind == KINDS[2]
        assert passed == (path.stem in NO_WIRING), path.stem


@pytest.mark.slow
@pytest.mark.parametrize(("name", "text"), STARTERS, ids=[name for name, _ in STARTERS])
def test_every_mistake_on_a_starter(name: str, text: str, record_property: Record) -> None:
    """Any two wires exchanged, any one open or elsewhere, any rating: judged by what the buttons do."""
    proof = prove_starters([(name, text)], lambda number: True)
    known = {one for one in proof.disagreements if one.startswith(STARTERS_KNOWN)}
    assert len(known) == sum(each.startswith(f"{name}:") for each in STARTERS_KNOWN)
    proof.disagreements[:] = [one for one in proof.disagreements if one not in known]
    agreed(proof, record_property)


def _generated(seeds: range) -> Iterator[tuple[str, str]]:
    for seed in seeds:
        for index, arrangement in enumerate(ARRANGEMENTS):
            yield arrangement.__name__, arranged(index, Random(seed).randrange)
