"""What is asked of a board, held against what the board has: switches set, calls made, a meter's points.

A script and the command line ask through these same functions; the command line turns
`WrongArgument` into an error of its own.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Literal

from wirecheck.language.words import nearest

if TYPE_CHECKING:
    from wirecheck.circuit.meter import Reading
    from wirecheck.circuit.settle import Settled
    from wirecheck.judge.case import Case

Quantity = Literal["volts", "ohms", "amps"]
Power = Literal["on", "off"]

QUANTITIES: tuple[Quantity, ...] = ("volts", "ohms", "amps")
POWERS: tuple[Power, ...] = ("on", "off")
# So many names help; more are a wall of words.
MOST_LISTED = 12


class WrongArgument(ValueError):
    """Something is asked for that there is not; the message says what there is."""


def one_of(value: object, known: Collection[str], what: str) -> None:
    """Refuse a value that is none of the known ones.

    Raises
    ------
    WrongArgument
        With the known ones.

    Examples
    --------
    >>> one_of("finish", ("rough-in", "trim", "final"), "stage")
    Traceback (most recent call last):
    wirecheck.arguments.WrongArgument: there is no stage 'finish': there are rough-in, trim, final
    """
    if value not in known:
        raise WrongArgument(f"there is no {what} {value!r}: there are {', '.join(known)}")


def positions(case: Case, moved: Mapping[str, str] | None) -> dict[str, str]:
    """The positions that switches, safeties, breakers and fuses are set to.

    Raises
    ------
    WrongArgument
        Where the board lacks one of that name, or it has no such position.
    """
    if moved is None:
        return {}
    if not isinstance(moved, Mapping):
        raise WrongArgument(f"{moved!r}: give names with their positions, as {{'S1': 'down'}}")
    variables = case.circuit.variables
    for name, value in moved.items():
        if name not in variables:
            raise WrongArgument(
                f"{name}={value}: there is nothing called {name} to set.{_offer(name, variables)}"
            )
        if value not in variables[name].values:
            raise WrongArgument(f"{name}={value}: {name} can be {', '.join(variables[name].values)}.")
    return dict(moved)


def calls(case: Case, made: Iterable[str]) -> tuple[str, ...]:
    """The calls that are made; a single one may be given by itself.

    Raises
    ------
    WrongArgument
        Where nothing on the board makes one of them.
    """
    wanted = (made,) if isinstance(made, str) else tuple(made)
    known = [*case.calls]
    known += (f"{each.name}.{call}" for each in case.circuit.devices.values() for call in each.part.calls)
    for call in wanted:
        if call not in known:
            raise WrongArgument(
                f"{call}: nothing on this board makes that call.{_offer(call, known, case.calls)}"
            )
    return wanted


def state(case: Case, moved: Mapping[str, str] | None, made: Iterable[str]) -> Settled | None:
    """The board with switches moved and calls made, in the end; None where nothing is asked for.

    Raises
    ------
    WrongArgument
        Where the board lacks what is named.
    """
    set_to, called = positions(case, moved), calls(case, made)
    return case.standing(set_to, called) if set_to or called else None


def _offer(name: object, known: Collection[str], listed: Collection[str] | None = None) -> str:
    """The near one, or else some of what there is."""
    near = nearest(str(name), known)
    if near:
        return f" Did you mean {near}?"
    some = list(known if listed is None else listed)[:MOST_LISTED]
    return f" There are: {', '.join(some)}." if some else ""


def reading(
    case: Case,
    quantity: Quantity,
    points: Sequence[str],
    moved: Mapping[str, str] | None = None,
    made: Iterable[str] = (),
    power: Power | None = None,
    lifted: Iterable[str] = (),
) -> tuple[Reading, Settled]:
    """What a meter shows on a board, and the state in which it was held there.

    Parameters
    ----------
    quantity : `volts` and `ohms` between two points, `amps` in one conductor, load or breaker
    points : a screw (`S1.common`) or a wire's end in its place (`W1.black@A`); for amps one name
    moved, made : as in `positions` and `calls`
    power : `on`, or `off` with every breaker off; off for ohms where nothing is said, else on
    lifted : wires' ends that are off their screws (`W1.white@A`)

    Raises
    ------
    WrongArgument
        Where the board lacks what is named.
    wirecheck.circuit.meter.PowerOn
        Where ohms are asked of a live circuit.
    """
    from wirecheck.circuit import meter

    one_of(quantity, QUANTITIES, "quantity to measure")
    wanted = 1 if quantity == "amps" else 2
    if len(points) != wanted:
        raise WrongArgument(f"{quantity} takes {'one name' if wanted == 1 else 'two points'}.")
    case = _lifted(case, lifted)
    set_to, called = positions(case, moved), calls(case, made)
    if power is not None:
        one_of(power, POWERS, "power")
    if (power or ("off" if quantity == "ohms" else "on")) == "off":
        off = dict.fromkeys(case.board.breakers, "off")
        set_to = {**set_to, **off} if quantity == "ohms" else {**off, **set_to}
    settled = case.standing(set_to, called)
    try:
        if quantity == "amps":
            shown = meter.amps(settled, points[0])
        else:
            a, b = (meter.point(case.circuit, name) for name in points)
            shown = (meter.volts if quantity == "volts" else meter.ohms)(settled, a, b)
    except meter.Ambiguous as error:
        near = f" Near it: {', '.join(error.choices)}." if error.choices else ""
        raise WrongArgument(f"{error}{near}") from error
    return shown, settled


def _lifted(case: Case, ends: Iterable[str]) -> Case:
    """The same board with some wires' ends off their screws."""
    from wirecheck.judge.case import Case
    from wirecheck.model.lifted import lifted

    wanted = (ends,) if isinstance(ends, str) else tuple(ends)
    known = [end for conductor in case.board.conductors.values() for end in conductor.ends]
    for name in wanted:
        if name not in known:
            conductor = case.board.conductors.get(name)
            near = f" Its ends are {', '.join(conductor.ends)}." if conductor else _offer(name, known)
            raise WrongArgument(f"{name} is no wire's end to lift.{near}")
    return Case(lifted(case.board, frozenset(wanted)), case.work) if wanted else case
