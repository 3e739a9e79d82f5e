"""Boards for the tests of the work of hands, and what one rule says of them."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import wirecheck
from wirecheck import files
from wirecheck.judge.case import Case
from wirecheck.judge.finding import Finding, Stage
from wirecheck.judge.problem import Problem
from wirecheck.judge.rule import Rule
from wirecheck.language.reader import read
from wirecheck.model.build import build
from wirecheck.parts.library import Library

STAIR = """\
board "Stair light from two landings"
panel LP 120/240 V, 10 kA available
breaker LP.3 15 A
box A device 20.3 cu in
box B octagon 15.5 cu in
box C device 20.3 cu in
cable W1 14/2 NM-B 22 ft from LP (free 8 in) to A (free 7 in, secured 8 in)
cable W2 14/3 NM-B 16 ft from A (free 7 in, secured 8 in) to C (free 7 in, secured 8 in)
cable W3 14/2 NM-B 11 ft from C (free 7 in, secured 8 in) to B (free 6 in, secured 10 in)
S1 is 3-way-switch in A
S2 is 3-way-switch in C
L1 is lampholder 60 W in B
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at A
  W1.black -- S1.common
  W2.black -- S1.traveler-1
  W2.red -- S1.traveler-2
  W1.white -- W2.white
  W1.bare -- W2.bare -- pigtail -- S1.ground
at C
  W2.black -- S2.traveler-1
  W2.red -- S2.traveler-2
  W3.black -- S2.common
  W2.white -- W3.white
  W2.bare -- W3.bare -- pigtail -- S2.ground
at B
  W3.black -- L1.hot
  W3.white -- L1.neutral
  W3.bare -- L1.ground
expect L1 from S1, S2
"""

COOLING = """\
board "Cooling call, furnace blower and outdoor unit"
panel LP 120/240 V, 10 kA available
breaker LP.1 15 A
breaker LP.2 30 A 2-pole
F is gas-furnace
CU is condensing-unit with mca 18.2 A, mocp 30 A
TS is heat-cool-thermostat
D is disconnect-2-pole 30 A
cable PF 14/2 NM-B 30 ft from LP to F
cable PC 10/2 NM-B 38 ft from LP to D
raceway WH LFNC 1/2 in 5 ft from D to CU
wire K1 10 THWN black 5 ft from D to CU in WH
wire K2 10 THWN red 5 ft from D to CU in WH
wire K3 10 THWN green 5 ft from D to CU in WH
cable TW 18/5 CL2 45 ft from F to TS
cable OW 18/2 CL2 55 ft from F to CU
at LP
  PF.black -- LP.1
  PF.white -- LP.neutral
  PF.bare -- LP.ground
  PC.black -- LP.2.a
  PC.white marked red -- LP.2.b
  PC.bare -- LP.ground
at D
  PC.black -- D.line-1
  PC.white marked red -- D.line-2
  PC.bare -- K3 -- D.ground
  K1 -- D.load-1
  K2 -- D.load-2
at CU
  K1 -- CU.L1
  K2 -- CU.L2
  K3 -- CU.ground
  OW.red -- CU.Y
  OW.white -- CU.C
at F
  PF.black -- F.L1
  PF.white -- F.N
  PF.bare -- F.ground
  TW.red -- F.R
  TW.white -- F.W
  TW.yellow -- OW.red -- F.Y
  TW.green -- F.G
  TW.blue -- OW.white -- F.C
at TS
  TW.red -- TS.R
  TW.white -- TS.W
  TW.yellow -- TS.Y
  TW.green -- TS.G
  TW.blue -- TS.C
"""

LOOP = """\
board "Feed at the light, a switch loop"
panel LP 120/240 V, 10 kA available
breaker LP.3 15 A
box A device 20.3 cu in
box B octagon 21.5 cu in
cable W1 14/2 NM-B 11 ft from LP to B
cable W2 14/2 NM-B 12 ft from B to A
S1 is single-pole-switch in A
L1 is lampholder 60 W in B
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at B
  W1.black -- W2.white marked black
  W2.black -- L1.hot
  W1.white -- L1.neutral
  W1.bare -- W2.bare -- pigtail -- L1.ground
at A
  W2.white marked black -- S1.line
  W2.black -- S1.load
  W2.bare -- S1.ground
