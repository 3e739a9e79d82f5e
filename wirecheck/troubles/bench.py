"""A bench: a board, perhaps with faults, on which calls are made, switches moved and a meter is read."""

from __future__ import annotations

from typing import Any, NamedTuple

from wirecheck import arguments
from wirecheck.arguments import WrongArgument
from wirecheck.circuit.meter import PowerOn, Reading
from wirecheck.circuit.settle import Settled
from wirecheck.judge.case import Case
from wirecheck.judge.state_name import StateName
from wirecheck.language.asking import Asked
from wirecheck.tables.efforts import effort
from wirecheck.troubles.next_reading import effort_of
from wirecheck.troubles.trials import Seen, Tried


class Answer(NamedTuple):
    """What comes of one thing that was asked for.

    `effort` is what it took; `unsafe` says what was dangerous in it, nothing where nothing was.
    """

    asked: Asked
    state: str
    effort: float
    unsafe: str = ""
    done: str = ""
    seen: Seen | None = None
    reading: Reading | None = None
    settled: Settled | None = None

    def as_data(self) -> dict[str, Any]:
        """Plain data, for JSON."""
        told: dict[str, Any] = {"asked": [self.asked.verb, *self.asked.words], "state": self.state}
        told["effort"] = self.effort
        if self.unsafe:
            told["unsafe"] = self.unsafe
        if self.seen is not None:
            told["ran"], told["runs"] = sorted(self.seen.ran), sorted(self.seen.runs)
            told["opened"] = sorted(self.seen.opened)
            told["signs"] = [sign._asdict() for sign in sorted(self.seen.signs)]
        if self.reading is not None:
            told["value"], told["unit"] = self.reading.value, self.reading.unit
            told["text"] = self.reading.text
        return told


class Bench:
    """A board on a bench, with the state in which somebody has put it."""

    def __init__(self, case: Case) -> None:
        self.tried = Tried(case.board, case.faults)
        self.moved: dict[str, str] = {}
        self.calls: tuple[str, ...] = ()
        self.power: arguments.Power = "on"
        self.lifted: dict[str, None] = {}
        self.place: str | None = None

    @property
    def case(self) -> Case:
        """The board with its faults."""
        return self.tried.case

    @property
    def state(self) -> StateName:
        """The switches that are moved, and the calls that are made."""
        return StateName(tuple(self.moved.items()), self.calls)

    def words(self) -> str:
        """The state in words."""
        told = [] if self.state == StateName() else [self.state.words()]
        told += ["power off"] if self.power == "off" else []
        told += [f"{end} lifted" for end in self.lifted]
        return " and ".join(told) or "at rest"

    def do(self, one: Asked) -> Answer:
        """Do what is asked for.

        Raises
        ------
        WrongArgument
            The board lacks what it names.
        """
        match one:
            case Asked("call", ("nothing",)):
                self.calls = ()
            case Asked("call", names):
                self.calls = arguments.calls(self.case, names)
            case Asked("set", (name, position)):
                self.moved |= arguments.positions(self.case, {name: position})
            case Asked("power", (word,)):
                arguments.one_of(word, arguments.POWERS, "power")
                self.power = "off" if word == "off" else "on"
            case Asked("lift", (end,)):
                return self._lift(one, end)
            case Asked("land", (end,)):
                if end not in self.lifted:
                    raise WrongArgument(f"{end} is on its screw.")
                del self.lifted[end]
            case Asked("look"):
                return self._look(one)
            case Asked("volts" | "ohms" | "amps"):
                return self._read(one)
        return Answer(one, self.words(), 0.0, done=self.words())

    def _lift(self, one: Asked, end: str) -> Answer:
        arguments.need_end(self.case, end)
        live = self.power == "on"
        self.lifted[end] = None
        told = "A wire is lifted with the power off, and proved dead before." if live else ""
        return Answer(
            one, self.words(), effort("lift") + (effort("blown") if live else 0.0), told, self.words()
        )

    def _look(self, one: Asked) -> Answer:
        if self.power == "off":
            return Answer(one, self.words(), 0.0, seen=Seen(frozenset(), frozenset(), frozenset()))
        return Answer(one, self.words(), 0.0, seen=self.tried.seen(self.state))

    def _read(self, one: Asked) -> Answer:
        quantity = next(each for each in arguments.QUANTITIES if each == one.verb)
        takes = self._reach(one.words)
        try:
            reading, settled = arguments.reading(
                self.case, quantity, one.words, self.moved, self.calls, self.power, tuple(self.lifted)
            )
        except PowerOn as error:
            return Answer(one, self.words(), takes + effort("blown"), str(error))
        return Answer(one, self.words(), takes, reading=reading, settled=settled)

    def _reach(self, points: tuple[str, ...]) -> float:
        """What it takes to put the meter there, from where it is."""
        circuit = self.case.circuit
        known = [circuit.point[name].place for name in points if name in circuit.point]
        if not known:
            return effort("reading")
        takes = effort_of(self.case.board, known[0], self.place)
        self.place = known[0]
        return takes
