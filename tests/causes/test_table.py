"""The table of causes: no problem hides itself by any way around, and each row is there once and says why."""

from __future__ import annotations

from collections import Counter

import networkx
import pytest

from tests.rules.hands import STAIR, case, changed, flawed
from wirecheck import files
from wirecheck.causes import relations
from wirecheck.causes.hiding import causes
from wirecheck.causes.table import TABLE
from wirecheck.findings import findings, problems, standing
from wirecheck.judge.problem import Problem


def test_nothing_hides_itself_by_any_way_around() -> None:
    """Of two kinds that hide each other neither would be reported.

    One pair may lie both ways around, and never at once: one way asks for a swap that mends the calls, the
    other for none.
    """
    graph = networkx.DiGraph(
        (row.cause, row.effect) for row in TABLE if row.related is not relations.mended_by_its_swap
    )
    assert networkx.is_directed_acyclic_graph(graph)


def test_each_row_is_there_once() -> None:
    rows = Counter((row.cause, row.effect, row.related) for row in TABLE)
    assert [row for row, count in rows.items() if count > 1] == []


@pytest.mark.parametrize("row", TABLE, ids=lambda row: f"{row.cause.__name__}-{row.effect.__name__}")
def test_each_row_is_of_problems_and_says_why(row) -> None:
    assert issubclass(row.cause, Problem) and issubclass(row.effect, Problem)
    assert len(row.because.split()) > 4


def test_a_raceway_of_no_size_is_found_once() -> None:
    """That no table tells how full it is follows from that."""
    lines = "raceway R1 EMT 7/9 in 9 ft from LP to A\nwire H1 12 THHN black 9 ft from LP to A in R1"
    board = flawed(
        f'board "T"\npanel LP 120/240 V\nbox A device 20 cu in\n{lines}\nat A\ncap H1\nat LP\ncap H1'
    )
    seen = problems(board)
    assert {rule.name for rule, _ in seen} >= {"syntax", "raceway-fill"}
    assert [rule.name for rule, _ in standing(seen, board)] == ["syntax"]


def test_the_cause_is_named_and_what_follows_is_left_out() -> None:
    """A ground left loose is the cause of the metal without a ground, and one of the two is reported."""
    board = case(changed(STAIR, ("  W3.bare -- L1.ground\n", "")))
    seen = problems(board)
    named = {
        rule.name: cause
        for (rule, _), cause in zip(seen, causes([one for _, one in seen], board), strict=True)
    }
    assert named.keys() == {"open-ground", "loose-conductor"}
    assert named["open-ground"] is None and named["loose-conductor"] is not None
    assert [rule.name for rule, _ in standing(seen, board)] == ["open-ground"]


def test_the_bare_lead_of_a_motor_is_its_lost_line() -> None:
    """It is told once, as what the motor lacks, and not as a lead that wants a cap besides."""
    text = (files.folder("boards") / "water-chiller" / "wrong-a-line-left-off.wire").read_text("utf-8")
    board = case(text)
    seen = problems(board)
    assert {"phase-loss", "loose-conductor"} <= {rule.name for rule, _ in seen}
    assert [rule.name for rule, _ in standing(seen, board)] == ["phase-loss"]


CONDUIT = """board "T"
panel LP 120/240 V, 10 kA available
breaker LP.1 20 A
box A device 20.3 cu in
raceway R1 PVC 1/2 in 9 ft from LP to A
wire H 12 THHN black 9 ft from LP to A in R1
wire N 12 THHN white 9 ft from LP to A in R1
wire G 12 THHN green 9 ft from LP to A in R1
S is duplex-receptacle 15 A in A
at LP
  H -- LP.1
  N -- LP.neutral
  G -- LP.ground
at A
  H -- S.hot
  N -- S.neutral
  G -- S.ground
"""


@pytest.mark.parametrize(
    ("written", "misspelt"),
    [
        ("THHN green", "THHN gr?n"),
        ("THHN green", "THHN mauve"),
        ("G -- LP", "Gx -- LP"),
        ("S.ground", "S.grn!"),
    ],
)
def test_a_misspelt_ground_is_told_and_not_the_metal_without_one(written: str, misspelt: str) -> None:
    board = flawed(CONDUIT.replace(written, misspelt))
    (rule,) = {rule.name for rule, _ in standing(problems(board), board)}
    assert rule in ("syntax", "unknown-name")


def test_a_ground_that_is_left_off_is_told_beside_a_word_that_is_misspelt_elsewhere() -> None:
    board = flawed(CONDUIT.replace("  G -- S.ground\n", "") + "at LP\n  cap Z\n")
    assert {rule.name for rule, _ in standing(problems(board), board)} == {"unknown-name", "open-ground"}


def test_a_motor_that_can_be_joined_for_what_it_is_fed_is_to_be_joined_so() -> None:
    text = (files.folder("boards") / "air-compressor" / "wrong-leads-joined-for-120-volts.wire").read_text()
    (one,) = (each for each in findings(case(text)) if each.rule == "wrong-voltage")
    assert "Look again, with the power off, at how the leads of M are joined" in (one.look or "")


@pytest.mark.parametrize(
    ("name", "hidden", "root"),
    [
        # The bare wire of an old cable may be the neutral of a dryer: it belongs where it is at the panel.
        ("old-dryer-outlet/wrong-hot-on-the-neutral-screw", "ground-as-neutral", "reversed-polarity"),
        ("old-range-outlet/wrong-bare-wire-on-a-hot-screw", "ground-as-neutral", "reversed-polarity"),
        # The neutral that a hot lies on is at the switches again without it.
        ("stair-light-fed-in-the-middle/wrong-hot-on-neutral", "neutral-at-switch", "short-circuit"),
    ],
)
def test_what_is_in_order_is_not_told_beside_the_mistake(name: str, hidden: str, root: str) -> None:
    board = case((files.folder("boards") / f"{name}.wire").read_text("utf-8"))
    assert {rule.name for rule, _ in problems(board)} >= {hidden, root}
    told = {one.rule for one in findings(board)}
    assert root in told and hidden not in told