"""

CHAIN = """\
board "A ground-fault receptacle and one that it protects"
panel LP 120/240 V, 10 kA available
breaker LP.3 20 A
box A device 22.5 cu in
box B device 20.3 cu in
cable W1 12/2 NM-B 20 ft from LP to A
cable W2 12/2 NM-B 10 ft from A to B
G1 is gfci-receptacle with current 20 A in A
R1 is duplex-receptacle 20 A in B
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at A
  W1.black -- G1.line-hot
  W1.white -- G1.line-neutral
  W2.black -- G1.load-hot
  W2.white -- G1.load-neutral
  W1.bare -- W2.bare -- pigtail -- G1.ground
at B
  W2.black -- R1.hot
  W2.white -- R1.neutral
  W2.bare -- R1.ground
"""

LIGHT = """\
board "A switch and its light"
panel LP 120/240 V, 10 kA available
breaker LP.3 15 A
box A device 20.3 cu in
box B octagon 15.5 cu in
cable W1 14/2 NM-B 11 ft from LP to A
cable W2 14/2 NM-B 12 ft from A to B
S1 is single-pole-switch in A
L1 is lampholder 60 W in B
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at A
  W1.black -- S1.line
  W2.black -- S1.load
  W1.white -- W2.white
  W1.bare -- W2.bare -- pigtail -- S1.ground
at B
  W2.black -- L1.hot
  W2.white -- L1.neutral
  W2.bare -- L1.ground
"""

HALVES = """\
board "Half of a receptacle switched"
panel LP 120/240 V, 10 kA available
breaker LP.3 15 A
box A device 20.3 cu in
box B device 20.3 cu in
cable W1 14/2 NM-B 11 ft from LP to A
cable W2 14/3 NM-B 12 ft from A to B
S1 is single-pole-switch in A
R1 is duplex-receptacle 15 A in B
at LP
  W1.black -- LP.3
  W1.white -- LP.neutral
  W1.bare -- LP.ground
at A
  W1.black -- W2.black -- pigtail -- S1.line
  W2.red -- S1.load
  W1.white -- W2.white
  W1.bare -- W2.bare -- pigtail -- S1.ground
at B
  W2.black -- R1.hot
  W2.red -- R1.hot
  W2.white -- R1.neutral
  W2.bare -- R1.ground
"""


def case(text: str, **parts: str) -> Case:
    """The board of a text, which must have no mistakes in its words; `parts` are parts that do not ship."""
    library = Library(lambda name: parts.get(name) or files.part_text(name), lambda: parts)
    board = build(read(text, "test.wire"), library if parts else wirecheck.shipped_parts())
    assert not board.problems, board.problems
    return Case(board)


def flawed(text: str) -> Case:
    """The board of a text that has mistakes in its words."""
    board = build(read(text, "test.wire"), wirecheck.shipped_parts())
    assert board.problems or board.remarks
    return Case(board)


def seen(rule: Rule, text: str) -> list[Any]:
    """The problems that one rule sees on a board, whatever follows from what."""
    return list(rule.find(case(text)))


def said(rule: Rule, text: str) -> list[Finding]:
    """The same in words."""
    board = case(text)
    return [rule.finding(problem, board) for problem in rule.find(board)]


def reported(text: str, stage: Stage = "final") -> list[str]:
    """The rules that a board is reported by, in order of place, without advice."""
    return [each.rule for each in wirecheck.check(text, stage=stage).findings if each.severity != "advice"]


def changed(text: str, *changes: tuple[str, str]) -> str:
    """A board with some of its text put another way; what is to be changed must be there, once."""
    for old, new in changes:
        assert text.count(old) == 1, (old, text.count(old))
        text = text.replace(old, new)
    return text


def line(text: str, finding: Finding) -> str:
    """The line of a board that a finding points at."""
    return text.splitlines()[finding.span.line - 1].strip()


def at(text: str, problem: Problem) -> str:
    """The line of a board that a problem is at."""
    return text.splitlines()[problem.at.span.line - 1].strip()


def own(rule: str, name: str) -> str:
    """A board that shows another way to break a rule."""
    return (Path(__file__).parent / "boards" / rule / f"{name}.wire").read_text(encoding="utf-8")


def shipped(rule: str, which: str = "right") -> str:
    """One of the two boards of a rule's manual."""
    return (files.folder("boards") / "rules" / rule / f"{which}.wire").read_text(encoding="utf-8")
