"""Tables in Markdown: the library's equipment with its calls, safeties and boards; each safety's proof."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from wirecheck.judge.case import Case
from wirecheck.judge.safeties import Fault, Jumper, Proof, Stuck, Welded, proofs
from wirecheck.language.syntax import ExpectRuns, ExpectStops
from wirecheck.parts.library import Library
from wirecheck.parts.part import Part


def equipment(library: Library, cases: Mapping[str, Case]) -> str:
    """Every part that is made of parts and works for a call, or makes one.

    Parameters
    ----------
    cases : right boards by the name of their folder.
    """
    rows = [("part", "what it is", "calls", "safeties", "boards")]
    for name in library.names():
        part = library.part(name)
        if part is None:
            continue
        boards = [board for board, case in cases.items() if _devices(case, name)]
        calls = _calls(part, cases.values())
        safeties = _safeties(part, library)
        if boards and (part.calls or safeties):
            links = ", ".join(f"[{board}](boards/{board})" for board in boards)
            rows.append((f"`{name}`", part.title, ", ".join(calls), ", ".join(safeties), links))
    return _markdown(rows)


def _devices(case: Case, part: str) -> list[str]:
    return [device.name for device in case.board.devices.values() if device.part.name == part]


def _calls(part: Part, cases: Iterable[Case]) -> list[str]:
    """The calls that a part makes, or that run something in it on a board."""
    calls = dict.fromkeys(part.calls)
    for case in cases:
        names = _devices(case, part.name)
        for expectation in case.board.expectations:
            if isinstance(expectation, ExpectRuns) and _runs_any(expectation, names):
                calls |= dict.fromkeys(word.path[-1] for word in expectation.calls)
    calls.pop("idle", None)
    return list(calls)


def _runs_any(expectation: ExpectRuns, devices: Iterable[str]) -> bool:
    """Whether a load of one of the devices is to run."""
    return not {word.path[0] for word, _ in expectation.steps}.isdisjoint(devices)


def _safeties(part: Part, library: Library, within: str = "") -> list[str]:
    """The safeties inside a part, by the names that a board knows them by; a part that is one itself."""
    names = ["itself"] if part.safety and not within else []
    for child in part.children:
        inside = library.part(child.part)
        if inside is None:
            continue
        name = f"{within}{child.name}"
        names += [name] if inside.safety else _safeties(inside, library, f"{name}.")
    return names


def safeties(cases: Mapping[str, Case], faults: bool = True) -> str:
    """Each safety of each piece of equipment, opened in every state of every call, on its first board."""
    heading = ("equipment", "safety", "stops", "in the calls", "states tried, all stopped")
    rows: list[tuple[str, ...]] = [(*heading, "single faults tried", "which defeat it")]
    for board, proof, part in proved(cases, faults):
        runs_on = ", ".join(load.name for load in proof.runs_on)
        rows.append(
            (
                f"`{part}` on [{board}](boards/{board})",
                proof.safety.name,
                ", ".join(load.name for load in proof.loads),
                ", ".join(call or "no call" for call in proof.calls),
                f"{proof.states}, {f'not {runs_on}' if runs_on else 'yes'}",
                str(proof.tried),
                ", ".join(map(_fault, proof.defeated)) or "none",
            )
        )
    return _markdown(rows)


def _fault(fault: Fault) -> str:
    """A single fault in words."""
    match fault:
        case Stuck(safety):
            return f"{safety.name} stuck closed"
        case Welded(contact):
            return f"{contact.name} welded"
        case Jumper(one, other):
            return f"jumper {one.name} to {other.spec.name}"


def proved(cases: Mapping[str, Case], faults: bool = True) -> Iterator[tuple[str, Proof, str]]:
    """Board, proof and part of each safety; of boards with the same safety of the same part, the first."""
    done: set[tuple[str, str]] = set()
    for board, case in cases.items():
        wanted: dict[str, str] = {}
        for expectation in case.board.expectations:
            if isinstance(expectation, ExpectStops):
                safety = expectation.safety
                variable = case.circuit.variables.get(safety.text)
                if variable is None or not variable.safety:
                    continue  # a call, a stop button, or a switch: nothing that guards by itself
                part = case.board.devices[safety.path[0]].part.name
                # A safety that is a device of its own guards what its place on the board makes it guard.
                key = (part, safety.inside or board)
                if key not in done:
                    done.add(key)
                    wanted[safety.text] = part
        if wanted:
            for proof in proofs(case, wanted, faults):
                yield board, proof, wanted[proof.safety.name]


def _markdown(rows: Sequence[Sequence[str]]) -> str:
    lines = ["| " + " | ".join(cell.replace("|", "\\|") for cell in row) + " |" for row in rows]
    lines.insert(1, "|" + "---|" * len(rows[0]))
    return "\n".join(lines) + "\n"
