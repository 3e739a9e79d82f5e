"""What is asked of a board, held against what the board has: switches set, calls made, a meter's points.

A script and the command line ask through these same functions; the command line turns
`WrongArgument` into an error of its own.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Literal

from wirecheck.language.words import nearest

if TYPE_CHECKING:
    from wirecheck.circuit.fault import Fault
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

    A breaker whose handle is tied to another's moves that one with it.

    Raises
    ------
    WrongArgument
        Where the board lacks one of that name, it has no such position, or tied handles are to stand apart.
    """
    if moved is None:
        return {}
    if not isinstance(moved, Mapping):
        raise WrongArgument(f"{moved!r}: give names with their positions, as {{'S1': 'down'}}")
    variables = case.circuit.variables
    for name, value in moved.items():
        if name not in variables:
            raise WrongArgument(
                f"{name}={value}: there is nothing called {name} to set.{offer(name, variables)}"
            )
        if value not in variables[name].values:
            raise WrongArgument(f"{name}={value}: {name} can be {', '.join(variables[name].values)}.")
    set_to = dict(moved)
    for one, other in case.board.handle_ties:
        for here, there in ((one, other), (other, one)):
            if here in moved and set_to.setdefault(there, moved[here]) != moved[here]:
                raise WrongArgument(
                    f"{here}={moved[here]}: its handle is tied to that of {there}, and both stand alike."
                )
    return set_to


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
                f"{call}: nothing on this board makes that call.{offer(call, known, case.calls)}"
            )
    return wanted


def state(case: Case, moved: Mapping[str, str] | None, made: Iterable[str]) -> Settled | None:
    """The board with switches moved and calls made, in the end; None where nothing is asked for.

    Of a call that its own device ends, as a clock its defrost, it is the beginning.

    Raises
    ------
    WrongArgument
        Where the board lacks what is named.
    """
    set_to, called = positions(case, moved), calls(case, made)
    return case.at_work(set_to, called) if set_to or called else None


def offer(name: object, known: Collection[str], listed: Collection[str] | None = None) -> str:
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
    after: float | None = None,
) -> tuple[Reading, Settled]:
    """What a meter shows on a board, and the state in which it was held there.

    Parameters
    ----------
    quantity : `volts` and `ohms` between two points, `amps` in one conductor, load or breaker
    points : a screw (`S1.common`) or a wire's end in its place (`W1.black@A`); for amps one name
    moved, made : as in `positions` and `calls`
    power : `on`, or `off` with every breaker off; off for ohms where nothing is said, else on
    lifted : wires' ends that are off their screws (`W1.white@A`)
    after : seconds from the last call being made; None for when the controls have had their time

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
    settled = case.standing(set_to, called, moment(after))
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


def moment(after: float | None) -> float | None:
    """Seconds from a call on, within what is played.

    Raises
    ------
    WrongArgument
    """
    from wirecheck.circuit.play import MOST_SECONDS

    if after is not None and not 0 <= after <= MOST_SECONDS:
        raise WrongArgument(f"a moment is from 0 s to {MOST_SECONDS / 3600:g} h after the call.")
    return after


def seconds(text: str) -> float:
    """A time as it is written: `20 s`, `2 min`.

    Raises
    ------
    WrongArgument

    Examples
    --------
    >>> seconds("2 min")
    120.0
    """
    from wirecheck.language.quantity import quantity
    from wirecheck.language.syntax import Span

    try:
        value = quantity(text, Span(1, 1, 1, 1))
    except ValueError as error:
        raise WrongArgument(f"{text}: {error}") from error
    if value.dimension != "time":
        raise WrongArgument(f"{text} is no time: write it as 20 s or 2 min.")
    return value.value


def _lifted(case: Case, ends: Iterable[str]) -> Case:
    """The same board with some wires' ends off their screws."""
    from wirecheck.judge.case import Case
    from wirecheck.model.lifted import lifted

    wanted = (ends,) if isinstance(ends, str) else tuple(ends)
    for name in wanted:
        need_end(case, name)
    return Case(lifted(case.board, frozenset(wanted)), case.work, case.faults) if wanted else case


def need_end(case: Case, name: str) -> None:
    """Refuse what is no wire's end.

    Raises
    ------
    WrongArgument
    """
    known = [end for conductor in case.board.conductors.values() for end in conductor.ends]
    if name not in known:
        conductor = case.board.conductors.get(name)
        near = f" Its ends are {', '.join(conductor.ends)}." if conductor else offer(name, known)
        raise WrongArgument(f"{name} is no wire's end to lift.{near}")


def listed_faults(case: Case, text: str | bytes, file: str = "-") -> dict[str, Fault]:
    """The faults of a list, by their numbers.

    Raises
    ------
    WrongArgument
        The list has mistakes, or is for another board.
    """
    from wirecheck.faults.listed import faults

    held = faults(text, case.circuit, file)
    for problem in held.problems:
        advice = f" {problem.help}" if problem.help else ""
        raise WrongArgument(f"{file}, line {problem.span.line}: {problem.message}{advice}")
    if held.board and held.board != case.board.title:
        raise WrongArgument(f"{file}: its faults are for {held.board}, and this is {case.board.title}.")
    return {str(one.number): one.fault for one in held.listed}


def named_faults(
    case: Case, faults: Iterable[str], known: Mapping[str, Fault] | None = None
) -> tuple[Fault, ...]:
    """Faults by their words, or by the numbers that they have in a list.

    Parameters
    ----------
    faults : each in the words of a line of a list of faults, as `F.fuse blown`, or by its number
    known : those of the list, by their numbers

    Raises
    ------
    WrongArgument
        There is none of that number, or the board lacks what is named.
    """
    from wirecheck.faults.listed import NoSuchFault, fault

    wanted = (faults,) if isinstance(faults, str) else tuple(faults)
    listed = known or {}
    found = []
    for one in wanted:
        if one.strip().isdigit():
            if one.strip() not in listed:
                raise WrongArgument(f"there is no fault {one.strip()}.{offer(one, listed)}")
            found.append(listed[one.strip()])
            continue
        try:
            found.append(fault(one, case.circuit))
        except NoSuchFault as error:
            raise WrongArgument(f"{one}: {error.message} {error.advice or ''}".strip()) from error
    return tuple(found)


def with_faults(case: Case, faults: tuple[Fault, ...]) -> Case:
    """The same board with faults in it, which its title names."""
    from wirecheck.faults.words import said
    from wirecheck.judge.case import Case

    if not faults:
        return case
    title = f"{case.board.title} ({', '.join(said(one, case.circuit) for one in faults)})"
    return Case(case.board._replace(title=title), case.work, (*case.faults, *faults))
