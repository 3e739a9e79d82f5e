"""The README's tables of equipment are what the library and the boards are now; each safety is proved."""

from __future__ import annotations

import functools
import re
from pathlib import Path

import pytest

from wirecheck import assemble, files, shipped_parts
from wirecheck.circuit.work import Work
from wirecheck.judge.case import Case
from wirecheck.judge.safeties import Jumper, Welded, proofs
from wirecheck.report import equipment

BOARDS = {path.parent.name: path for path in sorted(files.folder("boards").glob("*/right.wire"))}
STOPS = re.compile(r"^expect (?!end of )\S.* stops ", re.MULTILINE)
"""A line that says what a safety stops."""
README = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")


@functools.cache
def case(name: str) -> Case:
    return Case(assemble(BOARDS[name].read_bytes())[1], Work(50_000_000))


def cases() -> dict[str, Case]:
    return {name: case(name) for name in BOARDS}


def in_readme(name: str) -> str:
    return README.partition(f"<!-- {name} -->\n")[2].partition(f"<!-- /{name} -->")[0]


# The equipment of the trade, and the boards that were asked for it: none may be left out.
EQUIPMENT = {
    "condensing-furnace": "gas-furnace",
    "electric-furnace": "electric-furnace",
    "two-stage-furnace": "two-stage-furnace",
    "variable-speed-furnace": "variable-speed-furnace",
    "humidifier": "humidistat",
    "dehumidifier": "dehumidifier",
    "ductless-pair": "ductless-outdoor",
    "common-wire-kit": "powered-thermostat",
    "fresh-air-damper": "fresh-air-control",
    "oil-furnace": "oil-furnace",
    "boiler-two-zones": "boiler",
    "split-air-conditioner": "condensing-unit",
    "heat-pump": "heat-pump",
    "heat-pump-b": "heat-pump-b",
    "dual-fuel": "heat-pump",
    "packaged-unit": "packaged-unit",
    "economizer": "outdoor-thermostat",
    "rooftop-unit": "rooftop-unit",
    "walk-in-cooler": "walk-in-cooler",
    "walk-in-freezer": "walk-in-freezer",
    "ice-machine": "ice-machine",
    "one-transformer": "rc-rh-thermostat",
    "two-transformers": "rc-rh-thermostat",
    "float-switch-in-r": "float-switch",
    "float-switch-in-y": "float-switch",
}


def test_the_readme_has_the_equipment_as_it_is() -> None:
    assert in_readme("equipment") == equipment.equipment(shipped_parts(), cases())


@pytest.mark.parametrize(("board", "part"), EQUIPMENT.items())
def test_no_equipment_is_left_out(board: str, part: str) -> None:
    row = next(line for line in in_readme("equipment").splitlines() if line.startswith(f"| `{part}` |"))
    assert f"(boards/{board})" in row
    assert any(device.part.name == part for device in case(board).board.devices.values())


@pytest.mark.parametrize("board", EQUIPMENT)
def test_every_safety_of_an_equipment_board_is_proved_on_some_board(board: str) -> None:
    told = {row.split(" | ")[1] for row in in_readme("safeties").splitlines()[2:]}
    safeties = {name for name, variable in case(board).circuit.variables.items() if variable.safety}
    # Devices are named alike on all boards: F a furnace, CU an outdoor unit; one board's AH is the other's A.
    assert {name.replace("AH.", "A.") for name in safeties} <= told


@pytest.mark.parametrize(
    "board", [name for name, path in BOARDS.items() if STOPS.search(path.read_text(encoding="utf-8"))]
)
def test_a_safety_stops_its_loads_in_every_state_of_every_call(board: str) -> None:
    told = list(proofs(case(board), faults=False))
    assert told
    for proof in told:
        assert proof.states > 0, proof
        assert proof.runs_on == (), proof


@pytest.mark.slow
def test_the_readme_has_the_proofs_as_they_are() -> None:
    assert in_readme("safeties") == equipment.safeties(cases())


def test_one_fault_defeats_no_safety_inside_equipment() -> None:
    rows = [line.strip("| ").split(" | ") for line in in_readme("safeties").splitlines()[2:]]
    assert len(rows) > 30
    for equipment_name, safety, *_, defeat in rows:
        # A float switch in R is wired outside: a jumper from R to a call goes around it and the thermostat. A
        # contactor of one pole has no second contact that opens where its only one is welded.
        one_pole = "condenser-fan-cycling" in equipment_name and defeat == "K.line-1--load-1 welded"
        assert defeat == "none" or safety == "FS" or one_pole, (equipment_name, safety, defeat)


FLOAT_IN_R = """board "Float switch in R"
panel LP 120/240 V, 10 kA available
breaker LP.1 15 A
F is gas-furnace
TS is heat-only-thermostat
FS is float-switch
cable PF 14/2 NM-B 20 ft from LP to F
cable TW 18/2 CL2 20 ft from F to TS
cable FW 18/2 CL2 5 ft from F to FS
at LP
  PF.black -- LP.1
  PF.white -- LP.neutral
  PF.bare -- LP.ground
at F
  PF.black -- F.L1
  PF.white -- F.N
  PF.bare -- F.ground
  FW.red -- F.R
  FW.white -- TW.red
  TW.white -- F.W
at FS
  FW.red -- FS.a
  FW.white -- FS.b
at TS
  TW.red -- TS.R
  TW.white -- TS.W
expect FS stops F.gas-valve
"""


@pytest.mark.slow
def test_a_proof_finds_what_defeats_a_safety() -> None:
    # The furnace's own R to W goes around the thermostat and the switch in R alike (common practice).
    (proof,) = proofs(Case(assemble(FLOAT_IN_R)[1]))
    welded, jumper = proof.defeated
    assert isinstance(welded, Welded) and welded.contact.name == "F.pressure-switch.b--gas-valve.a"
    assert isinstance(jumper, Jumper) and (jumper.one.name, jumper.other.name) == ("F.R", "F.W")
    assert proof.runs_on == ()


def test_a_proof_tells_what_runs_on() -> None:
    text = (BOARDS["float-switch-in-y"].parent / "wrong-wired-around.wire").read_bytes()
    (proof,) = proofs(Case(assemble(text)[1]), ["FS"], faults=False)
    assert "CU.compressor" in [load.name for load in proof.runs_on]
