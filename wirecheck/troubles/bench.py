"""A bench: a board, perhaps with faults, on which calls are made, switches moved and a meter is read."""

from __future__ import annotations

import math
from typing import Any, NamedTuple

from wirecheck import arguments
from wirecheck.arguments import WrongArgument
from wirecheck.circuit.fault import Open
from wirecheck.circuit.meter import PowerOn, Reading
from wirecheck.circuit.settle import Settled
from wirecheck.faults.listed import FUSES
from wirecheck.judge.case import Case
from wirecheck.judge.state_name import StateName
from wirecheck.judge.voltages import LIVE_VOLTS
from wirecheck.language.asking import Asked
from wirecheck.model.lifted import lifted
from wirecheck.tables.efforts import effort
from wirecheck.troubles.next_reading import effort_of
from wirecheck.troubles.observed import Look, Read, Taken
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
    pulled: frozenset[str] = frozenset()
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
            told["opened"], told["pulled"] = sorted(self.seen.opened), sorted(self.pulled)
            told["signs"] = [sign._asdict() for sign in sorted(self.seen.signs)]
        if self.reading is not None:
            told["value"], told["unit"] = self.reading.value, self.reading.unit
            told["text"] = self.reading.text
        return told


class Bench:
    """A board on a bench, with the state in which somebody has put it.

    What opens by itself stays open, until it is put right by hand. Without a wait, what is called has had its
    time when one looks; after one, the board is as it is so long after the call.
    """

    def __init__(self, case: Case) -> None:
        self._start = case
        self.opened: tuple[str, ...] = ()
        # What was open as the last act was done, and what has opened by the moment of a wait.
        self._before: tuple[str, ...] = ()
        self._by_now: tuple[str, ...] = ()
        self.after: float | None = None
        self.tried = Tried(case.board, case.faults)
        self.moved: dict[str, str] = {}
        self.calls: tuple[str, ...] = ()
        self.power: arguments.Power = "on"
        self.lifted: dict[str, None] = {}
        self.place: str | None = None
        self.taken: list[Taken] = []
        self.seen = self._acted()

    @property
    def case(self) -> Case:
        """The board with its faults."""
        return self.tried.case

    @property
    def state(self) -> StateName:
        """The switches that are moved, and the calls that are made."""
        return StateName(tuple(self.moved.items()), self.calls, self.after)

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
            case Asked("look"):
                return self._look(one)
            case Asked("volts" | "ohms" | "amps"):
                return self._read(one)
            case Asked("wait", words):
                return self._wait(one, arguments.seconds(" ".join(words)) if words else None)
        self._go_on()
        match one:
            case Asked("call", ("nothing",)):
                self.calls = ()
            case Asked("replace" | "reset", (name,)):
                return self._put_right(one, name)
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
                if self.power == "on":
                    raise WrongArgument(f"{end} is not landed under power: turn the power off.")
                del self.lifted[end]
                self._stand()
        self.seen = self._acted()
        return Answer(one, self.words(), 0.0, done=self.words())

    def _go_on(self) -> None:
        """What has opened by the moment of a wait is open for what is done next."""
        if self.after is not None:
            self.after, self.opened = None, self._by_now
            self._stand()
        self._before = self.opened

    def _wait(self, one: Asked, seconds: float | None) -> Answer:
        """The board so long after the last act, and after the waits since; without a time, in its end."""
        if self.power == "off":
            raise WrongArgument("The power is off: nothing happens while you wait.")
        self.after = None if seconds is None else arguments.moment((self.after or 0.0) + seconds)
        # It was taken to its end before anybody waited: from the act on it is played anew.
        self.opened = self._before
        self._stand()
        self.seen = self._acted()
        return Answer(one, self.words(), 0.0, done=self.words())

    def _acted(self) -> Seen:
        """What is seen of the board in the state in which it is now; what opens in it stays open."""
        if self.power == "off":
            return Seen(frozenset(), frozenset(), frozenset(self.opened))
        seen = self.tried.seen(self.state)
        told = seen._replace(opened=seen.opened.union(self.opened))
        # A source that limits itself comes back when what it feeds is taken off.
        stays = (one.name for one in self.tried.settled(self.state).opened if one.kind != "limited")
        opened = tuple(dict.fromkeys((*self.opened, *stays)))
        if self.after is not None:
            self._by_now = opened
        elif opened != self.opened:
            self.opened = opened
            self._stand()
        return told

    def _stand(self) -> None:
        """The board with what is open and what is lifted."""
        faults = (*self._start.faults, *(Open(name) for name in self.opened))
        self.tried = Tried(lifted(self._start.board, frozenset(self.lifted)), faults)

    def _put_right(self, one: Asked, name: str) -> Answer:
        """Replace what has blown, or reset what has tripped; if it opens again, that is told."""
        kinds = {each.name: each.kind for each in self.case.circuit.protections}
        if name not in self.opened:
            raise WrongArgument(f"{name} has not opened here. If it is what is wrong, name it.")
        resets = kinds.get(name, FUSES[0]) not in FUSES
        if resets != (one.verb == "reset"):
            raise WrongArgument(f"{name} {'trips: reset it' if resets else 'does not reset: replace it'}.")
        if not resets and self.power == "on" and self._is_live(name):
            raise WrongArgument(
                f"{name} is not replaced under power: turn the power off, and prove it dead with a meter."
            )
        self.opened = tuple(each for each in self.opened if each != name)
        self._stand()
        self.seen = self._acted()
        unsafe = ""
        if name in self.opened:
            unsafe = f"{name} opens again. Find out why with the power off, before it is closed once more."
        return Answer(one, self.words(), effort("reset" if resets else "fuse"), unsafe, self.words())

    def _is_live(self, name: str) -> bool:
        """Whether a fuse has more than low voltage to ground at an end of it."""
        settled = self.tried.settled(self.state)
        fuses = (each for each in settled.circuit.protections if each.name == name)
        nodes = {settled.circuit.node[end] for each in fuses for pair in each.pairs for end in pair}
        return any(abs(settled.volts[node]) > LIVE_VOLTS for node in nodes - settled.floating)

    def _lift(self, one: Asked, end: str) -> Answer:
        arguments.need_end(self.case, end)
        if self.power == "on":
            raise WrongArgument(
                f"{end} is not lifted under power: turn the power off, and prove it dead with a meter."
            )
        self.lifted[end] = None
        self._stand()
        return Answer(one, self.words(), effort("lift"), done=self.words())

    def _look(self, one: Asked) -> Answer:
        if self.power == "off":
            return Answer(one, self.words(), 0.0, seen=self.seen)
        pulled = self.tried.pulled(self.state)
        if not self.lifted:
            looks = (Look(self.state, name, "runs", name in pulled) for name in sorted(self.tried.relays))
            self.taken += (Taken(look, self.opened) for look in looks)
        return Answer(one, self.words(), 0.0, seen=self.seen, pulled=pulled)

    def _read(self, one: Asked) -> Answer:
        quantity = next(each for each in arguments.QUANTITIES if each == one.verb)
        takes = self._reach(one.words)
        try:
            reading, settled = arguments.reading(
                self.case, quantity, one.words, self.moved, self.calls, self.power, after=self.after
            )
        except PowerOn as error:
            return Answer(one, self.words(), takes + effort("blown"), str(error))
        value = _number(reading)
        # What gets no number, and is not open, tells nothing.
        if value is not None or not (reading.through or reading.induced):
            read = Read(self.state, quantity, one.words, value, self.power, tuple(self.lifted))
            self.taken.append(Taken(read, self.opened))
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


def _number(reading: Reading) -> float | None:
    """What may stand on the display: of a coil, a number between its least and its most."""
    if reading.between is not None:
        return math.sqrt(reading.between[0] * reading.between[1])
    return reading.value if reading.most is None else reading.most
